package cutstock

import "math"

// simplex keeps a linear programme min cost·x, Σ columns·x = rhs, x ≥ 0 solved while columns come, right-hand sides
// change and columns are barred. It is the revised simplex with an explicit inverse of the basis: here the rows are
// the kinds of piece, some hundreds, while columns come by the thousand. Its floats decide nothing: what is claimed is
// proven in integers from the prices that it ends with.
type simplex struct {
	rows   int
	cols   []column
	base   []int     // row of the basis → column
	at     []int     // column → row of the basis, −1
	inv    []float64 // rows × rows
	x      []float64 // of base
	rhs    []float64
	prices []float64
	pivots int
	effort *effort
	dir    []float64 // scratch: entering column in terms of the basis
	weight []float64 // by column: of primal
	full   []int32   // scratch: where the pivot row is not 0
}

// column is a sparse column with its cost. A barred column must be 0: it never enters, and leaves when it can.
type column struct {
	rows   []int32
	vals   []float64
	cost   float64
	barred bool
}

const (
	priceSlack = 1e-9 // a reduced cost above −priceSlack does not enter
	smallPivot = 1e-8
	smallX     = 1e-9
)

// newSimplex starts from one column for each row, with a single value in that row.
func newSimplex(start []column, rhs []float64, e *effort) *simplex {
	m := len(rhs)
	s := &simplex{
		rows: m, inv: make([]float64, m*m), x: make([]float64, m), rhs: append([]float64(nil), rhs...),
		prices: make([]float64, m), base: make([]int, m), dir: make([]float64, m), effort: e,
	}
	for r, c := range start {
		s.add(c)
		s.base[r], s.at[r] = r, r
		s.inv[r*m+r] = 1 / c.vals[0]
	}
	s.refresh()
	return s
}

func (s *simplex) add(c column) int {
	s.cols = append(s.cols, c)
	s.at = append(s.at, -1)
	s.weight = append(s.weight, 1)
	return len(s.cols) - 1
}

// addRow adds a row that is at most right: the value of each column in it, 0 for most. It makes x infeasible where the
// row does not hold.
func (s *simplex) addRow(vals []float64, right float64) {
	m := s.rows
	inv := make([]float64, (m+1)*(m+1))
	for r := range m {
		copy(inv[r*(m+1):], s.inv[r*m:r*m+m])
	}
	last := inv[m*(m+1):]
	for j, v := range vals {
		if v == 0 {
			continue
		}
		c := &s.cols[j]
		c.rows, c.vals = append(c.rows, int32(m)), append(c.vals, v)
		if r := s.at[j]; r >= 0 {
			for i, x := range s.inv[r*m : r*m+m] {
				last[i] -= float64(v * x)
			}
		}
	}
	last[m] = 1
	s.rows, s.inv = m+1, inv
	s.x, s.prices, s.dir = append(s.x, 0), append(s.prices, 0), append(s.dir, 0)
	s.rhs = append(s.rhs, right)
	slack := s.add(column{rows: []int32{int32(m)}, vals: []float64{1}})
	s.base = append(s.base, slack)
	s.at[slack] = m
	s.refresh()
}

// refresh works out x and prices from the inverse.
func (s *simplex) refresh() {
	m := s.rows
	clear(s.prices)
	for r := range m {
		row := s.inv[r*m : r*m+m]
		sum := 0.0
		for i, v := range row {
			sum += float64(v * s.rhs[i])
		}
		s.x[r] = sum
		if c := s.cols[s.base[r]].cost; c != 0 {
			for i, v := range row {
				s.prices[i] += float64(c * v)
			}
		}
	}
	s.effort.spend(int64(m) * int64(m))
}

func (s *simplex) value() float64 {
	sum := 0.0
	for r, x := range s.x {
		sum += float64(x * s.cols[s.base[r]].cost)
	}
	return sum
}

// reduced is the reduced cost of a column.
func (s *simplex) reduced(c *column) float64 {
	d := c.cost
	for i, r := range c.rows {
		d -= float64(s.prices[r] * c.vals[i])
	}
	return d
}

