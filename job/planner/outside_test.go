package planner_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/job/planner/plancheck"
	"trenchwright/job/planner/randomjob"
)

// readDemo is one of the demo jobs.
func readDemo(t *testing.T, name string) job.Job {
	t.Helper()
	j, err := demo.Job(name)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// fromOutside plans a job and has the bytes of its plan.json checked by code that shares nothing with the planner. A panic
// is one more thing that does not hold.
func fromOutside(t *testing.T, j job.Job) (made planner.Plan, wrong []string) {
	t.Helper()
	defer func() {
		if p := recover(); p != nil {
			wrong = append(wrong, fmt.Sprint("panic: ", p))
		}
	}()
	plan := planner.Make(j)
	text, err := json.Marshal(plan)
	if err != nil {
		t.Fatal(err)
	}
	declared, err := json.Marshal(j)
	if err != nil {
		t.Fatal(err)
	}
	return plan, plancheck.Check(text, declared)
}

// Every demo is laid out whole, and its plan.json holds from outside.
func TestDemosHoldFromOutside(t *testing.T) {
	for _, name := range demo.Names() {
		t.Run(name, func(t *testing.T) {
			plan, wrong := fromOutside(t, readDemo(t, name))
			for _, line := range wrong {
				t.Error(line)
			}
			for _, l := range plan.Legs {
				if l.Verdict != "found" {
					t.Errorf("leg %s is %s: %s", l.Name, l.Verdict, l.Why)
				}
			}
		})
	}
}

// 1,000 random networks hold from outside. A failure names its seed; randomjob.Job(seed) gives the job again.
func TestRandomNetworksHoldFromOutside(t *testing.T) {
	seeds := uint64(1000)
	if testing.Short() {
		seeds = 100
	}
	verdicts, legs, broken := map[string]int{}, 0, 0
	for seed := range seeds {
		plan, wrong := fromOutside(t, randomjob.Job(seed))
		for _, l := range plan.Legs {
			verdicts[l.Verdict]++
			legs++
		}
		if len(wrong) > 0 {
			broken++
			if broken <= 20 {
				t.Errorf("seed %d: %d things do not hold:\n  %s", seed, len(wrong), strings.Join(wrong[:min(len(wrong), 6)], "\n  "))
			}
		}
	}
	t.Logf("%d networks, %d legs: %d found, %d impossible, %d undecided", seeds, legs, verdicts["found"], verdicts["impossible"], verdicts["undecided"])
	if verdicts["found"]*2 < legs {
		t.Errorf("only %d of %d legs were laid out: the networks are too hard to test much", verdicts["found"], legs)
	}
}
