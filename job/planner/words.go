package planner

import (
	"trenchwright/base/measure"
)

// say writes a length for a sentence: to the tenth of a millimetre, small ones to the micrometre, without idle zeros; in an
// imperial job feet, inches and sixteenths first.
func say(l measure.Length, imperial bool) string {
	step := measure.Millimetre / 10
	if l.Abs() < 100*measure.Millimetre {
		step = measure.Micrometre
	}
	half := step / 2
	if l < 0 {
		half = -half
	}
	t := ((l + half) / step * step).String()
	if !imperial {
		return t
	}
	return measure.Format{System: measure.Imperial}.Length(l) + " (" + t + ")"
}

func (b *build) say(l measure.Length) string { return say(l, b.imperial()) }

func (b *build) imperial() bool { return b.job.System == "imperial" }

func (s *supply) say(l measure.Length) string { return say(l, s.imperial) }

// show is how solvers write lengths in their sentences.
func (b *build) show() *measure.Format {
	if b.imperial() {
		return &measure.Format{System: measure.Imperial}
	}
	return &measure.Format{Places: 1}
}