// primal pivots until no column has a negative reduced cost. x must be feasible. The column that enters lowers the cost
// most for the way that it goes in terms of the columns that were outside at the start (Harris: devex), which takes
// several times fewer pivots than the most negative reduced cost.
func (s *simplex) primal() {
	for j := range s.weight {
		s.weight[j] = 1
	}
	for !s.effort.spent() {
		enter, cost, most := -1, 0.0, 0.0
		for j := range s.cols {
			if s.at[j] >= 0 || s.cols[j].barred {
				continue
			}
			if d := s.reduced(&s.cols[j]); d < -priceSlack && d*d > most*s.weight[j] {
				enter, cost, most = j, d, d*d/s.weight[j]
			}
		}
		s.effort.spend(int64(4 * len(s.cols)))
		if enter < 0 {
			return
		}
		s.direct(enter)
		leave := s.blocking()
		if leave < 0 {
			return // costs are never negative, so this is float noise
		}
		s.reweigh(leave, enter)
		s.pivot(leave, enter, cost)
	}
}

// reweigh keeps the weights of primal before a pivot.
func (s *simplex) reweigh(row, enter int) {
	prow := s.inv[row*s.rows : (row+1)*s.rows]
	pivot, weight := s.dir[row], s.weight[enter]
	for j := range s.cols {
		if s.at[j] >= 0 || j == enter || s.cols[j].barred {
			continue
		}
		if a := s.cols[j].dot(prow) / pivot; a != 0 {
			s.weight[j] = max(s.weight[j], float64(a*a*weight))
		}
	}
	s.weight[s.base[row]] = max(weight/(pivot*pivot), 1)
	s.effort.spend(int64(4 * len(s.cols)))
}

// dot is the product of a column with a row.
func (c *column) dot(row []float64) float64 {
	sum := 0.0
	for i, r := range c.rows {
		sum += float64(row[r] * c.vals[i])
	}
	return sum
}

// direct works out the entering column in terms of the basis.
func (s *simplex) direct(enter int) {
	m, c := s.rows, &s.cols[enter]
	for r := range m {
		s.dir[r] = c.dot(s.inv[r*m : r*m+m])
	}
}

// blocking is the row whose basic column comes to 0 first, the surest pivot among the nearly first.
func (s *simplex) blocking() int {
	limit := math.Inf(1)
	for r, d := range s.dir {
		switch {
		case d > smallPivot:
			limit = min(limit, (max(s.x[r], 0)+smallX)/d)
		case d < -smallPivot && s.cols[s.base[r]].barred:
			limit = min(limit, smallX/-d)
		}
	}
	best, size := -1, 0.0
	for r, d := range s.dir {
		ratio := math.Inf(1)
		switch {
		case d > smallPivot:
			ratio = max(s.x[r], 0) / d
		case d < -smallPivot && s.cols[s.base[r]].barred:
			ratio = 0
		}
		if ratio <= limit && math.Abs(d) > size {
			best, size = r, math.Abs(d)
		}
	}
	return best
}

// pivot brings a column with a reduced cost into the basis in a row; dir is the column in terms of the basis.
func (s *simplex) pivot(row, enter int, reduced float64) {
	m := s.rows
	pivot := s.dir[row]
	theta := s.x[row] / pivot
	prow := s.inv[row*m : row*m+m]
	s.full = s.full[:0]
	for i, v := range prow {
		if v != 0 {
			prow[i] = v / pivot
			s.full = append(s.full, int32(i))
		}
	}
	work := 0
	for r := range m {
		d := s.dir[r]
		if r == row || d == 0 {
			continue
		}
		s.x[r] -= float64(theta * d)
		s.subtract(r, d, prow)
		work++
	}
	s.x[row] = theta
	for i, v := range prow {
		s.prices[i] += float64(reduced * v)
	}
	s.at[s.base[row]] = -1
	s.base[row], s.at[enter] = enter, row
	s.effort.spend(int64(work)*int64(len(s.full)) + int64(m))
	s.pivots++
	if s.pivots%64 == 0 {
		s.check()
	}
}

// subtract takes d times the pivot row off a row of the inverse. Early on the rows are mostly empty.
func (s *simplex) subtract(r int, d float64, prow []float64) {
	target := s.inv[r*s.rows : r*s.rows+s.rows]
	if 3*len(s.full) < s.rows {
		for _, i := range s.full {
			target[i] -= float64(d * prow[i])
		}
		return
	}
	target = target[:len(prow)]
	for i, v := range prow {
		target[i] -= float64(d * v)
	}
}

