package route

import (
	"math"

	"trenchwright/base/measure"
)

// Point is a place in plan: easting and northing in grid metres relative to the job's origin.
type Point struct{ E, N float64 }

// Vector is a displacement or a direction in plan, in grid metres.
type Vector struct{ E, N float64 }

// Coordinates are a point of record: easting and northing as whole nanometres.
type Coordinates struct{ E, N measure.Length }

// Origin is the point that a job's Points are relative to. Its coordinates are whole metres, so that the way there and
// back loses nothing but the one rounding in Coordinates.
type Origin Coordinates

// OriginNear is the whole kilometre south-west of c.
func OriginNear(c Coordinates) Origin {
	return Origin{wholeKilometre(c.E), wholeKilometre(c.N)}
}

func wholeKilometre(l measure.Length) measure.Length {
	k := l / measure.Kilometre
	if l%measure.Kilometre < 0 {
		k--
	}
	return k * measure.Kilometre
}

// Point is c relative to o.
func (o Origin) Point(c Coordinates) Point {
	return Point{(c.E - o.E).Metres(), (c.N - o.N).Metres()}
}

// Coordinates is p as a point of record. This is the one place where coordinates are rounded: to the nanometre.
func (o Origin) Coordinates(p Point) Coordinates {
	return Coordinates{o.E + toLength(p.E), o.N + toLength(p.N)}
}

// Plus is p moved by v.
func (p Point) Plus(v Vector) Point { return Point{p.E + v.E, p.N + v.N} }

// Minus is the way from q to p.
func (p Point) Minus(q Point) Vector { return Vector{p.E - q.E, p.N - q.N} }

// Distance is the grid distance from p to q in metres.
func (p Point) Distance(q Point) float64 { return p.Minus(q).Length() }

// Usable tells whether both coordinates are numbers within Reach.
func (p Point) Usable() bool { return math.Abs(p.E) <= Reach && math.Abs(p.N) <= Reach }

// Length is the length of v in metres.
func (v Vector) Length() float64 { return math.Sqrt(float64(v.E*v.E) + float64(v.N*v.N)) }

// Times is v stretched by f.
func (v Vector) Times(f float64) Vector { return Vector{float64(v.E * f), float64(v.N * f)} }

// Unit is v at length 1; a vector without length stays what it is.
func (v Vector) Unit() Vector {
	l := v.Length()
	if l == 0 {
		return v
	}
	return Vector{v.E / l, v.N / l}
}

// Right is v turned by 90° to the right.
func (v Vector) Right() Vector { return Vector{v.N, -v.E} }

// Back is v turned round.
func (v Vector) Back() Vector { return Vector{-v.E, -v.N} }

// Turned is v turned to the right by a radians.
func (v Vector) Turned(a float64) Vector {
	sin, cos := math.Sincos(a)
	return Vector{float64(v.E*cos) + float64(v.N*sin), float64(v.N*cos) - float64(v.E*sin)}
}

// Dot is the scalar product of v and w.
func (v Vector) Dot(w Vector) float64 { return float64(v.E*w.E) + float64(v.N*w.N) }

// cross is positive where w lies to the right of v.
func (v Vector) cross(w Vector) float64 { return float64(v.N*w.E) - float64(v.E*w.N) }

// turn is the turn from direction v to direction w in radians, right positive, in (-π, π].
func (v Vector) turn(w Vector) float64 { return math.Atan2(v.cross(w), v.Dot(w)) }

// Bearing is the direction of v clockwise from grid north, in [0°, 360°).
func (v Vector) Bearing() measure.Angle {
	a := measure.FromRadians(math.Atan2(v.E, v.N))
	if a < 0 {
		a += 360 * measure.Degree
	}
	return a
}

// Towards is the unit vector of a bearing clockwise from grid north.
func Towards(bearing measure.Angle) Vector { return Vector{0, 1}.Turned(bearing.Radians()) }

// Pose is a point on a line and the direction of the line there, as a unit vector up-chainage.
type Pose struct {
	At    Point
	Along Vector
}

// Bearing is the direction of the pose clockwise from grid north.
func (p Pose) Bearing() measure.Angle { return p.Along.Bearing() }

// Beside is the point d grid metres to the right of the pose (left: negative).
func (p Pose) Beside(d float64) Point { return p.At.Plus(p.Along.Right().Times(d)) }
