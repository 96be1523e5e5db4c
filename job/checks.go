package job

import (
	"errors"
	"fmt"
	"reflect"

	"trenchwright/base/measure"
	"trenchwright/solve/check"
	"trenchwright/solve/check/cable"
)

// Checks is what engineers, data sheets and the plant's own papers say for the checks of a job: where water stands, what crosses the
// run and presses on it, what lifts its pieces, which cables come into it. What is left out reads NOT CHECKED, with whom to ask.
type Checks struct {
	From     string        `json:"from,omitempty" ref:"document" example:"D7" jsonschema:"document id these figures come from unless one says otherwise"`
	Water    Water         `json:"water,omitzero" jsonschema:"water in the ground, for whether an empty run floats"`
	Vehicles []Vehicle     `json:"vehicles,omitempty" jsonschema:"what crosses the run, by its axles"`
	Dynamic  Entry[string] `json:"dynamic,omitzero" rule:"percent" example:"30" jsonschema:"by how much in a hundred a moving wheel counts more; 0 where the rating has it in"`
	Earth    Earth         `json:"earth,omitzero" jsonschema:"earth beside and over the run, and what presses on it"`
	Footing  Footing       `json:"footing,omitzero" jsonschema:"the ground below the bed"`
	Lifts    []Lift        `json:"lifts,omitempty" jsonschema:"each kind of lift: what is lifted, with which tackle and machine"`
	Cables   Cables        `json:"cables,omitzero" jsonschema:"the cables that come into the run"`
	Tests    FillTests     `json:"tests,omitzero" jsonschema:"how often compacted fill is tested"`
}

// Water is water in the ground.
type Water struct {
	Level   Entry[float64]        `json:"level,omitzero" in:"(,)" example:"99.6" jsonschema:"highest level of the water that is counted on, in the job's coordinate unit"`
	Plus    Entry[measure.Length] `json:"plus,omitzero" example:"50 mm" jsonschema:"what that level is good for, either way"`
	Density Entry[string]         `json:"density,omitzero" rule:"decimal" example:"1025" jsonschema:"of the water, kg per cubic metre; fresh water where left out"`
	Factor  Entry[string]         `json:"factor,omitzero" rule:"decimal" example:"1.1" jsonschema:"weight over uplift that the engineer asks for"`
}

// Vehicle is what crosses.
type Vehicle struct {
	ID     string         `json:"id" rule:"id" example:"V1" jsonschema:"name of the vehicle"`
	Name   string         `json:"name,omitempty" example:"stone lorry" jsonschema:"what people call it"`
	Design string         `json:"design,omitempty" oneof:"hs20|hl93" jsonschema:"a published design vehicle instead of axles: hs20 or hl93"`
	Axles  []Axle         `json:"axles,omitempty" jsonschema:"from front to back"`
	Wheels measure.Length `json:"wheels,omitempty" in:"(0,)" example:"1900 mm" jsonschema:"how far apart the wheels of an axle stand"`
	Tyre   *Section       `json:"tyre,omitempty" example:"300 mm x 250 mm" jsonschema:"what one wheel presses on, across x along"`
	From   string         `json:"from,omitempty" ref:"document" example:"D7" jsonschema:"document id that says so"`
}

// Axle is one axle of a vehicle.
type Axle struct {
	Load   string         `json:"load" rule:"force" example:"60 kN" jsonschema:"force of both its wheels"`
	Behind measure.Length `json:"behind,omitempty" in:"(0,)" example:"4.2 m" jsonschema:"how far it is behind the one before; left out for the first"`
}

// Earth is earth beside and over the run.
type Earth struct {
	Weight    Entry[string]        `json:"weight,omitzero" rule:"unit-weight" example:"19 kN/m3" jsonschema:"of the earth, by volume"`
	Phi       Entry[measure.Angle] `json:"phi,omitzero" in:"[0,50]" example:"32°" jsonschema:"its angle of friction"`
	K         Entry[string]        `json:"coefficient,omitzero" rule:"decimal" example:"0.5" jsonschema:"coefficient of earth pressure that counts, by the engineer"`
	Spread    Entry[string]        `json:"spread,omitzero" rule:"decimal" example:"1.15" jsonschema:"how much wider a wheel becomes for each unit of depth of fill, by the engineer"`
	Surcharge Entry[string]        `json:"surcharge,omitzero" rule:"pressure" example:"10 kPa" jsonschema:"even pressure on the ground beside the run"`
	Traffic   bool                 `json:"traffic,omitempty" example:"true" jsonschema:"vehicles pass beside the run"`
	Beside    *BesideRun           `json:"beside,omitempty" jsonschema:"a strip of load beside the run: plant, spoil, a track"`
}

