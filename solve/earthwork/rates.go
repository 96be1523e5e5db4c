package earthwork

import (
	"math"
	"slices"
)

// What a section holds, m² each but for the width.
const (
	qTopsoil = iota
	qSoil
	qRock
	qStone
	qFill
	qTopBack
	qUnit
	qRaised
	qLowered
	qWidth // m
	nQuantities
)

// rates is what a metre of run holds. On a curve a metre of axis is longer at the outside and shorter at the inside: each
// part counts with the length of run at its own offset (Pappus).
type rates struct {
	q      [nQuantities]float64
	face   float64      // m: height of upright sides together
	layers [][2]float64 // m², of fill left and right of the axis
}

func (r *rates) add(o *rates, w float64) {
	for i, v := range o.q {
		r.q[i] += float64(v * w)
	}
	r.face += float64(o.face * w)
	for len(r.layers) < len(o.layers) {
		r.layers = append(r.layers, [2]float64{})
	}
	for k, v := range o.layers {
		r.layers[k][0] += float64(v[0] * w)
		r.layers[k][1] += float64(v[1] * w)
	}
}

// rates adds up the columns between the two sides.
func (m *measures) rates(s *shape) (rates, extent) {
	cols := m.cut.columns(s)
	e := s.extent(cols)
	n := m.layers(s, cols, e)
	r := rates{layers: make([][2]float64, n)}
	for i := range cols {
		c, ok := m.within(s, &cols[i], e)
		if !ok {
			continue
		}
		if !c.has[fGround] || !c.has[fDig] {
			e.bare = true
			continue
		}
		e.lent, e.noRock = e.lent || c.lent, e.noRock || !c.has[fRock] && !s.without[1]
		m.pairs = m.all(s, &c, n, m.pairs)
		m.cuts = crossings(&c, m.pairs, m.cuts)
		for k := 1; k < len(m.cuts); k++ {
			m.between(s, &c, m.cuts[k-1], m.cuts[k], 1, &r)
		}
	}
	r.face = s.faces(cols, e)
	return r, e
}

// within is the part of a column that lies between the sides and belongs to this leg.
func (m *measures) within(s *shape, c *column, e extent) (column, bool) {
	a, b := max(c.y0, e.left), min(c.y1, e.right)
	if b-a <= thin || c.thin() || !s.mine(c.mid()) {
		return column{}, false
	}
	if a == c.y0 && b == c.y1 {
		return *c, true
	}
	out := *c
	out.y0, out.y1 = a, b
	for l := range out.v {
		out.v[l] = [2]float64{c.at(l, a), c.at(l, b)}
	}
	return out, true
}

// crossings are the ends of a column and the offsets between them where a pair crosses.
func crossings(c *column, pairs []pair, into []float64) []float64 {
	out := append(into[:0], c.y0)
	for _, p := range pairs {
		a, b := p.gap(c)
		if (a < 0) != (b < 0) && a != 0 && b != 0 {
			out = append(out, c.y0+float64((c.y1-c.y0)*(a/(a-b))))
		}
	}
	out = append(out, c.y1)
	if len(out) > 2 {
		slices.Sort(out)
	}
	return out
}

// between adds the part of a column from a to b, where no pair crosses, with a weight in metres of run. Heights are
// straight there: on a straight the one half way stands for all; on a curve, where the length of run at an offset is
// straight too, Simpson's rule takes their product exactly.
func (m *measures) between(s *shape, c *column, a, b, weight float64, r *rates) {
	if b-a <= 0 {
		return
	}
	mid, area := a+float64((b-a)/2), float64((b-a)*weight)
	inside := s.unit > 0 && math.Abs(mid) < s.unit
	side := 0
	if mid > 0 {
		side = 1
	}
	if s.curve == 0 {
		m.upright(c, mid, area, area, inside, side, r)
		return
	}
	for _, p := range [3][2]float64{{a, 1}, {mid, 4}, {b, 1}} {
		long := 1 - float64(s.curve*p[0])
		opened := 0.0
		if p[0] == mid {
			opened = float64(area * long)
		}
		m.upright(c, p[0], float64(float64(p[1]/6*area)*long), opened, inside, side, r)
	}
}

// upright adds one upright line of the section with weight w; where anything is dug, so much is opened in plan.
func (m *measures) upright(c *column, y, w, opened float64, inside bool, side int, r *rates) {
	far := (y - c.y0) / (c.y1 - c.y0)
	at := func(l int) float64 { return c.v[l][0] + float64((c.v[l][1]-c.v[l][0])*far) }
	g, t, u, f := at(fGround), at(fDig), at(fUnder), at(fFinished)
	add := func(q int, h float64) {
		if h > 0 {
			r.q[q] += float64(h * w)
		}
	}
	if g > t {
		r.q[qWidth] += opened
		rock := t
		if c.has[fRock] {
			rock = max(t, min(g, at(fRock)))
		}
		strip := max(rock, g-m.topsoil)
		add(qRock, rock-t)
		add(qSoil, strip-rock)
		add(qTopsoil, g-strip)
		add(qLowered, g-max(f, t))
	}
	if f <= t {
		return
	}
	add(qRaised, f-max(g, t))
	add(qStone, min(u, f)-t)
	low := max(u, t)
	if inside {
		top := at(fTop)
		add(qUnit, min(top, f)-low)
		low = max(low, top)
	}
	high := max(low, f-m.topsoil)
	add(qTopBack, f-high)
	if high <= low {
		return
	}
	add(qFill, high-low)
	if m.layer > 0 {
		m.share(low-u, high-u, w, side, r)
	}
}

// share puts fill between two heights above the underside of the unit into its layers.
func (m *measures) share(low, high, w float64, side int, r *rates) {
	for k := int(min(max(low/m.layer, 0), float64(len(r.layers)-1))); k < len(r.layers); k++ {
		a, b := float64(float64(k)*m.layer), float64(float64(k+1)*m.layer)
		if k == len(r.layers)-1 {
			b = math.Inf(1)
		}
		if a >= high {
			return
		}
		if h := min(b, high) - max(a, low); h > 0 {
			r.layers[k][side] += float64(h * w)
		}
	}
}

// faces is the height of both upright sides together, where the dig has upright sides and this leg owns them.
func (s *shape) faces(cols []column, e extent) float64 {
	sum := 0.0
	for i, y := range [2]float64{e.left, e.right} {
		if y != s.bottom[i] || !s.mine(y) {
			continue
		}
		for k := range cols {
			c := &cols[k]
			end := i
			at := [2]float64{c.y0, c.y1}[end]
			if c.y1-c.y0 > thin && at == y && c.has[fDig] && c.has[fGround] {
				sum += max(0, c.v[fGround][end]-c.v[fDig][end])
			}
		}
	}
	return sum
}
