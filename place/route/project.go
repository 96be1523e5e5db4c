package route

import (
	"cmp"
	"math"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
)

// FootKind says how a foot lies on its line.
type FootKind string

// The kinds of foot.
const (
	OnLine    FootKind = "on"     // square to the line
	AtVertex  FootKind = "vertex" // a kink, seen from outside its wedge: no offset can be stated
	BeyondEnd FootKind = "end"    // an end of the line, with the point before or past it: no offset can be stated
	RoundArc  FootKind = "centre" // the point is the centre of an arc, and every place on the arc is as near
)

// nearEnough is how near to a joint a foot counts as lying on it, in metres: a few steps of float64 at Reach.
const nearEnough = 1e-8

// Foot is a place on a line from which a point is nearer than from the places beside it.
type Foot struct {
	Chainage measure.Length
	Offset   measure.Length // right positive; 0 unless Kind is OnLine or RoundArc
	Distance measure.Length
	Kind     FootKind
}

// Project finds every foot of p on the line, nearest first, then by chainage. A point on the inside of a corner has two
// (published.md 3.16), a point beside a winding line more. All lengths are ground.
func (l Line) Project(p Point) []Foot {
	if !p.Usable() || len(l.elements) == 0 {
		return nil
	}
	var out []Foot
	for i, e := range l.elements {
		if s, offset, kind, ok := e.foot(p); ok && l.least(i, s, p) {
			out = append(out, Foot{l.along(e, s), l.ground(offset), l.ground(offset).Abs(), kind})
		}
	}
	out = append(out, l.corners(p)...)
	sorting.By(out, func(a, b Foot) int {
		return cmp.Or(cmp.Compare(a.Distance, b.Distance), cmp.Compare(a.Chainage, b.Chainage), cmp.Compare(a.Kind, b.Kind))
	})
	return slices.CompactFunc(out, func(a, b Foot) bool {
		const near = 25 * measure.Nanometre // what nearEnough leaves on both sides of a joint
		return (a.Chainage-b.Chainage).Abs() <= near && (a.Distance-b.Distance).Abs() <= near
	})
}

// Nearest is the nearest foot of p and every other that is further by no more than within. More than one: the point does
// not say which chainage it belongs to, and somebody has to.
func (l Line) Nearest(p Point, within measure.Length) []Foot {
	feet := l.Project(p)
	n := 0
	for n < len(feet) && feet[n].Distance-feet[0].Distance <= within {
		n++
	}
	return feet[:n]
}

// along is the chainage s grid metres into e, held within e.
func (l Line) along(e Element, s float64) measure.Length {
	return min(max(e.Start+l.ground(s), e.Start), e.End())
}

// foot is where p is square to e: s grid metres from its start, offset grid metres to the right.
func (e Element) foot(p Point) (s, offset float64, kind FootKind, ok bool) {
	length := e.gridLength()
	if e.Radius == 0 {
		along, away := e.To.Minus(e.From).Unit(), p.Minus(e.From)
		s = away.Dot(along)
		return clamp(s, length), along.cross(away), OnLine, s >= -nearEnough && s <= length+nearEnough
	}
	r, arm := math.Abs(e.Radius), p.Minus(e.Centre)
	if arm.Length() <= nearEnough {
		return length / 2, e.Radius, RoundArc, true
	}
	turn := float64(math.Copysign(1, e.Radius) * e.From.Minus(e.Centre).turn(arm))
	if float64(turn*r) < -nearEnough {
		turn += 2 * math.Pi
	}
	s = float64(turn * r)
	return clamp(s, length), math.Copysign(r-arm.Length(), float64(e.Radius*(r-arm.Length()))), OnLine, s <= length+nearEnough
}

func clamp(s, length float64) float64 { return min(max(s, 0), length) }

// least tells whether a foot s into element i is a least distance also where it lies on a joint: the neighbour must not
// come nearer to p.
func (l Line) least(i int, s float64, p Point) bool {
	e := l.elements[i]
	if s <= nearEnough && i > 0 {
		in := l.elements[i-1].last()
		return p.Minus(in.At).Dot(in.Along) >= -nearEnough
	}
	if s >= e.gridLength()-nearEnough && i+1 < len(l.elements) {
		out := l.elements[i+1].first()
		return p.Minus(out.At).Dot(out.Along) <= nearEnough
	}
	return true
}

// corners are the feet at kinks seen from outside their wedge, and at the two ends.
func (l Line) corners(p Point) []Foot {
	var out []Foot
	add := func(ch measure.Length, at Point, kind FootKind) {
		out = append(out, Foot{Chainage: ch, Distance: l.ground(p.Distance(at)), Kind: kind})
	}
	n := len(l.elements)
	for i := 0; i <= n; i++ {
		past, before := i == 0, i == n
		if i > 0 {
			in := l.elements[i-1].last()
			past = p.Minus(in.At).Dot(in.Along) > nearEnough
		}
		if i < n {
			first := l.elements[i].first()
			before = p.Minus(first.At).Dot(first.Along) < -nearEnough
		}
		switch {
		case !past || !before:
		case i == 0:
			add(0, l.elements[0].From, BeyondEnd)
		case i == n:
			add(l.Length(), l.elements[n-1].To, BeyondEnd)
		default:
			add(l.elements[i].Start, l.elements[i].From, AtVertex)
		}
	}
	return out
}
