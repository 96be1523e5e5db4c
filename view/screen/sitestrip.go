package screen

import (
	"slices"
	"strings"

	"trenchwright/job/field"
)

// shown fills the strip of a stage as the work does: what is recorded stands in the place of what is planned.
func (v *siteView) shown(out *Along) {
	s := v.is()
	if strings.HasPrefix(out.Open, "No ") && slices.ContainsFunc(v.done(), func(d SiteStage) bool { return d.ID == out.Stage }) {
		out.Open = "" // what it says is not recorded yet is
	}
	if s.Records == 0 || !slices.Contains([]string{"set", "fill", "cables", "cover", "handover"}, out.Stage) {
		return
	}
	a := along{draft: v.draft, out: *out}
	planned := len(a.out.Units) == len(v.drawn)
	laid := false
	units, covers := make([]int, 0, len(v.drawn)), []int{}
	for _, u := range v.drawn {
		leg := v.legs[v.plan.Units[u].Leg]
		state := v.unitState(s, leg, u)
		name, hatch := v.stands(state)
		switch {
		case name == isOpen && planned:
			units = append(units, a.out.Units[len(units)])
		default:
			units = append(units, a.kind("unit", name, hatch))
		}
		for _, c := range state.Covers {
			name, hatch := "no cover yet", "paper"
			switch c.Laid.Is {
			case field.Yes:
				name, hatch, laid = "cover laid", "solid", true
			case field.CantSay:
				name, hatch = "cannot say", "dots"
			default:
				if out.Stage == "cover" && len(covers) < len(a.out.Covers) {
					covers = append(covers, a.out.Covers[len(covers)])
					continue
				}
			}
			covers = append(covers, a.kind("cover", name, hatch))
		}
	}
	if out.Stage != "cover" && !laid {
		covers = []int{}
	}
	a.out.Units, a.out.Covers, a.out.Built = units, covers, true
	a.recount()
	a.out.Open = ""
	*out = a.out
}

// isOpen is a place at which nothing is recorded.
const isOpen = "open"

// stands is how far the work is at a unit, with its hatch: the furthest that records say.
func (v *siteView) stands(u *field.UnitState) (name, hatch string) {
	r, _ := v.book.ReachedAt(v.contract(), u.Place)
	switch {
	case u.Set.Is == field.CantSay:
		return "cannot say", "dots"
	case u.Damaged.Is == field.Yes:
		return "damaged", "rising"
	case r.Proven:
		return "proven", "crossed"
	case r.Covered && r.Filled:
		return "filled and covered", "upright"
	case r.Covered:
		return "covered", "upright"
	case r.Filled:
		return "filled", "level"
	case r.Set:
		return "set", "solid"
	}
	return isOpen, "paper"
}

// recount counts kinds of units and covers anew, and leaves out those that nothing is of.
func (a *along) recount() {
	n := make([]int, len(a.out.Kinds))
	for _, k := range a.out.Units {
		n[k]++
	}
	for _, k := range a.out.Covers {
		n[k]++
	}
	for i := range a.out.Kinds {
		if k := &a.out.Kinds[i]; k.Of == "unit" || k.Of == "cover" {
			k.Count = n[i]
		}
	}
	kept, now := []AlongKind{}, make([]int, len(a.out.Kinds))
	for i, k := range a.out.Kinds {
		now[i] = len(kept)
		if k.Count > 0 || k.Of != "unit" && k.Of != "cover" {
			kept = append(kept, k)
		}
	}
	for _, column := range [][]int{a.out.Units, a.out.Covers, a.out.Row.Kind, a.out.Places.Kind} {
		for i, k := range column {
			column[i] = now[k]
		}
	}
	a.out.Kinds = kept
}
