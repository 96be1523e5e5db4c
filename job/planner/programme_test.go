package planner_test

import (
	"slices"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/planner"
)

func timed(t *testing.T, name string, spoil func(*job.Job)) *planner.Programme {
	t.Helper()
	on, err := demo.Surveyed(name)
	if err != nil {
		t.Fatal(err)
	}
	spoil(&on.Job)
	p := planner.Make(on.Job, on.Surfaces...)
	return planner.Timed(on.Job, &p)
}

// What is dated adds up to what the plan says there is to do: dug, bedded and filled by the dig, units and covers by their count.
func TestProgrammeOfThePlansQuantities(t *testing.T) {
	on, err := demo.Surveyed("tram-depot")
	if err != nil {
		t.Fatal(err)
	}
	p := planner.Make(on.Job, on.Surfaces...)
	o := planner.Timed(on.Job, &p)
	sums := map[string]float64{}
	for _, a := range o.Activities {
		sums[a.Work] += a.Amount
		if a.Begin >= a.End || a.Latest < a.Begin || a.First == "" || len(a.Front) < 2 || a.Free > a.Total {
			t.Errorf("%+v", a)
		}
	}
	var stone, fill float64
	for _, l := range p.Dig.Legs {
		stone += l.Running[len(l.Running)-1].Stone
		fill += l.Running[len(l.Running)-1].Fill
	}
	for work, want := range map[string]float64{"dig": p.Dig.Total.Dug, "bed": stone, "fill": fill, "set": float64(len(p.Units)), "set-out": float64(len(p.Units)), "cover": float64(len(p.Covers))} {
		if got := sums[work]; got < want-0.5 || got > want+0.5 {
			t.Errorf("%s: %g in all, the plan says %g", work, got, want)
		}
	}
	if sums["cables"] != 0 || len(o.Undated) != len(p.Legs) || !strings.HasPrefix(o.Undated[0].Why, "NOT CHECKED: no rate of cables of gang cable-1 on file. Ask: ") {
		t.Errorf("%+v", o.Undated)
	}
	if o.Bound > o.End || !strings.Contains(o.Claim, "verified apart") || o.Findings.Any(finding.Fault, finding.Impossible) {
		t.Error(o.Bound, o.End, o.Findings)
	}
}

// A load that comes a week later moves what waits for it and what follows, and nothing else; one that nobody waits for moves nothing.
func TestLateLoadMoves(t *testing.T) {
	o := timed(t, "battery-yard", func(*job.Job) {})
	if err := o.LoadLate("L1", "2026-05-14"); err != nil {
		t.Fatal(err)
	}
	if err := o.LoadLate("L1", "2026-05-04"); err != nil {
		t.Fatal(err)
	}
	late := o.Late[0]
	if late.End <= o.End || len(late.Moved) == 0 || late.Moved[0].Name == "" || late.Moved[0].From >= late.Moved[0].To {
		t.Errorf("%+v", late)
	}
	for _, m := range late.Moved {
		if strings.HasPrefix(m.Name, "set of A") && m.To < "2026-05-14 00:00" {
			t.Errorf("%s begins %s, before the load comes", m.Name, m.To)
		}
	}
	if early := o.Late[1]; early.End > o.End {
		t.Errorf("%+v", early)
	}
	if o.LoadLate("L9", "2026-05-14") == nil || o.LoadLate("L1", "soon") == nil {
		t.Error("a load that is not there, and a day that is none")
	}
}

// Notices, closures and halts hold: nothing is dug before a notice's lead has passed, the crossing is dug in the hours of its closure.
func TestWindowsHold(t *testing.T) {
	o := timed(t, "battery-yard", func(*job.Job) {})
	seen := 0
	for _, a := range o.Activities {
		if a.Work == "dig" && a.Begin < "2026-05-04" { // given Wednesday 29 April, two working days: Thursday and Friday
			t.Errorf("%s begins %s", a.Name, a.Begin)
		}
		if from, to := measure.Length(a.From), measure.Length(a.To); a.Leg == "B" && a.Work != "cover" && from >= 19*measure.Foot && to <= 35*measure.Foot {
			seen++
			for k := 1; k < len(a.Front); k++ {
				if hour := a.Front[k].At[11:]; a.Front[k].Chainage != a.Front[k-1].Chainage && (hour < "18:00" || hour > "23:00") {
					t.Errorf("%s goes on at %s", a.Name, a.Front[k].At)
				}
			}
		}
	}
	if seen == 0 {
		t.Error("no stretch of the crossing was seen")
	}
	rain := timed(t, "tram-depot", func(*job.Job) {})
	for _, a := range rain.Activities {
		for k := 1; k < len(a.Front) && (a.Work == "bed" || a.Work == "fill"); k++ {
			if strings.HasPrefix(a.Front[k].At, "2026-04-22 1") && a.Front[k].Chainage != a.Front[k-1].Chainage {
				t.Errorf("%s goes on in the rain at %s", a.Name, a.Front[k].At)
			}
		}
	}
}

// The days ahead say each gang's stretches once, and what has to be there before.
func TestLookAhead(t *testing.T) {
	o := timed(t, "hand-troughs", func(*job.Job) {})
	ahead := o.LookAhead("", 2)
	if len(ahead) == 0 || ahead[0].Day != "2026-09-07" || ahead[0].Weekday != "Mon" {
		t.Fatalf("%+v", ahead)
	}
	days := map[string]bool{}
	load := false
	for _, x := range ahead {
		days[x.Day] = true
		load = load || slices.ContainsFunc(x.Needs, func(n string) bool { return strings.HasPrefix(n, "load L1") })
		if x.First == "" || x.Last == "" || x.From == x.To || x.Begin >= x.End {
			t.Errorf("%+v", x)
		}
	}
	if len(days) != 2 || !load {
		t.Errorf("%v, load seen: %v", days, load)
	}
}

// What cannot be is told in a sentence with its limit and what to try; nothing is dated then.
func TestProgrammeThatCannotBe(t *testing.T) {
	for want, spoil := range map[string]func(*job.Job){
		"the longest leg is":  func(j *job.Job) { j.Programme.Works[1].Behind = 900 * measure.Metre },
		"may be open at once": func(j *job.Job) { j.Programme.Open = job.Known(4 * measure.Metre) },
		"does not come to an end": func(j *job.Job) {
			j.Programme.Windows = []job.TimeWindow{{ID: "n", Kind: "notice", Works: []string{"dig"}, Given: "2026-09-01", Last: "2026-09-07", Leg: "A"}}
			j.Programme.Gangs[0].Does[0].Rate.Value = "0.05 m3/h"
			j.Programme.Gangs[1].Does[0].Rate.Value = "0.05 m3/h"
		},
		"no gang on file that does": func(j *job.Job) { j.Programme.Gangs = j.Programme.Gangs[2:] },
	} {
		o := timed(t, "hand-troughs", spoil)
		i := slices.IndexFunc(o.Findings, func(f finding.Finding) bool { return strings.Contains(f.Text, want) })
		if i < 0 || o.Findings[i].Where.Path == "" || o.Findings[i].Try+o.Findings[i].Ask == "" || len(o.Activities) > 0 {
			t.Errorf("%s: %d activities, %v", want, len(o.Activities), o.Findings)
		}
	}
}