// BesideRun is a strip of load beside the run.
type BesideRun struct {
	Pressure string         `json:"pressure" rule:"pressure" example:"60 kPa" jsonschema:"on the ground"`
	Near     measure.Length `json:"near" example:"300 mm" jsonschema:"its nearer edge, from the outer face of the wall"`
	Far      measure.Length `json:"far" in:"(0,)" example:"2300 mm" jsonschema:"its further edge"`
}

// Footing is the ground below the bed.
type Footing struct {
	Allows   Entry[string]         `json:"allows,omitzero" rule:"pressure" example:"100 kPa" jsonschema:"pressure that the ground is allowed"`
	Width    Entry[measure.Length] `json:"width,omitzero" in:"(0,)" example:"1000 mm" jsonschema:"width of bed that bears; the outer width of the unit where left out"`
	Cohesion Entry[string]         `json:"cohesion,omitzero" rule:"pressure" example:"5 kPa" jsonschema:"of the ground, for what it bears before it gives way"`
	Phi      Entry[measure.Angle]  `json:"phi,omitzero" in:"[0,50]" example:"28°" jsonschema:"its angle of friction"`
	Weight   Entry[string]         `json:"weight,omitzero" rule:"unit-weight" example:"18 kN/m3" jsonschema:"its weight by volume, below water as it weighs there"`
	Factor   Entry[string]         `json:"factor,omitzero" rule:"decimal" example:"3" jsonschema:"factor against giving way, by the engineer"`
}

// Lift is one kind of lift.
type Lift struct {
	ID        string                `json:"id" rule:"id" example:"L1" jsonschema:"name of the lift"`
	Name      string                `json:"name,omitempty" example:"units off the lorry" jsonschema:"what people call it"`
	Of        string                `json:"of" oneof:"units|covers|castings" jsonschema:"what is lifted: units, covers or castings"`
	Supply    string                `json:"supply,omitempty" ref:"supply" example:"trough" jsonschema:"of this supply alone; of all where left out"`
	From      string                `json:"from,omitempty" ref:"document" example:"D8" jsonschema:"document id of the lift plan or the chart"`
	Tackle    Entry[measure.Mass]   `json:"tackle,omitzero" example:"60 kg" jsonschema:"hook block, slings, clutches and beam"`
	More      Entry[string]         `json:"more,omitzero" rule:"decimal" example:"1.25" jsonschema:"what the lift planner multiplies the load by for movement"`
	Legs      int                   `json:"legs,omitempty" in:"[1,4]" example:"4" jsonschema:"legs of the sling"`
	Equalised bool                  `json:"equalised,omitempty" example:"true" jsonschema:"a device shares the load among all legs; without it two of three or four count"`
	Angle     Entry[measure.Angle]  `json:"angle,omitzero" in:"(0,90]" example:"60°" jsonschema:"of the legs to the horizontal"`
	Spread    Entry[measure.Length] `json:"spread,omitzero" in:"(0,)" example:"1600 mm" jsonschema:"instead of the angle: how far the two lifting points of a pair stand apart"`
	Height    Entry[measure.Length] `json:"height,omitzero" in:"(0,)" example:"1600 mm" jsonschema:"and the hook above them"`
	Limit     Entry[measure.Mass]   `json:"limit,omitzero" in:"(0,)" example:"1 t" jsonschema:"working load limit of one leg, from its tag"`
	Point     Entry[measure.Mass]   `json:"point,omitzero" in:"(0,)" example:"800 kg" jsonschema:"what one lifting point carries at this angle, by the supplier"`
	Strut     Entry[string]         `json:"strut,omitzero" example:"spreader beam between the walls" jsonschema:"what the supplier says of spreader or strut between the walls"`
	Machine   string                `json:"machine,omitempty" example:"wheeled excavator, boom out" jsonschema:"which machine, in which configuration"`
	Chart     []ChartRow            `json:"chart,omitempty" jsonschema:"lines of its chart, by rising radius"`
	Pick      Entry[measure.Length] `json:"pick,omitzero" in:"(0,)" example:"3 m" jsonschema:"radius where the piece is picked up"`
	Set       Entry[measure.Length] `json:"set,omitzero" in:"(0,)" example:"4 m" jsonschema:"radius where it is set"`
	Reserve   Entry[string]         `json:"reserve,omitzero" rule:"percent" example:"25" jsonschema:"share of the chart that is kept free, in a hundred"`
	Shared    int                   `json:"shared,omitempty" in:"[1,8]" example:"1" jsonschema:"how many machines lift it together"`
	Wind      Entry[string]         `json:"wind,omitzero" example:"9.8 m/s" jsonschema:"greatest wind in which it may lift such pieces, as the machine's papers have it"`
	Outrigger Entry[string]         `json:"outrigger,omitzero" rule:"force" example:"85 kN" jsonschema:"reaction of the outrigger that presses most, for this load at this radius"`
	Pad       Entry[Section]        `json:"pad,omitzero" example:"1000 mm x 1000 mm" jsonschema:"what an outrigger stands on, one side x the other"`
	Pressure  Entry[string]         `json:"pressure,omitzero" rule:"pressure" example:"95 kPa" jsonschema:"instead of both: what it presses on the ground with under its tracks or mats"`
	Ground    Entry[string]         `json:"ground,omitzero" rule:"pressure" example:"120 kPa" jsonschema:"pressure that the ground at the stand is allowed, by whoever answers for it"`
	Voltage   Entry[string]         `json:"voltage,omitzero" rule:"decimal" example:"20" jsonschema:"of the line overhead, in kilovolts"`
	Line      Entry[measure.Length] `json:"line,omitzero" in:"(0,)" example:"7 m" jsonschema:"the nearest that machine, load or tackle can come to it"`
	People    int                   `json:"people,omitempty" in:"[1,20]" example:"2" jsonschema:"for what is carried by hand: how many people"`
	Each      Entry[measure.Mass]   `json:"each,omitzero" in:"(0,)" example:"25 kg" jsonschema:"what one of them may be given, by the assessment on this site"`
}

