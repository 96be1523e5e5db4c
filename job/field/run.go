package field

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"trenchwright/base/measure"
)

// Run is what the records are about: the places of an issued plan, leg by leg in laying order.
type Run struct {
	Legs  []Leg
	Bends map[string]measure.Angle // by node: by how much the run turns there as drawn, to either hand
}

// Leg is one leg with its units in laying order.
type Leg struct {
	ID        string
	Units     []Unit
	Back      bool           // it is laid from its end to its start
	Setback   measure.Length // chainage of where its first unit can begin, from its from node
	Withdrawn []string       // places that were, and are laid no more
}

// laidTo is where the end of a unit is on which the next one is laid, along the laying.
func (l *Leg) laidTo(unit int) measure.Length {
	if l.Back {
		return l.Units[len(l.Units)-1].End - l.Units[unit].Start
	}
	return l.Units[unit].End
}

// List is the list of a leg's places, as a short text: another one where a place came to it or was withdrawn.
func (l *Leg) List() string {
	h := uint64(fnvStart)
	for i := range l.Units {
		h = fnv(fnv(h, l.Units[i].Place), "\n")
	}
	return strconv.FormatUint(h, 36)
}

// Unit is one place of the plan. Chainages run along the leg's laying axis.
type Unit struct {
	Place      string
	Start, End measure.Length
	Gap        measure.Length // of the joint after it, as drawn; 0 after the last
	Piece      Piece          // what is laid there: by length, or by its mark
	Stock      Piece          // what it is, or is cut from
	Covers     []string       // places of its covers
	Lids       []Piece        // what each of them is, or is cut from

	Long   measure.Length    // of the piece on its axis; 0: not known, or cut from what is measured there
	Walls  [2]measure.Length // its left and its right side; both 0: not known
	Points [2]Point          // where it starts and where it ends, in the job's coordinates

	GapLeast, GapMost measure.Length // what the joint after it may have; both 0: not known
	GapFrom           string         // where that comes from
	Levels            []Planned      // those that are known
}

// Point is a place in the job's coordinates; both 0: not known.
type Point struct{ Easting, Northing measure.Length }

// Planned is a level as planned, at the four corners of a unit: start left, start right, end left, end right.
type Planned struct {
	Of   string
	Four [4]measure.Length
}

func (u *Unit) level(of string) *[4]measure.Length {
	for i := range u.Levels {
		if u.Levels[i].Of == of {
			return &u.Levels[i].Four
		}
	}
	return nil
}

// Level are the planned levels of a unit at its four corners, of what is named; nil: not known.
func (r *Run) Level(place, of string) *[4]measure.Length {
	for l := range r.Legs {
		for i := range r.Legs[l].Units {
			if u := &r.Legs[l].Units[i]; u.Place == place {
				return u.level(of)
			}
		}
	}
	return nil
}

// spot is the place of one unit of a run: its leg and its number in it.
type spot struct{ leg, unit int }

// Writes has a record that is about to be written carry what whoever writes it had before them: the places of its leg, and where the
// ends lie that it says are off.
func (r *Run) Writes(rec *Record, says any) any {
	leg, _ := r.leg(rec.From)
	if leg == nil {
		return says
	}
	rec.Places = leg.List()
	rec.Planned = leg.then(rec, says)
	set, ok := says.(SetSays)
	if !ok {
		return says
	}
	set.Off = slices.Clone(set.Off)
	for i := range set.Off {
		if k := slices.IndexFunc(leg.Units, func(u Unit) bool { return u.Place == set.Off[i].Place }); k >= 0 {
			set.Off[i].At = new(leg.laidTo(k))
		}
	}
	return set
}

// then is what is planned of what a record says was measured, at one unit or joint alone; nil: nothing is known of that.
func (l *Leg) then(rec *Record, says any) *Then {
	unit, _, _ := strings.Cut(rec.From, "/")
	i := slices.IndexFunc(l.Units, func(u Unit) bool { return u.Place == unit })
	if rec.To != "" && rec.To != rec.From || i < 0 {
		return nil
	}
	u, out := &l.Units[i], Then{}
	level := func(of string) {
		if four := u.level(of); four != nil {
			out.Four = slices.Clone(four[:])
		}
	}
	switch s := says.(type) {
	case GapSays:
		out.Gap = &u.Gap
	case LevelSays:
		level(s.Of)
	case SetSays:
		if s.Left != nil || s.Right != nil {
			out.Gap = &u.Gap
		}
		if len(s.Walls) > 0 {
			level("wall")
		}
	}
	if out.Gap != nil && *out.Gap == 0 {
		out.Gap = nil // after the last unit there is none
	} else if out.Gap != nil {
		out.Gap = new(*out.Gap)
	}
	if out.Gap == nil && out.Four == nil {
		return nil
	}
	return &out
}

