package planner

import (
	"math"

	"trenchwright/base/measure"
	"trenchwright/place/route"
)

// axis is the laying axis of one leg. Units are rigid and lie on the slope, so the axis runs along it: its lengths are
// the plan lengths of the leg times stretch. 0 is the outer face of the unit at the from end.
type axis struct {
	line       route.Line
	stretch    float64 // slope length over plan length, at least 1
	start, end face
	clear      measure.Length // from outer face to outer face, on the axis
}

// newAxis lays the axis between two faces. rise is the difference of the nodes' levels.
func newAxis(line route.Line, rise measure.Length, start, end face) axis {
	a := axis{line: line, stretch: 1, start: start, end: end}
	plan := line.Length()
	if rise != 0 && plan > 0 {
		s := rise.Metres() / plan.Metres()
		a.stretch = math.Sqrt(1 + float64(s*s))
	}
	a.clear = a.slope(plan) - start.setback - end.setback
	return a
}

// slope is a plan length as it counts along the axis, rounded once.
func (a axis) slope(l measure.Length) measure.Length {
	if a.stretch == 1 {
		return l
	}
	return measure.FromMetres(l.Metres() * a.stretch)
}

// on is the axis station of a chainage from the leg's from node.
func (a axis) on(chainage measure.Length) measure.Length { return a.slope(chainage) - a.start.setback }

// chainage is the chainage from the from node of a station on the axis.
func (a axis) chainage(at measure.Length) measure.Length {
	at += a.start.setback
	if a.stretch == 1 {
		return at
	}
	return measure.FromMetres(at.Metres() / a.stretch)
}

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
