package main

import (
	"fmt"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/stamp"
	"trenchwright/view/drawing"
	"trenchwright/view/pack"
)

// daycardCommand writes pages for a stretch that are filled in by hand in the trench and keyed in at the office.
type daycardCommand struct {
	Job    string `arg:"" help:"The job, as YAML or JSON, or the name of a demo job."`
	Leg    string `help:"Of one leg; without it, of the leg of --from, or of all." placeholder:"LEG"`
	From   string `help:"The first place." placeholder:"PLACE"`
	To     string `help:"The last place." placeholder:"PLACE"`
	Joints int    `help:"So many places at the most, such as a day's work." placeholder:"N"`
	HI     string `name:"hi" help:"Height of the instrument, where it stands already: what the rod is to read is worked out for it." placeholder:"LEVEL"`
	Out    string `short:"o" required:"" help:"Write them to this PDF." placeholder:"FILE"`
	JSON   bool   `name:"json" help:"Answer as JSON."`
}

// daycardAnswer is what `trenchwright daycard --json` prints.
type daycardAnswer struct {
	File  string `json:"file"`
	Cards int    `json:"cards"`
}

func (c *daycardCommand) Run(p program) error {
	a := &asked{command: "daycard"}
	on, _, err := p.buildable("daycard", c.Job)
	if err != nil {
		return err
	}
	day := drawing.Day{Leg: c.Leg, From: c.From, To: c.To, Count: c.Joints}
	if c.Joints < 0 {
		a.fault("--joints", "%d is negative", c.Joints)
	}
	if c.HI != "" {
		unit := measure.UnitMetre
		switch on.Job.Coordinates.Unit {
		case job.CoordFeet:
			unit = measure.UnitFoot
		case job.CoordUSSurvey:
			unit = measure.UnitSurveyFoot
		}
		r, err := measure.ParseIn(c.HI, unit)
		if err != nil {
			a.fault("--hi", "%v", err)
		}
		day.HI = &r.Length
	}
	if err := a.ends(); err != nil {
		return err
	}
	document, cards, err := pack.DayCards(on.Plan, on.Job, stamp.Stamp{}, day)
	if err != nil {
		return outcome{exitUsage, "trenchwright daycard: " + err.Error()}
	}
	if err := replaceFile(c.Out, document); err != nil {
		return unwritten("daycard", err)
	}
	if c.JSON {
		return p.json(daycardAnswer{c.Out, cards})
	}
	fmt.Fprintf(p.out, "%s: %s\n", plural(cards, "day card", "day cards"), c.Out)
	return nil
}

// Help is shown below the flags.
func (daycardCommand) Help() string {
	return `Example:

    trenchwright daycard job.yaml --from A-004 --joints 14 --hi 37.215 -o tuesday.pdf

One row a place in laying order: what is planned in print, what was found in empty boxes. Each group of boxes is one record (set, gap,
level, cover), so the office keys a row in as it stands. The paper is A4, or Letter where the job has the words of the United States.`
}
