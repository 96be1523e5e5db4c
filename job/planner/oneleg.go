package planner

import (
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/solve/cutstock"
	"trenchwright/solve/layout"
)

// OneLegAnswer is one leg laid out on the spot. Its JSON is what `trenchwright leg --json` prints.
type OneLegAnswer struct {
	Verdict string       `json:"verdict"` // found, impossible, undecided
	Why     string       `json:"why"`
	Try     []string     `json:"try,omitempty"`
	Units   []OneLegUnit `json:"units"`
	Count   OneLegCount  `json:"count"`
	Bound   []string     `json:"bound"` // what was proven
	Assumed []string     `json:"assumed"`
}

// OneLegUnit is one unit of a leg laid out on the spot.
type OneLegUnit struct {
	Start      measure.MM    `json:"start_mm"`
	Length     measure.MM    `json:"length_mm"`
	GapAfter   measure.MM    `json:"gap_after_mm"`
	Stock      measure.MM    `json:"stock_mm"`
	Cut        bool          `json:"cut"`
	Hold       bool          `json:"hold,omitempty"`
	StartAngle float64       `json:"start_angle_deg"` // how far its face is from square, with the sign of its hand
	EndAngle   float64       `json:"end_angle_deg"`
	Covers     []OneLegCover `json:"covers"`
}

// OneLegCover is one cover, from its unit's start.
type OneLegCover struct {
	Start  measure.MM `json:"start_mm"`
	Length measure.MM `json:"length_mm"`
	Cut    bool       `json:"cut"`
}

// OneLegCount is how the leg comes out.
type OneLegCount struct {
	Units     int `json:"units"`
	Cuts      int `json:"cuts"`
	CutCovers int `json:"cut_covers"`
	Bought    int `json:"bought"`
}

// OneLeg lays out one leg of one supply, its supply filled in from made, and says what has to be bought for it. Where the
// best layout cannot be cut, or nobody knows, the answer is undecided: another layout might do.
func OneLeg(q layout.Problem, made job.Supply) (OneLegAnswer, error) {
	s := supplies(job.Job{Supplies: []job.Supply{made}})
	q.Supplies = []layout.Supply{layoutSupply(&s[0])}
	sol, err := layout.Solve(q)
	if err != nil {
		return OneLegAnswer{}, err
	}
	var cut cutstock.Solution
	var cutting cutstock.Problem
	if sol.Verdict == layout.Found {
		if sol, cutting, cut, err = leastBought(q, sol, &s[0]); err != nil {
			return OneLegAnswer{}, err
		}
	}
	if bad := wrong(q, sol, cutting, cut); len(bad) > 0 {
		return OneLegAnswer{}, fmt.Errorf("the answer did not pass its own check, please report it: %s", bad[0].Text)
	}
	sol = askSaw(sol, s, []int{0})
	out := OneLegAnswer{Verdict: string(sol.Verdict), Why: sol.Why, Try: sol.Try, Units: []OneLegUnit{}, Bound: []string{}, Assumed: []string{}}
	if sol.Verdict != layout.Found {
		return out, nil
	}
	if cut.Verdict != cutstock.Found {
		out.Verdict, out.Why = string(layout.Undecided), fmt.Sprintf("the leg comes out with %s, but its cut pieces were not cut from this stock: %s", countText(sol.Count, wording.Speech{}), cut.Why)
		return out, nil
	}
	out.Count = OneLegCount{Units: sol.Count.Units, Cuts: sol.Count.Cuts, CutCovers: sol.Count.CutCovers, Bought: sol.Count.Units - sol.Count.Cuts + cut.Bought}
	for _, u := range sol.Units {
		if u.Hold {
			out.Count.Bought++
		}
		out.Units = append(out.Units, oneLegUnit(u))
	}
	out.Bound = []string{
		fmt.Sprintf("no layout has fewer units, then fewer cuts, then fewer cut covers (proven: cost to go over %d intervals, checked)", sol.Certificate.Len()),
	}
	if len(cut.Patterns) > 0 {
		var t lots
		t.add(cutting, cut)
		out.Bound = append(out.Bound, t.text("unit", "units"))
	}
	return out, nil
}

// wrong is what the separate checkers say against the answer. Where nothing is claimed there is nothing to check.
func wrong(q layout.Problem, sol layout.Solution, cutting cutstock.Problem, cut cutstock.Solution) []finding.Finding {
	var bad []finding.Finding
	if sol.Verdict != layout.Undecided {
		bad = layout.Check(q, sol)
	}
	if len(cutting.Pieces) > 0 && cut.Verdict != cutstock.Undecided {
		bad = append(bad, cutstock.Check(cutting, cut)...)
	}
	return bad
}

func oneLegUnit(u layout.Unit) OneLegUnit {
	v := OneLegUnit{Start: measure.MM(u.Start), Length: measure.MM(u.Length), GapAfter: measure.MM(u.GapAfter), Stock: measure.MM(u.Stock), Cut: u.Cut, Hold: u.Hold,
		StartAngle: sawAngle(u.StartTan).Degrees(), EndAngle: sawAngle(u.EndTan).Degrees(), Covers: []OneLegCover{}}
	for _, c := range u.Covers {
		v.Covers = append(v.Covers, OneLegCover{measure.MM(c.Start), measure.MM(c.Length), c.Cut || c.Mitred})
	}
	return v
}
