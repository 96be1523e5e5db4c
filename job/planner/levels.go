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
// the profile leaves every leg the length, to the nanometre, that it was laid out for, and every joint where the profile has
// it, to the rounding of one chainage. From the third pass on the sequence of units is kept, so that only cut lengths and
// gaps take what is left; from the fifth on the grades are kept too, for two that cost almost the same may take turns, and only
// what closes between two fixed levels gives; behind that the windows around changes of grade keep their places as well
// (graded.go, nearby), and lengths depend on next to nothing that moves. What still moves after mostPasses is told, with both
// lengths; it then has no levels, and neither has a run that cannot lie as asked: both are laid out as if nothing but the
// levels of their nodes were known.
const (
	mostPasses = 12
	keepGrades = 5
	rounding   = measure.Length(1) // of a joint's chainage: it is counted along the slope in whole nanometres, and back
)

// settled lays out all legs on levels that fit them.
func (b *build) settled() []laid {
	from := len(b.found)
	b.rough = b.levelsAsked()
	legs := b.solveLegs(nil)
	if !b.rough {
		return legs
	}
	b.rough = false
	unlaid := func(l laid) bool { return len(l.units) == 0 }
	if slices.ContainsFunc(legs, unlaid) {
		return b.anew(from, nil)
	}
	var last *profile.Solution
	for pass := 2; ; pass++ {
		said := len(b.found)
		b.findSteps(legs)
		if pass < keepGrades {
			last = nil
		}
		q, sol, ok := b.solveLevels(legs, last)
		if !ok {
			return b.unlevelled(from, said)
		}
		moved := b.lieOn(q, sol, legs)
		if len(moved) == 0 {
			b.heights, b.profile = &q, sol
			return legs
		}
		if pass > mostPasses {
			b.unsettled(moved, legs)
			return b.unlevelled(from, said)
		}
		if pass == keepGrades {
			b.kept = make([][]change, len(legs))
		}
		before := legs
		if last = &sol; pass == 2 {
			before = nil
		}
		if legs = b.anew(from, before); slices.ContainsFunc(legs, unlaid) {
			said = len(b.found)
			b.unlaidOnSlope(legs)
			return b.unlevelled(from, said)
		}
	}
}

// anew lays out all legs once more; what was found of them so far, from a finding on, is forgotten.
func (b *build) anew(from int, before []laid) []laid {
	b.found, b.plan.Proof.Legs = b.found[:from], b.plan.Proof.Legs[:0]
	return b.solveLegs(before)
}

// unlevelled lays out all legs without a profile, on the levels of their nodes. What was said of the profile stays.
func (b *build) unlevelled(from, said int) []laid {
	why := slices.Clone(b.found[said:])
	b.kept = nil
	for i, l := range b.net.Legs {
		b.axes[i] = newAxis(l.Line, b.nodeLie(l), b.axes[i].start, b.axes[i].end)
	}
	legs := b.anew(from, nil)
	b.add(why...)
	return legs
}

// levelsAsked tells whether levels are to be solved: there is a finished surface, and it is known how far below it walls end.
func (b *build) levelsAsked() bool {
	if b.ground.Of(ground.Finished) == nil {
		return false
	}
	for i := range b.sup {
		if c := b.sup[i].Cover; c == nil || !c.Thickness.Known || !b.job.Levels.Above.Known {
			return false // job.Missing says so
		}
	}
	return true
}

// heights is a profile's problem with the way back from its joints to the run's.
type heights struct {
	problem profile.Problem
	legs    []legHeights
	how     holding
	said    finding.List // of what the job fixes elsewhere than it lies
}

// legHeights says what stands for what on one leg.
type legHeights struct {
	supply []int // by unit of the problem: index of the job's supply
	unit   []int // by unit of the problem: the unit of the leg that it is, or is a part of
	joint  []int // by joint of the problem: k, the joint before unit k of the leg; 0 and the number of units: its ends; −1: a pin inside a unit
	bedded bedding
	held   []int // by unit of the problem: which of the grades that its built part keeps is its own, from 1; 0: none, or it lies
}

