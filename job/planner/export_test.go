package planner

import (
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
