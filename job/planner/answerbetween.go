package planner

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/solve/earthwork"
)

// BetweenAnswer is everything between two places, by the shortest way along the run. What is counted and dug adds up: two
// answers that adjoin are one longer answer. A casting counts where the way leads through it, as a joint does. A unit counts where its middle lies; a fitting's dig counts with the unit beside it.
type BetweenAnswer struct {
	From       PlaceAt        `json:"from"`
	To         PlaceAt        `json:"to"`
	Way        []WayAlong     `json:"way"`
	Length     measure.MM     `json:"length_mm"` // in plan
	Nodes      []NodePassed   `json:"nodes"`     // in the order of the way
	Units      int            `json:"units"`
	First      string         `json:"first_unit"`
	Last       string         `json:"last_unit"`
	Cuts       int            `json:"cuts"`
	Kinds      []UnitsAlike   `json:"kinds"`
	Covers     int            `json:"covers"`
	CutCovers  int            `json:"cut_covers"`
	Marks      []string       `json:"cut_marks"` // of cut units and covers, in the order of the way
	Joints     int            `json:"joints"`    // between the two places, not at them
	Pads       int            `json:"pads"`      // likewise
	PadsAtEnds int            `json:"pads_at_ends"`
	AtEnds     []string       `json:"joints_at_ends"`
	Mass       *float64       `json:"mass_kg"` // units and covers; null: a mass is missing
	Castings   []CastPassed   `json:"castings"`
	Dig        *DigVolumes    `json:"dig"` // null: none was computed
	Balances   []DigBalance   `json:"balances"`
	Fabric     *DigFabric     `json:"fabric"` // for this stretch alone; null: none is asked for
	Ladders    []PlaceAt      `json:"ladders"`
	Services   []ServiceAlong `json:"services"` // in the order of the way
	Missing    []string       `json:"not_checked"`
	Findings   finding.List   `json:"findings"`
}

// WayAlong is a stretch of one leg.
type WayAlong struct {
	Leg  string     `json:"leg"`
	From measure.MM `json:"from_mm"` // chainage, in the order of the way
	To   measure.MM `json:"to_mm"`
}

// UnitsAlike are units of one supply and length.
type UnitsAlike struct {
	Supply string     `json:"supply"`
	Stock  measure.MM `json:"stock_mm"` // length that they are, or are cut from
	Count  int        `json:"count"`
	Cuts   int        `json:"cuts"`
}

// ServiceAlong is something buried that a survey recorded on the way.
type ServiceAlong struct {
	ID       string      `json:"id"`
	Name     string      `json:"name"`
	Leg      string      `json:"leg"`
	Chainage measure.MM  `json:"chainage_mm"`
	Along    measure.MM  `json:"along_mm"` // from where the way begins
	Depth    *measure.MM `json:"depth_mm"`
	Top      *float64    `json:"top_m"`
	Quality  string      `json:"quality"`
}

// Between answers what lies between two places.
func (a *Answers) Between(s, e Spot) (BetweenAnswer, error) {
	way, ok := a.way(s, e)
	if !ok {
		return BetweenAnswer{}, fmt.Errorf("no way along the run leads from leg %s to leg %s: they do not hang together", a.legs[s.Leg].id, a.legs[e.Leg].id)
	}
	way = covering(way, s, e)
	mass := 0.0
	out := BetweenAnswer{From: a.placeAt(s), To: a.placeAt(e), Nodes: a.passed(way), Castings: []CastPassed{}, Kinds: []UnitsAlike{}, Marks: []string{}, AtEnds: []string{}, Mass: &mass,
		Balances: []DigBalance{}, Ladders: []PlaceAt{}, Services: []ServiceAlong{}, Missing: []string{}, Findings: finding.List{}}
	for _, p := range way {
		part := WayAlong{a.legs[p.leg].id, measure.MM(p.from), measure.MM(p.to)}
		if p.down {
			part.From, part.To = part.To, part.From
		}
		a.countUnits(p, &out)
		a.countJoints(p, &out)
		a.meetings(p, measure.Length(out.Length), &out)
		out.Way, out.Length = append(out.Way, part), out.Length+measure.MM(p.length())
	}
	if out.Length == 0 {
		return out, fmt.Errorf("%s and %s are one place; nothing lies between", placeText(s, a), placeText(e, a))
	}
	a.castings(way, &out)
	a.digBetween(way, &out)
	if out.Mass == nil {
		out.Missing = append(out.Missing, finding.NoneOnFile("mass of everything laid", "the supplier", finding.Where{}).Sentence())
	}
	slices.Sort(out.Missing)
	out.Missing = slices.Compact(out.Missing)
	return out, nil
}

func placeText(s Spot, a *Answers) string {
	if s.Name != "" {
		return s.Name
	}
	return a.legs[s.Leg].id + " " + a.Chainage(s.At)
}

