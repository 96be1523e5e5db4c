package field

import (
	"cmp"
	"slices"
)

// Which of two records of one thing is later is said by the records: whoever wrote one names those of the thing that were known
// then (After), and a device knows what it wrote itself. Clocks are not asked.

// later tells whether r was written by somebody who knew of s.
func later(r, s *Record) bool {
	if r.Device == s.Device && r.Device != "" {
		return r.Number > s.Number
	}
	return slices.Contains(r.After, s.ID)
}

// last are those records of one thing that no other of them is later than: one where everybody knew what was there, several where
// people wrote without knowing of each other. The order of the list is kept.
func last(of []*Record) []*Record {
	if len(of) < 2 {
		return of
	}
	var open []*Record
	for _, s := range of {
		if !slices.ContainsFunc(of, func(r *Record) bool { return r != s && later(r, s) && !later(s, r) }) {
			open = append(open, s)
		}
	}
	if len(open) == 0 { // they name each other in a ring: nobody can have seen all of that
		return of
	}
	return open
}

// inOrder sorts records as every device sorts them: by device and number, which nobody's clock changes.
func inOrder(a, b *Record) int {
	return cmp.Or(cmp.Compare(a.Device, b.Device), a.Number-b.Number, cmp.Compare(a.ID, b.ID))
}
