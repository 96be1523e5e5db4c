// Package drift says how far a run wanders from its plan while it is laid, and what to do about it: how far apart joints will lie
// from where they were drawn, whether a lot of units is off or merely scatters, what gap to hold now and until which joint, and
// by when the closing cut has to be made.
//
//	drift.go    how units and gaps vary; the band that they lead to, in closed form
//	lot.go      what measured units say of their lot: bias told apart from scatter
//	law.go      where a run comes to rest when each gap takes up what it can
//	hold.go     the gap to hold now, and until which joint
//	closing.go  with how many units to go the closing cut still comes right
//
// Lengths go in and out exactly; what lies between is arithmetic in millimetres that is the same on every machine (no functions
// of the math package but Sqrt, which is exact to the last digit everywhere).
package drift

import (
	"math"

	"trenchwright/base/measure"
)

// Spread is how the pieces of a run vary. The zero value is a run in which everything is as drawn.
type Spread struct {
	Unit measure.Length // a unit may be this much longer or shorter than its length, anything between being as likely
	Gap  measure.Length // standard deviation of one gap about the gap that is held
	Lot  measure.Length // standard deviation of the bias of a lot: what all its units are off alike
}

// Sides of a band: how many standard deviations to each side of the middle hold so much of all runs, for a normal law.
const (
	In95  = 1.959964 // 95 %
	In999 = 3.290527 // 99.9 %
)

// After is the standard deviation of the place of the joint after n units, when every gap is held at the drawn width:
// √(n·(t²/3 + g²) + n²·b²). The first part is scatter and grows with the root; the second is bias and grows with n.
func (s Spread) After(n int) measure.Length {
	scatter, bias := s.parts(n)
	return millimetres(math.Sqrt(float64(scatter*scatter) + float64(bias*bias)))
}

// Parts are the two parts of After by themselves: what scatters, and what a biased lot makes.
func (s Spread) Parts(n int) (scatter, bias measure.Length) {
	a, b := s.parts(n)
	return millimetres(a), millimetres(b)
}

func (s Spread) parts(n int) (scatter, bias float64) {
	return float64(math.Sqrt(float64(n)) * s.each()), float64(float64(n) * inMM(s.Lot))
}

// each is the standard deviation that one unit with its gap adds, mm.
func (s Spread) each() float64 {
	t, g := inMM(s.Unit), inMM(s.Gap)
	return math.Sqrt(float64(t*t)/3 + float64(g*g))
}

// Band is how far to each side of the drawn place the joint after n units lies in 99.9 of 100 runs.
func (s Spread) Band(n int) measure.Length {
	return millimetres(float64(In999 * inMM(s.After(n))))
}

func inMM(l measure.Length) float64 { return float64(l) / float64(measure.Millimetre) }

// millimetres rounds to the nanometre: here, and nowhere else in this package.
func millimetres(mm float64) measure.Length {
	return measure.Length(math.Round(mm * float64(measure.Millimetre)))
}