// ChartRow is one line of a machine's chart.
type ChartRow struct {
	Radius measure.Length `json:"radius" in:"(0,)" example:"3 m" jsonschema:"from the middle of its slewing ring"`
	Lifts  measure.Mass   `json:"lifts" in:"(0,)" example:"5 t" jsonschema:"what the chart has there"`
}

// Cables are those that come into the run.
type Cables struct {
	From      string                `json:"from,omitempty" ref:"document" example:"D9" jsonschema:"document id of the cable schedule"`
	Laid      []CableLaid           `json:"laid,omitempty" jsonschema:"the cable schedule"`
	Share     Entry[string]         `json:"share,omitzero" rule:"percent" example:"40" jsonschema:"how much of the section cables may fill, in a hundred"`
	Apart     Entry[measure.Length] `json:"apart,omitzero" example:"50 mm" jsonschema:"how far classes of cables are kept apart"`
	Gap       Entry[measure.Length] `json:"gap,omitzero" example:"10 mm" jsonschema:"kept free between cables side by side"`
	Dividers  []CableDivider        `json:"dividers,omitempty" jsonschema:"dividers in the unit, by rising place"`
	Later     Entry[string]         `json:"later,omitzero" rule:"cable" example:"1 x 60mm" jsonschema:"what may still be laid one day"`
	Pulls     []CablePull           `json:"pulls,omitempty" jsonschema:"pulls along the run"`
	Friction  Entry[string]         `json:"friction,omitzero" rule:"decimal" example:"0.2" jsonschema:"coefficient of friction on straights: rollers, or the trench itself"`
	Corners   Entry[string]         `json:"corners,omitzero" rule:"decimal" example:"0.3" jsonschema:"coefficient of friction at corners"`
	Corner    Entry[measure.Length] `json:"corner,omitzero" in:"(0,)" example:"1200 mm" jsonschema:"radius that rollers lead a cable round a corner on"`
	Drum      Entry[string]         `json:"drum,omitzero" rule:"force" example:"200 N" jsonschema:"pull off the drum"`
	Sun       bool                  `json:"sun,omitempty" example:"true" jsonschema:"the sun shines on the covers"`
	Air       Entry[string]         `json:"air,omitzero" rule:"temperature" example:"35 °C" jsonschema:"warmest air outside"`
	Inside    Entry[string]         `json:"inside,omitzero" rule:"temperature" example:"55 °C" jsonschema:"how warm the air inside may get"`
	Conductor Entry[string]         `json:"conductor,omitzero" rule:"temperature" example:"90 °C" jsonschema:"how warm a conductor may get"`
	RatedAt   Entry[string]         `json:"rated_at,omitzero" rule:"temperature" example:"30 °C" jsonschema:"air that rated currents are told for"`
	Group     string                `json:"group,omitempty" oneof:"bunched|floor|tray|ladder" jsonschema:"how circuits lie together: bunched, floor, tray or ladder"`
	Bears     Entry[string]         `json:"bears,omitzero" rule:"force" example:"500 N" jsonschema:"what one support is declared for"`
	Slack     Entry[string]         `json:"slack,omitzero" rule:"percent" example:"3" jsonschema:"cut besides the route, in a hundred"`
	Ends      Entry[measure.Length] `json:"ends,omitzero" example:"6 m" jsonschema:"cut besides for both ends together"`
}

