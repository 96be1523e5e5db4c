package route

import (
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// Scale is the combined scale factor of a job, grid / ground. The zero value: nobody entered one.
type Scale struct {
	Factor float64 // 1 stands for "the coordinates are ground"
	Stated bool
}

// Factors outside these bounds are a slip of the pen. Common practice, no source: projections in use for works stay well
// within 1 %.
const (
	leastFactor    = 0.99
	greatestFactor = 1.01
)

func checkFactor(f float64) error {
	if f >= leastFactor && f <= greatestFactor {
		return nil
	}
	r := refuse("scale-factor", -1, "combined scale factor %v is outside %v to %v", f, leastFactor, greatestFactor)
	return Refusals{r.against(fmt.Sprintf("%v to %v", leastFactor, greatestFactor), fmt.Sprint(f)).
		trying("the combined factor as grid / ground, for example 0.9996, or 1 where the coordinates are ground")}
}

// factor is what to reckon with: the stated one, or 1.
func (s Scale) factor() float64 {
	if s.Stated {
		return s.Factor
	}
	return 1
}

// finding says what a missing factor may mean on a run of the length given; ok is false where one was stated.
func (s Scale) finding(run measure.Length, speech wording.Speech) (f finding.Finding, ok bool) {
	if s.Stated {
		return finding.Finding{}, false
	}
	const ppm = 400
	off := measure.Length(float64(run) * (ppm / 1e6))
	far, apart := measure.Format{Survey: true, Places: 1}, measure.Format{}
	if speech.Imperial {
		far.System, apart.System = measure.Imperial, measure.Imperial
	}
	return finding.Finding{
		ID: "route.no-scale-factor", Kind: finding.NotChecked,
		Text: fmt.Sprintf("NOT CHECKED: no combined scale factor on file; lengths are taken as if the coordinates were "+
			"ground. %d ppm would be %s on this run of %s", ppm, apart.Length(off), far.Length(run)),
		Where: finding.Where{Path: "route.scale"},
		Ask:   "whoever set up the survey control",
		Try:   "enter the combined scale factor, or \"ground\" where the coordinates are ground",
	}, true
}
