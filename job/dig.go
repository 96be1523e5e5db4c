package job

import "trenchwright/base/measure"

// Dig says how the trench is dug and filled again. Soil class, slopes and supports are a competent person's to give.
type Dig struct {
	From         string                `json:"from,omitempty" ref:"document" example:"D3" jsonschema:"document id these figures come from unless one says otherwise"`
	Jurisdiction string                `json:"jurisdiction,omitempty" example:"osha" jsonschema:"whose excavation rules are looked up; trenchwright help excavation lists them"`
	Soil         Entry[string]         `json:"soil,omitzero" example:"B" jsonschema:"soil class in that rule's own words, as a competent person classed it"`
	Sides        string                `json:"sides,omitempty" oneof:"sloped|benched|supported|vertical" jsonschema:"sloped, benched, supported or vertical"`
	Slope        Entry[measure.Grade]  `json:"slope,omitzero" example:"1:1" jsonschema:"of the sides, rise to run: 1:1.5 is one up and one and a half out"`
	Bench        *Bench                `json:"bench,omitempty" jsonschema:"one step of benched sides"`
	Room         Entry[measure.Length] `json:"room,omitzero" example:"450 mm" jsonschema:"working room between the unit and the side, on each side, as the compactor needs it"`
	Compactor    string                `json:"compactor,omitempty" example:"plate, 400 mm wide" jsonschema:"what compacts beside the unit, in words"`
	OverDig      Entry[measure.Length] `json:"over_dig,omitzero" example:"50 mm" jsonschema:"dug beyond the lines on each side, and filled again"`
	Bed          Entry[measure.Length] `json:"bed,omitzero" example:"150 mm" jsonschema:"thickness of the bed below the pads, or below the unit where there are none"`
	Topsoil      Entry[measure.Length] `json:"topsoil,omitzero" example:"200 mm" jsonschema:"topsoil that is stripped and kept apart"`
	Layer        Entry[measure.Length] `json:"layer,omitzero" in:"(0,)" example:"200 mm" jsonschema:"thickness of one compacted layer of fill"`
	Fabric       *Fabric               `json:"fabric,omitempty" jsonschema:"separation fabric on the formation and up the sides"`
	Bulking      []Bulking             `json:"bulking,omitempty" jsonschema:"how dug ground grows loose and shrinks compacted"`
	Reuse        Entry[bool]           `json:"reuse,omitzero" example:"true" jsonschema:"may what was dug be filled in again"`
	Load         Entry[string]         `json:"load,omitzero" rule:"decimal" example:"8" jsonschema:"loose cubic metres in one load"`
	Strip        WorkStrip             `json:"strip,omitzero" jsonschema:"what stands beside the trench, and how much room there is"`
	Influence    Entry[measure.Grade]  `json:"influence,omitzero" example:"1:1" jsonschema:"line down from the foot of what is set, rise to run, that a deeper dig may not cut"`
	Tolerance    Entry[measure.Length] `json:"tolerance,omitzero" example:"500 mm" jsonschema:"tolerance zone round a recorded service, each way"`
	Sections     DigSections           `json:"sections,omitzero" jsonschema:"where cross sections are drawn besides those that the run asks for by itself"`
}

// Bench is one step of a benched side.
type Bench struct {
	Height measure.Length `json:"height" in:"(0,)" example:"1200 mm" jsonschema:"of a step"`
	Width  measure.Length `json:"width" in:"(0,)" example:"1200 mm" jsonschema:"of a step"`
}

// Fabric is the separation fabric.
type Fabric struct {
	Lap   measure.Length `json:"lap" example:"500 mm" jsonschema:"overlap of two sheets"`
	Sheet measure.Length `json:"sheet" in:"(0,)" example:"50 m" jsonschema:"length of one sheet along the run"`
	Up    measure.Length `json:"up,omitempty" example:"300 mm" jsonschema:"how far it goes up each side"`
}

// Bulking is what becomes of one cubic metre in the ground.
type Bulking struct {
	Of        string `json:"of" oneof:"soil|rock|topsoil" jsonschema:"soil, rock or topsoil"`
	Loose     string `json:"loose" rule:"decimal" example:"1.25" jsonschema:"cubic metres loose from one in the ground"`
	Compacted string `json:"compacted" rule:"decimal" example:"0.9" jsonschema:"cubic metres compacted from one in the ground"`
	From      string `json:"from" ref:"document" example:"D3" jsonschema:"document id that the two come from"`
}

// WorkStrip is the strip of land that the work may use, and who uses which side.
type WorkStrip struct {
	Left    Entry[measure.Length] `json:"left,omitzero" example:"6 m" jsonschema:"land that may be used to the left of the centreline"`
	Right   Entry[measure.Length] `json:"right,omitzero" example:"9 m" jsonschema:"land that may be used to the right of the centreline"`
	Setback Entry[measure.Length] `json:"setback,omitzero" example:"1 m" jsonschema:"free edge of the dig before spoil, plant or stacks; the jurisdiction may ask for more"`
	Heap    Entry[measure.Grade]  `json:"heap,omitzero" example:"1:1.5" jsonschema:"slope of a spoil heap, rise to run"`
	Uses    []StripUse            `json:"uses,omitempty" jsonschema:"what stands on which side, from the edge outward"`
}

// StripUse is one thing that stands beside the trench.
type StripUse struct {
	What  string         `json:"what" oneof:"spoil|plant|pegs|units" jsonschema:"spoil, plant, pegs or units"`
	Side  string         `json:"side" oneof:"left|right" jsonschema:"left or right, looking along the leg"`
	Width measure.Length `json:"width,omitempty" example:"3 m" jsonschema:"room that it takes; of spoil it is computed from the volume"`
}
