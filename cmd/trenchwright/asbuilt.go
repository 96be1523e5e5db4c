package main

import (
	"fmt"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job/field"
	"trenchwright/job/planner"
)

// asbuiltCommand says what the records of a job come to.
type asbuiltCommand struct {
	Job     string `arg:"" help:"The job, as YAML or JSON."`
	Records string `required:"" help:"The file of its records." placeholder:"FILE"`
	Now     string `help:"The moment for what ends by itself, such as a release: 2026-11-27T18:00:00Z." placeholder:"TIME"`
	JSON    bool   `name:"json" help:"Answer as JSON."`
}

// asbuiltAnswer is what `trenchwright asbuilt --json` prints.
type asbuiltAnswer struct {
	Job      string                `json:"job"`
	Records  int                   `json:"records"`
	Legs     []field.LegState      `json:"legs"`
	Yard     []field.Stock         `json:"yard"`
	Services []field.ServiceState  `json:"services"`
	Angles   []field.AngleState    `json:"angles"`
	Points   []field.PointState    `json:"points"`
	Matters  []field.MatterState   `json:"matters"`
	Gaps     []planner.GapMeasured `json:"gaps"` // those out of what their joint may have
	Findings finding.List          `json:"findings"`
}

func (c *asbuiltCommand) Run(p program) error {
	t, err := p.ask("asbuilt", c.Job)
	if err != nil {
		return err
	}
	records, faults, err := recordsIn(c.Records)
	if err != nil {
		return outcome{exitUsage, fmt.Sprintf("trenchwright asbuilt: %s: %v", c.Records, err)}
	}
	b := field.NewBook(t.plan.Places())
	b.Add(records...)
	s := b.State(c.Now)
	a := asbuiltAnswer{t.job.ID, s.Records, s.Legs, s.Yard, s.Services, s.Angles, s.Points, s.Matters, t.plan.GapsOut(s), append(faults, s.Findings...)}
	if c.JSON {
		return p.json(a)
	}
	p.showAsBuilt(t, a)
	return nil
}

func (p program) showAsBuilt(t trench, a asbuiltAnswer) {
	fmt.Fprintf(p.out, "%s, %s\n", a.Job, plural(a.Records, "record", "records"))
	l := p.lines()
	for _, leg := range a.Legs {
		l.row("leg "+leg.ID, fmt.Sprintf("%d of %d set, %d of %s laid", leg.Set, len(leg.Units), leg.Laid, plural(leg.Lids, "cover", "covers")))
		for _, u := range leg.Units {
			if u.End != nil && u.End.Known {
				l.row("  "+u.Place, "its end "+t.side(u.End.Value))
			}
			if u.Damaged.Is == field.Yes {
				l.row("  "+u.Place, "damaged")
			}
		}
	}
	for _, y := range a.Yard {
		if y.Came == 0 && len(y.By) == 0 {
			l.row(y.Name(t.size), fmt.Sprint(y.Used)+" used; nobody recorded that any came")
			continue
		}
		from := ""
		if len(y.By) > 0 {
			from = ", since it was counted"
		}
		l.row(y.Name(t.size), fmt.Sprintf("%d in the yard%s (%d came, %d damaged, %d used)", y.Have, from, y.Came, y.Damaged, y.Used))
	}
	for _, g := range a.Gaps {
		l.row(g.Joint, g.Say(t.size))
	}
	for _, s := range a.Services {
		l.row("service "+s.Name, "leg "+s.Leg+", "+t.Chainage(s.At)+", "+string(s.Depth))
	}
	for _, n := range a.Angles {
		if n.Known {
			l.row("bend "+n.Node, "measured "+n.Angle.String())
		}
	}
	for _, pt := range a.Points {
		state := "not released"
		switch {
		case pt.Released.Is == field.Yes:
			state = "released by " + strings.Join(pt.By, ", ")
		case len(pt.Lapsed) > 0:
			state = "its release has lapsed: " + pt.Why
		}
		l.row(strung(", ", pt.Point, stretchOf(pt.From, pt.To)), state)
	}
	for _, m := range a.Matters {
		l.row("nonconformance "+m.Number, map[bool]string{true: "closed", false: "open"}[m.Closed.Is == field.Yes])
	}
	_ = l.w.Flush()
	for _, f := range a.Findings {
		fmt.Fprintln(p.out, f.Say(t.job.Speech()))
	}
}

func stretchOf(from, to string) string {
	if to == "" || to == from {
		return from
	}
	return from + " to " + to
}

// side says how far a joint is off its place, and to which side.
func (t trench) side(l measure.Length) string {
	switch {
	case l > 0:
		return t.size(measure.MM(l)) + " ahead of its place"
	case l < 0:
		return t.size(measure.MM(-l)) + " behind its place"
	}
	return "at its place"
}
