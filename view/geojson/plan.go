package geojson

import (
	"fmt"

	"trenchwright/place/route"
)

// ToPlan turns longitude and latitude (degrees, WGS 84) into plan coordinates in grid metres, relative to the job's origin.
type ToPlan func(lon, lat float64) (route.Point, error)

// FromPlan is the way back.
type FromPlan func(p route.Point) (lon, lat float64, err error)

// Shape is a Geometry in plan coordinates. It has no levels: a height in GeoJSON is none.
type Shape struct {
	Kind    Kind
	Bodies  [][][]route.Point
	Members []Shape
}

// InPlan is g by the conversion given; its error is the first that the conversion had, with the position.
func (g Geometry) InPlan(to ToPlan) (Shape, error) {
	s := Shape{Kind: g.Kind}
	var err error
	s.Bodies, err = converted(g.Bodies, func(p Position) (route.Point, error) {
		at, err := to(p.Lon, p.Lat)
		if err != nil {
			return at, fmt.Errorf("longitude %s, latitude %s: %w", number(p.Lon), number(p.Lat), err)
		}
		return at, nil
	})
	if err != nil {
		return Shape{}, err
	}
	for _, m := range g.Members {
		in, err := m.InPlan(to)
		if err != nil {
			return Shape{}, err
		}
		s.Members = append(s.Members, in)
	}
	return s, nil
}

// OnEarth is s by the conversion given.
func (s Shape) OnEarth(from FromPlan) (Geometry, error) {
	g := Geometry{Kind: s.Kind}
	var err error
	g.Bodies, err = converted(s.Bodies, func(at route.Point) (p Position, err error) {
		if p.Lon, p.Lat, err = from(at); err != nil {
			return p, fmt.Errorf("easting %.3f m, northing %.3f m: %w", at.E, at.N, err)
		}
		return p, nil
	})
	if err != nil {
		return Geometry{}, err
	}
	for _, m := range s.Members {
		out, err := m.OnEarth(from)
		if err != nil {
			return Geometry{}, err
		}
		g.Members = append(g.Members, out)
	}
	return g, nil
}

func converted[A, B any](bodies [][][]A, one func(A) (B, error)) ([][][]B, error) {
	out := make([][][]B, len(bodies))
	for i, body := range bodies {
		out[i] = make([][]B, len(body))
		for k, line := range body {
			out[i][k] = make([]B, len(line))
			for n, at := range line {
				var err error
				if out[i][k][n], err = one(at); err != nil {
					return nil, err
				}
			}
		}
	}
	return out, nil
}
