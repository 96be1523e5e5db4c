package drawing

import (
	"bytes"
	"testing"

	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/jobtext"
)

// planned is the plan of a demo job.
func planned(t *testing.T, name string) (planner.Plan, job.Job) {
	t.Helper()
	text, err := demo.File(name)
	if err != nil {
		t.Fatal(err)
	}
	j, faults := jobtext.Read(name+".yaml", bytes.NewReader(text))
	if len(faults) > 0 {
		t.Fatalf("%s has faults: %v", name, faults)
	}
	return planner.Make(j), j
}

// Every sheet and card of the demo jobs can be read.
func TestDemoPagesCanBeRead(t *testing.T) {
	for _, name := range demo.Names() {
		p, j := planned(t, name)
		for _, size := range []Size{A3, A1, A4} {
			for _, page := range Bind(pagesOf(p, j, StyleFor(j, size)), "revision "+p.Job.Revision) {
				checkPage(t, name+" "+size.String(), page)
			}
		}
	}
}
