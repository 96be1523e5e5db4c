package job

import "trenchwright/base/measure"

// Supply is what one supplier makes for this run. Every figure says which document it came from.
type Supply struct {
	ID         string         `json:"id" rule:"id" example:"trough" jsonschema:"name of the supply"`
	Title      string         `json:"title,omitempty" example:"trough 600 x 500" jsonschema:"what people call it"`
	From       string         `json:"from,omitempty" ref:"document" example:"D1" jsonschema:"document id all figures come from unless they say otherwise"`
	Unit       UnitMake       `json:"unit" jsonschema:"the trough unit"`
	Joint      JointMake      `json:"joint" jsonschema:"where two units meet"`
	Saw        SawRule        `json:"saw,omitzero" jsonschema:"what may be cut and how"`
	Cover      *CoverMake     `json:"cover,omitempty" jsonschema:"the lid"`
	Bearing    BearingMake    `json:"bearing,omitzero" jsonschema:"what a unit stands on"`
	Lifting    LiftingMake    `json:"lifting,omitzero" jsonschema:"how a unit is lifted"`
	Fittings   []Fitting      `json:"fittings,omitempty" jsonschema:"castings for bends, tees, crosses, transitions and ends"`
	LooseParts []LoosePart    `json:"loose_parts,omitempty" jsonschema:"everything small that the drawing asks for"`
	Stacking   StackingMake   `json:"stacking,omitzero" jsonschema:"how things arrive"`
	Rating     Entry[string]  `json:"rating,omitzero" example:"as the data sheet says" jsonschema:"load rating as the supplier declares it; cut pieces do not inherit it unless cut_keeps_rating"`
	CutRating  Entry[bool]    `json:"cut_keeps_rating,omitzero" example:"false" jsonschema:"true only where the supplier says that cut pieces keep the rating"`
	RatedOn    Entry[Section] `json:"rated_on,omitzero" example:"510 mm x 250 mm" jsonschema:"patch that a rating by a wheel is declared on, across x along"`
	TopBears   Entry[string]  `json:"top_bears,omitzero" rule:"pressure" example:"120 kPa" jsonschema:"pressure on its top that it is declared for"`
	WallBears  Entry[string]  `json:"wall_bears,omitzero" rule:"pressure" example:"30 kPa" jsonschema:"pressure on its walls that it is declared for"`
}

// UnitMake is the trough unit.
type UnitMake struct {
	Lengths     Entry[[]measure.Length]   `json:"lengths" in:"(0,)" example:"[3000 mm, 1500 mm]" jsonschema:"lengths that are made, for example [3000 mm, 1500 mm]"`
	Inner       Entry[Section]            `json:"inner,omitzero" example:"600 mm x 500 mm" jsonschema:"clear width x height inside"`
	Outer       Entry[Section]            `json:"outer,omitzero" example:"780 mm x 600 mm" jsonschema:"overall width x height"`
	Mass        Entry[measure.LinearMass] `json:"mass,omitzero" in:"(0,)" example:"890 kg/m" jsonschema:"mass per length, for example 890 kg/m"`
	Ends        Entry[string]             `json:"ends,omitzero" oneof:"plain|tongue-and-groove|rebate" jsonschema:"plain, tongue-and-groove or rebate"`
	MayTurn     Entry[bool]               `json:"may_turn,omitzero" example:"true" jsonschema:"may be turned end for end"`
	OutOfSquare Entry[measure.Length]     `json:"out_of_square,omitzero" example:"3 mm" jsonschema:"how far an end may be out of square over the width"`
	LengthTol   Entry[measure.Length]     `json:"length_tolerance,omitzero" in:"[0,)" example:"5 mm" jsonschema:"by how much a unit may be longer or shorter than it is made, either way"`
	HeightTol   Entry[measure.Length]     `json:"height_tolerance,omitzero" in:"[0,)" example:"3 mm" jsonschema:"by how much the overall height of a unit may be off, either way; part of how true covers come to lie"`
	CastIn      []CastIn                  `json:"cast_in,omitempty" jsonschema:"inserts, drain holes, channels, knock-outs"`
	NoCut       []NoCut                   `json:"no_cut,omitempty" jsonschema:"where no saw may go"`
	BatchNote   string                    `json:"batch_note,omitempty" example:"cast in week 9" jsonschema:"what is known of the batch"`
}

