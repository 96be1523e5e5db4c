package schedule

import (
	"reflect"
	"testing"

	"trenchwright/job"
	"trenchwright/job/planner"
)

// TestHeadsAreThoseOfTheTables holds the short way to the long one.
func TestHeadsAreThoseOfTheTables(t *testing.T) {
	everyPlan(t, func(name string, p planner.Plan, j job.Job) {
		s := Of(p, j)
		var want []Head
		for _, t := range s.All() {
			want = append(want, Head{t.Name, t.Title, len(t.Rows)})
		}
		if got := s.Heads(); !reflect.DeepEqual(got, want) {
			t.Errorf("%s:\ngot  %v\nwant %v", name, got, want)
		}
		for _, one := range s.All() {
			if got, ok := s.Table(one.Name); !ok || !reflect.DeepEqual(got, one) {
				t.Errorf("%s: table %s by its name is another", name, one.Name)
			}
		}
	})
}
