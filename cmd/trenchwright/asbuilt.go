package main

import (
	"cmp"
	"fmt"
	"slices"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/field"
)

// asbuiltCommand says what the records of a job come to.
type asbuiltCommand struct {
	Job      string `arg:"" help:"The job, as YAML or JSON."`
	Records  string `required:"" help:"The file of its records." placeholder:"FILE"`
	Now      string `help:"The moment for what ends by itself, such as a release: 2026-11-27T18:00:00Z." placeholder:"TIME"`
	Open     bool   `xor:"ask" help:"What is open: values that do not meet their limit, cannot be said or were not checked, readings that the contract wants, points that wait, what two people read."`
	Hidden   bool   `xor:"ask" help:"What lacks its record before each step that hides it, and what was hidden without."`
	Doubt    string `xor:"ask" help:"An instrument that turned out wrong: what to read again." placeholder:"INSTRUMENT"`
	Progress bool   `xor:"ask" help:"How far each leg is: set, filled, covered, proven; and what was used."`
	Day      string `xor:"ask" help:"The report of a day: 2026-11-27." placeholder:"DATE"`
	Levels   bool   `xor:"ask" help:"Levels on site: how instruments stand and what closes on them, what was read with cut or fill, rock and lip, and what the rod shows next."`
	Book     bool   `xor:"ask" help:"What was read on the rod, set-up by set-up, as a level book in metres (CSV) for trenchwright levelbook."`
	With     string `help:"--levels, --book: one instrument." placeholder:"NAME"`
	Of       string `help:"--levels: formation, bed, pad, wall or invert. Without it pads, or the bed where there are none." placeholder:"THING"`
	Leg      string `help:"--levels: one leg." placeholder:"LEG"`
	Place    string `help:"--levels: what comes next, from this place on." placeholder:"PLACE"`
	Next     int    `help:"--levels: so many places ahead." default:"4" placeholder:"N"`
	SetUp    string `help:"--doubt: only what was read from this set-up." placeholder:"NAME"`
	From     string `help:"Progress and measure of what came after a date, or after so many records at the server." placeholder:"MOMENT"`
	Until    string `help:"Everything as it stood on a date, or when the server had so many records." placeholder:"MOMENT"`
	Device   string `help:"--day: of one device. --levels: as this device has the instrument." placeholder:"NAME"`
	Person   string `help:"--day: of one person." placeholder:"NAME"`
	JSON     bool   `name:"json" help:"Answer as JSON."`

	of   string // all that is recorded, or until which moment
	from field.Moment
}

// asbuiltAnswer is what `trenchwright asbuilt --json` prints.
type asbuiltAnswer struct {
	Job      string               `json:"job"`
	Of       string               `json:"of"` // all that is recorded, or until which moment, and who says when that was
	Records  int                  `json:"records"`
	Legs     []field.LegState     `json:"legs"`
	Yard     []field.Stock        `json:"yard"`
	Goods    []field.GoodsState   `json:"goods"`
	Services []field.ServiceState `json:"services"`
	Angles   []field.AngleState   `json:"angles"`
	Points   []field.PointState   `json:"points"`
	Matters  []field.MatterState  `json:"matters"`
	Gaps     []field.Held         `json:"gaps"` // those out of what their joint may have, or of which nobody can say
	Findings finding.List         `json:"findings"`
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
	if c.From != "" && c.narrow() && !c.Progress {
		return outcome{exitUsage, "trenchwright asbuilt: --from asks for the measure of what came after a moment; leave it out, or ask for nothing else with it"}
	}
	if records, err = c.between(records); err != nil {
		return err
	}
	b := field.NewBook(t.plan.Places()).Under(field.Asks(t.job))
	b.Add(records...)
	if c.narrow() {
		if len(faults) > 0 {
			fmt.Fprint(p.err, faults.Say(t.job.Speech()))
		}
		return c.answer(p, t, b)
	}
	s := b.State(c.Now)
	a := asbuiltAnswer{t.called(), c.of, s.Records, s.Legs, s.Yard, s.Goods, s.Services, s.Angles, s.Points, s.Matters, gapsOut(b, t.job), append(faults, s.Findings...)}
	if c.JSON {
		return p.json(a)
	}
	c.heading(p, a.Job, a.Records)
	p.showAsBuilt(t, b, a)
	return nil
}

// momentIn reads a moment of the records that a command was given.
func momentIn(command, text string, records []field.Record) (field.Moment, error) {
	m, err := field.MomentOf(text, records)
	if err != nil {
		return m, outcome{exitUsage, "trenchwright " + command + ": " + err.Error()}
	}
	return m, nil
}

