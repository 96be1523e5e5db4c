package scene

import "math"

// A Verb is what one Step of an outline does.
type Verb uint8

// The verbs, with the points that each uses.
const (
	MoveTo  Verb = iota // To
	LineTo              // To
	CurveTo             // First, Second, To: a cubic curve
	Close               // none
)

// A Step is one move of the pen along an outline.
type Step struct {
	Verb          Verb
	First, Second Point // handles of a CurveTo
	To            Point
}

// An Outline is any number of open or closed contours. It is filled by the
// non-zero rule: a hole is a contour that runs the other way round (see
// Without). The zero value has no contour.
type Outline []Step

// arcPiece is the largest arc that one cubic curve stands for. At 22.5° the
// curve leaves the circle by less than 7e-8 of its radius: 0.7 µm at 10 m.
const arcPiece = math.Pi / 8

// Move starts a contour at p.
func (o *Outline) Move(p Point) { *o = append(*o, Step{Verb: MoveTo, To: p}) }

// Line goes straight to p; the first step of an outline starts there instead.
func (o *Outline) Line(p Point) {
	if len(*o) == 0 {
		o.Move(p)
		return
	}
	*o = append(*o, Step{Verb: LineTo, To: p})
}

// Curve goes to p along a cubic curve with handles a and b.
func (o *Outline) Curve(a, b, p Point) {
	*o = append(*o, Step{Verb: CurveTo, First: a, Second: b, To: p})
}

// Close goes back to the start of the contour.
func (o *Outline) Close() { *o = append(*o, Step{Verb: Close}) }

// Arc goes along a circle about a centre, from the direction start through
// sweep degrees, counter-clockwise where sweep is positive. A straight line
// joins it to what was drawn before.
func (o *Outline) Arc(centre Point, radius, start, sweep float64) {
	pieces := int(math.Ceil(math.Abs(sweep) * math.Pi / 180 / arcPiece))
	step := sweep / float64(max(pieces, 1))
	handle := radius * 4 / 3 * math.Tan(step*math.Pi/180/4)
	u := Direction(start)
	o.Line(centre.Add(u.Times(radius)))
	for i := range pieces {
		v := Direction(start + float64(step*float64(i+1)))
		o.Curve(
			centre.Add(u.Times(radius)).Add(u.Left().Times(handle)),
			centre.Add(v.Times(radius)).Sub(v.Left().Times(handle)),
			centre.Add(v.Times(radius)))
		u = v
	}
}

// Polyline is the open outline through the points.
func Polyline(points ...Point) Outline {
	o := make(Outline, 0, len(points)+1)
	for i, p := range points {
		if i == 0 {
			o.Move(p)
			continue
		}
		o.Line(p)
	}
	return o
}

// Polygon is the closed outline through the points.
func Polygon(points ...Point) Outline {
	o := Polyline(points...)
	if len(o) > 0 {
		o.Close()
	}
	return o
}

// Rectangle is the outline of a box.
func Rectangle(b Box) Outline {
	c := b.corners()
	return Polygon(c[:]...)
}

// Circle is the closed outline of a circle.
func Circle(centre Point, radius float64) Outline {
	var o Outline
	o.Arc(centre, radius, 0, 360)
	o.Close()
	return o
}

// Without is the outline with holes cut out of it. Each hole is one contour
// inside the first contour of o; it is turned to run the other way round where
// it does not.
func (o Outline) Without(holes ...Outline) Outline {
	all := append(Outline{}, o...)
	outer := o.area()
	for _, hole := range holes {
		if hole.area() > 0 == (outer > 0) {
			hole = hole.reversed()
		}
		all = append(all, hole...)
	}
	return all
}

// area is twice the signed area of the corners, handles included: its sign
// says which way round a plain contour runs.
func (o Outline) area() float64 {
	var sum float64
	var start, at Point
	to := func(p Point) { sum, at = sum+cross(at, p), p }
	for _, s := range o {
		switch s.Verb {
		case MoveTo:
			start, at = s.To, s.To
		case LineTo:
			to(s.To)
		case CurveTo:
			to(s.First)
			to(s.Second)
			to(s.To)
		case Close:
			to(start)
		}
	}
	return sum + cross(at, start)
}

