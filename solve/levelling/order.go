package levelling

import (
	"container/heap"
	"slices"
)

// elimination takes rows out of a matrix one by one. A row that is taken out ties all of its neighbours to each other; those
// ties are kept as one group, named after the row, and never written out pair by pair.
type elimination struct {
	pairs  [][]int32 // of each row that is left: the rows that a line of the matrix ties it to, beyond its groups
	groups [][]int32 // of each row that is left: the groups that it is in
	member [][]int32 // of each group: its rows, all of them left; nil where a later group holds all that it ties
	degree []int     // of each row that is left: how many others it is tied to, or somewhat more
	beyond []int32   // of each group, while one row is taken out: how many of its rows lie outside the new group
	seen   []int32   // of each row and group: the round in which it was last looked at
	inside []int32   // of each row: the round in which it came into the new group
	round  int32
	next   byDegree
}

// eliminate finds the order of the rows, and what is not nought in L: always the row next that ties the fewest others by the
// bound of Amestoy, Davis and Duff's approximate minimum degree; of equal ones the lower number.
func eliminate(q *normal) *factor {
	n := len(q.points)
	f := &factor{order: make([]int32, 0, n), place: make([]int32, n), below: make([][]int32, n), value: make([][]float64, n), d: make([]float64, n)}
	e := elimination{pairs: make([][]int32, n), groups: make([][]int32, n), member: make([][]int32, n), degree: make([]int, n),
		beyond: make([]int32, n), seen: make([]int32, n), inside: make([]int32, n)}
	for i := range n {
		for _, o := range q.off[i] {
			e.pairs[i] = append(e.pairs[i], o.row)
		}
		e.degree[i] = len(e.pairs[i])
		e.next = append(e.next, candidate{e.degree[i], int32(i)})
	}
	heap.Init(&e.next)
	ties := make([][]int32, n)
	for len(e.next) > 0 {
		c := heap.Pop(&e.next).(candidate)
		if c.degree != e.degree[c.row] {
			continue // it has another degree by now, and stands in the heap with that too
		}
		f.place[c.row] = int32(len(f.order))
		f.order = append(f.order, c.row)
		ties[c.row] = e.take(c.row)
	}
	for k, row := range f.order {
		f.below[k] = make([]int32, len(ties[row]))
		for i, o := range ties[row] {
			f.below[k][i] = f.place[o]
		}
		slices.Sort(f.below[k])
		f.value[k] = make([]float64, len(f.below[k]))
	}
	return f
}

// take takes row p out, and gives what it was tied to.
func (e *elimination) take(p int32) []int32 {
	e.round++
	e.inside[p] = e.round
	var group []int32
	add := func(rows []int32) {
		for _, i := range rows {
			if e.inside[i] != e.round {
				e.inside[i] = e.round
				group = append(group, i)
			}
		}
	}
	add(e.pairs[p])
	for _, g := range e.groups[p] {
		add(e.member[g])
		e.member[g] = nil // the new group holds all of it
	}
	for _, i := range group {
		for _, g := range e.groups[i] {
			if e.seen[g] != e.round {
				e.seen[g], e.beyond[g] = e.round, int32(len(e.member[g]))
			}
			e.beyond[g]--
		}
	}
	for _, i := range group {
		e.tie(i, p, len(group)-1)
	}
	e.pairs[p], e.groups[p], e.degree[p], e.member[p] = nil, nil, -1, group
	return group
}

// tie puts row i into the new group p with others rows beside it: what p ties already is dropped from the row's own lists.
func (e *elimination) tie(i, p int32, others int) {
	pairs, groups := e.pairs[i][:0], e.groups[i][:0]
	degree := others
	for _, o := range e.pairs[i] {
		if e.inside[o] != e.round {
			pairs = append(pairs, o)
			degree++
		}
	}
	for _, g := range e.groups[i] {
		switch {
		case e.member[g] == nil:
		case e.beyond[g] == 0:
			e.member[g] = nil
		default:
			groups = append(groups, g)
			degree += int(e.beyond[g])
		}
	}
	e.pairs[i], e.groups[i] = pairs, append(groups, p)
	if degree != e.degree[i] {
		e.degree[i] = degree
		heap.Push(&e.next, candidate{degree, i})
	}
}

type candidate struct {
	degree int
	row    int32
}

type byDegree []candidate

func (h byDegree) Len() int { return len(h) }
func (h byDegree) Less(i, k int) bool {
	return h[i].degree < h[k].degree || h[i].degree == h[k].degree && h[i].row < h[k].row
}
func (h byDegree) Swap(i, k int) { h[i], h[k] = h[k], h[i] }
func (h *byDegree) Push(x any)   { *h = append(*h, x.(candidate)) }
func (h *byDegree) Pop() any {
	last := (*h)[len(*h)-1]
	*h = (*h)[:len(*h)-1]
	return last
}
