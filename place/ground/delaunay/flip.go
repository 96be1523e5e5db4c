package delaunay

import "trenchwright/place/ground/exact"

// mend flips edges until every one of the triangles' edges is as Delaunay as the lines let it (Lawson 1977).
func (m *Mesh) mend(triangles []int32) {
	var doubtful []edge
	for _, t := range triangles {
		doubtful = append(doubtful, at(t, 0), at(t, 1), at(t, 2))
	}
	for len(doubtful) > 0 {
		e := doubtful[len(doubtful)-1]
		doubtful = doubtful[:len(doubtful)-1]
		if m.isFixed(e) || !m.illChosen(e) {
			continue
		}
		o := m.beyond(e)
		m.flip(e)
		t, u := e.triangle(), o.triangle()
		doubtful = append(doubtful, at(t, 0), at(t, 1), at(t, 2), at(u, 0), at(u, 1), at(u, 2))
	}
}

// illChosen tells whether the place opposite to e on the other side lies inside the circle of e's triangle.
func (m *Mesh) illChosen(e edge) bool {
	t := &m.all[e.triangle()]
	o := m.beyond(e)
	u := &m.all[o.triangle()]
	if t.outside() || u.outside() {
		return false
	}
	c := &t.corner
	return exact.InCircle(m.places[c[0]], m.places[c[1]], m.places[c[2]], m.places[u.corner[o.corner()]]) > 0
}

// flip puts the other diagonal of the two triangles at e in its place; they keep their numbers.
func (m *Mesh) flip(e edge) {
	o := m.beyond(e)
	t, u := e.triangle(), o.triangle()
	i, j := e.corner(), o.corner()
	a, b, c, d := m.all[t].corner[i], m.all[t].corner[after[i]], m.all[t].corner[before[i]], m.all[u].corner[j]
	ca, ab := at(t, after[i]), at(t, before[i]) // edges by their ends; b to c is e
	bd, dc := at(u, after[j]), at(u, before[j])
	outCA, outAB, outBD, outDC := m.beyond(ca), m.beyond(ab), m.beyond(bd), m.beyond(dc)
	fixed := func(e edge, k int) uint8 { return (m.all[e.triangle()].fixed >> e.corner() & 1) << k }
	first := triangle{corner: [3]int32{a, b, d}, fixed: fixed(bd, 0) | fixed(ab, 2)}
	second := triangle{corner: [3]int32{a, d, c}, fixed: fixed(dc, 0) | fixed(ca, 1)}
	m.all[t], m.all[u] = first, second
	m.join(at(t, 0), outBD)
	m.join(at(t, 2), outAB)
	m.join(at(u, 0), outDC)
	m.join(at(u, 1), outCA)
	m.join(at(t, 1), at(u, 2))
	m.note(t)
	m.note(u)
}
