package papers

import (
	"fmt"
	"strings"
	"time"

	"trenchwright/base/finding"
	"trenchwright/job/field"
	"trenchwright/view/recorded"
)

const formDay = "UFGS 01 45 00 (quality control, documentation), its list, as read"

// day is the report of one day.
func (m *maker) day() ([]Paper, error) {
	if _, err := time.Parse("2006-01-02", m.Day); err != nil {
		return nil, fmt.Errorf("%q is no day; write for example 2026-11-27", m.Day)
	}
	d := m.book.Day(m.Day, "", "", m.saying().Said)
	p := m.paper(m.Day, m.Day)
	head := Part{Title: "Day", Form: formDay, Notes: []string{"which record is of this day is what the clock of its device said"}, Lines: []Line{{"day", m.Day, "as asked for"}, {"records of it", number(d.Records), fromRecords}}}
	weather := Line{Name: "weather, events", Is: ""}
	for _, s := range d.Stages {
		for _, l := range s.Lines {
			if r, ok := m.book.Record(l.By); ok && (r.Kind == field.Event || r.Kind == field.Diary) && !l.Gone {
				weather.Is, weather.From = strung("; ", weather.Is, l.Text), strung("; ", weather.From, recorded.By(&r))
			}
		}
	}
	if weather.Is != "" {
		head.Lines = append(head.Lines, weather)
	}
	head.Lines = append(head.Lines, blanks("weather, morning and afternoon", "begin and end of work")...)
	people := Part{Title: "People and instruments", Form: formDay, From: fromRecords, Heads: []Head{{Name: "who, or what", Wide: 5}, {Name: "post; last check", Wide: 4}, {Name: "records", Wide: 2}, {Name: "hours", Wide: 2, Fill: true}}}
	for _, o := range d.People {
		people.Rows = append(people.Rows, []string{o.Name, o.Of, number(o.Records), ""})
	}
	for _, o := range d.Instruments {
		checked := "no check of it on record"
		if o.Of != "" {
			checked = "checked " + o.Of
		}
		people.Rows = append(people.Rows, []string{o.Name, checked, number(o.Records), ""})
	}
	for range 2 {
		people.Rows = append(people.Rows, []string{"", "", "", ""})
	}
	people.Heads[0].Fill, people.Heads[1].Fill = true, true
	parts := []Part{head, people}
	for _, s := range d.Stages {
		part := Part{Title: "Done: " + s.Stage, Form: formDay, From: fromRecords, Heads: []Head{{Name: "time", Wide: 1}, {Name: "where", Wide: 2.5}, {Name: "what", Wide: 7}, {Name: "by", Wide: 3}}}
		for _, l := range s.Lines {
			what := l.Text
			if l.Gone {
				what += " (corrected by a later record)"
			}
			part.Rows = append(part.Rows, []string{l.Time, l.Where, what, l.Person})
		}
		parts = append(parts, part)
	}
	if len(d.Stages) == 0 {
		parts = append(parts, Part{Title: "Done", Form: formDay, Notes: []string{"nothing recorded on this day"}, Lines: blanks("work, where, by whom")})
	}
	parts = append(parts, m.openOfDay(), Part{Title: "Written by hand", Form: formDay, Lines: append(blanks("plant at work, idle, broken", "came, and sent back", "delays, and why", "visitors", "instructions given and taken", "accidents, near misses", "for tomorrow"), Line{Name: "photos", Is: photos(d.Photos), From: orNothing(len(d.Photos) > 0, fromRecords)})},
		Part{Title: "Signed", Form: formDay, Sign: []string{"written by", "seen by"}})
	return []Paper{m.done(p, parts...)}, nil
}

func photos(list []string) string {
	if len(list) == 0 {
		return ""
	}
	var short []string
	for _, p := range list {
		short = append(short, p[:min(12, len(p))])
	}
	return counted(len(list), "photo", "photos") + ", by the first letters of their SHA-256: " + strings.Join(short, ", ")
}

func orNothing(is bool, text string) string {
	if is {
		return text
	}
	return ""
}

// openOfDay is what was found of the day that does not meet its figure.
func (m *maker) openOfDay() Part {
	part := Part{Title: "Of that open", Form: formDay, From: fromRecords, Heads: []Head{{Name: "where", Wide: 3}, {Name: "what", Wide: 8}, {Name: "verdict", Wide: 3}}}
	for _, h := range field.Open(m.book.Held(m.asks)) {
		for _, id := range h.By {
			if r, ok := m.book.Record(id); ok && strings.HasPrefix(r.Made, m.Day) && h.Verdict != string(finding.Meets) {
				part.Rows = append(part.Rows, []string{h.Place, h.Say(m.sized), h.Verdict})
				break
			}
		}
	}
	for _, r := range m.book.Standing(field.Nonconforming, field.Damage) {
		if strings.HasPrefix(r.Made, m.Day) {
			part.Rows = append(part.Rows, []string{strung(" to ", r.From, r.To), m.saying().Said(&r), "open until it is closed"})
		}
	}
	if len(part.Rows) == 0 {
		part.Heads, part.Notes = nil, []string{"nothing recorded here"}
	}
	return part
}
