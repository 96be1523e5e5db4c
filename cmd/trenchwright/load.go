package main

import (
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/solve/check"
	"trenchwright/solve/check/load"
)

// loadCommand holds what comes onto a run against what was entered that it bears.
type loadCommand struct {
	Vehicle     string   `help:"Published design vehicle that crosses: hs20 or hl93." placeholder:"NAME"`
	Axles       []string `help:"Or its own axles from front to back, each with its distance from the one before: 60kN,110kN@4.2m. A mass counts by its weight." placeholder:"FORCE@LENGTH"`
	Wheels      string   `help:"How far apart the wheels of an axle stand." placeholder:"LENGTH"`
	Tyre        string   `help:"What one wheel presses on, across and along, for example '510mm x 250mm'." placeholder:"WIDTH x LENGTH"`
	VehicleFrom string   `help:"Who says what crosses." placeholder:"TEXT"`
	Dynamic     string   `help:"By how much more a moving wheel counts; 0 where the rating has it in." placeholder:"PER CENT"`
	DynamicFrom string   `help:"Where that stands." placeholder:"TEXT"`

	Rating     string `help:"What the supplier declares: a class (D400), a design vehicle (hs20) or a wheel (80kN)." placeholder:"TEXT"`
	RatingOn   string `help:"What a rated wheel is declared on, across and along." placeholder:"WIDTH x LENGTH"`
	Opening    string `help:"Clear opening that a cover of a class spans." placeholder:"LENGTH"`
	RatingFrom string `help:"Which drawing or data sheet." placeholder:"TEXT"`
	Piece      string `help:"What was done to the piece: whole, cut, mitred or cored." placeholder:"WORD"`
	PieceKeeps bool   `help:"The supplier says that such a piece keeps the rating."`
	ClassAsked string `help:"Class that the place asks for, by its designer." placeholder:"CLASS"`
	ClassFrom  string `help:"Where that stands." placeholder:"TEXT"`

	Fill       string `help:"Depth of fill over the unit." placeholder:"LENGTH"`
	Earth      string `help:"Weight of the earth by volume, for example 19kN/m3." placeholder:"WEIGHT"`
	EarthFrom  string `help:"Who says so." placeholder:"TEXT"`
	Width      string `help:"Outer width of the unit." placeholder:"LENGTH"`
	Spread     string `help:"How much wider a wheel becomes by depth, by the engineer." placeholder:"NUMBER"`
	SpreadFrom string `help:"Where that stands." placeholder:"TEXT"`
	Top        string `help:"Pressure that the top of the unit is declared for." placeholder:"PRESSURE"`
	TopFrom    string `help:"On which drawing." placeholder:"TEXT"`

	Wall       string `help:"Height of earth beside a wall." placeholder:"LENGTH"`
	Phi        string `help:"Angle of friction of that earth, for example 30deg." placeholder:"ANGLE"`
	K          string `name:"coefficient" help:"Coefficient of earth pressure that counts, by the engineer." placeholder:"NUMBER"`
	KFrom      string `name:"coefficient-from" help:"Where that stands." placeholder:"TEXT"`
	Surcharge  string `help:"Even pressure on the ground beside it." placeholder:"PRESSURE"`
	Strip      string `help:"Pressure of plant, spoil or a track on a strip beside it, and its edges from the wall: 60kPa@300mm..2.3m." placeholder:"PRESSURE@A..B"`
	BesideFrom string `help:"Who says what stands there." placeholder:"TEXT"`
	Traffic    bool   `help:"Vehicles pass beside it."`
	WallBears  string `help:"Pressure that the wall is declared for." placeholder:"PRESSURE"`
	WallFrom   string `help:"On which drawing." placeholder:"TEXT"`

	Stands       string `help:"Mass of all that stands on the bed: unit, covers, cables, earth." placeholder:"MASS"`
	StandsFrom   string `help:"Where that comes from." placeholder:"TEXT"`
	Bed          string `help:"Width of bed that bears." placeholder:"LENGTH"`
	Pad          string `help:"Or the size of one pad, across and along." placeholder:"WIDTH x LENGTH"`
	Pads         int    `help:"How many stand abreast." placeholder:"COUNT"`
	PadsApart    string `help:"How far rows of pads stand apart along the run." placeholder:"LENGTH"`
	More         string `help:"A force besides, a wheel as the engineer counts it." placeholder:"FORCE"`
	MoreOver     string `help:"Over which length of bed." placeholder:"LENGTH"`
	MoreFrom     string `help:"Where that stands." placeholder:"TEXT"`
	Ground       string `help:"Pressure that the ground is allowed." placeholder:"PRESSURE"`
	GroundFrom   string `help:"In which report." placeholder:"TEXT"`
	Cohesion     string `help:"Of the ground below, for what it bears before it gives way." placeholder:"PRESSURE"`
	GroundPhi    string `help:"Its angle of friction." placeholder:"ANGLE"`
	GroundWeight string `help:"Its weight by volume, below water as it weighs there." placeholder:"WEIGHT"`
	Deep         string `help:"How deep the bed lies below the ground beside it." placeholder:"LENGTH"`
	Factor       string `help:"Factor against giving way, by the engineer." placeholder:"NUMBER"`
	FactorFrom   string `help:"Where that stands." placeholder:"TEXT"`

	Plate     string `help:"Thickness of a steel plate over a crossing." placeholder:"LENGTH"`
	Span      string `help:"Its clear span." placeholder:"LENGTH"`
	PlateLong string `help:"Its length along the trench." placeholder:"LENGTH"`
	Bearing   string `help:"What it rests on beyond each side." placeholder:"LENGTH"`
	Edges     bool   `help:"It rests on all four edges."`
	Stress    string `help:"Bending stress that its grade is allowed, by the engineer." placeholder:"STRESS"`
	PlateFrom string `help:"Where grade and stress stand." placeholder:"TEXT"`
	JSON      bool   `name:"json" help:"Answer as JSON."`
}

