package building_test

import (
	"strings"
	"testing"

	"trenchwright/demo"
	"trenchwright/demo/building"
	"trenchwright/job/field"
	"trenchwright/job/planner"
)

// planned is a demo job on its own surveys, as the command builds it.
func planned(t testing.TB, name string) building.Planned {
	t.Helper()
	d, err := demo.Surveyed(name)
	if err != nil {
		t.Fatal(err)
	}
	p := building.Planned{Job: d.Job, Surfaces: d.Surfaces}
	p.Plan, p.Answers = planner.Ask(p.Job, p.Surfaces...)
	return p
}

// Where nothing goes wrong but what hands and tapes do, every run is handed over, and the records agree with what lies there.
func TestCalmBuildsAreHandedOver(t *testing.T) {
	for _, name := range demo.Names() {
		p := planned(t, name)
		for seed := range uint64(3) {
			r, err := building.Build(p, building.Options{Seed: seed, Calm: true})
			if err != nil {
				t.Fatal(err)
			}
			if r.Count.Units != len(r.Plan.Units) || r.Count.Covers != len(r.Plan.Covers) {
				t.Errorf("%s, seed %d: %d of %d units, %d of %d covers", name, seed, r.Count.Units, len(r.Plan.Units), r.Count.Covers, len(r.Plan.Covers))
			}
			for _, o := range r.Open {
				t.Errorf("%s, seed %d: %s", name, seed, o)
			}
		}
	}
}

// The same seed makes the same records, to the byte.
func TestTheSameSeedMakesTheSameBuild(t *testing.T) {
	p := planned(t, "battery-yard")
	text := func(seed uint64) string {
		r, err := building.Build(p, building.Options{Seed: seed})
		if err != nil {
			t.Fatal(err)
		}
		var b strings.Builder
		if err := field.Write(&b, r.Records); err != nil {
			t.Fatal(err)
		}
		return b.String() + strings.Join(r.Told, "\n")
	}
	if text(4) != text(4) {
		t.Error("two builds from one seed differ")
	}
	if text(4) == text(5) {
		t.Error("two seeds make one build")
	}
}
