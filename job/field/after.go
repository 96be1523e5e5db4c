package field

import (
	"cmp"
	"slices"
)

// Which of two records of one thing is later is said by the records: whoever wrote one names those of the thing that were known
// then (After), and a device knows what it wrote itself. Clocks are not asked.

// later tells whether r was written by somebody who knew of s.
func later(r, s *entry) bool {
	if r.device == s.device && r.device.name != "" {
		return r.Number > s.Number
	}
	return r.knew(s) || r.corrects && r.Corrects == s.ID
}

// last are those records of one thing that no other of them is later than: one where everybody knew what was there, several where
// people wrote without knowing of each other. The list is in the order of devices and numbers (standing), and stays so.
func last(of []*entry) []*entry {
	if len(of) < 2 {
		return of
	}
	var open []*entry
	for i, s := range of {
		if i+1 < len(of) && s.device.name != "" && of[i+1].device == s.device && of[i+1].Number > s.Number {
			continue // what its own device wrote next is later
		}
		if !slices.ContainsFunc(of, func(r *entry) bool { return r != s && later(r, s) && !later(s, r) }) {
			open = append(open, s)
		}
	}
	if len(open) == 0 { // they name each other in a ring: nobody can have seen all of that
		return of
	}
	return open
}

// lastThat are the last records of a thing among those that stand and say something of it: what a later record does not say stays as
// it was said before. Where several are left they are looked at once more by way of all records of the place, those too that say
// nothing of the thing or were corrected: whoever knew of those knew what they knew.
func lastThat(all, standing []*entry, says func(*entry) bool) []*entry {
	some := standing
	if i := slices.IndexFunc(standing, func(e *entry) bool { return !says(e) }); i >= 0 {
		some = slices.Clone(standing[:i])
		for _, e := range standing[i:] {
			if says(e) {
				some = append(some, e)
			}
		}
	}
	open := last(some)
	if len(open) < 2 || len(some) == len(all) {
		return open
	}
	var left []*entry
	for _, s := range open {
		if !slices.ContainsFunc(open, func(r *entry) bool { return r != s && comesAfter(all, r, s) && !comesAfter(all, s, r) }) {
			left = append(left, s)
		}
	}
	if len(left) == 0 {
		return open
	}
	return left
}

// comesAfter tells whether r was written by somebody who knew of s, or of one who did: by way of other records of the same thing.
func comesAfter(of []*entry, r, s *entry) bool {
	reached := []*entry{r}
	for i := 0; i < len(reached); i++ {
		if later(reached[i], s) {
			return true
		}
		for _, e := range of {
			if !slices.Contains(reached, e) && later(reached[i], e) {
				reached = append(reached, e)
			}
		}
	}
	return false
}

// inOrder sorts records as every device sorts them: by device and number, which nobody's clock changes.
func inOrder(a, b *entry) int {
	switch {
	case a.device != b.device:
		return a.device.rank - b.device.rank
	case a.Number != b.Number:
		return cmp.Compare(a.Number, b.Number)
	}
	return cmp.Compare(a.ID, b.ID)
}

// standing are the records of a list that nothing corrects, in the order that every device has them in; the list itself is put in
// that order.
func standing(of []*entry) []*entry {
	if !slices.IsSortedFunc(of, inOrder) {
		slices.SortFunc(of, inOrder) // the sort that All has as well
	}
	gone := 0
	for _, e := range of {
		if e.gone {
			gone++
		}
	}
	if gone == 0 {
		return of
	}
	list := make([]*entry, 0, len(of)-gone)
	for _, e := range of {
		if !e.gone {
			list = append(list, e)
		}
	}
	return list
}