func (c *loadCommand) Run(p program) error {
	a := &asked{command: "load"}
	q := load.Problem{Where: finding.Where{Path: "load"}, Dynamic: a.percent("--dynamic", c.Dynamic), DynamicFrom: c.DynamicFrom}
	c.crosses(a, &q)
	c.rated(a, &q)
	c.earth(a, &q)
	c.bed(a, &q)
	if c.Plate+c.Span+c.PlateLong+c.Bearing+c.Stress != "" {
		q.Plate = &load.Plate{Thick: a.some("--plate", c.Plate), Span: a.some("--span", c.Span), Long: a.some("--plate-long", c.PlateLong), Bearing: a.some("--bearing", c.Bearing), Edges: c.Edges,
			Stress: a.quantity("--stress", c.Stress, check.Stress), From: c.PlateFrom}
	}
	if q.Rated == nil && q.Fill == nil && q.Wall == nil && q.Bed == nil && q.Plate == nil {
		if q.Vehicles == nil && len(a.faults) == 0 {
			a.fault("--vehicle", "nothing says what is held; give what crosses and the rating, --fill, --wall, --bed or --plate")
		}
		q.Rated = &load.Rated{}
	}
	if err := a.ends(); err != nil {
		return err
	}
	q.Words.Imperial = a.imperial
	sol := load.Check(&q)
	return p.held(c.JSON, sol.Answers, sol.Findings, q.Words)
}

// crosses reads what crosses.
func (c *loadCommand) crosses(a *asked, q *load.Problem) {
	if c.Vehicle != "" {
		if q.Vehicles = load.Design(strings.ToLower(c.Vehicle)); q.Vehicles == nil {
			a.fault("--vehicle", "there is no design vehicle %q on file; there is hs20 and hl93, and --axles for any other", c.Vehicle)
		}
		if len(c.Axles) > 0 {
			a.fault("--axles", "a design vehicle has axles of its own; give one of the two")
		}
		return
	}
	if len(c.Axles) == 0 {
		return
	}
	v := load.Vehicle{Name: "the vehicle", Apart: a.some("--wheels", c.Wheels), Tyre: a.patch("--tyre", c.Tyre), From: c.VehicleFrom}
	for i, text := range c.Axles {
		force, behind, apart := strings.Cut(text, "@")
		axle := load.Axle{}
		switch {
		case i > 0 && !apart:
			a.fault("--axles", "%q does not say how far it is behind the one before; write for example 110kN@4.2m", text)
		case i == 0 && apart:
			a.fault("--axles", "there is no axle before the first")
		case apart:
			axle.Behind = a.positive("--axles", behind, "a distance between axles")
		}
		if q := a.weight("--axles", force); q != nil {
			axle.Load = *q
		}
		v.Axles = append(v.Axles, axle)
	}
	q.Vehicles = []load.Vehicle{v}
}