// Section is a width and a height, written `900 mm x 750 mm`.
type Section struct{ Width, Height measure.Length }

// CastIn is one thing cast into a unit of one length.
type CastIn struct {
	Kind     string         `json:"kind" oneof:"insert|drain|channel|knock-out" jsonschema:"insert, drain, channel or knock-out"`
	Name     string         `json:"name,omitempty" example:"L1" jsonschema:"what it is called on the drawing"`
	Of       measure.Length `json:"of" in:"(0,)" example:"3000 mm" jsonschema:"length of the unit it is cast into"`
	At       measure.Length `json:"at" example:"600 mm" jsonschema:"station of its middle from the named end"`
	End      string         `json:"end,omitempty" oneof:"A|B" jsonschema:"A (default) or B"`
	Side     string         `json:"side,omitempty" oneof:"left|right|floor" jsonschema:"left, right or floor, looking from A to B"`
	Edge     measure.Length `json:"edge,omitempty" example:"300 mm" jsonschema:"least distance from its middle to a cut end"`
	Level    measure.Length `json:"level,omitempty" example:"350 mm" jsonschema:"height of its middle above the underside"`
	Diameter measure.Length `json:"diameter,omitempty" in:"(0,)" example:"50 mm" jsonschema:"of a hole or a knock-out"`
}

// NoCut is a stretch of a unit of one length where no saw may go.
type NoCut struct {
	Of   measure.Length `json:"of" in:"(0,)" example:"3000 mm" jsonschema:"length of the unit that this is about"`
	From measure.Length `json:"from" example:"500 mm" jsonschema:"station from end A"`
	To   measure.Length `json:"to" example:"700 mm" jsonschema:"station from end A, further than from"`
	Why  string         `json:"why,omitempty" example:"lifting insert" jsonschema:"what is in the way"`
}

// JointMake is where two units meet.
type JointMake struct {
	Gap      Entry[measure.Window] `json:"gap" example:"10 mm in 8 mm..14 mm" jsonschema:"for example 10 mm in 8 mm..14 mm, or 10 mm for a fixed gap"`
	MitreGap Entry[measure.Length] `json:"mitre_gap,omitzero" example:"10 mm" jsonschema:"width of the joint between two mitred ends, measured square to it"`
	EndGap   Entry[measure.Length] `json:"end_gap,omitzero" example:"10 mm" jsonschema:"gap between the last unit and an end plate, a casting or a wall"`
}

// SawRule is what may be cut and how.
type SawRule struct {
	Shortest       Entry[measure.Length] `json:"shortest,omitzero" in:"(0,)" example:"600 mm" jsonschema:"shortest cut unit"`
	Kerf           Entry[measure.Length] `json:"kerf,omitzero" example:"5 mm" jsonschema:"what the blade takes"`
	LeastSlice     Entry[measure.Length] `json:"least_slice,omitzero" example:"5 mm" jsonschema:"least slice that can be sawn off an end; the kerf when left out"`
	KeepFactoryEnd Entry[bool]           `json:"keep_factory_end,omitzero" example:"true" jsonschema:"every placed piece keeps one end as cast"`
	NoCuts         bool                  `json:"no_cuts,omitempty" example:"true" jsonschema:"the supplier forbids cutting"`
}

