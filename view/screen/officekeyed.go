package screen

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"trenchwright/base/measure"
	"trenchwright/job/field"
)

// Keyed is a day card as it was keyed in and understood. Nothing is kept by it.
type Keyed struct {
	Head []Echo     `json:"head"` // of what stands on top of the card
	Made string     `json:"made"` // when the card says that it was written, without its zone; empty: not said yet
	Rows []KeyedRow `json:"rows"`
	Said string     `json:"said"` // what would be kept: 28 places, 83 records; 2 are odd
	Full bool       `json:"full"` // it can be kept as it stands

	Records []string `json:"records"` // of the card as a whole, as JSON, without who made them and when
}

// KeyedRow is one row of it.
type KeyedRow struct {
	Place   string   `json:"place"`
	Echo    []Echo   `json:"echo"`    // by the names of the boxes
	Words   string   `json:"words"`   // the row as it was understood
	Odd     []string `json:"odd"`     // what to look at: it is kept all the same
	Missing string   `json:"missing"` // why it cannot be kept yet
	Records []string `json:"records"` // as JSON, without who made them and when
}

// setWithin are the ways to say that a unit is set, with nothing measured: the first is next to the figures of a keyboard.
var setWithin = [...]string{".", "w", "set", "within"}

// asLeft is typed into the box of the right wall where it reads as the left one.
const asLeft = "="

// keyed reads the rows of a day card: each becomes the records that whoever wrote it would have made on a phone.
func (v *siteView) keyed(q *question) Keyed {
	out := Keyed{Head: []Echo{}, Rows: []KeyedRow{}, Records: []string{}}
	v.top(q, &out)
	bad := false
	for _, e := range out.Head {
		bad = bad || e.Fault != ""
	}
	records, places, odd := 0, 0, 0
	if text := strings.TrimSpace(q.Fields["remarks"]); text != "" {
		if h := v.hear(&question{Form: "diary", Text: text, Photos: q.Photos}); h.Record != "" {
			out.Records, records = append(out.Records, h.Record), 1
		}
	}
	before := ""
	for _, row := range q.Rows {
		r := v.row(q, row, before)
		if len(r.Records) > 0 {
			places, before = places+1, r.Place
		}
		if len(r.Odd) > 0 {
			odd++
		}
		bad = bad || r.Missing != ""
		records += len(r.Records)
		out.Rows = append(out.Rows, r)
	}
	out.Full = records > 0 && !bad && out.Made != "" && strings.TrimSpace(q.Fields["person"]) != ""
	if records > 0 {
		out.Said = count(places, "place", "places") + ", " + count(records, "record", "records")
		if odd > 0 {
			out.Said += "; look at " + count(odd, "odd row", "odd rows")
		}
	}
	return out
}

// top reads what stands on top of a card; days of the instrument go on as records have them.
func (v *siteView) top(q *question, out *Keyed) {
	say := func(name, text string, err error) {
		e := Echo{Name: name, Text: text}
		if err != nil {
			e.Text, e.Fault = "", err.Error()
		}
		out.Head = append(out.Head, e)
	}
	now, _ := time.Parse(time.RFC3339, cmp.Or(q.Now, v.now))
	day, dayFault := time.Time{}, error(nil)
	if text := strings.TrimSpace(q.Fields["date"]); text != "" {
		day, dayFault = dayOf(text, v.speech.US, now)
		text = dayWords(day, v.speech.US)
		if dayFault == nil && !now.IsZero() && day.After(now.AddDate(0, 0, 1)) {
			text += ": that is still to come"
		}
		say("date", text, dayFault)
	}
	at, atFault := time.Time{}, error(nil)
	if text := strings.TrimSpace(q.Fields["time"]); text != "" {
		at, atFault = hourOf(text)
		say("time", at.Format("15:04"), atFault)
	}
	if !day.IsZero() && q.Fields["time"] != "" && dayFault == nil && atFault == nil {
		out.Made = day.Format(time.DateOnly) + at.Format("T15:04:05")
	}
	for _, d := range []struct {
		name string
		is   *string
		upto time.Time // without a year it is the last such day up to then
	}{{"checked", &q.Checked, now}, {"due", &q.Due, now.AddDate(1, 0, -1)}} {
		if text := strings.TrimSpace(*d.is); text != "" {
			on, err := dayOf(text, v.speech.US, d.upto)
			if err == nil {
				*d.is = on.Format(time.DateOnly)
			}
			say(d.name, dayWords(on, v.speech.US), err)
		}
	}
	if text := strings.TrimSpace(q.Height); text != "" {
		r, err := measure.ParseIn(text, v.levelUnit())
		say("height", v.levelText(r.Length.Metres()), err)
	}
}

