package main

import (
	"fmt"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/solve/check"
	"trenchwright/view/schedule"
)

// holdCommand holds a job against what was entered for its checks.
type holdCommand struct {
	Job  string   `arg:"" help:"The job, as YAML or JSON."`
	Only []string `help:"Checks of these kinds alone: flotation, load, lifting, cable, compaction, or whole names of them." placeholder:"KIND"`
	Open bool     `help:"Those alone that do not meet their figure, of which nobody can say, or that were not checked."`
	Work bool     `help:"How each was worked out, too."`
	JSON bool     `name:"json" help:"Answer as JSON."`
}

// Run holds what a job entered, a line a check, or with all that it was worked out from.
func (c *holdCommand) Run(p program) error {
	t, err := p.ask("hold", c.Job)
	if err != nil {
		return err
	}
	set := schedule.Of(t.plan, t.job)
	list, names, worst := []check.Said{}, []string{}, 0
	for i, one := range t.plan.Checks {
		met := one.Verdict == string(finding.Meets)
		if c.Open && met || !c.asked(one.ID) {
			continue
		}
		if one.Verdict == string(finding.DoesNot) {
			worst++
		}
		list, names = append(list, one), append(names, schedule.CheckName(i))
	}
	switch {
	case c.JSON:
		if err := p.json(checksAnswer{Checks: list, NotChecked: notCheckedOf(list)}); err != nil {
			return err
		}
	case len(t.plan.Checks) == 0:
		fmt.Fprintln(p.out, "Nothing was held: the job has no figures for it. What they are: trenchwright help job, under checks")
	case c.Work:
		p.showChecks(list, nil)
	default:
		for i, one := range list {
			stop := ""
			if one.Stop && one.Verdict == string(finding.DoesNot) {
				stop = ". HARD STOP"
			}
			fmt.Fprintf(p.out, "%-4s %s: %s%s\n", names[i], set.CheckPlace(&one), one.Sentence, stop)
		}
		fmt.Fprintf(p.out, "\n%s of %d. The working: --work, and in the pack.\n", plural(len(list), "check", "checks"), len(t.plan.Checks))
	}
	if worst > 0 {
		return outcome{code: exitFaults}
	}
	return nil
}

// asked tells whether a check is among those that were asked for.
func (c *holdCommand) asked(id string) bool {
	for _, kind := range c.Only {
		if id == kind || strings.HasPrefix(id, kind+".") {
			return true
		}
	}
	return len(c.Only) == 0
}

// notCheckedOf is what checks lack, each once.
func notCheckedOf(list []check.Said) []string {
	out, said := []string{}, map[string]bool{}
	for _, one := range list {
		for _, m := range one.Missing {
			if !said[m] {
				said[m] = true
				out = append(out, m)
			}
		}
	}
	return out
}

// Help is shown below the flags.
func (holdCommand) Help() string {
	return `Examples:

    trenchwright hold yard/job.yaml
    trenchwright hold yard/job.yaml --open
    trenchwright hold yard/job.yaml --only load,lifting --work

What crosses, what presses on walls and ground, water, lifts, cables and fill are held against figures that the job has for them, under
checks, crossings and supplies. What nobody entered is NOT CHECKED. Without a job the same is asked by: trenchwright load, float, lift,
cable, compact.`
}
