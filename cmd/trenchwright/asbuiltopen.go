package main

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job/field"
)

// openAnswer is what `trenchwright asbuilt --open --json` prints.
type openAnswer struct {
	Job        string              `json:"job"`
	Of         string              `json:"of"` // all that is recorded, or until which moment
	Records    int                 `json:"records"`
	Counts     map[string]int      `json:"counts"` // of all that was held, by verdict
	Held       []field.Held        `json:"held"`   // what is not met, cannot be said, or was not checked
	Wanted     []field.Wanted      `json:"wanted"`
	Points     []field.PointState  `json:"points"` // that wait or have lapsed
	Matters    []field.MatterState `json:"matters"`
	Broken     []field.Broken      `json:"broken"`              // that lie and cannot be used
	Beside     []field.Beside      `json:"beside"`              // what two people read, and an inspector
	RanOut     []field.RanOut      `json:"calibration_ran_out"` // readings with an instrument whose calibration had
	NotChecked []string            `json:"not_checked"`
}

func (c *asbuiltCommand) open(p program, t trench, b *field.Book) error {
	asks, s := field.Asks(t.job), b.State(c.Now)
	held := b.Held(asks)
	a := openAnswer{Job: t.called(), Of: c.of, Records: b.Len(), Counts: map[string]int{}, Held: field.Open(held), Wanted: b.Wanted(asks), Broken: b.Broken(), Beside: b.Beside(), RanOut: b.RanOut()}
	for _, h := range held {
		a.Counts[h.Verdict]++
	}
	for _, pt := range s.Points {
		if pt.Open() {
			a.Points = append(a.Points, pt)
		}
	}
	for _, m := range s.Matters {
		if m.Closed.Is != field.Yes {
			a.Matters = append(a.Matters, m)
		}
	}
	for _, f := range s.Findings {
		if f.Kind == finding.NotChecked {
			a.NotChecked = append(a.NotChecked, f.Sentence())
		}
	}
	if len(a.Wanted) == 0 {
		a.NotChecked = append(a.NotChecked, field.NoFrequency)
	}
	if c.JSON {
		return p.json(a)
	}
	c.heading(p, a.Job, a.Records)
	l := p.lines()
	for _, verdict := range []string{"meets the stated figure", "does not meet the stated figure", "cannot say", field.NotChecked} {
		l.row(verdict, fmt.Sprintf("%d measured", a.Counts[verdict]))
	}
	unchecked, places := []string{}, map[string][]string{} // what no figure is on file for is said once, with where
	for _, h := range a.Held {
		if h.Verdict != field.NotChecked {
			l.row("  "+h.Place, h.Say(t.read))
			continue
		}
		why := h.Limit.NotChecked()
		if places[why] == nil {
			unchecked = append(unchecked, why)
		}
		places[why] = append(places[why], h.Place)
	}
	for _, w := range a.Wanted {
		l.row("readings of "+w.Of, fmt.Sprintf("%d of %d, %d lacking, %d not set yet (%s; %s)", w.Read, w.Wanted, len(w.Lacking), w.Ahead, often(w), w.Source))
		if len(w.Lacking) > 0 {
			l.row("  lacking", strings.Join(w.Lacking, ", "))
		}
	}
	showPoints(l, b, a.Points)
	for _, m := range a.Matters {
		l.row("nonconformance "+m.Number, b.SayMatter(&m))
	}
	for _, d := range a.Broken {
		l.row("  "+d.Place, "damaged: "+d.Text)
	}
	for _, d := range a.Beside {
		l.row(d.Place+", "+d.What, besideWords(t, d))
	}
	_ = l.w.Flush()
	for _, o := range b.Overdue(a.RanOut) {
		fmt.Fprintln(p.out, o)
	}
	for _, why := range unchecked {
		fmt.Fprintf(p.out, "%s. Measured at %s (%s)\n", why, strings.Join(slices.Compact(slices.Clone(places[why])), ", "), plural(len(places[why]), "reading", "readings"))
	}
	for _, n := range a.NotChecked {
		fmt.Fprintln(p.out, n)
	}
	return nil
}

