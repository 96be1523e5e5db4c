package local

import (
	"fmt"
	"math"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/place/route"
)

// Limit is what the length of a leg on the grid may err by without a word, in metres: 1 mm.
const Limit = 0.001

// Error is by how much a straight is longer on the grid than on the ground at the job's height, in metres. The factor of
// the grid is 1 + E²/2R² at E metres east or west of the middle; the next term is below a thousandth of that within Reach.
func (g Grid) Error(a, b route.Point) float64 {
	square := float64(a.E*a.E) + float64(a.E*b.E) + float64(b.E*b.E)
	return float64(a.Distance(b) * (square / (6 * float64(g.radius*g.radius))))
}

// Longest is the length of a leg across the middle meridian, east to west and half on either side, from which on it errs
// by more than limit metres: the worst way in which a leg can lie.
func (g Grid) Longest(limit float64) float64 {
	return math.Cbrt(24 * limit * float64(g.radius*g.radius))
}

// Leg says by how much the length of a leg errs on the grid, where that is more than Limit.
func (g Grid) Leg(name string, line []route.Point, s wording.Speech) (finding.Finding, bool) {
	off := 0.0
	for i := 1; i < len(line); i++ {
		off += g.Error(line[i-1], line[i])
	}
	if !(math.Abs(off) > Limit) {
		return finding.Finding{}, false
	}
	return finding.Finding{
		ID: "local.leg-errs", Kind: finding.Attention, Where: finding.Where{Leg: name},
		Text: s.Say("leg %s is %s longer on the local grid than on the ground: it lies up to %s east or west of the grid's middle", name,
			wording.Far(measure.FromMetres(off)), wording.Far(measure.FromMetres(furthest(line)))),
		Limit: s.Say("%s in a leg", wording.Far(measure.FromMetres(Limit))), Value: s.Say("%s", wording.Far(measure.FromMetres(off))),
		Rule: s.Say("a local grid has factor 1 at its middle; across the middle a leg of %s errs by the limit", wording.Far(measure.FromMetres(g.Longest(Limit)))),
		Try:  "a surveyed grid with its combined scale factor, or a job of its own for this part of the run",
	}, true
}

// furthest is how far east or west of the middle a line reaches.
func furthest(line []route.Point) float64 {
	most := 0.0
	for _, p := range line {
		most = max(most, math.Abs(p.E))
	}
	return most
}

// NoHeight says what it means that nobody entered the job's height above the ellipsoid: every length is then one on the
// ellipsoid.
func (g Grid) NoHeight(where finding.Where) finding.Finding {
	ask := "whoever set up the survey control"
	return finding.Finding{
		ID: "local.no-height", Kind: finding.NotChecked, Where: where, Ask: ask,
		Text: fmt.Sprintf("NOT CHECKED: no height above the ellipsoid on file; lengths are taken as on the ellipsoid. 100 m of height are %.1f mm in a kilometre", 1e8/g.radius),
	}
}