// solveLevels asks for the levels of all joints, those of sawn branches by what they are sawn into.
func (b *build) solveLevels(legs []laid, before *profile.Solution) (heights, profile.Solution, bool) {
	q := b.keptLevels(legs)
	sol, ok := b.solved(q, before)
	if !ok {
		return q, sol, false
	}
	q, sol = b.tieBranches(q, sol, before)
	return q, sol, true
}

// solved has the levels solved and the answer checked. Grades of the solution before are kept where that can be: solved for
// what they leave open, and once windows keep their places, as they are. nil: there is none.
func (b *build) solved(q heights, before *profile.Solution) (profile.Solution, bool) {
	if kept, ok := q.keep(before); ok {
		if sol, err := profile.Solve(kept.problem); err == nil && sol.Verdict == profile.Found && len(profile.Check(kept.problem, sol)) == 0 {
			sol.Findings = append(q.problem.Said(sol), gradesKept())
			return sol, true
		}
	}
	sol, err := profile.Solve(q.problem)
	if err != nil {
		b.add(finding.Finding{ID: "planner.levels-problem", Kind: finding.Fault, Text: "levels: " + err.Error(), Where: finding.Where{Path: "levels"}})
		return sol, false
	}
	if sol.Verdict != profile.Undecided {
		held := true
		for _, f := range profile.Check(q.problem, sol) {
			held = false
			b.add(f)
		}
		if !held {
			return sol, false
		}
	}
	if sol.Verdict != profile.Found {
		f := finding.Finding{ID: "planner.levels", Kind: finding.Impossible, Text: b.tell("the run cannot lie as asked: %s", sol.Why), Where: finding.Where{Path: "levels"}}
		if sol.Verdict == profile.Undecided {
			f.Kind, f.Text = finding.Attention, "no levels were found, and none were ruled out: "+sol.Why
		}
		f.Try = remedies(sol.Try, "a pin that is moved or taken out, a steeper greatest grade, a smaller least fall, or a finished ground that may be left further")
		b.add(f)
		return sol, false
	}
	if before != nil && b.kept != nil { // the kept grades of a long leg can leave float64 no room to solve with
		if kept, ok := profile.Keep(q.problem, sol, *before); ok {
			kept.Findings = append(kept.Findings, gradesKept())
			return kept, true
		}
	}
	return sol, true
}

// gradesKept says that grades were not chosen anew.
func gradesKept() finding.Finding {
	return finding.Finding{ID: "planner.grades-kept", Kind: finding.Note, Where: finding.Where{Path: "levels"},
		Text: "grades that cost almost the same took turns as lengths settled: those of an earlier pass were kept, so that what the levels cost may be above the least by as little"}
}

// keep holds every unit to the grade that it had, where that is a whole number of steps; what closes off its step stays one
// grade, and the same units.
func (q heights) keep(before *profile.Solution) (heights, bool) {
	if before == nil {
		return q, false
	}
	legs := slices.Clone(q.problem.Legs)
	for i := range legs {
		legs[i].Units, legs[i].Joints = slices.Clone(legs[i].Units), slices.Clone(legs[i].Joints)
		if len(before.Levels[i]) != len(legs[i].Joints) {
			return q, false
		}
	}
	for _, r := range before.Runs {
		for k := r.From; k < r.To && r.OnStep; k++ {
			legs[r.Leg].Units[k].Least, legs[r.Leg].Units[k].Most = &r.Grade, &r.Grade
		}
		for j := r.From + 1; j < r.To && !r.OnStep; j++ {
			legs[r.Leg].Joints[j].Change = &measure.Grade{Run: 1}
		}
	}
	q.problem.Legs = legs
	return q, true
}

