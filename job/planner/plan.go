package planner

import (
	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/solve/check"
)

// PlanFormat is the format of plan.json that this program writes.
const PlanFormat = 1

// Plan is the answer: a value, the same for the same job. Its JSON is plan.json. Lengths that end in _mm are exact
// decimal millimetres; positions are in metres in the job's coordinate system, for drawing and set-out.
//
// Every leg has its own laying axis: 0 is the outer face of the unit at its from end, clear_length_mm the outer face of
// the unit at its to end. Units, joints and zones are measured on that axis; chainage_mm adds the leg's set-back, so it
// counts from the leg's from node.
type Plan struct {
	Format      int           `json:"format"`
	Core        string        `json:"core"` // version of the planning core
	Job         JobHead       `json:"job"`
	Legs        []Leg         `json:"legs"`
	Nodes       []Node        `json:"nodes"`
	Units       []Unit        `json:"units"`
	Covers      []Cover       `json:"covers"`
	Joints      []Joint       `json:"joints"`
	Zones       []Zone        `json:"zones"`        // where no joint may stand
	NoCuts      []Zone        `json:"no_cut_zones"` // where joints may stand, but no cut unit or cover may lie
	Services    []Service     `json:"services"`     // recorded as buried where they meet a leg, leg by leg along it
	Supplies    []SupplyHead  `json:"supplies"`
	Cutting     []Cutting     `json:"cutting"`
	SetOut      []SetOut      `json:"set_out"`
	Benchmarks  []SurveyPoint `json:"benchmarks"` // that levels are taken from; empty: none on file, a finding says so
	Control     []SurveyPoint `json:"control"`    // that the line is set out from; likewise
	Pegs        []Peg         `json:"pegs"`       // beside the run, leg by leg along it
	Grades      []GradeRun    `json:"grades"`
	CoverLevels []CoverLevel  `json:"cover_levels"` // by supply, where the job asks for levels
	Drain       *Drain        `json:"drain"`        // null: the job has none, or no levels were solved
	Excavation  []Excavation  `json:"excavation"`   // by leg, where a dig was computed and a jurisdiction is on file
	Dig         *Dig          `json:"dig"`          // null: no levels were solved, or nobody surveyed the ground
	Checks      []check.Said  `json:"checks"`       // loads, water, lifts, cables and fill against what was entered; empty: nothing of it is on file
	Bill        []BillLine    `json:"bill"`
	Delivery    *Delivery     `json:"delivery"` // null: the job says nothing about deliveries
	Totals      Totals        `json:"totals"`
	Proof       Proof         `json:"proof"`
	Findings    finding.List  `json:"findings"`

	timed *timed // the programme, once somebody asked for it; nil: of a plan that was read, it is worked out each time
}

// empty is a plan with nothing in it: its lists are empty, never null.
func empty() Plan {
	return Plan{
		Format: PlanFormat, Core: Core, timed: new(timed),
		Legs: []Leg{}, Nodes: []Node{}, Units: []Unit{}, Covers: []Cover{}, Joints: []Joint{}, Zones: []Zone{}, NoCuts: []Zone{}, Services: []Service{},
		Supplies: []SupplyHead{}, Cutting: []Cutting{}, SetOut: []SetOut{}, Benchmarks: []SurveyPoint{}, Control: []SurveyPoint{}, Pegs: []Peg{}, Grades: []GradeRun{}, CoverLevels: []CoverLevel{}, Excavation: []Excavation{}, Checks: []check.Said{}, Bill: []BillLine{},
		Proof: Proof{Legs: []LegProof{}, Cutting: []string{}}, Findings: finding.List{},
	}
}

// JobHead is what a title block says of the job.
type JobHead struct {
	ID          string     `json:"id"`
	Name        string     `json:"name"`
	Owner       string     `json:"owner,omitempty"`
	By          string     `json:"by,omitempty"`
	On          string     `json:"on,omitempty"`
	Revision    string     `json:"revision,omitempty"`
	Hash        string     `json:"hash"` // SHA-256 of the canonical job
	System      string     `json:"system"`
	Words       string     `json:"words"`
	Grid        string     `json:"grid"`         // coordinate system, or NOT CHECKED: …
	HeightDatum string     `json:"height_datum"` // likewise
	ScaleFactor string     `json:"scale_factor"` // likewise
	ScaleSource string     `json:"scale_source"` // its document
	Surveys     []Survey   `json:"surveys"`      // what levels of the ground are read from
	DrawnLine   string     `json:"drawn_line"`   // which line the route's coordinates describe, in words
	Origin      [2]float64 `json:"origin_m"`     // added to every position below to get job coordinates
}

