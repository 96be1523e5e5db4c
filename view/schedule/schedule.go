// Package schedule makes the tables of a plan: what is cut, what is laid in which order, where it stands, what is ordered,
// what was found. The same tables become sheets, a workbook and CSV; values in them are exact.
//
//	schedule.go  All, and how a job's system and words choose heads and units
//	cutting.go   the cutting list: one row a piece, by the unit it comes from
//	laying.go    units, covers and joints in laying order
//	office.go    set-out, bill, zones, findings, proof
package schedule

import (
	"math"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/table"
)

// Set is one plan with the way its tables speak.
type Set struct {
	plan     planner.Plan
	imperial bool
	us       bool
}

// Of prepares the tables of a plan.
func Of(p planner.Plan) Set {
	return Set{plan: p, imperial: p.Job.System == string(job.Imperial), us: p.Job.Words == string(job.US)}
}

// All are the tables in the order of the pack.
func (s Set) All() []table.Table {
	return []table.Table{s.Cutting(), s.Laying(), s.Covers(), s.Joints(), s.SetOut(), s.Bill(), s.Zones(), s.Findings(), s.Proof()}
}

func (s Set) word(uk, us string) string {
	if s.us {
		return us
	}
	return uk
}

func (s Set) length(key, head string) table.Column {
	c := table.Column{Key: key, Head: head, Kind: table.KindLength, Places: 1}
	if s.imperial {
		c.Unit = "ft-in"
	}
	return c
}

func (s Set) mass(key, head string) table.Column {
	c := table.Column{Key: key, Head: head, Kind: table.KindMass, Places: 1}
	if s.imperial {
		c.Unit = "lb"
	}
	return c
}

func text(key, head string) table.Column { return table.Column{Key: key, Head: head} }

func count(key, head string) table.Column {
	return table.Column{Key: key, Head: head, Kind: table.KindCount}
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

// notes are the lines that every table carries: whose job, which state of it, what nobody entered about the ground.
func (s Set) notes(more ...string) []string {
	h := s.plan.Job
	n := []string{h.Name}
	if h.Revision != "" || h.On != "" {
		n[0] += ", revision " + h.Revision + ", " + h.On
	}
	n[0] += ", job " + h.Hash[:12]
	return append(n, more...)
}
