// Package earthwork is the dig: its section at any chainage, its volumes by exact integration along the run, what goes back
// and what leaves, the strip of land beside it, and what it meets in the ground.
//
// The map of the package:
//
//	asked      earthwork.go Problem, Leg, Span, Section · ground.go Ground, and one of a triangulated surface · faults.go
//	answered   solution.go Solution, Quantities · solve.go Solve, Between · write.go how things are said
//	section    template.go the lines of the dig · shape.go all lines at one chainage · column.go cut into columns · pair.go lines that cross
//	           rates.go what a metre of run holds · sheet.go SectionAt, sections.go Sections: polygons for cross sections
//	along      axis.go chainage to plan · nodes.go where legs meet, counted once · walk.go spans · ends.go bends, closed ends
//	           pieces.go events, exact on straights · cells.go a piece, column by column · arc.go curves, by halving
//	afterwards balance.go bank, loose and compacted · fabric.go · strip.go the working strip · meets.go services, water and
//	           steps beside what is set · formulas.go the trade's approximations
//	checked    check.go apart: that everything adds up
//
// Lengths and levels of record come in as measure.Length. Inside, chainages, offsets (right positive) and levels are float64
// metres on the ground. Volumes are float64 m³ and are rounded where they are shown.
//
// Exact means: on a straight every corner of the section moves on a straight line between two events, all events are found,
// and between them areas are quadratic in the chainage, so that two sections give the integral but for the rounding of
// float64. On a curve the section's centroid corrects the length (Pappus), and halving stops at a stated tolerance.
//
// A figure that is nil is not on file: what needs it is NOT CHECKED, never given a value here.
package earthwork

import (
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/place/route"
)

// Problem is what is dug, into what, and what is known of it.
type Problem struct {
	Legs  []Leg
	Nodes []Node

	Ground   Ground // as it is; needed
	Finished Ground // as it will be; nil: the fill ends at Ground
	Rock     Ground // its top; nil: none on file, and nothing is counted as rock
	Water    Ground // its level; nil: none on file

	Topsoil *measure.Length // stripped from the whole width of the dig and put back on top of the fill; nil: none on file
	Layer   *measure.Length // thickness of one compacted layer of fill, from the underside of the unit up
	Fabric  *Fabric
	Factors []Factor
	Reuse   *bool    // may dug soil be filled in again
	Load    *float64 // loose m³ in one load
	Weighed bool     // loads are given by mass instead: each factor has its own
	Strip   Strip

	Influence *measure.Grade  // rise to run of the line down from the foot of what is set, that a deeper dig may not cut
	Surcharge *measure.Grade  // rise to run of the line up from the foot of the dig; what stands nearer than where it meets the ground presses on the side
	Tolerance *measure.Length // zone round a recorded service, each way

	Words wording.Speech
}

// Leg is one leg of the run. Its spans follow each other without a gap, by rising chainage.
type Leg struct {
	Name       string
	Line       route.Line
	Spans      []Span
	Start, End End // used where that end lies at no node
	Pads       []Pad
	Services   []Service
}

// End is an end of a leg that lies at no node: the dig goes on for some working room.
type End struct {
	Beyond measure.Length // dug past the last unit
	Sloped bool           // closed by the same slope or benches as the sides; else upright
}

// Span is a part of a leg between two chainages. Its levels are straight between its ends; two spans that meet need not
// agree (a step).
type Span struct {
	From, To   measure.Length
	Start, End Levels
	Cross      measure.Grade // fall of unit, bed and formation to the right, looking along the leg
	Section    Section
}

// Levels are the levels of record on the centreline.
type Levels struct {
	Top       measure.Length  // of the cover
	Underside measure.Length  // of the unit
	Formation measure.Length  // bottom of the dig
	Drain     *measure.Length // underside of the pipe in the bed; nil: no pipe here
}

// Section is what sets the width and the sides of the dig.
type Section struct {
	Unit    measure.Length  // outer width
	Room    *measure.Length // between unit and side, on each side, as the compactor needs it
	OverDig measure.Length  // dug beyond that on each side, and filled again
	Sides   Sides
	Pipe    *Pipe // pipe in the bed; used where the levels have a drain
}

// Form is how the sides of the dig stand. The zero value is none on file.
type Form string

// The forms that a job may have.
const (
	Vertical  Form = "vertical"
	Supported Form = "supported"
	Sloped    Form = "sloped"
	Benched   Form = "benched"
)

// Sides are the sides of the dig, both alike.
type Sides struct {
	Form  Form
	Plumb measure.Length // upright part above the formation, below slope or benches
	Slope *measure.Grade // rise to run
	Bench *Bench
}

// Bench is one step: up by Height, then out by Width.
type Bench struct{ Height, Width measure.Length }

// Pipe is a pipe in the bed.
type Pipe struct {
	Diameter measure.Length  // outside
	Bedding  measure.Length  // stone below the pipe
	Trench   *measure.Length // width of its own trench, where that lies below the formation
	Offset   measure.Length  // from the centreline, right positive
}

// Pad lies under a joint, in the bed.
type Pad struct {
	At                   measure.Length // chainage of its middle
	Along, Across, Thick measure.Length
}

// Service is something buried that a survey recorded where it crosses the leg.
type Service struct {
	ID, Name string
	At       measure.Length  // chainage of its middle
	Width    measure.Length  // across it, taken as its height too
	Top      *measure.Length // level of its top, by record
	Depth    *measure.Length // or its depth below the ground as it is; both nil: depth unknown
	Quality  string          // how its position is known
}

// Fabric is the separation fabric on the formation and up the sides.
type Fabric struct {
	Lap, Sheet measure.Length // overlap of two sheets, length of one along the run
	Up         measure.Length // up each side, along it
}

// Material is what a Factor speaks of.
type Material string

// The materials that are dug.
const (
	Soil    Material = "soil"
	Rock    Material = "rock"
	Topsoil Material = "topsoil"
)

// Factor says what becomes of one cubic metre in the ground, and who says so.
type Factor struct {
	Of               Material
	Loose, Compacted float64
	Source           string
	Load             *float64 // loose m³ of it in one load, where loads are given by mass; nil: no density on file
}
