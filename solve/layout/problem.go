// Package layout says which unit and which cover goes where along one leg, exactly and with proof.
//
// A leg runs from 0 to its length along the laying axis. Units follow each other with a joint between; every cover lies
// on one unit. What is best is compared in order: fewest units, then fewest cut units, then fewest cut covers, then the
// ties stated at Solve. The way through the package:
//
//	problem.go, solution.go, faults.go  what is asked, what is answered, what is wrong with the asking
//	solve.go                            the order of work, and the order of ties
//	stretch.go                          how far a unit advances on a curve or a slope (the one place that rounds)
//	cover_menu.go, covers.go            which lengths covers can fill; the covers of one unit
//	menu.go                             which lengths a unit may have and what each costs
//	ground.go, rules.go                 where a joint may lie and what holds there
//	sweep.go, cost.go, interval.go      the exact interval programme, from the end of the leg to its start
//	certificate.go, site.go             the cost to go of every start: the proof, and the next best piece on site
//	behind.go                           what is left of a leg behind what lies, as a leg of its own
//	stay.go                             the rest of a leg with as few changes of what was planned as can be
//	first.go, walk.go, build.go         from the cost to go to one sequence, and to its units
//	corridor.go, clearance.go, slide.go ties: joints kept away from zones, closers where they can be reached
//	chain.go, even.go                   places for a sequence, its gaps spread evenly
//	freedom.go                          how far cut lengths may move without costing anything
//	why.go                              why more than one closer is cut
//	reason.go, span.go, mitre.go        why a leg is impossible: its ends, sums of lengths, stretches without a joint, conflicts
//	relax.go                            what would make it possible
//	check*.go                           the separate checker, which shares nothing with the rest but the types
package layout

import (
	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// Problem is one leg. Chainages run along the laying axis from the outer face of the first unit (0) to that of the last.
type Problem struct {
	Length   measure.Length
	Supplies []Supply // [0] is laid wherever no Demand asks for another

	Start, End End

	Stretches []Stretch        // contiguous from 0 to Length; none: straight and level
	Zones     []Zone           // open intervals that no joint may meet; touching an edge is allowed
	NoCut     []Zone           // open intervals that no cut unit may meet (and so no cut cover)
	Demands   []Demand         // what must lie under units of another supply
	Joints    []ForcedJoint    // where a joint must be
	First     []measure.Length // lengths of the first units, where they are given

	Hold   bool           // both ends are fixed: mark one closer to be cut from a measurement
	Drift  Drift          // optional: turns clearance to zones into standard deviations
	Clear  measure.Length // optional: clearance to zones that is enough; 0: as much as can be had for nothing
	Prefer Prefer         // optional: wishes among layouts that cost the same

	Show  *measure.Format // how lengths are written in Why, Try and Held; nil: exact millimetres
	Words wording.Speech  // whose words they use
}

// Supply is one kind of unit with its covers. The zero value is not usable: it has no stock.
type Supply struct {
	Name           string
	Stocks         []Stock
	Gap            measure.Window // the joint after a unit of this supply
	ShortestCut    measure.Length // of a cut unit; of a mitred one, on its shorter side
	Kerf           measure.Length // what the saw takes away
	LeastSlice     measure.Length // the thinnest slice that the saw can take off an end; 0 in published sets
	KeepFactoryEnd bool           // every placed piece keeps one factory end
	MayTurn        bool           // a unit may be turned end for end
	Width          measure.Length // outer width, for mitres
	Covers         Covers         // no Lengths: the supply has no covers
}

// Stock is one length that the supplier makes, and where it must not be sawn, by station from its named end A.
type Stock struct {
	Length measure.Length
	NoCut  []Span // open; neither the cut face nor the kerf may meet one
}

// Span is an open interval of stations.
type Span struct{ From, To measure.Length }

// Covers is what lies on the units of a supply. n covers with n gaps fill a unit: half a gap is left at each end of it.
type Covers struct {
	Lengths     []measure.Length
	Gap         measure.Window
	ShortestCut measure.Length // of a cut cover; of a mitred one, on its shorter side
	LeastSlice  measure.Length // the thinnest slice that can be sawn off a cover
	Width       measure.Length // for mitres; 0: not on file, and mitred units are laid without covers (to be said as not checked)
}

// End is how a leg ends. The zero value is a square, open end.
type End struct {
	Mitred bool
	Tan    float64        // s of the cut line x = a + s·y, y to the left (layout.md §5); not 0 if Mitred
	Seam   measure.Length // width of the seam between the two mitred covers, square to it; 0: the supply's nominal cover gap
	Fixed  bool           // a bend, tee, entry or wall: no closer is wanted beside it. A mitred end always is
}

// Stretch is a part of the axis with one curvature and one slope. A piece belongs to the stretch that its start lies in,
// a joint to the one that the start of the next unit lies in.
type Stretch struct {
	From, To  measure.Length
	Radius    measure.Length // 0: straight; without a sign
	Rise, Run measure.Length // slope of the unit; Run 0: level. Chainage is horizontal, units lie on the slope
	MaxUnit   measure.Length // longest unit that may lie on it, wholly or in part; 0: no limit
	Gap       measure.Window // what the joint's budget leaves; all 0: the supply's own
}

// Zone is an interval and the reason for it, in words that fit into a sentence ("crossing 1").
type Zone struct {
	From, To measure.Length
	Why      string
}

// Demand asks that [From, To] lies wholly under units of Supplies[Supply]: the first of them starts at or before From, the
// last ends at or after To, only units of that supply lie between, and no joint has From or To inside it. Units of a supply
// other than 0 lie nowhere else but where they meet or touch one of its demands. Demands do not overlap.
type Demand struct {
	From, To measure.Length
	Supply   int
	Why      string
}

// ForcedJoint asks for a unit that starts within Tolerance of At.
type ForcedJoint struct {
	At, Tolerance measure.Length
	Why           string
}

// Drift is how far joints wander from the plan: after n units the standard deviation is √(n·Scatter² + n²·Bias²)
// (layout.md §8). The zero value says that nothing is known.
type Drift struct{ Scatter, Bias measure.Length }

// Prefer holds wishes that never cost a unit, a cut or a cut cover.
type Prefer struct {
	Cuts []measure.Length // cut lengths wished for, the dearest first
	Step measure.Length   // cut lengths that are free are a multiple of it, where one lies in their range; 0: as they come
}
