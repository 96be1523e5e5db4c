package dossier

import (
	"fmt"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/view/table"
)

func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// sentence is a finding's text with its first letter large.
func sentence(text string) string {
	if text == "" {
		return ""
	}
	return capital(text)
}

// turned is a joint with its units named the other way round.
func turned(joint string) string {
	a, b, ok := strings.Cut(joint, "/")
	if !ok {
		return joint
	}
	return b + "/" + a
}

// ref names a record for people: its device, and which of that device's records it is. Devices count without gaps.
func ref(r field.Record) string { return fmt.Sprintf("%s/%d", r.Device, r.Number) }

// behind is the record of an id.
func (d *Dossier) behind(id string) field.Record {
	r, _ := d.book.Record(id)
	return r
}

// refs name records, in the order given.
func (d *Dossier) refs(ids []string) string {
	var out []string
	for _, id := range ids {
		if r, ok := d.book.Record(id); ok {
			out = append(out, ref(r))
		} else {
			out = append(out, id)
		}
	}
	return strings.Join(out, ", ")
}

// people are those who made records, each once.
func (d *Dossier) people(ids []string) string {
	var out []string
	seen := map[string]bool{}
	for _, id := range ids {
		if p := d.behind(id).Person; p != "" && !seen[p] {
			seen[p] = true
			out = append(out, p)
		}
	}
	return strings.Join(out, ", ")
}

func with(r field.Record) string {
	if r.Instrument == nil {
		return ""
	}
	return strings.Join(nonempty(r.Instrument.ID, r.Instrument.Calibrated()), ", ")
}

// day is the day of a record by its device's clock.
func day(r field.Record) string {
	if len(r.Made) >= len("2026-01-02") {
		return r.Made[:len("2026-01-02")]
	}
	return r.Made
}

// stretch is the place of a record, or its first and its last.
func stretch(r field.Record) string { return span(r.From, r.To) }

func span(from, to string) string {
	switch {
	case from == "":
		return to
	case to == "" || to == from:
		return from
	}
	return from + " to " + to
}

// The columns that the tables have.
func text(key, head string) table.Column { return table.Column{Key: key, Head: head} }

func count(key, head string) table.Column {
	return table.Column{Key: key, Head: head, Kind: table.KindCount}
}

// far is a chainage or a level: metres, or feet.
func (d *Dossier) far(key, head string) table.Column {
	c := table.Column{Key: key, Head: head, Kind: table.KindLength, Unit: "m", Places: 3}
	if d.speech.Imperial {
		c.Unit = "ft"
	}
	return c
}

// near is a gap or a difference: millimetres, or inches in 32nds.
func (d *Dossier) near(key, head string) table.Column {
	if d.speech.Imperial {
		return table.Column{Key: key, Head: head, Kind: table.KindLength, Unit: "ft-in", Fraction: 32}
	}
	return table.Column{Key: key, Head: head, Kind: table.KindLength, Unit: "mm", Places: 1}
}

// size is a length as a sentence has it.
func (d *Dossier) size(l measure.Length) string { return d.speech.Length(l) }

func long(l *measure.Length) table.Cell {
	if l == nil {
		return table.Cell{}
	}
	return table.Length(*l)
}

func level(m *float64) *measure.Length {
	if m == nil {
		return nil
	}
	return new(measure.FromMetres(*m))
}

// ending is the place of the set-out where a unit ends: the joint to the next one, or the end of its leg.
func (d *Dossier) ending(units []*field.UnitState, i int) (planner.SetOut, bool) {
	name := "end of " + units[i].Place
	if next := d.next[units[i].Place]; next != "" {
		name = units[i].Place + "/" + next
	}
	r, ok := d.rows[name]
	return r, ok
}

// beginning is the place of the set-out where a unit begins.
func (d *Dossier) beginning(units []*field.UnitState, i int) (planner.SetOut, bool) {
	name := "start of " + units[i].Place
	if before := d.before[units[i].Place]; before != "" {
		name = before + "/" + units[i].Place
	}
	r, ok := d.rows[name]
	return r, ok
}

// places are names of neighbours in few words.
func places(units []*field.UnitState, which []int) string {
	var out []string
	for i := 0; i < len(which); {
		n := i
		for n+1 < len(which) && which[n+1] == which[n]+1 {
			n++
		}
		switch {
		case n == i:
			out = append(out, units[which[i]].Place)
		default:
			out = append(out, units[which[i]].Place+" to "+units[which[n]].Place)
		}
		i = n + 1
	}
	return strings.Join(out, ", ")
}

// word is a word of the trade.
func (d *Dossier) word(w wording.Word) string { return d.speech.Word(w) }

// planSize is a length of the plan as a sentence has it.
func (d *Dossier) planSize(l measure.MM) string { return d.size(measure.Length(l)) }
