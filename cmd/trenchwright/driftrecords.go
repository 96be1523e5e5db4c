package main

import (
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job/field"
	"trenchwright/job/planner"
)

// driftRecords is what `trenchwright drift JOB --records FILE --json` prints.
type driftRecords struct {
	Job      string             `json:"job"`
	Records  int                `json:"records"`
	Legs     []planner.LegDrift `json:"legs"` // that are begun
	Findings finding.List       `json:"findings"`
}

// recorded is a job with its records, for a command that asks both.
func (p program) recorded(command, jobFile, records string) (trench, field.State, finding.List, error) {
	if jobFile == "" || records == "" {
		return trench{}, field.State{}, nil, outcome{exitUsage, "trenchwright " + command + ": a job and --records FILE belong together."}
	}
	t, err := p.ask(command, jobFile)
	if err != nil {
		return t, field.State{}, nil, err
	}
	list, faults, err := recordsIn(records)
	if err != nil {
		return t, field.State{}, nil, outcome{exitUsage, fmt.Sprintf("trenchwright %s: %s: %v", command, records, err)}
	}
	b := field.NewBook(t.plan.Places())
	b.Add(list...)
	s := b.State("")
	return t, s, append(append(finding.List{}, faults...), s.Findings...), nil
}

func (c *driftCommand) fromRecords(p program) error {
	t, s, found, err := p.recorded("drift", c.Job, c.Records)
	if err != nil {
		return err
	}
	a := driftRecords{t.job.ID, s.Records, t.Drift(s), found}
	if c.JSON {
		return p.json(a)
	}
	if len(a.Legs) == 0 {
		fmt.Fprintln(p.out, "nothing is set yet, or nobody can say where it lies: nothing creeps")
	}
	for _, d := range a.Legs {
		p.showLegDrift(t, d)
	}
	for _, f := range a.Findings {
		fmt.Fprintln(p.out, f.Say(t.job.Speech()))
	}
	return nil
}

// millimetres writes lengths as a tape shows them.
func (t trench) millimetres(m measure.MM) string {
	return measure.Format{System: system(t.job), Places: 1}.Length(measure.Length(m))
}

func (p program) showLegDrift(t trench, d planner.LegDrift) {
	say := t.millimetres
	fmt.Fprintf(p.out, "leg %s: %d of %d set\n", d.Leg, d.Set, d.Units)
	rows := p.lines()
	rows.row(d.Last, "its end lies "+t.side(measure.Length(d.Off)))
	if d.Set < d.Units {
		hold := say(d.Hold)
		b := d.Back
		same := b != nil && b.Hold == d.Hold && b.Until == d.Until
		switch {
		case same && d.Until != "":
			hold += " up to joint " + d.Until + ", then " + say(b.Then)
		case d.Until != "":
			hold += "; joints are held otherwise than drawn up to " + d.Until
		default:
			hold += ", as drawn"
		}
		rows.row("hold now", hold)
		if b != nil && !same && b.Until != "" {
			back := "with the pieces as planned: hold " + say(b.Hold) + " up to joint " + b.Until + ", then " + say(b.Then)
			switch {
			case b.Left != 0:
				back += "; that leaves the last joint " + t.side(measure.Length(b.Left))
			case d.Closer != nil:
				back += "; the closer is then cut as planned"
			}
			rows.row("or soonest back to the places", back)
		}
		if d.Move {
			rows.row("pads", fmt.Sprintf("the gaps to come leave %s: move the pads to the joints as they come, or plan again", t.side(measure.Length(d.Back.Left))))
		} else if d.Ahead != nil {
			rows.row("pads", fmt.Sprintf("set no more than %s ahead, then measure and move them", plural(*d.Ahead, "unit", "units")))
		}
	}
	if d.Band != nil {
		rows.row("joint at the closer", "within "+say(*d.Band)+" each way, in 999 of 1000 runs, if every gap is held as said")
	}
	for _, l := range d.Lots {
		rows.row(strung(" ", "lot", l.Batch, l.Supply, say(l.Length)), lotNow(l, say))
	}
	if c := d.Closer; c != nil {
		t.closerRows(rows, *c)
	}
	for _, c := range d.Covers {
		trim := "trim it to " + say(c.Trim)
		if c.Trim == 0 {
			trim = "it does not go on at all; look at the length that was recorded"
		}
		rows.row("cover "+c.Cover, fmt.Sprintf("leaves its unit by %s: %s", say(c.Over), trim))
	}
	rows.w.Flush()
	for _, f := range d.Findings {
		fmt.Fprintln(p.out, f.Say(t.job.Speech()))
	}
}

// lotNow says what measured units say of their lot.
func lotNow(l planner.LotDrift, say func(measure.MM) string) string {
	text := fmt.Sprintf("%s measured: %s", plural(l.Units, "unit", "units"), l.Verdict)
	switch {
	case l.Never:
		return text + ", " + say(l.Mean) + " each on average: it never comes right, a gap takes up no more than " + say(l.Takes)
	case l.Verdict == "biased":
		return text + ", " + say(l.Mean) + " each on average"
	case l.More > l.Units:
		return text + fmt.Sprintf("; some %d units in all would tell", l.More)
	}
	return text
}

func (t trench) closerRows(rows lines, c planner.CloserNow) {
	say := t.millimetres
	rows.row("closer "+c.Place, fmt.Sprintf("%s from %s; left wall %s, right wall %s", say(c.Length), say(c.Stock), say(c.Left), say(c.Right)))
	rows.row("", closerNow(c, say))
}

// closerNow says when the piece that closes is cut.
func closerNow(c planner.CloserNow, say func(measure.MM) string) string {
	text := fmt.Sprintf("%s to be laid before it; the gaps beside it take up %s each way", plural(c.ToGo, "unit", "units"), say(c.Margin))
	switch {
	case !c.Known:
		return text + "; cut it last, from a measurement"
	case c.CutAt != "":
		return text + "; cut it from a measurement, once " + c.CutAt + " lies"
	}
	return text + "; it may be cut now, from a measurement"
}
