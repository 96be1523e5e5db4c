package profile

import "math"

// bound is a limit on every row: sign·(t − at) ≥ 0. Rows whose at is infinite are left out. The pairs are (s, l) with
// s = sign·(t − at); the row's price is −sign·l.
type bound struct {
	sign float64
	at   []float64
	s, l []float64
	w    []float64 // of this step: 1/(s + soft·l)
	c    []float64 // second order, then dl
}

func newBound(n int, sign float64) *bound {
	all := make([]float64, 5*n)
	cut := func() []float64 { s := all[:n:n]; all = all[n:]; return s }
	b := &bound{sign: sign, at: cut(), s: cut(), l: cut(), w: cut(), c: cut()}
	for r := range b.at {
		b.at[r] = math.Inf(-int(sign))
	}
	return b
}

func (b *bound) none(r int) bool { return math.IsInf(b.at[r], 0) }

func (b *bound) start(t []float64, spread float64) {
	for r := range b.at {
		if !b.none(r) {
			b.s[r], b.l[r] = max(b.sign*(t[r]-b.at[r]), spread), 0
			b.l[r] = spread / b.s[r]
		}
	}
}

func (b *bound) aim(t, h, g []float64) {
	for r := range b.at {
		if d := b.sign * (t[r] - b.at[r]); !b.none(r) && d < 0 {
			h[r]++
			g[r] += t[r] - b.at[r]
		}
	}
}

func (b *bound) newton(t, h, g []float64, tau float64) {
	n := len(b.at)
	t, h, g = t[:n], h[:n], g[:n]
	sign, ss, ls, ws := b.sign, b.s[:n], b.l[:n], b.w[:n]
	for r, at := range b.at {
		if math.IsInf(at, 0) {
			continue
		}
		l := ls[r]
		w := 1 / (ss[r] + float64(soft*l))
		ws[r] = w
		hr := float64(l * w)
		h[r] += hr
		g[r] += float64(hr*(t[r]-at)) - float64(sign*(l+float64(tau*w)))
	}
}

func (b *bound) correct(t, g []float64, tau float64) {
	n := len(b.at)
	t, g = t[:n], g[:n]
	sign, ls, ws, cs := b.sign, b.l[:n], b.w[:n], b.c[:n]
	for r, at := range b.at {
		if math.IsInf(at, 0) {
			continue
		}
		l, w := ls[r], ws[r]
		g[r] += float64(l*w*(t[r]-at)) - float64(sign*(l+float64((tau-cs[r])*w)))
	}
}

// reach: the pair's product goes to τ − c, and s to what t becomes, with soft times the change of l.
func (b *bound) reach(t, dt []float64, tau float64, out *reach) {
	n := len(b.at)
	t, dt = t[:n], dt[:n]
	sign, ss, ls, ws, cs := b.sign, b.s[:n], b.l[:n], b.w[:n], b.c[:n]
	for r, at := range b.at {
		if math.IsInf(at, 0) {
			continue
		}
		c := tau
		if !out.first {
			c = tau - cs[r]
		}
		s, l := ss[r], ls[r]
		there := float64(sign * (dt[r] + t[r] - at))
		dl := float64((c - float64(l*there)) * ws[r])
		ds := (there - s) + float64(soft*dl)
		if out.first {
			cs[r] = float64(ds * dl)
		} else {
			cs[r] = dl
		}
		out.see(s, ds, l, dl)
	}
}

func (b *bound) move(t, dt []float64, _, primal, dual float64) {
	for r, at := range b.at {
		if math.IsInf(at, 0) {
			continue
		}
		dl := b.c[r]
		there := float64(b.sign * (dt[r] + t[r] - at))
		b.s[r] += float64(primal * ((there - b.s[r]) + float64(soft*dl)))
		b.l[r] += float64(dual * dl)
	}
}

func (b *bound) gap(t []float64, s *state) {
	for r := range b.at {
		if b.none(r) {
			continue
		}
		s.products += float64(b.s[r] * b.l[r])
		s.pairs++
		s.off = max(s.off, math.Abs(float64(b.sign*(t[r]-b.at[r]))-b.s[r]))
	}
}

func (b *bound) duals(y []float64) {
	for r := range b.at {
		if !b.none(r) && b.l[r] >= idle*b.s[r] {
			y[r] -= float64(b.sign * b.l[r])
		}
	}
}
