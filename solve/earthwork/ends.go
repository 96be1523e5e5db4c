package earthwork

import (
	"math"
	"slices"
)

// before and past add what lies beyond the leg's ends: the outside of a bend, or the working room and the closed end.
func (w *walker) before(from float64) { w.beyond(from, -1, w.ends[0], w.span.openFrom) }
func (w *walker) past(to float64)     { w.beyond(to, 1, w.ends[1], w.span.openTo) }

func (w *walker) beyond(at, way float64, s *share, c *closing) {
	if s != nil {
		for done := 0.0; ; {
			out := float64(s.spread() * w.reach)
			if out <= done {
				return
			}
			w.outward(at+float64(way*done), at+float64(way*out))
			done = out
		}
	}
	if c == nil {
		return
	}
	w.outward(at, c.at)
	if c.sloped && len(w.span.side(1)) > 1 {
		w.outward(c.at, w.daylight(c.at, way))
	}
}

// outward adds up what lies between two chainages, in whichever order.
func (w *walker) outward(a, b float64) { w.stretch(min(a, b), max(a, b)) }

// daylight is where the floor of a closed end, that rises from chainage at, has come out of the ground over its whole
// width: the dig ends there, and what the ground does further out is nobody's business. Where no ground is on file the
// floor is taken to come out at the highest level that was last seen, or at the top of the cover: that says for how long
// ground is missing, and nothing is counted there.
func (w *walker) daylight(at, way float64) float64 {
	seen := w.span.level(lTop, at)
	step := max(w.reach, 1)
	for out := 0.0; out < furthestReach; out += step {
		// the floor is as much wider as the end is long
		w.reach = max(w.reach, min(w.span.half+out+step+1, furthestReach))
		xs := w.outwardEvents(at+float64(way*out), at+float64(way*(out+step)))
		for i := 1; i < len(xs); i++ {
			last := mix(xs[i-1], xs[i], 1-1e-6)
			end := w.endAt(last, seen)
			switch {
			case !end.dug && end.bare:
				return w.firstNotDug(xs[i-1], last, seen)
			case !end.dug:
				return xs[i]
			case !end.bare:
				seen = end.high
			}
		}
	}
	return at + float64(way*furthestReach)
}

// outwardEvents are the events between two chainages, both included, in the order from a to b.
func (w *walker) outwardEvents(a, b float64) []float64 {
	var xs []float64
	w.parts(min(a, b), max(a, b), func(p part, from, to float64) {
		xs = append(xs, w.events(p, from, to)...)
	})
	if b < a {
		slices.Reverse(xs)
	}
	return xs
}

// firstNotDug halves until the end of a closed end is known to the nanometre.
func (w *walker) firstNotDug(dug, not, seen float64) float64 {
	for math.Abs(not-dug) > 1e-9 {
		if mid := mix(dug, not, 0.5); w.endAt(mid, seen).dug {
			dug = mid
		} else {
			not = mid
		}
	}
	return not
}

// ending is a section through a closed end.
type ending struct {
	dug  bool    // something is, or would be if the ground lay at the level last seen
	bare bool    // no ground where it was needed
	high float64 // highest level of the ground between the sides
}

func (w *walker) endAt(x, seen float64) ending {
	p := w.axis.part(x)
	sh := w.shape(p, x)
	for w.grown(sh) {
		sh = w.shape(p, x)
	}
	r, e := w.measures.rates(sh)
	if e.bare {
		t := w.span
		lowest := t.level(lFormation, x) + t.floor(x) - math.Abs(float64(t.cross*t.half))
		return ending{dug: lowest < seen, bare: true}
	}
	out := ending{dug: r.q[qWidth] > 0, high: math.Inf(-1)}
	cols := sh.columns()
	for i := range cols {
		if c := &cols[i]; c.has[fGround] && c.y1 > e.left && c.y0 < e.right {
			out.high = max(out.high, c.v[fGround][0], c.v[fGround][1])
		}
	}
	return out
}
