package screen

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/base/wording"
	"trenchwright/job/field"
)

// span are days, both of them in it, as 2026-11-24; empty: it is open on that side.
type span struct{ from, to string }

func (s span) has(made string) bool {
	day := made[:min(len(made), len(time.DateOnly))]
	return (s.from == "" || day >= s.from) && (s.to == "" || day <= s.to)
}

// measureDays is what was done between two days, by the clocks of those who recorded it.
func (v *siteView) measureDays(q *question, out *Office) {
	var s span
	now, _ := time.Parse(time.RFC3339, v.now)
	for _, one := range []struct {
		name string
		day  *string
		said *string
	}{{"from", &s.from, &out.From}, {"to", &s.to, &out.To}} {
		text := strings.TrimSpace(q.Fields[one.name])
		if text == "" {
			continue
		}
		d, err := dayOf(text, v.speech.US, now)
		if err != nil {
			out.Fault = fmt.Sprintf("%q: %v", text, err)
			return
		}
		*one.day, *one.said = d.Format(time.DateOnly), dayWords(d, v.speech.US)
	}
	if s.from != "" && s.to != "" && s.from > s.to {
		out.Fault = "the second day comes before the first one"
		return
	}
	out.Measure = v.measured(s)
}

// tally is one line of a measure in the making.
type tally struct {
	name  string
	count int
	long  measure.MM
	along bool // it has a length along the run
	runs  runs
}

// runs are places in laying order, as stretches.
type runs struct {
	text  []string
	first string
	last  string
	next  int // number of the unit that would go on from last
	by    int
}

// add adds the unit of a number, which is laid after the one that was added before it, where step leads from one to the next.
func (r *runs) add(mark string, number, step int) {
	if r.first != "" && number == r.next && step == r.by {
		r.last, r.next = mark, number+step
		return
	}
	r.end()
	r.first, r.last, r.next, r.by = mark, mark, number+step, step
}

func (r *runs) end() {
	if r.first == "" {
		return
	}
	if r.first == r.last {
		r.text = append(r.text, r.first)
	} else {
		r.text = append(r.text, r.first+" to "+r.last)
	}
	r.first = ""
}

func (r *runs) String() string {
	r.end()
	return strings.Join(r.text, ", ")
}

// measured is what stands and was recorded on some days.
func (v *siteView) measured(days span) []OfficeSum {
	in := func(ids []string) bool {
		return slices.ContainsFunc(ids, func(id string) bool { r, ok := v.book.Record(id); return ok && days.has(r.Made) })
	}
	var list []*tally
	at := map[string]*tally{}
	line := func(name string, along bool) *tally {
		if at[name] == nil {
			at[name] = &tally{name: name, along: along}
			list = append(list, at[name])
		}
		return at[name]
	}
	for _, kind := range v.measuredKinds() { // in this order, done or not
		line(kind.name, kind.along)
	}
	for _, i := range v.order {
		step := 1
		if v.fromEnd(i) {
			step = -1
		}
		for _, u := range v.laying(i) {
			one, state := &v.plan.Units[u], v.unitState(v.is(), i, u)
			for _, kind := range v.measuredKinds() {
				if n := kind.done(state, in); n > 0 {
					t := line(kind.name, kind.along)
					t.count += n
					t.long += one.Length
					t.runs.add(one.Mark, u, step)
				}
			}
			for _, l := range state.Layers {
				if l.Placed.Is == field.Yes && in(l.Placed.By) {
					t := line(fmt.Sprintf("%s %d, %s side", v.speech.Word(wording.Layer), l.Number, l.Side), true)
					t.count++
					t.long += one.Length
					t.runs.add(one.Mark, u, step)
				}
			}
		}
	}
	out := []OfficeSum{}
	for _, t := range list {
		if t.count == 0 {
			continue
		}
		s := OfficeSum{Name: t.name, Count: fmt.Sprint(t.count), Where: t.runs.String()}
		if t.along {
			s.Long = v.run(t.long)
		}
		out = append(out, s)
	}
	return append(out, v.cameOn(days)...)
}

type measuredKind struct {
	name  string
	along bool
	done  func(u *field.UnitState, in func([]string) bool) int
}

// measuredKinds are what a measure counts place by place.
func (v *siteView) measuredKinds() []measuredKind {
	w := v.speech.Word
	of := func(kind field.Kind) func(*field.UnitState, func([]string) bool) int {
		return func(u *field.UnitState, in func([]string) bool) int { return one01(in(u.Evidence[kind])) }
	}
	level := func(names ...string) func(*field.UnitState, func([]string) bool) int {
		return func(u *field.UnitState, in func([]string) bool) int {
			for _, l := range u.Levels {
				if slices.Contains(names, l.Of) && (in(l.Said.By) || slices.ContainsFunc(l.Four[:], func(m *field.Measured) bool {
					return m != nil && slices.ContainsFunc(m.Readings, func(r field.Reading) bool { return in([]string{r.By}) })
				})) {
					return 1
				}
			}
			return 0
		}
	}
	return []measuredKind{
		{w(wording.Formation) + " levelled, places", true, level("formation")},
		{w(v.standsOn()) + " levelled, places", true, level("pad", "bed")},
		{w(wording.Units) + " set", true, func(u *field.UnitState, in func([]string) bool) int {
			return one01(u.Set.Is == field.Yes && in(u.Set.By))
		}},
		{"pieces cut", false, of(field.Cut)},
		{"gaps measured", false, of(field.Gap)},
		{"areas handed over", true, of(field.Area)},
		{"covers laid", false, func(u *field.UnitState, in func([]string) bool) int {
			n := 0
			for _, c := range u.Covers {
				n += one01(c.Laid.Is == field.Yes && in(c.Laid.By))
			}
			return n
		}},
	}
}

func one01(is bool) int {
	if is {
		return 1
	}
	return 0
}

// cameOn are the pieces that came on those days.
func (v *siteView) cameOn(days span) []OfficeSum {
	var names []string
	came := map[string]int{}
	for _, r := range v.standing() {
		if r.Kind != field.Delivery || !days.has(r.Made) {
			continue
		}
		if says, ok := told[field.DeliverySays](r); ok {
			for _, l := range says.Lines {
				name := v.pieceName(l.Piece) + " delivered"
				if came[name] == 0 {
					names = append(names, name)
				}
				came[name] += l.Came
			}
		}
	}
	sorting.By(names, cmp.Compare[string])
	out := []OfficeSum{}
	for _, n := range names {
		out = append(out, OfficeSum{Name: n, Count: fmt.Sprint(came[n])})
	}
	return out
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
