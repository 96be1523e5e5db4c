package schedule

import (
	"testing"

	"trenchwright/job"
	"trenchwright/job/planner"
)

// Everything that the job puts on a leg has one row, services in the table of their own.
func TestThingsHaveTheirRows(t *testing.T) {
	everyPlan(t, func(name string, p planner.Plan, j job.Job) {
		want := map[[3]string]int{}
		for _, l := range j.Route.Legs {
			for _, x := range l.Crossings {
				want[[3]string{"crossing", l.ID, x.ID}]++
			}
			for _, x := range l.Entries {
				want[[3]string{"conduit entry", l.ID, x.ID}]++
			}
			for _, x := range l.Supports {
				want[[3]string{"support", l.ID, x.ID}]++
			}
			for _, x := range l.Zones {
				want[[3]string{"zone", l.ID, x.ID}]++
			}
			for _, x := range l.Joints {
				want[[3]string{"joint asked for", l.ID, x.ID}]++
			}
		}
		for _, x := range j.Levels.Pins {
			want[[3]string{"pin", x.Leg, x.ID}]++
		}
		for _, x := range j.Levels.Outlets {
			want[[3]string{"outlet", x.Leg, x.ID}]++
		}
		for _, one := range Of(p, j).OnTheRun() {
			if err := one.Check(); err != nil {
				t.Fatal(err)
			}
			cells := map[string][]string{}
			for _, s := range one.Shelves() {
				cells[s.Key] = s.Texts
			}
			for r := range one.Rows {
				want[[3]string{cells["kind"][r], cells["leg"][r], cells["id"][r]}]--
			}
		}
		for x, n := range want {
			if n != 0 {
				t.Errorf("%s: %v: %d rows too few", name, x, n)
			}
		}
	})
}
