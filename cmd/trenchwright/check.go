package main

import (
	"bytes"
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/job/planner"
	"trenchwright/view/jobtext"
)

type checkCommand struct {
	Job  string `arg:"" help:"The job, as YAML or JSON."`
	JSON bool   `name:"json" help:"Answer as JSON."`
}

// checkAnswer is what `trenchwright check --json` prints.
type checkAnswer struct {
	Faults   int          `json:"faults"`
	Findings finding.List `json:"findings"`
}

// Run reads a job, looks at its geometry too, and writes nothing.
func (c *checkCommand) Run(p program) error {
	text, err := p.read("check", c.Job)
	if err != nil {
		return err
	}
	j, found := jobtext.Read(c.Job, bytes.NewReader(text))
	if len(found) == 0 {
		found = jobtext.Locate(c.Job, text, planner.Look(j))
	}
	faults := found.Count(finding.Fault)
	switch {
	case c.JSON:
		if err := p.json(checkAnswer{faults, append(finding.List{}, found...)}); err != nil {
			return err
		}
	default:
		fmt.Fprint(p.out, found.Say(j.Speech()))
		if faults == 0 {
			fmt.Fprintf(p.out, "%s: no fault found; %s. Nothing was planned.\n", c.Job, plural(len(found), "finding", "findings"))
		} else {
			fmt.Fprintf(p.out, "%s: %s.\n", c.Job, plural(faults, "fault", "faults"))
		}
	}
	if faults > 0 {
		return outcome{code: exitFaults}
	}
	return nil
}
