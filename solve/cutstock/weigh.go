package cutstock

import "math"

// heaviest finds edges that save most in sum, by the primal-dual method for general graphs: every vertex has a value,
// odd sets have values, edges whose ends just pay for their weight are tight; alternating trees grow along tight edges,
// and where they cannot the values move until one more edge is tight or a vertex alone is worth nothing more.
//
// Nodes are the vertices 0…n−1 and blossoms, odd cycles of nodes, from n on. All values are doubled.
func (g *graph) heaviest(e *effort) matching {
	w := newWeigher(g, e)
	for w.stage() {
	}
	return w.result()
}

// link is the tightest known edge between two nodes, by its vertices; from −1: none.
type link struct{ from, to int32 }

type weigher struct {
	graph  *graph
	effort *effort
	n      int
	top    []int   // node → the node that it is part of and that is part of none; −1: node not in use
	value  []int64 // of vertices, and of blossoms
	links  [][]link
	match  []link // of a node: the edge to its mate
	tree   []int8 // of a top node: 0 not in a tree, 1 outer, 2 inner
	entry  []link // of an inner node: the edge by which the tree came
	near   []int  // node → outer vertex with the tightest edge to it, −1
	cycle  [][]int
	part   [][]int32 // blossom, vertex → node of its cycle that holds the vertex, −1
	queue  []int
	stamp  []int
	time   int
}

func newWeigher(g *graph, e *effort) *weigher {
	n := g.size()
	size := n + n/2 + 1
	w := &weigher{graph: g, effort: e, n: n}
	w.top, w.value, w.match = make([]int, size), make([]int64, size), make([]link, size)
	w.tree, w.entry, w.near = make([]int8, size), make([]link, size), make([]int, size)
	w.cycle, w.part, w.stamp = make([][]int, size), make([][]int32, size), make([]int, size)
	w.links = make([][]link, size)
	heaviest := int64(0)
	for _, row := range g.weight {
		for _, weight := range row {
			heaviest = max(heaviest, weight)
		}
	}
	for x := range size {
		w.top[x], w.match[x].from = -1, -1
		w.links[x] = make([]link, size)
		for y := range size {
			w.links[x][y].from = -1
			if x < n && y < n && g.joined(x, y) {
				w.links[x][y] = link{int32(x), int32(y)}
			}
		}
		if x < n {
			w.top[x], w.value[x] = x, heaviest
		}
	}
	return w
}

// lack is by how much the ends of an edge pay more than twice its weight.
func (w *weigher) lack(l link) int64 {
	return w.value[l.from] + w.value[l.to] - 2*w.graph.weigh(int(l.from), int(l.to))
}

func (w *weigher) noteNear(v, x int) {
	if l := w.links[v][x]; l.from >= 0 && (w.near[x] < 0 || w.lack(l) < w.lack(w.links[w.near[x]][x])) {
		w.near[x] = v
	}
}

func (w *weigher) findNear(x int) {
	w.near[x] = -1
	for v := range w.n {
		if w.top[v] != x && w.tree[w.top[v]] == 1 {
			w.noteNear(v, x)
		}
	}
}

// enqueue takes the vertices of a node that became outer up for growing.
func (w *weigher) enqueue(x int) {
	if x < w.n {
		w.queue = append(w.queue, x)
		return
	}
	for _, c := range w.cycle[x] {
		w.enqueue(c)
	}
}

func (w *weigher) setTop(x, top int) {
	w.top[x] = top
	if x >= w.n {
		for _, c := range w.cycle[x] {
			w.setTop(c, top)
		}
	}
}

// stage turns over one path, false when none is worth it.
func (w *weigher) stage() bool {
	w.queue = w.queue[:0]
	for x := range w.top {
		w.tree[x], w.near[x] = 0, -1
	}
	for x := range w.top {
		if w.top[x] == x && w.match[x].from < 0 {
			w.tree[x], w.entry[x].from = 1, -1
			w.enqueue(x)
		}
	}
	if len(w.queue) == 0 {
		return false
	}
	for {
		if w.growTight() {
			return true
		}
		if w.effort.spent() || !w.moveValues() {
			return false
		}
		if w.takeTight() {
			return true
		}
		w.openEmpty()
	}
}

