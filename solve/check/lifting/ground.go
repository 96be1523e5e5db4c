package lifting

import (
	"trenchwright/base/measure"
	"trenchwright/solve/check"
)

// Ground is what a machine presses on the ground with while it lifts, and what the ground there is allowed: both as somebody entered them.
type Ground struct {
	Reaction *check.Quantity    // of the outrigger that presses most, from the machine's papers
	Pad      *[2]measure.Length // what it stands on
	Pressure *check.Quantity    // instead of both: under tracks or mats, from the machine's papers
	From     string
	Allows   *check.Quantity // what the ground at the stand is allowed
	Known    string          // who said so
}

// groundEngineer is who decides about what a machine stands on.
const groundEngineer = "the engineer who answers for the ground at the stand"

var groundRule = check.Rule{ID: "lifting.ground", Says: "what a machine presses on the ground with is at most what the ground at its stand is allowed: the reaction of an outrigger over the area of its pad, or the pressure under tracks",
	Law: "statics: force over area", Source: "as entered", Status: check.Closed, Tests: []string{"lifting.TestGround"}}

func (g *Ground) sound(p *Problem, out *Solution) bool {
	for _, q := range []*check.Quantity{g.Reaction, g.Pressure, g.Allows} {
		if q != nil && q.SI <= 0 {
			return p.fault(out, "a force or a pressure of nothing under a machine cannot be", "the figure of the machine's papers, and that of whoever answers for the ground")
		}
	}
	if g.Pad != nil && (g.Pad[0] <= 0 || g.Pad[1] <= 0 || max(g.Pad[0], g.Pad[1]) > longest) {
		return p.fault(out, "a pad of that size cannot be", "both sides of what the outrigger stands on, for example 1000 mm x 1000 mm")
	}
	return true
}

// ground holds the pressure under the machine against what the ground is allowed.
func (p *Problem) ground(out *Solution) {
	g := p.Ground
	a := check.Answer{ID: "lifting.ground", What: "what the machine presses on the ground with", Where: p.Where, Rule: groundRule, Decides: groundEngineer + ", with the lift planner",
		Try: "larger pads or mats, by whoever answers for them; another stand; a smaller radius", Cautions: append([]string{
			"an outrigger presses most with the boom over it: its figure is that for this load at this radius. Under a pad that bends the pressure is greater than force over area",
			"over a pipe, a void or new fill, and within the slope of a dig, ground bears less than was said of it elsewhere: whoever allowed the pressure has to know where the machine stands"}, cautions...)}
	var under *check.Quantity
	if g.Pressure != nil {
		a.Give("pressure under tracks or mats", *g.Pressure, g.From)
		under = g.Pressure
	} else {
		force, has := a.Need("reaction of an outrigger, or pressure under tracks", g.Reaction, g.From, "the owner of the machine")
		if g.Pad == nil {
			if has {
				a.Missing = append(a.Missing, check.Missing{What: "size of the pad under the outrigger", Ask: planner})
			}
		} else {
			a.Give("pad, one side", length(g.Pad[0]), g.From)
			a.Give("pad, other side", length(g.Pad[1]), g.From)
			area := a.Work("area of the pad", "one side x other side", check.Area.Of(g.Pad[0].Metres()*g.Pad[1].Metres()))
			if has {
				under = new(a.Work("pressure under the pad", "reaction / area", check.Pressure.Of(force.SI/area.SI)))
			}
		}
	}
	allows, known := a.Need("pressure that the ground at the stand is allowed", g.Allows, g.Known, groundEngineer)
	if known && under != nil {
		a.Hold(*under, allows, g.Known, check.AtMost(under.SI, 0, allows.SI))
	}
	out.Answers = append(out.Answers, a)
}
