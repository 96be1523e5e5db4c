package landxml

import (
	"encoding/xml"
	"strconv"
	"strings"

	"trenchwright/base/measure"
)

// definition reads the faces of a surface; one with four corners becomes two triangles. Points and faces may come in either order, and faces in several lists.
func (b *builder) definition(e xml.StartElement) error {
	if kind := attr(e, "surfType"); kind != "" && !strings.EqualFold(kind, "TIN") && !strings.EqualFold(kind, "grid") {
		b.spoil("surface-kind", "it is of kind %q; TIN and grid are read", clipped(kind))
	}
	return b.children(func(e xml.StartElement) error {
		switch e.Name.Local {
		case "Pnts":
			return b.eachOf("P", b.point)
		case "Faces":
			return b.eachOf("F", b.face)
		}
		return b.skip()
	})
}

// eachOf takes the children of one name; once the surface is wrong they are only passed over.
func (b *builder) eachOf(name string, take func(e xml.StartElement) error) error {
	return b.children(func(e xml.StartElement) error {
		if e.Name.Local != name || b.wrong {
			return b.skip()
		}
		return take(e)
	})
}

func (b *builder) point(e xml.StartElement) error {
	text, err := b.text()
	if err != nil {
		return err
	}
	id, bad := strconv.ParseInt(attr(e, "id"), 10, 64)
	if bad != nil || id < 0 {
		b.spoil("point-id", "the id %q of a point is no whole number", clipped(attr(e, "id")))
		return nil
	}
	v, why := b.vertex(strings.Fields(text))
	if why != "" {
		b.spoil("surface-point", "its point %d: %s", id, why)
		return nil
	}
	if b.ids == nil {
		b.ids = map[int64]int32{}
	}
	if i, ok := b.ids[id]; ok {
		if b.surface.Points[i] != v {
			b.spoil("point-twice", "its point %d stands twice, at two places", id)
		}
		return nil
	}
	b.ids[id] = int32(len(b.surface.Points))
	b.surface.Points = append(b.surface.Points, v)
	return b.keepGround(1)
}

// vertex reads northing, easting and level.
func (b *builder) vertex(f []string) (v Vertex, why string) {
	if len(f) != 3 {
		return v, "northing, easting and level were expected, and there are " + decimal(len(f)) + " numbers"
	}
	for i, part := range []struct {
		into *measure.Length
		unit measure.Unit
	}{{&v.At.N, b.across}, {&v.At.E, b.across}, {&v.Level, b.above}} {
		var ok bool
		if *part.into, ok = length(f[i], part.unit); !ok {
			return v, notANumber(f[i])
		}
	}
	return v, ""
}

func (b *builder) face(e xml.StartElement) error {
	text, err := b.text()
	if err != nil {
		return err
	}
	f := strings.Fields(text)
	b.given++
	number := b.given
	if len(f) != 3 && len(f) != 4 {
		b.spoil("face", "its face %d has %d corners; faces of three and of four are read", number, len(f))
		return nil
	}
	var corner [4]int64
	for i := range f {
		var bad error
		if corner[i], bad = strconv.ParseInt(f[i], 10, 64); bad != nil {
			b.spoil("face", "its face %d names the point %q, which is no whole number", number, clipped(f[i]))
			return nil
		}
	}
	hides := attr(e, "i") == "1"
	if len(f) == 4 {
		b.split++
		if err := b.triangle([3]int64{corner[0], corner[2], corner[3]}, hides); err != nil {
			return err
		}
	}
	return b.triangle([3]int64(corner[:3]), hides)
}

// triangle keeps a face.
func (b *builder) triangle(corner [3]int64, hides bool) error {
	if corner[0] == corner[1] || corner[1] == corner[2] || corner[2] == corner[0] {
		b.flattened++
		return b.keepGround(1)
	}
	b.raw = append(b.raw, corner)
	b.rawHidden = append(b.rawHidden, hides)
	if hides {
		b.hidden++
	}
	return b.keepGround(1)
}

// resolve turns the ids of the faces into indices. Ids count within their own surface only.
func (b *builder) resolve() {
	s := &b.surface
	s.Faces = make([][3]int32, len(b.raw))
	for i, corners := range b.raw {
		for k, id := range corners {
			at, ok := b.ids[id]
			if !ok {
				b.spoil("face-point", "a face names point %d, which the surface does not hold", id)
				return
			}
			s.Faces[i][k] = at
		}
	}
	if b.hidden > 0 {
		s.Hidden = b.rawHidden
	}
	b.raw, b.ids = nil, nil
}

// keepGround counts what a surface keeps in memory: points and faces.
func (r *reader) keepGround(n int) error {
	if r.ground += n; r.ground > r.limits.Ground {
		return r.refuse("too-many", "the surfaces of the file have more than %d points and faces", r.limits.Ground).try("the part along the route")
	}
	return nil
}
