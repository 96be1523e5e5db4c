package planner

import (
	"trenchwright/base/measure"
	"trenchwright/solve/earthwork"
	"trenchwright/solve/layout"
)

// Across is the dig cut across at any place, as the plan's own sections are; false: no dig was computed, or none is here.
func (a *Answers) Across(s Spot) (DigSection, bool) {
	b := a.b
	if b.asked == nil || a.legs[s.Leg].units == 0 {
		return DigSection{}, false
	}
	sheets, _ := earthwork.Sections(b.asked, []earthwork.Place{{Leg: s.Leg, At: s.At}}, b.sectionWide(b.asked))
	if len(sheets) == 0 || sheets[0] == nil {
		return DigSection{}, false
	}
	c := cross{build: b, problem: b.asked, sheet: sheets[0], place: digPlace{leg: s.Leg, at: s.At}, laid: a.laidOn(s.Leg), first: a.legs[s.Leg].unit}
	c.find()
	out := c.section()
	if out.Why == nil {
		out.Why = []string{}
	}
	return out, true
}

// laidOn is what a section asks of the units of a leg: their supplies.
func (a *Answers) laidOn(leg int) *laid {
	l := &a.legs[leg]
	out := &laid{units: make([]layout.Unit, l.units)}
	for i := range a.b.sup {
		out.supply = append(out.supply, i)
	}
	for k := range out.units {
		out.units[k].Supply = a.b.supplyNamed(a.b.plan.Units[l.unit+k].Supply).index
	}
	return out
}

// At is a place on a leg by its chainage, drawn to the leg's ends.
func (a *Answers) At(leg string, at measure.Length) (Spot, bool) {
	i := a.legOf(leg)
	if i < 0 {
		return Spot{}, false
	}
	at = min(max(at, 0), a.legs[i].length)
	return Spot{Kind: "chainage", Leg: i, At: at, From: at, To: at}, true
}
