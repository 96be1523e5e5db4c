package main

import (
	"fmt"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/job/planner"
)

// deliverCommand says how what is ordered comes, or what can be laid without what has not come.
type deliverCommand struct {
	Job     string            `arg:"" help:"The job, as YAML or JSON."`
	Missing []string          `help:"What has not come: the mark of a piece, a place, a casting, or a type and how many: A-003, \"SUPPLY unit 3000mm=4\"." placeholder:"MARK"`
	Records string            `help:"The file of its records: what lies, and what came." placeholder:"FILE"`
	Until   string            `help:"From what was recorded until a date, or when the server had so many records." placeholder:"MOMENT"`
	Set     map[string]string `help:"Without records: the last place of a leg that lies, in laying order: A=A-004." placeholder:"LEG=PLACE"`
	JSON    bool              `name:"json" help:"Answer as JSON."`
}

// deliverAnswer is what `trenchwright deliver --json` prints without --missing.
type deliverAnswer struct {
	Job string `json:"job"`
	planner.Delivery
	NotChecked []string `json:"not_checked"`
}

func (c *deliverCommand) Run(p program) error {
	t, err := p.ask("deliver", c.Job)
	if err != nil {
		return err
	}
	if c.Until != "" && c.Records == "" {
		return outcome{exitUsage, "trenchwright deliver: --until says how far to read the records of --records FILE; name that file too"}
	}
	if len(c.Missing)+len(c.Set) > 0 || c.Records != "" {
		return c.short(p, t)
	}
	a := deliverAnswer{Job: t.job.ID, Delivery: t.Answers.Delivery(), NotChecked: t.ofDeliveries()}
	if c.JSON {
		return p.json(a)
	}
	p.showDelivery(t, a)
	return nil
}

// ofDeliveries is what is not on file of deliveries, and what has to be looked at; a job that says nothing of them lacks all of it.
func (t trench) ofDeliveries() []string {
	out, list := []string{}, t.plan.Findings
	if t.plan.Delivery == nil {
		j := t.job
		j.Delivery.Covers = "after" // it asks for deliveries now, and has no figure
		list = job.Missing(j)
	}
	for _, f := range list {
		if path := f.Where.Path; strings.HasPrefix(path, "delivery") || strings.Contains(path, ".stacking.") || strings.HasPrefix(f.ID, "delivery.") || f.ID == "job.missing.fitting-size" {
			out = append(out, f.Say(t.job.Speech()))
		}
	}
	return out
}

// short says what can be laid.
func (c *deliverCommand) short(p program, t trench) error {
	a := &asked{command: "deliver"}
	var missing []planner.Missing
	for _, text := range c.Missing {
		if !strings.Contains(text, "=") {
			missing = append(missing, planner.Missing{Mark: text})
			continue
		}
		if piece, n, ok := pieces(a, "--missing", text); ok {
			m := planner.Missing{Piece: piece, Count: n}
			if piece.Mark != "" {
				m = planner.Missing{Mark: piece.Mark}
			}
			missing = append(missing, m)
		}
	}
	if err := a.ends(); err != nil {
		return err
	}
	var state *field.State
	if c.Records != "" {
		records, faults, err := recordsIn(c.Records)
		if err != nil {
			return outcome{exitUsage, fmt.Sprintf("trenchwright deliver: %s: %v", c.Records, err)}
		}
		fmt.Fprint(p.err, faults.Say(t.job.Speech()))
		if records, err = recordedUntil("deliver", c.Until, records); err != nil {
			return err
		}
		b := field.NewBook(t.plan.Places())
		b.Add(records...)
		s := b.State("")
		state = &s
	}
	s, err := t.Short(missing, state, c.Set)
	if err != nil {
		return outcome{exitUsage, "trenchwright deliver: " + err.Error()}
	}
	if c.JSON {
		return p.json(s)
	}
	if len(s.Missing) > 0 {
		fmt.Fprint(p.out, "Without "+strings.Join(s.Missing, ", ")+": ")
	}
	fmt.Fprintln(p.out, s.Says+".")
	for _, why := range s.Why {
		fmt.Fprintln(p.out, "  "+why)
	}
	return nil
}

