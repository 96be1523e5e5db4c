package dossier

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job/field"
	"trenchwright/job/planner"
)

// Part is what of a run is handed over: whole legs, or one leg from a place to a place. The zero value is all of it.
type Part struct {
	Legs     []string
	From, To string
}

// Whole reports whether a part is everything.
func (p Part) Whole() bool { return len(p.Legs) == 0 && p.From == "" && p.To == "" }

// Fault is why a part cannot be handed over of a plan; nil: it can.
func (p Part) Fault(plan planner.Plan) error {
	leg := map[string]string{}
	var legs []string
	for _, u := range plan.Units {
		leg[u.Mark] = u.Leg
	}
	for _, l := range plan.Legs {
		legs = append(legs, l.Name)
	}
	for _, l := range p.Legs {
		if !slices.Contains(legs, l) {
			return fmt.Errorf("there is no leg %s; one of: %s", l, strings.Join(legs, ", "))
		}
	}
	if p.From == "" && p.To == "" {
		return nil
	}
	if len(p.Legs) > 0 {
		return fmt.Errorf("say legs, or from which place to which, not both")
	}
	for _, place := range []string{p.From, p.To} {
		if leg[place] == "" {
			return fmt.Errorf("there is no place %q in the plan; say from which place to which, such as A-003 to A-017", place)
		}
	}
	if leg[p.From] != leg[p.To] {
		return fmt.Errorf("%s lies on leg %s and %s on leg %s; a stretch lies on one leg, or hand over legs", p.From, leg[p.From], p.To, leg[p.To])
	}
	return nil
}

// Name is what a file with a part is called, without its kind.
func (p Part) Name() string {
	switch {
	case p.From != "" || p.To != "":
		return "dossier-" + p.From + "-to-" + p.To
	case len(p.Legs) > 0:
		return "dossier-leg-" + strings.Join(p.Legs, "-")
	}
	return "dossier"
}

// said is a part in words.
func (p Part) said() string {
	switch {
	case p.Whole():
		return ""
	case len(p.Legs) == 1:
		return "leg " + p.Legs[0]
	case len(p.Legs) > 1:
		return "legs " + strings.Join(p.Legs, ", ")
	case p.From == p.To:
		return p.From
	}
	return p.From + " to " + p.To
}

// spot is where a place is along its leg, in laying order.
type spot struct{ leg, unit int }

// place finds the units of the whole run, whatever part is handed over: neighbours lie beside its ends all the same.
func (d *Dossier) place() {
	d.spots, d.next, d.before = map[string]spot{}, map[string]string{}, map[string]string{}
	for k, l := range d.state.Legs {
		for i, u := range l.Units {
			d.spots[u.Place] = spot{k, i}
			if i > 0 {
				d.next[l.Units[i-1].Place], d.before[u.Place] = u.Place, l.Units[i-1].Place
			}
		}
	}
}

// cut leaves of the state, the run and the records what belongs to the part.
func (d *Dossier) cut() {
	d.places = d.Plan.Places()
	d.place()
	if d.Part.Whole() {
		return
	}
	first, last := d.Part.From, d.Part.To
	if a, z := d.spots[first], d.spots[last]; a.unit > z.unit {
		first, last = last, first
	}
	d.part = make([][2]int, len(d.state.Legs))
	legs, places := slices.Clone(d.state.Legs), slices.Clone(d.places.Legs)
	for k, l := range legs {
		from, end := 0, len(l.Units)
		switch {
		case len(d.Part.Legs) > 0:
			if !slices.Contains(d.Part.Legs, l.ID) {
				end = 0
			}
		case d.spots[first].leg == k:
			from, end = d.spots[first].unit, d.spots[last].unit+1
		default:
			end = 0
		}
		d.part[k] = [2]int{from, end}
		legs[k] = counted(field.LegState{ID: l.ID, Units: l.Units[from:end]})
		places[k].Units = places[k].Units[from:end]
	}
	d.state.Legs, d.places = legs, &field.Run{Legs: places}
	d.all = kept(d.all, func(r field.Record) bool { return d.within(r.From, r.To) })
	d.state.Services = kept(d.state.Services, func(s field.ServiceState) bool { return d.spans(s.Leg, s.At) })
	d.state.Angles = kept(d.state.Angles, func(a field.AngleState) bool { return d.touches(a.Node) })
	d.state.Shots = kept(d.state.Shots, func(s field.ShotState) bool { return d.within(s.Place, "") })
	d.state.Entries = kept(d.state.Entries, func(s field.EntryState) bool { return d.within(s.Place, "") })
	d.state.Points = kept(d.state.Points, func(p field.PointState) bool { return d.within(p.From, p.To) })
	numbers := map[string]bool{}
	for _, r := range d.all {
		if s, ok := field.SaysOf[field.MatterSays](&r); ok && s.Number != "" {
			numbers[s.Number] = true
		}
	}
	d.state.Matters = kept(d.state.Matters, func(m field.MatterState) bool { return numbers[m.Number] })
}

