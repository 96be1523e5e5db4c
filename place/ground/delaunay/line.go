package delaunay

import (
	"slices"

	"trenchwright/place/ground/exact"
)

// Crossing is where a line could not be forced in: it would cross an edge that lies on a line already, between the
// places of both strictly.
type Crossing struct{ Edge [2]int32 }

// Force makes the straight line between two places of the mesh edges of it. Places that lie on the line part it. Where it
// would cross a line that is there already, that part of it is left out. The places that part it come back in their
// order, and every edge that it would cross.
func (m *Mesh) Force(from, to int32) (parting []int32, crossed []Crossing) {
	if m.some == nil {
		m.prepare()
	}
	for from, to := m.number[from], m.number[to]; from != to; {
		next, channel := m.look(from, to)
		if c := m.fixedIn(channel); len(c) > 0 {
			crossed = append(crossed, c...)
		} else if len(channel) > 0 {
			m.open(from, next, channel)
		}
		if next != to {
			parting = append(parting, m.given[next])
		}
		from = next
	}
	return parting, crossed
}

// prepare notes a triangle of each place, and the numbers that places have here.
func (m *Mesh) prepare() {
	m.number = make([]int32, slices.Max(m.given)+1)
	for i, g := range m.given {
		m.number[g] = int32(i)
	}
	m.some = make([]int32, len(m.places))
	for i := range m.all {
		m.note(int32(i))
	}
}

// note tells the corners of a triangle that it is theirs.
func (m *Mesh) note(t int32) {
	for _, c := range m.all[t].corner {
		if c != infinity {
			m.some[c] = t
		}
	}
}

// look goes round a place to where the line leaves it. Either it runs along an edge, which is then fixed, to the next
// place; or it crosses a channel of triangles up to the next place on it. The channel is given as the edges that are
// crossed, each as the side that is met first.
func (m *Mesh) look(from, to int32) (next int32, channel []edge) {
	a, b := m.places[from], m.places[to]
	for t := m.some[from]; ; {
		k := m.cornerOf(t, from)
		c := &m.all[t].corner
		right, left := c[after[k]], c[before[k]]
		if left != infinity {
			side := exact.Side(a, b, m.places[left])
			if side == 0 && exact.Dot(a, b, m.places[left]).Sign() > 0 {
				m.fix(at(t, after[k]))
				return left, nil
			}
			if right != infinity && side > 0 && exact.Side(a, b, m.places[right]) < 0 {
				return m.across(a, b, at(t, k))
			}
		}
		t = m.all[t].beyond[after[k]].triangle() // the next one counterclockwise, beyond the edge from left to from
		if t == m.some[from] {
			panic("delaunay: a line leaves a place in no direction")
		}
	}
}

// across follows the line from the edge that it crosses first, which runs from right to left, to the next place on it.
func (m *Mesh) across(a, b exact.XY, e edge) (next int32, channel []edge) {
	for {
		channel = append(channel, e)
		o := m.beyond(e) // runs from left to right
		ahead := m.all[o.triangle()].corner[o.corner()]
		switch exact.Side(a, b, m.places[ahead]) {
		case 0:
			return ahead, channel
		case 1:
			e = at(o.triangle(), after[o.corner()])
		default:
			e = at(o.triangle(), before[o.corner()])
		}
	}
}

// cornerOf is which corner of t a place is.
func (m *Mesh) cornerOf(t, place int32) int {
	c := &m.all[t].corner
	switch place {
	case c[0]:
		return 0
	case c[1]:
		return 1
	}
	return 2
}

// fix marks both sides of an edge as lying on a line.
func (m *Mesh) fix(e edge) {
	m.all[e.triangle()].fixed |= 1 << e.corner()
	b := m.beyond(e)
	m.all[b.triangle()].fixed |= 1 << b.corner()
}

func (m *Mesh) isFixed(e edge) bool { return m.all[e.triangle()].fixed>>e.corner()&1 == 1 }

// fixedIn are the edges of a channel that lie on lines.
func (m *Mesh) fixedIn(channel []edge) []Crossing {
	var out []Crossing
	for _, e := range channel {
		if m.isFixed(e) {
			c := &m.all[e.triangle()].corner
			out = append(out, Crossing{[2]int32{m.given[c[after[e.corner()]]], m.given[c[before[e.corner()]]]}})
		}
	}
	return out
}
