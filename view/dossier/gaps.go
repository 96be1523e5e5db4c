package dossier

import (
	"fmt"
	"strings"

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
	noFormation
	noBed
	noEnd
	noBatch
	noGap
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
	if !levelledOf(u, "formation") {
		lacks(noFormation, "no level of the %s under it", d.word(wording.Formation))
	}
	if !levelledOf(u, "pad") && !levelledOf(u, "bed") {
		lacks(noBed, "no level of what it stands on")
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
	if i+1 < len(l.Units) && l.Units[i+1].Set.Is == field.Yes {
		switch {
		case u.Left == nil || u.Right == nil:
			lacks(noGap, "gap to the next one not measured")
		case !u.Left.Known || !u.Right.Known:
			lacks(noGap, "readings of the gap to the next one differ: no figure")
		}
		if a.bond && len(u.Evidence[field.Bond]) == 0 {
			lacks(noBond, "no bond recorded at the joint to the next one")
		}
	}
	d.fillGaps(u, a, lacks)
	return append(out, d.coverGaps(u, a)...)
}

func levelledOf(u *field.UnitState, of string) bool {
	for _, l := range u.Levels {
		if l.Of != of {
			continue
		}
		if l.Said.Is == field.Yes {
			return true
		}
		for _, m := range l.Four {
			if m != nil && m.Known {
				return true
			}
		}
	}
	return false
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

// gapTables are the gaps in the evidence: at places, and of the job as a whole.
func (d *Dossier) gapTables() []table.Table {
	t := table.Table{Name: "gaps", Title: "At places, by the records", Columns: []table.Column{text("leg", "leg"), text("what", "what there is no record of"), count("units", d.word(wording.Units)), text("places", "places")}}
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
	return []table.Table{t, d.jobGaps()}
}

// proven reports whether unit i of a leg has no gap.
func (d *Dossier) proven(l field.LegState, i int, a asked) bool { return len(d.gapsAt(l, i, a)) == 0 }

func capitalized(text string) string {
	if text == "" {
		return ""
	}
	return strings.ToUpper(text[:1]) + text[1:]
}