// Survey is one surface of the ground, with the document that its levels come from.
type Survey struct {
	Role   string `json:"role"` // existing, finished, rock, water
	File   string `json:"file"`
	Source string `json:"source"`
}

// Leg is what lies between two fittings.
type Leg struct {
	Name         string     `json:"name"`
	From         string     `json:"from"`
	To           string     `json:"to"`
	Supply       string     `json:"supply"`
	Verdict      string     `json:"verdict"` // found, impossible, undecided
	Why          string     `json:"why,omitempty"`
	Try          []string   `json:"try,omitempty"`
	ClearLength  measure.MM `json:"clear_length_mm"`
	NodeLength   measure.MM `json:"node_length_mm"` // ground length from node to node
	StartSetback measure.MM `json:"start_setback_mm"`
	EndSetback   measure.MM `json:"end_setback_mm"`
	SlopeRise    measure.MM `json:"slope_rise_mm"` // from the first place with a level to the last; 0 when level or unknown
	LaidFrom     string     `json:"laid_from"`
	Withdrawn    []string   `json:"withdrawn,omitempty"` // places that were on it and are laid no more
	Axis         []AxisPart `json:"axis"`
	Count        Count      `json:"count"`
}

// AxisPart is one straight or circular part of a leg's centreline, positions relative to the job's origin.
type AxisPart struct {
	FromChainage measure.MM `json:"from_mm"` // from the from node
	ToChainage   measure.MM `json:"to_mm"`
	Start        [2]float64 `json:"start_m"` // easting, northing
	End          [2]float64 `json:"end_m"`
	Radius       float64    `json:"radius_m"` // right turn positive, 0 straight
}

// Count is how a leg comes out, compared in this order.
type Count struct {
	Units     int `json:"units"`
	Cuts      int `json:"cuts"`
	CutCovers int `json:"cut_covers"`
}

// Node is where legs end or meet.
type Node struct {
	ID         string      `json:"id"`
	Kind       string      `json:"kind"` // end, bend, tee, cross, transition
	At         [2]float64  `json:"at_m"`
	Level      *float64    `json:"level_m,omitempty"`
	Legs       []string    `json:"legs"`
	Headings   []float64   `json:"headings_deg"` // bearing from the node out along each of Legs
	Fitting    string      `json:"fitting,omitempty"`
	Made       string      `json:"made"`                     // mitred, casting, sawn, end plate, building, temporary, existing, open
	Deflection float64     `json:"deflection_deg,omitempty"` // right positive, following the leg that runs to the node
	Bend       *BendDetail `json:"bend,omitempty"`
	Note       string      `json:"note,omitempty"`
}

// BendDetail is what a gang needs at a mitred bend.
type BendDetail struct {
	SawAngle  float64    `json:"saw_angle_deg"` // half the deflection: how far each face is from square
	Gap       measure.MM `json:"gap_mm"`
	Setback   measure.MM `json:"setback_mm"`      // (gap/2)/cos of the saw angle, on the axis
	LongShort measure.MM `json:"long_less_short"` // outer width times tan of the saw angle
	PadAcross measure.MM `json:"pad_across_mm"`   // outer width over cos of the saw angle: how wide a pad has to be to carry both faces
	In        string     `json:"in,omitempty"`    // place of the unit coming in
	Out       string     `json:"out,omitempty"`   // and of the one leaving
	Seams     string     `json:"seams,omitempty"` // what the covers do here
	CoverIn   string     `json:"cover_in,omitempty"`
	CoverOut  string     `json:"cover_out,omitempty"`
}

