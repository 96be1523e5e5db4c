package profile

import "trenchwright/base/measure"

// Beyond is the units of a solution that lie steeper than an entered grade, either way: beyond it units would slide, and are
// laid in steps. Whoever asks makes them step (Unit.Step) and solves again.
func Beyond(s Solution, steepest measure.Grade) []Stretch {
	var out []Stretch
	for _, run := range s.Runs {
		g := run.Grade
		if g.Rise < 0 {
			g = negated(g)
		}
		if run.Stepped || g.Cmp(steepest) <= 0 {
			continue
		}
		if n := len(out); n > 0 && out[n-1].Leg == run.Leg && out[n-1].To == run.From {
			out[n-1].To = run.To
			continue
		}
		out = append(out, Stretch{run.Leg, run.From, run.To})
	}
	return out
}

// Stretch is some units of a leg, between two joints.
type Stretch struct{ Leg, From, To int }

// InSteps makes the units of a stretch step, at the grade stated and with a step of at most most (nil: none on file). The
// Problem that was given stays as it is.
func (p Problem) InSteps(where []Stretch, g measure.Grade, most *measure.Length) Problem {
	legs := append([]Leg(nil), p.Legs...)
	for _, s := range where {
		units := append([]Unit(nil), legs[s.Leg].Units...)
		for k := s.From; k < s.To; k++ {
			units[k].Step = &Step{Grade: g, Most: most}
		}
		legs[s.Leg].Units = units
	}
	p.Legs = legs
	return p
}
