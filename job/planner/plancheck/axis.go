package plancheck

import (
	"math"
	"strconv"

	"trenchwright/base/measure"
)

// vec is a place or a direction in plan: easting and northing in grid metres from the job's origin.
type vec struct{ e, n float64 }

func at(p [2]float64) vec         { return vec{p[0], p[1]} }
func (a vec) plus(b vec) vec      { return vec{a.e + b.e, a.n + b.n} }
func (a vec) minus(b vec) vec     { return vec{a.e - b.e, a.n - b.n} }
func (a vec) times(f float64) vec { return vec{a.e * f, a.n * f} }
func (a vec) length() float64     { return math.Hypot(a.e, a.n) }
func (a vec) dot(b vec) float64   { return a.e*b.e + a.n*b.n }
func (a vec) left() vec           { return vec{-a.n, a.e} }
func (a vec) unit() vec           { return a.times(1 / a.length()) }
func (a vec) bearing() float64    { return math.Mod(math.Atan2(a.e, a.n)*180/math.Pi+360, 360) }
func (a vec) turned(rad float64) vec {
	return a.times(math.Cos(rad)).minus(a.left().times(math.Sin(rad)))
}                                     // right positive
func towards(bearing float64) vec     { return vec{0, 1}.turned(bearing * math.Pi / 180) }
func turn(from, to float64) float64   { return math.Remainder(to-from, 360) } // degrees, right positive
func tangent(degrees float64) float64 { return math.Tan(degrees * math.Pi / 180) }

// axis is a leg's centreline. A place on it is told on the laying axis, which runs along the slope where there is one.
type axis struct {
	parts []axisPt
	slope slope
	whole nm      // laying axis from node to node: both set-backs and the clear length
	plan  nm      // from node to node in plan
	drawn nm      // the same as the parts count it
	front nm      // set-back at the from node
	grid  float64 // combined scale factor, grid over ground
}

// axisOf makes the axis of l, which lies on s; grid is the combined scale factor, grid over ground.
func axisOf(l *leg, s slope, grid float64) axis {
	a := axis{parts: l.Axis, slope: s, plan: l.NodeLength, front: l.StartSetback, whole: l.StartSetback + l.ClearLength + l.EndSetback, grid: grid}
	if n := len(l.Axis); n > 0 {
		a.drawn = l.Axis[n-1].To - l.Axis[0].From
	}
	return a
}

// grade is the rise over run at x on the laying axis.
func (a axis) grade(x nm) float64 { return a.slope.grade(float64(x + a.front)) }

// chainage is a station of the laying axis as it is counted from the leg's from node, in plan.
func (a axis) chainage(x nm) nm { return nm(math.Round(a.slope.chainage(float64(x + a.front)))) }

// on is the converse: a chainage from the from node as a station of the laying axis.
func (a axis) on(chainage measure.Length) nm {
	return nm(math.Round(a.slope.along(float64(chainage)))) - a.front
}

// scale is grid metres in plan for each metre of the laying axis at x.
func (a axis) scale(x nm) float64 { return a.grid / math.Hypot(1, a.grade(x)) }

// scaleFrom is that at the end of the leg that f stands at.
func (a axis) scaleFrom(f face) float64 {
	if f.arrives {
		return a.scale(a.whole - a.front)
	}
	return a.scale(-a.front)
}

// curved tells whether any part has a radius.
func (a axis) curved() bool {
	for _, p := range a.parts {
		if p.Radius != 0 {
			return true
		}
	}
	return false
}

// bent is what a piece from one place to another may miss its chord by, in nanometres. Where a tangent point lies under
// it, it advances by one curvature and lies on two: with θ the turn over its length l that is at most l·θ²/24. On a grade
// s a curve is part of a helix, which its radius in plan misses by some s² of the same.
func (a axis) bent(from, to nm) float64 {
	low, high := a.drawnAt(from), a.drawnAt(to)
	parts, sharpest := 0, math.Inf(1)
	for _, p := range a.parts {
		if float64(p.To) > low-slack && float64(p.From) < high+slack { // what begins at a tangent point may count to either side
			parts++
			if p.Radius != 0 {
				sharpest = math.Min(sharpest, math.Abs(p.Radius))
			}
		}
	}
	θ := (to - from).metres() / sharpest
	most := float64(to-from) * θ * θ / 24
	if parts < 2 {
		steepest := math.Max(math.Abs(a.grade(from)), math.Abs(a.grade(to)))
		return 3 * steepest * steepest * most
	}
	return most
}

// drawnAt is a station of the laying axis as the parts of the axis count it.
func (a axis) drawnAt(x nm) float64 {
	return float64(a.parts[0].From) + a.slope.chainage(float64(x+a.front))*(float64(a.drawn)/float64(a.plan))
}

// place is the point at x on the laying axis and the direction of the leg there.
func (a axis) place(x nm) (vec, vec) {
	if len(a.parts) == 0 || a.plan <= 0 {
		return vec{}, vec{1, 0}
	}
	ch := a.drawnAt(x)
	p := a.parts[len(a.parts)-1]
	for _, q := range a.parts {
		if ch <= float64(q.To) {
			p = q
			break
		}
	}
	from, to := at(p.Start), at(p.End)
	t := (ch - float64(p.From)) / float64(p.To-p.From)
	chord := to.minus(from)
	if p.Radius == 0 {
		return from.plus(chord.times(t)), chord.unit()
	}
	// The arc turns by 2·asin(chord/2R); its middle lies on the chord's bisector, to the right for a right turn.
	r := math.Abs(p.Radius)
	half := math.Asin(math.Min(1, chord.length()/(2*r)))
	side := math.Copysign(1, p.Radius)
	centre := from.plus(chord.times(0.5)).minus(chord.unit().left().times(side * r * math.Cos(half)))
	arm := from.minus(centre).turned(side * 2 * half * t)
	along := arm.unit().left().times(-side)
	return centre.plus(arm), along
}

// scale is the combined scale factor that the plan states; 1 where it states none.
func (c *checker) scale() float64 {
	if f, err := strconv.ParseFloat(c.plan.Job.ScaleFactor, 64); err == nil && f > 0 {
		return f
	}
	return 1
}