// growTight grows the trees along tight edges.
func (w *weigher) growTight() bool {
	for len(w.queue) > 0 {
		v := w.queue[0]
		w.queue = w.queue[1:]
		if w.tree[w.top[v]] == 2 {
			continue
		}
		w.effort.spend(int64(w.n))
		for u := range w.n {
			if w.top[v] == w.top[u] || w.links[v][u].from < 0 {
				continue
			}
			if w.lack(w.links[v][u]) == 0 {
				if w.tight(w.links[v][u]) {
					return true
				}
			} else {
				w.noteNear(v, w.top[u])
			}
		}
	}
	return false
}

// takeTight takes up the edges that became tight when the values moved.
func (w *weigher) takeTight() bool {
	for x := range w.top {
		if w.top[x] != x || w.near[x] < 0 || w.top[w.near[x]] == x {
			continue
		}
		if l := w.links[w.near[x]][x]; w.lack(l) == 0 && w.tree[x] != 2 {
			if w.tight(l) {
				return true
			}
		}
	}
	return false
}

// tight takes up a tight edge from an outer node; true when it turned over a path.
func (w *weigher) tight(l link) bool {
	x, y := w.top[l.from], w.top[l.to]
	switch w.tree[y] {
	case 0:
		w.tree[y], w.entry[y] = 2, l
		mate := w.top[w.match[y].to]
		w.near[y], w.near[mate] = -1, -1
		w.tree[mate] = 1
		w.enqueue(mate)
	case 1:
		base := w.meet(x, y)
		if base < 0 {
			w.augment(x, l)
			w.augment(y, link{l.to, l.from})
			return true
		}
		w.shrink(l, base)
	}
	return false
}

// moveValues moves all values as far as nothing is violated; false when a vertex alone is worth nothing more.
func (w *weigher) moveValues() bool {
	d := int64(math.MaxInt64)
	for v := range w.n {
		if w.tree[w.top[v]] == 1 {
			d = min(d, w.value[v])
		}
	}
	last := d
	for x := range w.top {
		if w.top[x] != x {
			continue
		}
		if x >= w.n && w.tree[x] == 2 {
			d = min(d, w.value[x]/2)
		}
		if w.near[x] >= 0 {
			switch lack := w.lack(w.links[w.near[x]][x]); w.tree[x] {
			case 0:
				d = min(d, lack)
			case 1:
				d = min(d, lack/2)
			}
		}
	}
	for v := range w.n {
		switch w.tree[w.top[v]] {
		case 1:
			w.value[v] -= d
		case 2:
			w.value[v] += d
		}
	}
	for b := w.n; b < len(w.top); b++ {
		if w.top[b] == b {
			switch w.tree[b] {
			case 1:
				w.value[b] += 2 * d
			case 2:
				w.value[b] -= 2 * d
			}
		}
	}
	w.effort.spend(int64(3 * len(w.top)))
	return d < last
}

// openEmpty opens inner blossoms that are worth nothing.
func (w *weigher) openEmpty() {
	for b := w.n; b < len(w.top); b++ {
		if w.top[b] == b && w.tree[b] == 2 && w.value[b] == 0 {
			w.open(b)
		}
	}
}

// result is the edges and the values of vertices and sets.
func (w *weigher) result() matching {
	m := matching{mate: make([]int, w.n), value: w.value[:w.n:w.n]}
	for v := range w.n {
		m.mate[v] = -1
		if l := w.match[v]; l.from >= 0 {
			m.mate[v] = int(l.to)
		}
	}
	for b := w.n; b < len(w.top); b++ {
		if w.top[b] >= 0 && w.value[b] > 0 {
			m.sets = append(m.sets, oddSet{w.vertices(b), w.value[b]})
		}
	}
	return m
}

func (w *weigher) vertices(x int) []int {
	if x < w.n {
		return []int{x}
	}
	var out []int
	for _, c := range w.cycle[x] {
		out = append(out, w.vertices(c)...)
	}
	return out
}
