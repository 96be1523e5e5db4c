package route

import (
	"math"

	"trenchwright/base/measure"
)

// Element is one straight or one arc of a Line. The zero value has no length.
type Element struct {
	From, To Point
	Centre   Point   // of an arc
	Radius   float64 // grid metres, right turn positive; 0: straight
	Sweep    float64 // radians that an arc turns through, in (0, 2π); 0: straight

	Start  measure.Length // chainage of From, on the ground
	Length measure.Length // on the ground; the starts and lengths of a Line add up exactly
}

// Straight is the straight from one point to another.
func Straight(from, to Point) Element { return Element{From: from, To: to} }

// Arc is the arc about centre from one point to another, turning right or left.
func Arc(from, to, centre Point, right bool) Element {
	in, out := from.Minus(centre), to.Minus(centre)
	e := Element{From: from, To: to, Centre: centre, Radius: -in.Length(), Sweep: -in.turn(out)}
	if right {
		e.Radius, e.Sweep = -e.Radius, -e.Sweep
	}
	if e.Sweep <= 0 {
		e.Sweep += 2 * math.Pi
	}
	return e
}

// ArcFrom is the arc that leaves from in the direction along and ends at to. Where it would turn so little that its
// radius passes Reach it is the straight between them.
func ArcFrom(from Point, along Vector, to Point) Element {
	chord := to.Minus(from)
	half := along.turn(chord)
	r := chord.Length() / (2 * math.Sin(half))
	if !(math.Abs(r) <= Reach) {
		return Straight(from, to)
	}
	return Element{From: from, To: to, Centre: from.Plus(along.Unit().Right().Times(r)), Radius: r, Sweep: 2 * math.Abs(half)}
}

// gridLength is the length of e in grid metres.
func (e Element) gridLength() float64 {
	if e.Radius == 0 {
		return e.From.Distance(e.To)
	}
	return math.Abs(e.Radius) * e.Sweep
}

// End is the chainage of To.
func (e Element) End() measure.Length { return e.Start + e.Length }

// at is the pose s grid metres from the start of e, 0 ≤ s ≤ gridLength.
func (e Element) at(s float64) Pose {
	if e.Radius == 0 {
		along := e.To.Minus(e.From).Unit()
		return Pose{e.From.Plus(along.Times(s)), along}
	}
	arm := e.From.Minus(e.Centre).Turned(s / e.Radius)
	return Pose{e.Centre.Plus(arm), e.tangent(arm)}
}

// tangent is the direction of an arc where the radius to it is arm.
func (e Element) tangent(arm Vector) Vector {
	if e.Radius < 0 {
		arm = arm.Back()
	}
	return arm.Right().Unit()
}

// first and last are the poses at the two ends of e; the last point is To itself.
func (e Element) first() Pose { return Pose{e.From, e.at(0).Along} }
func (e Element) last() Pose  { return Pose{e.To, e.at(e.gridLength()).Along} }

// reversed is e run the other way.
func (e Element) reversed() Element {
	e.From, e.To, e.Radius = e.To, e.From, -e.Radius
	return e
}