// CableLaid is one kind of cable of the schedule.
type CableLaid struct {
	Name string   `json:"name" example:"power" jsonschema:"what it is called in the schedule"`
	Is   string   `json:"is" rule:"cable" example:"3 x 42mm, 4.1kg/m, bend 12, class power" jsonschema:"how many and how thick, its mass on a length, and by a word before each: bend (least radius in diameters), pull, copper, side, heat, rated, carries, class, in (compartment); trefoil and grip alone"`
	Legs []string `json:"legs,omitempty" ref:"leg" example:"[A, B]" jsonschema:"legs that it lies in; all where left out"`
	From string   `json:"from,omitempty" ref:"document" example:"D9" jsonschema:"document id of its data sheet"`
}

// CableDivider stands upright in a unit.
type CableDivider struct {
	At    measure.Length `json:"at" in:"(0,)" example:"400 mm" jsonschema:"its middle from the left wall"`
	Thick measure.Length `json:"thick" in:"(0,)" example:"50 mm" jsonschema:"its thickness"`
}

// CablePull is one pull along the run.
type CablePull struct {
	Cable string         `json:"cable" example:"power" jsonschema:"name of the cable that is pulled"`
	Legs  []string       `json:"legs" ref:"leg" example:"[A, B]" jsonschema:"legs from the drum on"`
	Drum  measure.Length `json:"on_drum,omitempty" in:"(0,)" example:"100 m" jsonschema:"length on the drum"`
}

// FillTests is how often compacted fill is tested.
type FillTests struct {
	Every      Entry[measure.Length] `json:"every,omitzero" in:"(0,)" example:"50 m" jsonschema:"one test on so much of the run"`
	EachLayers Entry[int]            `json:"each_layers,omitzero" in:"[1,)" example:"2" jsonschema:"one test in so many layers"`
	Least      Entry[int]            `json:"least,omitzero" in:"[1,)" example:"2" jsonschema:"no fewer than this for a leg"`
}

// Plate is a steel plate over a crossing while the trench is open.
type Plate struct {
	Thick   measure.Length        `json:"thick" in:"(0,)" example:"25 mm" jsonschema:"its thickness"`
	Span    measure.Length        `json:"span" in:"(0,)" example:"900 mm" jsonschema:"clear width of the trench that it spans"`
	Long    measure.Length        `json:"long" in:"(0,)" example:"3 m" jsonschema:"its length along the trench"`
	Bearing Entry[measure.Length] `json:"bearing,omitzero" in:"(0,)" example:"450 mm" jsonschema:"what it rests on beyond each side"`
	Edges   bool                  `json:"edges,omitempty" example:"true" jsonschema:"it rests on all four edges"`
	Stress  Entry[string]         `json:"stress,omitzero" rule:"stress" example:"150 MPa" jsonschema:"bending stress that its grade is allowed, by the engineer"`
}

// figureKinds are the kinds of quantity that a text of a rule is read as.
var figureKinds = map[string]*check.Kind{"force": check.Force, "pressure": check.Pressure, "stress": check.Stress, "unit-weight": check.UnitWeight, "temperature": check.Temperature}

// Quantity reads an entered figure of a kind; nil where nobody entered it, or where Faults has refused its text.
func Quantity(e Entry[string], kind *check.Kind) *check.Quantity {
	if !e.Known {
		return nil
	}
	q, _, err := kind.Read(e.Value)
	if err != nil {
		return nil
	}
	return &q
}

// quantity checks the text of a figure with its unit, or of a cable.
func (c *checker) quantity(text string, f field, p *place) {
	var err error
	if kind := figureKinds[f.rule]; kind != nil {
		_, _, err = kind.Read(text)
	} else {
		_, _, err = cable.ReadCable(text)
	}
	var reason *measure.ParseError
	switch {
	case err == nil:
	case errors.As(err, &reason):
		c.say("figure", p, fmt.Sprintf("%s %s cannot be read as %s. At character %d: %s.", p.leaf(), quoted(text), reason.What, reason.Column, reason.Problem), tryExample(f, "Write for example "))
	default:
		c.say("figure", p, fmt.Sprintf("%s: %v.", p.leaf(), err), tryExample(f, "Write for example "))
	}
}

// None tells that nothing was entered for any check.
func (k *Checks) None() bool { return reflect.ValueOf(*k).IsZero() }
