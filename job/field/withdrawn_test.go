package field

import (
	"slices"
	"strings"
	"testing"

	"trenchwright/base/measure"
)

// renamed is the small run after it was planned again: A-003 is laid no more, A-002A came behind A-002.
func renamed(t *testing.T) (was, is *Run) {
	was, is = small(), small()
	leg := &is.Legs[0]
	if leg.ID != "A" || leg.Units[2].Place != "A-003" {
		t.Fatalf("%+v", leg)
	}
	leg.Units[2].Place = "A-002A"
	leg.Units[2].Covers, leg.Units[2].Lids = nil, nil
	leg.Withdrawn = []string{"A-003"}
	return was, is
}

// Two phones, one of which did not know yet that the leg was planned again: what it says of places that are still there counts, what
// it says of a withdrawn one counts nowhere, of a new one it says nothing, and all of that is told.
func TestWithdrawnPlaces(t *testing.T) {
	was, is := renamed(t)
	g := people(t)
	writes := func(run *Run, device, from, to string, says SetSays) Record {
		r := Record{From: from}
		s := run.Writes(&r, says)
		out := g.makes(device, Set, from, to, s)
		out.Places = r.Places
		return out
	}
	for _, c := range []struct {
		from, to string
		run      *Run
		set      []string // places that are set under the new plan
		told     string
	}{
		{"A-001", "A-004", was, []string{"A-001", "A-002", "A-004"}, "It says nothing of A-002A, put in since. What it says of A-003, withdrawn since, counts nowhere."},
		{"A-004", "A-001", was, []string{"A-001", "A-002", "A-004"}, "It says nothing of A-002A"},
		{"A-003", "A-004", was, []string{"A-004"}, "What it says of A-003, withdrawn since"},
		{"A-001", "A-003", was, []string{"A-001", "A-002"}, "What it says of A-003"},
		{"A-003", "A-001", was, []string{"A-001", "A-002"}, "What it says of A-003"},
		{"A-003", "", was, nil, "names A-003, a place of leg A that was withdrawn; it counts nowhere"},
		{"A-004", "", was, []string{"A-004"}, ""},
		{"A-001", "A-004", is, []string{"A-001", "A-002", "A-002A", "A-004"}, ""},
		{"A-002A", "A-004", is, []string{"A-002A", "A-004"}, ""},
	} {
		b := NewBook(is)
		b.Add(writes(c.run, "a", c.from, c.to, SetSays{Within: true}))
		s := b.State("")
		var set []string
		for _, u := range s.Legs[0].Units {
			if u.Set.Is == Yes {
				set = append(set, u.Place)
			}
		}
		if !slices.Equal(set, c.set) {
			t.Errorf("%s to %s: set %v, want %v", c.from, c.to, set, c.set)
		}
		told := ""
		for _, f := range s.Findings {
			told += f.Text
		}
		if c.told == "" && told != "" || !strings.Contains(told, c.told) {
			t.Errorf("%s to %s: %q", c.from, c.to, told)
		}
	}
}

// An end that is off is off the place that whoever measured it had before them, wherever the plan has that place since.
func TestOffAPlaceThatMoved(t *testing.T) {
	was, is := small(), small()
	u := &is.Legs[0].Units[1]
	u.End += 40 * mm
	g := people(t)
	r := Record{From: u.Place}
	says := was.Writes(&r, SetSays{Off: []Off{{Place: u.Place, By: 45 * mm}}, Plus: mm})
	for run, want := range map[*Run]measure.Length{was: 45 * mm, is: 5 * mm} {
		b := NewBook(run)
		b.Add(g.makes("a", Set, u.Place, "", says))
		if got, _ := b.Unit(u.Place); got.End == nil || got.End.Value != 45*mm || got.Ahead == nil || *got.Ahead != want {
			t.Errorf("%+v, %v, want %s", got.End, got.Ahead, want)
		}
	}
	was.Legs[0].Back = true
	r = Record{From: u.Place}
	back := was.Writes(&r, SetSays{Off: []Off{{Place: u.Place, By: -2 * mm}}}).(SetSays)
	if at := back.Off[0].At; at == nil || *at != was.Legs[0].Units[3].End-was.Legs[0].Units[1].Start {
		t.Errorf("laid from the other end: %v", at)
	}
}

// The order of names is that of laying.
func TestNamesInLaying(t *testing.T) {
	names := []string{"A-001", "A-002", "A-002A", "A-002B", "A-002Z", "A-002AA", "A-003", "A-099", "A-100", "A-1000"}
	for i := range names {
		for k := range names {
			if got := inLaying(names[i], names[k]); (got < 0) != (i < k) || (got > 0) != (i > k) {
				t.Errorf("%s, %s: %d", names[i], names[k], got)
			}
		}
		if inserted(names[i]) != (i >= 2 && i <= 5) {
			t.Error(names[i])
		}
	}
}
