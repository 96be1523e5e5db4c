package edit

import (
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/job"
)

// An answer that is taken stands in the job, with what was found; what would part such a leg, join it, take it out or name it otherwise
// is refused with a sentence, and what moves it is told.
func TestTake(t *testing.T) {
	j := demoJob(t, "tram-depot")
	l := &j.Route.Legs[0]
	made := &job.Built{To: l.ID + "-002", Courses: []job.Course{{From: l.ID + "-001", To: l.ID + "-002", Length: 3 * measure.Metre, Start: 0, Pitch: 3010 * measure.Millimetre},
		{From: l.ID + "-002A", Length: measure.Metre, Stock: 3 * measure.Metre, Start: 6020 * measure.Millimetre}}}
	found := job.Service{ID: "F1", Name: "old main", At: 8 * measure.Metre, Width: 100 * measure.Millimetre, Clear: 200 * measure.Millimetre}
	r := Apply(j, []Edit{{Op: Take, Leg: l.ID, Built: made, Services: []job.Service{found}}})
	if !r.Changed || r.Job.Route.Legs[0].Built == nil || !strings.Contains(r.Said[0], "stays as it was measured") || !strings.Contains(r.Said[0], "old main") {
		t.Fatalf("%v %q", r.Faults, r.Said)
	}
	if n := len(r.Job.Route.Legs[0].Services); n != len(l.Services)+1 {
		t.Errorf("%d services", n)
	}
	again := Apply(r.Job, []Edit{{Op: Take, Leg: l.ID, Built: made, Services: []job.Service{found}}})
	if n := len(again.Job.Route.Legs[0].Services); n != len(l.Services)+1 {
		t.Errorf("taken twice: %d services", n)
	}
	for _, e := range []Edit{
		{Op: InsertBend, Leg: l.ID, At: "9 m"}, {Op: RemoveLeg, Leg: l.ID}, {Op: RemoveBend, Node: l.To}, {Op: Rename, Path: "route.legs[" + l.ID + "]", Text: "Q"},
	} {
		if no := Apply(r.Job, []Edit{e}); no.Changed || !strings.Contains(no.Faults[0].Text, "units lie on leg "+l.ID) && e.Op != RemoveBend {
			t.Errorf("%s: %v %q", e.Op, no.Faults, no.Said)
		}
	}
	if no := Apply(j, []Edit{{Op: Take, Leg: l.ID}}); no.Changed || !strings.Contains(no.Faults[0].Text, "nothing says what lies") {
		t.Errorf("%v", no.Faults)
	}
	bad := *made
	bad.Withdrawn = []string{l.ID + "-002A"}
	if no := Apply(j, []Edit{{Op: Take, Leg: l.ID, Built: &bad}}); no.Changed || !strings.Contains(no.Faults[0].Text, "was withdrawn") {
		t.Errorf("%v", no.Faults)
	}
}