// lieOn lays the axes on the levels of a solution and tells which legs that moves: those of another length than they were
// laid out for, and those with a joint that is not where the profile has it.
func (b *build) lieOn(q heights, sol profile.Solution, legs []laid) (moved []int) {
	for i := range b.axes {
		a, joints := &b.axes[i], q.problem.Legs[i].Joints
		knots := make(lie, len(joints))
		for k := range joints {
			before, behind := sol.Faces(q.problem, i, k, nil)
			knots[k] = knot{chainage: joints[k].At, level: behind.Level, before: before.Level, grade: ratio(behind.Grade)}
		}
		was := a.clear
		*a = newAxis(a.line, measured(knots), a.start, a.end)
		strayed := false
		for k, of := range q.legs[i].joint {
			if of > 0 && of < len(legs[i].units) && q.legs[i].bedded.joint(of) == nil {
				strayed = strayed || (a.chainage(legs[i].middle(of))-joints[k].At).Abs() > rounding
			}
		}
		if a.clear != was || strayed {
			moved = append(moved, i)
		}
	}
	return moved
}

// middle is the middle of the joint before a unit, on the axis.
func (l *laid) middle(unit int) measure.Length {
	return l.units[unit].Start - l.units[unit-1].GapAfter/2
}

// ratio is a grade as a number.
func ratio(g measure.Grade) float64 {
	if g.Rise == 0 {
		return 0
	}
	return float64(g.Rise) / float64(g.Run)
}

// refitted lays the units of the pass before on a leg that has moved a little: only cut lengths and gaps take what is left.
// Once they have, cut lengths stay where gaps can take what is left: lengths that went on looking for something better would
// never come to rest. Where all that costs more than the best layout, or loses what is asked for along the leg (a joint that
// has to stand at a place that moved), or wants another cut at an end that reaches into a curve, the best layout stays.
func (b *build) refitted(leg int, q question, s layout.Solution, before *laid) layout.Solution {
	var cuts []measure.Length
	for _, u := range before.solution.Units {
		if u.Cut {
			cuts = append(cuts, u.Length)
		}
	}
	tries := [][]measure.Length{cuts, nil}
	if !before.again {
		tries = tries[1:]
	}
	for _, lengths := range tries {
		again, err := layout.Refit(q.problem, s, before.solution.Units, lengths, s.Opened)
		if err != nil || len(layout.Check(q.problem, again)) > 0 {
			continue
		}
		if start, end := b.facings(leg, q, again); start == q.problem.Start.Tan && end == q.problem.End.Tan {
			return again
		}
	}
	return s
}

func (b *build) unsettled(moved []int, legs []laid) {
	for _, i := range moved {
		id := b.leg(i).ID
		b.add(finding.Finding{ID: "planner.unsettled", Kind: finding.Attention, Where: finding.Where{Leg: id},
			Text: b.tell("leg %s: its length on the slope still moves after %d passes: it was laid out for %s mm, and its levels make it %s mm; no levels are given", id, mostPasses, legs[i].problem.Length.MMString(), b.axes[i].clear.MMString()),
			Try:  "another least number of units between breaks of grade, or a pin near the end of the leg"})
	}
}

// unlaidOnSlope says of legs that can be laid, but not on the slope that their levels give them.
func (b *build) unlaidOnSlope(legs []laid) {
	for i := range legs {
		if l := &legs[i]; len(l.units) == 0 {
			id := b.leg(i).ID
			b.add(finding.Finding{ID: "planner.slope-unlaid", Kind: finding.Impossible, Where: finding.Where{Leg: id},
				Text: b.tell("leg %s: on its levels it is %s long, and cannot be laid so: %s; no levels are given", id, l.problem.Length, l.solution.Why),
				Try:  "a pin near the end of the leg; or more room where it is asked for least"})
		}
	}
}

// at is where a chainage of a leg lies in plan.
func (b *build) planAt(leg int, ch measure.Length) route.Point { return b.axes[leg].line.At(ch).At }
