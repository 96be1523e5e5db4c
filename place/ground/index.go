package ground

import (
	"math"

	"trenchwright/place/ground/exact"
)

// index tells which faces may lie in a square cell of the plan. Rows of cells hold only what lies between the row's first
// and last face, so that a long and narrow surface across the axes takes no more room than a square one.
type index struct {
	corner exact.XY // south-west
	shift  uint     // a cell is 2^shift nm wide
	rows   []row
	begins []int32 // of each cell's faces; one more at the end
	faces  []int32
}

// row is a row of cells: the number of its first column, and of that column's cell.
type row struct{ column, cell int32 }

// newIndex makes cells that hold some two faces each where the surface is.
func newIndex(s *Surface) index {
	if len(s.faces) == 0 {
		return index{}
	}
	low, high := s.vertices[s.faces[0].corner[0]].XY, s.vertices[s.faces[0].corner[0]].XY
	for i := range s.faces {
		for _, c := range s.faces[i].corner {
			v := &s.vertices[c]
			low.X, low.Y = min(low.X, v.X), min(low.Y, v.Y)
			high.X, high.Y = max(high.X, v.X), max(high.Y, v.Y)
		}
	}
	side := math.Sqrt(s.measures.Area2D/float64(len(s.faces))) * 1e9
	x := index{corner: low}
	for x.shift < 62 && (float64(int64(1)<<x.shift) < side || (high.Y-low.Y)>>x.shift > 4*int64(len(s.faces)) || (high.X-low.X)>>x.shift > 1<<30) {
		x.shift++
	}
	for !x.lay(s, int((high.Y-low.Y)>>x.shift)+1, 4*len(s.faces)+1024) {
		x.shift++
	}
	x.fill(s)
	return x
}

// lay finds how far each row reaches, and tells whether that takes no more than so many cells.
func (x *index) lay(s *Surface, rows, most int) bool {
	x.rows = make([]row, rows+1)
	last := make([]int32, rows)
	for i := range last {
		x.rows[i].column, last[i] = math.MaxInt32, -1
	}
	for f := range s.faces {
		x.cover(s, int32(f), func(r, from, to int32) {
			x.rows[r].column, last[r] = min(x.rows[r].column, from), max(last[r], to)
		})
	}
	cells := 0
	for i := range last {
		x.rows[i].cell = int32(cells)
		if last[i] >= 0 {
			cells += int(last[i]-x.rows[i].column) + 1
		}
		if cells > most {
			return false
		}
	}
	x.rows[rows].cell = int32(cells)
	return true
}

// fill sorts the faces into the cells: how many each holds, where each begins, and then they themselves.
func (x *index) fill(s *Surface) {
	x.begins = make([]int32, x.rows[len(x.rows)-1].cell+1)
	for f := range s.faces {
		x.cover(s, int32(f), func(r, from, to int32) {
			for c := x.cell(r, from); c <= x.cell(r, to); c++ {
				x.begins[c]++
			}
		})
	}
	total := int32(0)
	for c, n := range x.begins {
		total += n
		x.begins[c] = total // the end, which moves to the begin as the cell fills
	}
	x.faces = make([]int32, total)
	for f := len(s.faces) - 1; f >= 0; f-- {
		x.cover(s, int32(f), func(r, from, to int32) {
			for c := x.cell(r, from); c <= x.cell(r, to); c++ {
				x.begins[c]--
				x.faces[x.begins[c]] = int32(f)
			}
		})
	}
}

func (x *index) cell(r, column int32) int32 { return x.rows[r].cell + column - x.rows[r].column }

