package earthwork

import "math"

// pair is two lines of a section whose crossing changes what a column holds: line a raised by up against line b raised.
type pair struct {
	a, b     int
	upA, upB float64
}

// gap is how far a lies above b at either end of a column.
func (p pair) gap(c *column) (at0, at1 float64) {
	return c.v[p.a][0] + p.upA - c.v[p.b][0] - p.upB, c.v[p.a][1] + p.upA - c.v[p.b][1] - p.upB
}

// crossing is where a pair crosses within a column.
func crossing(p pair, c *column) (float64, bool) {
	a, b := p.gap(c)
	if (a < 0) == (b < 0) {
		return 0, false
	}
	return c.y0 + float64((c.y1-c.y0)*(a/(a-b))), true
}

// measures are what of the Problem the columns need.
type measures struct {
	topsoil float64 // 0: none
	layer   float64 // 0: none
	cut     columnCut
	pairs   []pair
	cuts    []float64
}

// levels are the pairs that matter in a column, but for layers; inside the unit or beside it.
func (m *measures) levels(s *shape, c *column, inside bool, p []pair) []pair {
	p = append(p, pair{fGround, fDig, 0, 0}, pair{fUnder, fDig, 0, 0}, pair{fUnder, fFinished, 0, 0}, pair{fFinished, fDig, 0, 0})
	if !s.without[0] {
		p = append(p, pair{fFinished, fGround, 0, 0})
	}
	if c.has[fRock] {
		p = append(p, pair{fRock, fDig, 0, 0}, pair{fRock, fGround, 0, 0})
		if m.topsoil > 0 {
			p = append(p, pair{fRock, fGround, 0, -m.topsoil})
		}
	}
	if inside {
		p = append(p, pair{fTop, fFinished, 0, 0}, pair{fTop, fDig, 0, 0})
	}
	if m.topsoil > 0 {
		p = append(p, pair{fGround, fDig, -m.topsoil, 0}, pair{fFinished, fUnder, -m.topsoil, 0}, pair{fFinished, fDig, -m.topsoil, 0})
		if inside {
			p = append(p, pair{fFinished, fTop, -m.topsoil, 0})
		}
	}
	return p
}

// layering are the pairs of a layer's top, h above the underside.
func (m *measures) layering(h float64, inside bool) [3]pair {
	out := [3]pair{{fUnder, fDig, h, 0}, {fUnder, fFinished, h, -m.topsoil}, {fUnder, fTop, h, 0}}
	if !inside {
		out[2] = out[0]
	}
	return out
}

func (s *shape) inside(c *column) bool { return s.unit > 0 && math.Abs(c.mid()) < s.unit }

// all are all pairs that matter in a column.
func (m *measures) all(s *shape, c *column, layers int, into []pair) []pair {
	inside := s.inside(c)
	p := m.levels(s, c, inside, into[:0])
	if m.layer > 0 {
		for k := 1; k <= layers; k++ {
			three := m.layering(float64(float64(k)*m.layer), inside)
			p = append(p, three[:2]...)
			if inside {
				p = append(p, three[2])
			}
		}
	}
	return p
}

// crossing are those pairs that cross anywhere between the first and the last of a moving column. Gaps move on straight
// lines, along the run and across it: what has one sign in four corners has it everywhere.
func (m *measures) crossing(s *shape, first, last *column, inside bool, layers int, into []pair) []pair {
	all := m.levels(s, first, inside, into)
	p := all[:len(into)]
	for _, one := range all[len(into):] {
		if low, high := one.range4(first, last); low < 0 && high > 0 {
			p = append(p, one)
		}
	}
	if m.layer <= 0 {
		return p
	}
	zero := m.layering(0, inside)
	n := 2
	if inside {
		n = 3
	}
	for _, one := range zero[:n] {
		low, high := one.range4(first, last) // of the underside above the other line: a layer crosses where that is −h
		for k := max(1, int(-high/m.layer)); k <= layers; k++ {
			h := float64(float64(k) * m.layer)
			if low+h >= 0 {
				break
			}
			if high+h > 0 {
				p = append(p, pair{one.a, one.b, h, one.upB})
			}
		}
	}
	return p
}

// range4 is the least and the greatest gap in the four corners of a moving column.
func (p pair) range4(first, last *column) (low, high float64) {
	a0, a1 := p.gap(first)
	b0, b1 := p.gap(last)
	return min(a0, a1, b0, b1), max(a0, a1, b0, b1)
}
