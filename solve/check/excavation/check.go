package excavation

import (
	"fmt"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// checker collects what is found.
type checker struct {
	p   *Problem
	f   *Profile
	out *Solution
}

// Check holds a dig against its jurisdiction.
func Check(p *Problem) Solution {
	var out Solution
	c := &checker{p: p, out: &out}
	if !c.sound() {
		return out
	}
	for _, s := range p.Stretch {
		out.Depth = max(out.Depth, s.Depth)
	}
	if p.Profile == "" {
		c.missing("jurisdiction for the excavation", "the engineer")
		return out
	}
	f, ok := Find(p.Profile)
	if !ok {
		c.fault("jurisdiction", fmt.Sprintf("no excavation rules on file for %q", p.Profile), "one of "+strings.Join(ids(), ", "))
		return out
	}
	c.f, out.Profile = &f, &f
	if out.Depth <= 0 {
		return out
	}
	c.engineer()
	c.sides()
	c.wayOut()
	c.spoil()
	c.water()
	c.crossings()
	c.air()
	c.shield()
	c.cautions()
	return out
}

func ids() []string {
	var out []string
	for _, f := range Profiles() {
		out = append(out, f.ID)
	}
	return out
}

// deepest keeps slips of the pen out of products.
const deepest = 10 * measure.Kilometre

// sound says what cannot be.
func (c *checker) sound() bool {
	before := len(c.out.Findings)
	for i, s := range c.p.Stretch {
		if s.To < s.From || s.Depth < 0 || s.Depth > deepest || max(s.From.Abs(), s.To.Abs()) > 1_000_000*measure.Kilometre {
			c.fault("stretch", fmt.Sprintf("a stretch of trench from %s to %s, %s deep, cannot be", s.From, s.To, s.Depth), "stretches that run up the leg and a depth below the ground")
		}
		if i > 0 && s.From < c.p.Stretch[i-1].To {
			c.fault("stretch", "stretches of trench overlap or do not rise", "one after the other along the leg")
		}
	}
	for _, g := range []*measure.Grade{c.p.Slope, c.p.Beside} {
		if g != nil && (g.Rise < 0 || g.Run < 0 || g.Rise == 0 && g.Run == 0) {
			c.fault("slope", fmt.Sprintf("%s is no slope", g), "rise to run, neither below 0")
		}
	}
	until := func(d *Document) *measure.Length {
		if d == nil {
			return nil
		}
		return d.Until
	}
	for _, l := range []*measure.Length{c.p.Plumb, c.p.Above, c.p.Spoil, until(c.p.Support), until(c.p.Engineer)} {
		if l != nil && (*l < 0 || *l > deepest) {
			c.fault("length", fmt.Sprintf("%s cannot be", l), "a length that is not below 0")
		}
	}
	return len(c.out.Findings) == before
}

func (c *checker) fault(id, text, try string) {
	c.out.Findings = append(c.out.Findings, finding.Finding{ID: "excavation." + id, Kind: finding.Fault, Text: text, Try: try, Where: c.where()})
}

// missing says what is not on file.
func (c *checker) missing(what, ask string) {
	c.out.Findings = append(c.out.Findings, finding.NoneOnFile(what, ask, c.where()))
}

func (c *checker) where() finding.Where {
	if c.p.Where.IsZero() {
		return finding.Where{Path: "dig"}
	}
	return c.p.Where
}

// result takes a check in, and says what is not met.
func (c *checker) result(r Result, try string) {
	c.out.Results = append(c.out.Results, r)
	c.out.Stopped = c.out.Stopped || r.Stop
	if r.Verdict != DoesNot {
		return
	}
	text := r.What + " does not meet the stated figure"
	ask := "the competent person"
	if r.Stop {
		text += ". Hard stop: only the document of a registered engineer resolves it"
		ask = "a registered engineer"
	}
	c.out.Findings = append(c.out.Findings, finding.Finding{ID: r.ID, Kind: finding.Attention, Text: text, Where: c.where(),
		Limit: r.Limit, Value: r.Value, Rule: r.Rule, Ask: ask, Try: try})
}

// remembered warns of a figure that is from memory: nothing hangs on it.
func (c *checker) remembered(what string, l string, rule string) {
	c.out.Findings = append(c.out.Findings, finding.Finding{ID: "excavation.from-memory", Kind: finding.Note, Where: c.where(),
		Text: fmt.Sprintf("%s: %s is from memory and was not held against anything", what, l), Rule: c.f.cites(rule), Ask: "whoever has the statute"})
}

// length is a length for a result: in the job's system, exact.
func (c *checker) length(l measure.Length) string { return c.p.Words.Length(l) }

// depth is how deep the dig is, rounded up to the millimetre or the sixteenth of an inch: no dig looks shallower than it is.
func (c *checker) depth() string {
	step := measure.Millimetre
	if c.p.Words.Imperial {
		step = measure.Sixteenth
	}
	return c.length((c.out.Depth + step - 1) / step * step)
}

// says is a limit as the rule writes it, with the job's own unit behind it where that is another.
func (c *checker) says(l *Limit) string {
	ours := c.length(l.Value)
	if ours == l.Says || l.Value == 0 || c.p.Words.Imperial && strings.HasSuffix(l.Says, " ft") {
		return l.Says
	}
	return l.Says + " (" + ours + ")"
}

// engineer is the depth, and the ground beside, that take a registered engineer.
func (c *checker) engineer() {
	f := c.f
	if l := f.Engineer; l != nil {
		r := Result{ID: "excavation.engineer", What: "the depth without a registered engineer's design", Verdict: Meets,
			Value: c.depth(), Limit: c.says(l), Rule: f.cites(l.Rule)}
		if l.holds(c.out.Depth) {
			r.Verdict, r.Stop = DoesNot, true
			c.answered(&r)
		}
		c.result(r, "the document of the design, or a shallower dig")
	}
	if g := f.Beside; g != nil {
		r := Result{ID: "excavation.ground-beside", What: "the fall of the ground away from the edge", Limit: g.String(), Rule: f.cites(f.BesideRule), Verdict: CannotSay}
		if c.p.Beside == nil {
			c.missing("fall of the ground beside the dig", "the surveyor")
		} else {
			r.Value, r.Verdict = c.p.Beside.String(), Meets
			if c.p.Beside.Cmp(*g) > 0 {
				r.Verdict, r.Stop = DoesNot, true
				c.answered(&r)
			}
		}
		c.result(r, "the document of the design")
	}
}

// answered lifts a hard stop where a registered engineer's document answers this depth. Nothing else lifts one.
func (c *checker) answered(r *Result) {
	d := c.p.Engineer
	if d == nil {
		return
	}
	if short := c.short(d); short != "" {
		r.What += ": " + short
		return
	}
	r.Verdict, r.Stop = CannotSay, false
	r.What += ": " + d.Name + ", which answers down to " + c.length(*d.Until) + ", is on file and is not judged here"
}

// short says why a document does not answer this dig; "" where it does.
func (c *checker) short(d *Document) string {
	switch {
	case d.Until == nil:
		c.missing("depth down to which "+d.Name+" answers", "who wrote it")
		return d.Name + " is on file, and no depth down to which it answers"
	case *d.Until < c.out.Depth:
		return d.Name + " answers down to " + c.length(*d.Until) + " alone"
	}
	return ""
}

// cautions go with every answer.
func (c *checker) cautions() {
	f := c.f
	c.out.Cautions = append(c.out.Cautions,
		fmt.Sprintf("%s, from %s, read %s. Local codes and the owner may ask for more: they go first", f.Law, f.Source, f.Read),
		"the competent person classes the soil, inspects each day and after rain, and decides about entry; this is a calculator and a record")
	c.out.Cautions = append(c.out.Cautions, f.Notes...)
}
