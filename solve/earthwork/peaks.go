package earthwork

import "math"

// Where a leg is dug deepest, and where the work beside it needs most room, is looked for along every span: at its ends,
// wherever a corner of a surface comes into reach, and at even steps between. On a straight, levels and edges of the dig run
// straight from one edge of a surface to the next, so that a peak between two looks lies where the lines on either side of
// them meet; round the highest look the search closes in.
const (
	lookEvery  = 0.25 // m, at most, between two looks
	peakWithin = 1e-7 // m: nearer the place of a peak is not looked for
	beforeStep = 1e-3 // m: so far before a step a section shows what ends there
)

// looks are the chainages of span t at which is looked, from its start to its end.
func (w *walker) looks(t *template) []float64 {
	w.span, w.reach = t, max(w.reach, w.reachOf(t))
	out := []float64{t.from}
	w.parts(t.from, t.to, func(p part, from, to float64) {
		xs := w.events(p, from, to)
		for i := 1; i < len(xs); i++ {
			n := math.Ceil((xs[i] - xs[i-1]) / lookEvery)
			for k := 1.0; k <= n; k++ {
				out = append(out, mix(xs[i-1], xs[i], k/n))
			}
		}
	})
	out[len(out)-1] = t.to
	return out
}

// peak is where a value is highest, of the looks xs and between them.
func peak(xs []float64, of func(x float64) float64) (at, high float64) {
	v := make([]float64, len(xs))
	best := 0
	for i, x := range xs {
		if v[i] = of(x); v[i] > v[best] {
			best = i
		}
	}
	at, high = xs[best], v[best]
	try := func(x float64) float64 {
		y := of(x)
		if y > high {
			at, high = x, y
		}
		return y
	}
	for i := 1; i+2 < len(xs); i++ {
		if x, y, ok := meeting(xs[i-1:i+3], v[i-1:i+3]); ok && y > high {
			try(x)
		}
	}
	closeIn(max(at-lookEvery, xs[0]), min(at+lookEvery, xs[len(xs)-1]), try)
	return at, high
}

// meeting is where the line through the first two of four looks meets that through the last two, if that is between them.
func meeting(x, v []float64) (at, high float64, ok bool) {
	if x[1] <= x[0] || x[3] <= x[2] {
		return 0, 0, false
	}
	up, down := (v[1]-v[0])/(x[1]-x[0]), (v[3]-v[2])/(x[3]-x[2])
	if up <= down {
		return 0, 0, false
	}
	at = (v[2] - v[1] + float64(up*x[1]) - float64(down*x[2])) / (up - down)
	return at, v[1] + float64(up*(at-x[1])), at > x[1] && at < x[2]
}

// closeIn closes in on a peak by golden sections; try remembers what is highest.
func closeIn(from, to float64, try func(x float64) float64) {
	const golden = 0.6180339887498949
	a, b := to-float64(golden*(to-from)), from+float64(golden*(to-from))
	va, vb := try(a), try(b)
	for to-from > peakWithin {
		if va >= vb {
			to, b, vb = b, a, va
			a = to - float64(golden*(to-from))
			va = try(a)
			continue
		}
		from, a, va = a, b, vb
		b = from + float64(golden*(to-from))
		vb = try(b)
	}
}

// alone is the whole section of span w.span at chainage x, as a sheet shows it: also where a node takes a share.
func (w *walker) alone(x float64) *shape {
	for {
		sh := w.shape(w.axis.part(x), x)
		sh.curve, sh.limits = 0, [4]float64{math.Inf(-1), 0, 0, math.Inf(1)}
		if !w.grown(sh) {
			return sh
		}
	}
}

// shownAt is the chainage at which a section shows a peak on span i that lies at x. Where the next span has less there, as at a
// step, that is a little before the end: a section at the end is of the next span. w.span is the span of what was asked last.
func (w *walker) shownAt(i int, x float64, of func(x float64) float64) float64 {
	t := w.spans[i]
	if x < t.to || i+1 == len(w.spans) {
		return x
	}
	here := of(x)
	w.span = w.spans[i+1]
	less := of(x) < here-peakWithin
	w.span = t
	if less {
		return max(t.from, x-beforeStep)
	}
	return x
}
