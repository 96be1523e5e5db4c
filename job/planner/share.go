package planner

import (
	"trenchwright/solve/cutstock"
	"trenchwright/solve/layout"
)

// leastBought cuts the pieces of one leg from as few units as can be.
func leastBought(q layout.Problem, sol layout.Solution, s *supply) (layout.Solution, cutstock.Solution) {
	var want []wanted
	for i, u := range sol.Units {
		if u.Cut && !u.Hold {
			want = append(want, wanted{i, u, pieceOf(place("leg", i+1), s, u), false})
		}
	}
	if len(want) == 0 {
		return sol, cutstock.Solution{}
	}
	cut, err := cutstock.Solve(unitCutting(s, want, nil), cutstock.Limits{})
	if err != nil {
		return sol, cutstock.Solution{}
	}
	return sol, cut
}
