package schedule

import (
	"math"
	"strings"
	"testing"

	"trenchwright/job"
	"trenchwright/job/planner"
)

// Every leg has its stretch, every conduit of the job comes into just one, and turns are those of the run.
func TestStretches(t *testing.T) {
	everyPlan(t, func(name string, p planner.Plan, j job.Job) {
		got := Of(p, j).Stretches()
		if len(got.Rows) != len(p.Legs) {
			t.Fatalf("%s: %d stretches of %d legs", name, len(got.Rows), len(p.Legs))
		}
		shown := got.Shelves()
		column := func(key string) int {
			for i, s := range shown {
				if s.Key == key {
					return i
				}
			}
			t.Fatalf("no column %q", key)
			return -1
		}
		turns := map[string]float64{}
		for _, n := range p.Nodes {
			turns[n.ID] = n.Deflection
		}
		for i, l := range p.Legs {
			names := shown[column("which")].Texts[i]
			for _, of := range j.Route.Legs {
				for _, e := range of.Entries {
					if in := strings.Contains("; "+names, "; "+e.ID+" "); in != (of.ID == l.Name) {
						t.Errorf("%s: conduit %s of leg %s comes into leg %s: %v (%q)", name, e.ID, of.ID, l.Name, in, names)
					}
				}
			}
			turn, hand := shown[column("turn")].Figures[i], shown[column("hand")].Texts[i]
			if !shown[column("turn")].Known[i] {
				turn = 0
			}
			if hand == "left" {
				turn = -turn
			}
			if math.Abs(turn-turns[l.To]) > 0.0006 {
				t.Errorf("%s: leg %s turns by %g %s at its end, the node says %g", name, l.Name, turn, hand, turns[l.To])
			}
			if cables := shown[column("cables")].Texts[i]; !strings.HasPrefix(cables, "NOT CHECKED") {
				t.Errorf("%s: leg %s has cables %q, and nobody entered one", name, l.Name, cables)
			}
		}
	})
}
