package levelling

// factor is L·D·Lᵀ of a symmetric positive matrix, its rows taken in an order that keeps L sparse. L has ones on its
// diagonal, which are not kept.
type factor struct {
	order []int32   // of each place: the row of the matrix
	place []int32   // of each row: its place
	below [][]int32 // of each column of L: the places below the diagonal that are not nought, ascending
	value [][]float64
	d     []float64
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
