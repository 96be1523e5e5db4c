package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job/planner"
)

// programmeCommand says when everything is done, by whom, and what decides the end.
type programmeCommand struct {
	Job   string   `arg:"" help:"The job, as YAML or JSON, with a programme in it."`
	Late  []string `help:"A load that comes on another day: what moves, and by how much." placeholder:"LOAD=DATE"`
	Ahead int      `help:"What every gang does on so many of the next working days." placeholder:"DAYS"`
	From  string   `help:"The day from which that is told; the first one where left out." placeholder:"DATE"`
	JSON  bool     `name:"json" help:"Answer as JSON."`
}

// programmeAnswer is what `trenchwright programme --json` prints.
type programmeAnswer struct {
	*planner.Programme
	Ahead []planner.Ahead `json:"ahead,omitempty"`
}

// Run dates the work of a job.
func (c *programmeCommand) Run(p program) error {
	a := &asked{command: "programme"}
	if c.From != "" && !isDay(c.From) {
		a.fault("--from", "%q is no date; write 2026-04-22", c.From)
	}
	if c.Ahead < 0 {
		a.fault("--ahead", "%d days are fewer than none", c.Ahead)
	}
	if err := a.ends(); err != nil {
		return err
	}
	t, err := p.ask("programme", c.Job)
	if err != nil {
		return err
	}
	o := t.plan.Timed(t.job)
	if o == nil {
		return outcome{exitUsage, "trenchwright programme: " + c.Job + " has no programme; write start, calendars, works and gangs under programme (trenchwright help job)"}
	}
	for _, text := range c.Late {
		load, date, _ := strings.Cut(text, "=")
		if err := o.LoadLate(load, date); err != nil {
			a.fault("--late", "%v", err)
		}
	}
	if err := a.ends(); err != nil {
		return err
	}
	ans := programmeAnswer{Programme: o}
	if c.Ahead > 0 || c.From != "" {
		ans.Ahead = o.LookAhead(c.From, max(c.Ahead, 1))
	}
	if c.JSON {
		err = p.json(ans)
	} else {
		p.showProgramme(t, ans)
	}
	switch {
	case err != nil:
		return err
	case o.Findings.Any(finding.Fault):
		return outcome{code: exitFaults}
	case o.Findings.Any(finding.Impossible):
		return outcome{code: exitImpossible}
	}
	return nil
}

func (p program) showProgramme(t trench, a programmeAnswer) {
	if a.End != "" {
		fmt.Fprintf(p.out, "From %s to %s: %s, %s with dates\n%s\n\n", a.Start, a.End, plural(len(a.Gangs), "gang", "gangs"), plural(len(a.Activities), "activity", "activities"), a.Claim)
	}
	switch {
	case len(a.Ahead) > 0:
		p.showAhead(a.Programme, a.Ahead)
	case len(a.Late) == 0:
		p.showDates(t, a)
	}
	for _, l := range a.Late {
		fmt.Fprintf(p.out, "Load %s on %s: the end moves to %s, by %s\n", l.Load, l.Comes, l.End, l.By)
		w := p.lines()
		for _, m := range l.Moved {
			fmt.Fprintf(w.w, "  %s\t%s\tfrom %s\tto %s\tby %s\n", m.Name, m.Gang, m.From, m.To, m.By)
		}
		w.w.Flush()
		if len(l.Moved) == 0 {
			fmt.Fprintln(p.out, "  nothing moves")
		}
	}
	fmt.Fprint(p.out, a.Findings.Say(t.job.Speech()))
}

// showDates says every activity, gangs and loads.
func (p program) showDates(t trench, a programmeAnswer) {
	w := p.lines()
	fmt.Fprintf(w.w, "activity\tamount\tgang\tbegins\tends\tfloat\tfree\twaits\n")
	for _, x := range a.Activities {
		float := decimal(x.Total, 1) + " h"
		if x.Critical {
			float = "decides the end"
		}
		fmt.Fprintf(w.w, "%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\n", x.Name, x.Quantity(system(t.job) == measure.Imperial), x.Gang, x.Begin, x.End, float, decimal(x.Free, 1)+" h", x.Waits)
	}
	fmt.Fprintln(w.w)
	for _, g := range a.Gangs {
		people := g.People
		if !strings.HasPrefix(people, "NOT") {
			people += " h of people"
		}
		fmt.Fprintf(w.w, "%s\t%s h worked\t%s\t%s\n", g.ID, decimal(g.Hours, 1), people, g.Cost)
	}
	w.w.Flush()
	for _, l := range a.Loads {
		needed := "nothing with dates waits for it"
		if l.Needed != "" {
			needed = "what waits for it begins " + l.Needed
		}
		fmt.Fprintf(p.out, "load %s comes %s; %s\n", l.ID, l.Comes, needed)
	}
	var told []string
	for _, u := range a.Undated {
		if slices.Contains(told, u.Work+u.Why) {
			continue
		}
		told = append(told, u.Work+u.Why)
		var legs []string
		for _, o := range a.Undated {
			if o.Work == u.Work && o.Why == u.Why {
				legs = append(legs, o.Leg)
			}
		}
		of := "legs"
		if len(legs) == 1 {
			of = "leg"
		}
		fmt.Fprintf(p.out, "no dates: %s of %s %s: %s\n", u.Work, of, strings.Join(legs, ", "), u.Why)
	}
}

// showAhead says what every gang does, day by day.
func (p program) showAhead(o *planner.Programme, ahead []planner.Ahead) {
	w := p.lines()
	day := ""
	for _, x := range ahead {
		if x.Day != day {
			day = x.Day
			fmt.Fprintf(w.w, "%s %s\n", x.Weekday, x.Day)
		}
		fmt.Fprintf(w.w, "  %s\t%s to %s\t%s\tleg %s, %s to %s\t%s to %s\t%s\n", x.Gang, x.Begin, x.End, x.Work, x.Leg, o.Along(measure.Length(x.From)), o.Along(measure.Length(x.To)), x.First, x.Last, strings.Join(x.Needs, "; "))
	}
	w.w.Flush()
	fmt.Fprintln(p.out)
}

func isDay(text string) bool {
	_, err := time.Parse(time.DateOnly, text)
	return err == nil
}

// decimal is a figure with so many places at most.
func decimal(x float64, places int) string {
	text := strconv.FormatFloat(x, 'f', places, 64)
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
}

// Help is shown below the flags.
func (programmeCommand) Help() string {
	return `Examples:

    trenchwright programme yard/job.yaml
    trenchwright programme yard/job.yaml --ahead 5
    trenchwright programme yard/job.yaml --late L1=2026-05-06

Activities come from what the plan says there is to do, their length from rates that somebody entered: a work without a rate
has no dates, and neither has what follows it. Orders and directions of gangs are looked for; what no programme of the same
gangs and rates can beat is proven and verified apart. Rest between shifts, permits and notices are by local rules.`
}
