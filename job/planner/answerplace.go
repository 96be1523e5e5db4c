package planner

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// Spot is a place that somebody asks for, as it was understood.
type Spot struct {
	Kind string         // chainage, unit, cover, joint, end, node, or what crosses: service, crossing, entry
	Name string         // as the plan has it; of a chainage none
	Leg  int            // of the plan's legs
	At   measure.Length // chainage from the leg's from node; of a unit or cover its middle
	From measure.Length // what it covers: a unit from the joint before it to the joint behind it; of anything else At
	To   measure.Length
}

// Find understands a place: a name of the plan (A-004, A-004.2, A-004/A-005, start of A-001, a node, a service, a crossing), a
// chainage (12.5 m, 0+012.500, 1+25) or both parted by a blank (A 12.5 m). A bare number is in metres, or in feet where the
// job is. leg says on which leg; "": wherever it is told apart. What is not understood says what is known.
func (a *Answers) Find(text, leg string) (Spot, error) {
	text = strings.TrimSpace(text)
	on := -1
	if leg != "" {
		if on = a.legOf(leg); on < 0 {
			return Spot{}, fmt.Errorf("there is no leg %s; the legs are %s", leg, a.legsText(nil))
		}
	}
	if named := a.named(text); len(named) > 0 {
		if on >= 0 {
			if k := slices.IndexFunc(named, func(s Spot) bool { return s.Leg == on }); k >= 0 {
				return named[k], nil
			}
			return Spot{}, fmt.Errorf("%s does not lie on leg %s but on leg %s", named[0].Name, a.legs[on].id, a.legs[named[0].Leg].id)
		}
		return named[0], nil
	}
	if first, rest, ok := strings.Cut(text, " "); ok {
		if k := a.legOf(first); k >= 0 && (on < 0 || on == k) {
			if at, err := a.chainage(rest); err == nil {
				return a.along(at, k)
			}
		}
	}
	at, err := a.chainage(text)
	if err != nil {
		return Spot{}, a.unknown(text, err)
	}
	return a.along(at, on)
}

// chainage reads a chainage; a bare number is in what the job's sheets show.
func (a *Answers) chainage(text string) (measure.Length, error) {
	system, unit := measure.Metric, measure.UnitMetre
	if a.b.imperial() {
		system, unit = measure.Imperial, measure.UnitFoot
	}
	r, err := measure.ParseChainage(text, system)
	if err != nil {
		if bare, bareErr := measure.ParseIn(text, unit); bareErr == nil {
			return bare.Length, nil
		}
	}
	return r.Length, err
}

// along is a chainage on a leg, or on the one leg that is so long.
func (a *Answers) along(at measure.Length, on int) (Spot, error) {
	spot := func(leg int) (Spot, error) { return Spot{Kind: "chainage", Leg: leg, At: at, From: at, To: at}, nil }
	tell := a.b.tell
	if on >= 0 {
		if at < 0 || at > a.legs[on].length {
			return Spot{}, errors.New(tell("leg %s has no %s %s: it runs from %s to %s", a.legs[on].id, wording.Chainage, a.Chainage(at), a.Chainage(0), a.Chainage(a.legs[on].length)))
		}
		return spot(on)
	}
	var fits []int
	for i := range a.legs {
		if at >= 0 && at <= a.legs[i].length {
			fits = append(fits, i)
		}
	}
	switch len(fits) {
	case 1:
		return spot(fits[0])
	case 0:
		return Spot{}, errors.New(tell("no leg has a %s %s; the legs are %s", wording.Chainage, a.Chainage(at), a.legsText(nil)))
	}
	return Spot{}, errors.New(tell("%s %s lies on %d legs, each counts from its own from node: say which of %s", wording.Chainage, a.Chainage(at), len(fits), a.legsText(fits)))
}

// mostListed is how many legs or names a sentence lists.
const mostListed = 12

// legsText lists legs with the chainages that they have; nil: all of them.
func (a *Answers) legsText(which []int) string {
	if which == nil {
		for i := range a.legs {
			which = append(which, i)
		}
	}
	var out []string
	for n, i := range which {
		if n == mostListed {
			out = append(out, fmt.Sprintf("and %d more", len(which)-n))
			break
		}
		l := a.b.plan.Legs[i]
		out = append(out, fmt.Sprintf("%s (%s to %s, %s)", l.Name, l.From, l.To, a.Chainage(a.legs[i].length)))
	}
	return strings.Join(out, ", ")
}

