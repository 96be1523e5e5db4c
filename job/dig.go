package job

import "trenchwright/base/measure"

// Dig says how the trench is dug and filled again. Soil class, slopes and supports are a competent person's to give.
type Dig struct {
	From         string                `json:"from,omitempty" ref:"document" example:"D3" jsonschema:"document id these figures come from unless one says otherwise"`
	Jurisdiction string                `json:"jurisdiction,omitempty" example:"osha" jsonschema:"whose excavation rules are looked up; trenchwright help excavation lists them"`
	Soil         Entry[string]         `json:"soil,omitzero" example:"B" jsonschema:"soil class in that rule's own words, as a competent person classed it"`
	Sides        string                `json:"sides,omitempty" oneof:"sloped|benched|supported|vertical" jsonschema:"sloped, benched, supported or vertical"`
	Slope        Entry[measure.Grade]  `json:"slope,omitzero" example:"1:1" jsonschema:"of the sides, rise to run: 1:1.5 is one up and one and a half out"`
	Upright      Entry[measure.Length] `json:"upright,omitzero" example:"600 mm" jsonschema:"upright part of the sides above the bottom, below the slope or the benches"`
	Bench        *Bench                `json:"bench,omitempty" jsonschema:"one step of benched sides"`
	Room         Entry[measure.Length] `json:"room,omitzero" example:"450 mm" jsonschema:"working room between the unit and the side, on each side, as the compactor needs it"`
	Compactor    string                `json:"compactor,omitempty" example:"plate, 400 mm wide" jsonschema:"what compacts beside the unit, in words"`
	OverDig      Entry[measure.Length] `json:"over_dig,omitzero" example:"50 mm" jsonschema:"dug beyond the lines on each side, and filled again"`
	Bed          Entry[measure.Length] `json:"bed,omitzero" example:"150 mm" jsonschema:"thickness of the bed below the pads, or below the unit where there are none"`
	Topsoil      Entry[measure.Length] `json:"topsoil,omitzero" example:"200 mm" jsonschema:"topsoil that is stripped and kept apart"`
	Layer        Entry[measure.Length] `json:"layer,omitzero" in:"(0,)" example:"200 mm" jsonschema:"thickness of one compacted layer of fill"`
	Method       *Method               `json:"method,omitempty" jsonschema:"how the fill is compacted, in the classes of a published method"`
	Fabric       *Fabric               `json:"fabric,omitempty" jsonschema:"separation fabric on the formation and up the sides"`
	Bulking      []Bulking             `json:"bulking,omitempty" jsonschema:"how dug ground grows loose and shrinks compacted"`
	Reuse        Entry[bool]           `json:"reuse,omitzero" example:"true" jsonschema:"may what was dug be filled in again"`
	Load         Entry[string]         `json:"load,omitzero" rule:"load" example:"8 m3" jsonschema:"what one vehicle carts: loose cubic metres (m3, or a bare number), cubic yards (yd3), or a mass (12 t, 13 short tons), which needs the loose density of what is carted"`
	Strip        WorkStrip             `json:"strip,omitzero" jsonschema:"what stands beside the trench, and how much room there is"`
	Influence    Entry[measure.Grade]  `json:"influence,omitzero" example:"1:1" jsonschema:"line down from the foot of what is set, rise to run, that a deeper dig may not cut"`
	Surcharge    Entry[measure.Grade]  `json:"surcharge,omitzero" example:"1:1" jsonschema:"line up from the foot of the dig, rise to run: what stands nearer than where it meets the ground presses on the side"`
	Tolerance    Entry[measure.Length] `json:"tolerance,omitzero" example:"500 mm" jsonschema:"tolerance zone round a recorded service, each way"`
	Stretches    []DigStretch          `json:"stretches,omitempty" jsonschema:"where a leg or part of it is dug otherwise: soil, sides, water, documents"`
	Sections     DigSections           `json:"sections,omitzero" jsonschema:"where cross sections are drawn besides those that the run asks for by itself"`

	Hours       Entry[int]            `json:"hours,omitzero" in:"[1,)" example:"24" jsonschema:"how long the dig stays open at any place, in hours"`
	Signs       Entry[bool]           `json:"signs,omitzero" example:"false" jsonschema:"did the competent person find a sign of a cave-in"`
	Wet         Entry[bool]           `json:"wet,omitzero" example:"false" jsonschema:"does water stand in the dig or seep from its sides"`
	Oxygen      Entry[string]         `json:"oxygen,omitzero" rule:"percent" example:"20.9" jsonschema:"in the air of the dig as tested, per cent"`
	Beside      Entry[measure.Grade]  `json:"beside,omitzero" example:"1:5" jsonschema:"steepest fall of the ground away from the edge of the dig, rise to run"`
	Support     *SideDocument         `json:"support,omitempty" jsonschema:"document of what supports the sides: its maker's data or an engineer's design"`
	Engineer    *SideDocument         `json:"engineer,omitempty" jsonschema:"document of a registered engineer's design or advice for this dig; nothing else answers a hard stop"`
	Shield      *Shield               `json:"shield,omitempty" jsonschema:"box that people work in"`
	Ladders     []Ladder              `json:"ladders,omitempty" jsonschema:"ways out of the dig: ladders, ramps, stairs"`
	LadderAbove Entry[measure.Length] `json:"ladder_above,omitzero" example:"1 m" jsonschema:"how far ladders stand out above the edge"`
	Walkways    []Walkway             `json:"walkways,omitempty" jsonschema:"where people cross over the dig"`
}

