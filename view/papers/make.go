package papers

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/job/stamp"
)

// Input is what papers are filled from.
type Input struct {
	Job     job.Job
	Plan    planner.Plan
	Stamp   stamp.Stamp
	Records []field.Record
	Answers *planner.Answers // asked at a place; nil: papers of a place cannot be made
	Now     string           // the moment for what ends by itself, RFC 3339 in UTC; empty: nothing has ended
}

// Choice is which paper is asked for.
type Choice struct {
	Kind   string
	Leg    string // of one leg
	Place  string // of one place, as people name it
	Lift   string // one lift; empty: all
	Load   int    // one load; 0: all
	Day    string // 2026-11-27
	Number string // of a nonconformance, or of a request
	Ask    string // what is asked
	By     string // the day by which an answer is wanted
}

// maker fills papers.
type maker struct {
	Input
	Choice
	kind   Kind
	speech wording.Speech
	book   *field.Book
	state  field.State
	asks   *field.Contract
}

func newMaker(in Input) *maker {
	m := &maker{Input: in, speech: in.Job.Speech(), asks: field.Asks(in.Job)}
	m.book = field.NewBook(in.Plan.Places()).Under(m.asks)
	m.book.Add(in.Records...)
	m.state = m.book.State(in.Now)
	return m
}

// All are the papers that need no choice, in the order of the stages.
func All(in Input) []Paper {
	var kinds []string
	for _, k := range Kinds() {
		if k.Choice == "" {
			kinds = append(kinds, k.Word)
		}
	}
	return Of(in, kinds...)
}

// Of are all papers of kinds that need no choice.
func Of(in Input, kinds ...string) []Paper {
	m, out := newMaker(in), []Paper{}
	for _, k := range kinds {
		if list, err := m.of(Choice{Kind: k}); err == nil {
			out = append(out, list...)
		}
	}
	return out
}

// Make are the papers that somebody chose.
func Make(in Input, c Choice) ([]Paper, error) { return newMaker(in).of(c) }

func (m *maker) of(c Choice) ([]Paper, error) {
	k, ok := kindOf(c.Kind)
	if !ok {
		var words []string
		for _, k := range Kinds() {
			words = append(words, k.Word)
		}
		return nil, fmt.Errorf("there is no paper %q; papers are %s", c.Kind, strings.Join(words, ", "))
	}
	if c.Leg != "" && !slices.ContainsFunc(m.Plan.Legs, func(l planner.Leg) bool { return l.Name == c.Leg }) {
		return nil, fmt.Errorf("there is no leg %q on this run", c.Leg)
	}
	m.Choice, m.kind = c, k
	switch k.Word {
	case Inspection:
		return m.inspection(), nil
	case Lift:
		return m.lifts()
	case Permit:
		return m.permits(), nil
	case Excavation:
		return m.excavation(), nil
	case Delivery:
		return m.deliveries()
	case Day:
		return m.day()
	case Question:
		return m.question()
	case Nonconforming:
		return m.matter()
	case Method:
		return m.method(), nil
	}
	return m.openEnd()
}

// paper begins one.
func (m *maker) paper(name, of string) Paper {
	if name != "" {
		name = "-" + name
	}
	return Paper{Format: Format, Kind: m.kind.Word, Name: m.kind.Word + fileName(name), Stage: m.kind.Stage, Title: m.kind.Title, Of: of, Job: m.Plan.Job.Name,
		State: m.Stamp.Brief(m.Plan.Job.Hash), Stops: []Stop{}, Parts: []Part{}, us: m.Job.Words == job.US, lang: language(m.Job)}
}

// done is a paper in the job's words; one that a stop holds back has no parts.
func (m *maker) done(p Paper, parts ...Part) Paper {
	for _, s := range p.Stops {
		p.Held = p.Held || s.Over == nil
	}
	if p.Held {
		return p
	}
	say := m.speech.Reworded
	for _, part := range parts {
		part.Title = capital(say(part.Title))
		for i := range part.Notes {
			part.Notes[i] = say(part.Notes[i])
		}
		for i := range part.Lines {
			part.Lines[i].Name = say(part.Lines[i].Name)
		}
		for i := range part.Heads {
			part.Heads[i].Name = say(part.Heads[i].Name)
		}
		p.Parts = append(p.Parts, part)
	}
	return p
}

// fileName is text as a part of a file's name.
func fileName(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-', r == '.', r == '_':
			return r
		}
		return '-'
	}, text)
}

// none is what nobody entered.
func none(what, ask string) string { return finding.NoneOnFile(what, ask, finding.Where{}).Text }

func (m *maker) word(w wording.Word) string { return m.speech.Word(w) }

// onLeg tells whether something of a leg is asked for.
func (m *maker) onLeg(leg string) bool { return m.Leg == "" || m.Leg == leg }

// legs are the legs that are asked for.
func (m *maker) legs() []planner.Leg {
	var out []planner.Leg
	for _, l := range m.Plan.Legs {
		if m.onLeg(l.Name) {
			out = append(out, l)
		}
	}
	return out
}

// ofLegs names them.
func (m *maker) ofLegs() string {
	if m.Leg != "" {
		return "leg " + m.Leg
	}
	return "the whole run"
}
