package cutstock

import "slices"

// graph is pieces, and units that take only one piece, as vertices; what can be put together as edges. Vertices of the
// same group have the same edges. An edge weighs what it saves: at least 1, or it is none.
type graph struct {
	group  []int     // by vertex
	weight [][]int64 // by groups; 0: no edge
}

func (g *graph) size() int            { return len(g.group) }
func (g *graph) weigh(a, b int) int64 { return g.weight[g.group[a]][g.group[b]] }
func (g *graph) joined(a, b int) bool { return a != b && g.weigh(a, b) > 0 }

// matching is edges without a common vertex, and the prices that prove that no such edges save more: twice the values
// of vertices, and of odd sets. Along every edge its ends and the sets that hold both come to at least twice its weight,
// and the edges save half of Σ values + Σ sets·⌊members/2⌋.
type matching struct {
	mate  []int // −1: alone
	value []int64
	sets  []oddSet
}

type oddSet struct {
	members []int
	value   int64
}

// most finds as many edges as can be, when all weigh the same: alternating trees grow from all vertices that are alone;
// where two trees meet a path is turned over, where one meets itself its odd cycle becomes one vertex.
func (g *graph) most(e *effort) matching {
	f := forest{graph: g, mate: g.greedy(), effort: e}
	n := g.size()
	f.parent, f.root, f.base = make([]int, n), make([]int, n), make([]int, n)
	f.outer, f.inner, f.mark = make([]bool, n), make([]bool, n), make([]bool, n)
	for f.grow() {
	}
	return f.prices()
}

// greedy pairs each vertex with the last one, in order of vertices, that it can be paired with: the longest piece with
// the longest that still fits, when vertices stand from short to long.
func (g *graph) greedy() []int {
	mate := slices.Repeat([]int{-1}, g.size())
	for a := g.size() - 1; a >= 0; a-- {
		for b := g.size() - 1; mate[a] < 0 && b >= 0; b-- {
			if mate[b] < 0 && g.joined(a, b) {
				mate[a], mate[b] = b, a
			}
		}
	}
	return mate
}

// forest is the alternating trees. Outer vertices are reached over an even number of edges.
type forest struct {
	*graph
	effort       *effort
	mate         []int
	parent, root []int
	base         []int // of the odd cycle that the vertex is in
	outer, inner []bool
	mark         []bool
	queue        []int
}

// grow grows the trees until a path is turned over; false when there is none.
func (f *forest) grow() bool {
	f.queue = f.queue[:0]
	for v := range f.mate {
		f.base[v], f.parent[v], f.root[v] = v, -1, v
		f.outer[v], f.inner[v] = f.mate[v] < 0, false
		if f.outer[v] {
			f.queue = append(f.queue, v)
		}
	}
	for i := 0; i < len(f.queue); i++ {
		v := f.queue[i]
		f.effort.spend(int64(len(f.mate)))
		if f.effort.spent() {
			return false
		}
		for w := range f.mate {
			if f.base[v] == f.base[w] || f.mate[v] == w || !f.joined(v, w) {
				continue
			}
			switch {
			case f.outer[w] && f.root[v] != f.root[w]:
				f.turn(v, w)
				f.turn(w, v)
				return true
			case f.outer[w]:
				f.shrink(v, w)
			case !f.inner[w]:
				f.reach(v, w)
			}
		}
	}
	return false
}

// reach adds w and its mate to the tree of v.
func (f *forest) reach(v, w int) {
	m := f.mate[w]
	f.inner[w], f.parent[w], f.root[w] = true, v, f.root[v]
	f.outer[m], f.root[m] = true, f.root[v]
	f.queue = append(f.queue, m)
}

// turn gives v a new mate and turns over its path to the root.
func (f *forest) turn(v, mate int) {
	for {
		old := f.mate[v]
		f.mate[v] = mate
		if old < 0 {
			return
		}
		next := f.parent[old]
		f.mate[old] = next
		v, mate = next, old
	}
}

// shrink makes one vertex of the odd cycle that the edge from v to w closes.
func (f *forest) shrink(v, w int) {
	base := f.meet(v, w)
	clear(f.mark)
	f.markPath(v, base, w)
	f.markPath(w, base, v)
	for i := range f.base {
		if !f.mark[f.base[i]] {
			continue
		}
		f.base[i] = base
		if !f.outer[i] {
			f.outer[i] = true
			f.queue = append(f.queue, i)
		}
	}
	f.effort.spend(int64(len(f.base)))
}

// meet is the base where the paths of v and w to their root first meet.
func (f *forest) meet(v, w int) int {
	clear(f.mark)
	for {
		v = f.base[v]
		f.mark[v] = true
		if f.mate[v] < 0 {
			break
		}
		v = f.parent[f.mate[v]]
	}
	for {
		w = f.base[w]
		if f.mark[w] {
			return w
		}
		w = f.parent[f.mate[w]]
	}
}

// markPath marks the bases on the path from v down to base, and sets how it is gone the other way round.
func (f *forest) markPath(v, base, child int) {
	for f.base[v] != base {
		f.mark[f.base[v]], f.mark[f.base[f.mate[v]]] = true, true
		f.parent[v] = child
		child = f.mate[v]
		v = f.parent[child]
	}
}

// prices reads the proof off the trees when no path is left (Tutte and Berge: of the vertices other than the inner
// ones, the outer ones lie in odd components that have no edges among each other).
func (f *forest) prices() matching {
	m := matching{mate: f.mate, value: make([]int64, len(f.mate))}
	weight := int64(0)
	for _, row := range f.weight {
		weight = max(weight, slices.Max(append(row, 0)))
	}
	sets := make([][]int, len(f.mate))
	for v := range f.mate {
		switch {
		case f.outer[v]:
			sets[f.base[v]] = append(sets[f.base[v]], v)
		case f.inner[v]:
			m.value[v] = 2 * weight
		default:
			m.value[v] = weight
		}
	}
	for _, set := range sets {
		if len(set) > 1 {
			m.sets = append(m.sets, oddSet{set, 2 * weight})
		}
	}
	return m
}
