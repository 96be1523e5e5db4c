package earthwork

import (
	"cmp"
	"slices"

	"trenchwright/base/sorting"
)

// cells cuts a piece into parts between which nothing changes, first along the run and then column by column, and adds
// them up. Within a piece every corner of the section and every level at it moves on a straight line, so that a column is
// known from two of its kind. u runs along what is being cut, from 0 to 1. Its slices are used again and again.
type cells struct {
	measures *measures
	length   float64 // m of run of the piece
	sum      rates
	met      met

	cut            columnCut
	a, b           shape        // sections at a quarter and three quarters of a part by marks
	ca, cb, ea, eb []column     // theirs, and those of a part by sides
	roots          [4][]float64 // by depth: marks, sides, corners, crossings
	ways           []way
	pairs          []pair // that cross in the column at hand
	ya, yb, cuts   []float64
}

// piece adds up what lies between sections a at a quarter and b at three quarters of a length.
func (c *cells) piece(m *measures, a, b *shape, length float64) met {
	c.measures, c.length, c.met = m, length, met{}
	c.sum = rates{layers: c.sum.layers[:0]}
	ma, mb := a.marks(c.ya[:0]), b.marks(c.yb[:0])
	c.ya, c.yb = ma, mb
	c.roots[0] = c.roots[0][:0]
	if len(ma) == len(mb) {
		c.roots[0] = c.passing(c.roots[0], ma, mb)
	}
	c.parts(0, length, func(from, to float64) { c.marked(a, b, from, to) })
	return c.met
}

// parts does something with each part between the roots of one depth. length is that of the whole in metres of run.
func (c *cells) parts(depth int, length float64, do func(from, to float64)) {
	roots := c.roots[depth]
	slices.Sort(roots)
	least, from := min(shortest/length, 0.25), 0.0
	for _, u := range roots {
		if u-from > least && 1-u > least {
			do(from, u)
			from = u
		}
	}
	do(from, 1)
}

// shortest is a part's least length, in metres: what is lost beside a shorter one is its square, and where a width jumps,
// its length.
const shortest = 1e-10

// root puts where a value that is v0 at a quarter and v1 at three quarters vanishes behind others, if that is within.
func root(out []float64, v0, v1 float64) []float64 {
	if v0 == v1 {
		return out
	}
	if u := 0.25 + float64(0.5*(v0/(v0-v1))); u > 0 && u < 1 {
		return append(out, u)
	}
	return out
}

// way is how far a mark moves.
type way struct {
	low, high float64
	i         int
}

// passing are where marks, given at a quarter and at three quarters, pass each other. Marks whose ways do not overlap
// cannot.
func (c *cells) passing(roots, ma, mb []float64) []float64 {
	ways := c.ways[:0]
	for i := range ma {
		a, b := mix(ma[i], mb[i], -0.5), mix(ma[i], mb[i], 1.5)
		ways = append(ways, way{min(a, b), max(a, b), i})
	}
	c.ways = ways
	sorting.By(ways, func(a, b way) int { return cmp.Or(cmp.Compare(a.low, b.low), a.i-b.i) })
	for n, w := range ways {
		for _, v := range ways[n+1:] {
			if v.low > w.high {
				break
			}
			roots = root(roots, ma[w.i]-ma[v.i], mb[w.i]-mb[v.i])
		}
	}
	return roots
}

// marked takes a part of the piece in which the marks keep their order: its columns belong together, two by two.
func (c *cells) marked(a, b *shape, from, to float64) {
	length := float64((to - from) * c.length)
	sa := mixed(a, b, quarter(mix(from, to, 0.25)), &c.a)
	sb := mixed(a, b, quarter(mix(from, to, 0.75)), &c.b)
	c.ca, c.cb = append(c.ca[:0], c.cut.columns(sa)...), append(c.cb[:0], c.cut.columns(sb)...)
	roots := c.roots[1][:0]
	for i := range c.ca {
		p, q := &c.ca[i], &c.cb[i]
		if p.thin() || q.thin() {
			continue
		}
		if p.has != q.has { // what lies apart is thinner than any figure
			c.plain(length)
			return
		}
		if p.has[fGround] && p.has[fDig] {
			roots = edges(roots, pair{fGround, fDig, 0, 0}, p, q)
		}
	}
	c.roots[1] = roots
	c.parts(1, length, func(from, to float64) { c.sided(from, to, float64((to-from)*length)) })
}

// quarter is how far u lies from a quarter to three quarters.
func quarter(u float64) float64 { return float64((u - 0.25) * 2) }

// edges puts where a pair meets at either edge of a column behind other roots.
func edges(roots []float64, of pair, p, q *column) []float64 {
	a0, a1 := of.gap(p)
	b0, b1 := of.gap(q)
	return root(root(roots, a0, b0), a1, b1)
}

