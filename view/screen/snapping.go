package screen

import (
	"math"
	"strconv"

	"trenchwright/job/edit"
	"trenchwright/job/planner"
)

// snap draws what the first edit drags to what is near it, and says to what.
func (d *Desk) snap(e *edit.Edit, s Snap, on *draft, out *Sketch) {
	if e.Radius != nil {
		d.snapRadius(e, s, on, out)
		return
	}
	if e.Place == nil {
		return
	}
	q := edit.Snapping{Within: s.Within, Grid: s.Grid}
	var points []string
	for _, n := range d.plan.Nodes {
		if n.ID != e.Node || e.Op == edit.Extend {
			q.Points, points = append(q.Points, n.At), append(points, n.ID)
		}
	}
	lines := d.drawnBy(e, &q)
	for i := range q.From { // the grid goes by the coordinates that people read
		if s.Grid > 0 {
			q.From[i] = -math.Mod(d.plan.Job.Origin[i], s.Grid)
		}
	}
	east, north := d.plan.Job.Origin[0]-e.Origin[0], d.plan.Job.Origin[1]-e.Origin[1] // Place is relative to the edit's own origin
	got := edit.Snap([2]float64{e.Place[0] - east, e.Place[1] - north}, q)
	if got.To == "" {
		return
	}
	out.Place, out.Drawn = new(got.Place), got.To
	switch got.To {
	case "point":
		out.DrawnTo = "onto " + points[got.Of]
	case "straight":
		out.DrawnTo, out.Guide = "straight on from leg "+lines[got.Of], new(q.Lines[2*got.Of+1])
	case "right angle":
		out.DrawnTo, out.Guide = "square to leg "+lines[got.Of], new(q.Lines[2*got.Of+1])
	case "grid":
		out.DrawnTo = "to full " + steps(s.Grid/on.metres, on.unit)
	}
	e.Place = &[2]float64{got.Place[0] + east, got.Place[1] + north}
}

// drawnBy adds the legs whose straight continuation or right angle draws what an edit drags: those that end where legs end that it
// moves. Their names come back, one for each line.
func (d *Desk) drawnBy(e *edit.Edit, q *edit.Snapping) []string {
	nodes := map[string][2]float64{}
	for _, n := range d.plan.Nodes {
		nodes[n.ID] = n.At
	}
	moves := func(l planner.Leg) bool {
		return e.Op == edit.MoveNode && (l.From == e.Node || l.To == e.Node) || e.Op == edit.InsertBend && l.Name == e.Leg
	}
	beside := map[string]bool{} // nodes from which the dragged one is seen
	if e.Op == edit.Extend {
		beside[e.Node] = true
	}
	for _, l := range d.plan.Legs {
		if moves(l) {
			beside[l.From], beside[l.To] = true, true
		}
	}
	if e.Op == edit.MoveNode {
		delete(beside, e.Node)
	}
	var names []string
	for _, l := range d.plan.Legs {
		switch {
		case moves(l):
		case beside[l.To]:
			q.Lines, names = append(q.Lines, nodes[l.From], nodes[l.To]), append(names, l.Name)
		case beside[l.From]:
			q.Lines, names = append(q.Lines, nodes[l.To], nodes[l.From]), append(names, l.Name)
		}
	}
	return names
}

// snapRadius draws a radius to full steps.
func (d *Desk) snapRadius(e *edit.Edit, s Snap, on *draft, out *Sketch) {
	if s.Grid <= 0 {
		return
	}
	r := math.Max(1, math.Round(*e.Radius/s.Grid)) * s.Grid
	e.Radius, out.Radius = new(r), new(r)
	unit, name := 1.0, "m"
	if on.speech.Imperial {
		unit, name = 0.3048, "ft"
	}
	out.Drawn, out.DrawnTo = "step", "to full "+steps(s.Grid/unit, name)
}

// steps is what a grid goes by, in its unit.
func steps(of float64, unit string) string {
	return strconv.FormatFloat(math.Round(of*1000)/1000, 'f', -1, 64) + " " + unit
}
