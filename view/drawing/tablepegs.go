package drawing

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/job/planner"
)

// pointLedger is what the run is set out from.
func (d *draft) pointLedger() ledger {
	_, unit, _ := d.coordinateUnit()
	l := ledger{title: "Points to set out from", columns: []ledgerColumn{{head: "kind"}, {head: "name", bold: true}, {head: "easting [" + unit + "]", right: true}, {head: "northing [" + unit + "]", right: true},
		{head: d.levelHead("level"), right: true, bold: true}, {head: "where", most: 60}, {head: "from", most: 60}}}
	for _, kind := range []struct {
		name, one string
		points    []planner.SurveyPoint
	}{{d.words.benchmark + "s", d.words.benchmark, d.plan.Benchmarks}, {"control points", "control point", d.plan.Control}} {
		if len(d.plan.SetOut) == 0 {
			break // there is nothing to set out
		}
		g := ledgerGroup{name: kind.name}
		for _, p := range kind.points {
			g.rows = append(g.rows, ledgerRow{cells: []string{p.ID, d.orNone(p.E), d.orNone(p.N), d.orNone(p.Level), p.Where, p.Source}})
		}
		if len(g.rows) == 0 {
			g.rows = append(g.rows, ledgerRow{cells: []string{"–", "", "", "", notChecked + ": no " + kind.one + " on file. Ask: the surveyor", ""}})
		}
		l.groups = append(l.groups, g)
	}
	return l
}

// pegLedger is the pegs beside the run.
func (d *draft) pegLedger() ledger {
	_, unit, _ := d.coordinateUnit()
	l := ledger{title: "Pegs beside the run", columns: []ledgerColumn{{head: "leg"}, {head: "place", bold: true}, {head: d.chainageHead(d.words.chainage), right: true}, {head: d.depthHead("offset"), right: true, bold: true},
		{head: "easting [" + unit + "]", right: true}, {head: "northing [" + unit + "]", right: true}, {head: d.levelHead("ground at the peg"), right: true},
		{head: d.depthHead("to " + d.words.formation), right: true, bold: true}, {head: d.depthHead("to wall top"), right: true, bold: true}, {head: d.depthHead("edge of the dig"), right: true}, {head: "does not last", most: 22}}}
	drained := d.drained()
	if drained {
		l.columns = slices.Insert(l.columns, 8, ledgerColumn{head: d.depthHead("to drain"), right: true, bold: true})
	}
	for _, leg := range d.plan.Legs {
		g := ledgerGroup{name: leg.Name}
		for _, p := range d.pegsOf(leg.Name) {
			edge, place := "–", d.pegPlace(p)
			if p.Edge != nil {
				edge = d.depthFigure(*p.Edge)
			}
			cells := []string{place, d.chainageFigure(p.Chainage), p.Arrow + " " + d.depthFigure(p.Offset), d.eastNorth(p.E), d.eastNorth(p.N), d.orNone(p.Ground),
				d.pegFigure(p.ToFormation), d.pegFigure(p.ToWall), edge, strings.Join(p.Lost, ", ")}
			if drained {
				cells = slices.Insert(cells, 7, d.pegFigure(d.pegToDrain(p)))
			}
			g.rows = append(g.rows, ledgerRow{cells: cells})
		}
		if len(g.rows) > 0 {
			l.groups = append(l.groups, g)
		}
	}
	l.notes = []ledgerNote{{text: fmt.Sprintf("offset: ← left, → right of the %s, looking %s, measured level and square to it. ↓ cut, ↑ fill from the ground at the peg; –: nothing on file here", d.words.centreline, d.words.upChainage)}}
	for _, f := range d.plan.Findings {
		if f.ID == "planner.pegs-few" || f.ID == "planner.peg-near" {
			l.notes = append(l.notes, ledgerNote{text: f.Text})
		}
	}
	return l
}

// startLines are what the run is set out from, in two lines for the head of a sheet.
func (d *draft) startLines() []string {
	var lines []string
	for _, kind := range []struct {
		name   string
		points []planner.SurveyPoint
	}{{d.words.benchmark, d.plan.Benchmarks}, {"control point", d.plan.Control}} {
		var said []string
		for _, p := range kind.points {
			text := p.ID
			if p.Level != nil {
				text += " level " + d.levelFigure(p.Level)
			}
			if p.E != nil {
				text += " E " + d.eastNorth(*p.E) + " N " + d.eastNorth(*p.N)
			}
			said = append(said, joined(", ", text, p.Where))
		}
		line := capital(kind.name) + "s: " + strings.Join(said, "; ")
		if len(said) == 0 {
			line = notChecked + ": no " + kind.name + " on file. Ask: the surveyor"
		}
		lines = append(lines, line)
	}
	return lines
}
