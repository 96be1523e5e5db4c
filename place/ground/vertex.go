package ground

import (
	"math"

	"trenchwright/base/measure"
	"trenchwright/place/ground/exact"
	"trenchwright/place/route"
)

// Point is a point of a survey: easting and northing in metres relative to the job's origin, and its level in metres.
type Point struct{ E, N, Z float64 }

// Plan is where p lies in plan.
func (p Point) Plan() route.Point { return route.Point{E: p.E, N: p.N} }

// Recorded is a point of record, relative to an origin.
func Recorded(o route.Origin, at route.Coordinates, level measure.Length) Point {
	p := o.Point(at)
	return Point{p.E, p.N, level.Metres()}
}

// Reach is how far a plan coordinate may lie from the origin, and Highest how far a level from the datum, in metres.
const (
	Reach   = exact.Reach / 1e9
	Highest = 1e6
)

// Usable tells whether p is three numbers within reach.
func (p Point) Usable() bool { return usable(p.Plan()) && math.Abs(p.Z) <= Highest }

func usable(p route.Point) bool { return math.Abs(p.E) <= Reach && math.Abs(p.N) <= Reach }

// vertex is a point in whole nanometres.
type vertex struct {
	exact.XY
	Z int64
}

// nanometres rounds metres. Here, and nowhere else in this package, coordinates are rounded on the way in. A coordinate
// of record within 9,000 km of the origin comes through unchanged.
func nanometres(m float64) int64 { return int64(math.Round(m * 1e9)) }

func metres(nm int64) float64 { return float64(nm) / 1e9 }

func place(p route.Point) exact.XY { return exact.XY{X: nanometres(p.E), Y: nanometres(p.N)} }

func (p Point) vertex() vertex { return vertex{place(p.Plan()), nanometres(p.Z)} }

func (v vertex) point() Point { return Point{metres(v.X), metres(v.Y), metres(v.Z)} }

// norm3 is the length of (b−a)×(c−a) in space, in m², of which plan is the part that stands upright.
func norm3(plan float64, a, b, c *vertex) float64 {
	ux, uy, uz := metres(b.X-a.X), metres(b.Y-a.Y), metres(b.Z-a.Z)
	vx, vy, vz := metres(c.X-a.X), metres(c.Y-a.Y), metres(c.Z-a.Z)
	x := float64(uy*vz) - float64(uz*vy)
	y := float64(uz*vx) - float64(ux*vz)
	return math.Sqrt(float64(x*x) + float64(y*y) + float64(plan*plan))
}

// sum adds with what each addition loses kept apart (Neumaier 1974): a million pieces lose no more than a few.
type sum struct{ whole, lost float64 }

func (s *sum) add(v float64) {
	t := s.whole + v
	if math.Abs(s.whole) >= math.Abs(v) {
		s.lost += (s.whole - t) + v
	} else {
		s.lost += (v - t) + s.whole
	}
	s.whole = t
}

func (s *sum) total() float64 { return s.whole + s.lost }
