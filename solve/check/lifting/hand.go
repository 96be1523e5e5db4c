package lifting

import (
	"trenchwright/base/measure"
	"trenchwright/solve/check"
)

// Hand is a piece that people carry.
type Hand struct {
	People int
	Each   *measure.Mass // what one of them may be given, by whoever assessed it
	From   string
}

var handRule = check.Rule{ID: "lifting.hand", Says: "people carry together no more than the assessment allows each of them", Law: "the assessment of manual handling on site",
	Source: "as entered", Status: check.Closed, Tests: []string{"lifting.TestHand"}}

func (p *Problem) hand(out *Solution) {
	h := p.Hand
	a := p.answer("lifting.hand", "the mass for each of those who carry the piece", handRule, "more people, a lifting aid, shorter pieces")
	a.Decides = "whoever assessed the handling"
	a.Cautions = []string{"no mass is without harm for everybody: reach, stoop, twist, wet ground and how often it is done count as much"}
	a.Give("people", check.Count.Of(float64(h.People)), "")
	each := a.Work("for each of them", "mass / people", check.Mass.Of(p.Mass.Kilograms()/float64(h.People)))
	if limit, ok := a.Need("mass that one person may be given", some(h.Each, mass), h.From, "whoever assesses manual handling on this site"); ok {
		a.Hold(each, limit, h.From, check.AtMost(each.SI, 0, limit.SI))
	}
	out.Answers = append(out.Answers, a)
}
