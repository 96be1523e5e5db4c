package profile

import (
	"cmp"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
)

// lows are the local lows of the invert: places, or level stretches of them, from which no way leads further down. Ends of
// the run count too: water that runs to an end stands there. What drains to a low is every unit from which one can get to it
// without climbing; a unit on a crest between two lows, or above a fork, drains to both.
func (p *Problem) lows(levels [][]measure.Length) []Low {
	m := p.mesh(levels)
	var out []Low
	seen := make([]bool, len(m.level))
	for v := range m.level {
		if seen[v] {
			continue
		}
		flat, low := m.plateau(v, seen)
		if !low {
			continue
		}
		l := p.describe(m, flat)
		l.Drains = m.drains(flat)
		out = append(out, l)
	}
	sorting.By(out, func(a, b Low) int {
		return cmp.Or(cmp.Compare(a.Leg, b.Leg), cmp.Compare(a.From, b.From), cmp.Compare(a.Node, b.Node))
	})
	return out
}

// mesh is the network as water sees it: first a vertex for every node, at the lowest invert that ends there, then one for
// each end of each unit, for inverts of neighbours may differ by a step or by their depth.
type mesh struct {
	first []int // by leg: the vertex at the start of its first unit; its units' others follow
	level []measure.Length
	near  [][]edge
}

type edge struct {
	to     int
	length measure.Length
}

func (m *mesh) join(a, b int, length measure.Length) {
	m.near[a], m.near[b] = append(m.near[a], edge{b, length}), append(m.near[b], edge{a, length})
}

func (p *Problem) mesh(levels [][]measure.Length) *mesh {
	m := &mesh{level: make([]measure.Length, len(p.Nodes))}
	for i := range p.Legs {
		l := &p.Legs[i]
		m.first = append(m.first, len(m.level))
		for k := range l.Units {
			from, to := levels[i][k], levels[i][k+1]
			if s := l.Units[k].Step; s != nil {
				to = from + climb(s.Grade, l.length(k))
			}
			m.level = append(m.level, from-l.Units[k].Below, to-l.Units[k].Below)
		}
	}
	m.near = make([][]edge, len(m.level))
	for i := range p.Legs {
		for k := range p.Legs[i].Units {
			v := m.first[i] + 2*k
			if m.join(v, v+1, p.Legs[i].length(k)); k > 0 {
				m.join(v-1, v, 0)
			}
		}
	}
	for n, node := range p.Nodes {
		for k, a := range node.Arms {
			v := m.end(p, a)
			if k == 0 || m.level[v] < m.level[n] {
				m.level[n] = m.level[v]
			}
			m.join(n, v, 0)
		}
	}
	return m
}

// end is the vertex at an end of a leg.
func (m *mesh) end(p *Problem, a Arm) int {
	if a.End {
		return m.first[a.Leg] + 2*len(p.Legs[a.Leg].Units) - 1
	}
	return m.first[a.Leg]
}

// plateau is all vertices of one level around v, and whether none of their neighbours lies lower. A vertex without
// neighbours is no place.
func (m *mesh) plateau(v int, seen []bool) (flat []int, low bool) {
	low = len(m.near[v]) > 0
	flat, seen[v] = []int{v}, true
	for k := 0; k < len(flat); k++ {
		for _, e := range m.near[flat[k]] {
			switch {
			case m.level[e.to] < m.level[v]:
				low = false
			case m.level[e.to] == m.level[v] && !seen[e.to]:
				seen[e.to] = true
				flat = append(flat, e.to)
			}
		}
	}
	return flat, low
}

// drains is the length of all units from which one gets to flat without climbing.
func (m *mesh) drains(flat []int) measure.Length {
	reached := map[int]bool{}
	queue := slices.Clone(flat)
	for _, v := range flat {
		reached[v] = true
	}
	var total measure.Length
	for k := 0; k < len(queue); k++ {
		v := queue[k]
		for _, e := range m.near[v] {
			switch {
			case m.level[e.to] > m.level[v]:
				total += e.length
			case m.level[e.to] == m.level[v] && v < e.to:
				total += e.length
			}
			if m.level[e.to] >= m.level[v] && !reached[e.to] {
				reached[e.to] = true
				queue = append(queue, e.to)
			}
		}
	}
	return total
}

// describe says where a low lies: at the joints of the first leg that has some of it, or at a node.
func (p *Problem) describe(m *mesh, flat []int) Low {
	out := Low{Leg: -1, Node: -1, Level: m.level[flat[0]]}
	in := map[int]bool{}
	for _, v := range flat {
		if in[v] = true; v < len(p.Nodes) && (out.Node < 0 || v < out.Node) {
			out.Node = v
		}
	}
	for i := range m.first {
		units := len(p.Legs[i].Units)
		for j := range p.Legs[i].Joints {
			v := m.first[i] + 2*j // of the unit behind; that of the unit before is the one before it
			if !(j < units && in[v]) && !(j > 0 && in[v-1]) {
				continue
			}
			if out.Leg < 0 {
				out.Leg, out.From, out.To = i, j, j
			}
			if out.Leg == i && j == out.To+1 {
				out.To = j
			}
			if out.Outlet == "" {
				out.Outlet = p.Legs[i].Joints[j].Outlet
			}
		}
	}
	return out
}
