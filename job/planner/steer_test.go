package planner

import (
	"testing"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/place/route"
	"trenchwright/solve/layout"
)

func spotSupply() job.Supply {
	var s job.Supply
	s.ID = "S"
	s.Unit.Lengths = job.Known([]measure.Length{3000 * mm})
	s.Unit.MayTurn = job.Known(true)
	s.Joint.Gap = job.Known(measure.Window{Nominal: 10 * mm, Min: 10 * mm, Max: 10 * mm})
	s.Saw.Shortest, s.Saw.Kerf, s.Saw.LeastSlice = job.Known(600*mm), job.Known(5*mm), job.Known(5*mm)
	s.Saw.KeepFactoryEnd = job.Known(true)
	return s
}

// One leg of 9020 with a zone from 2500 to 3600 has two cuts that come from one unit: three are bought for four places.
func TestOneLegBuysLeast(t *testing.T) {
	a, err := OneLeg(layout.Problem{Length: 9020 * mm, Zones: []layout.Zone{{From: 2500 * mm, To: 3600 * mm, Why: "a pipe"}}}, spotSupply())
	if err != nil || a.Count != (OneLegCount{Units: 4, Cuts: 2, CutCovers: 0, Bought: 3}) {
		t.Errorf("%+v, %v", a.Count, err)
	}
}

// Two legs whose closers do not share a unit as first laid out: one has freedom, and is moved until they do.
func TestLegsAndCuttingAreDecidedTogether(t *testing.T) {
	s := supplies(job.Job{Supplies: []job.Supply{spotSupply()}})
	ask := func(l measure.Length, zones ...layout.Zone) asked {
		q := layout.Problem{Length: l, Supplies: []layout.Supply{layoutSupply(&s[0])}, Zones: zones}
		sol, err := layout.Solve(q)
		if err != nil || sol.Verdict != layout.Found {
			t.Fatalf("%v %v", sol.Why, err)
		}
		return asked{problem: q, solution: sol}
	}
	// 9620 takes two cuts that sum to 3590, 8020 one of 2000: only with 995 or less beside the 2000 do two units suffice.
	legs := []asked{ask(9620 * mm), ask(8020 * mm)}
	pieces := func(now []asked) []wanted {
		var w []wanted
		for i := range now {
			for k, u := range now[i].solution.Units {
				if u.Cut {
					w = append(w, wanted{piece: pieceOf(place(route.LegName(i), k+1), &s[0], u)})
				}
			}
		}
		return w
	}
	cost := func(now []asked) (price, bool) {
		w := pieces(now)
		return priceCut(&s[0], w, unitCutting(&s[0], w, nil))
	}
	before, ok := cost(legs)
	if !ok {
		t.Fatal("the legs cannot be cut as laid out")
	}
	steer(legs, cost, func(leg int, u layout.Unit) []measure.Length {
		var others []layout.Unit
		for i := range legs {
			for _, o := range legs[i].solution.Units {
				if o.Cut && (i != leg || o.Start != u.Start) {
					others = append(others, o)
				}
			}
		}
		return fillsOf(&s[0], others)
	})
	after, ok := cost(legs)
	if !ok || before.less(after) {
		t.Fatalf("before %+v, after %+v", before, after)
	}
	for i, l := range legs {
		if bad := layout.Check(l.problem, l.solution); len(bad) > 0 {
			t.Errorf("leg %d does not hold after it was moved: %v", i, bad[0].Text)
		}
	}
	t.Logf("bought %d before, %d after; waste %v before, %v after", before.bought, after.bought, before.waste, after.waste)
	if after.bought != 2 {
		t.Errorf("%d units are bought; the cuts of 3590 and 2000 fit two", after.bought)
	}
}

// Following a problem from its other end twice gives it back.
func TestMirrorTwice(t *testing.T) {
	s := supplies(job.Job{Supplies: []job.Supply{spotSupply()}})
	q := layout.Problem{
		Length: 12030 * mm, Supplies: []layout.Supply{layoutSupply(&s[0])}, Start: layout.End{Mitred: true, Tan: 0.2}, End: layout.End{Fixed: true},
		Stretches: []layout.Stretch{{From: 0, To: 4000 * mm}, {From: 4000 * mm, To: 12030 * mm, Radius: 200 * measure.Metre}},
		Zones:     []layout.Zone{{From: 2900 * mm, To: 3100 * mm}, {From: 5800 * mm, To: 6100 * mm}},
		Joints:    []layout.ForcedJoint{{At: 9000 * mm}},
	}
	r := mirrored(mirrored(q))
	if r.Start != q.Start || r.End != q.End || r.Zones[0] != q.Zones[0] || r.Zones[1] != q.Zones[1] || r.Joints[0] != q.Joints[0] ||
		r.Stretches[0] != q.Stretches[0] || r.Stretches[1] != q.Stretches[1] {
		t.Errorf("%+v", r)
	}
	there, err := layout.Solve(layout.Problem{Length: q.Length, Supplies: q.Supplies, Zones: q.Zones})
	if err != nil {
		t.Fatal(err)
	}
	back, err := layout.Solve(mirrored(layout.Problem{Length: q.Length, Supplies: q.Supplies, Zones: q.Zones}))
	if err != nil || back.Count != there.Count {
		t.Errorf("%v from the other end, %v from this one, %v", back.Count, there.Count, err)
	}
	for i, u := range unmirrored(back.Units, q.Length) {
		for _, z := range q.Zones {
			if end := u.Start + u.Advance; i < len(back.Units)-1 && end < z.To && end+u.GapAfter > z.From {
				t.Errorf("the joint after unit %d stands in the zone from %v", i+1, z.From)
			}
		}
	}
}
