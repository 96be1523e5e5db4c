package planner_test

import (
	"math"
	"slices"
	"testing"

	"trenchwright/demo"
	"trenchwright/job/planner"
)

// Each leg of the demos says once where it is dug deepest, and no second section shows the same beside it.
func TestTheDeepestSectionStandsOnce(t *testing.T) {
	joined := 0
	for _, name := range demo.Names() {
		g, err := demo.Surveyed(name)
		if err != nil {
			t.Fatal(err)
		}
		p := planner.Make(g.Job, g.Surfaces...)
		said := map[string]int{}
		for i, s := range p.Dig.Sections {
			if !slices.Contains(s.Why, "deepest") {
				continue
			}
			said[s.Leg]++
			if len(s.Why) > 1 {
				joined++
			}
			for k, o := range p.Dig.Sections {
				if k != i && s.Depth != nil && o.Depth != nil && o.Leg == s.Leg && len(s.Why) == 1 && math.Abs(float64(o.At-s.At)) <= 100e6 && math.Abs(float64(*o.Depth-*s.Depth)) < 1e6 {
					t.Errorf("%s: leg %s is cut at %v for being deepest and at %v, and both are %v deep", name, s.Leg, s.At, o.At, *s.Depth)
				}
			}
		}
		for _, l := range p.Dig.Legs {
			if l.Deepest > 0 && said[l.Leg] != 1 {
				t.Errorf("%s: leg %s says %d times where it is deepest", name, l.Leg, said[l.Leg])
			}
		}
	}
	if joined == 0 {
		t.Error("no demo has a leg that is deepest where something else is shown")
	}
}
