package planner_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/place/ground"
)

// Worked by hand: a run due east that falls 2 % under level ground at 100, dug upright 750 mm to either side. At 12.340 m its
// formation lies 0.800 + 0.02·12.340 m under 100, its wall top 0.730 m over that.
func TestPegBesideARunOnAPlane(t *testing.T) {
	j := straight(t)
	j.Ground.Surfaces = append(j.Ground.Surfaces, job.Surface{ID: "natural", Role: job.ExistingGround, File: "none.csv"})
	j = with(t, j, `"dig": {"bed": "150 mm", "room": "400 mm", "sides": "vertical"}`)
	at := 12340 * measure.Millimetre
	for _, one := range []struct {
		side   string
		offset measure.Length
		n      float64
		lost   bool
	}{{"left", 1500 * measure.Millimetre, 1.5, false}, {"right", 751 * measure.Millimetre, -0.751, false}, {"right", 750 * measure.Millimetre, -0.75, true}} {
		j.SetOut = job.SetOut{Pegs: []job.Pegs{{Leg: "A", Side: one.side, Offset: one.offset, At: []measure.Length{at}}}}
		p := planner.Make(j, even(t, j, ground.Existing, 100), plane(t, j, -0.02))
		if len(p.Pegs) != 1 || p.Pegs[0].ToFormation == nil || p.Pegs[0].ToWall == nil || p.Pegs[0].Edge == nil {
			t.Fatalf("%+v %v", p.Pegs, p.Findings)
		}
		g := p.Pegs[0]
		const near = 1e-6 // what is rounded to nanometres over a unit
		if math.Abs(g.E-12.34) > near || math.Abs(g.N-one.n) > near || math.Abs(*g.Ground-100) > near {
			t.Errorf("it stands at %.6f %.6f on %.6f", g.E, g.N, *g.Ground)
		}
		under := *p.SetOut[0].Levels.Formation - 0.02*(12.34-measure.Length(p.SetOut[0].Chainage).Metres())
		for _, f := range []struct {
			got  measure.MM
			want float64
		}{{g.ToFormation.Amount, 100 - under}, {g.ToWall.Amount, 100 - under - 0.73}, {*g.Edge, 0.75}} {
			if math.Abs(measure.Length(f.got).Metres()-f.want) > near {
				t.Errorf("%v, %.6f m was expected", f.got, f.want)
			}
		}
		if e := g.Edges; e == nil || *g.Edge != map[string]measure.MM{"left": e.Left.Offset, "right": e.Right.Offset}[one.side] {
			t.Errorf("edges %+v", e)
		} else {
			for _, side := range []planner.PegEdge{e.Left, e.Right} { // upright sides in level ground
				if math.Abs(measure.Length(side.Offset).Metres()-0.75) > near || math.Abs(side.Level-100) > near {
					t.Errorf("edges %+v", e)
				}
			}
		}
		if g.ToFormation.Way != "cut" || slices.Contains(g.Lost, "dug away") != one.lost {
			t.Errorf("%+v", g)
		}
		if (g.Instead != nil) != one.lost { // the next half metre beyond the edge
			t.Errorf("%v: instead %+v", one.offset, g.Instead)
		} else if o := g.Instead; o != nil && (o.Side != "right" || o.Offset != measure.MM(measure.Metre) || math.Abs(o.E-12.34) > near || math.Abs(o.N+1) > near) {
			t.Errorf("instead %+v", o)
		}
		said := 0
		for _, f := range p.Findings {
			if f.ID == "planner.peg-dug" {
				said++
			}
		}
		if said != map[bool]int{true: 1}[one.lost] {
			t.Errorf("%d findings that %v is dug away", said, one.offset)
		}
	}
}

// Points of another grid or another datum are told by how far off they are; pegs past the end of a leg are left out.
func TestPointsThatCannotBelongToTheRun(t *testing.T) {
	j, z := straight(t), 36.2
	j.SetOut = job.SetOut{Benchmarks: []job.Benchmark{{ID: "BM1", Where: "kerb", Level: 300}, {ID: "BM2", Where: "step", Level: 100}},
		Control: []job.Control{{ID: "CP1", At: [2]float64{20000, 0}}, {ID: "CP2", At: [2]float64{50, 10}, Level: &z}},
		Pegs:    []job.Pegs{{Leg: "A", Side: "left", Offset: measure.Metre, At: []measure.Length{61 * measure.Metre}}}}
	p := planner.Make(j, plane(t, j, 0))
	said := map[string]int{}
	for _, f := range p.Findings {
		said[f.ID]++
	}
	if said["planner.point-far"] != 1 || said["planner.point-high"] != 1 || said["planner.peg-off-leg"] != 1 || len(p.Pegs) != 0 {
		t.Errorf("%v %v", said, p.Pegs)
	}
}

// A peg nearer to the edge of the dig than the strip keeps room for pegs is told of, with the nearest; so is a leg with pegs at
// stated places alone. Where the job keeps no room for pegs, a free edge is said in passing.
func TestPegsNearTheEdgeOfTheDig(t *testing.T) {
	g := surveyed(t, "battery-yard")
	of := func(p planner.Plan, id, leg string) (out []finding.Finding) {
		for _, f := range p.Findings {
			if f.ID == id && f.Where.Leg == leg {
				out = append(out, f)
			}
		}
		return out
	}
	p := planner.Make(g.Job, g.Surfaces...)
	near := of(p, "planner.peg-near", "A")
	if len(near) != 1 || near[0].Kind != finding.Attention || !strings.Contains(near[0].Text, `begins 2'-0" from the edge, and the peg stands 2 7/16" from it`) {
		t.Errorf("%v", near)
	}
	few := of(p, "planner.pegs-few", "F")
	if len(few) != 1 || !strings.Contains(few[0].Text, "pegs at station 0+23.00 alone") {
		t.Errorf("%v", few)
	}
	g.Job.Dig.Strip.Uses = slices.DeleteFunc(slices.Clone(g.Job.Dig.Strip.Uses), func(u job.StripUse) bool { return u.What == "pegs" })
	near = nil
	for _, l := range planner.Make(g.Job, g.Surfaces...).Findings {
		if l.ID == "planner.peg-near" {
			near = append(near, l)
		}
	}
	if len(near) != 1 || near[0].Kind != finding.Note || !strings.Contains(near[0].Text, "kept free of spoil, plant and stacks") {
		t.Errorf("without room kept for pegs: %v", near)
	}
	g.Job.Dig.Strip.Setback = job.Entry[measure.Length]{}
	if near = of(planner.Make(g.Job, g.Surfaces...), "planner.peg-near", "A"); len(near) > 0 {
		t.Errorf("without a free edge: %v", near)
	}
}
