package planner_test

import (
	"slices"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/solve/check"
)

// Every check of the demo jobs shows what went in with where it came from, how it was worked out, and its rule; without a figure that it
// needs it comes to no verdict, and the plan says so.
func TestChecksShowWhatTheyComeFrom(t *testing.T) {
	for _, name := range []string{"tram-depot", "battery-yard", "hand-troughs"} {
		g, err := demo.Surveyed(name)
		if err != nil {
			t.Fatal(err)
		}
		p := planner.Make(g.Job, g.Surfaces...)
		if len(p.Checks) < 10 {
			t.Errorf("%s: %d checks", name, len(p.Checks))
		}
		lacking := 0
		for _, c := range p.Checks {
			if c.What == "" || c.Rule == "" || c.Decides == "" || len(c.Cautions) == 0 {
				t.Errorf("%s: %s lacks words: %+v", name, c.ID, c)
			}
			for _, g := range c.Given {
				if g.From == "" || g.Is == "" {
					t.Errorf("%s: %s: %s is %q from %q", name, c.ID, g.Name, g.Is, g.From)
				}
			}
			for _, m := range c.Missing {
				lacking++
				if !slices.ContainsFunc(p.Findings, func(f finding.Finding) bool { return f.Kind == finding.NotChecked && f.Text == m }) {
					t.Errorf("%s: no finding says %q", name, m)
				}
			}
			switch {
			case len(c.Missing) > 0 && c.Verdict != "":
				t.Errorf("%s: %s comes to %q without %v", name, c.ID, c.Verdict, c.Missing)
			case len(c.Missing) == 0 && (c.Verdict == "" || c.Value == "" || c.Limit == ""):
				t.Errorf("%s: %s lacks a figure: %+v", name, c.ID, c)
			}
		}
		if lacking == 0 {
			t.Errorf("%s leaves nothing blank", name)
		}
	}
}

func checksOf(p planner.Plan, id string) []check.Said {
	return slices.DeleteFunc(slices.Clone(p.Checks), func(c check.Said) bool { return c.ID != id })
}

// Water is held where it stands highest above an underside: a slow look at every place finds none where it stands higher, and one where it
// stands as high.
func TestWaterIsHeldWhereItStandsHighest(t *testing.T) {
	g, err := demo.Surveyed("tram-depot")
	if err != nil {
		t.Fatal(err)
	}
	p := planner.Make(g.Job, g.Surfaces...)
	level := g.Job.Checks.Water.Level.Value
	highest := -1000.0
	for _, r := range p.SetOut {
		if r.Levels != nil && r.Levels.Underside != nil {
			highest = max(highest, level-*r.Levels.Underside)
		}
	}
	if highest <= 0 {
		t.Fatalf("the water of the demo stands at most %g m above an underside: nothing is held", highest)
	}
	want, found := check.Length.Of(highest).In(false), false
	for _, c := range checksOf(p, "flotation.open") {
		for _, given := range c.Given {
			found = found || given.Name == "level of the water at the unit" && strings.HasPrefix(given.Is, want)
		}
	}
	if !found {
		t.Errorf("nothing is held against water %s above the underside", want)
	}
}

// A cut piece below what crosses has no rating, whatever the whole ones have; the supplier's word gives it back. The wheel is half of its axle
// and what it counts more.
func TestCutPiecesDoNotInheritARating(t *testing.T) {
	g, err := demo.Surveyed("hand-troughs")
	if err != nil {
		t.Fatal(err)
	}
	s := &g.Job.Supplies[0]
	s.Rating = job.Known("10 kN")
	s.RatedOn = job.Known(job.Section{Width: 200 * measure.Millimetre, Height: 200 * measure.Millimetre})
	g.Job.Checks.Dynamic = job.Known("50")
	g.Job.Checks.Vehicles = []job.Vehicle{{ID: "V1", Axles: []job.Axle{{Load: "12 kN"}}, Wheels: measure.Metre, Tyre: &job.Section{Width: 200 * measure.Millimetre, Height: 200 * measure.Millimetre}}}
	g.Job.Route.Legs[1].Crossings = []job.Crossing{{ID: "X1", At: 6 * measure.Metre, Path: 11 * measure.Metre, Crosses: []string{"V1"}, MayCut: true, Strips: []job.Strip{{From: -100 * measure.Millimetre, To: 100 * measure.Millimetre}}}}
	look := func(said string) (whole, cut string) {
		p := planner.Make(g.Job, g.Surfaces...)
		for _, c := range checksOf(p, "load.wheel") {
			if !strings.Contains(c.What, "units ") {
				continue
			}
			if c.Value != "" && !strings.HasPrefix(c.Value, "9 kN") || !strings.HasPrefix(c.Limit, "10 kN") {
				t.Errorf("%s: the wheel is %s, its limit %s", said, c.Value, c.Limit)
			}
			verdict := c.Verdict + strings.Join(c.Missing, "")
			if strings.Contains(c.What, "whole") {
				whole = verdict
			} else {
				cut = verdict
			}
		}
		return whole, cut
	}
	whole, cut := look("as declared")
	if whole != string(finding.Meets) || !strings.Contains(cut, "it does not inherit it") {
		t.Errorf("whole pieces: %q, others: %q", whole, cut)
	}
	s.CutRating = job.Known(true)
	if whole, cut = look("cut pieces keep it"); whole != string(finding.Meets) || cut != string(finding.Meets) {
		t.Errorf("where cut pieces keep it: %q, %q", whole, cut)
	}
}

// A pull goes through its legs in their order, whichever way they were drawn; legs that do not follow each other are a fault.
func TestPullsFollowTheirLegs(t *testing.T) {
	g, err := demo.Surveyed("tram-depot")
	if err != nil {
		t.Fatal(err)
	}
	pull := func(legs ...string) planner.Plan {
		g.Job.Checks.Cables.Pulls = []job.CablePull{{Cable: "traction feeder", Legs: legs}}
		return planner.Make(g.Job, g.Surfaces...)
	}
	there, back := pull("A", "B", "C"), pull("C", "B", "A")
	a, b := checksOf(there, "cable.pull-there"), checksOf(back, "cable.pull-back")
	if len(a) != 1 || len(b) != 1 || a[0].Value != b[0].Value {
		t.Errorf("from the start %v, the other way round from the end %v", a, b)
	}
	if p := pull("A", "C"); !slices.ContainsFunc(p.Findings, func(f finding.Finding) bool {
		return f.ID == "planner.pull" && strings.Contains(f.Text, "leg C does not begin where leg A ends")
	}) {
		t.Error("a pull that skips a leg is not refused")
	}
}

// BenchmarkChecks holds the 420 m of the tram depot against all that it has on file.
func BenchmarkChecks(b *testing.B) {
	g, err := demo.Surveyed("tram-depot")
	if err != nil {
		b.Fatal(err)
	}
	again := planner.ChecksAgain(g.Job, g.Surfaces)
	for b.Loop() {
		b.ReportMetric(float64(again()), "checks")
	}
}
