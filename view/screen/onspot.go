package screen

import (
	"fmt"

	"trenchwright/base/measure"
	"trenchwright/job/planner"
	"trenchwright/view/onspot"
)

// Spot is what can be asked where somebody stands: the moments that stop a job, each with the figures that it wants.
type Spot struct {
	Place   string   `json:"place"` // in words
	Moments []Moment `json:"moments"`
}

// Moment is one of them.
type Moment struct {
	ID     string        `json:"id"`
	Name   string        `json:"name"`
	Stage  string        `json:"stage"`
	First  string        `json:"first"` // what is done before anything is worked out
	Fields []MomentField `json:"fields"`
}

// MomentField is one figure that a moment asks for.
type MomentField struct {
	Name   string   `json:"name"`
	Label  string   `json:"label"`
	Like   string   `json:"like"`   // how it is written
	Is     string   `json:"is"`     // what is known already; empty: nothing
	From   string   `json:"from"`   // who says so
	Choice []string `json:"choice"` // words to choose from; none: it is typed
	Leave  bool     `json:"leave"`  // may be left out
}

// MomentAnswer is what a moment comes to, in lines that can be read aloud, the working of its checks behind them.
type MomentAnswer struct {
	Place  string       `json:"place"`
	Stop   []string     `json:"stop"` // what has to be known before anything is done
	Lines  []string     `json:"lines"`
	Open   []string     `json:"open"`   // NOT CHECKED
	Faults []string     `json:"faults"` // of what was typed: nothing was worked out
	Given  []CardRow    `json:"given"`  // what it was asked with, and where that is from
	Work   []MomentWork `json:"work"`
}

// MomentWork is how one check was worked out.
type MomentWork struct {
	What string    `json:"what"`
	Rows []CardRow `json:"rows"`
}

// spotPlace is a place on a leg for a moment.
func (d *Desk) spotPlace(on *draft, leg string, at float64, answers *planner.Answers) (*onspot.Place, error) {
	p := &onspot.Place{Job: d.job, Plan: &on.plan, Answers: answers, Surfaces: d.surfaces}
	if _, ok := on.legs[leg]; !ok {
		return nil, fmt.Errorf("there is no leg %s", leg)
	}
	p.Spot.Leg = on.legs[leg]
	p.Spot.At = min(max(measure.FromMillimetres(at), 0), measure.Length(on.plan.Legs[p.Spot.Leg].NodeLength))
	if i := p.Unit(); i >= 0 {
		p.Spot.Name = on.plan.Units[i].Mark
	}
	if d.site != nil && d.site.book.Len() > 0 {
		v := d.siteView(on)
		p.Site = &onspot.Site{Book: v.book, State: *v.is(), Left: v.rest()}
	}
	return p, nil
}

// moments are what can be asked at a place.
func (d *Desk) moments(q *question, on *draft, answers *planner.Answers) (Spot, error) {
	p, err := d.spotPlace(on, q.Leg, q.At, answers)
	if err != nil {
		return Spot{}, err
	}
	out := Spot{Place: p.Where(), Moments: []Moment{}}
	for _, m := range onspot.All() {
		one := Moment{ID: m.ID, Name: on.speech.Reworded(m.Name), Stage: m.Stage, First: on.speech.Reworded(m.First), Fields: []MomentField{}}
		for _, f := range m.Fields {
			field := MomentField{Name: f.Name, Label: on.speech.Reworded(f.Label), Like: f.Like, Choice: append([]string{}, f.Only...), Leave: f.Optional(p)}
			field.Is, field.From = f.Known(p)
			one.Fields = append(one.Fields, field)
		}
		out.Moments = append(out.Moments, one)
	}
	return out, nil
}

// moment answers one of them.
func (d *Desk) moment(q *question, on *draft, answers *planner.Answers) (MomentAnswer, error) {
	m, ok := onspot.Find(q.Name)
	if !ok {
		return MomentAnswer{}, fmt.Errorf("there is no moment %q", q.Name)
	}
	p, err := d.spotPlace(on, q.Leg, q.At, answers)
	if err != nil {
		return MomentAnswer{}, err
	}
	a := m.At(p, q.Fields)
	out := MomentAnswer{Place: a.Place, Stop: a.Stop, Lines: a.Lines, Open: a.Open, Faults: a.Faults, Given: []CardRow{}, Work: []MomentWork{}}
	for _, g := range a.Given {
		out.Given = append(out.Given, CardRow{Label: g.Label, Text: g.Is, Source: g.From})
	}
	for _, c := range a.Checks {
		w := MomentWork{What: c.What, Rows: []CardRow{}}
		for _, g := range c.Given {
			w.Rows = append(w.Rows, CardRow{Label: g.Name, Text: g.Is, Source: g.From})
		}
		for _, step := range c.Working {
			w.Rows = append(w.Rows, CardRow{Label: step.Name, Text: step.Is, Source: "= " + step.How})
		}
		w.Rows = append(w.Rows, CardRow{Label: "rule", Text: c.Rule})
		for _, caution := range c.Cautions {
			w.Rows = append(w.Rows, CardRow{Label: "caution", Text: caution})
		}
		out.Work = append(out.Work, w)
	}
	return out, nil
}
