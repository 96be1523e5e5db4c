package screen

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"trenchwright/base/sorting"
	"trenchwright/base/wording"
	"trenchwright/job/field"
	"trenchwright/view/recorded"
)

// Day is the daily report, written from what was recorded on a day.
type Day struct {
	Date   string     `json:"date"` // 2026-11-24
	Said   string     `json:"said"` // Tuesday, 24 November 2026
	Days   []DayOf    `json:"days"` // that have records, the latest first
	People []string   `json:"people"`
	Groups []DayGroup `json:"groups"`
	Not    string     `json:"not"` // what a daily report has and nobody recorded
	Photos []string   `json:"photos"`
}

// DayOf is a day with records.
type DayOf struct {
	Date    string `json:"date"`
	Records int    `json:"records"`
}

// DayGroup is one part of the report.
type DayGroup struct {
	Name  string    `json:"name"`
	Lines []DayLine `json:"lines"`
}

// DayLine is one line of it.
type DayLine struct {
	Text string `json:"text"`
	Key  string `json:"key"` // its place; empty: it has none
	By   string `json:"by"`
}

// dayGroups are the parts in the order in which they are read, with the kinds of records that go there.
var dayGroups = [...]struct {
	name  string
	kinds []field.Kind
}{
	{"Deliveries and yard", []field.Kind{field.Delivery, field.Count}},
	{"Services and trial holes", []field.Kind{field.Service, field.TrialHole}},
	{"Work", []field.Kind{field.Set, field.Cut, field.Entry, field.Fabric, field.Layer, field.Part, field.Cover, field.Area}},
	{"Measured and tested", []field.Kind{field.Level, field.Gap, field.Angle, field.Rock, field.LayerTest, field.Bond, field.CoverTest, field.Shot, field.SetUp, field.Check}},
	{"Inspections, notices and releases", []field.Kind{field.Inspection, field.Notice, field.Release}},
	{"Not as it has to be", []field.Kind{field.Damage, field.Nonconforming, field.Repair}},
	{"Weather and shifts", []field.Kind{field.Event}},
	{"Diary, notes and photos", []field.Kind{field.Diary, field.Note, field.Photo, field.Voice}},
}

// day is the report of a day; the last one that has records where none is asked for.
func (v *siteView) day(q *question) Day {
	out := Day{Date: q.Fields["date"], Days: []DayOf{}, People: []string{}, Groups: []DayGroup{}, Photos: []string{}}
	all := v.standing()
	counts := map[string]int{}
	for _, r := range all {
		counts[dayOfRecord(r)]++
	}
	for d, n := range counts {
		out.Days = append(out.Days, DayOf{d, n})
	}
	sorting.By(out.Days, func(a, b DayOf) int { return strings.Compare(b.Date, a.Date) })
	if out.Date == "" && len(out.Days) > 0 {
		out.Date = out.Days[0].Date
	}
	if d, err := time.Parse(time.DateOnly, out.Date); err == nil {
		out.Said = dayWords(d, v.speech.US)
	}
	var of []*field.Record
	for _, r := range all {
		if dayOfRecord(r) == out.Date {
			of = append(of, r)
			for _, p := range r.Photos {
				if !slices.Contains(out.Photos, p) {
					out.Photos = append(out.Photos, p)
				}
			}
		}
	}
	out.People = people(of)
	var not []string
	for _, g := range dayGroups {
		lines := v.dayLines(of, g.kinds)
		if len(lines) > 0 {
			out.Groups = append(out.Groups, DayGroup{g.name, lines})
		} else {
			not = append(not, strings.ToLower(g.name))
		}
	}
	out.Not = strings.Join(append(not, "visitors", "plant on site"), "; ")
	return out
}

func dayOfRecord(r *field.Record) string { return r.Made[:min(len(r.Made), len(time.DateOnly))] }

// people are who recorded something, from when to when.
func people(of []*field.Record) []string {
	type one struct {
		name, first, last string
		n                 int
	}
	var list []*one
	for _, r := range of {
		name := joined(", ", r.Person, r.Role)
		i := slices.IndexFunc(list, func(o *one) bool { return o.name == name })
		if i < 0 {
			i = len(list)
			list = append(list, &one{name: name, first: hourIn(r.Made)})
		}
		list[i].last = hourIn(r.Made)
		list[i].n++
	}
	out := []string{}
	for _, o := range list {
		at := o.first
		if o.last != o.first {
			at += " to " + o.last
		}
		out = append(out, fmt.Sprintf("%s: %s, %s", cmp.Or(o.name, "nobody named"), cmp.Or(at, "no hour"), count(o.n, "record", "records")))
	}
	return out
}