// row reads one row.
func (v *siteView) row(q *question, row map[string]string, before string) KeyedRow {
	place := strings.TrimSpace(row["place"])
	k := keyedRow{siteView: v, q: q, row: row, out: KeyedRow{Place: place, Echo: []Echo{}, Odd: []string{}, Records: []string{}}}
	u, ok := v.unitAt[place]
	if !ok {
		k.out.Missing = fmt.Sprintf("there is no place %q on this run", place)
		return k.out
	}
	k.leg, k.unit = v.legs[v.plan.Units[u].Leg], u
	k.set()
	k.line()
	k.gap()
	k.level()
	k.corners()
	k.covers()
	k.odd(before)
	k.out.Words = strings.Join(k.words, " · ")
	if k.out.Missing != "" {
		k.out.Records = []string{}
	}
	return k.out
}

type keyedRow struct {
	*siteView
	q         *question
	row       map[string]string
	leg, unit int
	words     []string
	held      []string // what the record that was heard last is held against
	off       *measure.Length
	lies      bool // the row says that the unit is set
	out       KeyedRow
}

func (k *keyedRow) typed(name string) string { return strings.TrimSpace(k.row[name]) }

// ask has one record heard as if it came from a form, under the name of the box for each of its fields.
func (k *keyedRow) ask(q question, boxes map[string]string) {
	q.Instrument, q.Checked, q.Certified, q.Due, q.Plus, q.Photos = k.q.Instrument, k.q.Checked, k.q.Certified, k.q.Due, k.q.Plus, k.q.Photos
	h := k.hear(&q)
	for _, e := range h.Echo {
		e.Name = boxes[e.Name]
		k.out.Echo = append(k.out.Echo, e)
		if e.Fault != "" {
			k.miss(e.Fault)
		}
	}
	for _, t := range h.Missing {
		k.miss("still missing: " + t)
	}
	k.held = k.held[:0]
	for _, t := range h.Warn {
		if strings.HasPrefix(t, "NOT CHECKED") { // the head of the grid says that once
			continue
		}
		t = strings.TrimPrefix(strings.TrimSuffix(t, "."), q.From+": ")
		if strings.Contains(t, doesNotMeet) {
			if q.Form == "gap" {
				t = "the gap, " + t
			}
			k.say(t)
		} else {
			k.held = append(k.held, strings.TrimPrefix(strings.TrimPrefix(t, "At its end: "), "At its start: "))
		}
	}
	if h.Record != "" {
		k.out.Records = append(k.out.Records, h.Record)
	}
}

func (k *keyedRow) miss(text string) {
	if k.out.Missing == "" {
		k.out.Missing = text
	}
}

func (k *keyedRow) say(text string) { k.out.Odd = append(k.out.Odd, text) }

// set is that the unit lies, with where its far end is, or that nothing was measured.
func (k *keyedRow) set() {
	text := k.typed("off")
	if text == "" {
		return
	}
	k.lies = true
	for _, w := range setWithin {
		if strings.EqualFold(text, w) {
			k.words = append(k.words, "set, within")
			k.out.Echo = append(k.out.Echo, Echo{Name: "off", Text: "set, within"})
			k.ask(question{Form: "set", From: k.out.Place, Fields: map[string]string{"within": "all within"}}, nil)
			return
		}
	}
	n := len(k.out.Echo)
	k.ask(question{Form: "set", From: k.out.Place, Rows: []map[string]string{{"place": k.out.Place, "by": text}}}, map[string]string{"0.by": "off"})
	if len(k.out.Echo) > n && k.out.Echo[n].Fault == "" {
		k.words = append(k.words, "far end "+strings.TrimSuffix(k.out.Echo[n].Text, " of its place"))
		k.off = k.length(text)
		if tol := k.job.Rules.EndTol; tol.Known && k.off != nil {
			if verdict := k.verdict(k.off.Abs(), *orNought(k.length(k.q.Plus)), tol); strings.Contains(verdict, doesNotMeet) {
				k.say("far end " + k.speech.Built(k.off.Abs()) + verdict)
			} else {
				k.words[len(k.words)-1] += verdict
			}
		}
	}
}

