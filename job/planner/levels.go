package planner

import (
	"slices"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/place/ground"
	"trenchwright/place/route"
	"trenchwright/solve/layout"
	"trenchwright/solve/profile"
)

// Levels and lengths settle together: units are rigid and lie on the slope, so the profile moves the joints, and joints
// carry the profile. The loop below is the only one in the program, and this is its stop rule (layout.md §2): it ends when
// the profile leaves every leg the length, to the nanometre, that it was laid out for. From the third pass on the sequence of units is
// kept, so that only cut lengths and gaps take what is left; after mostPasses what still moves is told, with both lengths.
const mostPasses = 8

// settled lays out all legs on levels that fit them.
func (b *build) settled() []laid {
	from := len(b.found)
	legs := b.solveLegs(nil)
	if !b.levelled(legs) {
		return legs
	}
	for pass := 2; ; pass++ {
		q, sol, ok := b.solveLevels(legs)
		if !ok {
			return legs
		}
		moved := b.lieOn(q, sol)
		if len(moved) == 0 {
			b.heights, b.profile = &q, sol
			return legs
		}
		if pass > mostPasses {
			b.unsettled(moved, legs)
			return legs
		}
		b.found, b.plan.Proof.Legs = b.found[:from], b.plan.Proof.Legs[:0]
		before := legs
		if pass == 2 {
			before = nil
		}
		legs = b.solveLegs(before)
	}
}

// levelled tells whether levels are to be solved: there is a finished surface, and every leg was laid out.
func (b *build) levelled(legs []laid) bool {
	if b.ground.Of(ground.Finished) == nil {
		return false
	}
	for i := range b.sup {
		if c := b.sup[i].Cover; c == nil || !c.Thickness.Known || !b.job.Levels.Above.Known {
			return false // job.Missing says so
		}
	}
	return !slices.ContainsFunc(legs, func(l laid) bool { return len(l.units) == 0 })
}

// heights is a profile's problem with the way back from its joints to the run's.
type heights struct {
	problem profile.Problem
	legs    []legHeights
}

// legHeights says what stands for what on one leg.
type legHeights struct {
	supply []int // by unit of the problem: index of the job's supply
	joint  []int // by joint of the problem: k, the joint before unit k of the leg; 0 and the number of units: its ends; −1: a pin inside a unit
}

// solveLevels asks for the levels of all joints and has the answer checked.
func (b *build) solveLevels(legs []laid) (heights, profile.Solution, bool) {
	q := b.askLevels(legs)
	sol, err := profile.Solve(q.problem)
	if err != nil {
		b.add(finding.Finding{ID: "planner.levels-problem", Kind: finding.Fault, Text: "levels: " + err.Error(), Where: finding.Where{Path: "levels"}})
		return q, sol, false
	}
	if sol.Verdict != profile.Undecided {
		held := true
		for _, f := range profile.Check(q.problem, sol) {
			held = false
			b.add(f)
		}
		if !held {
			return q, sol, false
		}
	}
	if sol.Verdict != profile.Found {
		f := finding.Finding{ID: "planner.levels", Kind: finding.Impossible, Text: b.tell("the run cannot lie as asked: %s", sol.Why), Where: finding.Where{Path: "levels"}}
		if sol.Verdict == profile.Undecided {
			f.Kind, f.Text = finding.Attention, "no levels were found, and none were ruled out: "+sol.Why
		}
		for i, t := range sol.Try {
			if i > 0 {
				f.Try += "; "
			}
			f.Try += t
		}
		b.add(f)
		return q, sol, false
	}
	return q, sol, true
}

// lieOn lays the axes on the levels of a solution and tells which legs that moves.
func (b *build) lieOn(q heights, sol profile.Solution) (moved []int) {
	for i := range b.axes {
		a := &b.axes[i]
		knots := make([]knot, len(sol.Levels[i]))
		for k, z := range sol.Levels[i] {
			knots[k] = knot{chainage: q.problem.Legs[i].Joints[k].At, level: z}
		}
		was := a.clear
		*a = newAxis(a.line, newLie(knots), a.start, a.end)
		if a.clear != was {
			moved = append(moved, i)
		}
	}
	return moved
}

// refitted lays the units of the pass before on a leg that has moved a little: only cut lengths and gaps take what is left.
// Where that costs more than the best layout, the best layout stays.
func refitted(p layout.Problem, s layout.Solution, before []layout.Unit) layout.Solution {
	again, err := layout.Refit(p, s, before, nil, s.Opened)
	if err != nil {
		return s
	}
	return again
}

func (b *build) unsettled(moved []int, legs []laid) {
	for _, i := range moved {
		id := b.leg(i).ID
		b.add(finding.Finding{ID: "planner.unsettled", Kind: finding.Attention, Where: finding.Where{Leg: id},
			Text: b.tell("leg %s: its length on the slope still moves after %d passes: it was laid out for %s mm, and its levels make it %s mm", id, mostPasses, legs[i].problem.Length.MMString(), b.axes[i].clear.MMString()),
			Try:  "measure before the last cut"})
	}
}

// at is where a chainage of a leg lies in plan.
func (b *build) planAt(leg int, ch measure.Length) route.Point { return b.axes[leg].line.At(ch).At }
