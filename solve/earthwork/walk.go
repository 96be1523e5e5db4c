package earthwork

import (
	"cmp"
	"math"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/place/route"
)

// walker goes along one leg and adds up.
type walker struct {
	p        *Problem
	measures measures
	cells    cells
	axis     axis
	ends     [2]*share
	spans    []*template

	span  *template
	reach float64 // how far to either side is looked, ground metres
	sum   *rates
	plain float64 // m³ dug within the last stretch that was asked for, without what lies beyond the leg's ends
	told  told
}

// told is where something was wrong along one leg: stretches of chainage.
type told struct{ bare, lent, noRock, endless, inward, above []stretch }

func (t told) clone() told {
	return told{slices.Clone(t.bare), slices.Clone(t.lent), slices.Clone(t.noRock), slices.Clone(t.endless), slices.Clone(t.inward), slices.Clone(t.above)}
}

type stretch struct{ from, to float64 }

// note puts a stretch behind others, joined to the last where they touch.
func note(to *[]stretch, from, upto float64) {
	if n := len(*to); n > 0 && from-(*to)[n-1].to <= 1e-6 && upto >= (*to)[n-1].from {
		(*to)[n-1].from, (*to)[n-1].to = min((*to)[n-1].from, from), max((*to)[n-1].to, upto)
		return
	}
	*to = append(*to, stretch{from, upto})
}

// uncounted are the stretches between two chainages in which nothing was counted, one behind the other. A pad at an end of
// the leg lies partly beyond it: what holds at the end holds there too. What was noted last lies last, so that little is
// looked through.
func (w *walker) uncounted(from, to measure.Length) []stretch {
	low, high := from.Metres(), to.Metres()
	first, last := w.spans[0].from, w.spans[len(w.spans)-1].to
	var out []stretch
	for _, list := range [3][]stretch{w.told.bare, w.told.endless, w.told.above} {
		for _, s := range slices.Backward(list) {
			if s.to <= low {
				break
			}
			if s.from >= high {
				continue
			}
			if s.from <= first+tiny {
				s.from = math.Inf(-1)
			}
			if s.to >= last-tiny {
				s.to = math.Inf(1)
			}
			out = append(out, s)
		}
	}
	sorting.By(out, func(a, b stretch) int { return cmp.Compare(a.from, b.from) })
	return joined(out)
}

// furthestReach is how far a side may run until it meets the ground, in metres: beyond it something is wrong.
const furthestReach = 250

// run adds span t up between two chainages, not beyond its own ends unless they are the leg's.
func (w *walker) run(t *template, from, to float64, into *rates) {
	w.span, w.sum = t, into
	first, last := from <= w.spans[0].from && t == w.spans[0], to >= w.spans[len(w.spans)-1].to && t == w.spans[len(w.spans)-1]
	w.reach = w.reachOf(t)
	if first {
		w.before(from)
	}
	before := into.dug()
	w.stretch(from, to)
	w.plain = into.dug() - before
	if last {
		w.past(to)
	}
}

// upright is how far beyond upright sides is looked, in metres: a section that ended on them would end short of them by a
// rounding, and find no ground there.
const upright = 0.01

// reachOf is a first guess.
func (w *walker) reachOf(t *template) float64 {
	if len(t.side(1)) == 1 {
		return t.half + upright
	}
	deep := max(t.start[lTop]-t.start[lFormation], t.end[lTop]-t.end[lFormation], 0)
	return max(t.half+float64(float64(1.5*deep)*t.gentle())+1, min(w.reach, float64(4*t.half)))
}

// gentle is how far a side goes out for each metre up.
func (t *template) gentle() float64 {
	switch {
	case t.sides.Form == Sloped && t.sides.Slope != nil && t.sides.Slope.Rise > 0:
		return 1 / ratio(*t.sides.Slope)
	case t.sides.Form == Benched && t.sides.Bench != nil:
		return float64(t.sides.Bench.Width) / float64(t.sides.Bench.Height)
	}
	return 0
}

// stretch adds up what lies between two chainages, part by part of the axis.
func (w *walker) stretch(from, to float64) {
	w.parts(from, to, func(p part, from, to float64) {
		if p.radius == 0 {
			w.straight(p, from, to)
		} else {
			w.arc(p, from, to)
		}
	})
}