// Unit is one unit as laid. Angles are the saw angle at each end with the sign of its hand (0 square): the face is the
// line x = a + tan(angle)·y, y to the left, looking along the leg.
type Unit struct {
	Mark       string        `json:"mark"` // its place, A-017
	Leg        string        `json:"leg"`
	Supply     string        `json:"supply"`
	Start      measure.MM    `json:"start_mm"`
	Length     measure.MM    `json:"length_mm"` // on the axis
	Stock      measure.MM    `json:"stock_mm"`  // length of the unit it is, or is cut from
	Cut        bool          `json:"cut"`
	Hold       bool          `json:"hold,omitempty"` // closer on hold: cut from measurement
	Lies       bool          `json:"lies,omitempty"` // it is set already, where it was measured
	StartAngle float64       `json:"start_angle_deg"`
	EndAngle   float64       `json:"end_angle_deg"`
	Mass       *float64      `json:"mass_kg"` // null: no mass on file
	Axis       [2][2]float64 `json:"axis_m"`  // its axis from start to end, easting and northing
	Bearing    float64       `json:"bearing_deg"`
	Chainage   measure.MM    `json:"chainage_mm"` // of its start, from the leg's from node
	Piece      *Piece        `json:"piece,omitempty"`
	Demands    string        `json:"demands,omitempty"` // what asks for this supply here
}

// Piece is what makes a cut unit different from a plain one.
type Piece struct {
	LeftSide   measure.MM   `json:"left_side_mm"` // along its left face, looking up-chainage
	RightSide  measure.MM   `json:"right_side_mm"`
	DiagonalA  measure.MM   `json:"diagonal_a_mm"` // from its left start corner to its right end corner
	DiagonalB  measure.MM   `json:"diagonal_b_mm"` // from its right start corner to its left end corner
	KeptEnd    string       `json:"kept_end"`      // which end stays as cast: start, end or none
	Hand       string       `json:"hand,omitempty"`
	CutFrom    string       `json:"cut_from"`             // U1: the bought unit of the cutting list, or the mark of an offcut
	FromMM     measure.MM   `json:"from_stock_mm"`        // station on that unit, from its end A, of the piece's first corner
	Turned     bool         `json:"turned"`               // laid with end B first
	CentreX    measure.MM   `json:"centre_x_mm"`          // centre of gravity on the axis, from the start of its axis
	CentreY    measure.MM   `json:"centre_y_mm"`          // to the left of the axis
	CentreNote string       `json:"centre_note"`          // how it was computed, or why not
	Inserts    []InsertLeft `json:"inserts"`              // lifting inserts that are left on it
	Lift       string       `json:"lift"`                 // what it can be lifted by, or NOT CHECKED: …
	CutThings  []string     `json:"cut_things,omitempty"` // cast-in things that the saw goes through or comes too near to
}

// InsertLeft is a lifting insert on a cut piece.
type InsertLeft struct {
	Name string     `json:"name"`
	Side string     `json:"side"`
	X    measure.MM `json:"x_mm"` // from the start of the piece's axis
}

// Cover is one lid as laid, wholly on its unit.
type Cover struct {
	Mark       string     `json:"mark"`
	Unit       string     `json:"unit"`
	Start      measure.MM `json:"start_mm"` // from the unit's start on its axis
	Length     measure.MM `json:"length_mm"`
	Stock      measure.MM `json:"stock_mm"`
	Cut        bool       `json:"cut"`
	StartAngle float64    `json:"start_angle_deg"`
	EndAngle   float64    `json:"end_angle_deg"`
	Mass       *float64   `json:"mass_kg"`
	LeftSide   measure.MM `json:"left_side_mm"`
	RightSide  measure.MM `json:"right_side_mm"`
	CutFrom    string     `json:"cut_from,omitempty"`
}

// Joint is where two units of a leg meet. It fills [at_mm - gap_mm, at_mm]: at_mm is where the next unit starts.
type Joint struct {
	Name   string     `json:"name"`
	Leg    string     `json:"leg"`
	At     measure.MM `json:"at_mm"`
	Gap    measure.MM `json:"gap_mm"` // on the axis
	GapMin measure.MM `json:"gap_min_mm"`
	GapMax measure.MM `json:"gap_max_mm"`
	Budget Budget     `json:"budget"`
	Forced string     `json:"forced,omitempty"`
	Note   string     `json:"note,omitempty"`
}

// Budget says who spends what of one joint's window. Left is what remains on the tighter side.
type Budget struct {
	Room    measure.MM `json:"room_mm"`    // least of gap - min and max - gap
	Turn    measure.MM `json:"turn_mm"`    // turn in plan times half the outer width
	Grade   measure.MM `json:"grade_mm"`   // change of grade times half the outer height
	Square  measure.MM `json:"square_mm"`  // half of what an end may be out of square
	Reserve measure.MM `json:"reserve_mm"` // kept for drift
	Left    measure.MM `json:"left_mm"`
	Missing []string   `json:"missing,omitempty"` // figures nobody entered
}

