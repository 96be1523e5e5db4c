package merge_test

import (
	"bytes"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/merge"
)

func text(j job.Job) string { return string(job.CanonicalJSON(j)) }

// Whoever merges what only one side changed has what that side made, whatever it was.
func TestWhatOneSideChangedStands(t *testing.T) {
	base := playground(t)
	rapid.Check(t, func(t *rapid.T) {
		a := changed(base, drawn{t}, 3)
		for name, sides := range map[string][3]job.Job{"b,a,b": {base, a, base}, "b,b,a": {base, base, a}, "b,a,a": {base, a, a}} {
			got, clashes := merge.Merge(sides[0], sides[1], sides[2])
			if len(clashes) > 0 || text(got) != text(a) {
				t.Fatalf("merge(%s): %d clashes\n%s", name, len(clashes), cmp.Diff(text(a), text(got)))
			}
		}
	})
}

// A merged job can be read, holds no change that nobody made, misses none unless a clash says so, and does not depend on
// who comes first unless there is a clash.
func TestMergesOfRandomChanges(t *testing.T) {
	base := playground(t)
	rapid.Check(t, func(t *rapid.T) {
		one, other := changed(base, drawn{t}, 6), changed(base, drawn{t}, 3)
		got, clashes := merge.Merge(base, one, other)
		again, faults := job.FromJSON(job.CanonicalJSON(got))
		if len(faults) > 0 || text(again) != text(got) {
			t.Fatalf("the merged job: %v", faults)
		}
		for _, c := range clashes {
			if said := finding.Speech(c.Finding()); len(said) > 0 {
				t.Errorf("%v: %v", c, said)
			}
		}
		checkAgainstTwin(t, base, one, other, got, clashes)
		back, backClashes := merge.Merge(base, other, one)
		if len(clashes) == 0 && (len(backClashes) > 0 || text(back) != text(got)) {
			t.Fatalf("the other way round: %v\n%s", backClashes, cmp.Diff(text(got), text(back)))
		}
		takeAll(t, base, one, other, clashes, back)
	})
}

// takeAll takes the other side of every clash: that is the merge the other way round, as long as all clashes are of things
// that both changed.
func takeAll(t *rapid.T, base, one, other job.Job, clashes []merge.Clash, back job.Job) {
	var take []string
	for _, c := range clashes {
		if strings.Contains(c.Text, "does not fit") {
			return
		}
		take = append(take, c.Path)
	}
	got, left := merge.Merge(base, one, other, take...)
	if len(left) == 0 && len(job.Faults(got)) == 0 && text(got) != text(back) {
		t.Fatalf("all taken from the other side:\n%s", cmp.Diff(text(back), text(got)))
	}
}

// edits are changes by hand that have nothing to do with one another.
var edits = []func(*job.Job){
	func(j *job.Job) { j.Name = "another name" },
	func(j *job.Job) { j.Owner = "another owner" },
	func(j *job.Job) { j.On = "2027-01-02" },
	func(j *job.Job) { j.Documents[0].Revision = "Z" },
	func(j *job.Job) { j.Documents = append(j.Documents, job.Document{ID: "D90", Title: "letter"}) },
	func(j *job.Job) { j.Supplies[0].Saw.Kerf.Value += measure.Millimetre },
	func(j *job.Job) { j.Supplies[0].Saw.Shortest.Value += measure.Millimetre },
	func(j *job.Job) { j.Supplies[0].Title = "another title" },
	func(j *job.Job) { j.Route.Nodes[0].Note = "mind the kerb" },
	func(j *job.Job) { j.Route.Legs[0].Hold = !j.Route.Legs[0].Hold },
	func(j *job.Job) {
		l := &j.Route.Legs[0]
		l.Zones = append(l.Zones, job.Zone{ID: "Z90", From: 2 * measure.Metre, To: 3 * measure.Metre, Why: "mast"})
	},
	func(j *job.Job) {
		l := &j.Route.Legs[1]
		l.Supports = append(l.Supports, job.Support{ID: "P90", At: measure.Metre, Width: 50 * measure.Millimetre})
	},
	func(j *job.Job) { j.Dig.Compactor = "another plate" },
	func(j *job.Job) { j.Dig.Bed = job.Known(175 * measure.Millimetre) },
	func(j *job.Job) { j.Levels.Above = job.Known(15 * measure.Millimetre) },
	func(j *job.Job) { j.Rules.LipLimit = job.Known(4 * measure.Millimetre) },
}

