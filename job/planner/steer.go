package planner

import (
	"slices"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/solve/cutstock"
	"trenchwright/solve/layout"
)

// Legs and cutting are decided together: where the cut lengths of a leg have freedom that costs it nothing, they are moved
// to lengths that let the whole job buy fewer units, and then waste less. The search tries, for every free piece, the
// lengths that fill a unit beside another piece, and keeps what is better. It is bounded by a count of tries, so that the
// same job always gives the same plan.

// The search is bounded: each try is one cutting of the whole job, and a long run has fewer of them.
const (
	mostTries  = 300
	mostPieces = 12_000 // over all tries
)

// price is what a set of layouts costs to cut, compared in this order.
type price struct {
	bought int
	waste  measure.Length
}

func (p price) less(q price) bool {
	return p.bought < q.bought || p.bought == q.bought && p.waste < q.waste
}

// asked is one leg's problem with its best layout so far.
type asked struct {
	problem  layout.Problem
	solution layout.Solution
	fixed    bool // something lies on it: its lengths were chosen
}

// steer moves free cut lengths. cost prices all layouts, fills says which lengths of a unit of a leg are worth a try.
func steer(legs []asked, cost func([]asked) (price, bool), fills func(leg int, unit layout.Unit) []measure.Length) {
	now, ok := cost(legs)
	if !ok {
		return
	}
	pieces := 0
	for _, l := range legs {
		pieces += l.solution.Count.Cuts
	}
	most := min(mostTries, mostPieces/max(pieces, 1))
	for tries, better := 0, true; better; {
		better = false
		for i := range legs {
			s := legs[i].solution
			if legs[i].fixed || s.Verdict != layout.Found || s.Count.Cuts < 2 && !s.Opened {
				continue
			}
			free, err := layout.Freedom(legs[i].problem, s, nil, false)
			if err != nil {
				continue
			}
			for k, f := range free {
				for _, want := range fills(i, s.Units[f.Unit]) {
					if tries >= most {
						return
					}
					if !holds(f.Lengths, want) || want == s.Units[f.Unit].Length {
						continue
					}
					lengths := make([]measure.Length, len(free))
					lengths[k] = want
					t, err := layout.Refit(legs[i].problem, s, s.Units, lengths, false)
					if err != nil {
						continue
					}
					tries++
					old := legs[i].solution
					legs[i].solution = t
					if p, ok := cost(legs); ok && p.less(now) {
						now, better, s = p, true, t
						break
					}
					legs[i].solution = old
				}
			}
		}
	}
}

func holds(rs []layout.Range, l measure.Length) bool {
	return slices.ContainsFunc(rs, func(r layout.Range) bool { return r.Min <= l && l <= r.Max })
}

// fillsOf are the lengths of a piece that fill a unit beside one of the pieces given: nothing left over, or just the least
// slice. Mitred pieces are taken by their axis, which is near enough to be worth a try.
func fillsOf(s *supply, others []layout.Unit) []measure.Length {
	var out []measure.Length
	for _, stock := range s.Unit.Lengths.Value {
		for _, o := range others {
			l := stock - o.Length - s.Saw.Kerf.Value
			out = append(out, l, l-s.leastSlice())
		}
	}
	sorting.By(out, func(a, b measure.Length) int { return int(min(1, max(-1, b-a))) })
	return slices.Compact(out)
}

// steerLegs moves the free cut lengths of the whole job, and keeps what the job then cuts better.
func (b *build) steerLegs(legs []laid) {
	all := make([]asked, len(legs))
	pieces := 0
	for i := range legs {
		all[i] = asked{legs[i].problem, legs[i].solution, legs[i].built != nil}
		pieces += legs[i].solution.Count.Cuts
	}
	if pieces < 2 || pieces > lotSize {
		return
	}
	cost := func(now []asked) (price, bool) {
		var sum price
		for i := range b.sup {
			p, ok := b.priceOf(&b.sup[i], legs, now)
			if !ok {
				return sum, false
			}
			sum.bought, sum.waste = sum.bought+p.bought, sum.waste+p.waste
		}
		return sum, true
	}
	fills := func(leg int, u layout.Unit) []measure.Length {
		s := legs[leg].supply[u.Supply]
		var others []layout.Unit
		for i := range all {
			for _, o := range all[i].solution.Units {
				if o.Cut && !o.Hold && legs[i].supply[o.Supply] == s && (i != leg || o.Start != u.Start) {
					others = append(others, o)
				}
			}
		}
		return fillsOf(&b.sup[s], others)
	}
	before, ok := cost(all)
	if !ok {
		return
	}
	steer(all, cost, fills)
	for i := range legs {
		if start, end := legs[i].problem.Start.Tan, legs[i].problem.End.Tan; all[i].solution.Verdict == layout.Found && !all[i].fixed {
			if s, e := b.facings(i, legs[i].question, all[i].solution); s != start || e != end {
				all[i].solution = legs[i].solution // an end piece in a curve: another length would want another cut
			}
		}
	}
	if now, ok := cost(all); !ok || !now.less(before) {
		return
	}
	for i := range legs {
		legs[i].solution = all[i].solution
	}
}

// priceOf is what one supply's cut units cost in a set of layouts.
func (b *build) priceOf(s *supply, legs []laid, now []asked) (price, bool) {
	var want []wanted
	for i := range now {
		for k, u := range now[i].solution.Units {
			if u.Cut && !u.Hold && legs[i].supply[u.Supply] == s.index {
				want = append(want, wanted{piece: pieceOf(place(b.leg(i).ID, k+1), s, u)})
			}
		}
	}
	return priceCut(s, want, unitCutting(s, want, b.job.Yard))
}

func priceCut(s *supply, want []wanted, p cutstock.Problem) (price, bool) {
	if len(want) == 0 {
		return price{}, true
	}
	sol, err := cutstock.Solve(p, cutstock.Limits{Effort: 1 << 22})
	if err != nil || sol.Verdict != cutstock.Found {
		return price{}, false
	}
	return price{sol.Bought, sol.Waste}, true
}
