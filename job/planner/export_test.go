package planner

import (
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/place/ground"
	"trenchwright/solve/profile"
)

// Profile is what a job's levels were asked for and what was answered, in the last pass; false where it has none.
func Profile(j job.Job, surfaces []*ground.Surface) (profile.Problem, profile.Solution, bool) {
	b := planned(j, surfaces)
	if b.heights == nil {
		return profile.Problem{}, profile.Solution{}, false
	}
	return b.heights.problem, b.profile, true
}

// On is a chainage of a leg's line on its laying axis, where joints are told.
func (a *Answers) On(leg int, at measure.Length) measure.Length { return a.b.axes[leg].on(at) }

// ChecksAgain holds a planned job against what it has on file once more, for benchmarks.
func ChecksAgain(j job.Job, surfaces []*ground.Surface) func() int {
	b := planned(j, surfaces)
	return func() int {
		b.plan.Checks, b.found = b.plan.Checks[:0], b.found[:0]
		b.check()
		return len(b.plan.Checks)
	}
}
