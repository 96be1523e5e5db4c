package field

import (
	"slices"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/job"
)

func exact(l measure.MM) string { return measure.Length(l).String() }

// What a record names and nothing comes of is said by name, with who wrote it: each case worked by hand.
func TestWhatServesNothingIsSaid(t *testing.T) {
	g := people(t)
	j := contract()
	j.Supplies = []job.Supply{{ID: plain.Supply}}
	offcut := func(supply, mark string, l measure.Length) Record {
		return g.makes("a", Count, "", "", CountSays{Lines: []Counted{{Piece: Piece{supply, "unit", l, mark}, Count: 1}}})
	}
	for i, c := range []struct {
		r    Record
		want []string // of each finding some words; none: nothing is said
	}{
		{g.makes("a", Set, "A-002", "A-004", SetSays{Within: true, Off: []Off{{Place: "A-001", By: 4 * mm}, {Place: "A-003", By: mm}, {Place: "B-003", By: 2 * mm}}}), []string{"the end of A-001 is off by 4 mm", "the end of B-003 is off by 2 mm"}},
		{g.makes("a", Set, "A-002", "A-004", SetSays{Within: true, Off: []Off{{Place: "A-002", By: 4 * mm}}}), nil},
		{g.makes("a", Service, "", "", ServiceSays{Name: "gas", Met: true, Leg: "ZZ", At: mm, Depth: BelowBed}), []string{`gas on leg "ZZ", and the plan has A, B`}},
		{g.makes("a", Count, "", "", CountSays{Lines: []Counted{{Piece: Piece{"std", "unit", 2400 * mm, ""}, Count: 2}}}), []string{`the job has no supply "std"`}},
		{offcut(plain.Supply, "X1", 1240*mm), []string{"X1 is no place of the plan"}},
		{offcut(plain.Supply, "A-002/a", 1240*mm), nil},
		{offcut(plain.Supply, "A-002/a", 0), []string{"without its length"}},
		{offcut(plain.Supply, "A-002", 0), nil},
	} {
		b := NewBook(small()).Under(Asks(j))
		b.Add(c.r)
		var said []string
		for _, f := range b.State("").Findings {
			if !strings.Contains(f.Text, c.r.ID) || !strings.Contains(f.Text, c.r.Person) || f.Try == "" {
				t.Errorf("%d: which record, by whom: %+v", i, f)
			}
			said = append(said, f.Text)
		}
		if len(said) != len(c.want) || slices.ContainsFunc(c.want, func(w string) bool {
			return !slices.ContainsFunc(said, func(s string) bool { return strings.Contains(s, w) })
		}) {
			t.Errorf("%d: %q, want %q", i, said, c.want)
		}
	}
}

// Findings of a job in feet and inches have its lengths so.
func TestFindingsSpeakTheJobsSystem(t *testing.T) {
	g := people(t)
	j := contract()
	j.System = job.Imperial
	b := NewBook(small()).Under(Asks(j))
	b.Add(g.makes("a", Gap, "A-001", "", GapSays{Left: new(measure.Inch / 4), Right: new(measure.Inch / 4)}), g.makes("b", Gap, "A-001", "", GapSays{Left: new(measure.Inch), Right: new(9 * measure.Inch / 32)}))
	b.Add(g.makes("a", Count, "", "", CountSays{Lines: []Counted{{Piece: plain, Count: 0}}}), g.makes("a", Set, "A-001", "A-002", SetSays{Within: true}))
	list := b.State("").Findings
	if len(list) != 3 {
		t.Fatalf("%v", list)
	}
	for _, f := range list {
		if strings.Contains(f.Text, " mm") || !strings.Contains(f.Text, `"`) {
			t.Error(f.Text)
		}
	}
}
