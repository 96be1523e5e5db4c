package lifting

import (
	"fmt"
	"slices"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/solve/check"
)

// Machine is what lifts, as its chart has it for the configuration that stands there.
type Machine struct {
	Name    string
	Chart   []Row // by rising radius
	From    string
	Reserve *float64        // share of the chart that is kept free; nil: none stated
	Shared  int             // how many machines lift the piece together; 0 and 1: one alone
	Pick    *measure.Length // radius at which the piece is picked up
	Set     *measure.Length // and at which it is set down
}

// Row is one line of a chart.
type Row struct {
	Radius measure.Length
	Lifts  measure.Mass
}

var chart = check.Rule{ID: "lifting.chart", Says: "a machine lifts at a radius what its chart has there; between two lines in proportion, beyond the last one nothing",
	Law: "the maker's chart", Source: "as entered", Status: check.Closed, Tests: []string{"lifting.TestChart"}}

var reserveRule = check.Rule{ID: "lifting.shared", Only: "lowers the limit of lifting.chart", Says: "machines that lift together each keep free of their chart: two 20 %, three a third, more half", Law: "mobile crane code of practice, Queensland, 14.3.2",
	Source: "as read", Status: check.Read, Tests: []string{"lifting.TestChart"}}

// Reserve is what each of several machines keeps free of its chart while they lift together.
func Reserve(machines int) float64 {
	switch {
	case machines < 2:
		return 0
	case machines == 2:
		return 0.20
	case machines == 3:
		return 1.0 / 3
	}
	return 0.50
}

func (m *Machine) sound(p *Problem, out *Solution) bool {
	for i, r := range m.Chart {
		if r.Radius <= 0 || r.Radius > longest || r.Lifts <= 0 || r.Lifts > heaviest {
			return p.fault(out, fmt.Sprintf("a chart with %s at %s cannot be", r.Lifts, p.Words.Length(r.Radius)), "radius and mass above 0, as the chart has them")
		}
		if i > 0 && r.Radius <= m.Chart[i-1].Radius {
			return p.fault(out, "the radii of a chart do not rise", "one line a radius, the shortest first")
		}
		if i > 0 && r.Lifts > m.Chart[i-1].Lifts {
			return p.fault(out, fmt.Sprintf("the chart lifts more at %s than nearer by", p.Words.Length(r.Radius)), "look at the chart again: a gap or a line of another configuration is in it")
		}
	}
	for _, r := range []*measure.Length{m.Pick, m.Set} {
		if r != nil && (*r <= 0 || *r > longest) {
			return p.fault(out, fmt.Sprintf("a radius of %s cannot be", r), "from the centre of rotation to below the hook")
		}
	}
	if m.Reserve != nil && !(*m.Reserve >= 0 && *m.Reserve < 1) {
		return p.fault(out, "a reserve of less than nothing, or of everything, cannot be", "the share of the chart that is kept free, for example 0.25")
	}
	return true
}

// at is what the chart has at a radius, and its next line outwards; false: the radius is not on it.
func (m *Machine) at(radius measure.Length) (lifts, next float64, ok bool) {
	i := slices.IndexFunc(m.Chart, func(r Row) bool { return r.Radius >= radius })
	if i < 0 || i == 0 && m.Chart[0].Radius > radius {
		return 0, 0, false
	}
	out := m.Chart[i]
	next = out.Lifts.Kilograms()
	if out.Radius == radius {
		return next, next, true
	}
	in := m.Chart[i-1]
	share := float64(radius-in.Radius) / float64(out.Radius-in.Radius)
	return in.Lifts.Kilograms() + float64(share*(next-in.Lifts.Kilograms())), next, true
}

// machine holds the load at the hook against the chart at both radii.
func (p *Problem) machine(out *Solution) {
	m := p.Machine
	for _, each := range []struct {
		id, what string
		radius   *measure.Length
	}{{"lifting.pick", "the load at the hook where the piece is picked up", m.Pick}, {"lifting.set", "the load at the hook where the piece is set", m.Set}} {
		a := p.answer(each.id, each.what, chart, "stand nearer, a larger machine, or a lighter piece")
		a.Stop = true
		load := p.load(&a)
		tackle, has := a.Need("mass of hook block and tackle", some(p.Tackle, mass), "", planner)
		radius, near := a.Need("radius where the piece is "+map[string]string{"lifting.pick": "picked up", "lifting.set": "set"}[each.id], some(each.radius, length), "", planner)
		if len(m.Chart) == 0 {
			a.Missing = append(a.Missing, check.Missing{What: "chart of the machine for this configuration", Ask: "the owner of the machine"})
		}
		if has && near && len(m.Chart) > 0 {
			hook := a.Work("load at the hook", "load + tackle", check.Mass.Of(load.SI+tackle.SI))
			p.charted(&a, hook, radius, *each.radius)
		}
		out.Answers = append(out.Answers, a)
	}
}

// charted holds a load at the hook against the chart.
func (p *Problem) charted(a *check.Answer, hook, radius check.Quantity, at measure.Length) {
	m := p.Machine
	lifts, next, ok := m.at(at)
	if !ok {
		a.Missing = append(a.Missing, check.Missing{What: fmt.Sprintf("line of the chart for a radius of %s (it runs from %s to %s, and nothing is read beyond it)", p.Words.Length(at), p.Words.Length(m.Chart[0].Radius), p.Words.Length(m.Chart[len(m.Chart)-1].Radius)),
			Ask: "the owner of the machine"})
		return
	}
	a.Work("the chart at "+radius.In(p.Words.Imperial), "between its lines in proportion", check.Mass.Of(lifts))
	a.Work("its next line outwards", "what the chart itself prints", check.Mass.Of(next))
	reserve, from := Reserve(m.Shared), m.From
	if m.Reserve != nil {
		reserve = max(reserve, *m.Reserve)
	}
	if reserve > 0 {
		by := "as entered"
		if reserve == Reserve(m.Shared) {
			by = reserveRule.Law
		}
		a.Give("share of the chart that is kept free", check.Percent.Of(reserve), by)
		lifts, next = lifts*(1-reserve), next*(1-reserve)
		a.Work("left of it", "x (1 - that share)", check.Mass.Of(lifts))
	}
	verdict := check.AtMost(hook.SI, 0, lifts)
	if hook.SI > next && hook.SI <= lifts {
		verdict = finding.CannotSay // between what two lines print: the chart itself says whether it may be read there
	}
	a.Hold(hook, check.Mass.Of(lifts), from, verdict)
}
