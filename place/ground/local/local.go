// Package local is a grid of a job's own for points in WGS 84: a transverse Mercator whose middle meridian passes through
// the middle of the job, with factor 1 at the middle, so that lengths on the grid are lengths on the ground.
//
// The projection is Krüger's series in the third flattening n, up to n⁶ (L. Krüger, Konforme Abbildung des Erdellipsoids in
// der Ebene, 1912; coefficients as in C. Karney, Transverse Mercator with an accuracy of a few nanometers, 2011, eq. 35 and
// 36). Within Reach of the middle what is left out is below a micrometre. Hyperbolic functions are not called: they follow
// from square roots and from short series with a stated error.
//
// Map of the package:
//
//	local.go   Position, Grid, New, Middle
//	krueger.go To and From: the series
//	name.go    the grid by its name, as a job has it
//	error.go   what a leg's length on the grid errs by; from what length on that is 1 mm
package local

import (
	"errors"
	"fmt"
	"math"

	"trenchwright/place/route"
)

// Position is a place on the ellipsoid of WGS 84 in degrees, north and east positive.
type Position struct{ Latitude, Longitude float64 }

// The ellipsoid of WGS 84 (NGA.STND.0036, table 3.1): both are exact by definition.
const (
	axis       = 6378137.0
	flattening = 1 / 298.257223563
)

// Limits of the grid.
const (
	// Reach is the greatest distance of a point from the middle, in metres along either axis.
	Reach = 1e6
	// Northernmost is the greatest latitude of a middle, north or south, in degrees.
	Northernmost = 84.0
)

// Grid is a transverse Mercator round a middle. Only New makes one.
type Grid struct {
	middle Position
	height float64 // of the job above the ellipsoid, m
	factor float64 // at the middle, on the ellipsoid: 1 at the job's height
	north  float64 // of the middle, metres from the equator on the grid
	radius float64 // mean radius of the ellipsoid at the middle, m
}

// New is the grid round a middle. height is that of the job above the ellipsoid, in metres: the grid has factor 1 there.
// With 0 lengths are those on the ellipsoid.
func New(middle Position, height float64) (Grid, error) {
	if !middle.usable() || math.Abs(middle.Latitude) > Northernmost {
		return Grid{}, fmt.Errorf("a local grid has its middle between %.0f° south and %.0f° north; latitude %v, longitude %v is not there",
			Northernmost, Northernmost, middle.Latitude, middle.Longitude)
	}
	if !(math.Abs(height) <= 10_000) {
		return Grid{}, fmt.Errorf("a height of %v m above the ellipsoid is not one of a job", height)
	}
	g := Grid{middle: middle, height: height, factor: 1, radius: radius(middle.Latitude)}
	_, g.north = g.forward(middle)
	g.factor = 1 + height/g.radius
	g.north *= g.factor
	return g, nil
}

// usable tells whether p is two numbers that are a place; longitudes may run to ±360.
func (p Position) usable() bool { return math.Abs(p.Latitude) <= 90 && math.Abs(p.Longitude) <= 360 }

// radius is the mean radius of curvature at a latitude: the root of that in the meridian times that across it.
func radius(latitude float64) float64 {
	sin := math.Sin(radians(latitude))
	const e2 = flattening * (2 - flattening)
	return axis * math.Sqrt(1-e2) / (1 - float64(e2*float64(sin*sin)))
}

func radians(degrees float64) float64 { return float64(degrees * (math.Pi / 180)) }
func degrees(radians float64) float64 { return float64(radians * (180 / math.Pi)) }

// Middle is the middle of the box that holds some positions; across the date line too.
func Middle(all []Position) (Position, error) {
	if len(all) == 0 {
		return Position{}, errors.New("no positions have no middle")
	}
	low, high := all[0], all[0]
	for _, p := range all {
		if !p.usable() {
			return Position{}, fmt.Errorf("latitude %v, longitude %v is no place", p.Latitude, p.Longitude)
		}
		p.Longitude = all[0].Longitude + east(all[0].Longitude, p.Longitude)
		low.Latitude, low.Longitude = min(low.Latitude, p.Latitude), min(low.Longitude, p.Longitude)
		high.Latitude, high.Longitude = max(high.Latitude, p.Latitude), max(high.Longitude, p.Longitude)
	}
	return Position{(low.Latitude + high.Latitude) / 2, turned((low.Longitude + high.Longitude) / 2)}, nil
}

// east is how far to the east of one longitude another lies, in [−180, 180).
func east(from, to float64) float64 { return turned(to - from) }

// turned is a longitude in [−180, 180).
func turned(longitude float64) float64 {
	l := math.Mod(longitude+180, 360)
	if l < 0 {
		l += 360
	}
	return l - 180
}

// To is a position on the grid, in metres east and north of the middle.
func (g Grid) To(p Position) (route.Point, error) {
	if !p.usable() || g.radius == 0 {
		return route.Point{}, fmt.Errorf("latitude %v, longitude %v is no place", p.Latitude, p.Longitude)
	}
	if math.Abs(east(g.middle.Longitude, p.Longitude)) < 80 { // beyond, the series says nothing
		e, n := g.forward(p)
		if n -= g.north; math.Abs(e) <= Reach && math.Abs(n) <= Reach {
			return route.Point{E: e, N: n}, nil
		}
	}
	return route.Point{}, fmt.Errorf("latitude %v, longitude %v lies more than %.0f km from the middle of the local grid, latitude %v, longitude %v",
		p.Latitude, p.Longitude, Reach/1000, g.middle.Latitude, g.middle.Longitude)
}

// From is the position of a point of the grid.
func (g Grid) From(p route.Point) (Position, error) {
	if !(math.Abs(p.E) <= Reach && math.Abs(p.N) <= Reach) || g.radius == 0 {
		return Position{}, fmt.Errorf("E %v m, N %v m lies more than %.0f km from the middle of the local grid", p.E, p.N, Reach/1000)
	}
	return g.inverse(p.E, p.N+g.north), nil
}
