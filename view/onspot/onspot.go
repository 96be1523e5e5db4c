// Package onspot answers the moments that stop a job where people stand: a piece that does not close, water in the trench, a vehicle that
// wants to cross. Each asks for a few figures as they are read, takes the rest from the records and the plan, and answers in lines that can
// be read aloud.
//
// The map of the package:
//
//	onspot.go   Moment, Place, Answer; All, Find     asking.go   figures as they are typed
//	laying.go   services, short stock, closers, covers, conduits, bends
//	levels.go   a changed level, a high bed, an instrument in doubt, tenths against inches
//	bearing.go  water, reach, vehicles
//	digging.go  a deeper dig, stone that runs out
//	recorded.go what the records say where somebody stands
package onspot

import (
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/place/ground"
	"trenchwright/solve/check"
)

// Moment is one of the moments that stop a job.
type Moment struct {
	ID     string // stable: water
	Name   string // what happened, in the words of site
	Stage  string // of the nine, where it is met most
	Fields []Field
	First  string // what is done before anything is worked out; "" nothing

	answer func(*asking)
}

// Field is one figure that is asked for.
type Field struct {
	Name  string
	Label string
	Like  string                           // how it is written
	From  func(p *Place) (is, from string) // what is known already, and who says so; nil: nothing
	Only  []string                         // words to choose from; nil: typed
	Leave bool                             // may be left out
	Told  bool                             // may be left out where something is recorded: the records tell
}

// Known is what is known of a figure already, and who says so; empty: nothing.
func (f *Field) Known(p *Place) (is, from string) {
	if f.From != nil {
		is, from = f.From(p)
	}
	if is == "" {
		from = ""
	}
	return is, from
}

// Optional tells whether a figure may be left out where somebody stands.
func (f *Field) Optional(p *Place) bool { return f.Leave || f.Told && p.Site != nil }

// Place is where somebody stands, on a plan.
type Place struct {
	Job      job.Job
	Plan     *planner.Plan
	Answers  *planner.Answers // nil: the plan has none
	Surfaces []*ground.Surface
	Spot     planner.Spot
	Site     *Site // nil: nothing is recorded
}

func (p *Place) speech() wording.Speech { return p.Plan.Job.Speech() }

// leg is the leg that somebody stands on.
func (p *Place) leg() *planner.Leg { return &p.Plan.Legs[p.Spot.Leg] }

// Answer is what there is to say.
type Answer struct {
	Moment string       `json:"moment"`
	Place  string       `json:"place"` // in words
	Given  []Given      `json:"given"` // what it was asked with
	Lines  []string     `json:"lines"`
	Stop   []string     `json:"stop"` // what has to be known before anything is done
	Checks []check.Said `json:"checks"`
	Open   []string     `json:"not_checked"`
	Faults []string     `json:"faults"` // of what was typed: nothing was worked out from them
}

// Given is one figure that an answer stands on, and where it is from.
type Given struct {
	Label string `json:"label"`
	Is    string `json:"is"`
	From  string `json:"from"`
}

// All are the moments, in the order of the work.
func All() []Moment {
	return []Moment{service, short, closer, covers, level, water, reach, vehicle, deeper, instrument, reading, bed, stone, conduit, bend}
}

// Find is a moment by its id; false: there is none.
func Find(id string) (Moment, bool) {
	for _, m := range All() {
		if m.ID == id {
			return m, true
		}
	}
	return Moment{}, false
}

// At answers a moment at a place, from figures as they were typed, by the names of its fields.
func (m Moment) At(p *Place, typed map[string]string) Answer {
	a := &asking{Place: p, moment: m, typed: typed, out: Answer{Moment: m.ID, Place: p.Where(), Given: []Given{}, Lines: []string{}, Stop: []string{}, Checks: []check.Said{}, Open: []string{}, Faults: []string{}}}
	if m.First != "" {
		a.out.Stop = append(a.out.Stop, p.speech().Reworded(m.First))
	}
	m.answer(a)
	if len(a.out.Faults) > 0 {
		a.out.Lines, a.out.Checks, a.out.Open = []string{}, []check.Said{}, []string{}
	}
	return a.out
}

// Where is the place in words.
func (p *Place) Where() string {
	if p.Spot.Name != "" {
		return p.Spot.Name
	}
	chainage := measure.Format{Survey: true, Places: 2}.Length(p.Spot.At)
	if p.speech().Imperial {
		chainage = measure.Chainage(p.Spot.At, measure.Imperial, 2)
	}
	return "leg " + p.leg().Name + ", " + p.speech().Word(wording.Chainage) + " " + chainage
}
