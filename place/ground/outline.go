package ground

import (
	"trenchwright/base/finding"
	"trenchwright/place/ground/delaunay"
	"trenchwright/place/ground/exact"
	"trenchwright/place/route"
)

// newOverlay prepares a volume over a, with an outline made into triangles.
func (t *teller) newOverlay(a *Surface, outline []route.Point) *overlay {
	o := &overlay{a: a}
	if outline == nil {
		return o
	}
	s, why := triangles(outline)
	if s == nil {
		t.add(finding.Finding{ID: "ground.outline", Kind: finding.Fault, Text: "the outline " + why + "; no volume is given",
			Try: "draw it as one closed line that does not cross itself"}, t.whole())
		return o
	}
	o.outline, o.inside = s, newSeen(s)
	return o
}

// triangles are the inside of a ring, as faces at level 0. It says what is wrong with the ring.
func triangles(places []route.Point) (*Surface, string) {
	r, why := newRing(places)
	if r == nil {
		return nil, why
	}
	mesh, same := delaunay.Build(r.places)
	if mesh == nil {
		return nil, "lies on one line"
	}
	for i := range r.places {
		if _, crossed := mesh.Force(same[i], same[(i+1)%len(r.places)]); len(crossed) > 0 {
			return nil, "crosses itself"
		}
	}
	s := &Surface{tidy: true, vertices: make([]vertex, len(r.places))}
	for i, p := range r.places {
		s.vertices[i].XY = p
	}
	for _, f := range mesh.Faces() {
		a, b, c := r.places[f.Corner[0]], r.places[f.Corner[1]], r.places[f.Corner[2]]
		if r.holds(exact.XY{X: (a.X + b.X + c.X) / 3, Y: (a.Y + b.Y + c.Y) / 3}) {
			s.faces = append(s.faces, face{corner: f.Corner, beyond: [3]int32{none, none, none}})
		}
	}
	if len(s.faces) == 0 {
		return nil, "encloses nothing"
	}
	s.measure(0, 0, nil)
	s.index = newIndex(s)
	return s, ""
}

// over3 yields the faces in the cells of a triangle's box, some of them several times.
func (s *Surface) over3(a, b, c exact.XY) func(yield func(int32) bool) {
	return s.index.box(exact.XY{X: min(a.X, b.X, c.X), Y: min(a.Y, b.Y, c.Y)}, exact.XY{X: max(a.X, b.X, c.X), Y: max(a.Y, b.Y, c.Y)})
}
