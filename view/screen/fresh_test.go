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

// TestOneFindingWithAnotherFigure: a service that lies 50 mm deeper than before is one changed finding, with where, limit and both
// values; it is neither new nor gone, at the change and in the difference of the two states.
func TestOneFindingWithAnotherFigure(t *testing.T) {
	d, p, _ := opened(t, "tram-depot")
	at := func(depth measure.Length) (text []byte) {
		j, _ := job.FromJSON(job.CanonicalJSON(p.job))
		l := leg(&j, "C")
		l.Services = append(l.Services, job.Service{ID: "Q9", Name: "old main", At: 12 * measure.Metre, Width: 150 * measure.Millimetre, Clear: 200 * measure.Millimetre, Depth: &depth, Quality: "trial hole"})
		return job.CanonicalJSON(j)
	}
	was := at(700 * measure.Millimetre)
	var before, after Screen
	asked(t, d, "open", map[string]any{"job": json.RawMessage(was)}, &before, p)
	asked(t, d, "open", map[string]any{"job": json.RawMessage(at(750 * measure.Millimetre))}, &after, p)
	var f Fresh
	asked(t, d, "fresh", map[string]any{"before": before.Findings, "hash": after.Hash}, &f, p)
	if f.Said != "1 finding has another figure" || len(f.Changed) != 1 || len(f.New)+len(f.Gone) > 0 {
		t.Fatalf("said %q, %d changed, %d new, %d gone", f.Said, len(f.Changed), len(f.New), len(f.Gone))
	}
	one := f.Changed[0]
	if one.Was.Value == one.Now.Value || one.Now.Limit == "" || one.Now.Where != "leg C, chainage 0+012.000" || !strings.Contains(one.Now.Text, "old main") {
		t.Errorf("was %+v, is %+v", one.Was, one.Now)
	}
	var x Difference
	asked(t, d, "differ", map[string]any{"was": json.RawMessage(was), "hash": after.Hash}, &x, p)
	if len(x.Places) != 1 || len(x.Said) != 1 || x.Said[0] != "findings: 1 changed" {
		t.Fatalf("%v: %+v", x.Said, x.Places)
	}
	c := x.Places[0]
	if c.Kind != "changed" || c.Where != one.Now.Where || c.About != one.Now.Text || !strings.HasPrefix(c.Was, one.Was.Value+", limit: ") || !strings.HasPrefix(c.Now, one.Now.Value+", limit: ") {
		t.Errorf("%+v", c)
	}
}

// TestDifferenceIsReadAloud moves a bend: every line of the difference says in words what is seen, in both systems, and none reads
// the same on both sides.
func TestDifferenceIsReadAloud(t *testing.T) {
	d, p, _ := opened(t, "tram-depot")
	j, _ := job.FromJSON(job.CanonicalJSON(p.job))
	was := job.CanonicalJSON(j)
	i := slices.IndexFunc(j.Route.Nodes, func(n job.Node) bool { return n.ID == "B5" })
	j.Route.Nodes[i].At[0] += 0.25
	var s Screen
	asked(t, d, "open", map[string]any{"job": json.RawMessage(job.CanonicalJSON(j))}, &s, p)
	for _, system := range []string{"metric", "imperial"} {
		var x Difference
		asked(t, d, "differ", map[string]any{"was": json.RawMessage(was), "hash": s.Hash, "system": system, "words": "uk"}, &x, p)
		kinds := map[string]int{}
		for _, c := range x.Places {
			kinds[c.Of+" "+c.Kind]++
			said := c.Was + " | " + c.Now
			if c.Was == c.Now || strings.Contains(said, "found,") || strings.Contains(said, "0°") && !strings.Contains(said, "sawn at") && c.Of != "node" || strings.HasSuffix(c.Now, " piece") {
				t.Errorf("%s: %s %s %s: %s", system, c.Of, c.Name, c.Kind, said)
			}
		}
		for _, want := range []string{"leg changed", "node changed", "unit moved", "unit changed", "cover changed", "bill changed", "finding changed"} {
			if kinds[want] == 0 {
				t.Errorf("%s: nothing of %s: %v", system, want, kinds)
			}
		}
		if last := x.Said[len(x.Said)-1]; !strings.HasSuffix(last, "left out") {
			t.Errorf("%s: legs J and K differ by less than is read, and nothing says so: %q", system, x.Said)
		}
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
