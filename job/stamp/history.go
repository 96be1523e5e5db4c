package stamp

import (
	"strings"
	"time"
)

// Revision is a revision of a job as whoever keeps it tells it.
type Revision struct {
	ID      string    `json:"id"`
	Parents []string  `json:"parents"` // the revisions that it was made from
	Author  string    `json:"author"`
	Note    string    `json:"note,omitempty"`
	At      time.Time `json:"at"` // when it was made or taken; of one whose id holds the time, that one counts
	Unsent  bool      `json:"unsent,omitempty"`
}

// Said is a revision of a number in a list: which it is, when it was made and by whom.
func (r Revision) Said(number int) string {
	at := r.At
	if made, ok := madeAt(r.ID); ok {
		at = made
	}
	text := Stamp{Revision: r.ID, Number: number}.state() + by(r.Author) + ", " + on(at)
	if r.Unsent {
		text += ", not yet sent"
	}
	return text
}

// Issue is something that was issued.
type Issue struct {
	Name     string    `json:"name"`
	Revision string    `json:"revision"`
	Author   string    `json:"author"`
	Core     string    `json:"core"` // version of the core that made its plan
	At       time.Time `json:"at"`
}

// History is what is known of a job's revisions, in any order, and of what was issued, in the order in which it was.
type History struct {
	Revisions []Revision `json:"revisions"`
	Issued    []Issue    `json:"issued"`
}

// Of is the stamp of a revision. The same revision in the same history always has the same: the number follows from what it was
// made from, the time from its id where that holds one. Whoever knows less of what came before says that the number is not known.
func (h History) Of(revision string) Stamp {
	w := h.walk()
	s := Stamp{Revision: revision, Number: w.depth(revision)}
	if r := w.by[revision]; r != nil {
		s.By, s.At = r.Author, r.At
	}
	if at, ok := madeAt(revision); ok {
		s.At = at
	}
	for id := range w.number {
		if r := w.by[id]; r != nil && r.Unsent {
			s.Unsent++
		}
	}
	for i := range h.Issued {
		one := &h.Issued[i]
		switch n, passed := w.number[one.Revision]; {
		case one.Revision == revision:
			s.Issued = one
		case passed && n >= s.Since:
			s.Before, s.Since = one, n
		}
	}
	return s
}

// Numbers is the number of every revision; 0 where not all is known of what it was made from.
func (h History) Numbers() map[string]int {
	w := h.walk()
	for _, r := range h.Revisions {
		w.depth(r.ID)
	}
	return w.number
}

func (h History) walk() walk {
	w := walk{by: make(map[string]*Revision, len(h.Revisions)), number: map[string]int{}}
	for i := range h.Revisions {
		w.by[h.Revisions[i].ID] = &h.Revisions[i]
	}
	return w
}

// walk goes from revisions to those that they were made from.
type walk struct {
	by     map[string]*Revision
	number map[string]int // of those that were passed; 0: not known
}

// depth is one more than the greatest depth of what a revision was made from. Histories are long: it does not call itself.
func (w *walk) depth(id string) int {
	open := map[string]bool{} // on the way from id; met again, the history goes round in a ring
	for stack := []string{id}; len(stack) > 0; {
		at := stack[len(stack)-1]
		if _, done := w.number[at]; done {
			stack = stack[:len(stack)-1]
			continue
		}
		r := w.by[at]
		if r == nil {
			w.number[at] = 0
			continue
		}
		open[at] = true
		deepest, known, waits := 0, true, false
		for _, p := range r.Parents {
			n, done := w.number[p]
			switch {
			case !done && open[p]:
				known = false
			case !done:
				stack, waits = append(stack, p), true
			}
			known, deepest = known && (n > 0 || !done), max(deepest, n)
		}
		if waits {
			continue
		}
		if w.number[at] = 0; known {
			w.number[at] = deepest + 1
		}
	}
	return w.number[id]
}

// letters are those of an id that a device makes: 26 in base 32, the first ten of them the milliseconds since 1970 (ULID).
const letters = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"

// madeAt is the time that an id holds.
func madeAt(id string) (time.Time, bool) {
	if len(id) != 26 || id[0] > '7' {
		return time.Time{}, false
	}
	ms := int64(0)
	for i := range id {
		n := strings.IndexByte(letters, id[i])
		if n < 0 {
			return time.Time{}, false
		}
		if i < 10 {
			ms = ms<<5 | int64(n)
		}
	}
	return time.UnixMilli(ms).UTC(), true
}
