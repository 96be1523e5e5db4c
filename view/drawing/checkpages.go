package drawing

import (
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
)

// checkKind is one thing that is levelled before it is hidden or built upon.
type checkKind struct {
	name, of  string // of the pages; what is checked
	before    string // what does not go on before
	level     func(*planner.Levels) *float64
	both      bool // it is read left and right
	tolerance job.Entry[measure.Length]
	reads     string // where the rod stands
}

// checkKinds are the checks of a run in the order of the work: the bottom of the dig, what the units stand on, covers.
func (d *draft) checkKinds() []checkKind {
	rules := d.job.Rules
	on, top := d.words.bed, func(l *planner.Levels) *float64 { return l.Underside }
	for _, r := range d.plan.SetOut {
		if r.Pad != "" {
			on, top = d.words.pads, padTopOf
			break
		}
	}
	return []checkKind{
		{name: "formation", of: d.words.formation, before: "before the " + d.words.bed + " is laid", level: formationOf, both: d.crossfalls(), tolerance: rules.FormationTol, reads: "under the " + d.words.unit + " that starts there"},
		{name: "bed", of: on, before: "before " + d.words.units + " are set", level: top, both: true, tolerance: rules.BedTol, reads: "under the " + d.words.unit + " that starts there"},
		{name: "covers", of: d.words.covers, before: "before the run is handed over", level: func(l *planner.Levels) *float64 { return l.Cover }, both: true, tolerance: rules.CoverTol, reads: "on the " + d.words.cover + " of the " + d.words.unit + " that starts there"},
	}
}

// crossfalls reports whether any unit lies higher on one side than on the other.
func (d *draft) crossfalls() bool {
	for _, r := range d.plan.SetOut {
		if r.Levels != nil && crossOf(r.Levels) != 0 {
			return true
		}
	}
	return false
}

// crossOf is how much higher the right wall of the unit behind a place lies than the left one, in metres.
func crossOf(l *planner.Levels) float64 {
	if l.Walls[2] == nil || l.Walls[3] == nil {
		return 0
	}
	return *l.Walls[3] - *l.Walls[2]
}

// checkRow is one place with the level that is wanted there.
type checkRow struct {
	place       string
	at          measure.MM
	left, right float64
	e, n        float64 // of the joint, m
}

// checkRows are all places that have a level of the kind; where the unit before stands otherwise, it has a row of its own.
func (d *draft) checkRows(k checkKind) []checkRow {
	var out []checkRow
	for _, rows := range d.places() {
		for i, r := range rows {
			if r.Levels == nil || k.level(r.Levels) == nil {
				continue
			}
			cross := crossOf(r.Levels)
			place := r.Place
			if before, ok := stepsTo(rows, i, k.level); ok {
				first, second, _ := strings.Cut(r.Place, "/")
				out, place = append(out, checkRow{"end of " + first, r.Chainage, before, before + cross, r.E, r.N}), "start of "+second
			}
			left := *k.level(r.Levels)
			out = append(out, checkRow{place, r.Chainage, left, left + cross, r.E, r.N})
		}
	}
	return out
}

// stepsTo is the level under the unit before a place, where it is not that of the unit behind.
func stepsTo(rows []planner.SetOut, i int, of func(*planner.Levels) *float64) (float64, bool) {
	const told = 0.0005 // m
	if i == 0 || i+1 >= len(rows) {
		return 0, false
	}
	_, before, ok := rigid(rows, i-1, of)
	here := of(rows[i].Levels)
	return before, ok && here != nil && (before-*here > told || *here-before > told)
}