// Changes to different things come to the same in any order, and their merge is both of them.
func TestDisjointChangesCommute(t *testing.T) {
	base := demoJob(t, "tram-depot")
	rapid.Check(t, func(t *rapid.T) {
		one, other, both := copied2(t, base), copied2(t, base), copied2(t, base)
		for i, edit := range edits {
			switch side := rapid.IntRange(0, 2).Draw(t, "side"); {
			case side == 0:
				edit(&one)
			case side == 1:
				edit(&other)
			default:
				continue
			}
			edit(&both)
			if len(job.Faults(both)) > 0 {
				t.Fatalf("edit %d is none: %v", i, job.Faults(both))
			}
		}
		got, clashes := merge.Merge(base, one, other)
		back, _ := merge.Merge(base, other, one)
		if len(clashes) > 0 || text(got) != text(both) || text(back) != text(both) {
			t.Fatalf("%v\n%s", clashes, cmp.Diff(text(both), text(got)))
		}
	})
}

func copied2(t *rapid.T, j job.Job) job.Job {
	again, faults := job.FromJSON(bytes.TrimSpace(job.CanonicalJSON(j)))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return again
}

// find is the only clash at path.
func find(t *testing.T, clashes []merge.Clash, path string) merge.Clash {
	t.Helper()
	for _, c := range clashes {
		if c.Path == path {
			return c
		}
	}
	t.Fatalf("no clash at %s in %v", path, clashes)
	return merge.Clash{}
}

func TestClashesInWords(t *testing.T) {
	base := demoJob(t, "tram-depot")
	one, other := copied(t, base), copied(t, base)
	leg := base.Route.Legs[1].ID
	crossing := base.Route.Legs[1].Crossings[0].ID
	one.Route.Legs[1].Crossings[0].Path = 4 * measure.Metre
	other.Route.Legs[1].Crossings[0].Path = 5 * measure.Metre
	one.Supplies[0].Saw.Kerf = job.Entry[measure.Length]{Value: 6 * measure.Millimetre, Known: true, From: base.Documents[0].ID, Page: "7"}
	other.Supplies[0].Saw.Kerf.Page = "9"
	one.Route.Nodes[0].Note = ""
	other.Route.Nodes[0].Note = "here"
	one.Owner, other.Owner = "first", "second"
	got, clashes := merge.Merge(base, one, other)
	c := find(t, clashes, "route.legs["+leg+"].crossings["+crossing+"].path")
	if want := "Leg " + leg + ", crossing " + crossing + ", path was 5600 mm; now 4000 mm on one side, now 5000 mm on the other"; c.Text != want {
		t.Errorf("%s\nwanted %s", c.Text, want)
	}
	if c.One != "4000 mm" || c.Other != "5000 mm" || got.Route.Legs[1].Crossings[0].Path != 4*measure.Metre {
		t.Errorf("%+v", c)
	}
	c = find(t, clashes, "supplies["+base.Supplies[0].ID+"].saw.kerf")
	if !strings.Contains(c.One, "6 mm") || !strings.Contains(c.One, "page 7") || got.Supplies[0].Saw.Kerf.Page != "7" {
		t.Errorf("a figure and its document are one thing: %+v", c)
	}
	taken, left := merge.Merge(base, one, other, c.Path, "owner")
	if taken.Supplies[0].Saw.Kerf.Page != "9" || taken.Owner != "second" || len(left) != len(clashes)-2 {
		t.Errorf("taken from the other side: %+v, %v", taken.Supplies[0].Saw.Kerf, left)
	}
}

// In a job in feet the same clash reads in feet.
func TestClashesInFeet(t *testing.T) {
	base := demoJob(t, "battery-yard")
	one, other := copied(t, base), copied(t, base)
	one.Supplies[0].Saw.Kerf = job.Known(measure.Inch / 4)
	other.Supplies[0].Saw.Kerf = job.Known(measure.Inch / 2)
	_, clashes := merge.Merge(base, one, other)
	if c := find(t, clashes, "supplies["+base.Supplies[0].ID+"].saw.kerf"); c.One != `1/4"` || c.Other != `1/2"` {
		t.Errorf("%+v", c)
	}
}

// What was taken away on one side and changed on the other is a clash; so is what both added differently, and a leg that
// leads to a node that the other side took away.
func TestThingsInLists(t *testing.T) {
	base := demoJob(t, "tram-depot")
	l := &base.Route.Legs[0]
	l.Zones = []job.Zone{{ID: "Z1", From: 2 * measure.Metre, To: 3 * measure.Metre, Why: "mast"}, {ID: "Z2", From: 4 * measure.Metre, To: 5 * measure.Metre, Why: "mast"}}
	one, other := copied(t, base), copied(t, base)
	one.Route.Legs[0].Zones = one.Route.Legs[0].Zones[1:]
	other.Route.Legs[0].Zones[0].To += measure.Metre
	other.Route.Legs[0].Zones = append(other.Route.Legs[0].Zones, job.Zone{ID: "Z3", From: 6 * measure.Metre, To: 7 * measure.Metre, Why: "kerb"})
	one.Route.Legs[0].Zones = append(one.Route.Legs[0].Zones, job.Zone{ID: "Z3", From: 6 * measure.Metre, To: 8 * measure.Metre, Why: "kerb"},
		job.Zone{ID: "Z4", From: 9 * measure.Metre, To: 10 * measure.Metre, Why: "kerb"})
	got, clashes := merge.Merge(base, one, other)
	prefix := "route.legs[" + base.Route.Legs[0].ID + "].zones"
	if c := find(t, clashes, prefix+"[Z1]"); c.One != "" || c.Was == "" || !strings.Contains(c.Text, "; removed on one side, now ") {
		t.Errorf("%+v", c)
	}
	if c := find(t, clashes, prefix+"[Z3]"); c.Was != "" || !strings.Contains(c.Other, "to 7000 mm") {
		t.Errorf("%+v", c)
	}
	var ids string
	for _, z := range got.Route.Legs[0].Zones {
		ids += z.ID + " "
	}
	if len(clashes) != 2 || ids != "Z2 Z3 Z4 " {
		t.Errorf("%v, zones %s", clashes, ids)
	}
}

