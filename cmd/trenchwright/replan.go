package main

import (
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job/field"
	"trenchwright/job/planner"
)

// replanCommand plans what is left again, from what is in the ground.
type replanCommand struct {
	Job     string `arg:"" help:"The job, as YAML or JSON."`
	Records string `required:"" help:"The file of its records." placeholder:"FILE"`
	JSON    bool   `name:"json" help:"Answer as JSON."`
}

// replanAnswer is what `trenchwright replan --json` prints.
type replanAnswer struct {
	Job      string              `json:"job"`
	Records  int                 `json:"records"`
	Legs     []planner.LegReplan `json:"legs"`
	Findings finding.List        `json:"findings"`
}

func (c *replanCommand) Run(p program) error {
	t, err := p.ask("replan", c.Job)
	if err != nil {
		return err
	}
	records, faults, err := recordsIn(c.Records)
	if err != nil {
		return outcome{exitUsage, fmt.Sprintf("trenchwright replan: %s: %v", c.Records, err)}
	}
	b := field.NewBook(t.plan.Places())
	b.Add(records...)
	s := b.State("")
	a := replanAnswer{t.job.ID, s.Records, t.Replan(s), append(append(finding.List{}, faults...), s.Findings...)}
	stopped := false
	for _, l := range a.Legs {
		stopped = stopped || l.Answer == planner.NoAnswer || l.Answer == planner.Stopped
	}
	if c.JSON {
		if err := p.json(a); err != nil {
			return err
		}
	} else {
		p.showReplan(t, a)
	}
	if stopped {
		return outcome{code: exitFaults}
	}
	return nil
}

func (p program) showReplan(t trench, a replanAnswer) {
	say := func(m measure.MM) string {
		return measure.Format{System: system(t.job), Places: 1}.Length(measure.Length(m))
	}
	for _, l := range a.Legs {
		if l.Answer == planner.NotBegun && len(l.Apart)+len(l.Findings) == 0 {
			continue
		}
		fmt.Fprintf(p.out, "leg %s: %d of %d set: %s\n", l.Leg, l.Set, l.Units, l.Answer)
		rows := p.lines()
		if l.Last != "" {
			at := "taken to end as drawn: nobody measured where a unit of this leg ends"
			if l.Answer == planner.CannotSay && len(l.Findings) == 0 {
				at = "records of people who did not know of each other differ here: measure or look once more"
			} else if l.Measured != "" {
				at = "its end lies " + t.side(measure.Length(l.Off))
				if l.Measured != l.Last {
					at = fmt.Sprintf("%s behind %s, which was measured %s", "taken to lie as drawn", l.Measured, t.side(measure.Length(l.Off)))
				}
			}
			rows.row(l.Last, at)
		}
		if l.Answer == planner.OtherGaps || l.Answer == planner.OtherPiece {
			rows.row("hold now", say(l.Hold))
		}
		for _, g := range l.Gaps {
			rows.row(g.Joint, say(g.Gap)+", drawn "+say(g.Drawn))
		}
		for _, u := range l.Pieces {
			rows.row(u.Place, pieceNow(u, say))
		}
		for _, place := range l.Apart {
			rows.row(place, "set behind a place that is not: left out of this")
		}
		rows.w.Flush()
		for _, f := range l.Findings {
			fmt.Fprintln(p.out, f.Say(t.job.Speech()))
		}
	}
	for _, f := range a.Findings {
		fmt.Fprintln(p.out, f.Say(t.job.Speech()))
	}
	fmt.Fprintln(p.out, "Nothing is changed by this: a person takes an answer, or does not. What is set stays as it was recorded.")
}

// pieceNow says what a place gets in place of what was planned.
func pieceNow(u planner.PieceNow, say func(measure.MM) string) string {
	now := "whole " + say(u.Length)
	switch {
	case u.Stock == 0:
		return "no unit any more; planned was " + say(u.Was)
	case u.Cut:
		now = "cut to " + say(u.Length) + " from " + say(u.Stock)
	}
	if u.Was == 0 {
		return now + "; there was none"
	}
	return now + "; planned was " + say(u.Was)
}
