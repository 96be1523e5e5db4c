package planner

import (
	"slices"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/solve/profile"
)

// What lies keeps its grade, and a leg of which something lies keeps the grades it was planned on as far as that can be: a laser was
// set by them, and a rest that was chosen fits the leg as it lies on them.

// holding is what of built legs is kept as it was planned.
type holding struct {
	lies   bool              // what lies, with its levels
	grades bool              // and the grades of what is to come
	open   map[[2]int]giving // but for these, by leg and entry of its grades
}

// giving is how a grade that a job keeps gives way to what lies.
type giving int

const (
	toClose  giving = 1 + iota // it stays one grade, that closes what the others leave
	toChange                   // it changes as it has to
)

// One grade may change by a hair's breadth where a level is fixed on its way: levels are whole nanometres.
var straight, hairsBreadth = &measure.Grade{Run: 1}, &measure.Grade{Rise: 1, Run: 5_000_000}

var (
	holdAll  = holding{lies: true, grades: true}
	holdLies = holding{lies: true}
	holdNone = holding{}
)

// unitGrade is the grade of one unit: a whole number of steps, or one with its neighbours of the same run.
type unitGrade struct {
	run  int
	held *measure.Grade
}

// gradesOf are the grades of a leg's units in the order of the axis; nil: no levels were solved.
func (b *build) gradesOf(leg, units int) []unitGrade {
	if b.heights == nil {
		return nil
	}
	way := b.heights.legs[leg].joint
	out := make([]unitGrade, units)
	for i, r := range b.profile.Runs {
		if r.Leg != leg || r.Stepped {
			continue
		}
		for k := r.From; k < r.To; k++ {
			of := way[k]
			for j := k; of < 0; j-- { // a pin inside the unit
				of = way[j]
			}
			out[of] = unitGrade{run: i + 1}
			if r.OnStep {
				g := r.Grade
				out[of].held = &g
			}
		}
	}
	return out
}

// heldAs are grades of units in laying order under their places, as a job has them.
func heldAs(names []string, grades []unitGrade) []job.Held {
	var out []job.Held
	for i, g := range grades {
		same := i > 0 && grades[i-1].run > 0 && g.run > 0 && (grades[i-1].run == g.run || g.held != nil && grades[i-1].held != nil && g.held.Cmp(*grades[i-1].held) == 0)
		if n := len(out); same && n > 0 {
			out[n-1].To = names[i]
			continue
		}
		out = append(out, job.Held{To: names[i], Grade: g.held})
	}
	return out
}

// keepGrades holds the units of a built leg that are to come to the grades that its job keeps.
func (b *build) keepGrades(leg int, l *laid, q *heights) {
	ask, of, how := &q.problem.Legs[leg], q.legs[leg].unit, q.how
	held := make([]int, len(ask.Units))
	q.legs[leg].held = held
	made := b.leg(leg).Built
	if made == nil || l.built == nil || !how.lies || len(made.Grades) == 0 {
		return
	}
	entry := b.entries(leg, l)
	fixed := make([]bool, len(ask.Units))
	for k := range ask.Units {
		i := of[k]
		n := entry(i)
		if n == 0 || !how.grades && !l.lies(i) || ask.Units[k].Step != nil || ask.Units[k].Lies != nil {
			continue
		}
		g, key := b.heldGrade(leg, n), [2]int{leg, n}
		if g == nil && how.open != nil {
			how.open[key] = max(how.open[key], toClose)
		}
		held[k] = n
		if fixed[k] = g != nil && how.open[key] == 0; fixed[k] {
			ask.Units[k].Least, ask.Units[k].Most = g, g
		} else if j := &ask.Joints[k]; k > 0 && held[k-1] == n && how.open[key] != toChange && of[k-1] != of[k] {
			if j.Change = straight; j.Pin != nil {
				j.Change = hairsBreadth
			}
		}
	}
	holds := func(k int) bool { return ask.Units[k].Lies != nil || fixed[k] }
	for k := 1; k < len(ask.Units); k++ {
		if holds(k-1) && holds(k) && of[k-1] != of[k] && (ask.Units[k-1].Lies == nil || ask.Units[k].Lies == nil) {
			ask.Joints[k].Change = nil // what the joint has left for it was asked when it was planned
		}
	}
}

// keptLevels asks for levels with as many grades kept as can be. What lies keeps its levels whatever comes of the rest: where that
// cannot be laid within its limits, the run cannot lie as asked.
func (b *build) keptLevels(legs []laid) heights {
	if !slices.ContainsFunc(legs, func(l laid) bool { return l.built != nil }) {
		return b.askLevels(legs, holdNone)
	}
	how := holdAll
	how.open = map[[2]int]giving{}
	for {
		q := b.askLevels(legs, how)
		sol, err := profile.Solve(q.problem)
		if err == nil && sol.Verdict == profile.Found && len(profile.Check(q.problem, sol)) == 0 {
			return q
		}
		if err != nil || !q.opened(sol, how.open) {
			return b.askLevels(legs, holdLies)
		}
	}
}

// opened lets one more grade close: of those that contradict each other, or that only rounding would let be kept, the longest; where
// none is left, those that close change as they need to. False: there is nothing to open.
func (q heights) opened(sol profile.Solution, open map[[2]int]giving) bool {
	long, bound := map[[2]int]measure.Length{}, map[[2]int]bool{}
	var most [2]int
	take := func(leg, from, to int) {
		joints := q.problem.Legs[leg].Joints
		for k := from; k <= to; k++ {
			key := [2]int{leg, q.legs[leg].held[k]}
			if key[1] == 0 {
				continue
			}
			if bound[key] = true; open[key] != 0 {
				continue
			}
			if long[key] += joints[k+1].At - joints[k].At; long[key] > long[most] {
				most = key
			}
		}
	}
	if sol.Reason != nil {
		for _, l := range sol.Reason.Limits {
			switch l.Kind {
			case profile.LeastLimit, profile.MostLimit:
				take(l.Leg, l.From, l.To)
			case profile.ChangeLimit:
				take(l.Leg, l.From-1, l.To)
			}
		}
	} else if best, err := profile.Best(q.problem); err == nil && best.Verdict == profile.Found {
		for i, levels := range best.Levels {
			for k, n := range q.legs[i].held {
				if n > 0 && (open[[2]int{i, n}] != 0 || q.strained(i, k, levels)) {
					take(i, k, k)
				}
			}
		}
	}
	if long[most] > 0 {
		open[most] = toClose
		return true
	}
	some := false
	for key := range bound {
		some = some || open[key] == toClose
		open[key] = toChange
	}
	return some
}

// strained tells whether levels leave the grade that a unit is held to by more than rounding them does.
func (q heights) strained(leg, unit int, levels []measure.Length) bool {
	u, j := &q.problem.Legs[leg].Units[unit], q.problem.Legs[leg].Joints
	along := j[unit+1].At - j[unit].At
	return (levels[unit+1] - levels[unit] - portion(along, u.Least.Rise, u.Least.Run)).Abs() > 10*measure.Nanometre
}
