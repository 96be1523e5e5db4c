package raster

import (
	"math"
	"slices"
)

// point is a place in pixels.
type point struct{ x, y float64 }

// coverage gathers the edges of one shape and says how much of each pixel lies
// inside by the non-zero rule. An edge leaves, in each pixel that it passes,
// its height there (cover) and the part of the pixel to its right (area); a
// pixel is covered by the covers left of it and its own area.
type coverage struct {
	width, height int
	cells         []cell
	ordered       []cell
	rows          []int32 // where each row starts in ordered
}

type cell struct {
	y, x        int32
	cover, area float64
}

func newCoverage(width, height int) *coverage {
	c := &coverage{}
	c.begin(width, height)
	return c
}

// begin empties the coverage for a picture of that size.
func (c *coverage) begin(width, height int) {
	c.width, c.height, c.cells = width, height, c.cells[:0]
	c.rows = slices.Grow(c.rows[:0], height+1)[:height+1]
}

// polygon adds a closed contour.
func (c *coverage) polygon(points ...point) {
	for i, p := range points {
		c.edge(p, points[(i+1)%len(points)])
	}
}

// edge adds one edge. What lies left of the picture counts at its left side;
// what lies right of it, above or below counts for nothing.
func (c *coverage) edge(a, b point) {
	sign := 1.0
	if a.y > b.y {
		a, b, sign = b, a, -1
	}
	bottom := float64(c.height)
	if a.y == b.y || b.y <= 0 || a.y >= bottom {
		return
	}
	slope := (b.x - a.x) / (b.y - a.y)
	at := func(y float64) float64 { return a.x + float64((y-a.y)*slope) }
	from, to := a, b
	if from.y < 0 {
		from = point{at(0), 0}
	}
	if to.y > bottom {
		to = point{at(bottom), bottom}
	}
	if right := float64(c.width); from.x >= 0 && to.x >= 0 && from.x <= right && to.x <= right {
		c.inside(from, to, sign)
		return
	}
	for _, side := range c.parted(from, to) {
		c.inside(side[0], side[1], sign)
	}
}

// parted cuts an edge at the left and right side of the picture and brings the
// parts beyond to the side.
func (c *coverage) parted(a, b point) [][2]point {
	right := float64(c.width)
	cuts := []float64{0}
	for _, side := range [2]float64{0, right} {
		if (a.x < side) != (b.x < side) {
			cuts = append(cuts, (side-a.x)/(b.x-a.x))
		}
	}
	cuts = append(cuts, 1)
	slices.Sort(cuts)
	bring := func(t float64) point {
		x := a.x + float64((b.x-a.x)*t)
		return point{max(0, min(right, x)), a.y + float64((b.y-a.y)*t)}
	}
	var parts [][2]point
	for i := 0; i+1 < len(cuts); i++ {
		parts = append(parts, [2]point{bring(cuts[i]), bring(cuts[i+1])})
	}
	return parts
}

// inside adds an edge that runs down inside the picture, row by row.
func (c *coverage) inside(a, b point, sign float64) {
	if !(b.y > a.y) {
		return
	}
	slope := (b.x - a.x) / (b.y - a.y)
	right := float64(c.width)
	x, y := a.x, a.y
	for row := int(math.Floor(a.y)); y < b.y && row < c.height; row++ {
		nextY := min(float64(row+1), b.y)
		nextX := b.x
		if nextY < b.y {
			nextX = max(0, min(right, a.x+float64((nextY-a.y)*slope)))
		}
		c.row(row, x, nextX, nextY-y, sign)
		x, y = nextX, nextY
	}
}

// row adds the piece of an edge within one row, from x0 to x1 over a height.
func (c *coverage) row(row int, x0, x1, height, sign float64) {
	if x0 > x1 {
		x0, x1 = x1, x0
	}
	column, last := int(math.Floor(x0)), int(math.Floor(x1))
	if column == last || x1-x0 < 1e-9 {
		c.add(row, column, height*sign, float64((x0+x1)/2)-float64(column))
		return
	}
	perX := height / (x1 - x0)
	for x := x0; column <= last; column++ {
		next := min(float64(column+1), x1)
		if next > x {
			c.add(row, column, float64((next-x)*perX)*sign, float64((x+next)/2)-float64(column))
		}
		x = next
	}
}

// add notes a height in a pixel, at a mean distance from its left side.
func (c *coverage) add(row, column int, cover, from float64) {
	if column >= c.width {
		return
	}
	c.cells = append(c.cells, cell{int32(row), int32(column), cover, cover * (1 - from)})
}

// spans hands over the covered stretches row by row, from left to right, with
// their coverage from 1 to 255, and empties the coverage for the next shape.
func (c *coverage) spans(paint func(y, x0, x1 int, alpha uint8)) {
	c.order()
	for i := 0; i < len(c.ordered); {
		y := c.ordered[i].y
		cover := 0.0
		for i < len(c.ordered) && c.ordered[i].y == y {
			x, area := c.ordered[i].x, 0.0
			before := cover
			for i < len(c.ordered) && c.ordered[i].y == y && c.ordered[i].x == x {
				area += c.ordered[i].area
				cover += c.ordered[i].cover
				i++
			}
			if a := alpha(before + area); a > 0 {
				paint(int(y), int(x), int(x)+1, a)
			}
			next := int32(c.width)
			if i < len(c.ordered) && c.ordered[i].y == y {
				next = c.ordered[i].x
			}
			if a := alpha(cover); a > 0 && next > x+1 {
				paint(int(y), int(x)+1, int(next), a)
			}
		}
	}
	c.cells = c.cells[:0]
}

func alpha(cover float64) uint8 {
	return uint8(float64(min(1, math.Abs(cover))*255) + 0.5)
}

// order sorts the cells by row and column; cells of one pixel keep the order
// in which they came, so that their sum never depends on the sorting.
func (c *coverage) order() {
	first, last := int32(c.height), int32(-1)
	for _, e := range c.cells {
		first, last = min(first, e.y), max(last, e.y)
	}
	if last < first {
		c.ordered = c.ordered[:0]
		return
	}
	rows := c.rows[:last-first+2]
	clear(rows)
	for _, e := range c.cells {
		rows[e.y-first+1]++
	}
	for i := 1; i < len(rows); i++ {
		rows[i] += rows[i-1]
	}
	c.ordered = slices.Grow(c.ordered[:0], len(c.cells))[:len(c.cells)]
	for _, e := range c.cells {
		c.ordered[rows[e.y-first]] = e
		rows[e.y-first]++
	}
	start := int32(0)
	for _, end := range rows[:len(rows)-1] {
		sortByColumn(c.ordered[start:end])
		start = end
	}
}

// sortByColumn sorts cells and keeps the order of those of one pixel. Those of a
// line of letters come nearly sorted: each is moved down to its place; where that
// turns out to be far, the rest is left to the library.
func sortByColumn(cells []cell) {
	moves := 16 * len(cells)
	for i := 1; i < len(cells); i++ {
		e, k := cells[i], i
		for k > 0 && cells[k-1].x > e.x {
			cells[k] = cells[k-1]
			k--
		}
		cells[k] = e
		if moves -= i - k; moves < 0 {
			slices.SortStableFunc(cells, func(a, b cell) int { return int(a.x) - int(b.x) })
			return
		}
	}
}
