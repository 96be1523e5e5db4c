package merge_test

import (
	"testing"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/merge"
)

// What lies on a leg with the rest that was chosen for it is one thing: two people who took different answers clash, and neither half is
// mixed with the other.
func TestAnswersThatWereTakenClashAsAWhole(t *testing.T) {
	base := playground(t)
	taken := func(to string, starts ...measure.Length) job.Job {
		j := base
		j.Route.Legs = append([]job.Leg{}, base.Route.Legs...)
		b := &job.Built{To: to}
		for i, s := range starts {
			b.Courses = append(b.Courses, job.Course{From: job.PlaceName(j.Route.Legs[0].ID, i+1), Length: 3 * measure.Metre, Start: s})
		}
		j.Route.Legs[0].Built = b
		return j
	}
	id := base.Route.Legs[0].ID
	one := taken(id+"-001", 0, 3010*measure.Millimetre)
	other := taken(id+"-002", 0, 3012*measure.Millimetre)
	got, clashes := merge.Merge(base, one, other)
	if len(clashes) != 1 || clashes[0].Path != "route.legs["+id+"].built" || text(got) != text(one) {
		t.Fatalf("%d clashes: %+v", len(clashes), clashes)
	}
	if got, clashes := merge.Merge(base, one, other, clashes[0].Path); len(clashes) > 0 || text(got) != text(other) {
		t.Errorf("taken the other side: %v", clashes)
	}
	if got, clashes := merge.Merge(base, one, base); len(clashes) > 0 || text(got) != text(one) {
		t.Errorf("one side alone: %v", clashes)
	}
}
