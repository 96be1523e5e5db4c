package job

import "trenchwright/base/measure"

// Supply is what one supplier makes for this run. Every figure says which document it came from.
type Supply struct {
	ID         string        `json:"id"`
	Title      string        `json:"title,omitempty"`
	From       string        `json:"from,omitempty" jsonschema:"document id all figures come from unless they say otherwise"`
	Unit       UnitMake      `json:"unit"`
	Joint      JointMake     `json:"joint"`
	Saw        SawRule       `json:"saw,omitzero"`
	Cover      *CoverMake    `json:"cover,omitempty"`
	Bearing    BearingMake   `json:"bearing,omitzero"`
	Lifting    LiftingMake   `json:"lifting,omitzero"`
	Fittings   []Fitting     `json:"fittings,omitempty"`
	LooseParts []LoosePart   `json:"loose_parts,omitempty"`
	Stacking   StackingMake  `json:"stacking,omitzero"`
	Rating     Entry[string] `json:"rating,omitzero" jsonschema:"load rating as the supplier declares it; cut pieces do not inherit it unless cut_keeps_rating"`
	CutRating  Entry[bool]   `json:"cut_keeps_rating,omitzero" jsonschema:"true only where the supplier says that cut pieces keep the rating"`
}

// UnitMake is the trough unit.
type UnitMake struct {
	Lengths     Entry[[]measure.Length]   `json:"lengths" jsonschema:"lengths that are made, for example [3000 mm, 1500 mm]"`
	Inner       Entry[Section]            `json:"inner,omitzero" jsonschema:"clear width x height inside"`
	Outer       Entry[Section]            `json:"outer,omitzero" jsonschema:"overall width x height"`
	Mass        Entry[measure.LinearMass] `json:"mass,omitzero" jsonschema:"mass per length, for example 890 kg/m"`
	Ends        Entry[string]             `json:"ends,omitzero" jsonschema:"plain, tongue-and-groove or rebate"`
	MayTurn     Entry[bool]               `json:"may_turn,omitzero" jsonschema:"may be turned end for end"`
	OutOfSquare Entry[measure.Length]     `json:"out_of_square,omitzero" jsonschema:"how far an end may be out of square over the width"`
	CastIn      []CastIn                  `json:"cast_in,omitempty" jsonschema:"inserts, drain holes, channels, knock-outs"`
	NoCut       []NoCut                   `json:"no_cut,omitempty" jsonschema:"where no saw may go"`
	BatchNote   string                    `json:"batch_note,omitempty"`
}

// Section is a width and a height, written `900 mm x 750 mm`.
type Section struct{ Width, Height measure.Length }

// CastIn is one thing cast into a unit of one length.
type CastIn struct {
	Kind     string         `json:"kind" jsonschema:"insert, drain, channel or knock-out"`
	Name     string         `json:"name,omitempty"`
	Of       measure.Length `json:"of" jsonschema:"length of the unit it is cast into"`
	At       measure.Length `json:"at" jsonschema:"station of its middle from the named end"`
	End      string         `json:"end,omitempty" jsonschema:"A (default) or B"`
	Side     string         `json:"side,omitempty" jsonschema:"left, right or floor, looking from A to B"`
	Edge     measure.Length `json:"edge,omitempty" jsonschema:"least distance from its middle to a cut end"`
	Level    measure.Length `json:"level,omitempty" jsonschema:"height of its middle above the underside"`
	Diameter measure.Length `json:"diameter,omitempty"`
}

// NoCut is a stretch of a unit of one length where no saw may go.
type NoCut struct {
	Of   measure.Length `json:"of"`
	From measure.Length `json:"from" jsonschema:"station from end A"`
	To   measure.Length `json:"to"`
	Why  string         `json:"why,omitempty"`
}

// JointMake is where two units meet.
type JointMake struct {
	Gap      Entry[measure.Window] `json:"gap" jsonschema:"for example 10 mm in 8 mm..14 mm, or 10 mm for a fixed gap"`
	MitreGap Entry[measure.Length] `json:"mitre_gap,omitzero" jsonschema:"width of the joint between two mitred ends, measured square to it"`
	EndGap   Entry[measure.Length] `json:"end_gap,omitzero" jsonschema:"gap between the last unit and an end plate, a casting or a wall"`
}

// SawRule is what may be cut and how.
type SawRule struct {
	Shortest       Entry[measure.Length] `json:"shortest,omitzero" jsonschema:"shortest cut unit"`
	Kerf           Entry[measure.Length] `json:"kerf,omitzero" jsonschema:"what the blade takes"`
	LeastSlice     Entry[measure.Length] `json:"least_slice,omitzero" jsonschema:"least slice that can be sawn off an end; the kerf when left out"`
	KeepFactoryEnd Entry[bool]           `json:"keep_factory_end,omitzero" jsonschema:"every placed piece keeps one end as cast"`
	NoCuts         bool                  `json:"no_cuts,omitempty" jsonschema:"the supplier forbids cutting"`
}

