package cutstock

import "slices"

// Odd cycles of the weigher: made, opened, and turned over.

// meet is the outer node where the paths of x and y to their roots meet first; −1 when they are in different trees.
func (w *weigher) meet(x, y int) int {
	w.time++
	for x >= 0 || y >= 0 {
		if x >= 0 {
			if w.stamp[x] == w.time {
				return x
			}
			w.stamp[x] = w.time
			x = w.up(x)
		}
		x, y = y, x
	}
	return -1
}

// up is the outer node before an outer node on its path to the root; −1 at the root.
func (w *weigher) up(x int) int {
	if w.match[x].from < 0 {
		return -1
	}
	inner := w.top[w.match[x].to]
	return w.top[w.entry[inner].from]
}

// shrink makes a blossom of the cycle that the edge closes above base.
func (w *weigher) shrink(l link, base int) {
	b := w.n
	for w.top[b] >= 0 {
		b++
	}
	cycle := []int{base}
	for x := w.top[l.from]; x != base; x = w.up(x) {
		cycle = append(cycle, x, w.top[w.match[x].to])
	}
	slices.Reverse(cycle[1:])
	for y := w.top[l.to]; y != base; y = w.up(y) {
		cycle = append(cycle, y, w.top[w.match[y].to])
	}
	w.cycle[b], w.value[b], w.tree[b], w.near[b] = cycle, 0, 1, -1
	w.match[b], w.entry[b] = w.match[base], link{from: -1}
	for _, c := range cycle {
		if w.tree[c] == 2 {
			w.enqueue(c)
		}
	}
	w.setTop(b, b)
	w.linkBlossom(b)
	w.findNear(b)
}

// linkBlossom gathers the tightest links of a blossom's nodes.
func (w *weigher) linkBlossom(b int) {
	for x := range w.top {
		w.links[b][x].from, w.links[x][b].from = -1, -1
	}
	w.part[b] = slices.Repeat([]int32{-1}, w.n)
	for _, c := range w.cycle[b] {
		for x := range w.top {
			l := w.links[c][x]
			if l.from >= 0 && (w.links[b][x].from < 0 || w.lack(l) < w.lack(w.links[b][x])) {
				w.links[b][x], w.links[x][b] = l, w.links[x][c]
			}
		}
		for _, v := range w.vertices(c) {
			w.part[b][v] = int32(c)
		}
	}
	w.effort.spend(int64(len(w.cycle[b]) * len(w.top)))
}

// even turns the cycle of a blossom so that the part stands an even number of steps after its base, and tells where.
func (w *weigher) even(b, part int) int {
	i := slices.Index(w.cycle[b], part)
	if i%2 == 1 {
		slices.Reverse(w.cycle[b][1:])
		i = len(w.cycle[b]) - i
	}
	return i
}

// mateBy matches node x by an edge that leaves it, and turns over what is inside.
func (w *weigher) mateBy(x int, l link) {
	w.match[x] = l
	if x < w.n {
		return
	}
	part := int(w.part[x][l.from])
	at := w.even(x, part)
	cycle := w.cycle[x]
	for i := 0; i < at; i += 2 {
		a, b := cycle[i], cycle[i+1]
		w.mateBy(a, w.links[a][b])
		w.mateBy(b, w.links[b][a])
	}
	w.mateBy(part, l)
	w.cycle[x] = append(slices.Clone(cycle[at:]), cycle[:at]...)
}

// augment matches an outer node by an edge that leaves it and turns over its path to the root.
func (w *weigher) augment(x int, l link) {
	for {
		old := w.match[x]
		w.mateBy(x, l)
		if old.from < 0 {
			return
		}
		inner := w.top[old.to]
		in := w.entry[inner]
		w.mateBy(inner, link{in.to, in.from})
		x, l = w.top[in.from], in
	}
}

// open takes an inner blossom apart: the even way through it stays in the tree.
func (w *weigher) open(b int) {
	for _, c := range w.cycle[b] {
		w.setTop(c, c)
	}
	part := int(w.part[b][w.entry[b].to])
	at := w.even(b, part)
	cycle := w.cycle[b]
	for i := 0; i < at; i += 2 {
		inner, outer := cycle[i], cycle[i+1]
		w.tree[inner], w.tree[outer] = 2, 1
		w.near[inner] = -1
		w.entry[inner] = w.links[outer][inner]
		w.findNear(outer)
		w.enqueue(outer)
	}
	w.tree[part], w.entry[part] = 2, w.entry[b]
	w.near[part] = -1
	for _, c := range cycle[at+1:] {
		w.tree[c] = 0
		w.findNear(c)
	}
	w.top[b], w.tree[b] = -1, 0
	w.value[b], w.cycle[b] = 0, nil
}