// parts does something with each part of the axis between two chainages.
func (w *walker) parts(from, to float64, do func(p part, from, to float64)) {
	for from < to-tiny {
		p := w.axis.part(from)
		upto := min(to, p.to)
		if upto <= from+tiny {
			p = w.axis.part(from + float64(2*tiny))
			upto = min(to, p.to)
		}
		do(p, from, upto)
		from = upto
	}
}

// tiny is a length along the run below which nothing is told apart, in metres. What is lost at such a place is its square.
const tiny = 1e-7

// shape is the section at chainage x on part p.
func (w *walker) shape(p part, x float64) *shape {
	t := w.span
	pose := w.axis.pose(p, x)
	s := &shape{curve: p.curve, cross: t.cross, unit: t.unit, under: t.level(lUnderside, x), top: t.level(lTop, x)}
	if w.ends[0] == nil && x < w.spans[0].from || w.ends[1] == nil && x > w.spans[len(w.spans)-1].to {
		s.unit = -1
	}
	s.lines[fDig], s.bottom[0], s.bottom[1] = t.lines(x, w.reach)
	s.limits = [4]float64{math.Inf(-1), 0, 0, math.Inf(1)}
	for _, e := range w.ends {
		e.limits(pose, w.axis.scale, &s.limits)
	}
	wide := float64(w.reach * w.axis.scale)
	left, rightEnd := pose.Beside(-wide), pose.Beside(wide)
	for l, g := range surfaces(w.p) {
		if g == nil {
			continue
		}
		s.lines[fGround+l] = knots(g.Section(left, rightEnd), w.axis.scale, w.reach)
	}
	s.without = [2]bool{w.p.Finished == nil, w.p.Rock == nil}
	return s
}

// surfaces are the surfaces in the order of the lines of a shape.
func surfaces(p *Problem) [3]Ground { return [3]Ground{p.Ground, p.Finished, p.Rock} }

// knots are the cuts of a section as offsets from the axis.
func knots(found []Stretch, scale, reach float64) []knot {
	n := 0
	for _, st := range found {
		n += len(st)
	}
	out := make([]knot, 0, n)
	for i, st := range found {
		for k, c := range st {
			out = append(out, knot{c.Along/scale - reach, c.Level, i > 0 && k == 0})
		}
	}
	return out
}

// corners are the chainages between from and to at which a corner of a surface lies within reach.
func (w *walker) corners(p part, from, to float64) []float64 {
	var low, high route.Point
	wide := float64(w.reach * w.axis.scale)
	n := 1
	if p.radius != 0 {
		n = 1 + int(math.Abs(float64((to-from)*p.curve))/0.2)
	}
	for i := range n + 1 {
		pose := w.axis.pose(p, mix(from, to, float64(i)/float64(n)))
		for _, y := range [2]float64{-wide, wide} {
			q := pose.Beside(y)
			if i == 0 && y < 0 {
				low, high = q, q
			}
			low, high = lower(low, q), upper(high, q)
		}
	}
	grow := 0.01
	if p.radius != 0 {
		grow += float64(0.02 * math.Abs(p.radius)) // an arc of 0.2 rad bulges by less
	}
	low, high = low.Plus(route.Vector{E: -grow, N: -grow}), high.Plus(route.Vector{E: grow, N: grow})
	var out []float64
	for _, g := range surfaces(w.p) {
		if g == nil {
			continue
		}
		for _, q := range g.Corners(low, high) {
			x := w.axis.of(p, q)
			if x > from && x < to && math.Abs(w.axis.pose(p, x).At.Distance(q)) <= wide+grow {
				out = append(out, x)
			}
		}
	}
	return out
}

// spaced sorts places between two others and drops those that lie closer than least to their neighbour.
func spaced(xs []float64, from, to, least float64) []float64 {
	slices.Sort(xs)
	out := []float64{from}
	for _, x := range xs {
		if x-out[len(out)-1] > least && to-x > least {
			out = append(out, x)
		}
	}
	return append(out, to)
}
