package profile

import "slices"

// net is the symmetric matrix of what is left at the nodes, sparse, factored in an order that keeps it so: the variable
// with the fewest neighbours goes first. A tree stays a tree; loops fill in among themselves alone.
type net struct {
	size  int
	value []float64 // first the diagonal, then the pairs
	rhs   []float64
	order []int
	cols  []column // by place in the order
	idle  []int    // variables of no leg
}

// column is one variable as it is eliminated: its later neighbours, where its couplings to them stand, and where each pair
// of them stands.
type column struct {
	with  []int
	slot  []int
	pairs []int // for i, j ≤ i: the slot of (with[i], with[j])
}

type netPlan struct {
	near  []map[int]int // neighbour to slot
	slots int
}

func newNetPlan(size int) *netPlan {
	p := &netPlan{near: make([]map[int]int, size), slots: size}
	for i := range p.near {
		p.near[i] = map[int]int{}
	}
	return p
}

// slot is where the entry of two variables stands.
func (p *netPlan) slot(i, j int) int {
	if i == j {
		return i
	}
	s, ok := p.near[i][j]
	if !ok {
		s = p.slots
		p.slots++
		p.near[i][j], p.near[j][i] = s, s
	}
	return s
}

// net orders the elimination. Ties are broken by number, so that the same network is always worked the same way.
func (p *netPlan) net() *net {
	n := &net{size: len(p.near), rhs: make([]float64, len(p.near))}
	queue := make([][]int, 1) // variables by a number of neighbours that they had once
	push := func(v int) {
		d := len(p.near[v])
		for len(queue) <= d {
			queue = append(queue, nil)
		}
		queue[d] = append(queue[d], v)
	}
	for v := n.size - 1; v >= 0; v-- {
		push(v)
	}
	done := make([]bool, n.size)
	for d := 0; d < len(queue); {
		if len(queue[d]) == 0 {
			d++
			continue
		}
		v := queue[d][len(queue[d])-1]
		queue[d] = queue[d][:len(queue[d])-1]
		if done[v] || len(p.near[v]) != d {
			continue
		}
		done[v] = true
		var c column
		for u := range p.near[v] {
			c.with = append(c.with, u)
		}
		slices.Sort(c.with)
		for i, u := range c.with {
			c.slot = append(c.slot, p.near[v][u])
			for _, w := range c.with[:i+1] {
				c.pairs = append(c.pairs, p.slot(u, w))
			}
		}
		for _, u := range c.with {
			delete(p.near[u], v)
			push(u)
			d = min(d, len(p.near[u]))
		}
		n.order, n.cols = append(n.order, v), append(n.cols, c)
	}
	n.value = make([]float64, p.slots)
	return n
}

// factor replaces the diagonal by 1/pivot; couplings stay, and are divided when they are used.
func (n *net) factor() {
	for _, v := range n.idle {
		n.value[v] = 1
	}
	for k, v := range n.order {
		inv := 1 / n.value[v]
		if !(n.value[v] > 0) { // as in a leg
			inv = 0
		}
		n.value[v] = inv
		c := &n.cols[k]
		at := 0
		for i := range c.with {
			l := n.value[c.slot[i]] * inv
			for j := range c.with[:i+1] {
				n.value[c.pairs[at]] -= float64(l * n.value[c.slot[j]])
				at++
			}
		}
	}
}

// solve turns the right side into the solution.
func (n *net) solve() {
	for k, v := range n.order {
		c := &n.cols[k]
		r := n.rhs[v] * n.value[v]
		for i, u := range c.with {
			n.rhs[u] -= float64(n.value[c.slot[i]] * r)
		}
	}
	for k := len(n.order) - 1; k >= 0; k-- {
		v, c := n.order[k], &n.cols[k]
		r := n.rhs[v]
		for i, u := range c.with {
			r -= float64(n.value[c.slot[i]] * n.rhs[u])
		}
		n.rhs[v] = r * n.value[v]
	}
}