// rated reads what the supplier declares.
func (c *loadCommand) rated(a *asked, q *load.Problem) {
	if c.Rating+c.RatingOn+c.Piece+c.ClassAsked == "" {
		return
	}
	r := &load.Rated{From: c.RatingFrom, On: a.patch("--rating-on", c.RatingOn), Piece: c.Piece, Asked: c.ClassAsked, AskedFrom: c.ClassFrom, Opening: a.some("--opening", c.Opening)}
	if c.PieceKeeps {
		r.Keeps = new(true)
	}
	class, _ := load.TestLoad(c.Rating)
	switch {
	case c.Rating == "":
	case class > 0:
		r.Class = c.Rating
	case load.Design(strings.ToLower(c.Rating)) != nil:
		r.Vehicle = strings.ToLower(c.Rating)
	default:
		r.Wheel = a.quantity("--rating", c.Rating, check.Force)
	}
	q.Rated = r
}

// earth reads what lies above and beside.
func (c *loadCommand) earth(a *asked, q *load.Problem) {
	weight := a.quantity("--earth", c.Earth, check.UnitWeight)
	if c.Fill+c.Top != "" {
		q.Fill = &load.Fill{Depth: a.some("--fill", c.Fill), Weight: weight, WeightFrom: c.EarthFrom, Width: a.some("--width", c.Width), Spread: a.share("--spread", c.Spread), SpreadFrom: c.SpreadFrom,
			Bears: a.quantity("--top", c.Top, check.Pressure), BearsFrom: c.TopFrom}
	}
	if c.Wall+c.WallBears+c.Strip+c.Surcharge == "" {
		return
	}
	w := &load.Wall{Height: a.some("--wall", c.Wall), Weight: weight, SoilFrom: c.EarthFrom, Phi: a.degrees("--phi", c.Phi), K: a.share("--coefficient", c.K), KFrom: c.KFrom,
		Surcharge: a.quantity("--surcharge", c.Surcharge, check.Pressure), Traffic: c.Traffic, Bears: a.quantity("--wall-bears", c.WallBears, check.Pressure), BearsFrom: c.WallFrom, StandsUnder: c.BesideFrom}
	if c.Strip != "" {
		pressure, edges, ok := strings.Cut(c.Strip, "@")
		if !ok {
			a.fault("--strip", "%q does not say where it stands; write for example 60kPa@300mm..2.3m", c.Strip)
			return
		}
		s := &load.Beam{}
		if is := a.quantity("--strip", pressure, check.Pressure); is != nil {
			s.Pressure = *is
		}
		s.Near, s.Far = a.stretch("--strip", edges, "300mm..2.3m")
		w.Strip = s
	}
	q.Wall = w
}

// bed reads what the run stands on.
func (c *loadCommand) bed(a *asked, q *load.Problem) {
	if c.Stands+c.Bed+c.Pad+c.Ground == "" {
		return
	}
	b := &load.Bed{Stands: a.lineMass("--stands", c.Stands), StandsFrom: c.StandsFrom, More: a.quantity("--more", c.More, check.Force), Over: a.some("--more-over", c.MoreOver), MoreFrom: c.MoreFrom,
		Width: a.some("--bed", c.Bed), Pad: a.patch("--pad", c.Pad), Pads: c.Pads, Apart: a.some("--pads-apart", c.PadsApart), Allows: a.quantity("--ground", c.Ground, check.Pressure), AllowsFrom: c.GroundFrom,
		Factor: a.share("--factor", c.Factor), FactorFrom: c.FactorFrom}
	if c.Cohesion+c.GroundPhi != "" {
		weight := a.quantity("--ground-weight", c.GroundWeight, check.UnitWeight)
		if weight == nil && c.GroundWeight == "" {
			a.fault("--ground-weight", "what ground bears before it gives way needs its weight by volume and --deep as well")
		}
		s := &load.Soil{Cohesion: check.Pressure.Of(0), Deep: a.length("--deep", c.Deep), From: c.GroundFrom}
		if weight != nil {
			s.Weight = *weight
		}
		if is := a.quantity("--cohesion", c.Cohesion, check.Pressure); is != nil {
			s.Cohesion = *is
		}
		if is := a.degrees("--ground-phi", c.GroundPhi); is != nil {
			s.Phi = *is
		}
		b.Soil = s
	}
	q.Bed = b
}

