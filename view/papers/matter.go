package papers

import (
	"cmp"
	"fmt"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/job/field"
	"trenchwright/view/recorded"
)

const formMatter = "ISO 9001:2015, 8.7.2 (what is kept of a nonconformity, from memory); the order from " + fromJob

// matter is one nonconformance, from its records.
func (m *maker) matter() ([]Paper, error) {
	type said struct {
		r field.Record
		s field.MatterSays
	}
	var found, repairs []said
	var known []string
	for _, r := range m.book.Standing(field.Nonconforming, field.Repair) {
		s, ok := field.SaysOf[field.MatterSays](&r)
		if !ok {
			continue
		}
		known = appendOnce(known, s.Number)
		switch {
		case s.Number != m.Number:
		case r.Kind == field.Nonconforming:
			found = append(found, said{r, s})
		default:
			repairs = append(repairs, said{r, s})
		}
	}
	if len(found)+len(repairs) == 0 {
		if len(known) == 0 {
			return nil, fmt.Errorf("there is no nonconformance %q on record, nor any other", m.Number)
		}
		return nil, fmt.Errorf("there is no nonconformance %q on record; there are %s", m.Number, strings.Join(known, ", "))
	}
	p := m.paper(m.Number, m.Number)
	head := Part{Title: "What is not as it has to be", Form: formMatter, Lines: []Line{{"number", m.Number, fromRecords}}}
	held := Part{Title: "Measured there, and its limit", Form: formMatter, Heads: []Head{{Name: "place", Wide: 2}, {Name: "what, with its limit", Wide: 8}, {Name: "verdict", Wide: 3}, {Name: "from", Wide: 4}}}
	decided := Part{Title: "Decided", Form: formMatter}
	for _, one := range found {
		by := recorded.By(&one.r)
		head.Lines = append(head.Lines, Line{"place", cmp.Or(strung(" to ", one.r.From, one.r.To), "no place on record"), by}, Line{"what was found", strung(": ", one.s.What, one.r.Text), by}, required(&one.r, by))
		if n := len(one.r.Photos); n > 0 {
			head.Lines = append(head.Lines, Line{"photos", photos(one.r.Photos), by})
		}
		if one.s.Answer != "" || one.s.By != "" {
			decided.Lines = append(decided.Lines, Line{"decided by", strung(": ", one.s.By, one.s.Answer), by})
		}
		for _, h := range m.book.HeldAt(m.asks, one.r.From) {
			if h.Verdict != string(finding.Meets) {
				held.Rows = append(held.Rows, []string{h.Place, h.Say(m.sized), h.Verdict, m.bySeveral(h.By)})
			}
		}
	}
	if len(held.Rows) == 0 {
		held.Heads, held.Notes = nil, []string{"nothing recorded here that is not within its limit"}
	}
	decided.Lines = append(decided.Lines, blanks("left as it is, repaired, taken out, sent back", "procedure, by the supplier or the engineer", "use meanwhile: who keeps it out of use")...)
	repair := Part{Title: "Done about it", Form: formMatter, Heads: []Head{{Name: "what", Wide: 6}, {Name: "decided by", Wide: 3}, {Name: "from", Wide: 5}}}
	for _, one := range repairs {
		repair.Rows = append(repair.Rows, []string{strung(": ", one.s.What, one.r.Text), strung(": ", one.s.By, one.s.Answer), recorded.By(&one.r)})
	}
	if len(repair.Rows) == 0 {
		repair.Heads, repair.Notes = nil, []string{"nothing recorded here"}
		repair.Lines = blanks("done, by whom, when")
	}
	return []Paper{m.done(p, head, held, decided, repair, m.closing())}, nil
}

// required is what a record was held against, as whoever wrote it had it.
func required(r *field.Record, by string) Line {
	if r.Rule == "" {
		return Line{Name: "what is asked for, and where it is written", Is: none("word on what it was held against", "whoever found it")}
	}
	return Line{"what is asked for, and where it is written", r.Rule, by}
}

// closing is whether the matter is closed, and who signs for it.
func (m *maker) closing() Part {
	is := Line{"by the records", "open", fromRecords}
	for _, s := range m.state.Matters {
		if s.Number == m.Number && s.Closed.Is == field.Yes {
			is = Line{"by the records", "closed", m.bySeveral(s.Closed.By)}
		}
	}
	return Part{Title: "Closed", Form: formMatter, Notes: []string{"a crack at an insert or a bearing, bared steel, or a bearing lost: out of use until the engineer has answered"}, Lines: append([]Line{is}, blanks("why it came about, and what keeps it from coming again")...),
		Sign: []string{"found by", "decided by, with authority", "looked at again by"}}
}