// leg is the leg that a unit, one of its covers or the joint behind it is on.
func (r *Run) leg(place string) (*Leg, bool) {
	unit, _, _ := strings.Cut(place, "/")
	unit, _, _ = strings.Cut(unit, ".")
	for l := range r.Legs {
		if slices.ContainsFunc(r.Legs[l].Units, func(u Unit) bool { return u.Place == unit }) {
			return &r.Legs[l], true
		}
	}
	return nil, false
}

// mark is a place by number: a unit, or one of its covers.
type mark struct {
	spot
	cover int // which of the unit's covers; -1: the unit itself, or a joint of it
}

// index finds places by name.
type index struct {
	run    *Run
	places places   // units and covers
	lists  []string // of the places of each leg
}

func indexed(r *Run) index {
	n := 0
	for _, leg := range r.Legs {
		for i := range leg.Units {
			n += 1 + len(leg.Units[i].Covers)
		}
	}
	x := index{run: r, places: placesFor(n)}
	for l, leg := range r.Legs {
		for u, unit := range leg.Units {
			for c, name := range unit.Covers {
				x.places.put(name, mark{spot{l, u}, c})
			}
		}
	}
	for l, leg := range r.Legs {
		x.lists = append(x.lists, leg.List())
		for u, unit := range leg.Units {
			x.places.put(unit.Place, mark{spot{l, u}, -1})
		}
	}
	return x
}

// at is the unit that a place belongs to: a unit itself, a cover's, or the one before a joint.
func (x *index) at(place string) (spot, bool) {
	m, ok := x.mark(place)
	return m.spot, ok
}

func (x *index) mark(place string) (mark, bool) {
	m, ok := x.places.of(place)
	if !ok {
		if before, _, joint := strings.Cut(place, "/"); joint {
			if m, ok = x.places.of(before); m.cover >= 0 {
				return mark{}, false
			}
		}
	}
	return m, ok
}

// marks are the places that a record names; false where one is not of the run, or the two are of different legs. A stretch may end at a
// place that was withdrawn since: it then ends where that one lay.
func (x *index) marks(from, to string) (a, z mark, ok bool) {
	if a, ok = x.mark(from); to == "" {
		return a, a, ok
	}
	z, both := x.mark(to)
	if ok && both {
		return a, z, a.leg == z.leg
	}
	low, one := x.once(from, a, ok)
	high, two := x.once(to, z, both)
	if !one || !two || low.leg != high.leg {
		return a, z, false
	}
	back := high.half < low.half
	if back {
		low, high = high, low
	}
	first, last := (low.half+1)/2, high.half/2
	a, z = mark{spot{low.leg, first}, low.cover}, mark{spot{low.leg, last}, high.cover}
	if back {
		a, z = z, a
	}
	return a, z, first <= last
}

// between is a place on a leg in halves: unit n at 2n, a withdrawn place between the units that it lay between.
type between struct{ leg, half, cover int }

// once is where a place lies, or lay.
func (x *index) once(name string, m mark, here bool) (between, bool) {
	if here {
		return between{m.leg, 2 * m.unit, m.cover}, true
	}
	for l := range x.run.Legs {
		leg := &x.run.Legs[l]
		if slices.Contains(leg.Withdrawn, name) {
			n, _ := slices.BinarySearchFunc(leg.Units, name, func(u Unit, name string) int { return inLaying(u.Place, name) })
			return between{l, 2*n - 1, -1}, true
		}
	}
	return between{}, false
}

// onceOn is the leg that a withdrawn place was on; "" none.
func (x *index) onceOn(place string) string {
	for l := range x.run.Legs {
		if slices.Contains(x.run.Legs[l].Withdrawn, place) {
			return x.run.Legs[l].ID
		}
	}
	return ""
}

// inLaying is the order of places on a leg by their names: A-017, A-017A, A-018.
func inLaying(a, b string) int {
	numbered := func(name string) (int, string) {
		number := name[strings.LastIndexByte(name, '-')+1:]
		digits := strings.TrimRight(number, "ABCDEFGHIJKLMNOPQRSTUVWXYZ")
		n, _ := strconv.Atoi(digits)
		return n, number[len(digits):]
	}
	n, x := numbered(a)
	m, y := numbered(b)
	return cmp.Or(cmp.Compare(n, m), cmp.Compare(len(x), len(y)), cmp.Compare(x, y))
}

// inserted tells whether a place was put between others, where the plan was made again.
func inserted(place string) bool {
	last := place[len(place)-1:]
	return last >= "A" && last <= "Z"
}

// stretch are the units from one place to another, in laying order, whichever is named first; false where a place is not of the
// run, or the two are of different legs.
func (x *index) stretch(from, to string) (leg, first, last int, ok bool) {
	a, z, ok := x.marks(from, to)
	if !ok {
		return 0, 0, 0, false
	}
	return a.leg, min(a.unit, z.unit), max(a.unit, z.unit), true
}