// SideDocument answers for the sides of the dig. Its content is not judged.
type SideDocument struct {
	Document string         `json:"document" ref:"document" example:"D3" jsonschema:"document id"`
	By       string         `json:"by" example:"engineer for temporary works" jsonschema:"who designed it"`
	Until    measure.Length `json:"until,omitempty" in:"(0,)" example:"6.5 m" jsonschema:"depth of the dig down to which it answers; left out: it answers no depth"`
}

// Shield is a box that people work in.
type Shield struct {
	Above measure.Length `json:"above" example:"500 mm" jsonschema:"how far it stands out above the upright lower part of the sides"`
	Below measure.Length `json:"below" example:"300 mm" jsonschema:"how far is dug below its bottom"`
}

// Ladder is a way out of the dig.
type Ladder struct {
	Leg string         `json:"leg" ref:"leg" example:"A" jsonschema:"leg that it is on"`
	At  measure.Length `json:"at" in:"(,)" example:"12 m" jsonschema:"chainage on that leg"`
}

// Walkway is a way over the dig.
type Walkway struct {
	Leg       string         `json:"leg" ref:"leg" example:"A" jsonschema:"leg that it is on"`
	At        measure.Length `json:"at" in:"(,)" example:"31 m" jsonschema:"chainage on that leg"`
	Guardrail Entry[bool]    `json:"guardrail,omitzero" example:"true" jsonschema:"has it guardrails"`
}

// Method is a compactor and a fill in the classes of the method whose table of passes is on file; kilograms are of a drum
// per metre, of a plate per square metre.
type Method struct {
	Class    string `json:"class" oneof:"vibrotamper-25|vibrotamper-50|single-drum-600|single-drum-1000|single-drum-2000|single-drum-3500|twin-drum-600|twin-drum-1000|twin-drum-2000|plate-1400|plate-1800" jsonschema:"class of the compactor by its least mass: vibrotamper of 25 kg or 50 kg, single drum or twin drum in kg per metre, plate in kg per square metre"`
	Fill     string `json:"fill" oneof:"granular|cohesive" jsonschema:"granular or cohesive"`
	Cohesive bool   `json:"wholly_cohesive,omitempty" example:"true" jsonschema:"the fill is nothing but cohesive"`
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
	Of        string        `json:"of" oneof:"soil|rock|topsoil" jsonschema:"soil, rock or topsoil"`
	Loose     string        `json:"loose" rule:"decimal" example:"1.25" jsonschema:"cubic metres loose from one in the ground"`
	Compacted string        `json:"compacted" rule:"decimal" example:"0.9" jsonschema:"cubic metres compacted from one in the ground"`
	From      string        `json:"from" ref:"document" example:"D3" jsonschema:"document id that the two come from"`
	Density   Entry[string] `json:"loose_density,omitzero" rule:"density" example:"1600 kg/m3" jsonschema:"mass of it in one loose cubic metre or yard, for loads by mass: 1600 kg/m3, 2700 lb/yd3; from its own document where that is another"`
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