func (p program) showDelivery(t trench, a deliverAnswer) {
	if len(a.Loads) == 0 {
		fmt.Fprintln(p.out, "No load was worked out.")
	} else {
		fmt.Fprintf(p.out, "%s, %s in all, legs in the order %s; nothing brings all of it with fewer than %d, by %s.\n", plural(len(a.Loads), "load", "loads"), heavily(a.Mass, system(t.job)), strings.Join(a.Legs, ", "), a.Least, map[string]string{"mass": "its mass", "deck": "the room on decks"}[a.LeastBy])
	}
	l := p.lines()
	for _, x := range a.Loads {
		l.row(fmt.Sprint("load ", x.Number), t.load(x))
	}
	l.w.Flush()
	p.showItems(t, a)
	l = p.lines()
	for _, x := range a.Laydown {
		held := []string{}
		for _, h := range x.Holds {
			held = append(held, h.What+" "+strung(" of ", h.Value, h.Limit)+": "+h.Verdict)
		}
		l.row("laydown "+x.ID, fmt.Sprintf("%s, %s in all, at most %d at once", t.spot(planner.PlaceAt{Leg: x.Leg, Chainage: x.Start, Name: x.Name}), plural(len(x.Bundles), "bundle", "bundles"), x.Most))
		for _, h := range held {
			l.row("", h)
		}
	}
	l.w.Flush()
	if len(a.Left) > 0 {
		fmt.Fprintln(p.out, "On no load:")
	}
	l = p.lines()
	for _, x := range a.Left {
		l.row(strung(" ", x.Mark, x.Item), x.Why)
	}
	l.w.Flush()
	for _, text := range a.NotChecked {
		fmt.Fprintln(p.out, text)
	}
}

// load is one load in a line: what it brings, and how much of the vehicle that takes.
func (t trench) load(x planner.DeliveryLoad) string {
	s := system(t.job)
	text := fmt.Sprintf("%s, %s, laid %s to %s; %s of %s", x.Vehicle, plural(x.Pieces, "piece", "pieces"), x.First, x.Last, weighs(x.Mass, s), weighs(x.Payload, s))
	if x.Deck != nil {
		text += fmt.Sprintf("; deck %s of %s", t.size(*x.Deck), t.size(*x.DeckOf))
	}
	if x.Axles == nil {
		return text + "; " + finding.NoneOnFile("axles of "+x.Vehicle, "the haulier", finding.Where{}).Text
	}
	return text + fmt.Sprintf("; axles %s of %s, %s of %s", weighs(x.Axles[0], s), weighs(x.AxlesOf[0], s), weighs(x.Axles[1], s), weighs(x.AxlesOf[1], s))
}

// weighs is a mass to the kilogram or the pound.
func weighs(kg float64, s measure.System) string {
	return measure.Format{System: s}.Mass(measure.Mass(kg*1000 + 0.5))
}

// showItems says what is ordered: plain ones by their number, special ones by their mark.
func (p program) showItems(t trench, a deliverAnswer) {
	fmt.Fprintln(p.out, "To order:")
	l := p.lines()
	special := false
	for _, x := range a.Items {
		if x.Mark != "" {
			special = true
			continue
		}
		spares := ""
		if x.Spares > 0 {
			spares = fmt.Sprintf("%d of them spare", x.Spares)
		}
		change := ""
		if x.Special != "" {
			change = "change until " + x.Change
		}
		packs := x.Packs
		if packs != "" && !strings.HasPrefix(packs, "NOT") {
			packs = "packs: " + packs
		}
		l.row(x.Item, strung("; ", x.Order, packs, spares, x.Special, change))
	}
	l.w.Flush()
	if !special {
		return
	}
	fmt.Fprintln(p.out, t.job.Speech().Say("Special %s, by their marks, and until when they may be changed:", wording.Units))
	l = p.lines()
	for _, x := range a.Items {
		if x.Mark != "" {
			l.row(x.Mark, strung("; ", x.Item, x.Special, x.Change))
		}
	}
	l.w.Flush()
}

// Help is shown below the flags.
func (deliverCommand) Help() string {
	return `Examples:

    trenchwright deliver yard/job.yaml
    trenchwright deliver yard/job.yaml --missing A-003
    trenchwright deliver yard/job.yaml --missing A-003 --missing A-002 --set A=A-001 --json

What is laid first comes first; what may come before its turn, so that loads are filled, the job says (delivery.ahead). Bundles are the supplier's,
vehicles and places the user's own: what nobody entered prints NOT CHECKED. Axles are a beam on two supports. With --missing the
answer is how far each leg can be laid without it: a plain piece goes into any place of its type, a special one into its own alone.`
}
