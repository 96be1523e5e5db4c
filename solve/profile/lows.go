package profile

import (
	"cmp"
	"slices"

	"trenchwright/base/measure"
)

// lows are the local lows of levels of record: joints, or level stretches of them, from which no way leads further down. Ends
// of the run count too: water that runs to an end stands there. What drains to a low is every unit from which one can get
// to it without climbing; a unit on a crest between two lows, or above a fork, drains to both.
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
	slices.SortStableFunc(out, func(a, b Low) int {
		return cmp.Or(cmp.Compare(a.Leg, b.Leg), cmp.Compare(a.From, b.From), cmp.Compare(a.Node, b.Node))
	})
	return out
}

// mesh is the network as water sees it: one vertex for each joint, one for all ends at a node.
type mesh struct {
	vertex [][]int // by leg and joint
	level  []measure.Length
	near   [][]edge
}

type edge struct {
	to     int
	length measure.Length
}

func (p *Problem) mesh(levels [][]measure.Length) *mesh {
	vertex, pinned := p.levelNumbers()
	m := &mesh{vertex: vertex, level: make([]measure.Length, len(pinned)), near: make([][]edge, len(pinned))}
	for i := range p.Legs {
		for j, v := range vertex[i] {
			if j == 0 || j == len(vertex[i])-1 || v >= len(p.Nodes) {
				m.level[v] = levels[i][j]
			}
		}
		for k := range p.Legs[i].Units {
			a, b, length := vertex[i][k], vertex[i][k+1], p.Legs[i].length(k)
			m.near[a] = append(m.near[a], edge{b, length})
			m.near[b] = append(m.near[b], edge{a, length})
		}
	}
	for n, node := range p.Nodes { // steps and falls of castings at a node do not hold water back
		for k, a := range node.Arms {
			at, _ := p.ends(a)
			if l := levels[a.Leg][at]; k == 0 || l < m.level[n] {
				m.level[n] = l
			}
		}
	}
	return m
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
	in := map[int]bool{}
	for _, v := range flat {
		in[v] = true
	}
	out := Low{Leg: -1, Node: -1, Level: m.level[flat[0]]}
	for _, v := range flat {
		if v < len(p.Nodes) && (out.Node < 0 || v < out.Node) {
			out.Node = v
		}
	}
	for i := range m.vertex {
		for j, v := range m.vertex[i] {
			if !in[v] {
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
