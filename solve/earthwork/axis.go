package earthwork

import (
	"math"

	"trenchwright/place/route"
)

// axis is a leg's line in plan, asked by chainage in ground metres. Before its start and past its end it goes straight on.
type axis struct {
	parts  []part
	length float64
	scale  float64 // grid / ground
}

// part is one straight or one arc of an axis.
type part struct {
	from, to float64 // chainages
	at       route.Point
	along    route.Vector
	curve    float64 // 1/m on the ground, right turn positive
	centre   route.Point
	radius   float64 // grid metres, right turn positive
}

func newAxis(l route.Line) axis {
	a := axis{length: l.Length().Metres(), scale: l.Scale()}
	for _, e := range l.Elements() {
		p := l.At(e.Start)
		one := part{from: e.Start.Metres(), to: e.End().Metres(), at: p.At, along: p.Along}
		if e.Radius != 0 {
			one.curve, one.centre, one.radius = a.scale/e.Radius, e.Centre, e.Radius
		}
		a.parts = append(a.parts, one)
	}
	if n := len(a.parts); n > 0 {
		first, last := l.Start(), l.End()
		a.parts = append([]part{{from: math.Inf(-1), to: 0, at: first.At, along: first.Along}}, a.parts...)
		a.parts = append(a.parts, part{from: a.length, to: math.Inf(1), at: last.At, along: last.Along})
	}
	return a
}

// part is the part that holds a chainage; at a joint the later one.
func (a axis) part(x float64) part {
	low, high := 0, len(a.parts)-1
	for low < high {
		if mid := (low + high + 1) / 2; a.parts[mid].from <= x {
			low = mid
		} else {
			high = mid - 1
		}
	}
	return a.parts[low]
}

// pose is the place and the direction at a chainage on part p.
func (a axis) pose(p part, x float64) route.Pose {
	from := p.from
	if math.IsInf(from, -1) {
		from = 0
	}
	run := float64((x - from) * a.scale)
	if p.radius == 0 {
		return route.Pose{At: p.at.Plus(p.along.Times(run)), Along: p.along}
	}
	turn := run / p.radius
	out := p.at.Minus(p.centre).Turned(turn)
	return route.Pose{At: p.centre.Plus(out), Along: p.along.Turned(turn)}
}

// of is the chainage of a place on the straight or arc that part p belongs to.
func (a axis) of(p part, q route.Point) float64 {
	from := p.from
	if math.IsInf(from, -1) {
		from = 0
	}
	if p.radius == 0 {
		return from + q.Minus(p.at).Dot(p.along)/a.scale
	}
	in, out := p.at.Minus(p.centre), q.Minus(p.centre)
	turn := -math.Atan2(float64(in.E*out.N)-float64(in.N*out.E), in.Dot(out)) // right positive
	if p.radius < 0 {
		turn = -turn
	}
	if turn < 0 {
		turn += 2 * math.Pi
	}
	return from + float64(turn*math.Abs(p.radius))/a.scale
}
