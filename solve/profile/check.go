package profile

import (
	"fmt"
	"math"
	"math/big"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// Check verifies a solution against its problem: levels and grades on whole numbers, the claim of least by its certificate, a
// claim of impossible by its conflict. It shares no code with the solver but the types. No finding: all holds.
func Check(p Problem, s Solution) []finding.Finding {
	p = p.toCome()
	c := checker{p: &p, s: &s}
	switch s.Verdict {
	case Found:
		if c.shapes() {
			c.levels()
			c.grades()
			c.changes()
			c.nodes()
			c.costs()
			c.lips()
			c.lows()
		}
	case Impossible:
		c.conflict()
	case Undecided:
		c.out = []finding.Finding{{ID: "profile.check.undecided", Kind: finding.NotChecked, Text: "NOT CHECKED: no claim on file. Ask: nobody", Ask: "nobody"}}
	default:
		c.say("verdict", 0, 0, "verdict %q is none of found, impossible, undecided", s.Verdict)
	}
	return c.out
}

type checker struct {
	p   *Problem
	s   *Solution
	of  [][]int // by leg and unit: the run that it lies in
	out []finding.Finding
}

// mostFindings keeps wrong levels of a long leg from burying their reader.
const mostFindings = 100

func (c *checker) say(id string, leg, joint int, format string, args ...any) {
	if len(c.out) >= mostFindings {
		return
	}
	f := finding.Finding{ID: "profile.check." + id, Kind: finding.Fault, Text: fmt.Sprintf(format, args...), Try: "ask for the levels anew"}
	if leg < len(c.p.Legs) && joint < len(c.p.Legs[leg].Joints) {
		at := c.p.Legs[leg].Joints[joint].At
		f.Where = finding.Where{Leg: c.p.Legs[leg].Name, Chainage: &at}
	}
	c.out = append(c.out, f)
}

func rat(g measure.Grade) *big.Rat {
	if g.Rise == 0 {
		return new(big.Rat)
	}
	return big.NewRat(int64(g.Rise), int64(g.Run))
}

// shapes: there is a level for every joint, and every unit lies in one run.
func (c *checker) shapes() bool {
	if len(c.s.Levels) != len(c.p.Legs) {
		c.say("shape", 0, 0, "levels of %d legs for %d", len(c.s.Levels), len(c.p.Legs))
		return false
	}
	c.of = make([][]int, len(c.p.Legs))
	for i, l := range c.p.Legs {
		if len(c.s.Levels[i]) != len(l.Joints) {
			c.say("shape", i, 0, "%d levels for %d joints", len(c.s.Levels[i]), len(l.Joints))
			return false
		}
	}
	for r, run := range c.s.Runs {
		if run.Leg < 0 || run.Leg >= len(c.p.Legs) || run.From != len(c.of[run.Leg]) || run.To <= run.From || run.To > len(c.p.Legs[run.Leg].Units) || run.Grade.Rise != 0 && run.Grade.Run <= 0 {
			c.say("shape", 0, 0, "run %d goes from joint %d to %d of leg %d: not behind the one before it", r, run.From, run.To, run.Leg)
			return false
		}
		for range run.To - run.From {
			c.of[run.Leg] = append(c.of[run.Leg], r)
		}
	}
	for i, l := range c.p.Legs {
		if len(c.of[i]) != len(l.Units) {
			c.say("shape", i, 0, "%d units of %d lie in a run", len(c.of[i]), len(l.Units))
			return false
		}
	}
	return true
}

func (c *checker) levels() {
	for i, l := range c.p.Legs {
		for j, joint := range l.Joints {
			z := c.s.Levels[i][j]
			switch {
			case joint.Pin != nil && z != *joint.Pin:
				c.say("pin", i, j, "the pin %s was moved to %s", *joint.Pin, z)
			case joint.Low != nil && z < *joint.Low:
				c.say("low", i, j, "level %s, lowest %s", z, *joint.Low)
			case joint.High != nil && z > *joint.High:
				c.say("high", i, j, "level %s, highest %s", z, *joint.High)
			}
		}
	}
}

// unit is the grade of record of a unit.
func (c *checker) unit(leg, unit int) measure.Grade { return c.s.Runs[c.of[leg][unit]].Grade }

func (c *checker) grades() {
	nm := big.NewRat(1, 1)
	for i, l := range c.p.Legs {
		for k, u := range l.Units {
			run := c.s.Runs[c.of[i][k]]
			g := run.Grade
			if (u.Step != nil) != run.Stepped {
				c.say("step", i, k, "the unit and its run do not agree that it steps")
				continue
			}
			from := k
			if !run.Stepped {
				from = run.From
			}
			off := new(big.Rat).Mul(rat(g), big.NewRat(int64(l.Joints[k+1].At-l.Joints[from].At), 1))
			off.Sub(big.NewRat(int64(c.s.Levels[i][k+1]-c.s.Levels[i][from]), 1), off)
			off.Abs(off)
			switch {
			case run.Stepped && u.Step.Grade.Cmp(g) != 0:
				c.say("step", i, k, "a unit that steps lies at %s, not %s", g, u.Step.Grade)
			case run.Stepped && run.To != run.From+1:
				c.say("step", i, k, "a run of units that step")
			case run.Stepped:
				// The step is a difference of whole levels and of a rise rounded to the nanometre.
				if u.Step.Most != nil && off.Cmp(big.NewRat(2*int64(*u.Step.Most)+1, 2)) > 0 {
					c.say("step", i, k, "a step of %s nm, at most %s", off.FloatString(1), *u.Step.Most)
				}
			case off.Cmp(nm) > 0:
				c.say("off-grade", i, k+1, "level %s nm off its grade", off.FloatString(3))
			case u.Lies != nil && g.Cmp(*u.Lies) != 0:
				c.say("lies", i, k, "a unit that lies on %s is said to lie on %s", *u.Lies, g)
			case u.Least != nil && g.Cmp(*u.Least) < 0:
				c.say("least", i, k, "grade %s, least %s", g, *u.Least)
			case u.Most != nil && g.Cmp(*u.Most) > 0:
				c.say("most", i, k, "grade %s, most %s", g, *u.Most)
			}
			if run.OnStep && !c.whole(g) {
				c.say("on-step", i, k, "grade %s is no whole number of steps of %s", g, c.p.Step)
			}
		}
	}
}

// whole tells whether a grade is a whole number of steps.
func (c *checker) whole(g measure.Grade) bool {
	if c.p.Step.Rise == 0 {
		return false
	}
	return new(big.Rat).Quo(rat(g), rat(c.p.Step)).IsInt()
}

// apart tells whether a and b differ by more than most.
func apart(a, b *big.Rat, most measure.Grade) bool {
	d := new(big.Rat).Sub(a, b)
	return d.Abs(d).Cmp(rat(most)) > 0
}

func (c *checker) changes() {
	for i, l := range c.p.Legs {
		for j := 1; j < len(l.Units); j++ {
			if c.of[i][j] == c.of[i][j-1] || l.Units[j].Step != nil || l.Units[j-1].Step != nil || l.Joints[j].Change == nil {
				continue
			}
			if a, b := c.unit(i, j-1), c.unit(i, j); apart(rat(a), rat(b), *l.Joints[j].Change) {
				c.say("change", i, j, "grade %s, then %s: a change of at most %s", a, b, *l.Joints[j].Change)
			}
		}
	}
}

// outward is the grade of an arm away from its node, and the level of the node by it.
func (c *checker) outward(a Arm) (*big.Rat, measure.Length) {
	l := c.p.Legs[a.Leg]
	if a.End {
		g := rat(c.unit(a.Leg, len(l.Units)-1))
		return g.Neg(g), c.s.Levels[a.Leg][len(l.Joints)-1] - a.Rise
	}
	return rat(c.unit(a.Leg, 0)), c.s.Levels[a.Leg][0] - a.Rise
}

func (c *checker) nodes() {
	for n, node := range c.p.Nodes {
		for k, a := range node.Arms {
			g, level := c.outward(a)
			if _, first := c.outward(node.Arms[0]); level != first {
				c.say("node", a.Leg, 0, "arm %d of node %d lies at %s, the first one at %s", k, n, level, first)
			}
			if a.Cast != nil && a.Cast.Change != nil && apart(g, rat(a.Cast.Grade), *a.Cast.Change) {
				c.say("mouth", a.Leg, 0, "arm %d of node %d leaves its casting by more than %s", k, n, *a.Cast.Change)
			}
		}
		for k, t := range node.Throughs {
			in, _ := c.outward(node.Arms[t.In])
			out, _ := c.outward(node.Arms[t.Out])
			back := new(big.Rat).Neg(in)
			if t.Change != nil && apart(back, out, *t.Change) {
				c.say("through", node.Arms[t.In].Leg, 0, "through %d of node %d changes grade by more than %s", k, n, *t.Change)
			}
			if b := t.Bend; b != nil && b.Lip != nil && bendLip(b, back, out).Cmp(big.NewRat(int64(*b.Lip), 1)) > 0 {
				c.say("lip", node.Arms[t.In].Leg, 0, "the bend at node %d has a lip of more than %s", n, *b.Lip)
			}
		}
	}
}

// bendLip is |s_in + s_out|·(W/2)·tan α in nanometres, both grades in the direction of travel.
func bendLip(b *Bend, in, out *big.Rat) *big.Rat {
	v := new(big.Rat).Add(in, out)
	v.Mul(v, new(big.Rat).SetFloat64(b.Tan))
	v.Mul(v, big.NewRat(int64(b.Width), 2))
	return v.Abs(v)
}

const (
	leastGap = 1e-6 // relative: how far Least may stand above what is proven
	sameCost = 1e-9 // relative: how far a cost may be off what it adds up to
)

func (c *checker) costs() {
	have, unit := c.total()
	if off := math.Abs(have - c.s.Cost); !(off <= sameCost*(unit+have)) {
		c.say("cost", 0, 0, "the levels cost %g, not %g", have, c.s.Cost)
	}
	if !c.s.Proven {
		return
	}
	if c.s.Proof == nil {
		c.say("proof", 0, 0, "there is no certificate")
		return
	}
	low, why := c.p.lowerBound(c.s.Proof, func(Kind, int, int) bool { return true }, true, c.s.Least)
	if why != "" {
		c.say("proof", 0, 0, "%s", why)
		return
	}
	bound, _ := low.Float64()
	bound = max(bound, 0) // no cost is below 0
	slack := float64(leastGap * max(c.s.Least, unit/100))
	switch {
	case c.s.Bound > bound+sameCost*unit/1e3:
		c.say("bound", 0, 0, "the certificate proves %g, claimed is %g", bound, c.s.Bound)
	case c.s.Least-bound > slack:
		c.say("least", 0, 0, "least is said to be %g, proven is %g", c.s.Least, bound)
	case c.s.Least < bound-slack:
		c.say("least", 0, 0, "least is said to be %g, and more than that is proven: %g", c.s.Least, bound)
	case c.s.Cost < bound-slack:
		c.say("cost", 0, 0, "the levels cost %g, and more than that is proven: %g", c.s.Cost, bound)
	}
}

// total is what the levels of record cost, and the highest price there is: of a metre at one joint, or failing that of a
// change of grade.
func (c *checker) total() (cost, unit float64) {
	dear := 0.0
	sum := new(big.Float).SetPrec(200)
	add := func(v *big.Rat) { sum.Add(sum, new(big.Float).SetPrec(200).SetRat(v)) }
	for i, l := range c.p.Legs {
		for j, joint := range l.Joints {
			unit, dear = max(unit, float64(max(joint.Above, joint.Below))), max(dear, float64(joint.Break))
			if joint.Wanted != nil {
				d, price := big.NewRat(int64(c.s.Levels[i][j]-*joint.Wanted), 1e9), joint.Above
				if d.Sign() < 0 {
					d.Neg(d)
					price = joint.Below
				}
				if c.p.Squares {
					d.Mul(d, d)
				}
				add(d.Mul(d, big.NewRat(price, 1)))
			}
			if j > 0 && j < len(l.Units) && c.of[i][j] != c.of[i][j-1] && l.Units[j].Step == nil && l.Units[j-1].Step == nil {
				d := new(big.Rat).Sub(rat(c.unit(i, j)), rat(c.unit(i, j-1)))
				add(d.Abs(d).Mul(d, big.NewRat(joint.Break, 1)))
			}
		}
	}
	for _, node := range c.p.Nodes {
		for _, t := range node.Throughs {
			in, _ := c.outward(node.Arms[t.In])
			out, _ := c.outward(node.Arms[t.Out])
			dear = max(dear, float64(t.Break))
			in.Add(in, out)
			add(in.Abs(in).Mul(in, big.NewRat(t.Break, 1)))
		}
	}
	cost, _ = sum.Float64()
	if unit == 0 {
		unit = dear
	}
	return cost, max(unit, 1)
}
