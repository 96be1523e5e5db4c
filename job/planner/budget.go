package planner

import (
	"math"

	"trenchwright/base/measure"
)

// shares is what one joint's window has to give before the leg programme gets the rest (layout.md, one budget for each
// joint): turn in plan times half the outer width, change of grade times half the outer height, half of what an end may
// be out of square, and the contract's reserve for drift. What nobody entered counts as nought and is named.
type shares struct {
	square, reserve measure.Length
	missing         []string
}

func (b *build) shares(s *supply) shares {
	sh := shares{square: s.Unit.OutOfSquare.Value / 2, reserve: b.job.Rules.DriftReserve.Value}
	if !s.Unit.OutOfSquare.Known {
		sh.missing = append(sh.missing, "figure for ends out of square")
	}
	if !b.job.Rules.DriftReserve.Known {
		sh.missing = append(sh.missing, "reserve for drift")
	}
	if s.width == 0 {
		sh.missing = append(sh.missing, "outer width")
	}
	return sh
}

// opening is how much wider one wall's gap gets than the axis's where two units turn by θ radians: θ·W/2, rounded up.
func opening(θ float64, width measure.Length) measure.Length {
	return measure.Length(math.Ceil(math.Abs(θ) * float64(width) / 2))
}

// room is what a joint of gap g has to give on its tighter side.
func room(g measure.Length, w measure.Window) measure.Length { return min(g-w.Min, w.Max-g) }

// turnOnCurve is the turn in radians between two pieces on a curve whose advance is at most d: each chord of d turns by
// 2·asin(d/2R), and half of each side's turn falls to the joint.
func turnOnCurve(radius, d measure.Length) float64 {
	return 2 * math.Asin(min(1, d.Metres()/(2*radius.Abs().Metres())))
}

// curveWindow is what a curve of a radius leaves of the joint window for pieces up to a length. ok is false where nothing is left.
func curveWindow(w measure.Window, radius, length, width, fixed measure.Length) (measure.Window, bool) {
	need := fixed
	if radius != 0 {
		need += opening(turnOnCurve(radius, length+w.Max), width)
	}
	out := measure.Window{Nominal: w.Nominal, Min: w.Min + need, Max: w.Max - need}
	if out.Min > out.Max {
		return out, false
	}
	out.Nominal = min(max(w.Nominal, out.Min), out.Max)
	return out, true
}

// longestOnCurve is the longest piece whose joints a curve's window still allows, the converse of curveWindow: with θ the
// turn that opens one wall by half the window less the fixed shares, piece and gap are at most 2R·sin(θ/2).
func longestOnCurve(w measure.Window, radius, width, fixed measure.Length) measure.Length {
	half := (w.Max-w.Min)/2 - fixed
	if half <= 0 || width <= 0 {
		return 0
	}
	θ := min(math.Pi, float64(half)/(float64(width)/2))
	d := measure.Length(math.Floor(2 * float64(radius.Abs()) * math.Sin(θ/2)))
	return max(0, d-w.Max-measure.Micrometre)
}
