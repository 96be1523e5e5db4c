package main

import (
	"fmt"
	"slices"
	"time"

	"trenchwright/demo"
	"trenchwright/demo/longrun"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/place/ground"
)

const (
	checksWithin = 50 * time.Millisecond
	farWithin    = 2 * time.Second
)

// checks times what a run is held against: its plan with all that was entered for checks, less its plan without.
func (b *bench) checks() error {
	d, err := demo.Surveyed("tram-depot")
	if err != nil {
		return err
	}
	kilometres, runs := 100, 7
	if b.quick {
		kilometres, runs = 5, 1
	}
	far := longrun.Job(float64(kilometres), 1)
	far.Checks = d.Job.Checks
	for _, v := range []struct {
		what     string
		job      job.Job
		surfaces []*ground.Surface
		runs     int
		within   time.Duration
	}{{"some 400 m of run", d.Job, d.Surfaces, 3 * runs, checksWithin}, {fmt.Sprintf("%d km", kilometres), far, nil, runs/2 + 1, farWithin}} {
		without := v.job
		without.Checks = job.Checks{}
		var took []time.Duration
		n := 0
		for range v.runs {
			began := cpuTime()
			n = len(planner.Make(v.job, v.surfaces...).Checks)
			with := cpuTime() - began
			began = cpuTime()
			planner.Make(without, v.surfaces...)
			took = append(took, max(0, with-(cpuTime()-began)))
		}
		slices.Sort(took)
		b.report.row(row{what: "all checks of a run", size: fmt.Sprintf("%s, %d checks", v.what, n), ours: secs(took[len(took)/2]), target: secs(v.within), verdict: within(took[len(took)/2] <= v.within)})
	}
	b.report.note("Checks are timed as the processor time of a plan with them less that of the same plan without, the median of several.")
	return nil
}
