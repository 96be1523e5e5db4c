package levelling

import "slices"

// inverse is the entries of the inverse of a matrix where its factor is not nought: all diagonal ones, and one for each pair
// of points that a line ties. They are worked out from the last column back, each from those behind it (Takahashi's
// recursion), without the inverse as a whole.
type inverse struct {
	f    *factor
	diag []float64
	off  [][]float64 // beside f.below
}

func (f *factor) invert() *inverse {
	n := len(f.order)
	z := &inverse{f: f, diag: make([]float64, n), off: make([][]float64, n)}
	at := make([]int32, n) // place in the column at hand, plus one
	for j := n - 1; j >= 0; j-- {
		below, value := f.below[j], f.value[j]
		sum := make([]float64, len(below))
		for i, p := range below {
			at[p] = int32(i + 1)
		}
		for i, p := range below {
			sum[i] += float64(z.diag[p] * value[i])
			for m, r := range f.below[p] {
				if k := at[r]; k > 0 {
					sum[k-1] += float64(z.off[p][m] * value[i])
					sum[i] += float64(z.off[p][m] * value[k-1])
				}
			}
		}
		s := 1 / f.d[j]
		for i, p := range below {
			at[p] = 0
			sum[i] = -sum[i]
			s -= float64(sum[i] * value[i])
		}
		z.off[j], z.diag[j] = sum, s
	}
	return z
}

// entry is the inverse at two rows of the matrix that are the same, or that a line ties.
func (z *inverse) entry(a, b int32) float64 {
	p, q := z.f.place[a], z.f.place[b]
	if p == q {
		return z.diag[p]
	}
	if p > q {
		p, q = q, p
	}
	i, ok := slices.BinarySearch(z.f.below[p], q)
	if !ok {
		panic("levelling: the inverse was asked for a pair that no line ties")
	}
	return z.off[p][i]
}
