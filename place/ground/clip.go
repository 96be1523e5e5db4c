package ground

import (
	"math"

	"trenchwright/place/ground/exact"
	"trenchwright/place/route"
)

// Clip is what of a surface lies within reach metres of a line: whole faces, as they are, so that every level, slope and
// section within reach is that of the surface itself. nil: there is none, or the line or reach is no number.
func (s *Surface) Clip(line []route.Point, reach float64) *Surface {
	if !(reach >= 0 && reach <= Reach) || len(line) == 0 {
		return nil
	}
	for _, p := range line {
		if !usable(p) {
			return nil
		}
	}
	kept := make([]bool, len(s.faces))
	for i := range line {
		s.mark(kept, place(line[i]), place(line[min(i+1, len(line)-1)]), reach*1e9)
	}
	return s.part(kept)
}

// mark keeps the faces that come within reach nanometres of a straight. It looks piece by piece, so that a long straight
// across the axes does not look into the whole box round it.
func (s *Surface) mark(kept []bool, a, b exact.XY, reach float64) {
	dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
	length := math.Sqrt(float64(dx*dx) + float64(dy*dy))
	pieces := int(min(math.Ceil(length/max(reach, float64(int64(8)<<s.index.shift))), 1e6))
	wide := int64(reach) + margin
	last := a
	for i := 1; i <= max(pieces, 1); i++ {
		next := b
		if i < pieces {
			k := float64(i) / float64(pieces)
			next = exact.XY{X: a.X + int64(dx*k), Y: a.Y + int64(dy*k)}
		}
		low := exact.XY{X: min(last.X, next.X) - wide, Y: min(last.Y, next.Y) - wide}
		high := exact.XY{X: max(last.X, next.X) + wide, Y: max(last.Y, next.Y) + wide}
		for f := range s.index.box(low, high) {
			kept[f] = kept[f] || s.reaches(f, a, b, reach)
		}
		last = next
	}
}

// reaches tells whether a face comes within reach nanometres of a straight: they meet, or an end of one lies as near as
// that to the other.
func (s *Surface) reaches(f int32, a, b exact.XY, reach float64) bool {
	u, v, w := s.corners(f)
	if exact.Inside(u.XY, v.XY, w.XY, a) {
		return true
	}
	for _, e := range [3][2]exact.XY{{u.XY, v.XY}, {v.XY, w.XY}, {w.XY, u.XY}} {
		if meet(e[0], e[1], a, b) || away(e[0], a, b) <= reach || away(a, e[0], e[1]) <= reach || away(b, e[0], e[1]) <= reach {
			return true
		}
	}
	return false
}

// meet tells whether two straights cross, each between the other's ends.
func meet(a, b, c, d exact.XY) bool {
	return exact.Side(a, b, c)*exact.Side(a, b, d) < 0 && exact.Side(c, d, a)*exact.Side(c, d, b) < 0
}

// away is how far a place lies from a straight, in nanometres.
func away(p, a, b exact.XY) float64 {
	along, square := exact.Dot(a, b, p), exact.Dot(a, b, b)
	switch {
	case along.Sign() <= 0:
		return math.Sqrt(exact.Dot(a, p, p).Float())
	case along.Minus(square).Sign() >= 0:
		return math.Sqrt(exact.Dot(b, p, p).Float())
	}
	return math.Abs(exact.Cross(a, b, p).Float()) / math.Sqrt(square.Float())
}

// part is a surface of some of the faces of s; it has its own points and measures.
func (s *Surface) part(kept []bool) *Surface {
	out := &Surface{Name: s.Name, Role: s.Role, Origin: s.Origin, tidy: s.tidy}
	face2, vertex2 := make([]int32, len(s.faces)), make([]int32, len(s.vertices))
	for i := range vertex2 {
		vertex2[i] = none
	}
	count := int32(0)
	for f, k := range kept {
		face2[f] = none
		if k {
			face2[f] = count
			count++
			for _, c := range s.faces[f].corner {
				vertex2[c] = 0
			}
		}
	}
	if count == 0 {
		return nil
	}
	for i, v := range vertex2 {
		if v != none {
			vertex2[i] = int32(len(out.vertices))
			out.vertices = append(out.vertices, s.vertices[i])
		}
	}
	out.faces = make([]face, 0, count)
	for f, k := range kept {
		if !k {
			continue
		}
		var g face
		for i := range 3 {
			g.corner[i], g.beyond[i] = vertex2[s.faces[f].corner[i]], none
			if j := s.faces[f].beyond[i]; j != none {
				g.beyond[i] = face2[j]
			}
		}
		out.faces = append(out.faces, g)
	}
	out.measure(len(out.vertices), 0, nil)
	out.index = newIndex(out)
	return out
}
