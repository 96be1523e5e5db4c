package planner_test

import (
	"math"
	"slices"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job/planner"
	"trenchwright/solve/profile"
)

// place is a joint of a leg.
type place struct{ leg, joint int }

// breaksOf are the joints at which grades change for a price.
func breaksOf(p profile.Problem, s profile.Solution) map[place]float64 {
	out := map[place]float64{}
	for k, r := range s.Runs {
		if k == 0 || r.From == 0 || r.Stepped || s.Runs[k-1].Stepped {
			continue
		}
		change := math.Abs(steepness(r.Grade) - steepness(s.Runs[k-1].Grade))
		if price := p.Legs[r.Leg].Joints[r.From].Break; price > 0 && change > 0 {
			out[place{r.Leg, r.From}] = float64(price) * change / 100
		}
	}
	return out
}

func steepness(g measure.Grade) float64 {
	if g.Run == 0 {
		return 0
	}
	return float64(g.Rise) / float64(g.Run) * 100
}

// without is p with no change of grade at any joint that has a price but those of a list.
func without(p profile.Problem, keep map[place]float64, drop place) profile.Problem {
	p.Legs = slices.Clone(p.Legs)
	for i := range p.Legs {
		l := &p.Legs[i]
		l.Joints = slices.Clone(l.Joints)
		for k := 1; k < len(l.Joints)-1; k++ {
			if _, kept := keep[place{i, k}]; l.Joints[k].Break > 0 && (!kept || drop == place{i, k}) {
				l.Joints[k].Change = &measure.Grade{Run: 1}
			}
		}
	}
	return p
}

// No grade of a demo breaks more often than its price allows: with any one of its breaks left out and the others where they
// are, the run cannot lie within its limits, or lies so much further from the wanted levels that the break is worth its
// price. The log is the reckoning, in metres of one joint off the wanted level.
func TestEveryBreakIsWorthItsPrice(t *testing.T) {
	all := 0
	for _, name := range demo.Names() {
		on := surveyed(t, name)
		p, s, ok := planner.Profile(on.Job, on.Surfaces)
		if !ok {
			t.Fatalf("%s has no levels", name)
		}
		const metre = 1000 // the price of a metre off the wanted level at one joint
		breaks := breaksOf(p, s)
		t.Logf("%s: %d grades on %d legs, %d breaks; %.4f m off the wanted levels and for breaks, no less than %.4f m is possible off the laser's step", name, len(s.Runs), len(p.Legs), len(breaks), s.Cost/metre, s.Bound/metre)
		for i := range p.Legs {
			for k := range p.Legs[i].Joints {
				at := place{i, k}
				paid, is := breaks[at]
				if !is {
					continue
				}
				all++
				less, err := profile.Solve(without(p, breaks, at))
				switch {
				case err != nil:
					t.Errorf("%s: leg %s, joint %d: %v", name, p.Legs[i].Name, k, err)
				case less.Verdict == profile.Impossible:
					t.Logf("%s: leg %s, joint %d: %.4f m paid; without it the run cannot lie as asked: %s", name, p.Legs[i].Name, k, paid/metre, less.Why)
				case less.Verdict != profile.Found || less.Cost <= s.Cost:
					t.Errorf("%s: leg %s, joint %d: the break costs %.6f m, and without it all costs %.6f m instead of %.6f m (%s)", name, p.Legs[i].Name, k, paid/metre, less.Cost/metre, s.Cost/metre, less.Verdict)
				default:
					t.Logf("%s: leg %s, joint %d: %.4f m paid, %.4f m saved", name, p.Legs[i].Name, k, paid/metre, (less.Cost-s.Cost+paid)/metre)
				}
			}
		}
	}
	if all == 0 {
		t.Error("no demo has a break")
	}
}
