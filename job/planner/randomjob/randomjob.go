// Package randomjob makes jobs up from a seed, for tests: networks of one to six legs with mitred and cast bends, tees,
// crosses, sawn branches, curves, slopes, crossings, services, entries, supports, zones, forced joints and supplies,
// several stock lengths, closed and open joint windows, figures left out, metric and imperial. A job has no faults of
// its own; whether its legs can be laid is for the planner to say.
//
//	randomjob.go  Job: the whole
//	dice.go       the throws
//	supply.go     what the supplier makes
//	network.go    nodes and legs, grown from an end
//	along.go      what lies along a leg
package randomjob

import (
	"fmt"

	"trenchwright/base/measure"
	"trenchwright/job"
)

// maker is one job in the making.
type maker struct {
	dice
	job      job.Job
	imperial bool
	step     measure.Length // lengths are whole multiples of it
	ids      int
}

// Job is the random job of a seed. The same seed gives the same job.
func Job(seed uint64) job.Job {
	m := &maker{dice: dice{seed}}
	m.imperial = m.percent(30)
	m.step = one[measure.Length](&m.dice, 1, 5, 10) * measure.Millimetre
	if m.imperial {
		m.step = one(&m.dice, measure.Sixteenth, measure.Inch/4, measure.Inch)
	}
	m.head(seed)
	m.supplies()
	m.rules()
	m.network()
	for i := range m.job.Route.Legs {
		m.along(&m.job.Route.Legs[i])
	}
	m.yard()
	return m.job
}

func (m *maker) head(seed uint64) {
	m.job.Format, m.job.ID = job.Format, fmt.Sprintf("random-%d", seed)
	m.job.Name = fmt.Sprintf("Random job %d", seed)
	m.job.Documents = []job.Document{{ID: "D1", Title: "made up from a seed"}}
	c := &m.job.Coordinates
	c.Unit = job.CoordMetres
	if m.imperial {
		m.job.System, m.job.Words = job.Imperial, job.US
		c.Unit = one(&m.dice, job.CoordFeet, job.CoordUSSurvey, job.CoordMetres)
	}
	c.ScaleFactor = one(&m.dice, "", "", "ground", "0.9996", "0.99987", "1.00021")
	if m.percent(50) {
		c.Line.Kind = "centreline"
	}
	if m.percent(60) {
		c.System, c.HeightDatum = "made-up grid", "made-up datum"
	}
}

func (m *maker) rules() {
	r := &m.job.Rules
	r.From = "D1"
	window := m.job.Supplies[0].Joint.Gap.Value
	if m.percent(60) {
		r.DriftReserve = job.Known((window.Max - window.Min) / measure.Length(16))
		if r.DriftReserve.Value == 0 {
			r.DriftReserve.Value = measure.Millimetre / 2
		}
	}
	if m.percent(50) {
		r.SawTolerance = job.Known(3 * measure.Millimetre)
	}
	if m.percent(30) {
		r.UnitScatter = job.Known(2 * measure.Millimetre)
	}
	if m.percent(50) {
		r.Spares = []job.Spare{{What: "covers", Percent: one(&m.dice, "2", "2.5", "3"), AtLeast: 1, From: "common practice"}, {What: "units", AtLeast: 1, From: "D1"}}
	}
	if m.percent(50) {
		r.Prefer = one(&m.dice, []string{"clearance"}, []string{"few-lengths", "little-waste"}, []string{"little-waste", "clearance"})
	}
}

// yard lays a few whole units and an offcut there.
func (m *maker) yard() {
	s := m.job.Supplies[0]
	longest := s.Unit.Lengths.Value[0]
	if m.percent(30) {
		m.job.Yard = append(m.job.Yard, job.YardItem{Supply: s.ID, Length: longest, Count: 1 + m.below(3)})
	}
	if m.percent(30) {
		offcut := m.length(longest/3, longest*9/10, m.step)
		m.job.Yard = append(m.job.Yard, job.YardItem{Supply: s.ID, Length: offcut, Mark: "Z-001/a", Ends: [2]job.YardEnd{{Factory: true}}})
	}
}

// id is a new name.
func (m *maker) id(letter string) string {
	m.ids++
	return fmt.Sprintf("%s%d", letter, m.ids)
}