// length is a length that was heard already.
func (k *keyedRow) length(text string) *measure.Length {
	unit := measure.UnitMillimetre
	if k.speech.Imperial {
		unit = measure.UnitInch
	}
	r, err := measure.ParseIn(text, unit)
	if err != nil {
		return nil
	}
	return &r.Length
}

// gap is the gap at the far end, at both walls or at the one that was read.
func (k *keyedRow) gap() {
	left, right := k.typed("left"), k.typed("right")
	if left == "" && right == "" {
		return
	}
	if right == asLeft {
		right = left
	}
	j := k.farJoint(k.leg, k.unit)
	if j == nil {
		k.miss("no unit follows here, so there is no gap")
		return
	}
	n := len(k.out.Echo)
	k.ask(question{Form: "gap", From: j.Name, Fields: map[string]string{"left": left, "right": right}}, map[string]string{"left": "left", "right": "right"})
	k.held = slices.DeleteFunc(k.held, func(t string) bool { return strings.HasSuffix(t, " is kept") })
	said := []string{}
	for _, e := range k.out.Echo[n:] {
		if e.Fault != "" {
			return
		}
		if right != left {
			e.Text += " " + e.Name
		}
		said = append(said, e.Text)
	}
	if right == left && len(said) == 2 {
		said = said[:1]
	}
	for wall, text := range map[string]string{"left": left, "right": right} {
		if text == "" {
			said = append(said, wall+" wall not read")
		}
	}
	k.words = append(k.words, joined(", ", "gap "+strings.Join(said, ", "), strings.Join(k.held, ", ")))
}

// level is the level at the far end.
func (k *keyedRow) level() {
	text := k.typed("level")
	if text == "" {
		return
	}
	of := k.levelOf(k.q.Fields["of"])
	form := of
	if of == "bed" {
		form = "pad"
	}
	end := "end"
	if k.fromEnd(k.leg) {
		end = "start" // of the unit, along its leg
	}
	end += " left" // the card has one box, for the left
	n := len(k.out.Echo)
	k.ask(question{Form: form, From: k.out.Place, Height: k.q.Height, Fields: map[string]string{"one": text, "end": end}}, map[string]string{"one": "level"})
	if len(k.out.Echo) > n && k.out.Echo[n].Fault == "" {
		k.words = append(k.words, joined(": ", k.out.Echo[n].Text, strings.Join(k.held, ", ")))
	}
}

// line is how far the unit is off its line.
func (k *keyedRow) line() {
	text := k.typed("line")
	if text == "" {
		return
	}
	n := len(k.out.Echo)
	k.ask(question{Form: "figures", From: k.out.Place, Fields: map[string]string{"line": text}}, map[string]string{"line": "line"})
	if len(k.out.Echo) > n && k.out.Echo[n].Fault == "" {
		k.words = append(k.words, k.out.Echo[n].Text)
	}
}

// corners are the levels of what the unit stands on, those of its four corners that were read.
func (k *keyedRow) corners() {
	fields, boxes, typed := map[string]string{}, map[string]string{}, false
	for i, box := range cornerBox {
		form := cornerBox[k.atCorner(k.leg, i)]
		fields[form], boxes[form] = k.typed(box), box
		typed = typed || fields[form] != ""
	}
	if !typed {
		return
	}
	n := len(k.out.Echo)
	k.ask(question{Form: "pad", From: k.out.Place, Height: k.q.Height, Fields: fields}, boxes)
	for _, e := range k.out.Echo[n:] {
		if e.Fault != "" {
			return
		}
	}
	k.words = append(k.words, joined(": ", k.speech.Word(k.standsOn())+", "+count(len(k.out.Echo)-n, "corner", "corners"), strings.Join(k.held, ", ")))
}

