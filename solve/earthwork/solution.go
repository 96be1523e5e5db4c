package earthwork

import (
	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// Solution is the dig in figures.
type Solution struct {
	Legs     []LegDig
	Total    Quantities
	Balances []Balance
	Fabric   *FabricOrder // nil: no fabric asked for
	Strip    []StripNeed  // what the work needs beside the dig, by leg and side, where it is most
	Services []ServiceMet // how each recorded service lies to the dig, in the order of the legs and of their services
	Findings finding.List
}

// ServiceMet is a recorded service where the dig comes upon it.
type ServiceMet struct {
	Leg, Service int             // their numbers in the problem
	Top          *measure.Length // level of its top; nil: unknown
	Bottom       measure.Length  // level of the lowest of the dig there
	Finding      finding.Finding // which says how it lies; its ID is the class
}

// LegDig is one leg.
type LegDig struct {
	Name    string
	Spans   []Quantities // what belongs to a node or a free end counts with the span beside it
	Total   Quantities
	Approx  Approximations
	Running []Running // at the start and at the end of every span

	Deepest DeepestCut
	Deep    []DeepestCut // by span
}

// Quantities are volumes of a stretch of run. Volumes dug are in the ground (bank); what is filled is in place.
type Quantities struct {
	Run float64 // m along the axis, in plan

	Topsoil, Soil, Rock measure.Volume // dug
	Stone               measure.Volume // bed, less what pads and pipe take from it
	Pads, Pipe, Unit    measure.Volume // displaced; of the unit its whole outer body below the fill
	Fill, TopsoilBack   measure.Volume
	Layers              []LayerFill    // from the underside of the unit up; empty where no thickness is on file
	Raised, Lowered     measure.Volume // between the ground as it is and as it will be, over the width of the dig

	Width float64 // m² in plan that are opened
	Faces float64 // m² of upright sides
}

// LayerFill is one layer of fill, left and right of the axis.
type LayerFill struct{ Left, Right measure.Volume }

// Dug is everything that is dug, in the ground.
func (q Quantities) Dug() measure.Volume { return q.Topsoil + q.Soil + q.Rock }

// Filled is everything that is put into the dig again, units too.
func (q Quantities) Filled() measure.Volume {
	return q.Stone + q.Pads + q.Pipe + q.Unit + q.Fill + q.TopsoilBack
}

func (q *Quantities) add(o Quantities) {
	q.Run += o.Run
	for _, v := range [...]struct {
		to  *measure.Volume
		add measure.Volume
	}{{&q.Topsoil, o.Topsoil}, {&q.Soil, o.Soil}, {&q.Rock, o.Rock}, {&q.Stone, o.Stone}, {&q.Pads, o.Pads}, {&q.Pipe, o.Pipe},
		{&q.Unit, o.Unit}, {&q.Fill, o.Fill}, {&q.TopsoilBack, o.TopsoilBack}, {&q.Raised, o.Raised}, {&q.Lowered, o.Lowered}} {
		*v.to += v.add
	}
	for len(q.Layers) < len(o.Layers) {
		q.Layers = append(q.Layers, LayerFill{})
	}
	for k, l := range o.Layers {
		q.Layers[k].Left += l.Left
		q.Layers[k].Right += l.Right
	}
	q.Width += o.Width
	q.Faces += o.Faces
}

// Approximations are what the trade's two formulas make of what is dug along a leg, from sections at the ends (and the
// middle) of every span, beside the exact figure for the same length: without ends, and without the difference that a bend makes.
type Approximations struct{ Exact, EndArea, Prismoidal measure.Volume }

// Running is a point of the curve of volumes along a leg.
type Running struct {
	At        measure.Length  // chainage
	Dug, Fill measure.Volume  // since the leg's start: dug, in the ground; fill and topsoil, in place
	Mass      *measure.Volume // soil dug less soil that the fill needs, both in the ground; nil without a factor for soil
}

// DeepestCut is where a leg or a span is dug deepest.
type DeepestCut struct {
	At    measure.Length
	Depth measure.Length // from the higher edge of the dig down to its bottom
}
