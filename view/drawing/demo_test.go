package drawing

import (
	"fmt"
	"strings"
	"time"

	"bytes"
	"testing"
	"trenchwright/base/finding"
	"trenchwright/job/stamp"

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

// Every sheet and card of the demo jobs, planned on their ground, can be read.
func TestDemoPagesCanBeRead(t *testing.T) {
	for _, name := range demo.Names() {
		run := onItsGround(name)
		p, j := run.plan, run.job
		for _, size := range []Size{A3, A1, A4} {
			for _, page := range Bind(pagesOf(p, j, StyleFor(j, size)), "revision "+p.Job.Revision) {
				checkPage(t, name+" "+size.String(), page)
			}
		}
	}
}

// The sheets of what was issued say what stood open then, with the counts that whoever issued it was told, and still have room.
func TestIssuedSheetsSayWhatStoodOpen(t *testing.T) {
	p, j := planned(t, "tram-depot")
	style := StyleFor(j, A3)
	style.Stamp = stamp.Stamp{Number: 7, Revision: "01K0000000000000000GN8CE0", By: "Ann Bee", At: time.Unix(1_790_000_000, 0), Issued: &stamp.Issue{Name: "for the trench gang, first", Author: "the site engineer", Core: p.Core, At: time.Unix(1_790_000_000, 0)}}
	o := planner.Open{}
	for _, f := range p.Findings {
		switch f.Kind {
		case finding.Impossible:
			o.Impossible++
		case finding.Attention:
			o.Attention++
		case finding.NotChecked:
			o.NotChecked++
		case finding.Assumed:
			o.Assumed++
		}
	}
	for _, u := range p.Units {
		if u.Hold {
			o.Hold++
		}
	}
	want := fmt.Sprintf("open when issued: %d impossible, %d for attention, %d NOT CHECKED, %d assumed, %d on HOLD, cut from measurement", o.Impossible, o.Attention, o.NotChecked, o.Assumed, o.Hold)
	if o != p.Open() || o.Attention == 0 || o.NotChecked == 0 || o.Hold == 0 {
		t.Fatalf("%+v, counted %+v", p.Open(), o)
	}
	for _, page := range Bind(Sheets(p, j, style), Head(p, style.Stamp)) {
		checkPage(t, page.Name, page)
		var said strings.Builder
		for _, l := range letteringsOf(t, page) {
			said.WriteString(l.String + " ")
		}
		if !strings.Contains(said.String(), want) {
			t.Errorf("%s does not say %q", page.Name, want)
		}
	}
}
