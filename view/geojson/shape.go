package geojson

import (
	"fmt"
	"math"
)

func isGeometry(k Kind) bool {
	switch k {
	case Point, MultiPoint, LineString, MultiLineString, Polygon, MultiPolygon, Collection:
		return true
	}
	return false
}

// geometry is a geometry as it was written; why says why it is none.
func (r *reader) geometry(t thing) (g Geometry, why string) {
	switch {
	case t.wrong != "":
		return g, t.wrong
	case t.kind == "":
		return g, "its geometry has no type"
	case !isGeometry(t.kind):
		return g, fmt.Sprintf("its geometry is of type %q, which GeoJSON does not know", t.kind)
	case t.kind == Collection:
		return r.collection(t)
	case t.coordinates == nil:
		return g, fmt.Sprintf("its %s has no coordinates", t.kind)
	case t.coordinates.wrong != "":
		return g, t.coordinates.wrong
	case t.coordinates.position == nil && len(t.coordinates.kids) == 0:
		r.empty++
		return g, ""
	}
	g.Kind = t.kind
	if g.Bodies, why = bodies(t.kind, *t.coordinates); why != "" {
		return g, why
	}
	for b, body := range g.Bodies {
		for l, line := range body {
			why := g.Kind.fault(line)
			if why == "" && g.Kind != Point && g.Kind != MultiPoint {
				why = acrossFault(line)
			}
			if why != "" {
				return g, g.named(b, l) + why
			}
			if polygonal(g.Kind) && turns(line) != (l == 0) {
				r.turned++
			}
		}
	}
	return g, ""
}

func polygonal(k Kind) bool { return k == Polygon || k == MultiPolygon }

// named is which line of a geometry is spoken of.
func (g Geometry) named(body, line int) string {
	text := "its " + string(g.Kind)
	if len(g.Bodies) > 1 {
		text += fmt.Sprintf(", part %d", body+1)
	}
	if len(g.Bodies[body]) > 1 {
		text += fmt.Sprintf(", line %d", line+1)
	}
	return text + ": "
}

func (r *reader) collection(t thing) (g Geometry, why string) {
	g.Kind = Collection
	for i, m := range t.members {
		in, why := r.geometry(m)
		if why != "" {
			return g, fmt.Sprintf("member %d of its collection: %s", i+1, why)
		}
		if in.Kind != Nowhere {
			g.Members = append(g.Members, in)
		}
	}
	return g, ""
}

// bodies puts nested coordinates into bodies, lines and positions, each kind from as deep as it is written.
func bodies(k Kind, n nest) ([][][]Position, string) {
	wrap := func(n nest) nest { return nest{kids: []nest{n}} }
	switch k {
	case Point:
		n = wrap(wrap(wrap(n)))
	case MultiPoint, LineString:
		n = wrap(wrap(n))
	case MultiLineString, Polygon:
		n = wrap(n)
	}
	out := make([][][]Position, len(n.kids))
	for i, body := range n.kids {
		out[i] = make([][]Position, len(body.kids))
		for k, line := range body.kids {
			if line.position != nil {
				return nil, "its coordinates do not lie as deep in each other as its type has it"
			}
			for _, at := range line.kids {
				if at.position == nil {
					return nil, "its coordinates do not lie as deep in each other as its type has it"
				}
				out[i][k] = append(out[i][k], *at.position)
			}
		}
		if len(body.kids) == 0 {
			return nil, "its coordinates do not lie as deep in each other as its type has it"
		}
	}
	return out, ""
}

// fault says why a line is none of its kind.
func (k Kind) fault(line []Position) string {
	switch {
	case len(line) == 0:
		return "a part of it has no position"
	case (k == LineString || k == MultiLineString) && len(line) < 2:
		return "a line has 1 position; two are needed"
	case polygonal(k) && len(line) < 4:
		return fmt.Sprintf("a ring has %d positions; four are needed, the last like the first", len(line))
	case polygonal(k) && (line[0].Lon != line[len(line)-1].Lon || line[0].Lat != line[len(line)-1].Lat):
		return "a ring does not end where it begins"
	}
	return ""
}

// acrossFault refuses a step of more than half way round the earth: it goes nearly round, or across 180° of longitude,
// where RFC 7946 (3.1.9) has the line cut, and which of the two cannot be told.
func acrossFault(line []Position) string {
	for i := 1; i < len(line); i++ {
		if a, b := line[i-1].Lon, line[i].Lon; math.Abs(a-b) > 180 {
			return fmt.Sprintf("a step goes from longitude %s to %s: nearly round the earth, or across 180°, where RFC 7946 (3.1.9) has it cut", number(a), number(b))
		}
	}
	return ""
}

// turns tells whether a ring turns to the left, as the outer ring of a polygon does (RFC 7946, 3.1.6). Its area is summed
// about its first position, in degrees.
func turns(ring []Position) bool {
	sum := 0.0
	for i := 2; i < len(ring); i++ {
		a, b, o := ring[i-1], ring[i], ring[0]
		sum += float64((a.Lon-o.Lon)*(b.Lat-o.Lat)) - float64((b.Lon-o.Lon)*(a.Lat-o.Lat))
	}
	return sum > 0
}
