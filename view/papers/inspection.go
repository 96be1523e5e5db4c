package papers

import (
	"cmp"
	"fmt"
	"strings"

	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/field"
)

const formInspection = "NSW guideline on quality plans (item, by whom, stage, hold and witness points, acceptance, records), as read; the order from " + fromJob

// nameOf names what is recorded.
func (m *maker) nameOf(of string) string {
	switch of {
	case "formation":
		return "level of the " + m.word(wording.Formation)
	case "bed":
		return "level of the " + m.word(wording.Bed)
	case "pad":
		return "level of the " + m.word(wording.Pad)
	case "bed or pad":
		return "level of " + m.word(wording.Bed) + " or " + m.word(wording.Pad)
	case "wall", "invert", "drain":
		return "level of the " + of
	case "end":
		return "where the end of a " + m.word(wording.Unit) + " lies"
	case "gap":
		return "gap of joints"
	case "line", "length", "rock":
		return of + " of " + m.word(wording.Units)
	case "fabric":
		return "fabric laid over joints"
	case "bond":
		return "test of the earthing bond"
	case "area":
		return "hand-over of the stretch"
	case "layer test":
		return "test of a " + m.word(wording.Layer)
	}
	return of
}

// inspectionHeads are the columns of the plan.
func inspectionHeads() []Head {
	return []Head{{Name: "item", Wide: 4}, {Name: "when, how often", Wide: 3.4}, {Name: "asked: figure or record", Wide: 3.6}, {Name: "written in", Wide: 4}, {Name: "hold or witness", Wide: 1.8, Fill: true}, {Name: "by whom", Wide: 2, Fill: true}, {Name: "record", Wide: 2, Fill: true}}
}

// inspection is the inspection and test plan of the run.
func (m *maker) inspection() []Paper {
	p := m.paper("", "the whole run")
	return []Paper{m.done(p, m.inspectionSteps(), m.inspectionLevels(), m.inspectionTests(), m.listedPoints(), m.inspectionPoints(), m.notices(),
		Part{Title: "Agreed", Form: formInspection, Notes: []string{"hold: no further work without a written release. Witness: notice is given, and work may go on once its time has run", "where nothing is written in, a person with authority writes: the owner, or whoever wrote the specification"},
			Lines: blanks("revision, day"), Sign: []string{"contractor", "engineer or owner"}})}
}

// inspectionSteps are the records that are wanted before a step hides them.
func (m *maker) inspectionSteps() Part {
	part := Part{Title: "Before a step hides it", Form: formInspection, Heads: inspectionHeads()}
	for _, h := range m.book.Hiding(m.asks) {
		for _, want := range h.Wants {
			part.Rows = append(part.Rows, []string{m.nameOf(want), "at every " + m.word(wording.Unit) + ", before " + h.Step, m.figureOf(want), h.Source, "", "", ""})
		}
	}
	if len(part.Rows) == 0 {
		part.Heads, part.Notes = nil, []string{field.NoList}
	}
	return part
}

// figureOf is the limit of something that is measured.
func (m *maker) figureOf(of string) string {
	switch of {
	case "fabric", "bond", "area", "photo", "layer test", "cover test":
		return "a record of it"
	case "gap":
		return "within the joint's own window, as its card has it"
	case "length", "invert", "drain":
		return none("tolerance for the "+of, "the owner")
	case "bed or pad":
		of = "bed"
	}
	l := m.asks.Level(of)
	if !l.Known {
		return l.NotChecked()
	}
	return "± " + m.length(l.Most)
}

// inspectionLevels are readings at a frequency.
func (m *maker) inspectionLevels() Part {
	part := Part{Title: "Measured so often", Form: formInspection, Heads: inspectionHeads()}
	for _, w := range m.book.Wanted(m.asks) {
		var often []string
		if w.First > 0 {
			often = append(often, fmt.Sprintf("the first %d of each leg", w.First))
		}
		if w.Every > 0 {
			often = append(often, fmt.Sprintf("every %d", w.Every))
		}
		part.Rows = append(part.Rows, []string{m.nameOf(w.Of), strings.Join(often, ", "), m.figureOf(w.Of), w.Source, "", "", ""})
	}
	if len(part.Rows) == 0 {
		part.Heads, part.Notes = nil, []string{field.NoFrequency}
	}
	return part
}

// inspectionTests are the tests of fill.
func (m *maker) inspectionTests() Part {
	t, doc := &m.Job.Checks.Tests, m.Job.Checks.From
	part := Part{Title: "Tests of fill", Form: formInspection, Lines: []Line{
		entry(m, "one test on", doc, t.Every, m.length, "frequency of tests of the fill", "whoever wrote the specification"),
		entry(m, "one test in so many "+m.word(wording.Layers), doc, t.EachLayers, number, "number of "+m.word(wording.Layers)+" for a test", "whoever wrote the specification"),
		entry(m, "no fewer for a leg than", doc, t.Least, number, "least number of tests for a leg", "whoever wrote the specification")}}
	for i := range m.Plan.Checks {
		c := &m.Plan.Checks[i]
		if strings.HasPrefix(c.ID, "compaction.tests") && c.Value != "" {
			part.Lines = append(part.Lines, Line{"leg " + c.Where.Leg, c.Value, strung("; ", c.Rule, c.From)})
		}
	}
	return part
}

