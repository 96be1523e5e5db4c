package profile

import "math"

// A part is one kind of cost or limit of many rows at once. Row r measures t[r], a linear form of the levels. What it costs
// is convex, so that a step dt changes the row's price y by h·dt + const: parts add their h, and their y + const as g.
//
// Inside, every part is pairs of numbers above 0 whose product is driven to the same small τ (the central path of the
// interior point). Second-order terms c of each pair are kept from the predictor for the corrector.
type part interface {
	start(t []float64, spread float64)               // first pairs, products near spread times price
	aim(t, h, g []float64)                           // adds a spring towards where the part costs nothing
	newton(t, h, g []float64, tau float64)           // adds h and g, without second order
	correct(t, g []float64, tau float64)             // adds g with second order
	reach(t, dt []float64, tau float64, r *reach)    // how far the step may go; r.first: without second order, and keeps it
	move(t, dt []float64, tau, primal, dual float64) // goes
	gap(t []float64, s *state)
	duals(y []float64) // adds the row's price
}

// reach is how far a step may go before a pair loses its sign, and what the products come to there.
type reach struct {
	first        bool
	primal, dual float64
	p, d, pd     float64 // Σ ρ·du, Σ u·dρ, Σ du·dρ
}

// state is how far the work has come.
type state struct {
	products float64 // Σ of all pairs: the gap, once everything fits
	pairs    int
	cost     float64
	off      float64 // the most that a row is off from its own pair
}

func (r *reach) see(u, du, rho, drho float64) {
	if u+float64(r.primal*du) < 0 {
		r.primal = -u / du
	}
	if rho+float64(r.dual*drho) < 0 {
		r.dual = -rho / drho
	}
	if r.first {
		r.p += float64(rho * du)
		r.d += float64(u * drho)
		r.pd += float64(du * drho)
	}
}

// kink is a cost of above for each metre over at and below for each under it; with square, above·d² and below·d².
// Rows with neither price are left out. t − at = u − v; the pairs are (u, above − y) and (v, below + y).
type kink struct {
	at, above, below []float64
	square           bool
	u, v, y          []float64
	cu, cv           []float64
}

func newKink(n int, square bool) *kink {
	all := make([]float64, 8*n)
	cut := func() []float64 { s := all[:n:n]; all = all[n:]; return s }
	return &kink{at: cut(), above: cut(), below: cut(), square: square, u: cut(), v: cut(), y: cut(), cu: cut(), cv: cut()}
}

// prices are ρ and η, and with them what they grow by when u or v grow.
func (k *kink) prices(r int) (rho, eta, rho2, eta2 float64) {
	if k.square {
		a, b := 2*float64(k.above[r]*k.u[r]), 2*float64(k.below[r]*k.v[r])
		rho, eta = a-k.y[r], b+k.y[r]
		return rho, eta, rho + a, eta + b
	}
	rho, eta = k.above[r]-k.y[r], k.below[r]+k.y[r]
	return rho, eta, rho, eta
}

func (k *kink) start(t []float64, spread float64) {
	for r := range k.at {
		a, b := k.above[r], k.below[r]
		if a+b == 0 {
			continue
		}
		d := t[r] - k.at[r]
		k.u[r], k.v[r], k.y[r] = max(d, 0)+spread, max(-d, 0)+spread, (a-b)/2
		if k.square {
			k.y[r] = (float64(a*k.u[r]) - float64(b*k.v[r]))
		}
	}
}

func (k *kink) aim(t, h, g []float64) {
	for r := range k.at {
		w := k.above[r] + k.below[r]
		h[r] += w
		g[r] += float64(w * (t[r] - k.at[r]))
	}
}

// direction of one row: dy = h·dt + c. d is 1/(uη₂ + vρ₂).
func (k *kink) direction(r int, t, tau, cu, cv float64) (h, c float64) {
	u, v := k.u[r], k.v[r]
	rho, eta, rho2, eta2 := k.prices(r)
	d := 1 / (float64(u*eta2) + float64(v*rho2) + float64(soft*rho2*eta2))
	h = rho2 * eta2 * d
	left, right := tau-cu-float64(u*rho), tau-cv-float64(v*eta)
	c = float64(h*(t-k.at[r]-u+v)) + float64(d*(float64(right*rho2)-float64(left*eta2)))
	return h, c
}

func (k *kink) newton(t, h, g []float64, tau float64) {
	for r := range k.at {
		if k.above[r]+k.below[r] == 0 {
			continue
		}
		hr, c := k.direction(r, t[r], tau, 0, 0)
		h[r] += hr
		g[r] += k.y[r] + c
	}
}

func (k *kink) correct(t, g []float64, tau float64) {
	for r := range k.at {
		if k.above[r]+k.below[r] == 0 {
			continue
		}
		_, c := k.direction(r, t[r], tau, k.cu[r], k.cv[r])
		g[r] += k.y[r] + c
	}
}

// steps are the changes of all of a row for a change of t.
func (k *kink) steps(r int, t, dt, tau, cu, cv float64) (du, dv, dy float64) {
	h, c := k.direction(r, t, tau, cu, cv)
	dy = float64(h*dt) + c
	rho, eta, rho2, eta2 := k.prices(r)
	u, v := k.u[r], k.v[r]
	du = (tau - cu - float64(u*rho) + float64(u*dy)) / rho2
	dv = (tau - cv - float64(v*eta) - float64(v*dy)) / eta2
	return du, dv, dy
}

