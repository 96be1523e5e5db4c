// Package exact decides about places in plan on whole nanometres: which side, inside which circle, without rounding.
//
// Coordinates are integers, so that nothing has to be estimated twice: differences are exact in 64 bits, a side is one
// comparison of two 128-bit products, and a circle is a 256-bit sum that is only worked out where float64 with its error
// bound cannot tell. The answers are the same on every processor.
//
// Map of the package:
//
//	exact.go   XY, Side, Cross, Between
//	circle.go  InCircle: the float64 filter and the 256-bit sum behind it
//	wide.go    Wide: signed 128-bit numbers
package exact

import "cmp"

// XY is a place in plan: easting and northing in whole nanometres, each within ±Reach.
type XY struct{ X, Y int64 }

// Reach is how far a coordinate may lie from the origin, in nanometres: 100,000 km. Within it the widest sum here, that of
// InCircle, stays below 2^237.
const Reach = 100_000_000_000_000_000

// Usable tells whether both coordinates lie within Reach.
func (p XY) Usable() bool { return max(p.X, -p.X) <= Reach && max(p.Y, -p.Y) <= Reach }

// Compare orders places by easting, then northing.
func (p XY) Compare(q XY) int { return cmp.Or(cmp.Compare(p.X, q.X), cmp.Compare(p.Y, q.Y)) }

// Side is +1 where c lies left of the line from a to b, −1 where it lies right of it, 0 where it lies on it.
func Side(a, b, c XY) int {
	h1, l1 := multiply(b.X-a.X, c.Y-a.Y)
	h2, l2 := multiply(b.Y-a.Y, c.X-a.X)
	switch {
	case h1 != h2:
		return cmp.Compare(h1, h2)
	default:
		return cmp.Compare(l1, l2)
	}
}

// Cross is (b−a)×(c−a): twice the area of the triangle a, b, c in nm², positive counterclockwise.
func Cross(a, b, c XY) Wide {
	return product(b.X-a.X, c.Y-a.Y).minus(product(b.Y-a.Y, c.X-a.X))
}

// Dot is (b−a)·(c−a) in nm².
func Dot(a, b, c XY) Wide {
	return product(b.X-a.X, c.X-a.X).plus(product(b.Y-a.Y, c.Y-a.Y))
}

// Between tells whether c, which lies on the line through a and b, lies strictly between the two.
func Between(a, b, c XY) bool {
	if a.X != b.X {
		return min(a.X, b.X) < c.X && c.X < max(a.X, b.X)
	}
	return min(a.Y, b.Y) < c.Y && c.Y < max(a.Y, b.Y)
}

// Inside tells whether p lies in the triangle a, b, c (counterclockwise) or on its edge.
func Inside(a, b, c, p XY) bool {
	return Side(a, b, p) >= 0 && Side(b, c, p) >= 0 && Side(c, a, p) >= 0
}