func often(w field.Wanted) string {
	var said []string
	if w.First > 0 {
		said = append(said, fmt.Sprintf("the first %d of a leg", w.First))
	}
	if w.Every > 0 {
		said = append(said, fmt.Sprintf("one in %d", w.Every))
	}
	return strings.Join(said, ", ")
}

func showPoints(l lines, b *field.Book, points []field.PointState) {
	for _, pt := range points {
		state := b.SayPoint(&pt)
		for _, n := range pt.Notices {
			state += "; notice " + strung(", ", n.Made+" by "+n.Person, prefixed("to ", n.To), n.Period, n.Answer)
		}
		l.row(strung(", ", pt.Point, stretchOf(pt.From, pt.To)), state)
	}
}

// besideWords are the readings of two people, each with who made it when and with what.
func besideWords(t trench, d field.Beside) string {
	say := func(of []field.ReadBy) string {
		var said []string
		for _, r := range of {
			said = append(said, strung(", ", t.read(measure.MM(r.Value))+" by "+r.Person, r.Role, r.Made, r.With))
		}
		return strings.Join(said, "; ")
	}
	text := strung("; beside it ", say(d.Ours), say(d.Theirs))
	if d.Differ {
		text += ": they differ by more than they are good for"
	}
	return text
}

// hiddenAnswer is what `trenchwright asbuilt --hidden --json` prints.
type hiddenAnswer struct {
	Job     string         `json:"job"`
	Of      string         `json:"of"` // all that is recorded, or until which moment
	Records int            `json:"records"`
	Steps   []field.Hiding `json:"steps"`
}

func (c *asbuiltCommand) hidden(p program, t trench, b *field.Book) error {
	a := hiddenAnswer{t.called(), c.of, b.Len(), b.Hiding(field.Asks(t.job))}
	if c.JSON {
		return p.json(a)
	}
	c.heading(p, a.Job, a.Records)
	l := p.lines()
	said := map[string]bool{}
	for _, s := range a.Steps {
		hidden := 0
		for _, k := range s.Lacking {
			if k.Hidden {
				hidden++
			}
		}
		l.row("before "+s.Step, fmt.Sprintf("%d done; %d hidden without a record, %d to record before it", s.Done, hidden, len(s.Lacking)-hidden))
		for _, k := range s.Lacking {
			text := "no record of " + strings.Join(k.Wants, ", ")
			if k.Hidden {
				text += ": hidden" + byWhom(b, k.By)
			}
			l.row("  "+k.Place, text)
		}
		said[s.Source] = true
	}
	_ = l.w.Flush()
	if said[field.NoList] {
		fmt.Fprintln(p.out, field.NoList)
	}
	return nil
}

// byWhom names the first of the records that hid something.
func byWhom(b *field.Book, by []string) string {
	if len(by) == 0 {
		return ""
	}
	r, _ := b.Record(by[0])
	return " by " + r.Person + ", " + r.Made + " (" + r.ID + ")"
}

func (c *asbuiltCommand) doubted(p program, t trench, b *field.Book) error {
	d := b.Doubt(c.Doubt, c.SetUp)
	if c.JSON {
		return p.json(d)
	}
	fmt.Fprintf(p.out, "%s: %s to read again, %d older than its last check that it met\n", strung(", set-up ", d.Instrument, d.SetUp), plural(len(d.Records), "record", "records"), d.Before)
	l := p.lines()
	for _, k := range d.Checks {
		met := map[field.Answer]string{field.Yes: "met", field.No: "not met"}[k.Met.Is]
		if len(k.Met.By) == 0 {
			met = "nobody said whether it met"
		}
		l.row("check "+k.Made, strung(", ", k.Method, k.Off, "by "+k.Person)+": "+met)
	}
	for _, g := range d.Again {
		l.row(strung(", ", g.What, stretchOf(g.From, g.To)), strung(", ", plural(g.Places, "place", "places"), joinedWith("set-up ", g.SetUps)))
	}
	_ = l.w.Flush()
	return nil
}

func prefixed(before, text string) string {
	if text == "" {
		return ""
	}
	return before + text
}

func joinedWith(before string, of []string) string {
	if len(of) == 0 {
		return ""
	}
	return before + strings.Join(of, ", ")
}