// listedPoints are the hold and witness points of the contract, or room for them where none are listed.
func (m *maker) listedPoints() Part {
	part := Part{Title: "Hold and witness points", Form: formInspection, Heads: []Head{{Name: "point", Wide: 3, Fill: true}, {Name: "hold or witness", Wide: 1.8, Fill: true}, {Name: "before", Wide: 1.8, Fill: true}, {Name: "notice runs", Wide: 2.2, Fill: true}, {Name: "notice to", Wide: 3, Fill: true}, {Name: "released by", Wide: 3, Fill: true}, {Name: "written in", Wide: 4, Fill: true}}}
	points := m.Job.Rules.Points
	for i := range points {
		p := &points[i]
		part.Rows = append(part.Rows, []string{p.Name, orNotChecked(p.Kind), orNotChecked(p.Before), orNotChecked(p.Notice), orNotChecked(p.To), orNotChecked(p.Release), orNotChecked(m.document(cmp.Or(p.From, m.Job.Rules.From)))})
	}
	for _, f := range job.Missing(m.Job) {
		if strings.HasPrefix(f.Where.Path, "rules.points[") {
			part.Notes = append(part.Notes, f.Text)
		}
	}
	if len(points) == 0 {
		part.Notes = []string{field.NoPoints}
		for range 6 {
			part.Rows = append(part.Rows, make([]string, len(part.Heads)))
		}
	}
	return part
}

func orNotChecked(s string) string { return cmp.Or(s, field.NotChecked) }

// inspectionPoints is what the records say of points, stretch by stretch, and room for what they do not.
func (m *maker) inspectionPoints() Part {
	part := Part{Title: "Points, stretch by stretch", Form: formInspection, Heads: []Head{{Name: "point", Wide: 3, Fill: true}, {Name: "stretch", Wide: 3, Fill: true}, {Name: "hold or witness", Wide: 2, Fill: true}, {Name: "looked at, result", Wide: 3, Fill: true}, {Name: "released by", Wide: 3, Fill: true}, {Name: "is", Wide: 4, Fill: true}}, From: m.fromRecordsAnd("hold or witness")}
	told := map[string]bool{}
	for i := range m.state.Points {
		s := &m.state.Points[i]
		told[s.Point] = true
		is := "not released"
		switch {
		case s.Released.Is == field.Yes:
			is = "released, " + m.bySeveral(s.Released.By)
		case len(s.Releases) > 0:
			is = m.book.SayPoint(s)
		}
		part.Rows = append(part.Rows, []string{s.Point, orDash(strung(" to ", s.From, s.To)), m.pointKind(s), cmp.Or(s.Result, "not recorded"), orDash(strings.Join(s.By, ", ")), is})
	}
	for _, p := range m.Job.Rules.Points {
		if !told[p.Name] {
			part.Rows = append(part.Rows, []string{p.Name, "", orNotChecked(p.Kind), "", "", ""})
		}
	}
	for _, u := range m.book.Unreleased(m.asks, m.state.Points) {
		if u.Hidden {
			part.Notes = append(part.Notes, fmt.Sprintf("%s: no release on record for %s, and %s was done there", u.Point.Name, u.Stretches(), u.Point.Before))
		}
	}
	if len(part.Rows) == 0 {
		part.Notes = []string{"no point is on record"}
		for range 3 {
			part.Rows = append(part.Rows, make([]string, len(part.Heads)))
		}
	}
	return part
}

// fromRecordsAnd is where a table of points comes from, of which something is told by the contract's list.
func (m *maker) fromRecordsAnd(listed string) string {
	if len(m.Job.Rules.Points) == 0 {
		return fromRecords
	}
	return fromRecords + "; " + listed + ": the points of the contract"
}

// pointKind is whether a point of the records is a hold or a witness point; one that the contract does not list says so.
func (m *maker) pointKind(s *field.PointState) string {
	kind := map[bool]string{true: "witness", false: "hold"}[m.asks.Witness(s)]
	listed, ok := m.asks.Point(s.Point)
	switch {
	case len(m.Job.Rules.Points) > 0 && !ok:
		return kind + ", not on the contract's list"
	case ok && listed.Kind == "":
		return field.NotChecked
	}
	return kind
}

func orDash(s string) string {
	if s == "" {
		return "-"
	}
	return s
}

// notices are those that were sent, one to be sent for each listed point that has none, and room for the next.
func (m *maker) notices() Part {
	part := Part{Title: "Notices of points", Form: "common practice: sent when, to whom, how long it runs, who answered or came", From: m.fromRecordsAnd("to whom one has still to go, how long it runs"), Heads: []Head{{Name: "point, stretch", Wide: 4, Fill: true}, {Name: "sent by, when", Wide: 4, Fill: true}, {Name: "to", Wide: 3, Fill: true}, {Name: "runs", Wide: 2, Fill: true}, {Name: "answered, came", Wide: 4, Fill: true}}}
	sent := map[string]bool{}
	for _, s := range m.state.Points {
		for _, n := range s.Notices {
			sent[s.Point] = true
			listed, _ := m.asks.Point(s.Point)
			part.Rows = append(part.Rows, []string{pointName(s), strung(", ", n.Person, strings.Replace(n.Made[:min(16, len(n.Made))], "T", " ", 1)), n.To, cmp.Or(n.Period, listed.Notice), n.Answer})
		}
	}
	for _, p := range m.Job.Rules.Points {
		if !sent[p.Name] {
			part.Rows = append(part.Rows, []string{p.Name, "", orNotChecked(p.To), orNotChecked(p.Notice), ""})
		}
	}
	for range 3 {
		part.Rows = append(part.Rows, make([]string, len(part.Heads)))
	}
	return part
}
