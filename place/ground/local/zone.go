package local

import "trenchwright/place/route"

// Zones is a family of transverse Mercator grids side by side, on the ellipsoid of WGS 84.
type Zones struct {
	Width  float64 // degrees from one middle meridian to the next
	Factor float64 // at the middle meridian
	East   float64 // m, easting of the middle meridian
	North  float64 // m, northing of the equator
}

// Neighbour is where a place with coordinates in one zone lies in the zone so many to the east (west: negative); false
// where that is no place of such a zone.
func (z Zones) Neighbour(p route.Point, by int) (route.Point, bool) {
	here, there := Grid{factor: z.Factor}, Grid{middle: Position{0, float64(by) * z.Width}, factor: z.Factor}
	e, n := p.E-z.East, p.N-z.North
	if !(e <= Reach && e >= -Reach && n <= 9.4e6 && n >= -9.4e6) { // from the equator to 84.6°
		return route.Point{}, false
	}
	e, n = there.forward(here.inverse(e, n))
	return route.Point{E: e + z.East, N: n + z.North}, true
}
