package delaunay

import "trenchwright/place/ground/exact"

// insert puts a place in that no place of the mesh coincides with.
func (m *Mesh) insert(place int32) {
	p := m.places[place]
	seed := m.locate(p, m.last)
	m.rim, m.holes = m.rim[:0], append(m.holes[:0], seed)
	for k := range 3 {
		m.dig(at(seed, k), p)
	}
	m.star(place)
}

// dig goes through an edge of a triangle that p makes wrong. What lies beyond and is wrong too is dug out with all behind
// it; what is not is the rim. No place is ever left alone in the hole, so that its triangles hang together as a tree: none
// is met twice, and the rim comes out in order.
func (m *Mesh) dig(e edge, p exact.XY) {
	b := m.beyond(e)
	if !m.wrong(b.triangle(), p) {
		m.rim = append(m.rim, b)
		return
	}
	m.holes = append(m.holes, b.triangle())
	m.dig(at(b.triangle(), after[b.corner()]), p)
	m.dig(at(b.triangle(), before[b.corner()]), p)
}

// wrong tells whether p lies inside the circle round a triangle. The circle of one with a corner at infinity is the far
// side of its edge, and the edge itself without its ends.
func (m *Mesh) wrong(t int32, p exact.XY) bool {
	c := &m.all[t].corner
	for k := range 3 {
		if c[k] == infinity {
			a, b := m.places[c[after[k]]], m.places[c[before[k]]]
			side := exact.Side(a, b, p)
			return side > 0 || side == 0 && exact.Between(a, b, p)
		}
	}
	return exact.InCircle(m.places[c[0]], m.places[c[1]], m.places[c[2]], p) > 0
}

// star closes the hole with a triangle from the place to each edge of the rim.
func (m *Mesh) star(place int32) {
	for len(m.holes) < len(m.rim) {
		m.holes = append(m.holes, int32(len(m.all)))
		m.all = append(m.all, triangle{})
	}
	n := len(m.rim)
	for i, out := range m.rim {
		t := m.holes[i]
		o := &m.all[out.triangle()]
		k := out.corner()
		m.all[t] = triangle{
			corner: [3]int32{place, o.corner[before[k]], o.corner[after[k]]},
			beyond: [3]edge{out, at(m.holes[(i+1)%n], 2), at(m.holes[(i+n-1)%n], 1)},
		}
		o.beyond[k] = at(t, 0)
	}
	m.last = m.holes[0]
}

// locate walks from a triangle to one that holds p, or to one outside the hull whose edge p lies beyond. In a Delaunay
// triangulation such a walk never goes in a circle (Edelsbrunner 1990).
func (m *Mesh) locate(p exact.XY, t int32) int32 {
	from := -1
	if c := &m.all[t].corner; m.all[t].outside() {
		for k := range 3 {
			if c[k] == infinity {
				e := m.all[t].beyond[k]
				t, from = e.triangle(), -1
				break
			}
		}
	}
	for {
		c := &m.all[t].corner
		next := nowhere
		for k := range 3 {
			if k != from && exact.Side(m.places[c[after[k]]], m.places[c[before[k]]], p) < 0 {
				next = m.all[t].beyond[k]
				break
			}
		}
		if next == nowhere {
			return t
		}
		t, from = next.triangle(), next.corner()
		if m.all[t].outside() {
			return t
		}
	}
}
