package papers

import (
	"cmp"
	"fmt"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/view/recorded"
)

const formQuestion = fromJob + "; one matter on one sheet, common practice"

// spot is the place that is asked for.
func (m *maker) spot() (planner.Spot, error) {
	if m.Place == "" {
		return planner.Spot{}, fmt.Errorf("a paper of this kind is of one place: say which, such as a unit, a joint or a chainage")
	}
	if m.Answers == nil {
		return planner.Spot{}, fmt.Errorf("a plan that was read cannot be asked at a place; plan its job")
	}
	return m.Answers.Find(m.Place, m.Leg)
}

// where are the lines of a place: its name, its leg and chainage, its coordinates, its levels.
func (m *maker) where(s planner.Spot, d planner.DepthAnswer) []Line {
	name := s.Name
	if name == "" {
		name = "leg " + d.Place.Leg
	}
	out := []Line{{"place", name, fromPlan}, {"leg, " + m.word(wording.Chainage), d.Place.Leg + ", " + m.chainage(d.Place.Chainage), fromPlan},
		{"easting, northing", m.level(d.E) + ", " + m.level(d.N) + "; " + m.Plan.Job.Grid, fromPlan}}
	if d.Unit != "" {
		out = append(out, Line{m.word(wording.Unit), d.Unit + " of supply " + d.Supply, fromPlan})
	}
	return append(out, m.levelsOf(&d.Levels)...)
}

// levelsOf are the levels of a place that are known.
func (m *maker) levelsOf(l *planner.Levels) []Line {
	var out []Line
	for _, one := range []struct {
		name string
		at   *float64
	}{{"level of the ground", l.Existing}, {"level of the wall top", l.Wall}, {"level of the invert", l.Invert}, {"level of the underside", l.Underside}, {"level of the " + m.word(wording.Formation), l.Formation}} {
		if one.at != nil {
			out = append(out, Line{one.name, m.level(*one.at) + " above " + m.Plan.Job.HeightDatum, fromPlan})
		}
	}
	if len(out) == 0 {
		return []Line{{"levels", none("level at this place (none was solved)", "whoever plans the levels"), ""}}
	}
	return out
}

// question is a request for information, pinned to a place.
func (m *maker) question() ([]Paper, error) {
	s, err := m.spot()
	if err != nil {
		return nil, err
	}
	d := m.Answers.Depth(s)
	where := m.where(s, d)
	p := m.paper(strung("-", m.Number, where[0].Is), strung(", ", m.Number, where[0].Is))
	head := Part{Title: "Request", Form: formQuestion, Lines: []Line{given("number", m.Number), {Name: "day"}, {Name: "to, from"}, {Name: "subject, one only"}}}
	asked := Part{Title: "What is asked", Form: formQuestion, Lines: []Line{given("question", m.Ask)}}
	if m.Ask == "" {
		asked.Lines = append(asked.Lines, blanks("", "")...)
	}
	known := Part{Title: "What is known here", Form: fromJob, Heads: []Head{{Name: "what", Wide: 7}, {Name: "figure", Wide: 2.4}, {Name: "limit", Wide: 2.4}, {Name: "who could say", Wide: 3}, {Name: "from", Wide: 3}}}
	for _, f := range d.Findings {
		known.Rows = append(known.Rows, []string{f.Text, f.Value, f.Limit, f.Ask, strung(", ", "finding "+f.ID, f.Rule)})
	}
	for _, r := range m.recordsAt(s, field.Service, field.TrialHole, field.Nonconforming, field.Damage, field.Note, field.Angle, field.Photo) {
		known.Rows = append(known.Rows, []string{m.saying().Said(&r), "", "", "", recorded.By(&r)})
	}
	for _, n := range d.NotChecked {
		known.Rows = append(known.Rows, []string{n, "", "", "", fromPlan})
	}
	if len(known.Rows) == 0 {
		known.Heads, known.Notes = nil, []string{"nothing recorded here"}
	}
	proposed := Part{Title: "What the asker proposes", Form: formQuestion, Lines: blanks("proposed answer", "what it does to cost and time")}
	for _, f := range d.Findings {
		if f.Try != "" {
			proposed.Notes = appendOnce(proposed.Notes, "could be tried: "+f.Try)
		}
	}
	answer := Part{Title: "Answer", Form: formQuestion, Notes: []string{"an answer orders no extra work: that takes an order of its own"}, Lines: append(m.wanted(d.Place.Leg), blanks("answer", "", "drawing or document that changes with it")...), Sign: []string{"asked by", "answered by"}}
	return []Paper{m.done(p, head, Part{Title: "Where", Form: formQuestion, Lines: where}, asked, known, m.drawings(d.Supply), proposed, answer)}, nil
}

