package drawing

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/job/planner"
)

// scheduleLedger is what is laid, leg by leg in laying order.
func (d *draft) scheduleLedger() ledger {
	l := ledger{title: capital(d.words.units), columns: []ledgerColumn{
		{head: "leg"}, {head: "place", bold: true}, {head: "lay"}, {head: d.lengthHead("length"), right: true}, {head: d.chainageHead("from"), right: true},
		{head: "saw"}, {head: d.massHead("mass"), right: true}, {head: "see"},
	}}
	var notes letters
	for i, leg := range d.plan.Legs {
		g := ledgerGroup{name: leg.Name}
		for _, u := range d.laid(i) {
			g.rows = append(g.rows, d.scheduleRow(d.plan.Units[u], &notes))
		}
		if len(g.rows) == 0 {
			g.rows = []ledgerRow{{cells: []string{"", "nothing laid", "", "", "", "", notes.letter(d.verdict(leg))}}}
		}
		l.groups = append(l.groups, g)
	}
	l.notes = append([]ledgerNote{{text: d.layingNote()}}, notes.notes...)
	return l
}

// laid are the units of a leg in the order in which they are laid.
func (d *draft) laid(leg int) []int {
	units := slices.Clone(d.of[leg])
	if l := d.plan.Legs[leg]; l.LaidFrom == l.To && l.LaidFrom != l.From {
		slices.Reverse(units)
	}
	return units
}

// layingNote says how to read the schedule.
func (d *draft) layingNote() string {
	text := fmt.Sprintf("plain: any %s of that length and supply. cut, %s: the piece that carries the mark of this place. ", d.words.unit, d.words.mitred)
	if slices.ContainsFunc(d.plan.Units, func(u planner.Unit) bool { return u.Hold }) {
		text += "HOLD: cut from measurement. "
	}
	text += "Places are counted as they are laid"
	for _, l := range d.plan.Legs {
		if l.LaidFrom != "" && l.LaidFrom != l.From {
			text += fmt.Sprintf("; leg %s is laid from %s, against its %s", l.Name, l.LaidFrom, d.words.chainage)
		}
	}
	return text
}

func (d *draft) scheduleRow(u planner.Unit, notes *letters) ledgerRow {
	word := "plain"
	switch {
	case u.Hold:
		word = "HOLD"
	case u.StartAngle != 0 || u.EndAngle != 0:
		word = d.words.mitred
	case u.Cut:
		word = "cut"
	}
	if other := u.Supply; other != d.legSupply(u.Leg) {
		word += ", supply " + other
	}
	saw := ""
	if u.StartAngle != 0 {
		saw = "start " + faceWords(u.StartAngle, true, true)
	}
	if u.EndAngle != 0 {
		saw = joined("; ", saw, "end "+faceWords(u.EndAngle, true, false))
	}
	look := []string{u.Demands}
	how := d.made[u.Supply].head.Lifting
	if u.Piece != nil && u.Piece.Lift != how {
		look = append(look, "lifting: "+u.Piece.Lift)
	} else if strings.HasPrefix(how, notChecked) {
		look = append(look, "lifting: "+how)
	}
	mass := ""
	if u.Mass != nil {
		mass = d.massFigure(*u.Mass)
	} else {
		look = append(look, d.mass(nil, "the supplier"))
	}
	see := notes.all(look...)
	return ledgerRow{cells: []string{u.Mark, word, d.figure(u.Length), d.chainageFigure(u.Chainage), saw, mass, see}}
}

// coverLedger is what lies on each unit. Units one after another with the same covers, none of them cut, share a row.
func (d *draft) coverLedger() ledger {
	l := ledger{title: capital(d.words.covers), most: mostSheets, columns: []ledgerColumn{
		{head: "leg"}, {head: "on", bold: true}, {head: d.words.covers + ", from the start of each " + d.words.unit, most: 52},
	}, notes: []ledgerNote{{text: "Lengths on the axis in " + d.lengthUnit() + "; of a cut " + d.words.cover + " also both sides and what it is cut from. The exact place of every " + d.words.cover + " stands in tables.xlsx"}}}
	for i, leg := range d.plan.Legs {
		g := ledgerGroup{name: leg.Name}
		first, last, same := "", "", ""
		flush := func() {
			switch {
			case first == "":
				return
			case first != last:
				first += " to " + last
			}
			g.rows = append(g.rows, ledgerRow{cells: []string{first, same}})
			first = ""
		}
		for _, u := range d.laid(i) {
			mark := d.plan.Units[u].Mark
			text, plain := d.coverWords(mark)
			if !plain || text != same {
				flush()
			}
			if first == "" {
				first, same = mark, text
			}
			if last = mark; !plain {
				flush()
			}
		}
		flush()
		if len(g.rows) > 0 {
			l.groups = append(l.groups, g)
		}
	}
	return l
}

// coverWords are the covers on a unit in order, equal ones counted: 3 × 996; and whether none of them is cut.
func (d *draft) coverWords(mark string) (text string, plain bool) {
	plain = true
	var parts []string
	covers := d.covers[mark]
	for i := 0; i < len(covers); {
		c := d.plan.Covers[covers[i]]
		if c.Cut {
			plain = false
			sides := "both sides " + d.figure(c.LeftSide)
			if c.LeftSide != c.RightSide {
				sides = fmt.Sprintf("left %s, right %s", d.figure(c.LeftSide), d.figure(c.RightSide))
			}
			parts = append(parts, fmt.Sprintf("%s cut %s (%s; from %s)", c.Mark, d.figure(c.Length), sides, c.CutFrom))
			i++
			continue
		}
		n := i
		for n < len(covers) && !d.plan.Covers[covers[n]].Cut && d.plan.Covers[covers[n]].Length == c.Length {
			n++
		}
		one := d.figure(c.Length)
		if n-i > 1 {
			one = fmt.Sprintf("%d × %s", n-i, one)
		}
		parts = append(parts, one)
		i = n
	}
	if len(parts) == 0 {
		return "none", true
	}
	return strings.Join(parts, " · "), plain
}