// CoverMake is the lid.
type CoverMake struct {
	Lengths     Entry[[]measure.Length]   `json:"lengths" in:"(0,)" example:"[996 mm]" jsonschema:"cover lengths that are made"`
	Gap         Entry[measure.Window]     `json:"gap" example:"4 mm in 2 mm..6 mm" jsonschema:"gap between two covers"`
	Width       Entry[measure.Length]     `json:"width,omitzero" in:"(0,)" example:"700 mm" jsonschema:"across the run"`
	Thickness   Entry[measure.Length]     `json:"thickness,omitzero" in:"(0,)" example:"80 mm" jsonschema:"overall"`
	ThickTol    Entry[measure.Length]     `json:"thickness_tolerance,omitzero" in:"[0,)" example:"2 mm" jsonschema:"by how much the thickness of a cover may be off, either way; part of how true covers come to lie"`
	Shortest    Entry[measure.Length]     `json:"shortest,omitzero" in:"(0,)" example:"300 mm" jsonschema:"shortest cut cover; its short side where it is mitred"`
	Mass        Entry[measure.LinearMass] `json:"mass,omitzero" in:"(0,)" example:"130 kg/m" jsonschema:"mass per length of run"`
	MayTurnOver Entry[bool]               `json:"may_turn_over,omitzero" example:"false" jsonschema:"may be laid upside down"`
	Rating      Entry[string]             `json:"rating,omitzero" example:"as the data sheet says" jsonschema:"load rating as the supplier declares it"`
	CutRating   Entry[bool]               `json:"cut_keeps_rating,omitzero" example:"false" jsonschema:"true only where the supplier says that cut covers keep the rating"`
	LiftedBy    Entry[string]             `json:"lifted_by,omitzero" oneof:"keys|hand|clamp|vacuum" jsonschema:"keys, hand, clamp, vacuum"`
}

// BearingMake is what a unit stands on.
type BearingMake struct {
	On        Entry[string]         `json:"on,omitzero" oneof:"bed|pads" jsonschema:"bed or pads"`
	PadAlong  Entry[measure.Length] `json:"pad_along,omitzero" in:"(0,)" example:"300 mm" jsonschema:"size of a pad along the run"`
	PadAcross Entry[measure.Length] `json:"pad_across,omitzero" in:"(0,)" example:"900 mm" jsonschema:"size of a pad across the run"`
	PadThick  Entry[measure.Length] `json:"pad_thick,omitzero" in:"(0,)" example:"100 mm" jsonschema:"thickness of a pad"`
}

// LiftingMake is how a unit is lifted.
type LiftingMake struct {
	By         Entry[string]         `json:"by,omitzero" oneof:"inserts|clamp|vacuum|hand" jsonschema:"inserts, clamp, vacuum or hand"`
	Hook       Entry[string]         `json:"hook,omitzero" example:"ring clutch, 2.5 t" jsonschema:"type of lifting hardware that fits the inserts"`
	CutLift    Entry[string]         `json:"cut_lift,omitzero" example:"no lifting of cut pieces by their inserts" jsonschema:"what the supplier says of lifting cut pieces"`
	OffCentre  Entry[measure.Length] `json:"off_centre,omitzero" example:"100 mm" jsonschema:"how far the hook may stand from the centre of gravity"`
	HandPeople Entry[int]            `json:"hand_people,omitzero" in:"[1,)" example:"2" jsonschema:"for pieces laid by hand: how many people"`
}

// Fitting is a bend, tee, cross, transition or end as cast, or made of cut units.
type Fitting struct {
	ID     string              `json:"id" rule:"id" example:"tee-1" jsonschema:"name of the fitting"`
	Kind   string              `json:"kind" oneof:"bend|tee|cross|transition|end" jsonschema:"bend, tee, cross, transition or end"`
	Title  string              `json:"title,omitempty" example:"tee 600 to 600" jsonschema:"what people call it"`
	Arms   []Arm               `json:"arms,omitempty" jsonschema:"from the node to each face"`
	Angle  measure.Angle       `json:"angle,omitempty" in:"(0,180)" example:"45°" jsonschema:"for a bend: its deflection"`
	Mass   Entry[measure.Mass] `json:"mass,omitzero" in:"(0,)" example:"1450 kg" jsonschema:"mass of the casting"`
	Lies   *OnDeck             `json:"lies,omitempty" jsonschema:"the room that it takes as it lies on a vehicle"`
	Covers []KitCover          `json:"covers,omitempty" jsonschema:"its cover kit from the drawing"`
	Fall   Entry[string]       `json:"fall,omitzero" example:"0.5 % towards the branch" jsonschema:"fall along the first arm that its drawing gives"`
	From   string              `json:"from,omitempty" ref:"document" example:"D5" jsonschema:"document id of its drawing"`
}

