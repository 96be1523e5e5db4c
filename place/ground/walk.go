package ground

import (
	"cmp"
	"math"
	"slices"

	"trenchwright/place/ground/exact"
)

// straight is a piece of a line, from a to b. A place on it counts as left of it, or as right where rightOn is set: the
// straight is moved by next to nothing, so that it never passes through a corner or along an edge.
type straight struct {
	a, b    exact.XY
	square  float64 // of its length, nm²
	rightOn bool
}

// cut is a point of the ground above a straight: how far along as a share of it, and the level in nanometres.
type cut struct{ along, z float64 }

// corner is a face's corner seen from a straight.
type corner struct {
	off   float64 // |(b−a)×(v−a)|: how far off the straight, in nm²
	along float64
	z     float64
	left  bool
}

func (l *straight) see(v *vertex) corner {
	off := exact.Cross(l.a, l.b, v.XY)
	side := off.Sign()
	return corner{math.Abs(off.Float()), exact.Dot(l.a, l.b, v.XY).Float() / l.square, float64(v.Z), side > 0 || side == 0 && !l.rightOn}
}

// cross is where the straight crosses the edge between two corners, one on either side of it.
func cross(u, w *corner) cut {
	k := u.off / (u.off + w.off)
	return cut{u.along + float64((w.along-u.along)*k), u.z + float64((w.z-u.z)*k)}
}

// passage is how a straight passes a face: in over one edge and out over another, each named by the corner opposite.
type passage struct {
	in, out int
	seen    [3]corner
}

// pass tells how the straight passes a face, if it does.
func (s *Surface) pass(l *straight, f int32) (passage, bool) {
	var p passage
	a, b, c := s.corners(f)
	p.seen = [3]corner{l.see(a), l.see(b), l.see(c)}
	if p.seen[0].left == p.seen[1].left && p.seen[1].left == p.seen[2].left {
		return p, false
	}
	for k := range 3 {
		u, w := p.seen[after[k]].left, p.seen[before[k]].left
		if u && !w {
			p.in = k
		} else if w && !u {
			p.out = k
		}
	}
	return p, true
}

// entry and exit are where the straight comes into the face and leaves it.
func (p *passage) entry() cut { return cross(&p.seen[after[p.in]], &p.seen[before[p.in]]) }
func (p *passage) exit() cut  { return cross(&p.seen[before[p.out]], &p.seen[after[p.out]]) }

// inside tells whether q lies on a face's side of one of its edges, or on the edge.
func (s *Surface) inside(f int32, k int, q exact.XY) int {
	c := &s.faces[f].corner
	return exact.Side(s.vertices[c[after[k]]].XY, s.vertices[c[before[k]]].XY, q)
}

// pieces are the stretches of ground along a straight, in order, found by walking from face to face.
func (s *Surface) pieces(l *straight) [][]cut {
	var out [][]cut
	if f, p, ok := s.first(l); ok {
		piece, whole := s.walk(l, f, p, []cut{{0, s.level(f, l.a) * 1e9}})
		out = append(out, piece)
		if whole {
			return out
		}
	}
	for _, e := range s.entries(l) {
		p, _ := s.pass(l, e.face)
		piece, _ := s.walk(l, e.face, p, append(make([]cut, 0, 8), p.entry()))
		out = append(out, piece)
	}
	return out
}

// first is the face in which the straight begins.
func (s *Surface) first(l *straight) (face int32, how passage, ok bool) {
	for _, f := range s.index.near(l.a) {
		if a, b, c := s.corners(f); !exact.Inside(a.XY, b.XY, c.XY, l.a) {
			continue
		}
		p, passes := s.pass(l, f)
		if !passes {
			continue
		}
		if s.inside(f, p.out, l.a) > 0 {
			return f, p, true
		}
		if !ok || f < face { // it leaves the face where it begins: only where no other face will do
			face, how, ok = f, p, true
		}
	}
	return face, how, ok
}

// walk goes on from a face until the straight ends (whole) or the ground does.
func (s *Surface) walk(l *straight, f int32, p passage, piece []cut) (_ []cut, whole bool) {
	for {
		if s.inside(f, p.out, l.b) >= 0 {
			return append(piece, cut{1, s.level(f, l.b) * 1e9}), true
		}
		piece = append(piece, p.exit())
		g := s.faces[f].beyond[p.out]
		if g == none {
			return piece, false
		}
		p = s.onward(l, f, g, &p)
		if s.steps(f, g, &p) {
			piece = append(piece, p.entry())
		}
		f = g
	}
}

// onward is the passage of the face beyond the edge that the straight left another by.
func (s *Surface) onward(l *straight, f, g int32, p *passage) passage {
	var q passage
	for k, j := range s.faces[g].beyond {
		if j == f {
			q.in = k
		}
	}
	c := &s.faces[g].corner
	right, left := before[q.in], after[q.in] // of the straight, on the edge that it comes in by
	q.seen[left], q.seen[right] = p.seen[before[p.out]], p.seen[after[p.out]]
	q.seen[left].z, q.seen[right].z = float64(s.vertices[c[left]].Z), float64(s.vertices[c[right]].Z)
	q.seen[q.in] = l.see(&s.vertices[c[q.in]])
	if q.seen[q.in].left {
		q.out = left // between the corner ahead and the right one
	} else {
		q.out = right
	}
	return q
}

// steps tells whether the ground has an upright step where face g begins: its corners there are not those of f.
func (s *Surface) steps(f, g int32, p *passage) bool {
	c, d := &s.faces[g].corner, &s.faces[f].corner
	for _, u := range [2]int32{c[after[p.in]], c[before[p.in]]} {
		if u != d[0] && u != d[1] && u != d[2] {
			return true
		}
	}
	return false
}

// entrance is where a straight comes in from where there is no ground.
type entrance struct {
	along float64
	face  int32
}

// entries are all places behind its begin where the straight comes in over an edge with nothing beyond.
func (s *Surface) entries(l *straight) []entrance {
	var out []entrance
	for f := range s.along(l) {
		p, passes := s.pass(l, f)
		if passes && s.faces[f].beyond[p.in] == none && s.inside(f, p.in, l.a) < 0 && s.inside(f, p.in, l.b) >= 0 {
			out = append(out, entrance{p.entry().along, f})
		}
	}
	slices.SortFunc(out, func(a, b entrance) int { return cmp.Or(cmp.Compare(a.along, b.along), cmp.Compare(a.face, b.face)) })
	return slices.Compact(out)
}

// along yields the faces that may lie along a straight, some of them several times.
func (s *Surface) along(l *straight) func(yield func(int32) bool) {
	return func(yield func(int32) bool) {
		x := &s.index
		from, to := x.rowsOf(min(l.a.Y, l.b.Y), max(l.a.Y, l.b.Y))
		for r := from; r <= to; r++ {
			low, high := x.strip(l.a, l.b, r)
			if low > high {
				continue
			}
			for _, f := range x.in(r, int64(x.columnOf(low)), int64(x.columnOf(high))) {
				if !yield(f) {
					return
				}
			}
		}
	}
}
