package demo_test

import (
	"math"
	"slices"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/demo"
	"trenchwright/job/planner"
)

// planned is a demo job planned on its own surveys.
func planned(t *testing.T, name string) planner.Plan {
	t.Helper()
	on, err := demo.Surveyed(name)
	if err != nil || len(on.Surfaces) != len(on.Job.Ground.Surfaces) {
		t.Fatalf("%s: %d of %d surfaces: %v", name, len(on.Surfaces), len(on.Job.Ground.Surfaces), err)
	}
	return planner.Make(on.Job, on.Surfaces...)
}

// Every demo is planned from its surveys to the level of every joint, with a dig on every leg; what may call for
// somebody is listed here, so that nothing joins it unseen. Figures of covers are how far they may lie off the
// finished ground, in millimetres: at castings, which are planes, and at pins they have to.
func TestDemosArePlannedToTheLastLevel(t *testing.T) {
	for _, want := range []struct {
		name                 string
		legs, joints, grades int
		off                  float64 // mm
		rock, water          bool
		calls                []string // for somebody: what may, by the finding
	}{
		{"tram-depot", 10, 158, 36, 45, true, false, []string{"earthwork.undermines", "earthwork.service-depth-unknown", "earthwork.service-below-bed", "profile.apart", "planner.cover-level", "planner.cover-off", "planner.pad-short", "planner.peg-dug", "planner.peg-in-the-way", "lifting.hand", "load.plate-thickness"}},
		{"battery-yard", 7, 42, 9, 28, true, false, []string{"earthwork.service-depth-unknown", "planner.cover-off", "planner.peg-dug", "planner.peg-in-the-way", "planner.peg-near", "cable.apart"}},
		{"hand-troughs", 3, 50, 21, 6, false, true, []string{"earthwork.water", "planner.cover-level", "lifting.hand"}},
	} {
		p := planned(t, want.name)
		if len(p.Legs) != want.legs || len(p.SetOut) != want.joints || len(p.Grades) != want.grades {
			t.Errorf("%s: %d legs, %d places of set-out, %d grades; want %d, %d, %d", want.name, len(p.Legs), len(p.SetOut), len(p.Grades), want.legs, want.joints, want.grades)
		}
		wet := false
		for _, s := range p.SetOut {
			l := s.Levels
			if l == nil || l.Cover == nil || l.Wall == nil || l.Underside == nil || l.Invert == nil || l.Formation == nil || l.Existing == nil || l.Finished == nil {
				t.Errorf("%s: %s has no level for something: %+v", want.name, s.Place, l)
				continue
			}
			if off := (*l.Cover - *l.Finished) * 1000; math.Abs(off) > want.off {
				t.Errorf("%s: the cover at %s lies %.1f mm off the finished ground", want.name, s.Place, off)
			}
			wet = wet || l.Water != nil && *l.Water > *l.Formation
		}
		if p.Dig == nil || len(p.Dig.Legs) != want.legs {
			t.Fatalf("%s: there is no dig on some leg", want.name)
		}
		for _, l := range p.Dig.Legs {
			if l.Volumes.Dug <= 0 || l.Volumes.Fill <= 0 || l.Volumes.Stone <= 0 || l.Deepest <= 0 {
				t.Errorf("%s: leg %s is dug %g m³, filled %g m³, bedded on %g m³", want.name, l.Leg, l.Volumes.Dug, l.Volumes.Fill, l.Volumes.Stone)
			}
		}
		if rock := p.Dig.Total.Rock > 0; rock != want.rock || wet != want.water {
			t.Errorf("%s: rock in the dig %t, water %t", want.name, rock, wet)
		}
		held := map[string]bool{} // a leg that is dug in several ways is held part by part
		for _, x := range p.Excavation {
			held[x.Leg] = true
		}
		if len(held) != want.legs {
			t.Errorf("%s: %d legs are held against rules of excavation", want.name, len(held))
		}
		for _, f := range p.Findings {
			if f.Kind == finding.Fault || f.Kind == finding.Impossible || f.Kind == finding.Attention && !slices.Contains(want.calls, f.ID) {
				t.Errorf("%s: nobody meant this demo to say: %s", want.name, f)
			}
		}
	}
}

// Each demo shows what the others do not: jurisdictions, sides, ways of lying, and ways of giving ground.
func TestDemosDiffer(t *testing.T) {
	rules := map[string]bool{}
	for _, name := range demo.Names() {
		p := planned(t, name)
		if i := slices.IndexFunc(p.Excavation, func(e planner.Excavation) bool { return e.Rules == "" }); i >= 0 {
			t.Errorf("%s: leg %s names no rules", name, p.Excavation[i].Leg)
		}
		rules[p.Excavation[0].Rules] = true
	}
	if len(rules) != len(demo.Names()) {
		t.Errorf("rules of %d jurisdictions for %d jobs", len(rules), len(demo.Names()))
	}
}
