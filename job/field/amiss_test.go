package field

import (
	"strings"
	"testing"
)

// A correction of another kind, of other places or of an id that nobody knows takes nothing away, in whatever order the two came, and is
// told with both. One that touches the places of the earlier one takes its place.
func TestCorrectionOfAnotherThingTakesNothingAway(t *testing.T) {
	g := people(t)
	set := g.makes("a", Set, "A-001", "A-004", SetSays{Within: true})
	correcting := func(kind Kind, from, to, id string, says any) Record {
		r := g.makes("b", kind, from, to, says)
		r.Corrects, r.Person = id, "S. Wren"
		return r
	}
	for i, c := range []struct {
		by   Record
		set  int
		told string
	}{
		{correcting(Gap, "B-002", "", set.ID, GapSays{Left: new(9 * mm), Right: new(9 * mm)}), 4, "field.corrects-another"},
		{correcting(Gap, "A-002", "", set.ID, GapSays{Left: new(9 * mm), Right: new(9 * mm)}), 4, "field.corrects-another"},
		{correcting(Set, "B-001", "B-002", set.ID, SetSays{Within: true}), 4, "field.corrects-another"},
		{correcting(Note, "", "", "01NOBODY", map[string]any{}), 4, "field.corrects-unknown"},
		{correcting(Set, "A-002", "A-003", set.ID, SetSays{Within: true}), 2, ""},
	} {
		for _, records := range [][]Record{{set, c.by}, {c.by, set}} {
			b := NewBook(small())
			for _, r := range records {
				b.Add(r)
				b.State("")
			}
			s := b.State("")
			if s.Legs[0].Set != c.set {
				t.Errorf("%d: %d set, not %d", i, s.Legs[0].Set, c.set)
			}
			told := ""
			for _, f := range s.Findings {
				if strings.HasPrefix(f.ID, "field.corrects-") {
					told = f.ID
					for _, want := range []string{c.by.ID, c.by.Corrects, "S. Wren", c.by.Made} {
						if !strings.Contains(f.Text, want) {
							t.Errorf("%d: %q lacks %q", i, f.Text, want)
						}
					}
				}
			}
			if told != c.told {
				t.Errorf("%d: %q, not %q", i, told, c.told)
			}
		}
	}
}
