package planner

import (
	"trenchwright/base/measure"
	"trenchwright/solve/cutstock"
	"trenchwright/solve/layout"
)

// leastBought cuts the pieces of one leg from as few units as can be, moving its free cut lengths. A leg without a cut is
// cut with nothing.
func leastBought(q layout.Problem, sol layout.Solution, s *supply) (layout.Solution, cutstock.Problem, cutstock.Solution, error) {
	want := func(sol layout.Solution) []wanted {
		var out []wanted
		for i, u := range sol.Units {
			if u.Cut && !u.Hold {
				out = append(out, wanted{unit: i, laid: u, piece: pieceOf(place("leg", i+1), s, u)})
			}
		}
		return out
	}
	legs := []asked{{problem: q, solution: sol}}
	steer(legs, func(now []asked) (price, bool) {
		w := want(now[0].solution)
		return priceCut(s, w, unitCutting(s, w, nil))
	}, func(_ int, u layout.Unit) []measure.Length {
		var others []layout.Unit
		for _, o := range legs[0].solution.Units {
			if o.Cut && !o.Hold && o.Start != u.Start {
				others = append(others, o)
			}
		}
		return fillsOf(s, others)
	})
	sol = legs[0].solution
	w := want(sol)
	if len(w) == 0 {
		return sol, cutstock.Problem{}, cutstock.Solution{Verdict: cutstock.Found, Proven: true}, nil
	}
	p := unitCutting(s, w, nil)
	cut, err := cutstock.Solve(p, cutstock.Limits{})
	return sol, p, cut, err
}
