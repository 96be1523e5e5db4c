package field

import (
	"strings"

	"trenchwright/base/measure"
)

// Run is what the records are about: the places of an issued plan, leg by leg in laying order.
type Run struct {
	Legs []Leg
}

// Leg is one leg with its units in laying order.
type Leg struct {
	ID    string
	Units []Unit
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

	GapLeast, GapMost measure.Length // what the joint after it may have; both 0: not known
	GapFrom           string         // where that comes from
	Levels            []Planned      // those that are known
}

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

// spot is the place of one unit of a run: its leg and its number in it.
type spot struct{ leg, unit int }

// mark is a place by number: a unit, or one of its covers.
type mark struct {
	spot
	cover int // which of the unit's covers; -1: the unit itself, or a joint of it
}

// index finds places by name.
type index struct {
	run    *Run
	places map[string]mark // units and covers
}

func indexed(r *Run) index {
	n := 0
	for _, leg := range r.Legs {
		for i := range leg.Units {
			n += 1 + len(leg.Units[i].Covers)
		}
	}
	x := index{run: r, places: make(map[string]mark, n)}
	for l, leg := range r.Legs {
		for u, unit := range leg.Units {
			for c, name := range unit.Covers {
				x.places[name] = mark{spot{l, u}, c}
			}
		}
	}
	for l, leg := range r.Legs {
		for u, unit := range leg.Units {
			x.places[unit.Place] = mark{spot{l, u}, -1}
		}
	}
	return x
}

// at is the unit that a place belongs to: a unit itself, a cover's, or the one before a joint.
func (x index) at(place string) (spot, bool) {
	m, ok := x.mark(place)
	return m.spot, ok
}

func (x index) mark(place string) (mark, bool) {
	m, ok := x.places[place]
	if !ok {
		if before, _, joint := strings.Cut(place, "/"); joint {
			if m, ok = x.places[before]; m.cover >= 0 {
				return mark{}, false
			}
		}
	}
	return m, ok
}

// marks are the places that a record names; false where one is not of the run, or the two are of different legs.
func (x index) marks(from, to string) (a, z mark, ok bool) {
	if a, ok = x.mark(from); !ok || to == "" {
		return a, a, ok
	}
	z, ok = x.mark(to)
	return a, z, ok && a.leg == z.leg
}

// stretch are the units from one place to another, in laying order, whichever is named first; false where a place is not of the
// run, or the two are of different legs.
func (x index) stretch(from, to string) (leg, first, last int, ok bool) {
	a, z, ok := x.marks(from, to)
	if !ok {
		return 0, 0, 0, false
	}
	return a.leg, min(a.unit, z.unit), max(a.unit, z.unit), true
}
