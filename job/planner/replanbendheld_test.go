package planner_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/demo"
	"trenchwright/job/planner"
)

// What lies beyond a bend by itself does not turn with it: no way is offered that would move it, and it is named with how far the run
// would come from it. What was laid on from the bend does. A run that ends on something that stands is said, and offered all the same.
func TestNothingThatLiesIsTurned(t *testing.T) {
	d, err := demo.Surveyed("battery-yard")
	if err != nil {
		t.Fatal(err)
	}
	plan, answers := planner.Ask(d.Job)
	asked := func(legs ...string) planner.BendNow {
		s := &site{run: plan.Places(), plan: plan}
		for _, id := range legs {
			i := slices.IndexFunc(plan.Legs, func(l planner.Leg) bool { return l.Name == id })
			s.set(id, len(s.run.Legs[i].Units), 0)
		}
		s.book = append(s.book, angleOf(len(s.book)+1, "B1", 43.6))
		bends := answers.Bends(s.state())
		if len(bends) != 1 {
			t.Fatalf("%d bends were asked of", len(bends))
		}
		return bends[0]
	}
	bend := func(id string) planner.Node {
		i := slices.IndexFunc(plan.Nodes, func(n planner.Node) bool { return n.ID == id })
		return plan.Nodes[i]
	}
	b1, b2, n4 := bend("B1"), bend("B2"), bend("N4")
	away := func(n planner.Node) string { // a chord of the turn
		r := math.Hypot(n.At[0]-b1.At[0], n.At[1]-b1.At[1])
		return d.Job.Speech().Say("%s", wording.Tape(measure.FromMetres(2*r*math.Sin(0.7*math.Pi/180))))
	}
	said := func(b planner.BendNow, kind finding.Kind, words ...string) {
		t.Helper()
		for _, f := range b.Findings {
			if f.Kind == kind && !slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(f.Text, w) }) {
				return
			}
		}
		t.Errorf("no finding says %q: %v", words, b.Findings)
	}
	out := b1.Bend.Out[:1] // the leg that leaves the bend
	if b := asked("D"); len(b.Ways) != 0 || b.Answer != planner.BendHeld {
		t.Errorf("leg D lies by itself: %s, %d ways", b.Answer, len(b.Ways))
	} else {
		said(b, finding.Impossible, "leg D", "D-001 to D-", "B2", away(b2))
	}
	for _, legs := range [][]string{{}, {out}, {out, "D"}} {
		b := asked(legs...)
		if len(legs) == 0 && len(b.Ways) == 0 || b.Answer == planner.BendHeld {
			t.Errorf("%v laid on from the bend: %s, %d ways", legs, b.Answer, len(b.Ways))
		}
		said(b, finding.Attention, "N4", "existing trench", away(n4))
	}
}

// A casting that was measured off its angle has no way on by the layout: it stops, and says what may be done.
func TestAMeasuredCastingStops(t *testing.T) {
	for name, node := range map[string]string{"battery-yard": "B3", "tram-depot": "T1"} {
		d, err := demo.Surveyed(name)
		if err != nil {
			t.Fatal(err)
		}
		plan, answers := planner.Ask(d.Job)
		for _, by := range []float64{0.004, -1.4} {
			s := &site{run: plan.Places(), plan: plan}
			s.book = append(s.book, angleOf(1, node, 90+by))
			bends := answers.Bends(s.state())
			if len(bends) != 1 {
				t.Fatalf("%s %s: %d answers", name, node, len(bends))
			}
			b, stops := bends[0], math.Abs(by) > 1
			if stops != (b.Answer == planner.BendCast) || stops != b.Findings.Any(finding.Impossible) || len(b.Ways) != 0 {
				t.Errorf("%s %s, off by %g°: %s %v", name, node, by, b.Answer, b.Findings)
			}
		}
	}
}
