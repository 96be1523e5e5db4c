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

// index finds places by name.
type index struct {
	run    *Run
	spots  map[string]spot // units
	covers map[string]spot
}

func indexed(r *Run) index {
	x := index{run: r, spots: map[string]spot{}, covers: map[string]spot{}}
	for l, leg := range r.Legs {
		for u, unit := range leg.Units {
			x.spots[unit.Place] = spot{l, u}
			for _, c := range unit.Covers {
				x.covers[c] = spot{l, u}
			}
		}
	}
	return x
}

// at is the unit that a place belongs to: a unit itself, a cover's, or the one before a joint.
func (x index) at(place string) (spot, bool) {
	if s, ok := x.spots[place]; ok {
		return s, true
	}
	if s, ok := x.covers[place]; ok {
		return s, true
	}
	if before, _, ok := strings.Cut(place, "/"); ok {
		s, ok := x.spots[before]
		return s, ok
	}
	return spot{}, false
}

// stretch are the units from one place to another, in laying order, whichever is named first; false where a place is not of the
// run, or the two are of different legs.
func (x index) stretch(from, to string) (leg, first, last int, ok bool) {
	a, ok := x.at(from)
	if !ok {
		return 0, 0, 0, false
	}
	b := a
	if to != "" {
		if b, ok = x.at(to); !ok || b.leg != a.leg {
			return 0, 0, 0, false
		}
	}
	return a.leg, min(a.unit, b.unit), max(a.unit, b.unit), true
}
