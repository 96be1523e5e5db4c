package field

import "iter"

// byID finds entries by the ids of their records. It is asked twice a record of records by the million, where the tables of the
// language take most of the time; here an id is found by its short number, mostly at the first look.
type byID struct {
	slots []slot // a power of two of them, at most half of them taken
	n     int
}

type slot struct {
	hash uint64
	e    *entry // nil: nothing is here
}

// room makes room for so many more.
func (t *byID) room(more int) {
	if 2*(t.n+more) <= len(t.slots) {
		return
	}
	size := max(16, len(t.slots))
	for size < 2*(t.n+more) {
		size *= 2
	}
	old := t.slots
	t.slots = make([]slot, size)
	for _, s := range old {
		if s.e != nil {
			*t.at(s.hash, s.e.ID) = s
		}
	}
}

// at is where an id is, or where it belongs: there has to be room.
func (t *byID) at(hash uint64, id string) *slot {
	last := uint64(len(t.slots) - 1)
	for i := hash & last; ; i = (i + 1) & last {
		if s := &t.slots[i]; s.e == nil || s.hash == hash && s.e.ID == id {
			return s
		}
	}
}

// of is the entry of an id; nil: there is none.
func (t *byID) of(id string) *entry {
	if t.n == 0 {
		return nil
	}
	return t.at(hashOf(id), id).e
}

// has tells whether the id of an entry is here.
func (t *byID) has(e *entry) bool { return t.n > 0 && t.at(e.hash, e.ID).e != nil }

// put has an entry stand for its id; false: there is one already. The entry itself is looked at where its short number is here.
func (t *byID) put(own slot) bool {
	t.room(1)
	last := uint64(len(t.slots) - 1)
	for i := own.hash & last; ; i = (i + 1) & last {
		switch s := &t.slots[i]; {
		case s.e == nil:
			*s = own
			t.n++
			return true
		case s.hash == own.hash && s.e.ID == own.e.ID:
			return false
		}
	}
}

// replace has an entry stand for its id in place of the one that did.
func (t *byID) replace(e *entry) { t.at(e.hash, e.ID).e = e }

// all are the entries, in no order.
func (t *byID) all() iter.Seq[*entry] {
	return func(yield func(*entry) bool) {
		for _, s := range t.slots {
			if s.e != nil && !yield(s.e) {
				return
			}
		}
	}
}
