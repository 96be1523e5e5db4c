package earthwork

import "slices"

// column is a part of a section in which every line is straight.
type column struct {
	y0, y1 float64
	v      [nLines][2]float64 // levels at y0 and y1
	has    [nLines]bool
	lent   bool // there is no finished ground here: the fill ends at the ground as it is
}

// thin is the width below which a column is none, in metres: knots that lie at one offset differ by rounding alone.
const thin = 1e-11

func (c *column) mid() float64 { return c.y0 + float64((c.y1-c.y0)/2) }

// at is line l of the column at offset y.
func (c *column) at(l int, y float64) float64 {
	return c.v[l][0] + float64((c.v[l][1]-c.v[l][0])*((y-c.y0)/(c.y1-c.y0)))
}

// thin tells whether c is none.
func (c *column) thin() bool { return c.y1-c.y0 <= thin }

// to is the column w of the way to another of its kind; w may lie outside.
func (c *column) to(o *column, w float64) column {
	out := column{y0: mix(c.y0, o.y0, w), y1: mix(c.y1, o.y1, w), has: c.has, lent: c.lent}
	for l := range c.v {
		out.v[l] = [2]float64{mix(c.v[l][0], o.v[l][0], w), mix(c.v[l][1], o.v[l][1], w)}
	}
	return out
}

// columns cuts a section at all its marks: one column fewer than marks, thin ones included, so that two shapes of one kind
// have columns that belong together.
func (s *shape) columns() []column { return new(columnCut).columns(s) }

// columnCut cuts sections, one after the other: the columns of one live until the next is cut.
type columnCut struct {
	marks []float64
	cut   []column
}

func (m *columnCut) columns(s *shape) []column {
	m.marks = s.marks(m.marks[:0])
	marks := m.marks
	slices.Sort(marks)
	out := m.cut[:0]
	var at [nKnotted]int
	for i := 1; i < len(marks); i++ {
		out = append(out, column{y0: marks[i-1], y1: marks[i]})
		c := &out[i-1]
		if c.thin() {
			continue
		}
		mid := c.mid()
		for l := range s.lines {
			k := s.lines[l]
			for at[l]+1 < len(k) && k[at[l]+1].y <= mid {
				at[l]++
			}
			if a := at[l]; a+1 < len(k) && k[a].y <= mid && !k[a+1].gap {
				c.has[l] = true
				c.v[l] = [2]float64{onLine(k[a], k[a+1], c.y0), onLine(k[a], k[a+1], c.y1)}
			}
		}
		c.has[fUnder], c.has[fTop] = true, true
		c.v[fUnder] = [2]float64{s.under - float64(s.cross*c.y0), s.under - float64(s.cross*c.y1)}
		c.v[fTop] = [2]float64{s.top - float64(s.cross*c.y0), s.top - float64(s.cross*c.y1)}
		if !c.has[fFinished] {
			c.has[fFinished], c.v[fFinished], c.lent = c.has[fGround], c.v[fGround], !s.without[0]
		}
	}
	m.cut = out
	return out
}

func onLine(a, b knot, y float64) float64 {
	return a.z + float64((b.z-a.z)*((y-a.y)/(b.y-a.y)))
}

// extent is how far a dig goes to either side: to where its side first meets the ground.
type extent struct {
	left, right float64
	short       bool // a side had not met the ground where the section ended
	bare        bool // no ground on file where this leg needs it
	lent        bool // no finished ground there
	noRock      bool // the surface of rock does not reach there
}

// extent looks from the bottom outward. Where nothing belongs to this leg nothing is missing.
func (s *shape) extent(cols []column) extent {
	var e extent
	var ok, bare bool
	e.right, ok, bare = outward(cols, s.bottom[1], false)
	e.short, e.bare = !ok && s.limits[3] > e.right, bare && s.owns(e.right, s.wouldReach(cols, e.right, false))
	e.left, ok, bare = outward(cols, s.bottom[0], true)
	e.short, e.bare = e.short || !ok && s.limits[0] < e.left, e.bare || bare && s.owns(s.wouldReach(cols, e.left, true), e.left)
	return e
}

// owns tells whether something between two offsets on one side belongs to this leg.
func (s *shape) owns(a, b float64) bool {
	if a+b < 0 {
		return s.limits[0] < b && s.limits[1] > a
	}
	return s.limits[2] < b && s.limits[3] > a
}

// wouldReach is how far out a side that has ground as far as offset y would come if the ground went on at the level that
// it has there; without any, at the top of the cover.
func (s *shape) wouldReach(cols []column, y float64, left bool) float64 {
	seen := s.top
	for i := range cols {
		if c := &cols[i]; c.has[fGround] && c.y1-c.y0 > thin {
			if c.y0 == y && left {
				seen = c.v[fGround][0]
			} else if c.y1 == y && !left {
				seen = c.v[fGround][1]
			}
		}
	}
	for i := range cols {
		c := &cols[i]
		if left {
			c = &cols[len(cols)-1-i]
		}
		switch {
		case left && c.y0 >= y || !left && c.y1 <= y || c.y1-c.y0 <= thin:
		case !c.has[fDig]:
			return y
		case left:
			if y = c.y0; c.v[fDig][0] >= seen {
				return y
			}
		default:
			if y = c.y1; c.v[fDig][1] >= seen {
				return y
			}
		}
	}
	return y
}

// outward is where the side that begins at offset from first meets the ground. Where the dig has no line beyond its bottom
// the side is upright, and that is it; ok is false where the line goes on beyond what was looked at.
func outward(cols []column, from float64, left bool) (y float64, ok, bare bool) {
	y = from
	for i := range cols {
		c := &cols[i]
		if left {
			c = &cols[len(cols)-1-i]
		}
		near, far := 0, 1
		ends := [2]float64{c.y0, c.y1}
		if left {
			near, far = 1, 0
		}
		if c.y1-c.y0 <= thin || (c.mid() <= from) != left && c.mid() != from {
			continue
		}
		if !c.has[fDig] {
			return y, y == from, false
		}
		if !c.has[fGround] {
			return y, true, true
		}
		a, b := c.v[fGround][near]-c.v[fDig][near], c.v[fGround][far]-c.v[fDig][far]
		if a <= 0 {
			return ends[near], true, false
		}
		if b <= 0 {
			return ends[near] + float64((ends[far]-ends[near])*(a/(a-b))), true, false
		}
		y = ends[far]
	}
	return y, y == from, false
}

// layers is how many layers reach the top of the fill anywhere in the section.
func (m *measures) layers(s *shape, cols []column, e extent) int {
	if m.layer <= 0 {
		return 0
	}
	high := 0.0
	for i := range cols {
		c := &cols[i]
		if c.has[fFinished] && c.y1 > e.left && c.y0 < e.right {
			high = max(high, c.v[fFinished][0]-c.v[fUnder][0], c.v[fFinished][1]-c.v[fUnder][1])
		}
	}
	return m.upTo(high)
}

// layersOf is how many layers reach the top of the fill anywhere in a moving column.
func (m *measures) layersOf(first, last *column) int {
	if m.layer <= 0 {
		return 0
	}
	_, high := pair{fFinished, fUnder, 0, 0}.range4(first, last)
	return m.upTo(max(high, 0))
}

func (m *measures) upTo(high float64) int { return int(min(high/m.layer, mostLayers)) + 1 }

// mostLayers keeps a slip of the pen in the thickness of a layer from taking all memory.
const mostLayers = 500
