package planner_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/tools/seed"
)

// A bend that is taken as it was measured turns so in the plan, and no other does otherwise; its pieces are sawn as the answer says, what
// their faces leave is in the joints that swing, and every place keeps its name and, but for the bend's pieces, its piece. The same record
// then says that the bend is as drawn.
func TestBendsAreTakenAsMeasured(t *testing.T) {
	seed := seed.Of(t)
	r := rand.New(rand.NewPCG(seed, 29))
	swung, sawn, relaid := 0, 0, 0
	for _, name := range demo.Names() {
		d, err := demo.Surveyed(name)
		if err != nil {
			t.Fatal(err)
		}
		plan, answers := planner.Ask(d.Job)
		for _, n := range plan.Nodes {
			if n.Bend == nil {
				continue
			}
			s := &site{run: plan.Places(), plan: plan}
			by := []float64{0.05, -0.05, 1.4, -1.1}[r.IntN(4)] * (0.5 + r.Float64())
			s.book = append(s.book, angleOf(1, n.ID, math.Abs(n.Deflection)+by))
			state := s.state()
			bends, legs := answers.Bends(state), answers.Replan(state)
			if len(bends) != 1 || len(bends[0].Ways) == 0 {
				continue
			}
			b := bends[0]
			way := b.Ways[r.IntN(len(b.Ways))]
			what := fmt.Sprintf("%s %s, %.3f° to %.3f°, %s", name, n.ID, b.Drawn, b.Measured, way.Name)
			j, err := planner.TakeBends(d.Job, legs, bends, map[string]int{n.ID: way.Number})
			if err != nil {
				t.Fatal(err)
			}
			if f := job.Faults(j); len(f) > 0 {
				t.Fatalf("%s: %v", what, f[0])
			}
			now, after := planner.Ask(j)
			if after == nil {
				t.Fatalf("%s: %v", what, now.Findings)
			}
			for i, o := range now.Nodes {
				want := plan.Nodes[i].Deflection
				if o.ID == n.ID {
					want = math.Copysign(b.Measured, n.Deflection)
				}
				if math.Abs(o.Deflection-want) > 2e-5 {
					t.Errorf("%s: %s turns by %.6f°, it should by %.6f°", what, o.ID, o.Deflection, want)
				}
			}
			faces := 0.0
			anew := map[string]bool{} // legs whose bend piece cannot be sawn from its stock at the new angle
			for _, f := range now.Findings {
				if f.ID == "planner.built-rest" {
					anew[f.Where.Leg] = true
					relaid++
				}
			}
			was := map[string]planner.Unit{}
			for _, u := range plan.Units {
				was[u.Mark] = u
			}
			for _, u := range now.Units {
				old, ok := was[u.Mark]
				if !ok || len(now.Units) != len(plan.Units) {
					t.Errorf("%s: %d places, %d were planned; %s was none", what, len(now.Units), len(plan.Units), u.Mark)
					break
				}
				if anew[u.Leg] {
					continue
				}
				if off := measure.Length(u.Length - old.Length).Abs(); u.Cut != old.Cut || off > mm || off > 0 && !u.Cut {
					t.Errorf("%s: %s is %v, was %v", what, u.Mark, u.Length, old.Length)
				}
			}
			for _, l := range now.Legs {
				if l.Verdict != "found" {
					t.Errorf("%s: leg %s %s", what, l.Name, l.Why)
				}
			}
			for _, m := range way.Node.Mitre.Swings {
				faces += m.Turn.Degrees()
				k := slices.IndexFunc(now.Joints, func(j planner.Joint) bool { return j.Name == m.Joint })
				if k < 0 || now.Joints[k].Budget.Turn == 0 || now.Joints[k].Budget.Left < 0 {
					t.Errorf("%s: joint %s swings: %+v", what, m.Joint, now.Joints)
				}
			}
			if faces += way.Node.Mitre.Before.Degrees() + way.Node.Mitre.After.Degrees(); math.Abs(faces-b.Measured) > 0.005 {
				t.Errorf("%s: faces and joints turn by %.4f°", what, faces)
			}
			if len(way.Node.Mitre.Swings) > 0 {
				swung++
			} else {
				sawn++
			}
			again := after.Bends((&site{run: now.Places(), plan: now, book: s.book}).state())
			if len(again) != 1 || again[0].Answer != planner.BendAsDrawn {
				t.Errorf("%s: taken, and the same record says %+v", what, again)
			}
			if slices.ContainsFunc(now.Findings, func(f finding.Finding) bool { return f.Kind == finding.Fault }) {
				t.Errorf("%s: faults", what)
			}
		}
	}
	t.Logf("%d swung, %d sawn anew; %d legs laid anew for it", swung, sawn, relaid)
	if swung+sawn < 4 || relaid > (swung+sawn)/2 {
		t.Error("too few to say anything")
	}
}
