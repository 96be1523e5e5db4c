package main

import (
	"fmt"
	"strings"

	"trenchwright/view/onspot"
)

// spotCommand answers one of the moments that stop a job.
type spotCommand struct {
	Job     string   `arg:"" optional:"" help:"The job, as YAML or JSON. Without it the moments are listed, with what each asks for."`
	What    string   `arg:"" optional:"" help:"The moment, for example water."`
	Figures []string `arg:"" optional:"" help:"What it asks for: water=300mm." placeholder:"NAME=FIGURE"`
	At      string   `help:"Where: a unit, a joint, a node, or a leg and a chainage (\"A 12.5 m\"). The start of the first leg where left out." placeholder:"PLACE"`
	JSON    bool     `name:"json" help:"Answer as JSON."`
}

func (c *spotCommand) Run(p program) error {
	if c.What == "" {
		for _, m := range onspot.All() {
			fmt.Fprintf(p.out, "%-11s %s\n", m.ID, m.Name)
			for _, f := range m.Fields {
				leave := ""
				if f.Leave {
					leave = "; may be left out"
				} else if f.From != nil {
					leave = "; else from the job"
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
}

// Help is shown below the flags.
func (spotCommand) Help() string {
	return `Examples:

    trenchwright spot
    trenchwright spot yard/job.yaml water water=300mm --at A-003
    trenchwright spot yard/job.yaml bend angle=43.6 --at A-003
    trenchwright spot yard/job.yaml reading "reading=0.65 ft"

What happened, a few figures as they were read, and the answer: the same as on the phone. The working of checks: --json.`
}