// recordedUntil are the records that there were until a moment; empty: all.
func recordedUntil(command, text string, records []field.Record) ([]field.Record, error) {
	if text == "" {
		return records, nil
	}
	m, err := momentIn(command, text, records)
	return m.Of(records), err
}

// between reads --from and --until, and gives the records that there were until then.
func (c *asbuiltCommand) between(records []field.Record) (until []field.Record, err error) {
	c.of = "all that is recorded"
	if c.From != "" {
		c.Progress = true
		if c.from, err = momentIn("asbuilt", c.From, records); err != nil {
			return nil, err
		}
	}
	if c.Until == "" {
		return records, nil
	}
	upto, err := momentIn("asbuilt", c.Until, records)
	if err == nil && c.From != "" && c.from.After(upto) {
		err = outcome{exitUsage, fmt.Sprintf("trenchwright asbuilt: --from %s comes after --until %s", c.From, c.Until)}
	}
	c.of = "until " + upto.String()
	return upto.Of(records), err
}

// heading is what stands above an answer.
func (c *asbuiltCommand) heading(p program, job string, records int) {
	of := ""
	if c.Until != "" {
		of = ", " + c.of
	}
	fmt.Fprintf(p.out, "%s, %s%s\n", job, plural(records, "record", "records"), of)
}

// narrow tells whether something narrower was asked for than all that the records come to.
func (c *asbuiltCommand) narrow() bool {
	return c.Open || c.Hidden || c.Progress || c.Doubt != "" || c.Day != "" || c.Levels || c.Book
}

func (c *asbuiltCommand) answer(p program, t trench, b *field.Book) error {
	switch {
	case c.Open:
		return c.open(p, t, b)
	case c.Hidden:
		return c.hidden(p, t, b)
	case c.Progress:
		return c.progress(p, t, b)
	case c.Doubt != "":
		return c.doubted(p, t, b)
	case c.Levels:
		return c.levels(p, t, b)
	case c.Book:
		return c.book(p, b)
	}
	return c.day(p, t, b)
}

func (p program) showAsBuilt(t trench, b *field.Book, a asbuiltAnswer) {
	l := p.lines()
	broken := b.Broken()
	for _, leg := range a.Legs {
		l.row("leg "+leg.ID, fmt.Sprintf("%d of %d set, %d of %s laid", leg.Set, len(leg.Units), leg.Laid, plural(leg.Lids, "cover", "covers")))
		for _, u := range leg.Units {
			if u.End != nil && u.End.Known {
				l.row("  "+u.Place, "its end "+t.side(u.End.Value))
			}
			if u.Damaged.Is != field.No {
				for _, d := range broken {
					if d.Place == u.Place {
						l.row("  "+u.Place, "damaged: "+d.Text)
					}
				}
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
	for i := range a.Goods {
		g := &a.Goods[i]
		text := "came: " + g.Say(t.job.Speech())
		if m3, ok := t.plan.InPlace(g.What); ok {
			text += "; the plan takes " + t.job.Speech().Volume(measure.Volume(m3)) + " in place"
		}
		l.row(g.What, text)
	}
	for _, g := range a.Gaps {
		l.row(g.Place, g.Say(t.read))
	}
	for _, s := range a.Services {
		l.row("service "+s.Name, "leg "+s.Leg+", "+t.Chainage(s.At)+", "+string(s.Depth))
	}
	for _, n := range a.Angles {
		if n.Known {
			text := "measured " + n.Angle.Show(2)
			if drawn, ok := t.plan.Places().Bends[n.Node]; ok {
				text += ", drawn " + drawn.Show(2)
			}
			l.row("bend "+n.Node, text)
		}
	}
	showPoints(l, b, a.Points)
	for _, m := range a.Matters {
		l.row("nonconformance "+m.Number, b.SayMatter(&m))
	}
	_ = l.w.Flush()
	for _, f := range a.Findings {
		fmt.Fprintln(p.out, f.Say(t.job.Speech()))
	}
}

// gapsOut are the gaps that were measured and do not lie within what their joint may have, or may not.
func gapsOut(b *field.Book, j job.Job) []field.Held {
	return slices.DeleteFunc(field.Open(b.Held(field.Asks(j))), func(h field.Held) bool { return h.Of != "gap" || h.Verdict == field.NotChecked })
}

// read is a reading as it was read, in the job's system.
func (t trench) read(l measure.MM) string { return t.job.Speech().Length(measure.Length(l)) }

// called is what a job is called: its id, else its name.
func (t trench) called() string { return cmp.Or(t.job.ID, t.job.Name) }

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
		return t.read(measure.MM(l)) + " ahead of its place"
	case l < 0:
		return t.read(measure.MM(-l)) + " behind its place"
	}
	return "at its place"
}