// CoverMake is the lid.
type CoverMake struct {
	Lengths     Entry[[]measure.Length]   `json:"lengths"`
	Gap         Entry[measure.Window]     `json:"gap"`
	Width       Entry[measure.Length]     `json:"width,omitzero"`
	Thickness   Entry[measure.Length]     `json:"thickness,omitzero"`
	Shortest    Entry[measure.Length]     `json:"shortest,omitzero" jsonschema:"shortest cut cover; its short side where it is mitred"`
	Mass        Entry[measure.LinearMass] `json:"mass,omitzero" jsonschema:"mass per length of run"`
	MayTurnOver Entry[bool]               `json:"may_turn_over,omitzero"`
	Rating      Entry[string]             `json:"rating,omitzero"`
	CutRating   Entry[bool]               `json:"cut_keeps_rating,omitzero"`
	LiftedBy    Entry[string]             `json:"lifted_by,omitzero" jsonschema:"keys, hand, clamp, vacuum"`
}

// BearingMake is what a unit stands on.
type BearingMake struct {
	On        Entry[string]         `json:"on,omitzero" jsonschema:"bed or pads"`
	PadAlong  Entry[measure.Length] `json:"pad_along,omitzero" jsonschema:"size of a pad along the run"`
	PadAcross Entry[measure.Length] `json:"pad_across,omitzero"`
	PadThick  Entry[measure.Length] `json:"pad_thick,omitzero"`
}

// LiftingMake is how a unit is lifted.
type LiftingMake struct {
	By         Entry[string]         `json:"by,omitzero" jsonschema:"inserts, clamp, vacuum or hand"`
	Hook       Entry[string]         `json:"hook,omitzero" jsonschema:"type of lifting hardware that fits the inserts"`
	CutLift    Entry[string]         `json:"cut_lift,omitzero" jsonschema:"what the supplier says of lifting cut pieces"`
	OffCentre  Entry[measure.Length] `json:"off_centre,omitzero" jsonschema:"how far the hook may stand from the centre of gravity"`
	HandPeople Entry[int]            `json:"hand_people,omitzero" jsonschema:"for pieces laid by hand: how many people"`
}

// Fitting is a bend, tee, cross, transition or end as cast, or made of cut units.
type Fitting struct {
	ID     string              `json:"id"`
	Kind   string              `json:"kind" jsonschema:"bend, tee, cross, transition or end"`
	Title  string              `json:"title,omitempty"`
	Arms   []Arm               `json:"arms,omitempty" jsonschema:"from the node to each face"`
	Angle  measure.Angle       `json:"angle,omitempty" jsonschema:"for a bend: its deflection"`
	Mass   Entry[measure.Mass] `json:"mass,omitzero"`
	Covers []KitCover          `json:"covers,omitempty" jsonschema:"its cover kit from the drawing"`
	Fall   Entry[string]       `json:"fall,omitzero" jsonschema:"fall along the first arm that its drawing gives"`
	From   string              `json:"from,omitempty" jsonschema:"document id of its drawing"`
}

// Arm is one arm of a casting.
type Arm struct {
	Name   string         `json:"name,omitempty" jsonschema:"through, through-2, branch, in, out"`
	Length measure.Length `json:"length" jsonschema:"from the node to the face of this arm"`
	Supply string         `json:"supply,omitempty" jsonschema:"supply whose section this arm has; its own where left out"`
}

// KitCover is one cover of a fitting's kit.
type KitCover struct {
	Name  string              `json:"name"`
	Count int                 `json:"count"`
	Mass  Entry[measure.Mass] `json:"mass,omitzero"`
}

// LoosePart is one small thing that the supplier's drawing asks for.
type LoosePart struct {
	Name   string `json:"name"`
	Per    string `json:"per" jsonschema:"unit, cover, joint, end, metre, pad, cut-face or bend"`
	Number string `json:"number" jsonschema:"how many per one, a decimal"`
	Unit   string `json:"unit,omitempty" jsonschema:"piece (default), m, kg, l"`
	Pack   int    `json:"pack,omitempty" jsonschema:"how many come in one pack: orders are rounded up to it"`
	From   string `json:"from,omitempty"`
}

// StackingMake is how things arrive.
type StackingMake struct {
	UnitsPerBundle  Entry[int] `json:"units_per_bundle,omitzero"`
	CoversPerPallet Entry[int] `json:"covers_per_pallet,omitzero"`
	PadsPerPallet   Entry[int] `json:"pads_per_pallet,omitzero"`
}
