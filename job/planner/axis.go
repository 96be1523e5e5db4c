package planner

import (
	"trenchwright/base/measure"
	"trenchwright/place/route"
)

// axis is the laying axis of one leg. Units are rigid and lie on the slope, so the axis runs along it. 0 is the outer face
// of the unit at the from end.
type axis struct {
	line       route.Line
	lie        lie
	start, end face
	clear      measure.Length // from outer face to outer face, on the axis
}

func newAxis(line route.Line, l lie, start, end face) axis {
	return axis{line: line, lie: l, start: start, end: end, clear: l.slope(line.Length()) - start.setback - end.setback}
}

// on is the axis station of a chainage from the leg's from node.
func (a axis) on(chainage measure.Length) measure.Length {
	return a.lie.slope(chainage) - a.start.setback
}

// chainage is the chainage from the from node of a station on the axis.
func (a axis) chainage(at measure.Length) measure.Length { return a.lie.chainage(at + a.start.setback) }

// point is the place in plan of a station on the axis.
func (a axis) point(at measure.Length) route.Point { return a.line.At(a.chainage(at)).At }

// curve is a stretch of the axis with one curvature.
type curve struct {
	from, to measure.Length // on the axis
	radius   measure.Length // right turn positive, 0 straight
}

// curves are the stretches of the axis from 0 to its clear length.
func (a axis) curves() []curve {
	var out []curve
	for _, s := range a.line.Stretches() {
		c := curve{max(a.on(s.From), 0), min(a.on(s.To), a.clear), s.Radius}
		if c.to > c.from {
			out = append(out, c)
		}
	}
	return out
}