// covers are the covers of the unit that lie: all of them, or all but those whose numbers stand behind a minus.
func (k *keyedRow) covers() {
	text := k.typed("covers")
	if text == "" {
		return
	}
	names := k.unitState(k.is(), k.leg, k.unit).Covers
	var rows []map[string]string
	all := slices.ContainsFunc(setWithin[:], func(w string) bool { return strings.EqualFold(text, w) }) || strings.EqualFold(text, "all")
	if rest, but := strings.CutPrefix(strings.Replace(text, "−", "-", 1), "-"); but {
		for _, n := range strings.FieldsFunc(rest, func(r rune) bool { return r == ',' || r == ' ' }) {
			at, err := strconv.Atoi(n)
			if all = err == nil && at >= 1 && at <= len(names); !all {
				break
			}
			rows = append(rows, map[string]string{"place": names[at-1].Place})
		}
	}
	if !all {
		k.out.Echo = append(k.out.Echo, Echo{Name: "covers", Fault: "no cover"})
		k.miss(fmt.Sprintf("covers: %q cannot be read; write . where all %d lie, or -2 where all but the second do", text, len(names)))
		return
	}
	k.ask(question{Form: "cover", From: k.out.Place, Rows: rows}, nil)
	k.words = append(k.words, count(len(names)-len(rows), "cover", "covers")+" laid")
}

// odd says what is odd about a row that can be read.
func (k *keyedRow) odd(before string) {
	s := k.unitState(k.is(), k.leg, k.unit)
	if k.lies && s.Set.Is == field.Yes {
		k.say("recorded as set already: this stands beside it as the later record")
	}
	if j := k.farJoint(k.leg, k.unit); k.off != nil && j != nil && j.GapMax > j.GapMin && k.off.Abs() > measure.Length(j.GapMax) {
		k.say("off by more than its whole gap may be wide, " + k.small(j.GapMax) + ": was it typed in another unit?")
	}
	if (k.typed("left") != "" || k.typed("level") != "" && k.levelOf(k.q.Fields["of"]) == "wall") && !k.lies && s.Set.Is != field.Yes {
		k.say("measured, but nothing says that it is set")
	}
	if back := k.behind(); k.lies && back != "" && back != before {
		if u := k.unitAt[back]; k.unitState(k.is(), k.leg, u).Set.Is == field.No {
			k.say(back + ", which is laid before it, is not recorded as set")
		}
	}
}

// behind is the place that is laid before this one; empty: this is the first.
func (k *keyedRow) behind() string {
	u := k.unit - 1
	if k.fromEnd(k.leg) {
		u = k.unit + 1
	}
	if u < k.first[k.leg] || u >= k.first[k.leg+1] {
		return ""
	}
	return k.plan.Units[u].Mark
}

// dayOf reads a day as people of either side of the ocean write it. Without a year it is the last such day up to now.
func dayOf(text string, us bool, now time.Time) (time.Time, error) {
	forms := []string{time.DateOnly, "2 Jan 2006", "2 January 2006", "Jan 2 2006", "January 2 2006", "2.1.2006", "2/1/2006", "2/1/06"}
	short := []string{"2 Jan", "2 January", "Jan 2", "January 2", "2.1.", "2.1", "2/1"}
	if us {
		forms[len(forms)-2], forms[len(forms)-1], short[len(short)-1] = "1/2/2006", "1/2/06", "1/2"
	}
	text = strings.Join(strings.Fields(strings.ReplaceAll(text, ",", " ")), " ")
	for _, f := range forms {
		if d, err := time.Parse(f, text); err == nil {
			return d, nil
		}
	}
	for _, f := range short {
		d, err := time.Parse(f+" 2006", fmt.Sprintf("%s %d", text, now.Year()))
		if err != nil || now.IsZero() {
			continue
		}
		if d.After(now) {
			d = d.AddDate(-1, 0, 0)
		}
		return d, nil
	}
	return time.Time{}, errors.New("no day can be read from this; write for example 2026-11-26")
}

func dayWords(d time.Time, us bool) string {
	if d.IsZero() {
		return ""
	}
	if us {
		return d.Format("Monday, January 2, 2006")
	}
	return d.Format("Monday, 2 January 2006")
}

func hourOf(text string) (time.Time, error) {
	for _, f := range []string{"15:04", "15.04", "1504", "3:04 pm", "3:04pm", "3 pm", "3pm", "15"} {
		if t, err := time.Parse(f, strings.ToLower(text)); err == nil {
			return t, nil
		}
	}
	return time.Time{}, errors.New("no time of day can be read from this; write for example 16:30")
}
