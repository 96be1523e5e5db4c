package excavation

import (
	"fmt"
	"math/big"
)

// spoil is the free edge of the dig.
func (c *checker) spoil() {
	l := c.f.Spoil
	if l == nil {
		return
	}
	if l.Memory {
		c.remembered("free edge before spoil", l.Says, l.Rule)
		return
	}
	r := Result{ID: "excavation.spoil", What: "the free edge before spoil, plant and material", Limit: c.says(l), Rule: c.f.cites(l.Rule), Verdict: CannotSay}
	if c.p.Spoil == nil {
		c.missing("free edge between the dig and what stands beside it", "the competent person")
	} else if r.Value, r.Verdict = c.length(*c.p.Spoil), Meets; *c.p.Spoil < l.Value {
		r.Verdict = DoesNot
	}
	c.result(r, "spoil and plant further from the edge")
}

// water makes soil the weakest class, where the rule says so.
func (c *checker) water() {
	if c.f.WetSoil == "" {
		return
	}
	if c.p.Wet == nil {
		c.missing("word about water in the dig or from its sides", "the competent person")
		return
	}
	if !*c.p.Wet || c.p.Soil == "" || c.p.Soil == c.f.Rock {
		return
	}
	r := Result{ID: "excavation.water", What: "the class of soil with water in the dig or from its sides", Value: c.p.Soil, Limit: c.f.WetSoil, Rule: c.f.cites(c.f.WetRule), Verdict: Meets}
	if c.p.Soil != c.f.WetSoil {
		r.Verdict = DoesNot
	}
	c.result(r, "have the competent person class the soil anew, and keep the water down")
}

// crossings are walkways over a deep trench.
func (c *checker) crossings() {
	l := c.f.Guard
	if l == nil {
		return
	}
	for _, x := range c.p.Crossings {
		deep := false
		for _, s := range c.p.Stretch {
			deep = deep || x.At >= s.From && x.At <= s.To && l.holds(s.Depth)
		}
		if !deep {
			continue
		}
		r := Result{ID: "excavation.guardrail", What: "the crossing at " + c.length(x.At), Limit: "guardrails where the trench is " + c.says(l) + " deep or more", Rule: c.f.cites(l.Rule), Verdict: CannotSay}
		switch {
		case x.Guardrail == nil:
			c.missing("word about guardrails on crossings", "the competent person")
		case *x.Guardrail:
			r.Verdict, r.Value = Meets, "guardrails"
		default:
			r.Verdict, r.Value = DoesNot, "no guardrails"
		}
		c.result(r, "guardrails, or no crossing here")
	}
}

// air is oxygen as tested.
func (c *checker) air() {
	l := c.f.Air
	if l == nil || !l.holds(c.out.Depth) {
		return
	}
	r := Result{ID: "excavation.air", What: "oxygen in the trench", Limit: c.f.Oxygen + " % at least", Rule: c.f.cites(c.f.AirRule), Verdict: CannotSay}
	if c.p.Air == nil {
		c.missing(fmt.Sprintf("test of air: it is asked for deeper than %s where the air may be bad", l.Says), "the competent person")
		c.result(r, "")
		return
	}
	got, ok := new(big.Rat).SetString(*c.p.Air)
	least, _ := new(big.Rat).SetString(c.f.Oxygen)
	if !ok || got.Sign() < 0 || got.Cmp(big.NewRat(100, 1)) > 0 {
		c.fault("oxygen", fmt.Sprintf("%q is no share of oxygen", *c.p.Air), "per cent, for example 20.9")
		return
	}
	r.Value, r.Verdict = *c.p.Air+" %", Meets
	if got.Cmp(least) < 0 {
		r.Verdict = DoesNot
	}
	c.result(r, "nobody in the trench; ventilate, and test again")
}

// shield is a trench box below a slope.
func (c *checker) shield() {
	s := c.p.Shield
	if s == nil || c.f.ShieldAbove == nil {
		return
	}
	up := Result{ID: "excavation.shield-above", What: "how far the shield stands out above the upright part of the sides", Value: c.length(s.AboveUpright),
		Limit: c.says(c.f.ShieldAbove), Rule: c.f.cites(c.f.ShieldAbove.Rule), Verdict: Meets}
	if s.AboveUpright < c.f.ShieldAbove.Value {
		up.Verdict = DoesNot
	}
	c.result(up, "a higher shield, or cut the upright part back")
	down := Result{ID: "excavation.shield-below", What: "how far is dug below the shield", Value: c.length(s.DugBelow),
		Limit: c.says(c.f.ShieldBelow), Rule: c.f.cites(c.f.ShieldBelow.Rule), Verdict: Meets}
	if s.DugBelow > c.f.ShieldBelow.Value {
		down.Verdict = DoesNot
	}
	c.result(down, "lower the shield as the dig goes down")
}
