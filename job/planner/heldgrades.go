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

// holding is how much of a built leg keeps its grades.
type holding int

const (
	holdAll  holding = iota // all of it
	holdLies                // what lies
	holdNone                // nothing: no levels would do otherwise
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

// keepGrades holds the units of a built leg to the grades that its job keeps. of says which unit of the leg each one of the profile is.
func (b *build) keepGrades(leg int, l *laid, ask *profile.Leg, of []int, how holding) {
	made := b.leg(leg).Built
	if made == nil || l.built == nil || how == holdNone || len(made.Grades) == 0 {
		return
	}
	run, at := map[string]int{}, 0
	for _, name := range l.built.names {
		if at == len(made.Grades) {
			break
		}
		run[name] = at + 1
		if name == made.Grades[at].To {
			at++
		}
	}
	holds := make([]bool, len(ask.Units))
	for k := range ask.Units {
		i := of[k]
		n := run[l.name(b.leg(leg).ID, i)]
		if n == 0 || how == holdLies && !l.lies(i) || ask.Units[k].Step != nil {
			continue
		}
		if g := made.Grades[n-1].Grade; g != nil {
			held := *g
			if held.Run == 0 {
				held.Run = 1
			}
			ask.Units[k].Least, ask.Units[k].Most, holds[k] = &held, &held, true
			if k > 0 && holds[k-1] && of[k-1] != i {
				ask.Joints[k].Change = nil // what the joint has left for it was asked when it was planned
			}
		} else if k > 0 && run[l.name(b.leg(leg).ID, of[k-1])] == n {
			ask.Joints[k].Change = &measure.Grade{Run: 1}
		}
	}
}

// keptLevels asks for levels with as many grades kept as can be, and says where some cannot.
func (b *build) keptLevels(legs []laid) heights {
	var lying []string
	for i := range legs {
		if made := b.leg(i).Built; made != nil && legs[i].built != nil && len(made.Grades) > 0 {
			lying = append(lying, b.leg(i).ID)
		}
	}
	if len(lying) == 0 {
		return b.askLevels(legs, holdNone)
	}
	for how := holdAll; how < holdNone; how++ {
		q := b.askLevels(legs, how)
		if sol, err := profile.Solve(q.problem); err == nil && sol.Verdict == profile.Found && len(profile.Check(q.problem, sol)) == 0 {
			return q
		}
	}
	if !slices.ContainsFunc(b.found, func(f finding.Finding) bool { return f.ID == "planner.grades-not-kept" }) {
		b.add(finding.Finding{ID: "planner.grades-not-kept", Kind: finding.Attention, Where: finding.Where{Leg: lying[0]},
			Text: "no levels keep the grades on which units lie already: they are planned anew, and what lies does not lie on them",
			Try:  "look at what changed in the levels since these units were set: a pin, a limit of grade"})
	}
	return b.askLevels(legs, holdNone)
}
