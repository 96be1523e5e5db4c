package planner

import (
	"cmp"
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/solve/check"
	"trenchwright/solve/check/lifting"
)

// lifted is the heaviest piece of one kind that a lift takes.
type lifted struct {
	mark, says string
	mass       *measure.Mass
	where      finding.Where
	supply     *supply
	cut        bool
}

// holdLifts holds each kind of lift with the heaviest whole piece that it takes, and with the heaviest that was cut.
func (b *checks) holdLifts() {
	for i := range b.job.Checks.Lifts {
		l := &b.job.Checks.Lifts[i]
		for n, piece := range b.heaviest(l) {
			q := b.askLift(l, piece)
			if n > 0 { // of the machine, and not of the piece
				q.Ground = nil
			}
			sol := lifting.Check(&q)
			for n := range sol.Answers {
				sol.Answers[n].For = l.ID
				if piece.cut {
					sol.Answers[n].For += "/cut"
				}
				sol.Answers[n].What = fmt.Sprintf("%s, %s: %s", cmp.Or(l.Name, "lift "+l.ID), piece.says, sol.Answers[n].What)
			}
			b.held(sol.Answers, sol.Findings)
		}
	}
}

// heaviest are the heaviest pieces of a lift: one that is whole, one that is cut or mitred; of equal ones the first.
func (b *checks) heaviest(l *job.Lift) []lifted {
	var whole, cut *lifted
	take := func(s *supply, isCut bool, one lifted) {
		if l.Supply != "" && s.ID != l.Supply {
			return
		}
		at := &whole
		if isCut {
			at = &cut
		}
		if *at == nil || (*at).mass != nil && (one.mass == nil || *one.mass > *(*at).mass) {
			one.supply, one.cut = s, isCut
			*at = &one
		}
	}
	switch l.Of {
	case "units":
		for i := range b.plan.Units {
			u := &b.plan.Units[i]
			take(b.supplyNamed(u.Supply), u.Cut, lifted{mark: u.Mark, mass: grams(u.Mass), where: finding.Where{Leg: u.Leg, Place: u.Mark}})
		}
	case "covers":
		for i := range b.plan.Covers {
			c := &b.plan.Covers[i]
			take(b.supplyOfUnit(c.Unit), c.Cut, lifted{mark: c.Mark, mass: grams(c.Mass), where: finding.Where{Place: c.Mark}})
		}
	case "castings":
		for _, n := range b.plan.Nodes {
			for k := range b.sup {
				for _, f := range b.sup[k].Fittings {
					if n.Fitting == f.ID && n.Made == "casting" {
						take(&b.sup[k], false, lifted{mark: f.ID + " at " + n.ID, mass: entered(f.Mass), where: finding.Where{Path: "nodes." + n.ID}})
					}
				}
			}
		}
	}
	var out []lifted
	for _, one := range []*lifted{whole, cut} {
		if one == nil {
			continue
		}
		switch {
		case one.mass == nil:
			one.says = "a piece without a mass on file, " + one.mark
		case one == cut:
			one.says = "the heaviest cut piece, " + one.mark
		default:
			one.says = "the heaviest whole piece, " + one.mark
		}
		out = append(out, *one)
	}
	return out
}

// supplyOfUnit is the supply of a unit by its mark.
func (b *checks) supplyOfUnit(mark string) *supply {
	if b.unitAt == nil {
		b.unitAt = make(map[string]int, len(b.plan.Units))
		for i := range b.plan.Units {
			b.unitAt[b.plan.Units[i].Mark] = i
		}
	}
	return b.supplyNamed(b.plan.Units[b.unitAt[mark]].Supply)
}

// grams is a mass of the plan; nil stays nil.
func grams(kg *float64) *measure.Mass {
	if kg == nil {
		return nil
	}
	return new(measure.Mass(float64(*kg*1000) + 0.5))
}

// askLift is what is on file of a lift with one piece.
func (b *checks) askLift(l *job.Lift, p lifted) lifting.Problem {
	doc := cmp.Or(l.From, b.job.Checks.From)
	paper := b.docText(doc)
	q := lifting.Problem{Where: p.where, Words: b.speech(), Mass: p.mass, From: "the plan: length x mass per length of supply " + p.supply.ID, Tackle: entered(l.Tackle), More: plainNumber(l.More), MoreBy: from(b, doc, l.More)}
	if l.Of == "castings" {
		q.From = "the drawing of the casting"
	}
	if l.People > 0 || l.Each.Known || p.supply.Lifting.By.Value == "hand" && l.Of == "units" {
		q.Hand = &lifting.Hand{People: cmp.Or(l.People, p.supply.Lifting.HandPeople.Value), Each: entered(l.Each), From: from(b, doc, l.Each)}
	}
	if q.Hand != nil && q.Hand.People == 0 {
		q.Hand = nil
		b.held(nil, finding.List{finding.NoneOnFile("number of people who carry "+p.mark, "the lift planner", p.where)})
		return q
	}
	if l.Legs == 0 && q.Hand == nil {
		b.held(nil, finding.List{finding.NoneOnFile("number of legs of the sling of lift "+l.ID, "the lift planner", p.where)})
	}
	if l.Legs > 0 {
		q.Sling = &lifting.Sling{Legs: l.Legs, Equalised: l.Equalised, Angle: entered(l.Angle), Spread: entered(l.Spread), Height: entered(l.Height), Limit: entered(l.Limit), LimitFrom: from(b, doc, l.Limit),
			Point: entered(l.Point), PointFrom: from(b, doc, l.Point), Strut: l.Strut.Value}
	}
	if len(l.Chart) > 0 || l.Pick.Known || l.Set.Known || q.Hand == nil {
		m := &lifting.Machine{Name: l.Machine, From: paper, Shared: l.Shared, Pick: entered(l.Pick), Set: entered(l.Set)}
		if l.Machine != "" {
			m.From = l.Machine + ", " + paper
		}
		if kept := plainNumber(l.Reserve); kept != nil {
			m.Reserve = new(*kept / 100)
		}
		for _, row := range l.Chart {
			m.Chart = append(m.Chart, lifting.Row{Radius: row.Radius, Lifts: row.Lifts})
		}
		q.Machine = m
		q.Ground = &lifting.Ground{Reaction: job.Quantity(l.Outrigger, check.Force), Pressure: job.Quantity(l.Pressure, check.Pressure), From: paper, Allows: job.Quantity(l.Ground, check.Pressure), Known: from(b, doc, l.Ground)}
		if l.Pressure.Known {
			q.Ground.From = from(b, doc, l.Pressure)
		} else if l.Outrigger.Known {
			q.Ground.From = from(b, doc, l.Outrigger)
		}
		if l.Pad.Known {
			q.Ground.Pad = &[2]measure.Length{l.Pad.Value.Width, l.Pad.Value.Height}
		}
	}
	if l.Voltage.Known || l.Line.Known {
		q.Overhead = &lifting.Overhead{Kilovolts: plainNumber(l.Voltage), Distance: entered(l.Line), Known: from(b, doc, l.Voltage)}
	}
	return q
}
