package merge_test

import (
	"testing"

	"trenchwright/demo/longrun"
	"trenchwright/job"
	"trenchwright/job/merge"
)

// Two people worked on a run of 100 km, each on other legs, and one took a document away that the other refers to.
func BenchmarkMerge(b *testing.B) {
	base := longrun.Job(100, 1)
	base.Documents = append(base.Documents, job.Document{ID: "D90", Title: "letter"})
	one, other := copied(b, base), copied(b, base)
	for i := range one.Route.Legs {
		if i%2 == 0 {
			one.Route.Legs[i].Hold = !one.Route.Legs[i].Hold
		} else {
			other.Route.Legs[i].Hold = !other.Route.Legs[i].Hold
		}
	}
	one.Documents = one.Documents[:len(one.Documents)-1]
	other.Rules.From = "D90"
	for b.Loop() {
		if _, clashes := merge.Merge(base, one, other); len(clashes) != 1 {
			b.Fatal(clashes)
		}
	}
}
