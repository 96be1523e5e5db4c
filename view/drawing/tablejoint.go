package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job/planner"
)

// jointLedger is every joint with its gap, its window and what spends it.
func (d *draft) jointLedger() ledger {
	l := ledger{title: "Joints and their budgets, gaps in " + d.fineName(), most: mostSheets, columns: []ledgerColumn{
		{head: "leg"}, {head: "joint", bold: true}, {head: d.chainageHead("at"), right: true}, {head: "gap", right: true, bold: true}, {head: "least", right: true}, {head: "most", right: true},
		{head: "room", right: true}, {head: "turn", right: true}, {head: "grade", right: true}, {head: "square", right: true}, {head: "drift", right: true}, {head: "left", right: true, bold: true}, {head: "see"},
	}}
	var notes letters
	at := map[string]measure.MM{} // of the middles of gaps
	for _, r := range d.plan.SetOut {
		at[r.Leg+" "+r.Place] = r.Chainage
	}
	for _, leg := range d.plan.Legs {
		g := ledgerGroup{name: leg.Name}
		levelled := d.levelled(leg.Name)
		for _, j := range d.plan.Joints {
			if j.Leg == leg.Name {
				g.rows = append(g.rows, d.jointRow(at[leg.Name+" "+j.Name], j, levelled, &notes))
			}
		}
		if len(g.rows) > 0 {
			l.groups = append(l.groups, g)
		}
	}
	l.notes = append([]ledgerNote{{text: "Gaps in " + d.fineUnit() + " on the axis. at: the middle of the gap. least, most: the supplier's window. room: what the gap has to give on its tighter side; " +
		"turn in plan, change of grade, ends out of square and the reserve for drift are paid from it; what is left is the gang's"}}, notes.notes...)
	return l
}

func (d *draft) jointRow(at measure.MM, j planner.Joint, levelled bool, notes *letters) ledgerRow {
	b := j.Budget
	forced, missing := prefixed("a joint is asked for here: ", j.Forced), b.Missing
	if !levelled {
		missing = append(slices.Clone(missing), "level at each end of its leg")
	}
	unknown := ""
	if len(missing) > 0 {
		unknown = notChecked + ": no " + strings.Join(missing, ", no ") + " on file; counted as " + d.words.nought + ". Ask: see the list of findings"
	}
	cells := []string{shortJoint(j), d.chainageFigure(at)}
	for _, l := range []measure.MM{j.Gap, j.GapMin, j.GapMax, b.Room, b.Turn, b.Grade, b.Square, b.Reserve, b.Left} {
		cells = append(cells, d.fine(l))
	}
	if grade := 7; !levelled {
		cells[grade] = "–" // nobody knows, so it is no nought
	}
	return ledgerRow{cells: append(cells, notes.all(j.Note, forced, unknown))}
}

// levelled reports whether the plan has a level for the places of a leg.
func (d *draft) levelled(leg string) bool {
	return slices.ContainsFunc(d.plan.SetOut, func(r planner.SetOut) bool { return r.Leg == leg && r.Level != nil })
}

// shortJoint is a joint's name within its leg: 004/005.
func shortJoint(j planner.Joint) string {
	first, second, ok := strings.Cut(j.Name, "/")
	if !ok {
		return j.Name
	}
	return strings.TrimPrefix(first, j.Leg+"-") + "/" + strings.TrimPrefix(second, j.Leg+"-")
}

// fine is a small length that the sheet's rounding would hide: tenths of a millimetre, thousandths of an inch.
func (d *draft) fine(l measure.MM) string {
	if d.style.Format.System == measure.Imperial {
		return fmt.Sprintf("%.3f", math.Round(mm(l)/25.4*1000)/1000)
	}
	return measure.Format{Places: 1}.Figure(measure.Length(l))
}

// fineName is what fine figures are in, fineUnit what they are rounded to.
func (d *draft) fineName() string {
	if d.style.Format.System == measure.Imperial {
		return "inches"
	}
	return d.lengthUnit()
}

func (d *draft) fineUnit() string {
	if d.style.Format.System == measure.Imperial {
		return d.fineName() + ", to the nearest 0.001"
	}
	return d.fineName() + ", to the nearest 0.1"
}

const noJoint = "Where no joint may stand"

// zoneLedgers are where no joint may stand, and where joints may stand but nothing cut may lie.
func (d *draft) zoneLedgers() []ledger {
	none := d.zoneLedger(noJoint, d.plan.Zones)
	none.notes = []ledgerNote{{text: "This lists what was recorded here. Nothing recorded does not mean that nothing is there"}}
	cut := d.zoneLedger("Where joints may stand, and no cut "+d.words.unit+" or "+d.words.cover+" may lie", d.plan.NoCuts)
	cut.beside = true
	return []ledger{none, cut}
}

func (d *draft) zoneLedger(title string, zones []planner.Zone) ledger {
	l := ledger{title: title, most: mostSheets, columns: []ledgerColumn{
		{head: "leg"}, {head: d.chainageHead("from"), right: true}, {head: d.chainageHead("to"), right: true}, {head: "why", most: 40}, {head: "cut pieces"}, {head: "id"},
	}}
	for _, leg := range d.plan.Legs {
		g := ledgerGroup{name: leg.Name}
		at := func(l measure.MM) string { return d.chainageFigure(length(chainageAt(leg, mm(l)))) }
		for _, z := range zones {
			if z.Leg != leg.Name {
				continue
			}
			cut := ""
			if z.NoCut && title == noJoint {
				cut = "none may lie here"
			}
			g.rows = append(g.rows, ledgerRow{cells: []string{at(z.From), at(z.To), strings.Replace(z.Why, "buried service", d.words.service, 1), cut, z.ID}})
		}
		if len(g.rows) > 0 {
			l.groups = append(l.groups, g)
		}
	}
	return l
}