// quantity is a figure of a kind with its unit; nil where there is none.
func (a *asked) quantity(name, text string, kind *check.Kind) *check.Quantity {
	if text == "" {
		return nil
	}
	q, imperial, err := kind.Read(text)
	if err != nil {
		a.fault(name, "%v", err)
		return nil
	}
	a.imperial = a.imperial || imperial
	return &q
}

// weight is a force, or the weight of a mass.
func (a *asked) weight(name, text string) *check.Quantity {
	if said, err := measure.ParseMass(text); err == nil {
		a.imperial = a.imperial || strings.Contains(text, "lb")
		return new(check.Force.Of(said.Value.Kilograms() * check.Gravity))
	}
	return a.quantity(name, text, check.Force)
}

// percent is a share; nil where there is none.
func (a *asked) percent(name, text string) *check.Quantity {
	share := a.share(name, strings.TrimSuffix(strings.TrimSpace(text), "%"))
	if share == nil {
		return nil
	}
	return new(check.Percent.Of(*share / 100))
}

// degrees is an angle; nil where there is none.
func (a *asked) degrees(name, text string) *measure.Angle {
	if text == "" {
		return nil
	}
	said, err := measure.ParseDegrees(text)
	if err != nil {
		a.fault(name, "%v", err)
		return nil
	}
	return &said.Value
}

// patch is a rectangle, across and along; nothing where there is none.
func (a *asked) patch(name, text string) load.Patch {
	if text == "" {
		return load.Patch{}
	}
	var s job.Section
	if err := s.UnmarshalText([]byte(text)); err != nil {
		a.fault(name, "%v", err)
	}
	a.imperial = a.imperial || strings.ContainsAny(text, `'"`) || strings.Contains(text, "in") || strings.Contains(text, "ft")
	return load.Patch{Across: s.Width, Along: s.Height}
}

// checksAnswer is what a command of checks alone prints as JSON.
type checksAnswer struct {
	Checks     []check.Said `json:"checks"`
	NotChecked []string     `json:"not_checked"`
}

// held prints what was held, and ends as it came out.
func (p program) held(asJSON bool, list []check.Answer, found finding.List, s wording.Speech) error {
	if found.Any(finding.Fault) {
		return p.refuse(asJSON, found)
	}
	ans := checksAnswer{Checks: heldAll(list, s), NotChecked: notOnFile(found)}
	if asJSON {
		if err := p.json(ans); err != nil {
			return err
		}
	} else {
		p.showChecks(ans.Checks, ans.NotChecked)
	}
	return endsOf(list)
}

// Help is shown below the flags.
func (loadCommand) Help() string {
	return `Examples:

    trenchwright load --vehicle hs20 --dynamic 30 --dynamic-from "note 4" --rating "90kN" --rating-on "510mm x 250mm" --rating-from "T-9"
    trenchwright load --axles 60kN,110kN@4.2m --wheels 1.9m --tyre "300mm x 250mm" --rating D400 --class-asked D400 --class-from "drawing 12"
    trenchwright load --vehicle hl93 --fill 2.5ft --earth 120pcf --width 4ft --top 2.5ksf --top-from "T-9"
    trenchwright load --wall 920mm --earth 19kN/m3 --coefficient 0.5 --strip 20kPa@1m..3m --wall-bears 30kPa --wall-from "T-9"
    trenchwright load --stands 1100kg/m --bed 1.2m --ground 100kPa --ground-from "report 2"
    trenchwright load --vehicle hs20 --dynamic 30 --plate 1.25in --span 2ft --plate-long 10ft --bearing 18in --stress 22ksi --plate-from "hire sheet"

What a supplier declares is held as declared; nothing is given a rating. A cut, mitred or cored piece has none unless the supplier says so.
Figures from memory warn and decide nothing. The engineer says what crosses, and where.`
}
