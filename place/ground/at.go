package ground

import (
	"math"

	"trenchwright/base/measure"
	"trenchwright/place/ground/exact"
	"trenchwright/place/route"
)

// Level is the ground at a place.
type Level struct {
	Z           float64 // m above the datum
	East, North float64 // how much it rises for each metre east and each metre north
	Face        int
}

// Steepness is the rise per metre straight up the slope.
func (l Level) Steepness() float64 {
	return math.Sqrt(float64(l.East*l.East) + float64(l.North*l.North))
}

// Downhill is the bearing in which the ground falls; level ground falls nowhere.
func (l Level) Downhill() (measure.Angle, bool) {
	if l.East == 0 && l.North == 0 {
		return 0, false
	}
	return route.Vector{E: -l.East, N: -l.North}.Bearing(), true
}

// At is the ground at a place; false: no ground here. On an edge or a corner it is that of the first face of those that
// meet there: their levels agree, their slopes need not. An upright step has the level of its first face.
func (s *Surface) At(p route.Point) (Level, bool) {
	if !usable(p) {
		return Level{}, false
	}
	q := place(p)
	f := s.find(q)
	if f == none {
		return Level{}, false
	}
	a, b, c := s.corners(f)
	e, n := slope(a, b, c)
	return Level{Z: s.level(f, q), East: e, North: n, Face: int(f)}, true
}

// find is the first face that holds p, its edges included.
func (s *Surface) find(p exact.XY) int32 {
	found := none
	for _, f := range s.index.near(p) {
		if found != none && f >= found {
			continue
		}
		if a, b, c := s.corners(f); exact.Inside(a.XY, b.XY, c.XY, p) {
			found = f
		}
	}
	return found
}

// level is the level in metres of a face's plane at p: the corners' levels, each with the share of the area opposite to it.
func (s *Surface) level(f int32, p exact.XY) float64 {
	a, b, c := s.corners(f)
	wb, wc := exact.Cross(c.XY, a.XY, p).Float(), exact.Cross(a.XY, b.XY, p).Float()
	rise := (float64(wb*float64(b.Z-a.Z)) + float64(wc*float64(c.Z-a.Z))) / exact.Cross(a.XY, b.XY, c.XY).Float()
	return (float64(a.Z) + rise) / 1e9
}

// slope is how much the plane through three points rises for each metre east and north.
func slope(a, b, c *vertex) (east, north float64) {
	bx, by, bz := float64(b.X-a.X), float64(b.Y-a.Y), float64(b.Z-a.Z)
	cx, cy, cz := float64(c.X-a.X), float64(c.Y-a.Y), float64(c.Z-a.Z)
	twice := exact.Cross(a.XY, b.XY, c.XY).Float()
	return (float64(bz*cy) - float64(cz*by)) / twice, (float64(cz*bx) - float64(bz*cx)) / twice
}