func kept[T any](list []T, ok func(T) bool) []T {
	return slices.DeleteFunc(slices.Clone(list), func(t T) bool { return !ok(t) })
}

// counted is a leg with what of it is set and laid counted anew.
func counted(l field.LegState) field.LegState {
	for _, u := range l.Units {
		if u.Set.Is == field.Yes {
			l.Set++
		}
		l.Lids += len(u.Covers)
		for _, c := range u.Covers {
			if c.Laid.Is == field.Yes {
				l.Laid++
			}
		}
	}
	return l
}

// within reports whether something from a place to a place touches the part; what is of no place of the plan belongs to all parts.
func (d *Dossier) within(from, to string) bool {
	if d.part == nil {
		return true
	}
	a, ok := d.spots[unitOf(from)]
	if !ok {
		return true
	}
	z, ok := d.spots[unitOf(to)]
	if !ok || z.leg != a.leg {
		z = a
	}
	p := d.part[a.leg]
	return max(p[0], min(a.unit, z.unit)) < min(p[1], max(a.unit, z.unit)+1)
}

// unitOf is the unit of a place: of a cover, a joint, a start or an end too.
func unitOf(place string) string {
	place = strings.TrimPrefix(strings.TrimPrefix(place, "start of "), "end of ")
	place, _, _ = strings.Cut(place, "/")
	place, _, _ = strings.Cut(place, ".")
	return place
}

// spans reports whether a chainage of a leg lies in the part.
func (d *Dossier) spans(leg string, at measure.Length) bool {
	if d.part == nil {
		return true
	}
	near := 20 * measure.Millimetre // a gap, or a node's own
	for _, l := range d.state.Legs {
		if l.ID != leg {
			continue
		}
		for _, u := range l.Units {
			if p := d.units[u.Place]; measure.Length(p.Chainage)-near <= at && at <= measure.Length(p.Chainage+p.Length)+near {
				return true
			}
		}
	}
	return false
}

// touches reports whether a leg of the part begins or ends at a node.
func (d *Dossier) touches(node string) bool {
	for _, l := range d.Plan.Legs {
		if (l.From == node || l.To == node) && (d.reaches(l.Name, l.From == node)) {
			return true
		}
	}
	return false
}

// reaches reports whether the part has the first unit of a leg up-chainage, or its last.
func (d *Dossier) reaches(leg string, start bool) bool {
	for _, l := range d.state.Legs {
		if l.ID != leg || len(l.Units) == 0 {
			continue
		}
		if start {
			return d.before[l.Units[0].Place] == ""
		}
		return d.next[l.Units[len(l.Units)-1].Place] == ""
	}
	return false
}

// partSaid says that this is not all of the run.
func (d *Dossier) partSaid() string {
	if d.Part.Whole() {
		return ""
	}
	return "Of " + d.Part.said() + " alone. The job, its plan and the records as they came are of the whole run."
}
