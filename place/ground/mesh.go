package ground

import (
	"cmp"
	"slices"

	"trenchwright/base/finding"
	"trenchwright/place/ground/exact"
)

// Mesh is faces that somebody else made.
type Mesh struct {
	Source
	Role   Role
	Points []Point
	Faces  [][3]int // by index into Points, either way round
	Hidden []bool   // faces marked invisible: counted, and no ground; nil: none are
}

// FromMesh makes a surface of faces as they are. Rules for what does not fit: a face with a point that does not exist or
// is no number is left out; one without area in plan counts in the measures and gives no ground; one that is there twice
// counts once; of faces that lie over each other the first one given holds. Each is a finding. Without a face that has an
// area there is no surface.
func FromMesh(m Mesh) (*Surface, finding.List) {
	t := newTeller(m.Source)
	s := &Surface{Name: m.Name, Role: m.Role, Origin: m.Origin, tidy: true}
	number, points := s.take(t, m.Points)
	var upright [][3]int32
	invisible := 0
	where := map[int]int{} // of a face in s which one it is in m, where some are left out
	for i, f := range m.Faces {
		if i < len(m.Hidden) && m.Hidden[i] {
			invisible++
			continue
		}
		c, ok := corners(f, number)
		if !ok {
			t.add(finding.Finding{ID: "ground.face-broken", Kind: finding.Fault,
				Text: t.say("face %d has a corner that is no usable point; it is left out", i+1),
				Try:  "correct the face or its points"}, t.whole())
			continue
		}
		switch exact.Side(s.vertices[c[0]].XY, s.vertices[c[1]].XY, s.vertices[c[2]].XY) {
		case 0:
			upright = append(upright, c)
			t.add(finding.Finding{ID: "ground.face-flat", Kind: finding.Attention,
				Text: t.say("face %d at %s has no area in plan; it gives no ground", i+1, t.at(s.vertices[c[0]])),
				Rule: "a face without area in plan counts in the measures and gives no ground",
				Try:  "nothing where it is an upright step; else look at its points"}, t.whole())
			continue
		case -1:
			c[1], c[2] = c[2], c[1]
		}
		where[len(s.faces)] = i
		s.faces = append(s.faces, face{corner: c, beyond: [3]int32{none, none, none}})
	}
	s.once(t, where)
	s.measure(points, invisible, upright)
	if len(s.faces) == 0 {
		t.add(finding.Finding{ID: "ground.no-faces", Kind: finding.Fault,
			Text: t.say("of %d faces none is visible and has an area in plan", len(m.Faces)), Try: "export the surface with its faces"}, t.whole())
		return nil, t.all()
	}
	s.finish(t)
	return s, t.all()
}

// finish makes neighbours and the index, and looks for faces that lie over each other.
func (s *Surface) finish(t *teller) {
	fold := s.meet()
	s.index = newIndex(s)
	s.findOverlaps(t, fold)
}

// take makes vertices of points; points that agree in all three coordinates are one. It counts the usable ones.
func (s *Surface) take(t *teller, points []Point) (number []int32, usable int) {
	order := make([]int32, 0, len(points))
	number = make([]int32, len(points))
	s.vertices = make([]vertex, len(points))
	for i, p := range points {
		number[i] = none
		if !p.Usable() {
			t.add(unusable(t, p, i, ""), t.point(i))
			continue
		}
		s.vertices[i] = p.vertex()
		order = append(order, int32(i))
	}
	slices.SortFunc(order, func(a, b int32) int {
		return cmp.Or(compareVertices(s.vertices[a], s.vertices[b]), cmp.Compare(a, b))
	})
	for k, i := range order {
		if number[i] = i; k > 0 && s.vertices[i] == s.vertices[order[k-1]] {
			number[i] = number[order[k-1]]
		}
	}
	return number, len(order)
}

func compareVertices(a, b vertex) int { return cmp.Or(a.XY.Compare(b.XY), cmp.Compare(a.Z, b.Z)) }

// corners are a face's corners as vertices.
func corners(f [3]int, number []int32) (c [3]int32, ok bool) {
	for k, p := range f {
		if p < 0 || p >= len(number) || number[p] == none {
			return c, false
		}
		c[k] = number[p]
	}
	return c, true
}

// once leaves out faces that are there already.
func (s *Surface) once(t *teller, where map[int]int) {
	first := make(map[[3]int32]int, len(s.faces))
	kept := s.faces[:0]
	for i, f := range s.faces {
		key := f.corner
		slices.Sort(key[:])
		if j, twice := first[key]; twice {
			t.add(finding.Finding{ID: "ground.face-twice", Kind: finding.Attention,
				Text: t.say("face %d is face %d once more; it counts once", where[i]+1, j+1),
				Try:  "export the surface anew"}, t.whole())
			continue
		}
		first[key] = where[i]
		kept = append(kept, f)
	}
	s.faces = kept
}

// side is one edge of one face, named by its ends in plan.
type side struct {
	a, b exact.XY // a before b
	face int32
	edge uint8
	back bool // the face runs from b to a
}

// meet tells faces that share an edge in plan of each other: two faces on either side. It gives back the faces at edges
// where that is not so: two on one side, or more than two.
func (s *Surface) meet() (fold []int32) {
	sides := make([]side, 0, 3*len(s.faces))
	for i := range s.faces {
		c := &s.faces[i].corner
		for k := range 3 {
			a, b := s.vertices[c[after[k]]].XY, s.vertices[c[before[k]]].XY
			e := side{a, b, int32(i), uint8(k), false}
			if a.Compare(b) > 0 {
				e.a, e.b, e.back = b, a, true
			}
			sides = append(sides, e)
		}
	}
	slices.SortFunc(sides, func(x, y side) int {
		return cmp.Or(x.a.Compare(y.a), x.b.Compare(y.b), cmp.Compare(x.face, y.face))
	})
	for len(sides) > 0 {
		n := 1
		for n < len(sides) && sides[n].a == sides[0].a && sides[n].b == sides[0].b {
			n++
		}
		x, y := sides[0], sides[min(1, n-1)]
		switch {
		case n == 2 && x.back != y.back:
			s.faces[x.face].beyond[x.edge], s.faces[y.face].beyond[y.edge] = y.face, x.face
		case n >= 2:
			for _, z := range sides[:n] {
				fold = append(fold, z.face)
			}
		}
		sides = sides[n:]
	}
	return fold
}
