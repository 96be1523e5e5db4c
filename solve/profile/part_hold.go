package profile

import "math"

// hold fixes rows: t = at. Rows whose at is infinite are left out. It is a stiff spring whose rest goes into the price.
type hold struct{ at, y []float64 }

// stiff is the spring of a hold, in prices a metre: what is off after a step is what the price still changes by, over this.
const stiff = 1e7

func newHold(n int) *hold {
	h := &hold{make([]float64, n), make([]float64, n)}
	for r := range h.at {
		h.at[r] = math.Inf(1)
	}
	return h
}

func (k *hold) none(r int) bool                   { return math.IsInf(k.at[r], 0) }
func (k *hold) start([]float64, float64)          {}
func (k *hold) correct(t, g []float64, _ float64) { k.newton(t, nil, g, 0) }

func (k *hold) aim(t, h, g []float64) {
	for r := range k.at {
		if !k.none(r) {
			h[r] += 1e3
			g[r] += float64(1e3 * (t[r] - k.at[r]))
		}
	}
}

func (k *hold) newton(t, h, g []float64, _ float64) {
	for r := range k.at {
		if k.none(r) {
			continue
		}
		if h != nil {
			h[r] += stiff
		}
		g[r] += k.y[r] + float64(stiff*(t[r]-k.at[r]))
	}
}

func (k *hold) reach(_, _ []float64, _ float64, _ *reach) {}

func (k *hold) move(t, dt []float64, _, _, dual float64) {
	for r := range k.at {
		if !k.none(r) {
			k.y[r] += float64(float64(dual*stiff) * (dt[r] + t[r] - k.at[r]))
		}
	}
}

func (k *hold) gap(t []float64, s *state) {
	for r := range k.at {
		if !k.none(r) {
			s.off = max(s.off, math.Abs(t[r]-k.at[r]))
		}
	}
}

func (k *hold) duals(y []float64) {
	for r := range k.at {
		if !k.none(r) {
			y[r] += k.y[r]
		}
	}
}