// Arm is one arm of a casting.
type Arm struct {
	Name   string         `json:"name,omitempty" oneof:"through|through-2|branch|branch-2|in|out" jsonschema:"through, through-2, branch, branch-2, in or out"`
	Length measure.Length `json:"length" in:"(0,)" example:"750 mm" jsonschema:"from the node to the face of this arm"`
	Supply string         `json:"supply,omitempty" ref:"supply" example:"heavy" jsonschema:"supply whose section this arm has; its own where left out"`
}

// KitCover is one cover of a fitting's kit.
type KitCover struct {
	Name  string              `json:"name" example:"C-T1" jsonschema:"what the drawing calls it"`
	Count int                 `json:"count" in:"[1,)" example:"2" jsonschema:"how many of it"`
	Mass  Entry[measure.Mass] `json:"mass,omitzero" in:"(0,)" example:"95 kg" jsonschema:"mass of one"`
	Lies  *OnDeck             `json:"lies,omitempty" jsonschema:"the room that one takes as it lies on a vehicle"`
}

// OnDeck is the room that one thing takes as it lies on a vehicle.
type OnDeck struct {
	Length Entry[measure.Length] `json:"length,omitzero" in:"(0,)" example:"1800 mm" jsonschema:"along the vehicle"`
	Width  Entry[measure.Length] `json:"width,omitzero" in:"(0,)" example:"1400 mm" jsonschema:"across it"`
	Height Entry[measure.Length] `json:"height,omitzero" in:"(0,)" example:"700 mm" jsonschema:"with what it lies on"`
}

// Whole tells whether all of it is on file.
func (d *OnDeck) Whole() bool {
	return d != nil && d.Length.Known && d.Width.Known && d.Height.Known
}

// LoosePart is one small thing that the supplier's drawing asks for.
type LoosePart struct {
	Name   string `json:"name" example:"joint seal" jsonschema:"what it is called"`
	Per    string `json:"per" oneof:"unit|cover|joint|end|metre|pad|cut-face|bend" jsonschema:"unit, cover, joint, end, metre, pad, cut-face or bend"`
	Number string `json:"number" rule:"decimal" example:"2" jsonschema:"how many per one, a decimal"`
	Unit   string `json:"unit,omitempty" oneof:"piece|m|ft|kg|lb|l" jsonschema:"piece (default), m, ft, kg, lb, l"`
	Pack   int    `json:"pack,omitempty" in:"[1,)" example:"50" jsonschema:"how many come in one pack: orders are rounded up to it"`

	PackMass Entry[measure.Mass] `json:"pack_mass,omitzero" in:"(0,)" example:"18 kg" jsonschema:"mass of one pack"`
	Lies     *OnDeck             `json:"lies,omitempty" jsonschema:"the room that one pack takes as it lies on a vehicle"`

	From string `json:"from,omitempty" ref:"document" example:"D1" jsonschema:"document id it is listed in"`
}

// StackingMake is how things arrive.
type StackingMake struct {
	UnitsPerBundle  Entry[int] `json:"units_per_bundle,omitzero" in:"[1,)" example:"2" jsonschema:"units in one bundle"`
	CoversPerPallet Entry[int] `json:"covers_per_pallet,omitzero" in:"[1,)" example:"20" jsonschema:"covers on one pallet"`
	PadsPerPallet   Entry[int] `json:"pads_per_pallet,omitzero" in:"[1,)" example:"24" jsonschema:"pads on one pallet"`

	Units  *BundleMake `json:"units,omitempty" jsonschema:"how a bundle of units is put together"`
	Covers *BundleMake `json:"covers,omitempty" jsonschema:"how a pallet of covers is put together"`
}
