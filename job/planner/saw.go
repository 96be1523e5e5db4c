package planner

import (
	"math"

	"trenchwright/base/measure"
	"trenchwright/solve/layout"
)

// sawStep is what saw angles are set to: 0.001°, which moves a corner 0.5 m from the axis by 9 µm. Bends that were drawn
// alike then count as alike, and every figure on a cut card is the one that was computed with.
const sawStep = measure.Degree / 1000

// sawSetting is the setting nearest to an angle.
func sawSetting(a measure.Angle) measure.Angle {
	half := sawStep / 2
	if a < 0 {
		half = -half
	}
	return (a + half) / sawStep * sawStep
}

// sawAngle is how far a face is from square, with the sign of its hand.
func sawAngle(tan float64) measure.Angle {
	if tan == 0 {
		return 0
	}
	return measure.FromRadians(math.Atan(tan))
}

// slope is s of the cut line x = a + s·y of a saw angle; exact at 45°.
func slope(a measure.Angle) float64 {
	switch a {
	case 45 * measure.Degree:
		return 1
	case -45 * measure.Degree:
		return -1
	}
	return math.Tan(a.Radians())
}

// askSaw replaces what a leg that cannot be laid would try, where one of its supplies has no saw figures on file: the
// programme was told a limit that forbids every cut, and proposals against that limit mean nothing.
func askSaw(sol layout.Solution, sup []supply, laid []int) layout.Solution {
	if sol.Verdict != layout.Impossible {
		return sol
	}
	for _, i := range laid {
		s := &sup[i]
		if !s.mayCut && !s.Saw.NoCuts {
			sol.Try = []string{"enter the saw figures of supply " + s.ID + ", from the supplier: " + s.cutWhy}
			return sol
		}
	}
	return sol
}