// plain adds a part from its two sections alone.
func (c *cells) plain(length float64) {
	for _, s := range [2]*shape{&c.a, &c.b} {
		r, e := c.measures.rates(s)
		m, counts := r.met(e, s)
		c.met.and(m)
		if counts {
			c.sum.add(&r, length/2)
		}
	}
}

// sided takes a part in which each side of the dig meets the ground within one column.
func (c *cells) sided(from, to, length float64) {
	sa, sb := &c.a, &c.b
	c.ea, c.eb = append(c.ea[:0], c.ca...), append(c.eb[:0], c.cb...)
	if from > 0 || to < 1 {
		u0, u1 := quarter(mix(from, to, 0.25)), quarter(mix(from, to, 0.75))
		one, other := c.a.bounds(&c.b, u0), c.a.bounds(&c.b, u1)
		sa, sb = &one, &other
		for i := range c.ca {
			c.ea[i], c.eb[i] = c.ca[i].to(&c.cb[i], u0), c.ca[i].to(&c.cb[i], u1)
		}
	}
	xa, xb := sa.extent(c.ea), sb.extent(c.eb)
	face := float64((sa.faces(c.ea, xa) + sb.faces(c.eb, xb)) / 2 * length)
	found := c.clip(sa, sb, xa, xb)
	if found.short || found.bare {
		c.met.and(met{short: found.short && !found.bare, bare: found.bare})
		return
	}
	width := c.sum.q[qWidth]
	for i := range c.ea {
		if p, q := &c.ea[i], &c.eb[i]; !p.thin() && !q.thin() {
			c.column(sa, p, q, length)
		}
	}
	found.above = c.sum.q[qWidth] == width && sa.unit > 0 && sa.mine(0)
	c.met.and(found)
	c.sum.face += face
}

// clip leaves of every column what lies between the sides and belongs to this leg, and says what was met.
func (c *cells) clip(sa, sb *shape, xa, xb extent) met {
	found := met{short: xa.short || xb.short, bare: xa.bare || xb.bare}
	for i := range c.ea {
		p, ok0 := c.measures.within(sa, &c.ea[i], xa)
		q, ok1 := c.measures.within(sb, &c.eb[i], xb)
		c.ea[i], c.eb[i] = p, q
		if ok0 && ok1 {
			found.bare = found.bare || !p.has[fGround] || !p.has[fDig]
			found.lent, found.noRock = found.lent || p.lent, found.noRock || !p.has[fRock] && !sa.without[1]
		}
	}
	return found
}

// column adds one column, given at a quarter and at three quarters of a length of run.
func (c *cells) column(s *shape, p, q *column, length float64) {
	first, last := p.to(q, -0.5), p.to(q, 1.5)
	layers := c.measures.layersOf(&first, &last)
	for len(c.sum.layers) < layers {
		c.sum.layers = append(c.sum.layers, [2]float64{})
	}
	c.pairs = c.measures.crossing(s, &first, &last, s.inside(p), layers, c.pairs[:0])
	if len(c.pairs) == 0 {
		c.add(s, p, q, length)
		return
	}
	roots := c.roots[2][:0]
	for _, of := range c.pairs {
		roots = edges(roots, of, p, q)
	}
	c.roots[2] = roots
	c.parts(2, length, func(from, to float64) {
		a, b := p.to(q, quarter(mix(from, to, 0.25))), p.to(q, quarter(mix(from, to, 0.75)))
		c.crossed(s, &a, &b, float64((to-from)*length))
	})
}

// crossed takes a part of a column in which every pair crosses, or does not, and parts it where two crossings pass.
func (c *cells) crossed(s *shape, p, q *column, length float64) {
	c.ya, c.yb, c.roots[3] = c.ya[:0], c.yb[:0], c.roots[3][:0]
	for _, of := range c.pairs {
		y0, ok0 := crossing(of, p)
		y1, ok1 := crossing(of, q)
		if ok0 && ok1 {
			c.ya, c.yb = append(c.ya, y0), append(c.yb, y1)
		}
	}
	if len(c.ya) > 1 {
		c.roots[3] = c.passing(c.roots[3], c.ya, c.yb)
	}
	c.parts(3, length, func(from, to float64) {
		a, b := p.to(q, quarter(mix(from, to, 0.25))), p.to(q, quarter(mix(from, to, 0.75)))
		c.add(s, &a, &b, float64((to-from)*length))
	})
}

// gauss are the two places of Gauss and Legendre: exact for areas that are quadratic, and for cubes.
var gauss = [2]float64{0.5 - 0.28867513459481287, 0.5 + 0.28867513459481287}

// add takes a part of a column without events.
func (c *cells) add(s *shape, p, q *column, length float64) {
	for _, g := range gauss {
		col := p.to(q, quarter(g))
		if col.thin() {
			continue
		}
		c.cuts = crossings(&col, c.pairs, c.cuts)
		for k := 1; k < len(c.cuts); k++ {
			c.measures.between(s, &col, c.cuts[k-1], c.cuts[k], length/2, &c.sum)
		}
	}
}