// Each side is right by itself, and both together are not: what the first side did stands, and a clash says why.
func TestWhatDoesNotFitTogether(t *testing.T) {
	base := demoJob(t, "tram-depot")
	base.Documents = append(base.Documents, job.Document{ID: "D90", Title: "letter"})
	removes, refers := copied(t, base), copied(t, base)
	removes.Documents = removes.Documents[:len(removes.Documents)-1]
	refers.Dig.From = "D90"
	refers.Owner = "another owner"
	got, clashes := merge.Merge(base, removes, refers)
	if c := find(t, clashes, "dig.from"); len(clashes) != 1 || got.Owner != "another owner" || got.Dig.From != base.Dig.From || !strings.Contains(c.Text, "D90") {
		t.Errorf("%v", clashes)
	}
	got, clashes = merge.Merge(base, refers, removes)
	if c := find(t, clashes, "documents[D90]"); len(clashes) != 1 || got.Dig.From != "D90" || c.Other != "" {
		t.Errorf("%v", clashes)
	}
	if got, _ = merge.Merge(base, refers, removes, "documents[D90]"); len(job.Faults(got)) == 0 {
		t.Error("what a person asks for is done, with its fault")
	}
}

// Who puts the legs in another order has it; two orders are a clash.
func TestOrderOfThings(t *testing.T) {
	base := demoJob(t, "tram-depot")
	for len(base.Documents) < 3 {
		t.Fatal("too few documents")
	}
	one, other := copied(t, base), copied(t, base)
	d := one.Documents
	d[0], d[1] = d[1], d[0]
	other.Owner = "another"
	if got, clashes := merge.Merge(base, other, one); len(clashes) > 0 || got.Documents[0].ID != base.Documents[1].ID {
		t.Errorf("%v", clashes)
	}
	d = other.Documents
	d[0], d[2] = d[2], d[0]
	got, clashes := merge.Merge(base, one, other)
	if c := find(t, clashes, "documents[]"); got.Documents[0].ID != base.Documents[1].ID || !strings.HasPrefix(c.Text, "The order in documents was ") {
		t.Errorf("%v", c)
	}
	if got, _ = merge.Merge(base, one, other, "documents[]"); got.Documents[0].ID != base.Documents[2].ID {
		t.Error("the other order was asked for")
	}
}

// The names of two states are not merged: what comes of them is no state yet.
func TestRevisionsAreNoClash(t *testing.T) {
	base := demoJob(t, "tram-depot")
	base.Revision = &job.Revision{ID: "r1"}
	one, other := copied(t, base), copied(t, base)
	one.Revision = &job.Revision{ID: "r2", Parents: []string{"r1"}}
	other.Revision = &job.Revision{ID: "r3", Parents: []string{"r1"}}
	one.Owner = "another"
	got, clashes := merge.Merge(base, one, other)
	if len(clashes) > 0 || got.Revision != nil || got.Owner != "another" {
		t.Errorf("%v %v", clashes, got.Revision)
	}
}

func TestDifferencesInWords(t *testing.T) {
	from := demoJob(t, "tram-depot")
	to := copied(t, from)
	to.Owner = "another"
	to.Supplies[0].Saw.Kerf.Value += measure.Micrometre / 1000
	to.Documents = to.Documents[:len(to.Documents)-1]
	if list := merge.Differences(from, from); len(list) > 0 {
		t.Error(list)
	}
	var said []string
	for _, d := range merge.Differences(from, to) {
		said = append(said, d.Text)
	}
	all := strings.Join(said, "\n")
	for _, want := range []string{"Owner was ", " and is another", "Supply " + from.Supplies[0].ID + ", saw, kerf was ", ".000001 mm", "was removed: id "} {
		if !strings.Contains(all, want) {
			t.Errorf("%q is not in\n%s", want, all)
		}
	}
}