// dual pivots until x is feasible again after right-hand sides changed or columns were barred; reduced costs must not
// be negative. It tells whether that succeeded.
func (s *simplex) dual() bool {
	for !s.effort.spent() {
		row, up := s.infeasible()
		if row < 0 {
			return true
		}
		enter, reduced := s.dualEnter(row, up)
		if enter < 0 {
			return false
		}
		s.direct(enter)
		if math.Abs(s.dir[row]) < smallPivot {
			return false
		}
		s.pivot(row, enter, reduced)
	}
	return false
}

// infeasible is the row that is most off, and whether its column has to rise.
func (s *simplex) infeasible() (row int, up bool) {
	row, worst := -1, 1e-7
	for r, x := range s.x {
		switch {
		case -x > worst:
			row, up, worst = r, true, -x
		case x > worst && s.cols[s.base[r]].barred:
			row, up, worst = r, false, x
		}
	}
	return row, up
}

// dualEnter is the column whose reduced cost comes to 0 first when the row's column moves to 0.
func (s *simplex) dualEnter(row int, up bool) (enter int, reduced float64) {
	prow := s.inv[row*s.rows : (row+1)*s.rows]
	enter = -1
	best, size := math.Inf(1), 0.0
	for j := range s.cols {
		c := &s.cols[j]
		if s.at[j] >= 0 || c.barred {
			continue
		}
		a := c.dot(prow)
		if up {
			a = -a
		}
		if a < 1e-7 {
			continue
		}
		d := max(s.reduced(c), 0)
		if ratio := d / a; ratio < best-1e-10 || ratio < best+1e-10 && a > size {
			enter, reduced, best, size = j, d, ratio, a
		}
	}
	s.effort.spend(int64(8 * len(s.cols)))
	return enter, reduced
}

// check looks how far the inverse has drifted, and inverts the basis anew where it matters.
func (s *simplex) check() {
	off := 0.0
	sums := make([]float64, s.rows)
	for r, j := range s.base {
		c := &s.cols[j]
		off = max(off, math.Abs(s.reduced(c)))
		for i, k := range c.rows {
			sums[k] += float64(s.x[r] * c.vals[i])
		}
	}
	for i, v := range sums {
		off = max(off, math.Abs(v-s.rhs[i]))
	}
	if off > 1e-8 {
		s.invert()
	}
}

// invert works out the inverse of the basis by elimination with the largest pivot of each column.
func (s *simplex) invert() {
	m := s.rows
	basis, inv := make([]float64, m*m), make([]float64, m*m)
	for r, j := range s.base {
		c := &s.cols[j]
		for i, k := range c.rows {
			basis[int(k)*m+r] = c.vals[i]
		}
		inv[r*m+r] = 1
	}
	for k := range m {
		p := k
		for r := k + 1; r < m; r++ {
			if math.Abs(basis[r*m+k]) > math.Abs(basis[p*m+k]) {
				p = r
			}
		}
		if math.Abs(basis[p*m+k]) < 1e-11 {
			return // keep the drifted one: the proof does not rest on it
		}
		swapRows(basis, m, p, k)
		swapRows(inv, m, p, k)
		eliminate(basis, inv, m, k)
	}
	s.inv = inv
	s.effort.spend(int64(m) * int64(m) * int64(m) / 2)
	s.refresh()
}

func swapRows(a []float64, m, p, q int) {
	if p == q {
		return
	}
	for i := range m {
		a[p*m+i], a[q*m+i] = a[q*m+i], a[p*m+i]
	}
}

func eliminate(basis, inv []float64, m, k int) {
	pivot := basis[k*m+k]
	brow, irow := basis[k*m:k*m+m], inv[k*m:k*m+m]
	for i := range m {
		brow[i] /= pivot
		irow[i] /= pivot
	}
	for r := range m {
		f := basis[r*m+k]
		if r == k || f == 0 {
			continue
		}
		for i := k; i < m; i++ {
			basis[r*m+i] -= float64(f * brow[i])
		}
		for i, v := range irow {
			if v != 0 {
				inv[r*m+i] -= float64(f * v)
			}
		}
	}
}
