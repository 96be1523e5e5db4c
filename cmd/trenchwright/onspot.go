package main

import (
	"fmt"
	"strings"

	"trenchwright/job/field"
	"trenchwright/view/onspot"
)

// spotCommand answers one of the moments that stop a job.
type spotCommand struct {
	Job     string   `arg:"" optional:"" help:"The job, as YAML or JSON. Without it the moments are listed, with what each asks for."`
	What    string   `arg:"" optional:"" help:"The moment, for example water."`
	Figures []string `arg:"" optional:"" help:"What it asks for: water=300mm." placeholder:"NAME=FIGURE"`
	At      string   `help:"Where: a unit, a joint, a node, or a leg and a chainage (\"A 12.5 m\"). The start of the first leg where left out." placeholder:"PLACE"`
	Records string   `help:"The file of the job's records: where there are any they are used." placeholder:"FILE"`
	JSON    bool     `name:"json" help:"Answer as JSON."`
}

func (c *spotCommand) Run(p program) error {
	if c.What == "" {
		for _, m := range onspot.All() {
			fmt.Fprintf(p.out, "%-11s %s\n", m.ID, m.Name)
			for _, f := range m.Fields {
				leave := ""
				if f.From != nil {
					leave = "; else from the records or the job"
				}
				switch {
				case len(f.Only) > 0:
					leave = ", " + strings.Join(f.Only, " or ") + "; " + f.Only[0] + " where left out"
				case f.Leave:
					leave += "; may be left out"
				case f.Told:
					leave += "; may be left out with records"
				}
				fmt.Fprintf(p.out, "    %s=%s  %s%s\n", f.Name, f.Like, f.Label, leave)
			}
		}
		return nil
	}
	m, ok := onspot.Find(c.What)
	if !ok {
		return outcome{exitUsage, fmt.Sprintf("trenchwright spot: nothing is called %q; trenchwright spot lists what there is", c.What)}
	}
	typed := map[string]string{}
	for _, text := range c.Figures {
		name, figure, ok := strings.Cut(text, "=")
		known := false
		for _, f := range m.Fields {
			known = known || f.Name == name
		}
		if !ok || !known {
			return outcome{exitUsage, fmt.Sprintf("trenchwright spot: %q is nothing that %s asks for; trenchwright spot lists what it does", text, c.What)}
		}
		typed[name] = figure
	}
	t, err := p.ask("spot", c.Job)
	if err != nil {
		return err
	}
	place := onspot.Place{Job: t.job, Plan: &t.plan, Answers: t.Answers, Surfaces: t.surfaces}
	if c.At != "" {
		if place.Spot, err = t.found("spot", "--at", c.At, ""); err != nil {
			return err
		}
	}
	if c.Records != "" {
		records, faults, err := recordsIn(c.Records)
		if err != nil {
			return outcome{exitUsage, fmt.Sprintf("trenchwright spot: %s: %v", c.Records, err)}
		}
		b := field.NewBook(t.plan.Places())
		b.Add(records...)
		s := b.State("")
		for _, f := range append(faults, s.Findings...) {
			fmt.Fprintln(p.err, f.Say(t.job.Speech()))
		}
		if b.Len() == 0 {
			fmt.Fprintf(p.err, "no record in %s: answered from the plan and from what was typed\n", c.Records)
		} else {
			place.Site = &onspot.Site{Book: b, State: s}
			if t.Answers != nil {
				place.Site.Left = t.Replan(s)
			}
		}
	}
	a := m.At(&place, typed)
	if c.JSON {
		if err := p.json(a); err != nil {
			return err
		}
	} else {
		p.showSpot(a)
	}
	if len(a.Faults) > 0 {
		return outcome{exitUsage, "nothing was worked out."}
	}
	return nil
}

func (p program) showSpot(a onspot.Answer) {
	fmt.Fprintln(p.out, a.Place)
	for _, list := range [][]string{a.Stop, a.Faults, a.Lines, a.Open} {
		for _, line := range list {
			fmt.Fprintln(p.out, "  "+line)
		}
	}
	if len(a.Given) > 0 && len(a.Faults) == 0 {
		fmt.Fprintln(p.out, "asked with")
		rows := p.lines()
		for _, g := range a.Given {
			rows.row("  "+g.Label, g.Is+", "+g.From)
		}
		rows.w.Flush()
	}
}

// Help is shown below the flags.
func (spotCommand) Help() string {
	return `Examples:

    trenchwright spot
    trenchwright spot yard/job.yaml water water=300mm --at A-003
    trenchwright spot yard/job.yaml bend angle=43.6 --at A-003
    trenchwright spot yard/job.yaml bed --records yard/records.ndjson --at A-003
    trenchwright spot yard/job.yaml reading "reading=0.65 ft"

What happened, a few figures as they were read, and the answer: the same as on the phone. The working of checks: --json.`
}
