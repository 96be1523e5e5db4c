package drawing

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/planner"
)

// The time charts of the demo jobs: on every size and in both systems nothing lies on anything else, nothing is cut short, every leg with
// a work that has dates has its frame, and every load its line; what has no dates is told with why.
func TestTimeCharts(t *testing.T) {
	for _, name := range demo.Names() {
		d, err := demo.Surveyed(name)
		if err != nil {
			t.Fatal(err)
		}
		j := d.Job
		p := planner.Make(j, d.Surfaces...)
		o := p.Timed(j)
		if o == nil || len(o.Activities) == 0 {
			t.Fatalf("%s has no programme", name)
		}
		for _, size := range []Size{A4, A3, A1} {
			for _, system := range []measure.System{measure.Metric, measure.Imperial} {
				style := StyleFor(j, size)
				style.Format.System = system
				pages := Bind(ProgrammeSheets(p, j, style), "revision "+p.Job.Revision)
				text := printed(t, pages...)
				for _, page := range pages {
					checkPage(t, fmt.Sprintf("%s %s, system %v", name, size, system), page)
				}
				for i := range o.Activities {
					if leg := "Leg " + o.Activities[i].Leg + "\n"; !strings.Contains(text, leg) {
						t.Errorf("%s %s: leg %s has no frame", name, size, o.Activities[i].Leg)
					}
				}
				for _, l := range o.Loads {
					if !strings.Contains(text, "load "+l.ID+"\n") && l.Comes <= o.End {
						t.Errorf("%s %s: load %s has no line", name, size, l.ID)
					}
				}
				for _, u := range o.Undated {
					if !strings.Contains(strings.ReplaceAll(text, "\n", " "), u.Why) {
						t.Errorf("%s %s: nothing says %q", name, size, u.Why)
					}
				}
			}
		}
	}
}

// A job without a programme has no sheets of it; one in which nothing has a rate has a sheet that says so.
func TestTimeChartWithoutDates(t *testing.T) {
	_, j := planned(t, "hand-troughs")
	bare := *j.Programme
	bare.Gangs = slices.Clone(bare.Gangs)
	for i := range bare.Gangs {
		bare.Gangs[i].Does = slices.Clone(bare.Gangs[i].Does)
		for k := range bare.Gangs[i].Does {
			bare.Gangs[i].Does[k].Rate = job.Entry[string]{}
		}
	}
	j.Programme = &bare
	pages := ProgrammeSheets(planner.Make(j), j, StyleFor(j, A3))
	if text := printed(t, pages...); len(pages) != 1 || !strings.Contains(text, "nothing has dates yet") || !strings.Contains(text, "NOT CHECKED: no rate") {
		t.Errorf("%d pages say:\n%s", len(pages), text)
	}
	j.Programme = nil
	if n := len(ProgrammeSheets(planner.Make(j), j, StyleFor(j, A3))); n > 0 {
		t.Errorf("%d pages of no programme", n)
	}
}
