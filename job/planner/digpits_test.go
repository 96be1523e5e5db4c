package planner_test

import (
	"math"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job/planner"
)

// A casting is dug as one pit: every leg that ends at it reaches into it from its face to its middle, as far as the set-back of the
// leg tells, and all of them come to one level there but for the fall of the plane that it lies in. Nothing is dug so at a mitre.
func TestCastingsAreDugAsOnePit(t *testing.T) {
	pits, arms := 0, 0
	for _, name := range demo.Names() {
		g := surveyed(t, name)
		p := planner.Make(g.Job, g.Surfaces...)
		at := map[string]string{}
		for _, n := range p.Nodes {
			at[n.ID] = n.Made
		}
		for _, one := range p.Dig.Pits {
			pits++
			if at[one.Node] != "casting" || len(one.Missing) != 2 {
				t.Errorf("%s: a pit for %s, which is %q, with %q missing", name, one.Node, at[one.Node], one.Missing)
			}
			for _, a := range one.Arms {
				arms++
				for _, l := range p.Legs {
					if l.Name != a.Leg {
						continue
					}
					back := l.StartSetback
					if a.FromMM > 0 {
						back = l.EndSetback
					}
					if got := a.ToMM - a.FromMM; measure.Length(got-back).Abs() > measure.Millimetre/5 { // a set-back lies along the slope
						t.Errorf("%s, %s, leg %s: the pit reaches %v into it, its set-back is %v", name, one.Node, a.Leg, got, back)
					}
				}
				if math.Abs(a.Middle-one.Arms[0].Middle) > 0.01 || math.Abs(a.Middle-a.Face) > 0.03 || a.Bottom <= 0 || a.Depth <= 0 {
					t.Errorf("%s, %s: %+v", name, one.Node, a)
				}
			}
		}
	}
	if pits < 3 || arms < 9 {
		t.Errorf("%d pits with %d arms", pits, arms)
	}
}

// Worked by hand: a pad of 300 mm under a gap of 10 mm reaches 145 mm under either unit, one of 800 mm under units 700 mm wide 50 mm
// beyond either wall; at an end half of it lies under the one unit; at a mitre nothing is said of it.
func TestPadsReachUnderBothUnits(t *testing.T) {
	g := surveyed(t, "tram-depot")
	p := planner.Make(g.Job, g.Surfaces...)
	mm := func(v float64) measure.MM { return measure.MM(measure.FromMetres(v / 1000)) }
	seen := map[string]int{}
	for _, r := range p.SetOut {
		x := r.PadReach
		switch r.Place {
		case "K-004/K-005":
			if x == nil || *x.Before != mm(145) || *x.Behind != mm(145) || *x.Wall != mm(50) {
				t.Errorf("%s: %+v", r.Place, x)
			}
		case "start of A-001", "end of K-011":
			if x == nil || (x.Before == nil) != (r.Place == "start of A-001") || (x.Behind == nil) == (r.Place == "start of A-001") || x.Wall == nil {
				t.Errorf("%s: %+v", r.Place, x)
			}
		case "end of A-014", "start of K-001":
			if x != nil {
				t.Errorf("%s: %+v", r.Place, x)
			}
		default:
			continue
		}
		seen[r.Place]++
	}
	if len(seen) != 5 {
		t.Errorf("%v", seen)
	}
}
