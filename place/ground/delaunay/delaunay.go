// Package delaunay triangulates places on whole nanometres and forces lines into the triangulation.
//
// Places are put in one after the other, in rounds of growing density along a Hilbert curve, so that each is found by a
// short walk from the one before; what its coming makes wrong is dug out and closed again as a star around it. All
// decisions are exact (package exact), so that grids, rows and circles of places are nothing special. Round the hull lie
// triangles with one corner at infinity: every edge has two sides, and there is no outer case.
//
// Lines come last. A line opens a channel of the triangles that it crosses; both sides of the channel are closed by ears,
// which a polygon that is seen from one of its edges always has (Avis and Toussaint 1982), and then flipped until no edge
// but the lines' own is badly chosen.
//
// Map of the package:
//
//	delaunay.go  Mesh, Build, Faces
//	order.go     the order of coming, and places that coincide
//	insert.go    one more place
//	line.go      Force: one more line; channel.go: the channel that it opens, and its closing; flip.go: flips
//	check.go     Check: whether a mesh is what it claims, by other code
package delaunay

import "trenchwright/place/ground/exact"

// infinity is the corner of triangles outside the hull.
const infinity = -1

// edge is one side of an edge: the triangle, times four, plus the corner that it lies opposite to. Its triangle's corners
// run counterclockwise, and so does the edge: from corner+1 to corner+2.
type edge int32

const nowhere edge = -1

func at(triangle int32, corner int) edge { return edge(triangle)<<2 | edge(corner) }

func (e edge) triangle() int32 { return int32(e >> 2) }
func (e edge) corner() int     { return int(e & 3) }

// after and before step round a triangle's corners.
var (
	after  = [3]int{1, 2, 0}
	before = [3]int{2, 0, 1}
)

// triangle holds its corners counterclockwise, behind each of its edges the same edge of its neighbour, and which of its
// edges lie on lines.
type triangle struct {
	corner [3]int32
	beyond [3]edge
	fixed  uint8 // bit k: the edge opposite corner k
	dug    bool  // lies in the channel of the line that is being forced
}

// Mesh is a triangulation of the convex hull of its places. Inside, places are numbered along the curve, so that what lies
// near in the plan lies near in memory.
type Mesh struct {
	places []exact.XY
	given  []int32 // of each place its number outside
	number []int32 // of each place outside that is in the mesh its number here
	all    []triangle
	some   []int32 // a triangle of each place, once a line is forced
	last   int32   // a triangle near the place that came last
	rim    []edge  // of the hole that a place digs: the edges beyond it, counterclockwise
	holes  []int32 // triangles dug out
}

// Build triangulates places. same[i] is i, or the first place that i coincides with and that is in the mesh in its stead.
// Without three places that are not on one line there is no mesh.
func Build(places []exact.XY) (m *Mesh, same []int32) {
	m = &Mesh{}
	m.given, same = distinct(places)
	m.places = make([]exact.XY, len(m.given))
	for i, p := range m.given {
		m.places[i] = places[p]
	}
	order := coming(len(m.given))
	a, b, c, ok := corners(m.places, order)
	if !ok {
		return nil, same
	}
	m.all = make([]triangle, 0, 2*len(order))
	m.begin(a, b, c)
	for _, p := range order {
		if p != a && p != b && p != c {
			m.insert(p)
		}
	}
	return m, same
}

// corners are the first three places of the order that are not on one line, counterclockwise.
func corners(places []exact.XY, order []int32) (a, b, c int32, ok bool) {
	if len(order) < 3 {
		return 0, 0, 0, false
	}
	a, b = order[0], order[1]
	for _, c := range order[2:] {
		switch exact.Side(places[a], places[b], places[c]) {
		case 1:
			return a, b, c, true
		case -1:
			return a, c, b, true
		}
	}
	return 0, 0, 0, false
}

// begin makes the first triangle and the three that lie outside its edges.
func (m *Mesh) begin(a, b, c int32) {
	m.all = append(m.all,
		triangle{corner: [3]int32{a, b, c}, beyond: [3]edge{at(1, 0), at(2, 0), at(3, 0)}},
		triangle{corner: [3]int32{infinity, c, b}, beyond: [3]edge{at(0, 0), at(3, 2), at(2, 1)}},
		triangle{corner: [3]int32{infinity, a, c}, beyond: [3]edge{at(0, 1), at(1, 2), at(3, 1)}},
		triangle{corner: [3]int32{infinity, b, a}, beyond: [3]edge{at(0, 2), at(2, 2), at(1, 1)}},
	)
}

// Face is a triangle of the mesh: its corners counterclockwise, and opposite each corner the face beyond that edge (None
// at the hull) and whether the edge lies on a line.
type Face struct {
	Corner [3]int32
	Beyond [3]int32
	Fixed  [3]bool
}

// None is what lies beyond the hull.
const None = -1

// Order is the numbers of the places in the mesh, those beside each other in the plan mostly beside each other.
func (m *Mesh) Order() []int32 { return m.given }

// Faces are the triangles of the mesh, in an order that depends on nothing but the places and lines.
func (m *Mesh) Faces() []Face {
	number := make([]int32, len(m.all))
	count := int32(0)
	for i := range m.all {
		number[i] = None
		if !m.all[i].outside() {
			number[i] = count
			count++
		}
	}
	faces := make([]Face, 0, count)
	for i := range m.all {
		t := &m.all[i]
		if t.outside() {
			continue
		}
		var f Face
		for k, e := range t.beyond {
			f.Corner[k], f.Beyond[k], f.Fixed[k] = m.given[t.corner[k]], number[e.triangle()], t.fixed>>k&1 == 1
		}
		faces = append(faces, f)
	}
	return faces
}

// outside tells whether a corner of t is at infinity.
func (t *triangle) outside() bool {
	return t.corner[0] == infinity || t.corner[1] == infinity || t.corner[2] == infinity
}

// join makes two sides of one edge each other's beyond.
func (m *Mesh) join(a, b edge) {
	m.all[a.triangle()].beyond[a.corner()] = b
	m.all[b.triangle()].beyond[b.corner()] = a
}

// beyond is the other side of e.
func (m *Mesh) beyond(e edge) edge { return m.all[e.triangle()].beyond[e.corner()] }