// reversed is one contour run the other way round.
func (o Outline) reversed() Outline {
	var r Outline
	closed := false
	for i := len(o) - 1; i >= 0; i-- {
		s := o[i]
		if s.Verb == Close {
			closed = true
			continue
		}
		if len(r) == 0 {
			r.Move(s.To)
		}
		switch s.Verb {
		case LineTo:
			r.Line(o[i-1].To)
		case CurveTo:
			r.Curve(s.Second, s.First, o[i-1].To)
		}
	}
	if closed {
		r.Close()
	}
	return r
}

// Under is the outline carried over by a transform.
func (o Outline) Under(t Transform) Outline {
	if t == (Transform{}) {
		return o
	}
	r := make(Outline, len(o))
	for i, s := range o {
		r[i] = Step{s.Verb, t.Apply(s.First), t.Apply(s.Second), t.Apply(s.To)}
	}
	return r
}

// A Contour is one contour of an outline in straight pieces.
type Contour struct {
	Points []Point
	Closed bool
}

// Flat is the outline in straight pieces that leave the curves by no more than
// the tolerance in mm. A contour of a single point stays one.
func (o Outline) Flat(tolerance float64) []Contour {
	var all []Contour
	var now Contour
	end := func() {
		if len(now.Points) > 0 {
			all = append(all, now)
		}
		now = Contour{}
	}
	for _, s := range o {
		switch s.Verb {
		case MoveTo:
			end()
			now.Points = append(now.Points, s.To)
		case LineTo:
			now.Points = append(now.Points, s.To)
		case CurveTo:
			now.Points = flatten(now.Points, s, tolerance)
		case Close:
			if len(now.Points) == 0 {
				continue
			}
			start := now.Points[0]
			now.Closed = true
			end()
			now.Points = append(now.Points, start) // where the pen is, should another line follow
		}
	}
	if len(now.Points) > 1 || len(now.Points) == 1 && (len(all) == 0 || o[len(o)-1].Verb != Close) {
		end()
	}
	return all
}

// flatten adds points along a cubic curve. With d the larger second difference
// of its points, the second derivative is at most 6·d, so each of n equal
// pieces leaves its chord by at most 6·d/(8·n²).
func flatten(to []Point, s Step, tolerance float64) []Point {
	if len(to) == 0 {
		return append(to, s.To)
	}
	from := to[len(to)-1]
	d := math.Max(
		from.Sub(s.First.Times(2)).Add(s.Second).Length(),
		s.First.Sub(s.Second.Times(2)).Add(s.To).Length())
	n := int(math.Ceil(math.Sqrt(0.75 * d / tolerance)))
	n = min(max(n, 1), 1000)
	for i := 1; i < n; i++ {
		to = append(to, curvePoint(from, s, float64(i)/float64(n)))
	}
	return append(to, s.To)
}

func curvePoint(from Point, s Step, t float64) Point {
	a, b, c := between(from, s.First, t), between(s.First, s.Second, t), between(s.Second, s.To, t)
	return between(between(a, b, t), between(b, c, t), t)
}

// bounds is the box round all points and handles.
func (o Outline) bounds() Box {
	b := Box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	grow := func(p Point) {
		b.Left, b.Top = math.Min(b.Left, p.X), math.Min(b.Top, p.Y)
		b.Right, b.Bottom = math.Max(b.Right, p.X), math.Max(b.Bottom, p.Y)
	}
	for _, s := range o {
		switch s.Verb {
		case CurveTo:
			grow(s.First)
			grow(s.Second)
			grow(s.To)
		case MoveTo, LineTo:
			grow(s.To)
		}
	}
	if b.Left > b.Right {
		return Box{}
	}
	return b
}
