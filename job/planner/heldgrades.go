package planner

import (
	"slices"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/solve/profile"
)

// What lies keeps its grade, and a leg of which something lies keeps the grades it was planned on as far as that can be: a laser was
// set by them, and a rest that was chosen fits the leg as it lies on them.

// holding is what of built legs is kept as it was planned.
type holding struct {
	lies   bool            // what lies, with its levels
	grades bool            // and the grades of what is to come
	open   map[[2]int]bool // but for these, by leg and entry of its grades: each stays one grade, that closes what the others leave
}

var (
	holdAll  = holding{lies: true, grades: true}
	holdLies = holding{lies: true}
	holdNone = holding{} // no levels would do otherwise
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
	holds := func(k int) bool { return ask.Units[k].Lies != nil || held[k] > 0 }
	for k := range ask.Units {
		i := of[k]
		n := entry(i)
		if n == 0 || !how.grades && !l.lies(i) || ask.Units[k].Step != nil || ask.Units[k].Lies != nil {
			continue
		}
		if g := b.heldGrade(leg, n); g != nil && !how.open[[2]int{leg, n}] {
			ask.Units[k].Least, ask.Units[k].Most, held[k] = g, g, n
		} else if k > 0 && entry(of[k-1]) == n && ask.Units[k-1].Lies == nil {
			ask.Joints[k].Change = &measure.Grade{Run: 1}
		}
	}
	for k := 1; k < len(ask.Units); k++ {
		if holds(k-1) && holds(k) && of[k-1] != of[k] && (ask.Units[k-1].Lies == nil || ask.Units[k].Lies == nil) {
			ask.Joints[k].Change = nil // what the joint has left for it was asked when it was planned
		}
	}
}

// keptLevels asks for levels with as many grades kept as can be, and says where some cannot.
func (b *build) keptLevels(legs []laid) heights {
	var lying []string
	for i := range legs {
		if made := b.leg(i).Built; made != nil && legs[i].built != nil && len(made.Grades)+len(made.Bedded) > 0 {
			lying = append(lying, b.leg(i).ID)
		}
	}
	if len(lying) == 0 {
		return b.askLevels(legs, holdNone)
	}
	how := holdAll
	how.open = map[[2]int]bool{}
	for {
		q := b.askLevels(legs, how)
		sol, err := profile.Solve(q.problem)
		if err == nil && sol.Verdict == profile.Found && len(profile.Check(q.problem, sol)) == 0 {
			return q
		}
		if err != nil || !q.opened(sol, how.open) {
			break
		}
	}
	q := b.askLevels(legs, holdLies)
	if sol, err := profile.Solve(q.problem); err == nil && sol.Verdict == profile.Found && len(profile.Check(q.problem, sol)) == 0 {
		return q
	}
	if !slices.ContainsFunc(b.found, func(f finding.Finding) bool { return f.ID == "planner.grades-not-kept" }) {
		b.add(finding.Finding{ID: "planner.grades-not-kept", Kind: finding.Attention, Where: finding.Where{Leg: lying[0]},
			Text: "no levels of what is to come meet those on which units lie already: they are planned anew, and what lies does not lie on them",
			Try:  "look at what changed in the levels since these units were set: a pin, a limit of grade"})
	}
	return b.askLevels(legs, holdNone)
}

// opened lets one more grade close: of those that contradict each other the longest. False: there is none.
func (q heights) opened(sol profile.Solution, open map[[2]int]bool) bool {
	if sol.Verdict != profile.Impossible || sol.Reason == nil {
		return false
	}
	long := map[[2]int]measure.Length{}
	var most [2]int
	for _, l := range sol.Reason.Limits {
		if l.Kind != profile.LeastLimit && l.Kind != profile.MostLimit {
			continue
		}
		joints := q.problem.Legs[l.Leg].Joints
		for k := l.From; k <= l.To; k++ {
			if n := q.legs[l.Leg].held[k]; n > 0 {
				key := [2]int{l.Leg, n}
				if long[key] += joints[k+1].At - joints[k].At; long[key] > long[most] {
					most = key
				}
			}
		}
	}
	if long[most] == 0 {
		return false
	}
	open[most] = true
	return true
}