func hourIn(made string) string {
	_, hour, _ := strings.Cut(made, "T")
	return hour[:min(5, len(hour))]
}

// dayLines are the records of some kinds: those of the same kind with nothing else to tell are one line with their stretches.
func (v *siteView) dayLines(of []*field.Record, kinds []field.Kind) []DayLine {
	type alike struct {
		what  string
		by    []string
		units map[int]bool
	}
	var list []*alike
	out := []DayLine{}
	for _, r := range of {
		if !slices.Contains(kinds, r.Kind) {
			continue
		}
		what, along := v.alikeAs(r)
		leg, first, last, ok := v.stretch(r)
		if !along || !ok || r.Text != "" {
			out = append(out, DayLine{v.saying().Sentence(r), v.siteKey(r.From), v.whose(r.ID)})
			continue
		}
		i := slices.IndexFunc(list, func(a *alike) bool { return a.what == what })
		if i < 0 {
			i = len(list)
			list = append(list, &alike{what: what, units: map[int]bool{}})
		}
		if who := r.Person; !slices.Contains(list[i].by, who) {
			list[i].by = append(list[i].by, who)
		}
		for u := first; u <= last; u++ {
			list[i].units[v.first[leg]+u] = true
		}
	}
	lines := []DayLine{}
	for _, a := range list {
		var where runs
		key := ""
		for _, leg := range v.order {
			step := 1
			if v.fromEnd(leg) {
				step = -1
			}
			for _, u := range v.laying(leg) {
				if a.units[u] {
					where.add(v.plan.Units[u].Mark, u, step)
					key = cmp.Or(key, "unit/"+v.plan.Units[u].Mark)
				}
			}
		}
		lines = append(lines, DayLine{fmt.Sprintf("%s: %s (%s)", a.what, where.String(), count(len(a.units), "place", "places")), key, strings.Join(a.by, ", ")})
	}
	return append(lines, out...)
}

// alikeAs is what a record is told as together with others of its sort; false: it is told by itself.
func (v *siteView) alikeAs(r *field.Record) (string, bool) {
	switch r.Kind {
	case field.Set:
		if s, ok := field.SaysOf[field.SetSays](r); ok {
			switch {
			case s.Lifted:
				return "taken out again", true
			case len(s.Off) > 0:
				return "set, far ends measured", true
			}
			return "set", true
		}
	case field.Gap:
		return "gaps measured", true
	case field.Level:
		if s, ok := field.SaysOf[field.LevelSays](r); ok && (s.Within == nil || *s.Within) {
			return v.saying().Level(s.Of) + " levelled", true
		}
	case field.Layer:
		if s, ok := field.SaysOf[field.LayerSays](r); ok {
			return fmt.Sprintf("%s placed, %s", v.layerName(s.Number), recorded.Sides(s.Side)), true
		}
	case field.LayerTest:
		if s, ok := field.SaysOf[field.TestSays](r); ok && s.Met != nil && *s.Met {
			return fmt.Sprintf("%s tested, %s: meets the stated figure", v.layerName(s.Number), recorded.Sides(s.Side)), true
		}
	case field.Cover:
		if s, ok := field.SaysOf[field.CoverSays](r); ok && len(s.Missing) == 0 {
			return "covers " + s.Done, true
		}
	case field.Fabric:
		return "fabric laid", true
	}
	return "", false
}

// stretch are the units that a record is about, as numbers of their leg; false: it is about none.
func (v *siteView) stretch(r *field.Record) (leg, first, last int, ok bool) {
	number := func(place string) (int, bool) {
		place, _, _ = strings.Cut(place, "/")
		if _, known := v.unitAt[place]; !known {
			place, _, _ = strings.Cut(place, ".")
		}
		u, known := v.unitAt[place]
		return u, known
	}
	a, ok := number(r.From)
	if !ok {
		return 0, 0, 0, false
	}
	b := a
	if r.To != "" {
		if b, ok = number(r.To); !ok || v.plan.Units[b].Leg != v.plan.Units[a].Leg {
			return 0, 0, 0, false
		}
	}
	leg = v.legs[v.plan.Units[a].Leg]
	return leg, min(a, b) - v.first[leg], max(a, b) - v.first[leg], true
}

func (v *siteView) layerName(n int) string {
	return fmt.Sprintf("%s %d", v.speech.Word(wording.Layer), n)
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
