package screen

import (
	"fmt"
	"slices"

	"trenchwright/job/field"
)

// What the contract's frequency wants to be read, asked for where people stand: what was set last first.

// formOf is the record of the stage of setting that makes a reading; what was to be read before a unit was set is not asked for here.
var formOf = map[string]string{"gap": "gap", "invert": "invert", "wall": "wall", "rock": "rock", "line": "figures", "length": "figures", "end": "set"}

// asked asks for what is wanted at the last place of a leg that is set and lacks something, and tells how many places before it do.
func (v *siteView) asked(out *Next, leg int) {
	more := 0
	units := v.laying(leg)
	slices.Reverse(units)
	for _, u := range units {
		s := v.unitState(v.is(), leg, u)
		if s.Set.Is != field.Yes {
			continue
		}
		var asks []Ask
		for _, of := range v.book.WantsAt(v.contract(), s.Place) {
			form, place := formOf[of], s.Place
			if of == "gap" {
				j := v.farJoint(leg, u)
				if j == nil {
					continue
				}
				place = j.Name
			}
			if form != "" && !v.readAt(leg, u, of) && (of != "gap" || v.nextLies(leg, u)) {
				asks = append(asks, Ask{form, place, v.wantedName(of)})
			}
		}
		switch {
		case len(asks) == 0:
		case len(out.Asks) == 0:
			out.Asks = asks
		default:
			more++
		}
	}
	if more > 0 {
		out.Open = append(out.Open, fmt.Sprintf("Readings that the contract wants are lacking at %s set before.", count(more, "place", "places")))
	}
}

// readAt tells whether something is read at a unit. A gap is filed under the unit before its joint along the leg.
func (v *siteView) readAt(leg, u int, of string) bool {
	if of == "gap" && v.fromEnd(leg) {
		u--
	}
	return v.unitState(v.is(), leg, u).Read(of)
}

// nextLies tells whether the unit behind is set as well: before that there is no gap.
func (v *siteView) nextLies(leg, u int) bool {
	if u++; v.fromEnd(leg) {
		u -= 2
	}
	return u >= v.first[leg] && u < v.first[leg+1] && v.unitState(v.is(), leg, u).Set.Is == field.Yes
}

// wantedName is what a reading is called on the button that makes it.
func (v *siteView) wantedName(of string) string {
	switch of {
	case "end":
		return "where its end lies"
	case "line":
		return "off the line"
	case "invert", "wall":
		return v.saying().Level(of) + " level"
	}
	return of
}