// Zone is an open stretch of a leg that asks something of what is laid there.
type Zone struct {
	Leg   string     `json:"leg"`
	From  measure.MM `json:"from_mm"`
	To    measure.MM `json:"to_mm"`
	Why   string     `json:"why"`
	Kind  string     `json:"kind"` // crossing, entry, service, support, zone, tee
	ID    string     `json:"id"`
	NoCut bool       `json:"no_cut,omitempty"` // no cut unit or cover may lie in it
}

// SupplyHead is what a sheet says of a supply.
type SupplyHead struct {
	ID           string       `json:"id"`
	Title        string       `json:"title"`
	Source       string       `json:"source"`
	Lengths      []measure.MM `json:"lengths_mm"`
	OuterWidth   *measure.MM  `json:"outer_width_mm"`
	OuterHeight  *measure.MM  `json:"outer_height_mm"`
	InnerWidth   *measure.MM  `json:"inner_width_mm"`
	InnerHeight  *measure.MM  `json:"inner_height_mm"`
	CoverWidth   *measure.MM  `json:"cover_width_mm"`
	Rating       string       `json:"rating"` // as declared, or NOT CHECKED: …
	CoverRating  string       `json:"cover_rating"`
	Ends         string       `json:"ends"`
	Bearing      string       `json:"bearing"`
	Lifting      string       `json:"lifting"`
	CoverLift    string       `json:"cover_lift"`
	CutCoverLift string       `json:"cut_cover_lift"`
	Kerf         *measure.MM  `json:"kerf_mm"`
	SawTol       string       `json:"saw_tolerance"`
}

// Cutting is the cutting of one kind of thing (units or covers of one supply).
type Cutting struct {
	Supply   string       `json:"supply"`
	Of       string       `json:"of"` // units or covers
	Patterns []CutPattern `json:"patterns"`
	Bought   int          `json:"bought"` // stock units bought to be cut
	Bound    int          `json:"bound"`  // proven: no cutting of these pieces buys fewer
	Proven   bool         `json:"proven"`
	Text     string       `json:"text"` // the proof in words
}

// CutPattern is one stock unit and what is cut from it.
type CutPattern struct {
	Name    string     `json:"name"` // U1, or the mark of the offcut in the yard
	Stock   measure.MM `json:"stock_mm"`
	Offcut  bool       `json:"offcut"` // it was in the yard already
	Pieces  []CutPlace `json:"pieces"`
	Left    []LeftOver `json:"left"`
	Saws    int        `json:"saws"` // saw cuts
	SawLoss measure.MM `json:"saw_loss_mm"`
}

// CutPlace is where a piece lies on its stock unit.
type CutPlace struct {
	Mark    string     `json:"mark"`
	From    measure.MM `json:"from_mm"` // on the axis from end A
	To      measure.MM `json:"to_mm"`
	FromTan float64    `json:"from_tan"` // face x = from + from_tan·y at its low end as it lies on the stock
	ToTan   float64    `json:"to_tan"`
	Turned  bool       `json:"turned"`
}

// LeftOver is an offcut that comes off.
type LeftOver struct {
	Mark   string     `json:"mark"` // B-017/a
	From   measure.MM `json:"from_mm"`
	To     measure.MM `json:"to_mm"`
	Usable bool       `json:"usable"` // at least the shortest cut length
}

// SetOut is one row of the set-out table: a joint's middle, or an end of a leg.
type SetOut struct {
	Leg      string      `json:"leg"`
	Place    string      `json:"place"` // start of, end of A-031
	Pad      string      `json:"pad,omitempty"`
	PadReach *PadReach   `json:"pad_reach,omitempty"`  // left out: no pad, no size of it on file, or a mitre or a step, at which pads differ
	Chainage measure.MM  `json:"chainage_mm"`          // from the leg's from node
	Planned  *measure.MM `json:"planned_mm,omitempty"` // chainage that its levels were planned for, where what lies came to lie elsewhere
	At       measure.MM  `json:"at_mm"`                // on the laying axis
	E        float64     `json:"easting_m"`
	N        float64     `json:"northing_m"`
	Bearing  float64     `json:"bearing_deg"`
	Level    *float64    `json:"level_m,omitempty"` // wall top, where it is known
	Levels   *Levels     `json:"levels,omitempty"`  // where a profile was solved
}

