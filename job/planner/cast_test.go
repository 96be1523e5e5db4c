package planner_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/job/planner/plancheck"
)

// teeJob is a cast tee in the middle of a run to the east, with a branch to the north.
func teeJob(t *testing.T, fall string) job.Job {
	t.Helper()
	j := straight(t)
	j.Supplies[0].Fittings[0].Fall = job.Known(fall)
	j.Route = job.Route{
		Nodes: []job.Node{
			{ID: "N1", At: &[2]float64{0, 0}, End: &job.End{Kind: "open"}}, {ID: "T", At: &[2]float64{40, 0}, Fitting: "tee-500"},
			{ID: "N2", At: &[2]float64{80, 0}, End: &job.End{Kind: "open"}}, {ID: "N3", At: &[2]float64{40, 40}, End: &job.End{Kind: "open"}},
		},
		Legs: []job.Leg{{ID: "A", From: "N1", To: "T"}, {ID: "B", From: "T", To: "N2"}, {ID: "C", From: "T", To: "N3"}},
	}
	return j
}

// checked is the plan of a job on a plane, checked from outside.
func checked(t *testing.T, j job.Job, rise float64) planner.Plan {
	t.Helper()
	p := planner.Make(j, plane(t, j, rise))
	text, _ := json.Marshal(p)
	declared, _ := json.Marshal(j)
	for _, wrong := range plancheck.Check(text, declared) {
		t.Error(wrong)
	}
	return p
}

// walls are the wall tops at the ends of the legs of teeJob that meet at the tee.
func walls(t *testing.T, p planner.Plan) map[string]float64 {
	t.Helper()
	out := map[string]float64{}
	for _, s := range p.SetOut {
		if s.Levels == nil || s.Levels.Wall == nil {
			t.Fatalf("%s has no wall top: %v", s.Place, p.Findings)
		}
		if _, known := out[s.Leg]; !known || s.Leg == "A" {
			out[s.Leg] = *s.Levels.Wall
		}
	}
	return out
}

// A casting whose drawing gives a fall is laid as a plane: its mouths lie as the fall has them over the lengths of their arms,
// 900 mm through and 750 mm to the branch, and the legs leave it within what the joint's budget allows.
func TestCastingLiesOnItsFall(t *testing.T) {
	for _, c := range []struct {
		fall       string
		east, side float64 // B over A, C over A, in mm
	}{
		{"level", 0, 0},
		{"1 % towards through-2", -18, -9},
		{"1 % away from through-2", 18, 9},
		{"1 % towards the branch", 0, -7.5},
		{"-1 % towards the branch", 0, 7.5},
	} {
		t.Run(c.fall, func(t *testing.T) {
			p := checked(t, teeJob(t, c.fall), 0)
			w := walls(t, p)
			if east, side := 1000*(w["B"]-w["A"]), 1000*(w["C"]-w["A"]); math.Abs(east-c.east) > 1e-5 || math.Abs(side-c.side) > 1e-5 {
				t.Errorf("B lies %.6f mm over A and C %.6f mm; the drawing makes %v and %v", east, side, c.east, c.side)
			}
			if hasFinding(p, "planner.cast-fall") {
				t.Error("a fall that is held is said not to be")
			}
		})
	}
}

// Beside a level casting the run on a steep plane flattens out as far as the joint's budget asks: half the outer height times
// the change of grade fits into what the gap has to spare.
func TestRunFlattensBesideACasting(t *testing.T) {
	j := teeJob(t, "level")
	p := checked(t, j, 0.03)
	s := j.Supplies[0]
	w, gap := s.Joint.Gap.Value, s.Joint.EndGap.Value
	left := min(gap-w.Min, w.Max-gap) - s.Unit.OutOfSquare.Value/2
	most := 2 * left.Metres() / s.Unit.Outer.Value.Height.Metres()
	beside := map[string]string{}
	for _, g := range p.Grades {
		if _, known := beside[g.Leg]; !known || g.Leg == "A" {
			beside[g.Leg] = g.Grade
		}
	}
	for leg, text := range beside {
		g, err := measure.ParseGrade(text)
		if err != nil {
			t.Fatal(err)
		}
		if got := math.Abs(float64(g.Value.Rise) / float64(g.Value.Run)); got > most {
			t.Errorf("leg %s meets the casting at %s, the gap allows %.4f %%", leg, text, 100*most)
		}
	}
	if len(beside) != 3 {
		t.Errorf("%v: %v", beside, p.Findings)
	}
}

// What of a fall cannot be read is said, and so is a mouth that nothing limits.
func TestCastingSaysWhatIsMissing(t *testing.T) {
	for _, fall := range []string{"0.5 %", "some towards branch", "1 % towards the pond"} {
		p := checked(t, teeJob(t, fall), 0)
		if f := findingOf(p, "planner.cast-fall"); !strings.Contains(f, fall) || !strings.Contains(f, "NOT CHECKED") {
			t.Errorf("%s: %q", fall, f)
		}
	}
	j := teeJob(t, "level")
	j.Supplies[0].Joint.EndGap = job.Known(40 * measure.Millimetre)
	if p := checked(t, j, 0); !strings.Contains(findingOf(p, "planner.cast-window"), "40 mm") {
		t.Error(p.Findings)
	}
}

func findingOf(p planner.Plan, id string) string {
	for _, f := range p.Findings {
		if f.ID == id {
			return f.Text
		}
	}
	return ""
}

func hasFinding(p planner.Plan, id string) bool { return findingOf(p, id) != "" }
