package main

import (
	"fmt"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job/field"
	"trenchwright/view/recorded"
)

// progressAnswer is what `trenchwright asbuilt --progress --json` prints.
type progressAnswer struct {
	Job        string              `json:"job"`
	Records    int                 `json:"records"`
	Of         string              `json:"of"` // the whole, or between which moments, and who says when that was
	Legs       []field.LegProgress `json:"legs"`
	Measure    []field.Sum         `json:"measure"` // what was done in it, and where
	Quantities []quantity          `json:"quantities"`
}

// quantity is what was used against what the bill orders.
type quantity struct {
	Item    string `json:"item"`
	Ordered string `json:"ordered"` // "-": the bill has none
	Came    int    `json:"came"`
	Used    int    `json:"used"`
	Damaged int    `json:"damaged"`
	Have    int    `json:"have"`
}

func (c *asbuiltCommand) progress(p program, t trench, b *field.Book) error {
	asks := field.Asks(t.job)
	a := progressAnswer{Job: t.called(), Records: b.Len(), Of: c.of, Legs: b.Progress(asks)}
	var first *field.Book
	if c.From != "" {
		first = b.Upto(c.from.Has)
		a.Legs = field.Since(first.Progress(asks), a.Legs)
		a.Of = "after " + c.from.String() + strings.TrimPrefix(", "+c.of, ", all that is recorded")
	}
	a.Measure, a.Quantities = b.Measured(first), quantities(t, b.State(c.Now))
	if c.JSON {
		return p.json(a)
	}
	fmt.Fprintf(p.out, "%s, %s: %s\n", a.Job, plural(a.Records, "record", "records"), a.Of)
	l := p.lines()
	amount := func(n field.Amount) string { return fmt.Sprintf("%d, %s", n.Units, t.size(measure.MM(n.Length))) }
	l.row("leg", "all\tset\tfill begun\tfilled\tcovered\tproven\tcovers laid")
	for _, g := range a.Legs {
		l.row(g.Leg, strings.Join([]string{amount(g.All), amount(g.Set), amount(g.Begun), amount(g.Filled), amount(g.Covered), amount(g.Proven), fmt.Sprintf("%d of %d", g.Laid, g.Lids)}, "\t"))
	}
	for _, s := range a.Measure {
		l.row(t.saying().Counted(s), fmt.Sprintf("%d\t%s\t%s", s.Count, t.orNone(s.Length), places(s)))
	}
	for _, q := range a.Quantities {
		l.row(q.Item, fmt.Sprintf("ordered %s\tcame %d\tused %d\tdamaged %d\tthere %d", q.Ordered, q.Came, q.Used, q.Damaged, q.Have))
	}
	_ = l.w.Flush()
	return nil
}

// saying is how records are said here.
func (t trench) saying() recorded.Speaker {
	return recorded.Speaker{Speech: t.job.Speech(), Unit: t.job.Coordinates.Unit, Supplies: len(t.job.Supplies)}
}

// orNone is a length, "-" where there is none.
func (t trench) orNone(l measure.Length) string {
	if l == 0 {
		return "-"
	}
	return t.size(measure.MM(l))
}

// places are where something was done, and where it was taken out again.
func places(s field.Sum) string {
	text := func(list []field.Stretch) string {
		var words []string
		for _, one := range list {
			words = append(words, one.String())
		}
		return strings.Join(words, ", ")
	}
	if len(s.Out) == 0 {
		return text(s.In)
	}
	return strung("; ", text(s.In), "taken out again: "+text(s.Out))
}

// quantities are the pieces of the yard against the bill.
func quantities(t trench, s field.State) []quantity {
	ordered := map[field.Piece]string{}
	for _, l := range t.plan.Bill {
		if (l.Kind == "unit" || l.Kind == "cover") && l.Length != nil {
			ordered[field.Piece{Supply: l.Supply, What: l.Kind, Length: measure.Length(*l.Length)}] = l.Order
		}
	}
	var list []quantity
	for _, y := range s.Yard {
		q := quantity{Item: y.Name(t.size), Ordered: "-", Came: y.Came, Used: y.Used, Damaged: y.Damaged, Have: y.Have}
		if n := ordered[y.Piece]; n != "" {
			q.Ordered = n
		}
		list = append(list, q)
	}
	return list
}

func (c *asbuiltCommand) day(p program, t trench, b *field.Book) error {
	d := b.Day(c.Day, c.Device, c.Person, t.saying().Said)
	if c.JSON {
		return p.json(d)
	}
	fmt.Fprintf(p.out, "%s, %s, by the clocks of whoever recorded it\n", d.Date, plural(d.Records, "record", "records"))
	l := p.lines()
	for _, o := range d.People {
		l.row("  "+strung(", ", o.Name, o.Of), plural(o.Records, "record", "records"))
	}
	for _, o := range d.Instruments {
		checked := "no check of it on record"
		if o.Of != "" {
			checked = "checked " + o.Of
		}
		l.row("  "+o.Name, plural(o.Records, "record", "records")+", "+checked)
	}
	for _, s := range d.Stages {
		l.row(s.Stage, plural(len(s.Lines), "record", "records"))
		for _, x := range s.Lines {
			text := x.Text
			if x.Gone {
				text += " (corrected by a later record)"
			}
			l.row("  "+x.Time, strung("\t", x.Where, text+", "+x.Person))
		}
	}
	_ = l.w.Flush()
	for _, h := range d.Photos {
		fmt.Fprintln(p.out, "photo "+h)
	}
	return nil
}