// cover says which cells a face may lie in, row by row. Where its box is no more than two cells wide or high those are all
// of the box's; else each row's part is worked out.
func (x *index) cover(s *Surface, f int32, row func(r, from, to int32)) {
	a, b, c := s.corners(f)
	west, east := x.column(min(a.X, b.X, c.X)), x.column(max(a.X, b.X, c.X))
	south, north := x.row(min(a.Y, b.Y, c.Y)), x.row(max(a.Y, b.Y, c.Y))
	if east-west < 2 || north-south < 2 {
		for r := south; r <= north; r++ {
			row(r, west, east)
		}
		return
	}
	for r := south; r <= north; r++ {
		low, high := math.Inf(1), math.Inf(-1)
		for _, e := range [3][2]*vertex{{a, b}, {b, c}, {c, a}} {
			l, h := x.strip(e[0].XY, e[1].XY, r)
			low, high = min(low, l), max(high, h)
		}
		row(r, max(west, x.columnOf(low)), min(east, x.columnOf(high)))
	}
}

// margin is how much wider than worked out in float64 a row's part is taken, in nanometres.
const margin = 128

// strip is how far west and east of the index's corner a straight lies within a row, in nanometres; upside down where it
// does not.
func (x *index) strip(a, b exact.XY, r int32) (low, high float64) {
	if a.Y > b.Y {
		a, b = b, a
	}
	bottom := int64(r) << x.shift
	top := bottom + 1<<x.shift
	ay, by := a.Y-x.corner.Y, b.Y-x.corner.Y
	if by < bottom || ay > top {
		return math.Inf(1), math.Inf(-1)
	}
	ax, bx := float64(a.X-x.corner.X), float64(b.X-x.corner.X)
	from, to := ax, bx
	if ay < bottom {
		from = ax + float64((bx-ax)*(float64(bottom-ay)/float64(by-ay)))
	}
	if by > top {
		to = ax + float64((bx-ax)*(float64(top-ay)/float64(by-ay)))
	}
	return min(from, to) - margin, max(from, to) + margin
}

func (x *index) column(e int64) int32 { return int32((e - x.corner.X) >> x.shift) }
func (x *index) row(n int64) int32    { return int32((n - x.corner.Y) >> x.shift) }

// columnOf is the column of a place so many nanometres east of the corner, within what columns there can be.
func (x *index) columnOf(e float64) int32 {
	return int32(min(max(math.Floor(e/float64(int64(1)<<x.shift)), math.MinInt32), math.MaxInt32))
}

// near are the faces that may hold a place.
func (x *index) near(p exact.XY) []int32 {
	if len(x.rows) == 0 || p.X < x.corner.X || p.Y < x.corner.Y {
		return nil
	}
	r, c := (p.Y-x.corner.Y)>>x.shift, (p.X-x.corner.X)>>x.shift
	if r >= int64(len(x.rows)-1) {
		return nil
	}
	return x.in(int32(r), c, c)
}

// in are the faces in the cells of a row from one column to another; a face may come several times.
func (x *index) in(r int32, from, to int64) []int32 {
	first := int64(x.rows[r].column)
	width := int64(x.rows[r+1].cell - x.rows[r].cell)
	from, to = max(from, first), min(to, first+width-1)
	if from > to {
		return nil
	}
	base := int64(x.rows[r].cell) - first
	end := int32(len(x.faces))
	if next := base + to + 1; next < int64(len(x.begins)) {
		end = x.begins[next]
	}
	return x.faces[x.begins[base+from]:end]
}

// rowsOf are the rows that hold places from one northing to another, those beyond the surface left out.
func (x *index) rowsOf(south, north int64) (from, to int32) {
	last := int64(len(x.rows)) - 2
	return int32(max(0, (south-x.corner.Y)>>x.shift)), int32(min(last, (north-x.corner.Y)>>x.shift))
}

// box yields the faces in the cells of a box, some of them several times.
func (x *index) box(low, high exact.XY) func(yield func(int32) bool) {
	return func(yield func(int32) bool) {
		if len(x.rows) == 0 {
			return
		}
		from, to := x.rowsOf(low.Y, high.Y)
		for r := from; r <= to; r++ {
			for _, f := range x.in(r, (low.X-x.corner.X)>>x.shift, (high.X-x.corner.X)>>x.shift) {
				if !yield(f) {
					return
				}
			}
		}
	}
}
