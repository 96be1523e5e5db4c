package levelling

import (
	"container/heap"
	"slices"
)

// factor is L·D·Lᵀ of a symmetric positive matrix, its rows taken in an order that keeps L sparse. L has ones on its
// diagonal, which are not kept.
type factor struct {
	order []int32   // of each place: the row of the matrix
	place []int32   // of each row: its place
	below [][]int32 // of each column of L: the places below the diagonal that are not nought, ascending
	value [][]float64
	d     []float64
}

// eliminate finds the order and what is not nought in L: always the row next that ties the fewest others (minimum degree;
// ties between rows go to the lower number). Eliminating a row ties all of its neighbours to each other.
func eliminate(q *normal) *factor {
	n := len(q.points)
	f := &factor{order: make([]int32, 0, n), place: make([]int32, n), below: make([][]int32, n), value: make([][]float64, n), d: make([]float64, n)}
	next := make([][]int32, n)
	h := make(byDegree, 0, n)
	for i := range next {
		for _, e := range q.off[i] {
			next[i] = append(next[i], e.row)
		}
		slices.Sort(next[i])
		h = append(h, candidate{len(next[i]), int32(i)})
	}
	heap.Init(&h)
	done := make([]bool, n)
	for len(h) > 0 {
		c := heap.Pop(&h).(candidate)
		if done[c.row] || c.degree != len(next[c.row]) {
			continue // it has another degree by now, and stands in the heap with that too
		}
		done[c.row] = true
		f.place[c.row] = int32(len(f.order))
		f.order = append(f.order, c.row)
		for _, o := range next[c.row] {
			next[o] = union(next[o], next[c.row], o, c.row)
			heap.Push(&h, candidate{len(next[o]), o})
		}
	}
	for k, row := range f.order {
		for _, o := range next[row] {
			f.below[k] = append(f.below[k], f.place[o])
		}
		slices.Sort(f.below[k])
		f.value[k] = make([]float64, len(f.below[k]))
	}
	return f
}

// union is a and b together, both ascending, without the two that are named.
func union(a, b []int32, without, gone int32) []int32 {
	out := make([]int32, 0, len(a)+len(b)-2)
	for i, k := 0, 0; i < len(a) || k < len(b); {
		var x int32
		switch {
		case k == len(b) || i < len(a) && a[i] < b[k]:
			x = a[i]
			i++
		case i == len(a) || b[k] < a[i]:
			x = b[k]
			k++
		default:
			x = a[i]
			i++
			k++
		}
		if x != without && x != gone {
			out = append(out, x)
		}
	}
	return out
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

// factorize works out L and D, column by column, each less what the columns before it take off. It reports the row at whose
// pivot nothing is left, -1 for none: there the network does not hold together in numbers.
func factorize(q *normal) (*factor, int) {
	f := eliminate(q)
	n := len(f.order)
	work := make([]float64, n)
	waiting := make([][]int32, n) // of each place: the columns whose next row below is this one
	at := make([]int, n)          // of each column: how far down it has been used
	for k := range n {
		row := f.order[k]
		work[k] = q.diag[row]
		for _, e := range q.off[row] {
			if p := f.place[e.row]; int(p) > k {
				work[p] = e.value
			}
		}
		for _, j := range waiting[k] {
			below, value, i := f.below[j], f.value[j], at[j]
			take := float64(value[i] * f.d[j])
			for m := i; m < len(below); m++ {
				work[below[m]] -= float64(take * value[m])
			}
			f.wait(waiting, at, j)
		}
		waiting[k] = nil
		f.d[k] = work[k]
		work[k] = 0
		if !(f.d[k] > float64(1e-13*q.diag[row])) {
			return nil, int(row)
		}
		for m, p := range f.below[k] {
			f.value[k][m] = work[p] / f.d[k]
			work[p] = 0
		}
		at[k] = -1
		f.wait(waiting, at, int32(k))
	}
	return f, -1
}

// wait moves column j on to the next place that it takes something off.
func (f *factor) wait(waiting [][]int32, at []int, j int32) {
	if at[j]++; at[j] < len(f.below[j]) {
		p := f.below[j][at[j]]
		waiting[p] = append(waiting[p], j)
	}
}

// solve is x with (L·D·Lᵀ)·x = right.
func (f *factor) solve(right []float64) []float64 {
	n := len(f.order)
	y := make([]float64, n)
	for k, row := range f.order {
		y[k] = right[row]
	}
	for k := range n {
		for m, p := range f.below[k] {
			y[p] -= float64(f.value[k][m] * y[k])
		}
	}
	x := make([]float64, n)
	for k := n - 1; k >= 0; k-- {
		s := y[k] / f.d[k]
		for m, p := range f.below[k] {
			s -= float64(f.value[k][m] * y[p])
		}
		y[k] = s
		x[f.order[k]] = s
	}
	return x
}
