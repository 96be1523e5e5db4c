package profile

import (
	"slices"

	"trenchwright/base/measure"
)

// Solve finds the levels. First the best ones, whatever their grades: a convex programme, solved by an interior point and
// proven by its multipliers. Then breaks of grade that stand too close are drawn together, grades go on their step from pin to
// pin, and limits are held exactly; where that fails the limits there are drawn in by a step and all is solved again, a few
// times. "Impossible" is said of the limits as they were given, and only with a conflict whose proof holds.
//
// The error is for a Problem that is not in order; it names every field at fault.
func Solve(p Problem) (Solution, error) {
	if err := p.faults(); err != nil {
		return Solution{}, err
	}
	asked := p
	p = p.toCome()
	if c := p.plain(); c != nil {
		return p.impossible(c), nil
	}
	b := &builder{p: &p}
	s, w := b.best()
	if w == nil {
		return s, nil
	}
	b.prove(&s)
	if w.rough != nil && !s.Proven { // where the matrix is stiff, refining can do harm
		other := s
		w.prices, w.ends = w.rough, w.roughEnds
		other.Proof = b.certificate()
		if b.prove(&other); other.Bound > s.Bound {
			s = other
		}
	}
	r := p.draw(w, b.origin)
	if r == nil {
		return Solution{Verdict: Undecided, Why: "levels that hold every limit were found, but none in whole nanometres: the limits leave no room to round",
			Least: s.Least, Bound: s.Bound, Proof: s.Proof}, nil
	}
	s.Levels, s.Runs = r.levels, r.runs
	s.Cost = p.cost(s.Levels, s.Runs)
	s.Lips, s.Lows = asked.lips(s.Runs), p.lows(s.Levels)
	s.Findings = asked.findings(&s)
	return s, nil
}

// prove works out what the certificate of the best levels proves.
func (b *builder) prove(s *Solution) {
	s.Bound, s.Proven = 0, false
	if low, why := b.p.lowerBound(s.Proof, allLimits, true, s.Least); why == "" {
		s.Bound, _ = low.Float64()
		s.Bound = max(0, min(down53(s.Bound), s.Least))
		s.Proven = s.Least-s.Bound <= float64(provenTo*max(s.Least, b.price/100))
	}
}

// provenTo is how far, relative, the best levels may be off what is proven.
const provenTo = 1e-6

func allLimits(Kind, int, int) bool { return true }

// down53 is v lowered by more than its conversion can have raised it.
func down53(v float64) float64 { return v - float64(1e-15*max(v, -v)) }

// Best is Solve as far as the best levels, before grades are put on their step: what they cost, or why there are none.
// Levels are to the nanometre and may pass limits by one; there are no Runs, and what the certificate proves has not been
// worked out. It is for asking what a change would cost.
func Best(p Problem) (Solution, error) {
	if err := p.faults(); err != nil {
		return Solution{}, err
	}
	p = p.toCome()
	if c := p.plain(); c != nil {
		return p.impossible(c), nil
	}
	b := &builder{p: &p}
	s, w := b.best()
	if w == nil {
		return s, nil
	}
	for _, leg := range w.kept {
		levels := make([]measure.Length, len(leg))
		for j, z := range leg {
			levels[j] = settle(z, b.origin)
		}
		s.Levels = append(s.Levels, levels)
	}
	return s, nil
}

// Unpriced is a Problem in which changes of grade cost nothing: what keeps its levels off where they are wanted is limits alone.
func (p Problem) Unpriced() Problem {
	p.Legs, p.Nodes = slices.Clone(p.Legs), slices.Clone(p.Nodes)
	for i := range p.Legs {
		p.Legs[i].Joints = slices.Clone(p.Legs[i].Joints)
		for j := range p.Legs[i].Joints {
			p.Legs[i].Joints[j].Break = 0
		}
	}
	for n := range p.Nodes {
		p.Nodes[n].Throughs = slices.Clone(p.Nodes[n].Throughs)
		for t := range p.Nodes[n].Throughs {
			p.Nodes[n].Throughs[t].Break = 0
		}
	}
	return p
}

// best finds the best levels; the work is nil where there are none.
func (b *builder) best() (Solution, *work) {
	w := b.build()
	if !w.run() {
		return b.p.refuse(), nil
	}
	return Solution{Verdict: Found, Least: w.cost * b.price, Proof: b.certificate()}, w
}
