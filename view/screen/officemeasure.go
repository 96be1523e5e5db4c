package screen

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"
	"time"

	"trenchwright/base/sorting"
	"trenchwright/job/field"
)

// span is what a measure goes by: which records were there before it, and which are there at its end; nil: none, and all.
type span struct{ before, until func(*field.Record) bool }

// measureBetween is what was done between two moments: days by the clocks of those who recorded it, or numbers of records in the order
// in which the server took them in, which no late record moves.
func (v *siteView) measureBetween(q *question, out *Office) {
	out.Last = int(v.book.LastSeq())
	from, err := v.when(q.Fields["from"])
	if err == nil {
		out.From = from.said
	}
	var to when
	if err == nil {
		to, err = v.when(q.Fields["to"])
		out.To = to.said
	}
	switch {
	case err != nil:
		out.Fault = err.Error()
	case from.day != "" && to.day != "" && from.day > to.day:
		out.Fault = "the second day comes before the first one"
	case from.seq > 0 && to.seq > 0 && from.seq > to.seq:
		out.Fault = "the second record comes before the first one"
	default:
		out.Measure = v.measured(span{from.before(), to.until()})
	}
}

// when is where a measure begins or ends: a day, or after so many records at the server; neither: open.
type when struct {
	day  string // 2026-11-24
	seq  int64
	said string
}

func (v *siteView) when(text string) (m when, err error) {
	if text = strings.TrimSpace(text); text == "" {
		return m, nil
	}
	if n, fails := strconv.ParseInt(text, 10, 64); fails == nil && n > 0 {
		if v.book.LastSeq() == 0 {
			return m, fmt.Errorf("%q: none of these records says in which order the server took it in; write a day, such as 2026-11-26", text)
		}
		if last := v.book.LastSeq(); n > last {
			return m, fmt.Errorf("%q: the last record that the server told of has the number %d", text, last)
		}
		return when{seq: n, said: fmt.Sprintf("record %d at the server", n)}, nil
	}
	now, _ := time.Parse(time.RFC3339, v.now)
	d, err := dayOf(text, v.speech.US, now)
	if err != nil {
		return m, fmt.Errorf("%q: %w", text, err)
	}
	return when{day: d.Format(time.DateOnly), said: dayWords(d, v.speech.US)}, nil
}

// before are the records before a measure that begins then: the day is in it, the record is not.
func (m when) before() func(*field.Record) bool {
	switch {
	case m.seq > 0:
		return field.Until(m.seq)
	case m.day != "":
		return func(r *field.Record) bool { return dayOfRecord(r) < m.day }
	}
	return nil
}

// until are the records of a measure that ends then.
func (m when) until() func(*field.Record) bool {
	switch {
	case m.seq > 0:
		return field.Until(m.seq)
	case m.day != "":
		return func(r *field.Record) bool { return dayOfRecord(r) <= m.day }
	}
	return nil
}

// measured is what was done between two moments: what stands at the second and did not at the first one.
func (v *siteView) measured(s span) []OfficeSum {
	upto := v.book
	if s.until != nil {
		upto = v.book.Upto(s.until)
	}
	var before *field.Book
	if s.before != nil {
		before = v.book.Upto(s.before)
	}
	out := []OfficeSum{}
	for _, sum := range upto.Measured(before) {
		name := v.saying().Counted(sum)
		if sum.What == "bed" {
			name = v.speech.Word(v.standsOn()) + " levelled"
		}
		one := OfficeSum{Name: name, Count: fmt.Sprint(sum.Count), Where: v.stretches(sum.In)}
		if len(sum.Out) > 0 {
			one.Where = joined("; ", one.Where, "taken out again: "+v.stretches(sum.Out))
		}
		if sum.Length != 0 {
			one.Long = v.run(sum.Length)
		}
		out = append(out, one)
	}
	return out
}

// stretches are places along the run, leg by leg in walking order.
func (v *siteView) stretches(list []field.Stretch) string {
	var text []string
	for _, i := range v.order {
		for _, s := range list {
			if s.Leg == v.plan.Legs[i].Name {
				text = append(text, s.String())
			}
		}
	}
	return strings.Join(text, ", ")
}

// standing are the records that none takes the place of, by when they were made.
func (v *siteView) standing() []*field.Record {
	all := v.book.All()
	gone := map[string]bool{}
	for i := range all {
		if all[i].Corrects != "" {
			gone[all[i].Corrects] = true
		}
	}
	var out []*field.Record
	for i := range all {
		if !gone[all[i].ID] {
			out = append(out, &all[i])
		}
	}
	sorting.By(out, func(a, b *field.Record) int {
		return cmp.Or(strings.Compare(a.Made, b.Made), strings.Compare(a.ID, b.ID))
	})
	return out
}