func (k *kink) reach(t, dt []float64, tau float64, out *reach) {
	for r := range k.at {
		if k.above[r]+k.below[r] == 0 {
			continue
		}
		cu, cv := k.cu[r], k.cv[r]
		if out.first {
			cu, cv = 0, 0
		}
		du, dv, dy := k.steps(r, t[r], dt[r], tau, cu, cv)
		rho, eta, _, _ := k.prices(r)
		drho, deta := -dy, dy
		if k.square {
			drho, deta = 2*float64(k.above[r]*du)-dy, 2*float64(k.below[r]*dv)+dy
		}
		if out.first {
			k.cu[r], k.cv[r] = float64(du*drho), float64(dv*deta)
		}
		out.see(k.u[r], du, rho, drho)
		out.see(k.v[r], dv, eta, deta)
	}
}

func (k *kink) move(t, dt []float64, tau, primal, dual float64) {
	for r := range k.at {
		if k.above[r]+k.below[r] == 0 {
			continue
		}
		du, dv, dy := k.steps(r, t[r], dt[r], tau, k.cu[r], k.cv[r])
		k.u[r] += float64(primal * du)
		k.v[r] += float64(primal * dv)
		k.y[r] += float64(dual * dy)
	}
}

func (k *kink) gap(t []float64, s *state) {
	for r := range k.at {
		a, b := k.above[r], k.below[r]
		if a+b == 0 {
			continue
		}
		rho, eta, _, _ := k.prices(r)
		u, v := k.u[r], k.v[r]
		s.products += float64(u*rho) + float64(v*eta)
		s.pairs += 2
		s.off = max(s.off, math.Abs(t[r]-k.at[r]-u+v))
		d := t[r] - k.at[r]
		switch {
		case k.square && d > 0:
			s.cost += float64(float64(a*d) * d)
		case k.square:
			s.cost += float64(float64(b*d) * d)
		case d > 0:
			s.cost += float64(a * d)
		default:
			s.cost -= float64(b * d)
		}
	}
}

func (k *kink) duals(y []float64) {
	for r := range k.at {
		if k.above[r]+k.below[r] == 0 {
			continue
		}
		switch rho, eta, _, _ := k.prices(r); {
		case rho < idle*k.u[r]:
			y[r] += k.y[r] + rho
		case eta < idle*k.v[r]:
			y[r] += k.y[r] - eta
		default:
			y[r] += k.y[r]
		}
	}
}

// soft lets a row give by this for each price that it changes by, in metres: it keeps the matrix from being stiffer than
// float64 can carry, and what a row has given is taken back as its price comes to rest.
const soft = 1e-9

// idle is the stiffness, in prices a metre, under which a pair counts as at rest: its price is what it is without a limit.
const idle = 1e-3

// bound is a limit on every row: sign·(t − at) ≥ 0. Rows whose at is infinite are left out. The pairs are (s, l) with
// s = sign·(t − at); the row's price is −sign·l.
type bound struct {
	sign    float64
	at      []float64
	s, l, c []float64
}

func newBound(n int, sign float64) *bound {
	all := make([]float64, 4*n)
	cut := func() []float64 { s := all[:n:n]; all = all[n:]; return s }
	b := &bound{sign: sign, at: cut(), s: cut(), l: cut(), c: cut()}
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
	for r := range b.at {
		if b.none(r) {
			continue
		}
		w := 1 / (b.s[r] + float64(soft*b.l[r]))
		hr := float64(b.l[r] * w)
		h[r] += hr
		g[r] += float64(hr*(t[r]-b.at[r])) - float64(b.sign*(b.l[r]+float64(tau*w)))
	}
}

func (b *bound) correct(t, g []float64, tau float64) {
	for r := range b.at {
		if b.none(r) {
			continue
		}
		w := 1 / (b.s[r] + float64(soft*b.l[r]))
		g[r] += float64(float64(b.l[r]*w)*(t[r]-b.at[r])) - float64(b.sign*(b.l[r]+float64((tau-b.c[r])*w)))
	}
}

func (b *bound) steps(r int, t, dt, tau, c float64) (ds, dl float64) {
	there := float64(b.sign * (dt + t - b.at[r]))
	dl = (tau - c - float64(b.l[r]*there)) / (b.s[r] + float64(soft*b.l[r]))
	return (there - b.s[r]) + float64(soft*dl), dl
}

func (b *bound) reach(t, dt []float64, tau float64, out *reach) {
	for r := range b.at {
		if b.none(r) {
			continue
		}
		c := b.c[r]
		if out.first {
			c = 0
		}
		ds, dl := b.steps(r, t[r], dt[r], tau, c)
		if out.first {
			b.c[r] = float64(ds * dl)
		}
		out.see(b.s[r], ds, b.l[r], dl)
	}
}

func (b *bound) move(t, dt []float64, tau, primal, dual float64) {
	for r := range b.at {
		if b.none(r) {
			continue
		}
		ds, dl := b.steps(r, t[r], dt[r], tau, b.c[r])
		b.s[r] += float64(primal * ds)
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
