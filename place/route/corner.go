package route

import (
	"math"

	"trenchwright/base/measure"
)

// Corner is the geometry of a mitred bend between two legs of one width. With α half the deflection, the cut line of
// each piece leaves the square by α (published.md 8.6: the sides of each piece differ by W·tan α).
type Corner struct {
	Deflection measure.Angle  // right positive
	Width      measure.Length // of what is mitred: the unit, or its cover
}

// Half is α in radians, without a hand.
func (c Corner) Half() float64 { return math.Abs(c.Deflection.Radians()) / 2 }

// Tan is tan α.
func (c Corner) Tan() float64 { return math.Sin(c.Half()) / cosine(c.Half()) }

// SidesDiffer is the long side less the short side of each piece: W·tan α.
func (c Corner) SidesDiffer() measure.Length {
	return toLength(float64(c.Width.Metres() * c.Tan()))
}

// Outer is what the outer face of each leg is longer than its axis at the node, and the inner face shorter: (W/2)·tan α.
func (c Corner) Outer() measure.Length {
	return toLength(float64(c.Width.Metres()*c.Tan()) / 2)
}

// Face is the length of the cut across the piece, and so what a pad below the joint must reach: W/cos α.
func (c Corner) Face() measure.Length {
	return toLength(c.Width.Metres() / cosine(c.Half()))
}

// SetBack is how far from the node each piece ends on its axis where the joint between the two faces is gap wide,
// measured square to the cut: (gap/2)/cos α.
func (c Corner) SetBack(gap measure.Length) measure.Length {
	return toLength(gap.Metres() / 2 / cosine(c.Half()))
}

// Across is a thickness measured square to the cut, as it counts along the axis: t/cos α (a kerf, a joint).
func (c Corner) Across(thickness measure.Length) measure.Length {
	return toLength(thickness.Metres() / cosine(c.Half()))
}

// cosine is cos a, held away from nought so that a fold of 180° gives a great length and not an infinity.
func cosine(a float64) float64 { return math.Max(math.Cos(a), 1e-6) }
