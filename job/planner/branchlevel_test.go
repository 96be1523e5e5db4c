package planner_test

import (
	"math"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
)

// sawnJob is a run to the east with a branch to the north sawn into its wall at 40 m.
func sawnJob(t *testing.T) job.Job {
	t.Helper()
	j := straight(t)
	j.Route = job.Route{
		Nodes: []job.Node{
			{ID: "N1", At: &[2]float64{0, 0}, End: &job.End{Kind: "open"}}, {ID: "N2", At: &[2]float64{80, 0}, End: &job.End{Kind: "open"}},
			{ID: "W", At: &[2]float64{40, 0}, Sawn: &job.SawnTee{Into: "A", Opening: 600 * measure.Millimetre, Clear: 150 * measure.Millimetre}},
			{ID: "N3", At: &[2]float64{40, 40}, End: &job.End{Kind: "open"}},
		},
		Legs: []job.Leg{{ID: "A", From: "N1", To: "N2"}, {ID: "C", From: "W", To: "N3"}},
	}
	return j
}

// wallOn is the wall top of a leg at a chainage by its set-out, and of the first place of another leg.
func wallOn(t *testing.T, p planner.Plan, leg string, ch float64, other string) (on, end float64) {
	t.Helper()
	var last *planner.SetOut
	on, end = math.NaN(), math.NaN()
	for i := range p.SetOut {
		s := &p.SetOut[i]
		if s.Levels == nil || s.Levels.Wall == nil {
			t.Fatalf("%s has no wall top: %v", s.Place, p.Findings)
		}
		if s.Leg == other && math.IsNaN(end) {
			end = *s.Levels.Wall
		}
		if s.Leg != leg {
			continue
		}
		if at := measure.Length(s.Chainage).Metres(); last != nil && math.IsNaN(on) && at >= ch {
			from, z := measure.Length(last.Chainage).Metres(), *last.Levels.Wall
			top := *s.Levels.Wall
			if s.Levels.Before != nil {
				top = *s.Levels.Before.Wall
			}
			on = z + (top-z)*(ch-from)/(at-from)
		}
		last = s
	}
	return on, end
}

// A branch that is sawn into a wall starts at the level of that wall, whatever the ground would have it do, on an even run, on a
// run that steps, and where the run that goes on has a crossfall.
func TestSawnBranchMeetsItsRunInLevel(t *testing.T) {
	for _, c := range []struct {
		name string
		set  func(*job.Job)
	}{
		{"plain", func(*job.Job) {}},
		{"stepped", func(j *job.Job) {
			j.Levels.Stretches = []job.LevelStretch{{Leg: "A", From: 20 * measure.Metre, To: 60 * measure.Metre, Grades: job.SteppedUnits, StepGrade: gradeOf(t, "0.5 %")}}
		}},
		{"crossfall", func(j *job.Job) {
			j.Levels.Stretches = []job.LevelStretch{{Leg: "A", Crossfall: gradeOf(t, "2 %")}} // falls to the right: the branch leaves to the left, the set-out's walls are the left ones
		}},
		{"held up", func(j *job.Job) {
			j.Levels.Pins = []job.Pin{{ID: "P", Leg: "A", At: 41 * measure.Metre, Level: 98.7}}
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := sawnJob(t)
			c.set(&j)
			p := checked(t, j, -0.02)
			on, end := wallOn(t, p, "A", 40, "C")
			if math.Abs(on-end) > 3e-9 {
				t.Errorf("the wall stands at %.9f m, the branch starts at %.9f m", on, end)
			}
			if f := findingOf(p, "planner.branch-level"); f != "" {
				t.Error(f)
			}
		})
	}
}

// A branch that is fixed elsewhere says how far off it starts; one whose lip is beyond the contract says that.
func TestSawnBranchThatCannotMeet(t *testing.T) {
	j := sawnJob(t)
	j.Levels.Pins = []job.Pin{{ID: "P", Leg: "C", At: 10 * measure.Metre, Level: 97, Why: "the sill"}}
	j.Levels.Most = gradeOf(t, "5 %")
	p := checked(t, j, -0.02)
	on, end := wallOn(t, p, "A", 40, "C")
	if f := findingOf(p, "planner.branch-level"); !strings.Contains(f, "leg C is sawn into leg A at W") || !strings.Contains(f, "the sill") {
		t.Errorf("%.3f m apart: %q", on-end, f)
	}
	t.Log(findingOf(p, "planner.branch-level"))
	j = sawnJob(t)
	j.Rules.LipLimit = job.Known(2 * measure.Millimetre)
	p = checked(t, j, -0.02) // 700/2 · 2 % = 7 mm
	if f := findingOf(p, "planner.branch-lip"); !strings.Contains(f, "7 mm") || !strings.Contains(f, "2 mm") {
		t.Errorf("%q", f)
	}
	j.Rules.LipLimit = job.Entry[measure.Length]{}
	p = checked(t, j, -0.02)
	if f := findingOf(p, "planner.branch-lip"); !strings.Contains(f, "NOT CHECKED") || !strings.Contains(f, "7 mm") {
		t.Errorf("%q", f)
	}
}