// Levels is what stands under one place of the set-out, in metres above the height datum; null: a thickness is not on file,
// or there is no ground. Where nothing else is said it is the left wall of the unit behind the joint.
type Levels struct {
	Cover     *float64       `json:"cover_m"` // top of the cover
	Wall      *float64       `json:"wall_m"`
	Underside *float64       `json:"underside_m"`
	PadTop    *float64       `json:"pad_top_m"`
	PadBase   *float64       `json:"pad_base_m"`
	UnderPad  *float64       `json:"formation_under_pad_m"`
	Formation *float64       `json:"formation_m"` // between pads
	Invert    *float64       `json:"invert_m"`
	Drain     *float64       `json:"drain_m"`          // underside of the pipe in the bed, where it lies
	Walls     [4]*float64    `json:"walls_m"`          // wall tops: left and right of the unit before, left and right of the unit behind
	Before    *Before        `json:"before,omitempty"` // the same of the unit before the joint, where any of it lies otherwise than behind
	PadFall   [2]*measure.MM `json:"pad_fall_mm"`      // over the pad's own length, on the grade before and behind; rising positive
	Existing  *float64       `json:"existing_m"`       // ground on the centreline
	Finished  *float64       `json:"finished_m"`
	Rock      *float64       `json:"rock_m"`
	Water     *float64       `json:"water_m"`
}

// Before is what stands under the left wall of the unit before a joint: another supply, another crossfall, or a step.
type Before struct {
	Cover     *float64 `json:"cover_m"`
	Wall      *float64 `json:"wall_m"`
	Underside *float64 `json:"underside_m"`
	PadTop    *float64 `json:"pad_top_m"`
	PadBase   *float64 `json:"pad_base_m"`
	UnderPad  *float64 `json:"formation_under_pad_m"`
	Formation *float64 `json:"formation_m"`
	Invert    *float64 `json:"invert_m"`
}

// GradeRun is units of one leg in a straight line.
type GradeRun struct {
	Leg     string      `json:"leg"`
	From    string      `json:"from"` // place
	To      string      `json:"to"`
	FromMM  measure.MM  `json:"from_mm"` // chainage
	ToMM    measure.MM  `json:"to_mm"`
	Grade   string      `json:"grade"` // up-chainage, rising positive
	Rise    measure.MM  `json:"rise_mm"`
	OnStep  bool        `json:"on_step"` // a whole number of the step that lasers are set by
	Stepped bool        `json:"stepped,omitempty"`
	Step    *measure.MM `json:"step_mm,omitempty"` // of a unit that steps: how far the next one begins above its end, negative below
}

// BillLine is one thing to order.
type BillLine struct {
	Item   string      `json:"item"` // in the job's words and system
	Supply string      `json:"supply,omitempty"`
	Kind   string      `json:"kind"`      // unit, cover, fitting, loose part
	Length *measure.MM `json:"length_mm"` // of one unit or cover; null: nothing that has one
	Need   string      `json:"need"`      // number or amount placed
	Spare  string      `json:"spare,omitempty"`
	Order  string      `json:"order"` // after spares; rounded up to whole packs
	Unit   string      `json:"unit"`  // piece, m, kg
	Pack   int         `json:"pack,omitempty"`
	Packs  int         `json:"packs,omitempty"`
	Mass   string      `json:"mass_kg,omitempty"`
	Source string      `json:"source"`
	Why    string      `json:"why,omitempty"`
}

// Totals of the whole job.
type Totals struct {
	Legs        int        `json:"legs"`
	ClearLength measure.MM `json:"clear_length_mm"`
	Units       int        `json:"units"`
	Plain       int        `json:"plain"`
	Cuts        int        `json:"cuts"`
	Covers      int        `json:"covers"`
	CutCovers   int        `json:"cut_covers"`
	Joints      int        `json:"joints"`
	Bought      int        `json:"bought"` // units bought, plain and to be cut
	CoversBuy   int        `json:"covers_bought"`
	MassKG      *float64   `json:"mass_kg"` // units and covers, castings stand in the bill; null: a mass is missing
}

// Proof is what stands behind the plan's claims.
type Proof struct {
	Legs    []LegProof `json:"legs"`
	Cutting []string   `json:"cutting"`
}

// LegProof is what was proven of one leg.
type LegProof struct {
	Leg        string   `json:"leg"`
	Claim      string   `json:"claim"`
	Bound      string   `json:"bound"`
	Verified   bool     `json:"verified"` // by the separate checker
	Intervals  int      `json:"intervals"`
	CheckerSay []string `json:"checker_says,omitempty"`
}