// countUnits counts the units whose middles lie in a stretch, and their covers.
func (a *Answers) countUnits(p wayPart, out *BetweenAnswer) {
	l := &a.legs[p.leg]
	for n := range l.units {
		k := n
		if p.down {
			k = l.units - 1 - n
		}
		k += l.unit
		mid := a.unitSpot(k).At
		if mid < p.from || mid >= p.to && !(p.to == l.length && mid == p.to) {
			continue
		}
		u := &a.b.plan.Units[k]
		if out.Units == 0 {
			out.First = u.Mark
		}
		out.Units, out.Last = out.Units+1, u.Mark
		alike := slices.IndexFunc(out.Kinds, func(x UnitsAlike) bool { return x.Supply == u.Supply && x.Stock == u.Stock })
		if alike < 0 {
			alike, out.Kinds = len(out.Kinds), append(out.Kinds, UnitsAlike{Supply: u.Supply, Stock: u.Stock})
		}
		out.Kinds[alike].Count++
		if u.Cut {
			out.Cuts++
			out.Kinds[alike].Cuts++
			out.Marks = append(out.Marks, u.Mark)
		}
		out.weigh(u.Mass)
		for _, c := range a.b.plan.Covers[a.cover[k]:a.cover[k+1]] {
			out.Covers++
			if c.Cut {
				out.CutCovers++
				out.Marks = append(out.Marks, c.Mark)
			}
			out.weigh(c.Mass)
		}
	}
}

func (b *BetweenAnswer) weigh(kg *float64) {
	switch {
	case kg == nil:
		b.Mass = nil
	case b.Mass != nil:
		*b.Mass += *kg
	}
}

// countJoints counts joints and pads inside a stretch, and names those at its ends: a neighbour has them too.
func (a *Answers) countJoints(p wayPart, out *BetweenAnswer) {
	l := &a.legs[p.leg]
	if l.units == 0 {
		return
	}
	for k, r := range a.b.plan.SetOut[l.row : l.row+l.units+1] {
		at := measure.Length(r.Chainage)
		joint := k > 0 && k < l.units
		switch {
		case at < p.from || at > p.to:
		case joint && (at == p.from || at == p.to):
			out.AtEnds = append(out.AtEnds, r.Place)
			if r.Pad != "" {
				out.PadsAtEnds++
			}
		default:
			if joint {
				out.Joints++
			}
			if r.Pad != "" {
				out.Pads++
			}
		}
	}
}

// meetings are ladders, services and findings of a stretch; done is how long the way is before it.
func (a *Answers) meetings(p wayPart, done measure.Length, out *BetweenAnswer) {
	id := a.legs[p.leg].id
	along := func(at measure.Length) measure.Length {
		if p.down {
			return done + p.to - at
		}
		return done + at - p.from
	}
	in := func(at measure.Length) bool { return at >= p.from && at <= p.to }
	for _, e := range a.b.plan.Excavation {
		for _, m := range e.Ladders {
			if at := measure.FromMetres(m); e.Leg == id && in(at) && (at < p.to || p.to == a.legs[p.leg].length) {
				out.Ladders = append(out.Ladders, PlaceAt{Kind: "ladder", Leg: id, Chainage: measure.MM(at)})
			}
		}
	}
	for _, v := range a.servicesNear(Spot{Leg: p.leg, At: p.from}) {
		if at := measure.Length(v.Chainage); in(at) {
			out.Services = append(out.Services, ServiceAlong{v.ID, v.Name, id, v.Chainage, measure.MM(along(at)), v.Depth, v.Top, v.Quality})
		}
	}
	sorting.By(out.Services, func(x, y ServiceAlong) int { return cmp.Compare(x.Along, y.Along) })
	for _, f := range a.b.plan.Findings {
		if f.Where.Leg == id && (f.Where.Chainage == nil || in(*f.Where.Chainage)) {
			out.Findings = append(out.Findings, f)
		}
	}
}

// digBetween asks the dig for the stretches of a way.
func (a *Answers) digBetween(way []wayPart, out *BetweenAnswer) {
	none := func(prefix string) {
		for _, f := range a.b.plan.Findings {
			if f.Kind == finding.NotChecked && strings.HasPrefix(f.Where.Path, prefix) {
				out.Missing = append(out.Missing, f.Sentence())
			}
		}
	}
	if a.b.asked == nil {
		none("dig.")
		out.Missing = append(out.Missing, finding.NoneOnFile("dig", "whoever has the survey and the levels", finding.Where{}).Sentence())
		return
	}
	var parts []earthwork.Part
	for _, p := range way {
		parts = append(parts, earthwork.Part{Leg: p.leg, From: p.from, To: p.to})
	}
	q := earthwork.Between(a.b.asked, parts)
	v := volumes(q.Total)
	out.Dig = &v
	for _, x := range q.Balances {
		out.Balances = append(out.Balances, balance(x))
	}
	if f := q.Fabric; f != nil {
		out.Fabric = &DigFabric{Covered: f.Covered, Order: f.Order, Sheets: f.Sheets, Laps: f.Laps}
	}
	for _, f := range q.Findings {
		if f.Kind == finding.NotChecked && f.Where.Chainage == nil {
			out.Missing = append(out.Missing, f.Sentence())
		}
	}
}
