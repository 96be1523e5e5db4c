package profile

import "math"

// bowl is a cost of above·d² for being d over at and of below·d² for being under it. Rows with neither price are left out.
// t − at = u − v; the pairs are (u, 2·above·u − y) and (v, 2·below·v + y).
type bowl struct {
	at, above, below []float64
	u, v, y          []float64
	cu, cv           []float64
}

func newBowl(n int) *bowl {
	all := make([]float64, 8*n)
	cut := func() []float64 { s := all[:n:n]; all = all[n:]; return s }
	return &bowl{at: cut(), above: cut(), below: cut(), u: cut(), v: cut(), y: cut(), cu: cut(), cv: cut()}
}

// prices are ρ and η, and with them what they grow by when u or v grow.
func (k *bowl) prices(r int) (rho, eta, rho2, eta2 float64) {
	a, b := 2*float64(k.above[r]*k.u[r]), 2*float64(k.below[r]*k.v[r])
	rho, eta = a-k.y[r], b+k.y[r]
	return rho, eta, rho + a, eta + b
}

func (k *bowl) start(t []float64, spread float64) {
	for r := range k.at {
		a, b := k.above[r], k.below[r]
		if a+b == 0 {
			continue
		}
		d := t[r] - k.at[r]
		k.u[r], k.v[r] = max(d, 0)+spread, max(-d, 0)+spread
		k.y[r] = float64(a*k.u[r]) - float64(b*k.v[r])
	}
}

func (k *bowl) aim(t, h, g []float64) {
	for r := range k.at {
		w := k.above[r] + k.below[r]
		h[r] += w
		g[r] += float64(w * (t[r] - k.at[r]))
	}
}

// direction of one row: dy = h·dt + c. d is 1/(uη₂ + vρ₂).
func (k *bowl) direction(r int, t, tau, cu, cv float64) (h, c float64) {
	u, v := k.u[r], k.v[r]
	rho, eta, rho2, eta2 := k.prices(r)
	d := 1 / (float64(u*eta2) + float64(v*rho2) + float64(soft*rho2*eta2))
	h = rho2 * eta2 * d
	left, right := tau-cu-float64(u*rho), tau-cv-float64(v*eta)
	c = float64(h*(t-k.at[r]-u+v)) + float64(d*(float64(right*rho2)-float64(left*eta2)))
	return h, c
}

func (k *bowl) newton(t, h, g []float64, tau float64) {
	for r := range k.at {
		if k.above[r]+k.below[r] == 0 {
			continue
		}
		hr, c := k.direction(r, t[r], tau, 0, 0)
		h[r] += hr
		g[r] += k.y[r] + c
	}
}

func (k *bowl) correct(t, g []float64, tau float64) {
	for r := range k.at {
		if k.above[r]+k.below[r] == 0 {
			continue
		}
		_, c := k.direction(r, t[r], tau, k.cu[r], k.cv[r])
		g[r] += k.y[r] + c
	}
}

// steps are the changes of all of a row for a change of t.
func (k *bowl) steps(r int, t, dt, tau, cu, cv float64) (du, dv, dy float64) {
	h, c := k.direction(r, t, tau, cu, cv)
	dy = float64(h*dt) + c
	rho, eta, rho2, eta2 := k.prices(r)
	u, v := k.u[r], k.v[r]
	du = (tau - cu - float64(u*rho) + float64(u*dy)) / rho2
	dv = (tau - cv - float64(v*eta) - float64(v*dy)) / eta2
	return du, dv, dy
}

func (k *bowl) reach(t, dt []float64, tau float64, out *reach) {
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
		drho, deta := 2*float64(k.above[r]*du)-dy, 2*float64(k.below[r]*dv)+dy
		if out.first {
			k.cu[r], k.cv[r] = float64(du*drho), float64(dv*deta)
		}
		out.see(k.u[r], du, rho, drho)
		out.see(k.v[r], dv, eta, deta)
	}
}

func (k *bowl) move(t, dt []float64, tau, primal, dual float64) {
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

func (k *bowl) gap(t []float64, s *state) {
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
		if d := t[r] - k.at[r]; d > 0 {
			s.cost += float64(float64(a*d) * d)
		} else {
			s.cost += float64(float64(b*d) * d)
		}
	}
}

func (k *bowl) duals(y []float64) {
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

func (k *bowl) set(r int, at, above, below float64) {
	k.at[r], k.above[r], k.below[r] = at, above, below
}
