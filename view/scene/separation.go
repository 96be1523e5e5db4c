package scene

import "math"

// overlapDepth is how far two turned rectangles reach into each other along
// the axis that parts them best; 0 or less when an axis parts them.
func overlapDepth(a, b [4]Point) float64 {
	depth := math.Inf(1)
	for _, axis := range append(axes(a), axes(b)...) {
		aLow, aHigh := shadow(a[:], axis)
		bLow, bHigh := shadow(b[:], axis)
		depth = math.Min(depth, math.Min(aHigh-bLow, bHigh-aLow))
	}
	return depth
}

func axes(q [4]Point) []Point {
	return []Point{q[1].Sub(q[0]).Unit(), q[2].Sub(q[1]).Unit()}
}

func shadow(points []Point, axis Point) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range points {
		d := dot(p, axis)
		low, high = math.Min(low, d), math.Max(high, d)
	}
	return low, high
}

// past is how far a turned rectangle reaches out of an area, looked at in a
// grid of places; 0 only when no edge of the area runs through the rectangle.
func (h holder) past(q [4]Point) float64 {
	const across, down = 16, 4
	edges := seenShape{contours: h.contours, fill: true}
	cut := edges.strokes(q, -clearance)
	if !cut && inside(h.contours, between(q[0], q[2], 0.5)) {
		return 0
	}
	worst := 0.0
	if cut {
		worst = 2 * clearance
	}
	for i := range across + 1 {
		top, bottom := between(q[0], q[1], float64(i)/across), between(q[3], q[2], float64(i)/across)
		for j := range down + 1 {
			if p := between(top, bottom, float64(j)/down); !inside(h.contours, p) {
				worst = math.Max(worst, distance(h.contours, p))
			}
		}
	}
	return worst
}

// inside reports whether p lies in contours by the non-zero rule.
func inside(contours []Contour, p Point) bool {
	winding := 0
	for _, c := range contours {
		for i, a := range c.Points {
			b := c.Points[(i+1)%len(c.Points)]
			if (a.Y <= p.Y) == (b.Y <= p.Y) {
				continue
			}
			side := cross(b.Sub(a), p.Sub(a))
			if b.Y > a.Y && side > 0 {
				winding++
			} else if b.Y < a.Y && side < 0 {
				winding--
			}
		}
	}
	return winding != 0
}

// distance is that from p to the nearest edge of closed contours.
func distance(contours []Contour, p Point) float64 {
	near := math.Inf(1)
	for _, c := range contours {
		for i, a := range c.Points {
			near = math.Min(near, segmentDistance(p, a, c.Points[(i+1)%len(c.Points)]))
		}
	}
	return near
}

func segmentDistance(p, a, b Point) float64 {
	way := b.Sub(a)
	l2 := dot(way, way)
	t := 0.0
	if l2 > 0 {
		t = math.Max(0, math.Min(1, dot(p.Sub(a), way)/l2))
	}
	return p.Sub(between(a, b, t)).Length()
}

// hides reports whether a fill covers a turned rectangle: its corners lie
// inside and no edge of the fill runs through it.
func (s seenShape) hides(q [4]Point) bool {
	for _, p := range q {
		if !inside(s.contours, p) && distance(s.contours, p) > clearance {
			return false
		}
	}
	return !s.strokes(q, -clearance)
}

// crosses reports whether a shape's paint reaches a turned rectangle: a fill
// that lies over it, or a stroke with the width of its pen.
func (s seenShape) crosses(q [4]Point) bool {
	if middle := between(q[0], q[2], 0.5); s.fill && inside(s.contours, middle) && s.shown(middle) {
		return true
	}
	return s.strokes(q, s.reach-clearance)
}

// strokes reports whether an edge comes nearer to a turned rectangle than
// reach; a negative reach shrinks the rectangle.
func (s seenShape) strokes(q [4]Point, reach float64) bool {
	along, up := q[1].Sub(q[0]), q[1].Sub(q[2])
	u, v := along.Unit(), up.Unit()
	origin := q[3]
	halfW, halfH := float64(along.Length()/2), float64(up.Length()/2)
	local := func(p Point) Point {
		d := p.Sub(origin)
		return Point{dot(d, u) - halfW, dot(d, v) - halfH}
	}
	for _, c := range s.contours {
		n0 := len(c.Points)
		n := n0
		if !c.Closed && !s.fill {
			n--
		}
		for i := range max(n, 0) {
			a, b := c.Points[i], c.Points[(i+1)%n0]
			from, to := entry(local(a), local(b), halfW+reach, halfH+reach)
			if from < to && s.shownBetween(between(a, b, from), between(a, b, to)) {
				return true
			}
		}
	}
	return false
}

// shown reports whether no clip takes the paint at p away.
func (s seenShape) shown(p Point) bool {
	for _, clip := range s.clips {
		if !inside(clip, p) {
			return false
		}
	}
	return true
}

// shownBetween looks along a stretch for a place where paint is left.
func (s seenShape) shownBetween(a, b Point) bool {
	const looks = 8
	for i := range looks {
		if s.shown(between(a, b, (float64(i)+0.5)/looks)) {
			return true
		}
	}
	return false
}

// entry is the part of a segment, from 0 to 1, that lies in the box |x| < w,
// |y| < h; from is not below to when none does.
func entry(a, b Point, w, h float64) (from, to float64) {
	if w <= 0 || h <= 0 {
		return 1, 0
	}
	to = 1
	for _, axis := range [2][3]float64{{a.X, b.X - a.X, w}, {a.Y, b.Y - a.Y, h}} {
		at, way, half := axis[0], axis[1], axis[2]
		if way == 0 {
			if math.Abs(at) >= half {
				return 1, 0
			}
			continue
		}
		t0, t1 := (-half-at)/way, (half-at)/way
		from, to = math.Max(from, math.Min(t0, t1)), math.Min(to, math.Max(t0, t1))
	}
	return from, to
}