// given is a line of what the asker typed; blank where they did not.
func given(name, is string) Line {
	if is == "" {
		return Line{Name: name}
	}
	return Line{name, is, "as asked for"}
}

// recordsAt are records of some kinds that are of a place, or of a stretch that it is on.
func (m *maker) recordsAt(s planner.Spot, kinds ...field.Kind) []field.Record {
	names := []string{s.Name}
	leg := m.Plan.Legs[s.Leg].Name
	for i := range m.Plan.Units {
		if u := &m.Plan.Units[i]; u.Leg == leg && measure.Length(u.Chainage) <= s.At && s.At <= measure.Length(u.Chainage+u.Length) {
			names = append(names, u.Mark)
		}
	}
	var out []field.Record
	for _, r := range m.book.Standing(kinds...) {
		near := false
		if says, ok := field.SaysOf[field.ServiceSays](&r); ok && (r.Kind == field.Service || r.Kind == field.TrialHole) {
			near = says.Leg == leg && (says.At-s.At).Abs() <= 5*measure.Metre
		}
		if near || m.covers(&r, names) {
			out = append(out, r)
		}
	}
	return out
}

// covers tells whether a record is of one of some places, or of a stretch of a leg that one of them is on.
func (m *maker) covers(r *field.Record, names []string) bool {
	if slices.Contains(names, r.From) || slices.Contains(names, r.To) {
		return r.From != ""
	}
	if r.To == "" {
		return false
	}
	from := slices.IndexFunc(m.Plan.Units, func(u planner.Unit) bool { return u.Mark == r.From })
	to := slices.IndexFunc(m.Plan.Units, func(u planner.Unit) bool { return u.Mark == r.To })
	for i := max(0, from); from >= 0 && i <= to; i++ {
		if slices.Contains(names, m.Plan.Units[i].Mark) {
			return true
		}
	}
	return false
}

// drawings are the documents that concern a place: those of its supply, of rules, dig and checks.
func (m *maker) drawings(supply string) Part {
	part := Part{Title: "Drawings and documents concerned", Form: fromJob, Heads: []Head{{Name: "document", Wide: 6}, {Name: "for", Wide: 4}}, From: "the job, documents"}
	add := func(id, what string) {
		if id == "" {
			return
		}
		for i := range part.Rows {
			if part.Rows[i][0] == m.document(id) {
				part.Rows[i][1] = strung(", ", part.Rows[i][1], what)
				return
			}
		}
		part.Rows = append(part.Rows, []string{m.document(id), what})
	}
	for _, s := range m.Job.Supplies {
		if s.ID == supply {
			add(s.From, "supply "+s.ID)
		}
	}
	add(m.Job.Rules.From, "rules of the contract")
	add(m.Job.Dig.From, "dig")
	add(m.Job.Checks.From, "loads, lifts, water")
	part.Rows = append(part.Rows, []string{"sheets of this plan: strip, long section, plan", m.Stamp.Brief(m.Plan.Job.Hash)})
	if len(part.Rows) == 1 {
		part.Notes = []string{none("document of this place", "whoever drew it")}
	}
	return part
}

// wanted is the day by which an answer is wanted: as it was asked for, else beside the dates of the programme.
func (m *maker) wanted(leg string) []Line {
	var out []Line
	if m.By != "" {
		return []Line{{"answer wanted by", m.By, "as asked for"}}
	}
	for _, d := range m.Job.Rules.Dates {
		if d.Leg == "" || d.Leg == leg {
			out = append(out, Line{strung(", ", strung(" ", "date of the programme", strung(" ", "leg", d.Leg)), d.Step+" by"), d.By, m.document(cmp.Or(d.From, m.Job.Rules.From))})
		}
	}
	return append(out, Line{Name: "answer wanted by"})
}
