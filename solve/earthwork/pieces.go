package earthwork

import (
	"math"
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
		if !alike(a, b) || !alike(a, c) || bends(a, b, c) {
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
	found := w.cells.piece(&w.measures, a, b, to-from)
	if found.short && w.reach < furthestReach {
		w.further()
		return false
	}
	w.tell(found, from, to)
	w.sum.add(&w.cells.sum, 1)
	return true
}

// bent is by how much the middle of three sections may lie off the mean of the other two before they are told to be of
// different kinds, in metres: ten times what places rounded to the nanometre can do in a face that stands 10 to 1.
const bent = 1e-7

// bends tells whether the section c half way lies off the mean of a and b. Where an edge of the ground runs nearly along
// the section, its cut is known badly, but moves along the ground: the ground is held, not the cut.
func bends(a, b, c *shape) bool {
	for i := range c.lines {
		la, lb, lc := a.lines[i], b.lines[i], c.lines[i]
		mean := func(k int) knot { return knot{y: mix(la[k].y, lb[k].y, 0.5), z: mix(la[k].z, lb[k].z, 0.5)} }
		for k, q := range lc {
			p := mean(k)
			if math.Abs(p.y-q.y) <= bent && math.Abs(p.z-q.z) <= bent {
				continue
			}
			if k == 0 || q.gap || k+1 == len(lc) || lc[k+1].gap || !onBoth(mean(k-1), p, mean(k+1), q) {
				return true
			}
		}
	}
	return false
}

// onBoth tells whether q lies on the line from a to b and on that from b to c.
func onBoth(a, b, c, q knot) bool {
	const short = 1e-6 // m, a line that says nothing about its slope
	return b.y-a.y > short && c.y-b.y > short && math.Abs(onLine(a, b, q.y)-q.z) <= bent && math.Abs(onLine(b, c, q.y)-q.z) <= bent
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

// grown tells whether a side had not met the ground within reach; the next sections then reach further.
func (w *walker) grown(shapes ...*shape) bool {
	if w.reach >= furthestReach {
		return false
	}
	for _, s := range shapes {
		if s.extent(w.cells.cut.columns(s)).short {
			w.further()
			return true
		}
	}
	return false
}

func (w *walker) further() { w.reach = min(float64(w.reach*1.6)+0.5, furthestReach) }

// met is what was come upon in a piece.
type met struct{ short, bare, inward, above, lent, noRock bool }

func (m *met) and(o met) {
	m.short, m.bare, m.inward = m.short || o.short, m.bare || o.bare, m.inward || o.inward
	m.above, m.lent, m.noRock = m.above || o.above, m.lent || o.lent, m.noRock || o.noRock
}

// of says what a section met; sections that are bare or short are not counted.
func (r *rates) met(e extent, sh *shape) (m met, counts bool) {
	if e.bare || e.short {
		return met{bare: e.bare, short: e.short && !e.bare}, false
	}
	return met{
		inward: max(float64(sh.curve*e.left), float64(sh.curve*e.right)) >= 1,
		above:  r.q[qWidth] == 0 && sh.unit > 0 && sh.mine(0),
		lent:   e.lent, noRock: e.noRock,
	}, true
}

// tell notes what was met between two chainages.
func (w *walker) tell(m met, from, to float64) {
	for _, one := range [...]struct {
		is bool
		to *[]stretch
	}{{m.bare, &w.told.bare}, {m.short, &w.told.endless}, {m.inward, &w.told.inward}, {m.above, &w.told.above}, {m.lent, &w.told.lent}, {m.noRock, &w.told.noRock}} {
		if one.is {
			note(one.to, from, to)
		}
	}
}

// take adds a section with its weight in metres of run, unless there is no ground for it.
func (w *walker) take(r *rates, e extent, weight float64, sh *shape, from, to float64) {
	m, counts := r.met(e, sh)
	w.tell(m, from, to)
	if counts {
		w.sum.add(r, weight)
	}
}
