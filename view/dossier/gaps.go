package dossier

import (
	"fmt"

	"trenchwright/base/wording"
	"trenchwright/job/field"
	"trenchwright/view/table"
)

// gap is something at one unit that there is no record of.
type gap struct {
	what  string // the same words for the same thing
	order int    // in which the table has it
}

// The order of the gaps at places, as the work goes.
const (
	notSet = iota
	noEnd
	noBatch
	noBond
	noFill
	noTest
	notCovered
	noCoverTest
)

// asked is what the records themselves show to be kept on this job: where some places have it, the others lack it.
type asked struct{ bond, coverTest, batch, fill bool }

// gapsAt are the gaps at unit i of a leg.
func (d *Dossier) gapsAt(l field.LegState, i int, a asked) []gap {
	u := l.Units[i]
	var out []gap
	lacks := func(order int, form string, args ...any) { out = append(out, gap{fmt.Sprintf(form, args...), order}) }
	switch u.Set.Is {
	case field.Yes:
	case field.CantSay:
		lacks(notSet, "whether it is set: records that did not know of each other say this and that")
		return out
	default:
		lacks(notSet, "not set, by the records")
		return out
	}
	switch {
	case u.End == nil && !u.Within:
		lacks(noEnd, "nothing said of how far its end is off its place")
	case u.End != nil && !u.End.Known:
		lacks(noEnd, "readings of its end differ: no figure")
	}
	if a.batch && u.Batch == "" {
		lacks(noBatch, "no batch or serial")
	}
	if i+1 < len(l.Units) && l.Units[i+1].Set.Is == field.Yes && a.bond && len(u.Evidence[field.Bond]) == 0 {
		lacks(noBond, "no bond recorded at the joint to the next one")
	}
	d.fillGaps(u, a, lacks)
	return append(out, d.coverGaps(u, a)...)
}

// fillGaps are layers that nobody recorded, or that no test met.
func (d *Dossier) fillGaps(u *field.UnitState, a asked, lacks func(int, string, ...any)) {
	if a.fill && len(u.Layers) == 0 {
		lacks(noFill, "no %s of fill recorded", d.word(wording.Layer))
	}
	for _, y := range u.Layers {
		switch {
		case y.Placed.Is != field.Yes:
			continue
		case y.Met.Is == field.Yes:
		case len(y.Met.By) > 0:
			lacks(noTest, "%s %d, %s: no test that met its limit stands", d.word(wording.Layer), y.Number, y.Side)
		default:
			lacks(noTest, "%s %d, %s: no test recorded", d.word(wording.Layer), y.Number, y.Side)
		}
	}
}

// coverGaps are covers that do not lie, by the records, and covers without their test.
func (d *Dossier) coverGaps(u *field.UnitState, a asked) []gap {
	var out []gap
	open := 0
	for _, c := range u.Covers {
		if c.Laid.Is != field.Yes {
			open++
		}
	}
	if open > 0 {
		out = append(out, gap{fmt.Sprintf("%s not laid, by the records", "covers"), notCovered})
	} else if a.coverTest && len(u.Covers) > 0 && len(u.Evidence[field.CoverTest]) == 0 {
		out = append(out, gap{"no test of its " + "covers", noCoverTest})
	}
	return out
}

// lacks reports whether unit i of a leg lacks a record: one that others have, or one that has to be there before something hides it.
func (d *Dossier) lacks(l field.LegState, i int) bool {
	if d.bare == nil {
		d.bare = map[string]bool{}
		a := d.askedHere()
		for _, l := range d.state.Legs {
			for i, u := range l.Units {
				d.bare[u.Place] = len(d.gapsAt(l, i, a)) > 0
			}
		}
		for _, h := range d.book.Hiding(d.asks) {
			for _, k := range h.Lacking {
				d.bare[k.Place] = d.bare[k.Place] || k.Hidden
			}
		}
		for _, u := range d.unreleased() {
			for _, place := range u.Places {
				d.bare[place] = d.bare[place] || u.Hidden
			}
		}
	}
	return d.bare[l.Units[i].Place]
}

// askedHere is what at least one place of the run has.
func (d *Dossier) askedHere() (a asked) {
	for _, l := range d.state.Legs {
		for _, u := range l.Units {
			a.bond = a.bond || len(u.Evidence[field.Bond]) > 0
			a.coverTest = a.coverTest || len(u.Evidence[field.CoverTest]) > 0
			a.batch = a.batch || u.Batch != ""
			a.fill = a.fill || len(u.Layers) > 0
		}
	}
	return a
}

// gapTables are the gaps in the evidence: what was hidden, what does not meet its figure, what else is missing at places, and what
// of the job as a whole.
func (d *Dossier) gapTables() []table.Table {
	t := table.Table{Name: "gaps", Title: "What else is not recorded at places", Columns: []table.Column{text("leg", "leg"), text("what", "what there is no record of"), count("units", d.word(wording.Units)), text("places", "places")}}
	t.Notes = []string{"what is not listed here was recorded; whether it does is for whoever has to say so. What the contract asks beyond this nobody entered: NOT CHECKED. Ask: the engineer"}
	a := d.askedHere()
	for _, l := range d.state.Legs {
		which := map[gap][]int{}
		var order []gap
		for i := range l.Units {
			for _, g := range d.gapsAt(l, i, a) {
				if which[g] == nil {
					order = append(order, g)
				}
				which[g] = append(which[g], i)
			}
		}
		sortGaps(order)
		for _, g := range order {
			t.Rows = append(t.Rows, []table.Cell{table.Text(l.ID), table.Text(g.what), table.Count(len(which[g])), table.Text(places(l.Units, which[g]))})
		}
	}
	if len(t.Rows) == 0 {
		t.Notes = append([]string{"At no place is anything missing that is recorded at others"}, t.Notes...)
	}
	return []table.Table{d.hiddenTable(), d.heldTable(), t, d.ranOutTable(), d.jobGaps()}
}

// proven reports whether everything that is asked of a place is on record and meets its figure.
func (d *Dossier) proven(place string) bool {
	r, ok := d.book.ReachedAt(d.asks, place)
	return ok && r.Proven
}
