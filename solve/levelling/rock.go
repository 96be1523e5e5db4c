package levelling

import "trenchwright/base/measure"

// Corner is one corner of a unit or a pad, looking up-chainage; near is the end with the lower chainage.
type Corner int

// The corners.
const (
	NearLeft Corner = iota
	NearRight
	FarLeft
	FarRight
)

// Corners are the levels of four corners of a rectangle, by Corner.
type Corners [4]measure.Length

// Rock is how a stiff, flat unit stands on four corners.
type Rock struct {
	Twist  measure.Length // near left + far right − near right − far left: what one low corner moves by when it rocks
	High   [2]Corner      // the diagonal that it rocks about; without twist it does not rock
	Low    [2]Corner      // the corners that have air under them in turn
	Fit    Fit
	OnBoth [2]measure.Length // packers under both low corners: it then stands on all four, level between them
	OnOne  measure.Length    // or one packer under either of the low corners
}

// Fit is the plane that comes nearest to all four corners by least squares: its level in the middle and its rises. Every corner
// lies a quarter of the twist off it: the high diagonal above, the low one below.
type Fit struct {
	Middle measure.Length // rounded to the nanometre, half away from nought, as the others are
	Along  measure.Length // rise from the near to the far end
	Across measure.Length // rise from left to right
	Off    measure.Length // of each corner, never below nought
}

// RockOf works out how a unit rocks on corners with these levels. A packer is as thick as the air under it: the two of OnBoth add up
// to the twist exactly, the first no thinner than the second.
func RockOf(c Corners) Rock {
	r := Rock{Twist: c[NearLeft] + c[FarRight] - c[NearRight] - c[FarLeft]}
	r.High, r.Low = [2]Corner{NearLeft, FarRight}, [2]Corner{NearRight, FarLeft}
	if r.Twist < 0 {
		r.High, r.Low = r.Low, r.High
	}
	r.OnOne = r.Twist.Abs()
	r.OnBoth[1] = r.OnOne / 2
	r.OnBoth[0] = r.OnOne - r.OnBoth[1]
	r.Fit = Fit{
		Middle: part(c[NearLeft]+c[NearRight]+c[FarLeft]+c[FarRight], 4),
		Along:  part(c[FarLeft]+c[FarRight]-c[NearLeft]-c[NearRight], 2),
		Across: part(c[NearRight]+c[FarRight]-c[NearLeft]-c[FarLeft], 2),
		Off:    part(r.OnOne, 4),
	}
	return r
}

// part is l/n to the nanometre, half away from nought.
func part(l measure.Length, n int64) measure.Length {
	out, err := measure.MulDiv(l, 1, n)
	if err != nil {
		panic("levelling: " + err.Error())
	}
	return out
}
