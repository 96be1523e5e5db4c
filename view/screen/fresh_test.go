package screen

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job"
)

// freshAfter opens the changed job on a desk of its own and asks it what is new against what was found before.
func freshAfter(t *testing.T, p demoed, before []Finding, change func(*job.Job)) (Fresh, Screen) {
	t.Helper()
	j, faults := job.FromJSON(job.CanonicalJSON(p.job))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	change(&j)
	var d Desk
	var s Screen
	asked(t, &d, "open", map[string]any{"job": json.RawMessage(job.CanonicalJSON(j))}, &s, p)
	var f Fresh
	asked(t, &d, "fresh", map[string]any{"before": before, "hash": s.Hash}, &f, p)
	return f, s
}

func leg(j *job.Job, id string) *job.Leg {
	i := slices.IndexFunc(j.Route.Legs, func(l job.Leg) bool { return l.ID == id })
	return &j.Route.Legs[i]
}

// TestFreshSaysNothingOfNothing holds every demo job against itself.
func TestFreshSaysNothingOfNothing(t *testing.T) {
	for _, name := range demo.Names() {
		d, p, s := opened(t, name)
		var f Fresh
		asked(t, d, "fresh", map[string]any{"before": s.Findings}, &f, p)
		if f.Said != "" || len(f.New)+len(f.Gone) > 0 {
			t.Errorf("%s against itself: %+v", name, f)
		}
		asked(t, d, "fresh", map[string]any{"before": []Finding{}}, &f, p)
		if len(f.New) != len(grave(s.Findings)) || len(f.Gone) > 0 {
			t.Errorf("%s against nothing: %d of %d are new", name, len(f.New), len(grave(s.Findings)))
		}
		if !slices.IsSortedFunc(f.New, func(a, b Finding) int { return gravity[a.Kind] - gravity[b.Kind] }) {
			t.Errorf("%s: the gravest does not come first", name)
		}
	}
}

// TestAServiceInTheTrenchIsFresh puts a service where the trench is dug, takes it out again, and moves it to another leg: each is
// told, with where, limit and value, in whatever figures the rest of the run changes meanwhile.
func TestAServiceInTheTrenchIsFresh(t *testing.T) {
	_, p, s := opened(t, "tram-depot")
	depth := 700 * measure.Millimetre
	with := func(on, name string) func(*job.Job) {
		return func(j *job.Job) {
			l := leg(j, on)
			l.Services = append(l.Services, job.Service{ID: "Q9", Name: name, At: 12 * measure.Metre, Width: 150 * measure.Millimetre, Clear: 200 * measure.Millimetre, Depth: &depth, Quality: "trial hole"})
		}
	}
	f, there := freshAfter(t, p, s.Findings, with("C", "old main 1"))
	i := slices.IndexFunc(f.New, func(f Finding) bool { return strings.Contains(f.Text, `"old main 1"`) })
	if i < 0 || !strings.HasPrefix(f.Said, many(len(f.New), "1 finding is new", "%d findings are new")) {
		t.Fatalf("a service in the dig is not told: %+v", f)
	}
	if n := f.New[i]; n.Limit == "" || n.Value == "" || n.At == nil || n.Where != "leg C, chainage 0+012.000" {
		t.Errorf("where, limit and value are not told: %+v", n)
	}
	back, _ := freshAfter(t, p, there.Findings, func(*job.Job) {})
	if len(back.New) != len(f.Gone) || len(back.Gone) != len(f.New) {
		t.Errorf("there: %s; back again: %s", f.Said, back.Said)
	}
	other, _ := freshAfter(t, p, there.Findings, with("C", "old main 2"))
	named := func(l []Finding, name string) bool {
		return slices.ContainsFunc(l, func(f Finding) bool { return strings.Contains(f.Text, name) })
	}
	if !named(other.New, "old main 2") || !named(other.Gone, "old main 1") {
		t.Errorf("one service in the place of another: %+v", other)
	}
	deeper, _ := freshAfter(t, p, there.Findings, func(j *job.Job) {
		with("C", "old main 1")(j)
		leg(j, "C").Services[len(leg(j, "C").Services)-1].At += 40 * measure.Millimetre
	})
	if named(deeper.New, "old main 1") || named(deeper.Gone, "old main 1") {
		t.Errorf("the same service 40 mm further is no news: %+v", deeper)
	}
}

// TestABrokenJobTellsNoneGone: a job that cannot be laid out does not make what it said before go away.
func TestABrokenJobTellsNoneGone(t *testing.T) {
	_, p, s := opened(t, "tram-depot")
	f, broken := freshAfter(t, p, s.Findings, func(j *job.Job) { leg(j, "C").To = leg(j, "C").From })
	if len(f.New) == 0 || f.New[0].Kind != "fault" || len(f.Gone) > 0 {
		t.Errorf("%+v, findings %+v", f, broken.Findings)
	}
}

// A leg that cannot be laid out leaves levels and much else unsaid: none of what was found of them before is gone.
func TestAnImpossibleLegTellsNoneGone(t *testing.T) {
	_, p, s := opened(t, "tram-depot")
	f, after := freshAfter(t, p, s.Findings, func(j *job.Job) {
		c := leg(j, "C")
		c.Zones = append(c.Zones, job.Zone{ID: "Z99", From: 10 * measure.Metre, To: 14 * measure.Metre, Why: "wider than the longest unit"})
	})
	impossible := slices.ContainsFunc(after.Findings, func(f Finding) bool { return f.Kind == "impossible" })
	if !impossible || len(f.New) == 0 || len(f.Gone) > 0 {
		t.Errorf("impossible %v, %+v", impossible, f)
	}
}
