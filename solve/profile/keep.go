package profile

import (
	"slices"

	"trenchwright/base/measure"
)

// Keep is a solution of a Problem with the grades of an earlier one, whose joints were the same and stood a little elsewhere.
// Every run that lies on a step, or steps, rises as it did; what lies between two levels that are thereby known closes, and
// so has the grade that it has to have. Levels that hang on no pin start where they did. Lengths on the slope then hang on
// what closes alone: joints and levels that are asked for in turn come to rest.
//
// What is proven stays that of s, the Problem's own solution: what levels cost at least. ok is false where the runs do not fit,
// or where a limit does not bear them; Check says so of whoever asks.
func Keep(p Problem, s, before Solution) (kept Solution, ok bool) {
	asked := p
	p = p.toCome()
	g := &grader{p: &p}
	pieces, ok := g.pieces(before)
	if !ok {
		return s, false
	}
	g.hang(pieces, before)
	for _, r := range pieces {
		g.rec.runs = append(g.rec.runs, g.kept(r))
	}
	g.rec.merge(&p)
	s.Levels, s.Runs = g.rec.levels, g.rec.runs
	s.Cost = p.cost(s.Levels, s.Runs)
	s.Lips, s.Lows = asked.lips(s.Runs), p.lows(s.Levels)
	s.Findings = asked.findings(&s)
	return s, len(Check(asked, s)) == 0
}

// pieces are the runs of a solution, divided where a joint is pinned; the pins are known. ok is false where they are not runs
// of this problem.
func (g *grader) pieces(before Solution) (out []Run, ok bool) {
	if len(before.Levels) != len(g.p.Legs) {
		return nil, false
	}
	for i := range g.p.Legs {
		n := len(g.p.Legs[i].Joints)
		if len(before.Levels[i]) != n {
			return nil, false
		}
		g.rec.levels, g.known = append(g.rec.levels, make([]measure.Length, n)), append(g.known, make([]bool, n))
	}
	for i := range g.p.Legs {
		for j := range g.p.Legs[i].Joints {
			if pin := g.p.Legs[i].Joints[j].Pin; pin != nil {
				g.know(i, j, *pin)
			}
		}
	}
	for _, r := range before.Runs {
		l := &g.p.Legs[r.Leg]
		if r.Stepped != (l.Units[r.From].Step != nil) {
			return nil, false
		}
		for j := r.From + 1; j < r.To; j++ {
			if g.known[r.Leg][j] {
				out = append(out, Run{Leg: r.Leg, From: r.From, To: j, Grade: r.Grade, OnStep: r.OnStep})
				r.From = j
			}
		}
		out = append(out, r)
	}
	return out, true
}

// hang settles the levels at both ends of every piece: by the rise of pieces from what is known as far as that reaches, then
// from a level of before.
func (g *grader) hang(pieces []Run, before Solution) {
	for again := true; again; {
		again = false
		for _, r := range pieces {
			from, to := g.known[r.Leg][r.From], g.known[r.Leg][r.To]
			if from == to || !r.OnStep && !r.Stepped {
				continue
			}
			again = true
			levels, rise := g.rec.levels[r.Leg], g.rise(r, before)
			if from {
				g.know(r.Leg, r.To, levels[r.From]+rise)
			} else {
				g.know(r.Leg, r.From, levels[r.To]-rise)
			}
		}
		if again {
			continue
		}
		for _, firm := range []bool{true, false} { // what closes is left for last
			k := slices.IndexFunc(pieces, func(r Run) bool {
				return (r.OnStep || r.Stepped) == firm && !(g.known[r.Leg][r.From] && g.known[r.Leg][r.To])
			})
			if again = k >= 0; again {
				r := pieces[k]
				j := r.From
				if g.known[r.Leg][j] {
					j = r.To
				}
				g.know(r.Leg, j, before.Levels[r.Leg][j])
				break
			}
		}
	}
}

// rise is what a piece makes from end to end; one that steps makes the step it did, if that is not too much.
func (g *grader) rise(r Run, before Solution) measure.Length {
	l := &g.p.Legs[r.Leg]
	even := climb(r.Grade, l.Joints[r.To].At-l.Joints[r.From].At)
	if !r.Stepped {
		return even
	}
	up := before.Levels[r.Leg][r.To] - before.Levels[r.Leg][r.From]
	if most := l.Units[r.From].Step.Most; most != nil {
		up = min(max(up, even-*most), even+*most)
	}
	return up
}

// kept is a piece between its levels, and puts its joints on its grade: its own where that is what it makes.
func (g *grader) kept(r Run) Run {
	joints, levels := g.p.Legs[r.Leg].Joints, g.rec.levels[r.Leg]
	up, along := levels[r.To]-levels[r.From], joints[r.To].At-joints[r.From].At
	if lies := g.p.Legs[r.Leg].Units[r.From].Lies; lies != nil { // one unit: both its joints are known
		r.Grade, r.OnStep = *lies, g.p.onStep(*lies)
	} else if !r.Stepped && climb(r.Grade, along) != up {
		r.Grade = between(up, along)
		r.OnStep = g.p.onStep(r.Grade)
	}
	for j := r.From + 1; j < r.To; j++ {
		levels[j] = levels[r.From] + climb(r.Grade, joints[j].At-joints[r.From].At)
	}
	return r
}
