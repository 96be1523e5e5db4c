package earthwork

import (
	"cmp"
	"slices"
)

// straight adds up a straight part of the axis exactly. Between two corners of the ground that lie within reach every line
// of the section keeps its knots, and each knot moves on a straight line: two sections say all of them.
func (w *walker) straight(p part, from, to float64) {
	xs := w.events(p, from, to)
	for i := 1; i < len(xs); i++ {
		if !w.piece(p, xs[i-1], xs[i]) { // looked further out: there are more corners
			xs, i = w.events(p, xs[i-1], to), 0
		}
	}
}

// events are the chainages between from and to, both included, at which the lines of a section may change their knots.
func (w *walker) events(p part, from, to float64) []float64 {
	all := append(w.corners(p, from, to), w.span.events(w.reach)...)
	if p.radius == 0 {
		all = append(all, w.along(p, from, to)...)
	}
	all = append(all, w.spans[0].from, w.spans[len(w.spans)-1].to, 0, w.axis.length)
	within := all[:0]
	for _, x := range all {
		if x > from && x < to {
			within = append(within, x)
		}
	}
	return spaced(within, from, to, tiny)
}

// along are the chainages at which edges of the ground leave what is within reach.
func (w *walker) along(p part, from, to float64) []float64 {
	var out []float64
	wide := float64(w.reach * w.axis.scale)
	a, b := w.axis.pose(p, from), w.axis.pose(p, to)
	for _, g := range surfaces(w.p) {
		if g == nil {
			continue
		}
		for _, y := range [2]float64{-wide, wide} {
			for _, st := range g.Section(a.Beside(y), b.Beside(y)) {
				for _, c := range st {
					out = append(out, from+c.Along/w.axis.scale)
				}
			}
		}
	}
	return out
}

// piece adds up a stretch in which the lines keep their knots. Where they turn out not to (ground that does not tell its
// corners, faces that overlap), it is halved until what is left does not count. false: a side had not met the ground, and
// the sections now reach further.
func (w *walker) piece(p part, from, to float64) bool {
	a, b := w.shape(p, mix(from, to, 0.25)), w.shape(p, mix(from, to, 0.75))
	if to-from > float64(16*tiny) {
		c := w.shape(p, mix(from, to, 0.5))
		if !alike(a, b) || !alike(a, c) || apart(mixed(a, b, 0.5), c) > bent {
			if w.grown(a, b, c) {
				return false
			}
			mid := mix(from, to, 0.5)
			return w.whole(func() bool { return w.piece(p, from, mid) && w.piece(p, mid, to) })
		}
	} else if !alike(a, b) {
		b = a
	}
	if w.grown(a, b) {
		return false
	}
	return w.whole(func() bool {
		s := &split{w: w, a: a, b: b, from: from, to: to}
		s.byMarks()
		if s.short && w.reach < furthestReach {
			w.further()
			return false
		}
		return true
	})
}

// whole does something to the sums, or, where that comes to nothing, leaves them as they were.
func (w *walker) whole(do func() bool) bool {
	sum, told := *w.sum, w.told.clone()
	sum.layers = slices.Clone(sum.layers)
	if do() {
		return true
	}
	*w.sum, w.told = sum, told
	return false
}

// bent is by how much the middle of three sections may lie off the mean of the other two before they are told to be of
// different kinds, in metres: ten times what places rounded to the nanometre can do in a face that stands 10 to 1.
const bent = 1e-7

// grown tells whether a side had not met the ground within reach; the next sections then reach further.
func (w *walker) grown(shapes ...*shape) bool {
	if w.reach >= furthestReach {
		return false
	}
	for _, s := range shapes {
		if s.extent(s.columns()).short {
			w.further()
			return true
		}
	}
	return false
}

func (w *walker) further() { w.reach = min(float64(w.reach*1.6)+0.5, furthestReach) }

// split parts a piece at every event between its ends: u runs from 0 to 1 along it; a stands at ¼, b at ¾.
type split struct {
	w        *walker
	a, b     *shape
	from, to float64
	layers   int
	pairs    []pair
	short    bool // somewhere a side had not met the ground
}

func (s *split) at(u float64) *shape { return mixed(s.a, s.b, float64((u-0.25)*2)) }

// root puts where a value that is v0 at u0 and v1 at u1 vanishes behind others, if that lies between from and to.
func root(out []float64, v0, v1, u0, u1, from, to float64) []float64 {
	if v0 == v1 {
		return out
	}
	if u := u0 + float64((u1-u0)*(v0/(v0-v1))); u > from && u < to {
		return append(out, u)
	}
	return out
}

// least is the least part of a piece that is looked at apart.
func (s *split) least() float64 { return min(tiny/(s.to-s.from), 0.25) }

func (s *split) parts(roots []float64, from, to float64, do func(from, to float64)) {
	xs := spaced(roots, from, to, s.least())
	for i := 1; i < len(xs); i++ {
		do(xs[i-1], xs[i])
	}
}

// byMarks parts the piece where two marks pass each other.
func (s *split) byMarks() {
	ma, mb := s.a.marks(), s.b.marks()
	var roots []float64
	if len(ma) == len(mb) {
		roots = passing(nil, ma, mb, 0, 1)
	}
	s.parts(roots, 0, 1, s.byCorners)
}

