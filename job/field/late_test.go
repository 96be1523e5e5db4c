package field

import "testing"

// A correction that comes before the record that it corrects is counted since that one was written, also where it names more places:
// who counted the yard without knowing of it had what it tells of in the count.
func TestOriginThatComesLate(t *testing.T) {
	g := people(t)
	wrong := g.makes("c", Set, "B-001", "", SetSays{Within: true})
	right := g.makes("a", Set, "B-001", "B-002", SetSays{Within: true})
	right.Corrects = wrong.ID
	count := g.makes("y", Count, "", "", CountSays{[]Counted{{Piece: plain, Count: 4}}, map[string]int{"a": 1}})
	last := g.makes("b", Set, "B-001", "B-002", SetSays{Within: true})
	last.Corrects = right.ID
	all := []Record{wrong, right, count, last}
	for range 40 {
		g.r.Shuffle(len(all), func(i, k int) { all[i], all[k] = all[k], all[i] })
		b := NewBook(small())
		for _, r := range all {
			b.Add(r)
			b.State("")
		}
		if s := b.State(""); s.has(plain).Have != 2 {
			t.Fatalf("%d units in the yard: 4 were counted by one who knew nothing of the two that were set", s.has(plain).Have)
		}
	}
}