// Chainage is a chainage as the job's sheets write it: 35.411 m, or 1+23.45 in feet.
func (a *Answers) Chainage(at measure.Length) string {
	if a.b.imperial() {
		return measure.Chainage(at, measure.Imperial, 2)
	}
	return measure.Format{Survey: true, Places: 3}.Length(at)
}

// folded is a name as it is compared: nobody minds small letters.
func folded(name string) string { return strings.ToUpper(strings.TrimSpace(name)) }

// named are the places of a name: a node lies on all of its legs.
func (a *Answers) named(text string) []Spot {
	p, name := &a.b.plan, folded(text)
	if k, ok := a.unit[name]; ok {
		return []Spot{a.unitSpot(k)}
	}
	if k, ok := a.joint[name]; ok {
		leg := a.legOf(p.Joints[k].Leg)
		return []Spot{a.rowSpot("joint", leg, k-a.legs[leg].joint+1)}
	}
	if mark, rest, ok := strings.Cut(name, "."); ok {
		if k, ok := a.unit[mark]; ok {
			for _, c := range p.Covers[a.cover[k]:a.cover[k+1]] {
				if folded(c.Mark) == mark+"."+rest {
					return []Spot{a.coverSpot(k, c)}
				}
			}
		}
	}
	for _, way := range [2]string{"START OF ", "END OF "} {
		if mark, ok := strings.CutPrefix(name, way); ok {
			if k, ok := a.unit[mark]; ok {
				return []Spot{a.faceOf(k, way == "END OF ")}
			}
		}
	}
	return a.declared(name)
}

func (a *Answers) unitSpot(k int) Spot {
	u := a.b.plan.Units[k]
	leg := a.legOf(u.Leg)
	n := k - a.legs[leg].unit
	s := Spot{Kind: "unit", Name: u.Mark, Leg: leg, From: a.unitFrom(leg, n), To: a.unitFrom(leg, n+1)}
	s.At = a.b.axes[leg].chainage(measure.Length(u.Start + u.Length/2))
	return s
}

// coverSpot is the middle of a cover; it covers what its unit does.
func (a *Answers) coverSpot(unit int, c Cover) Spot {
	s := a.unitSpot(unit)
	s.Kind, s.Name = "cover", c.Mark
	s.At = a.b.axes[s.Leg].chainage(measure.Length(a.b.plan.Units[unit].Start + c.Start + c.Length/2))
	return s
}

// rowSpot is the place of row k of a leg's set-out.
func (a *Answers) rowSpot(kind string, leg, k int) Spot {
	r := &a.b.plan.SetOut[a.legs[leg].row+k]
	at := measure.Length(r.Chainage)
	return Spot{Kind: kind, Name: r.Place, Leg: leg, At: at, From: at, To: at}
}

// faceOf is the start or the end of a unit: the middle of the joint there, or where the leg starts or ends.
func (a *Answers) faceOf(unit int, last bool) Spot {
	leg := a.legOf(a.b.plan.Units[unit].Leg)
	k := unit - a.legs[leg].unit
	if last {
		k++
	}
	if k == 0 || k == a.legs[leg].units {
		return a.rowSpot("end", leg, k)
	}
	return a.rowSpot("joint", leg, k)
}

// declared are places that the job gave a name to.
func (a *Answers) declared(name string) []Spot {
	var out []Spot
	spot := func(kind, is string, leg int, at measure.Length) {
		if folded(is) == name && at >= 0 && at <= a.legs[leg].length {
			out = append(out, Spot{Kind: kind, Name: is, Leg: leg, At: at, From: at, To: at})
		}
	}
	for _, n := range a.b.net.Nodes {
		for _, arm := range n.Arms {
			at := measure.Length(0)
			if !arm.Away {
				at = a.legs[arm.Leg].length
			}
			spot("node", n.ID, arm.Leg, at)
		}
	}
	for i := range a.legs {
		l := a.b.leg(i)
		for _, s := range l.Services {
			spot("service", s.ID, i, s.At)
		}
		for _, c := range l.Crossings {
			spot("crossing", c.ID, i, c.At)
		}
		for _, e := range l.Entries {
			spot("entry", e.ID, i, e.At)
		}
	}
	return out
}
