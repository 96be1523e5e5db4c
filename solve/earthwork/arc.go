package earthwork

import "math"

// arc adds up a curve. Sections turn with the axis there, so that offsets are no longer straight in the chainage: between
// the corners of the ground the curve is halved until two sections and four agree.
func (w *walker) arc(p part, from, to float64) {
	xs := w.events(p, from, to)
	for i := 1; i < len(xs); i++ {
		w.halve(p, xs[i-1], xs[i], w.gauss(p, xs[i-1], xs[i]), 0)
	}
}

// sampled are the two sections that stand for a stretch of a curve.
type sampled struct {
	r      [2]rates
	e      [2]extent
	shapes [2]*shape
	sum    [nQuantities]float64
}

func (w *walker) gauss(p part, from, to float64) *sampled {
	var out sampled
	for {
		again := false
		out = sampled{}
		for i, g := range gauss {
			sh := w.shape(p, mix(from, to, g))
			out.shapes[i] = sh
			out.r[i], out.e[i] = w.measures.rates(sh)
			again = again || out.e[i].short && w.reach < furthestReach
			for q, v := range out.r[i].q {
				out.sum[q] += float64(v * (to - from) / 2)
			}
		}
		if !again {
			return &out
		}
		w.further()
	}
}

// arcError is by how much two and four sections may differ, in m³ for each metre of run; arcShort the length below which a
// stretch is not halved any more, in metres.
const (
	arcError = 1e-7
	arcShort = 1e-3
)

func (w *walker) halve(p part, from, to float64, whole *sampled, depth int) {
	mid := mix(from, to, 0.5)
	a, b := w.gauss(p, from, mid), w.gauss(p, mid, to)
	off := 0.0
	for q := range whole.sum {
		off = max(off, math.Abs(a.sum[q]+b.sum[q]-whole.sum[q]))
	}
	if bad := !sameKind(a, b); (off > float64(arcError*(to-from)) || bad || depth < 1) && to-from > arcShort {
		w.halve(p, from, mid, a, depth+1)
		w.halve(p, mid, to, b, depth+1)
		return
	}
	for i := range gauss {
		w.take(&a.r[i], a.e[i], (mid-from)/2, a.shapes[i], from, mid)
	}
	for i := range gauss {
		w.take(&b.r[i], b.e[i], (to-mid)/2, b.shapes[i], mid, to)
	}
}

// sameKind tells whether all sections have ground, or none has.
func sameKind(a, b *sampled) bool {
	return a.e[0].bare == a.e[1].bare && a.e[1].bare == b.e[0].bare && b.e[0].bare == b.e[1].bare
}
