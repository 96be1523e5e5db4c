package scene

import "math"

// A Point is a place on the page, or in the coordinates of a Group, in mm.
type Point struct{ X, Y float64 }

// Add is p moved by q.
func (p Point) Add(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Sub is the way from q to p.
func (p Point) Sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Times is p stretched k times from the origin.
func (p Point) Times(k float64) Point { return Point{float64(p.X * k), float64(p.Y * k)} }

// Length is the distance from the origin. (math.Hypot is not used: it is not
// the same machine code everywhere.)
func (p Point) Length() float64 { return math.Sqrt(float64(p.X*p.X) + float64(p.Y*p.Y)) }

// Unit is p with length 1, and the zero Point where p has none.
func (p Point) Unit() Point {
	l := p.Length()
	if l == 0 {
		return Point{}
	}
	return Point{p.X / l, p.Y / l}
}

// Left is p turned a quarter counter-clockwise as the reader sees it.
func (p Point) Left() Point { return Point{p.Y, -p.X} }

// Angle is the direction of p in degrees, counter-clockwise from the right.
func (p Point) Angle() float64 { return math.Atan2(-p.Y, p.X) * 180 / math.Pi }

// Direction is the point at distance 1 in a direction given in degrees. Whole
// quarters are exact.
func Direction(degrees float64) Point {
	switch turn := math.Mod(degrees, 360); turn {
	case 0:
		return Point{1, 0}
	case 90, -270:
		return Point{0, -1}
	case 180, -180:
		return Point{-1, 0}
	case 270, -90:
		return Point{0, 1}
	default:
		s, c := math.Sincos(turn * math.Pi / 180)
		return Point{c, -s}
	}
}

func (p Point) finite() bool { return !math.IsNaN(p.X-p.X) && !math.IsNaN(p.Y-p.Y) }

func dot(a, b Point) float64   { return float64(a.X*b.X) + float64(a.Y*b.Y) }
func cross(a, b Point) float64 { return float64(a.X*b.Y) - float64(a.Y*b.X) }

func between(a, b Point, t float64) Point {
	return Point{a.X + float64((b.X-a.X)*t), a.Y + float64((b.Y-a.Y)*t)}
}

// A Box is an upright rectangle. The zero Box is empty and, where a frame is
// asked for, means "none".
type Box struct{ Left, Top, Right, Bottom float64 }

// BoxAt is the box of a width and a height with its upper left corner at p.
func BoxAt(p Point, width, height float64) Box {
	return Box{p.X, p.Y, p.X + width, p.Y + height}
}

// Width and Height are the sides of the box.
func (b Box) Width() float64  { return b.Right - b.Left }
func (b Box) Height() float64 { return b.Bottom - b.Top }

// Empty reports whether nothing lies inside the box.
func (b Box) Empty() bool { return !(b.Right > b.Left && b.Bottom > b.Top) }

// Centre is the middle of the box.
func (b Box) Centre() Point {
	return Point{float64((b.Left + b.Right) / 2), float64((b.Top + b.Bottom) / 2)}
}

// Corner is the upper left corner.
func (b Box) Corner() Point { return Point{b.Left, b.Top} }

// Inset is the box with each side moved inwards by d.
func (b Box) Inset(d float64) Box { return Box{b.Left + d, b.Top + d, b.Right - d, b.Bottom - d} }

// Union is the smallest box round both; the zero Box adds nothing.
func (b Box) Union(c Box) Box {
	if b == (Box{}) {
		return c
	}
	if c == (Box{}) {
		return b
	}
	return Box{math.Min(b.Left, c.Left), math.Min(b.Top, c.Top), math.Max(b.Right, c.Right), math.Max(b.Bottom, c.Bottom)}
}

func (b Box) corners() [4]Point {
	return [4]Point{{b.Left, b.Top}, {b.Right, b.Top}, {b.Right, b.Bottom}, {b.Left, b.Bottom}}
}

// A Transform carries the coordinates of a Group onto the page:
// x' = A·x + C·y + E, y' = B·x + D·y + F. The zero value changes nothing.
type Transform struct{ A, B, C, D, E, F float64 }

// Identity changes nothing, as the zero Transform does.
func Identity() Transform { return Transform{A: 1, D: 1} }

// Shift moves by dx and dy.
func Shift(dx, dy float64) Transform { return Transform{A: 1, D: 1, E: dx, F: dy} }

// Stretch multiplies x and y; a negative factor mirrors places, never lettering.
func Stretch(x, y float64) Transform { return Transform{A: x, D: y} }

// Turn rotates about the origin, counter-clockwise as the reader sees it.
func Turn(degrees float64) Transform {
	u := Direction(degrees)
	return Transform{A: u.X, B: u.Y, C: -u.Y, D: u.X}
}

// Then is the transform that does t first and u after it.
func (t Transform) Then(u Transform) Transform {
	t, u = t.said(), u.said()
	return Transform{
		A: float64(u.A*t.A) + float64(u.C*t.B), B: float64(u.B*t.A) + float64(u.D*t.B),
		C: float64(u.A*t.C) + float64(u.C*t.D), D: float64(u.B*t.C) + float64(u.D*t.D),
		E: float64(u.A*t.E) + float64(u.C*t.F) + u.E, F: float64(u.B*t.E) + float64(u.D*t.F) + u.F,
	}
}

// Apply is where p comes to lie.
func (t Transform) Apply(p Point) Point {
	if t == (Transform{}) {
		return p
	}
	return Point{float64(t.A*p.X) + float64(t.C*p.Y) + t.E, float64(t.B*p.X) + float64(t.D*p.Y) + t.F}
}

// turned is what becomes of the direction of a line at the angle a.
func (t Transform) turned(a float64) float64 {
	if t == (Transform{}) || t.A == 1 && t.B == 0 && t.C == 0 && t.D == 1 {
		return a
	}
	t.E, t.F = 0, 0
	return t.Apply(Direction(a)).Angle()
}

func (t Transform) said() Transform {
	if t == (Transform{}) {
		return Identity()
	}
	return t
}
