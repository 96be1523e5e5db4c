package planner_test

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/job/planner/plancheck"
	"trenchwright/place/ground"
	"trenchwright/place/route"
	"trenchwright/view/groundin"
)

// surveyed is a demo with its ground.
func surveyed(t *testing.T, name string) groundin.Surveyed {
	t.Helper()
	g, err := demo.Surveyed(name)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// The demo settles on levels: every leg has grades on the laser's step, no cover stands off the ground by more than a unit's
// bend allows, and planning the job again from what its pack keeps gives the same bytes.
func TestDemoSettlesOnLevels(t *testing.T) {
	g := surveyed(t, "tram-depot")
	p := planner.Make(g.Job, g.Surfaces...)
	for _, f := range p.Findings {
		if f.Kind == finding.Fault || f.Kind == finding.Impossible || strings.HasPrefix(f.ID, "planner.unsettled") || strings.HasPrefix(f.ID, "planner.levels") {
			t.Errorf("%s: %s", f.ID, f.Text)
		}
	}
	legs := map[string]bool{}
	for _, r := range p.Grades {
		legs[r.Leg] = true
		if !r.OnStep {
			t.Errorf("leg %s, %s to %s: %s is no whole number of steps", r.Leg, r.From, r.To, r.Grade)
		}
	}
	if len(legs) != len(p.Legs) {
		t.Errorf("%d of %d legs have grades", len(legs), len(p.Legs))
	}
	worst := 0.0
	for _, s := range p.SetOut {
		l := s.Levels
		if l == nil || l.Cover == nil || l.Finished == nil || l.Formation == nil || l.Existing == nil {
			t.Fatalf("%s: %+v", s.Place, l)
		}
		worst = math.Max(worst, math.Abs(*l.Cover-*l.Finished))
	}
	t.Logf("%d grades; a cover stands off the finished ground by at most %.0f mm", len(p.Grades), worst*1000)
	if worst > 0.2 {
		t.Errorf("a cover stands %.3f m off the finished ground", worst)
	}
	again := planner.Make(g.Job, g.Surfaces...)
	a, _ := json.Marshal(p)
	b, _ := json.Marshal(again)
	if string(a) != string(b) {
		t.Error("the same job on the same ground gave another plan")
	}
}

// plane is a finished surface that rises so much for each metre east.
func plane(t *testing.T, j job.Job, rise float64) *ground.Surface {
	t.Helper()
	var s ground.Survey
	s.Role, s.Origin = ground.Finished, planner.Origin(j)
	for _, e := range []float64{-50, 150} {
		for _, n := range []float64{-50, 50} {
			p := s.Origin.Point(route.Coordinates{E: measure.FromMetres(e), N: measure.FromMetres(n)})
			s.Points = append(s.Points, ground.Point{E: p.E, N: p.N, Z: 100 + rise*e})
		}
	}
	out, found := ground.Triangulate(s)
	if out == nil {
		t.Fatal(found)
	}
	return out
}

// straight is a leg of 60 m east with a window that leaves room for changes of grade.
func straight(t *testing.T) job.Job {
	t.Helper()
	j := readDemo(t, "tram-depot")
	j.Supplies = j.Supplies[:1]
	j.Coordinates.ScaleFactor, j.Coordinates.ScaleFrom = "ground", ""
	j.Ground.Surfaces = []job.Surface{{ID: "paving", Role: job.FinishedGround, File: "none.csv"}}
	j.Route = job.Route{Nodes: []job.Node{{ID: "N1", At: &[2]float64{0, 0}, End: &job.End{Kind: "open"}}, {ID: "N2", At: &[2]float64{60, 0}, End: &job.End{Kind: "open"}}},
		Legs: []job.Leg{{ID: "A", From: "N1", To: "N2"}}}
	j.Levels = job.Levels{Above: job.Known(measure.Length(0))}
	j.Yard, j.Dig, j.Attachments, j.Delivery, j.Checks, j.Programme = nil, job.Dig{}, nil, job.Delivery{}, job.Checks{}, nil
	return j
}

// On an even fall the run lies on it, its covers flush, and its length on the slope is laid out to the nanometre.
func TestRunOnAPlane(t *testing.T) {
	j := straight(t)
	p := planner.Make(j, plane(t, j, -0.02))
	if len(p.Grades) != 1 || p.Grades[0].Grade != "-2.0000 %" {
		t.Fatalf("%+v %v", p.Grades, p.Findings)
	}
	want := measure.FromMetres(60 * math.Sqrt(1+0.02*0.02))
	if got := measure.Length(p.Legs[0].ClearLength); (got - want).Abs() > 30 { // half a nanometre for each place of the set-out
		t.Errorf("clear length %s, on the slope it is %s", got, want)
	}
	for _, s := range p.SetOut {
		if math.Abs(*s.Levels.Cover-*s.Levels.Finished) > 2e-9 {
			t.Errorf("%s: cover at %.9f, finished ground at %.9f", s.Place, *s.Levels.Cover, *s.Levels.Finished)
		}
	}
}

// A pin inside a unit is held where it stands, and the unit stays straight: one grade, not two behind each other.
func TestPinInsideAUnit(t *testing.T) {
	j := straight(t)
	for k := range 20 {
		at := 31_400*measure.Millimetre + measure.Length(k)*137*measure.Millimetre + measure.Length(k)
		j.Levels.Pins = []job.Pin{{ID: "L1", Leg: "A", At: at, Level: 99.5 - 0.001*float64(k), Why: "the kerb"}}
		p := planner.Make(j, plane(t, j, -0.02))
		if len(p.Grades) == 0 {
			t.Fatal(p.Findings)
		}
		for i, r := range p.Grades {
			if i > 0 && (r.FromMM != p.Grades[i-1].ToMM || r.From != p.Grades[i-1].To) {
				t.Errorf("pin at %s: one grade ends at %s, the next starts at %s", at, p.Grades[i-1].To, r.From)
			}
			if j := slices.IndexFunc(p.SetOut, func(s planner.SetOut) bool { return s.Place == r.To }); j >= 0 && i < len(p.Grades)-1 && p.SetOut[j].Chainage != r.ToMM {
				t.Errorf("pin at %s: a grade ends at %v, %s stands at %v", at, r.ToMM, r.To, p.SetOut[j].Chainage)
			}
		}
		outside(t, j, p) // which holds the pin too
	}
}

// What cannot be is said in words, with both pins, and nothing is levelled.
func TestPinsThatCannotBe(t *testing.T) {
	j := straight(t)
	g, _ := measure.ParseGrade("0.5 %")
	j.Levels.Least = job.Known(g.Value)
	j.Levels.Stretches = []job.LevelStretch{{Leg: "A", Toward: "N2"}}
	j.Levels.Pins = []job.Pin{{ID: "L1", Leg: "A", At: 0, Level: 100, Why: "the gate"}, {ID: "L2", Leg: "A", At: 60 * measure.Metre, Level: 99.9, Why: "the kerb"}}
	p := planner.Make(j, plane(t, j, -0.02))
	said := ""
	for _, f := range p.Findings {
		if f.ID == "planner.levels" {
			said = f.Text
		}
	}
	t.Log(said)
	if !strings.Contains(said, "0.5 %") || !strings.Contains(said, "gate") || !strings.Contains(said, "kerb") || len(p.Grades) > 0 {
		t.Errorf("%q, %d grades", said, len(p.Grades))
	}
}

// Three pins that lie in two units as long as lengths count in plan come to lie in one once they count along the slope, and
// no unit bends. The plan says so, and is laid out as if nothing were known of its levels: no length on a slope is left.
func TestPinsThatCannotBeOnceTheRunSlopes(t *testing.T) {
	j := straight(t)
	for k, p := range []struct{ at, off float64 }{{57.12, 0}, {57.18, 0}, {59, 0.004}} {
		j.Levels.Pins = append(j.Levels.Pins, job.Pin{ID: string('A' + rune(k)), Leg: "A", At: measure.FromMetres(p.at), Level: 100 - 0.05*p.at + p.off})
	}
	p := planner.Make(j, plane(t, j, -0.05))
	said := false
	for _, f := range p.Findings {
		said = said || f.ID == "planner.levels" && strings.Contains(f.Text, "but no change of grade")
	}
	if !said || len(p.Grades) > 0 {
		t.Fatalf("%d grades, %v", len(p.Grades), p.Findings)
	}
	if got := measure.Length(p.Legs[0].ClearLength); got != 60*measure.Metre || p.Legs[0].SlopeRise != 0 {
		t.Errorf("without levels the leg is %s long and rises by %v", got, p.Legs[0].SlopeRise)
	}
	outside(t, j, p)
}

// On a bed there is no top of a pad; the bed's formation stands under the unit.
func TestNoPadOnABed(t *testing.T) {
	j := straight(t)
	j.Supplies[0].Bearing = job.BearingMake{On: job.Known("bed")}
	j.Dig.Bed = job.Known(150 * measure.Millimetre)
	p := planner.Make(j, plane(t, j, -0.02))
	for _, s := range p.SetOut {
		if s.Levels.PadTop != nil || s.Levels.PadBase != nil || s.Levels.Formation == nil || s.Levels.Before != nil {
			t.Fatalf("%s: %+v", s.Place, s.Levels)
		}
	}
	outside(t, j, p)
}

func gradeOf(t *testing.T, text string) job.Entry[measure.Grade] {
	t.Helper()
	g, err := measure.ParseGrade(text)
	if err != nil {
		t.Fatal(err)
	}
	return job.Known(g.Value)
}

// A run that would lie at 12 % where nothing may lie steeper than 8 % is laid level and steps by 12 % of a unit and its joint,
// its middles on the ground; both sides of every step are on the set-out.
func TestStepsBeyondAGrade(t *testing.T) {
	j := straight(t)
	j.Levels.SteppedBeyond, j.Levels.StepMost = gradeOf(t, "8 %"), job.Known(400*measure.Millimetre)
	p := planner.Make(j, plane(t, j, -0.12))
	if len(p.Grades) != len(p.Units) {
		t.Fatalf("%d grades of %d units, %v", len(p.Grades), len(p.Units), p.Findings)
	}
	for k, g := range p.Grades {
		if !g.Stepped || g.Rise != 0 || g.Step == nil {
			t.Fatalf("%+v", g)
		}
		if k > 0 && k < len(p.Grades)-2 {
			if want := -0.12 * float64(g.ToMM-g.FromMM); math.Abs(float64(*g.Step)-want) > 3e7 { // a cut unit beside it
				t.Errorf("%s: a step of %v mm, the ground falls by %.1f", g.To, *g.Step, want/1e6)
			}
		}
	}
	for _, s := range p.SetOut[1 : len(p.SetOut)-1] {
		l := s.Levels
		if l.Before == nil || *l.Before.Wall-*l.Wall < 0.2 || *l.Before.Underside-*l.Underside < 0.2 {
			t.Errorf("%s: %+v", s.Place, l)
		}
	}
	said := map[string]bool{}
	for _, f := range p.Findings {
		said[f.ID] = true
	}
	if !said["planner.stepped"] || !said["planner.step-joint"] {
		t.Error(p.Findings)
	}
	outside(t, j, p)
}

// Part of a leg steps on units at a stated grade, and a pin stands inside one of them.
func TestAStretchThatSteps(t *testing.T) {
	j := straight(t)
	j.Levels.Stretches = []job.LevelStretch{{Leg: "A", From: 12 * measure.Metre, To: 36 * measure.Metre, Grades: job.SteppedUnits, StepGrade: gradeOf(t, "-0.5 %")}}
	j.Levels.Pins = []job.Pin{{ID: "L1", Leg: "A", At: 25_400 * measure.Millimetre, Level: 99.5}}
	p := planner.Make(j, plane(t, j, -0.02))
	n := 0
	for _, g := range p.Grades {
		if g.Stepped {
			if n++; g.Grade != "-0.5000 %" {
				t.Errorf("%+v", g)
			}
		}
	}
	if n != 8 {
		t.Errorf("%d units step", n)
	}
	outside(t, j, p)
}

// Steps of at most 100 mm cannot follow 12 %.
func TestStepsThatCannotBe(t *testing.T) {
	j := straight(t)
	j.Levels.Grades, j.Levels.StepMost = job.SteppedUnits, job.Known(100*measure.Millimetre)
	j.Levels.Pins = []job.Pin{{ID: "L1", Leg: "A", At: 0, Level: 100, Why: "the gate"}, {ID: "L2", Leg: "A", At: 50 * measure.Metre, Level: 94, Why: "the kerb"}}
	p := planner.Make(j, plane(t, j, -0.12))
	said := ""
	for _, f := range p.Findings {
		if f.ID == "planner.levels" {
			said = f.Text
		}
	}
	if !strings.Contains(said, "step") || len(p.Grades) > 0 {
		t.Errorf("%q, %d grades, %v", said, len(p.Grades), p.Findings)
	}
	t.Log(said)
	outside(t, j, p)
}

// outside has a plan checked from outside.
func outside(t *testing.T, j job.Job, p planner.Plan) {
	t.Helper()
	plan, err := json.Marshal(p)
	if err != nil {
		t.Fatal(err)
	}
	declared, err := json.Marshal(j)
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range plancheck.Check(plan, declared) {
		t.Error(line)
	}
}
