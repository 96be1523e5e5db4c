// Package schedule makes the tables of a plan: what is cut, what is laid in which order, where it stands, what is ordered,
// what was found. The same tables become sheets, a workbook and CSV; values in them are exact.
//
//	schedule.go  All, and how a job's system and words choose heads and units
//	cutting.go   the cutting list: one row a piece, by the unit it comes from
//	laying.go    units, covers, joints and zones, leg by leg in laying order
//	cables.go    what cables go through
//	things.go    what is put on the run: crossings, conduits, supports, zones, pins, outlets
//	services.go  what is recorded as buried where it meets the run
//	setout.go    where every joint stands; coordinates.go: in the job's own coordinates, and levels as they are viewed
//	pegs.go      what the run is set out from, and the pegs beside it
//	grades.go    what a laser is set to and the one reading of each grade; drainlaser.go and draingrades.go the same for the drain
//	coverlevels.go  tolerances of the level of covers, added up against the contract
//	dig.go       what is dug, filled, brought in and carried off; digsite.go the strip beside it and the rules of the place
//	delivery.go  how what is ordered comes: loads, bundles, laydown, what is ordered, the receiving list
//	checks.go    the run held against what was entered, with the working
//	programme.go when everything is done, and the days ahead
//	office.go    the bill, whole and by supply; findings, proof
package schedule

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/table"
)

// Set is one plan with the way its tables speak.
type Set struct {
	plan        planner.Plan
	coordinates job.CoordUnit // of eastings, northings and levels
	levels      job.Levels
	rules       job.Rules
	legs        []job.Leg
	entries     map[string][]job.ConduitEntry // of each leg, in its order
	weighed     bool                          // loads are given by mass
	viewed      bool                          // lengths are shown in the system that the job does not have
	speech      wording.Speech
	timed       func() *planner.Programme // worked out when it is asked for
}

// Of prepares the tables of a job's plan.
func Of(p planner.Plan, j job.Job) Set {
	load, _ := job.ReadLoad(j.Dig.Load.Value)
	return Set{plan: p, coordinates: j.Coordinates.Unit, levels: j.Levels, rules: j.Rules, legs: j.Route.Legs, entries: entriesOf(j), weighed: load.Mass > 0, viewed: (p.Job.System == string(job.Imperial)) != (j.System == job.Imperial), speech: p.Job.Speech(), timed: func() *planner.Programme { return p.Timed(j) }}
}

// All are the tables in the order of the pack, but for those of the programme, which is looked for when somebody asks for it.
func (s Set) All() []table.Table {
	return slices.Concat([]table.Table{s.Cutting(), s.Laying(), s.Covers(), s.Joints(), s.Zones(), s.Stretches(), s.SetOut()}, s.some(), []table.Table{s.Bill(), s.Orders(), s.Findings(), s.Proof()})
}

// some are the tables that a plan may be without.
func (s Set) some() []table.Table {
	return slices.Concat(s.OnTheRun(), s.Services(), s.Points(), s.Pegs(), s.Grades(), s.DrainGrades(), s.CoverLevels(), s.Dig(), s.Excavation(), s.Delivery(), s.Checks())
}

// unit, units: the word for one trough body, and for several.
func (s Set) unit() string  { return s.speech.Word(wording.Unit) }
func (s Set) units() string { return s.speech.Word(wording.Units) }

// say is a sentence, or a head, in the job's words.
func (s Set) say(form string, args ...any) string { return s.speech.Say(form, args...) }

func (s Set) length(key, head string) table.Column {
	c := table.Column{Key: key, Head: head, Kind: table.KindLength, Places: 1}
	if s.speech.Imperial {
		c.Unit = "ft-in"
	}
	return c
}

func (s Set) mass(key, head string) table.Column {
	c := table.Column{Key: key, Head: head, Kind: table.KindMass, Places: 1}
	if s.speech.Imperial {
		c.Unit = "lb"
	}
	return c
}

func text(key, head string) table.Column { return table.Column{Key: key, Head: head} }

func count(key, head string) table.Column {
	return table.Column{Key: key, Head: head, Kind: table.KindCount}
}

func decimal(key, head string) table.Column {
	return table.Column{Key: key, Head: head, Kind: table.KindDecimal}
}

func angle(key, head string) table.Column {
	return table.Column{Key: key, Head: head, Kind: table.KindAngle, Places: 3}
}

func mm(m measure.MM) table.Cell { return table.Length(measure.Length(m)) }

func deg(d float64) table.Cell { return table.Angle(measure.FromDegrees(d)) }

func kilos(kg *float64) table.Cell {
	if kg == nil {
		return table.Text("NOT CHECKED: no mass on file. Ask: the supplier")
	}
	return table.Mass(measure.Mass(math.Round(*kg * 1000)))
}

func yes(b bool, word string) table.Cell {
	if b {
		return table.Text(word)
	}
	return table.Cell{}
}

// number is a figure that the plan brings as text, or that text where it is none.
func number(text string) table.Cell {
	whole, part, _ := strings.Cut(text, ".")
	n, err := strconv.ParseInt(whole+part, 10, 64)
	switch {
	case text == "":
		return table.Cell{}
	case err != nil:
		return table.Text(text)
	}
	return table.Decimal(n, len(part))
}

// massOf is a mass that the plan brings as kilograms in text, times a number of things.
func massOf(kg, times string) table.Cell {
	m, err := strconv.ParseFloat(kg, 64)
	n, of := strconv.ParseFloat(times, 64)
	switch {
	case kg == "":
		return table.Cell{}
	case err != nil || of != nil:
		return table.Text(kg)
	}
	return table.Mass(measure.Mass(math.Round(m * n * 1000)))
}

// notes are the lines that every table carries: whose job, which state of it, what nobody entered about the ground.
func (s Set) notes(more ...string) []string {
	h := s.plan.Job
	n := []string{h.Name}
	if h.Revision != "" {
		n[0] += ", revision " + h.Revision
	}
	if h.On != "" {
		n[0] += ", " + h.On
	}
	n[0] += ", job " + h.Hash[:min(12, len(h.Hash))]
	return append(n, more...)
}