// passing are where marks, given at a quarter and at three quarters of a part, pass each other within it. Marks whose ways
// do not overlap cannot.
func passing(roots, ma, mb []float64, from, to float64) []float64 {
	u0, u1 := mix(from, to, 0.25), mix(from, to, 0.75)
	type way struct {
		low, high float64
		i         int
	}
	ways := make([]way, len(ma))
	for i := range ma {
		a, b := mix(ma[i], mb[i], -0.5), mix(ma[i], mb[i], 1.5)
		ways[i] = way{min(a, b), max(a, b), i}
	}
	slices.SortFunc(ways, func(a, b way) int { return cmp.Or(cmp.Compare(a.low, b.low), a.i-b.i) })
	for n, w := range ways {
		for _, v := range ways[n+1:] {
			if v.low > w.high {
				break
			}
			roots = root(roots, ma[w.i]-ma[v.i], mb[w.i]-mb[v.i], u0, u1, from, to)
		}
	}
	return roots
}

// samples are the columns at a quarter and at three quarters of a part, and which of them count.
func (s *split) samples(from, to float64) (u0, u1 float64, a, b []column, ea, eb extent, shape *shape) {
	u0, u1 = mix(from, to, 0.25), mix(from, to, 0.75)
	sa, sb := s.at(u0), s.at(u1)
	a, b = sa.columns(), sb.columns()
	ea, eb = sa.extent(a), sb.extent(b)
	m := &s.w.measures
	s.layers = max(m.layers(sa, a, ea), m.layers(sb, b, eb))
	return u0, u1, a, b, ea, eb, sa
}

// counts tells whether a column lies, in part, between the sides of either sample.
func counts(a, b *column, ea, eb extent) bool {
	return a.y1-a.y0 > thin && b.y1-b.y0 > thin && a.has == b.has && (a.y1 >= ea.left && a.y0 <= ea.right || b.y1 >= eb.left && b.y0 <= eb.right)
}

// byCorners parts a stretch in which marks keep their order where a pair of lines meets at a mark.
func (s *split) byCorners(from, to float64) {
	u0, u1, a, b, ea, eb, sh := s.samples(from, to)
	var roots []float64
	for i := range a {
		if len(a) != len(b) || !counts(&a[i], &b[i], ea, eb) {
			continue
		}
		s.pairs = s.w.measures.pairs(sh, &a[i], s.layers, s.pairs)
		for _, p := range s.pairs {
			a0, a1 := p.gap(&a[i])
			b0, b1 := p.gap(&b[i])
			roots = root(roots, a0, b0, u0, u1, from, to)
			roots = root(roots, a1, b1, u0, u1, from, to)
		}
	}
	s.parts(roots, from, to, s.byCrossings)
}

// byCrossings parts a stretch in which every pair crosses in its own column where two crossings pass each other.
func (s *split) byCrossings(from, to float64) {
	_, _, a, b, ea, eb, sh := s.samples(from, to)
	var roots []float64
	for i := range a {
		if len(a) != len(b) || !counts(&a[i], &b[i], ea, eb) {
			continue
		}
		s.pairs = s.w.measures.pairs(sh, &a[i], s.layers, s.pairs)
		var ya, yb []float64
		for _, p := range s.pairs {
			y0, ok0 := crossing(p, &a[i])
			y1, ok1 := crossing(p, &b[i])
			if ok0 && ok1 {
				ya, yb = append(ya, y0), append(yb, y1)
			}
		}
		roots = passing(roots, ya, yb, from, to)
	}
	s.parts(roots, from, to, s.add)
}

// crossing is where a pair crosses within a column.
func crossing(p pair, c *column) (float64, bool) {
	a, b := p.gap(c)
	if (a < 0) == (b < 0) {
		return 0, false
	}
	return c.y0 + float64((c.y1-c.y0)*(a/(a-b))), true
}

// gauss are the two places of Gauss and Legendre: exact for areas that are quadratic, and for cubes.
var gauss = [2]float64{0.5 - 0.28867513459481287, 0.5 + 0.28867513459481287}

// add takes a stretch without events.
func (s *split) add(from, to float64) {
	half := float64((to-from)*(s.to-s.from)) / 2
	for _, g := range gauss {
		sh := s.at(mix(from, to, g))
		r, e := s.w.measures.rates(sh)
		s.short = s.short || e.short
		s.w.take(&r, e, half, sh, s.from, s.to)
	}
}

// take adds a section with its weight in metres of run, unless there is no ground for it.
func (w *walker) take(r *rates, e extent, weight float64, sh *shape, from, to float64) {
	switch {
	case e.bare:
		note(&w.told.bare, from, to)
		return
	case e.short:
		note(&w.told.endless, from, to)
		return
	case max(float64(sh.curve*e.left), float64(sh.curve*e.right)) >= 1:
		note(&w.told.inward, from, to)
	}
	if r.q[qWidth] == 0 && sh.unit > 0 && sh.mine(0) {
		note(&w.told.above, from, to)
	}
	if e.lent {
		note(&w.told.lent, from, to)
	}
	if e.noRock {
		note(&w.told.noRock, from, to)
	}
	w.sum.add(r, weight)
}
