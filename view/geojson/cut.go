package geojson

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// ready is a geometry as it is written: rounded where that decides, rings the right way round and closed, lines cut where
// they cross 180° of longitude. why says why it cannot be written.
func (g Geometry) ready() (out Geometry, why string) {
	switch {
	case g.Kind == Nowhere:
		return Geometry{}, ""
	case !isGeometry(g.Kind):
		return out, fmt.Sprintf("its geometry is of type %q, which GeoJSON does not know", g.Kind)
	case g.Kind == Collection:
		out.Kind = Collection
		for _, m := range g.Members {
			in, why := m.ready()
			if why != "" {
				return out, why
			}
			if in.Kind != Nowhere {
				out.Members = append(out.Members, in)
			}
		}
		return out, ""
	}
	if why := cmp.Or(g.countFault(), g.placeFault()); why != "" {
		return out, why
	}
	out.Kind = g.Kind
	for b, body := range g.Bodies {
		if polygonal(g.Kind) && crosses(body) {
			parts, why := cutBody(body)
			if why != "" {
				return out, g.named(b, 0) + why
			}
			out.Bodies = append(out.Bodies, parts...)
			continue
		}
		var lines [][]Position
		for l, line := range body {
			made, why := g.Kind.made(line, l == 0)
			if why != "" {
				return out, g.named(b, l) + why
			}
			lines = append(lines, made...)
		}
		out.Bodies = append(out.Bodies, lines)
	}
	switch {
	case out.Kind == LineString && len(out.Bodies[0]) > 1:
		out.Kind = MultiLineString
	case out.Kind == Polygon && len(out.Bodies) > 1:
		out.Kind = MultiPolygon
	}
	return out, ""
}

// placeFault says which position is none.
func (g Geometry) placeFault() string {
	for b, body := range g.Bodies {
		for l, line := range body {
			for _, p := range line {
				if p.Lon-p.Lon != 0 || p.Lat-p.Lat != 0 || p.Height-p.Height != 0 {
					return g.named(b, l) + "a coordinate is no number"
				}
				if why := outOfRange(p); why != "" {
					return g.named(b, l) + why
				}
			}
		}
	}
	return ""
}

// countFault says where a geometry has not as many bodies and lines as its kind.
func (g Geometry) countFault() string {
	one := g.Kind != MultiPolygon
	single := g.Kind == Point || g.Kind == MultiPoint || g.Kind == LineString
	wrong := len(g.Bodies) == 0 || one && len(g.Bodies) > 1
	for _, body := range g.Bodies {
		wrong = wrong || len(body) == 0 || single && len(body) > 1
		for _, line := range body {
			wrong = wrong || g.Kind == Point && len(line) != 1
		}
	}
	if wrong {
		return fmt.Sprintf("its %s has not the bodies, lines and positions that its type has", g.Kind)
	}
	return ""
}

// made is a line as it is written: one, or the parts that it is cut into.
func (k Kind) made(line []Position, outer bool) ([][]Position, string) {
	if polygonal(k) {
		ring, why := ringOf(line, outer)
		return [][]Position{ring}, why
	}
	if why := k.fault(line); why != "" {
		return nil, why
	}
	if k == Point || k == MultiPoint {
		return [][]Position{line}, ""
	}
	return cutAcross(line), ""
}

// ringOf is a ring to seven decimals, without the same position twice in a row, closed, turning left if it is an outer one
// and right if not (RFC 7946, 3.1.6).
func ringOf(line []Position, outer bool) ([]Position, string) {
	same := func(a, b Position) bool {
		return whole(a.Lon, degreeDecimals) == whole(b.Lon, degreeDecimals) && whole(a.Lat, degreeDecimals) == whole(b.Lat, degreeDecimals)
	}
	ring := slices.CompactFunc(slices.Clone(line), same)
	for len(ring) > 1 && same(ring[0], ring[len(ring)-1]) {
		ring = ring[:len(ring)-1]
	}
	turn := 0.0
	for i := 2; i < len(ring); i++ {
		o, a, b := ring[0], ring[i-1], ring[i]
		turn += float64(grid(a.Lon, o.Lon)*grid(b.Lat, o.Lat)) - float64(grid(b.Lon, o.Lon)*grid(a.Lat, o.Lat))
	}
	if turn == 0 {
		return nil, "a ring bounds nothing at seven decimals of a degree, 11 mm"
	}
	if turn > 0 != outer {
		slices.Reverse(ring[1:])
	}
	return append(ring, ring[0]), ""
}

// grid is a difference in whole units of the last decimal: exact, and so are its products for rings within nine degrees.
func grid(a, b float64) float64 { return float64(whole(a, degreeDecimals) - whole(b, degreeDecimals)) }

// cutAcross cuts a line where it crosses 180° of longitude the short way (RFC 7946, 3.1.9); the latitude there is
// interpolated along the step.
func cutAcross(line []Position) [][]Position {
	part := []Position{line[0]}
	var out [][]Position
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		if math.Abs(a.Lon-b.Lon) > 180 {
			edge := math.Copysign(180, a.Lon)
			// From a to b as if longitude went on beyond the edge.
			t := (edge - a.Lon) / (b.Lon + math.Copysign(360, a.Lon) - a.Lon)
			here := Position{Lon: edge, Lat: between(a.Lat, b.Lat, t), HasHeight: a.HasHeight && b.HasHeight}
			if here.HasHeight {
				here.Height = between(a.Height, b.Height, t)
			}
			if a.Lon != edge {
				part = append(part, here)
			}
			if len(part) > 1 {
				out = append(out, part)
			}
			here.Lon = -edge
			part = nil
			if b.Lon != -edge {
				part = []Position{here}
			}
		}
		part = append(part, b)
	}
	if len(part) > 1 {
		out = append(out, part)
	}
	if len(out) == 0 { // from 180° to -180° at one latitude: one place
		return [][]Position{{line[0], line[0]}}
	}
	return out
}

func between(a, b, t float64) float64 { return a + float64(t*(b-a)) }
