package planner

import (
	"trenchwright/base/finding"
	"trenchwright/job"
)

// Declared is a job whose route is told by nodes and legs, also where it was told as a walk.
func Declared(j job.Job) (job.Job, finding.List) { return walked(j) }
