package profile

import "math"

// line is a cost of above for each metre over at and below for each under it. Rows with neither price are left out.
// t − at = u − v; the pairs are (u, ρ) and (v, η) with ρ = above − y and η = below + y. A step changes y by
//
//	dy = h·(dt + t − at) + d·((τ−cv)·ρ − (τ−cu)·η),  d = 1/(uη + vρ + soft·ρη),  h = ρη·d
type line struct {
	at, above, below []float64
	u, v, y          []float64
	d                []float64 // of this step
	cu, cv           []float64 // second order, then du and dv
	dy               []float64
}

func newLine(n int) *line {
	all := make([]float64, 10*n)
	cut := func() []float64 { s := all[:n:n]; all = all[n:]; return s }
	return &line{cut(), cut(), cut(), cut(), cut(), cut(), cut(), cut(), cut(), cut()}
}

func (k *line) set(r int, at, above, below float64) {
	k.at[r], k.above[r], k.below[r] = at, above, below
}

func (k *line) none(r int) bool { return k.above[r]+k.below[r] == 0 }

func (k *line) start(t []float64, spread float64) {
	for r := range k.at {
		if a, b := k.above[r], k.below[r]; a+b > 0 {
			d := t[r] - k.at[r]
			k.u[r], k.v[r], k.y[r] = max(d, 0)+spread, max(-d, 0)+spread, (a-b)/2
		}
	}
}

func (k *line) aim(t, h, g []float64) {
	for r := range k.at {
		w := k.above[r] + k.below[r]
		h[r] += w
		g[r] += float64(w * (t[r] - k.at[r]))
	}
}

func (k *line) newton(t, h, g []float64, tau float64) {
	n := len(k.at)
	t, h, g = t[:n], h[:n], g[:n]
	above, below, us, vs, ys, ds := k.above[:n], k.below[:n], k.u[:n], k.v[:n], k.y[:n], k.d[:n]
	for r, at := range k.at {
		a, b, y := above[r], below[r], ys[r]
		if a+b == 0 {
			continue
		}
		rho, eta := a-y, b+y
		both := float64(rho * eta)
		d := 1 / (float64(us[r]*eta) + float64(vs[r]*rho) + float64(soft*both))
		ds[r] = d
		hr := float64(both * d)
		h[r] += hr
		g[r] += y + float64(hr*(t[r]-at)) + float64(tau*d*(rho-eta))
	}
}

func (k *line) correct(t, g []float64, tau float64) {
	n := len(k.at)
	t, g = t[:n], g[:n]
	above, below, ys, ds, cus, cvs := k.above[:n], k.below[:n], k.y[:n], k.d[:n], k.cu[:n], k.cv[:n]
	for r, at := range k.at {
		a, b, y := above[r], below[r], ys[r]
		if a+b == 0 {
			continue
		}
		d, rho, eta := ds[r], a-y, b+y
		g[r] += y + float64(rho*eta*d*(t[r]-at)) + float64(d*(float64((tau-cvs[r])*rho)-float64((tau-cus[r])*eta)))
	}
}

func (k *line) reach(t, dt []float64, tau float64, out *reach) {
	n := len(k.at)
	t, dt = t[:n], dt[:n]
	above, below, us, vs, ys, ds, cus, cvs, dys := k.above[:n], k.below[:n], k.u[:n], k.v[:n], k.y[:n], k.d[:n], k.cu[:n], k.cv[:n], k.dy[:n]
	for r, at := range k.at {
		a, b, y := above[r], below[r], ys[r]
		if a+b == 0 {
			continue
		}
		cu, cv := tau, tau
		if !out.first {
			cu, cv = tau-cus[r], tau-cvs[r]
		}
		u, v, d, rho, eta := us[r], vs[r], ds[r], a-y, b+y
		both := float64(rho * eta)
		dy := float64(both*d*(dt[r]+t[r]-at)) + float64(d*(float64(cv*rho)-float64(cu*eta)))
		inv := 1 / both
		du := float64((cu+float64(u*dy))*(eta*inv)) - u
		dv := float64((cv-float64(v*dy))*(rho*inv)) - v
		if out.first {
			cus[r], cvs[r] = -float64(du*dy), float64(dv*dy)
		} else {
			cus[r], cvs[r], dys[r] = du, dv, dy
		}
		out.see(u, du, rho, -dy)
		out.see(v, dv, eta, dy)
	}
}

func (k *line) move(_, _ []float64, _, primal, dual float64) {
	for r := range k.at {
		if k.none(r) {
			continue
		}
		k.u[r] += float64(primal * k.cu[r])
		k.v[r] += float64(primal * k.cv[r])
		k.y[r] += float64(dual * k.dy[r])
	}
}

func (k *line) gap(t []float64, s *state) {
	products, cost, pairs, off := 0.0, 0.0, 0, s.off
	for r, at := range k.at {
		a, b := k.above[r], k.below[r]
		if a+b == 0 {
			continue
		}
		u, v, y, d := k.u[r], k.v[r], k.y[r], t[r]-at
		products += float64(u*(a-y)) + float64(v*(b+y))
		pairs += 2
		if far := math.Abs(d - u + v); far > off {
			off = far
		}
		if d > 0 {
			cost += float64(a * d)
		} else {
			cost -= float64(b * d)
		}
	}
	s.products += products
	s.cost += cost
	s.pairs += pairs
	s.off = off
}

func (k *line) duals(y []float64) {
	for r := range k.at {
		if k.none(r) {
			continue
		}
		switch a, b, v := k.above[r], k.below[r], k.y[r]; {
		case a-v < idle*k.u[r]:
			y[r] += a
		case b+v < idle*k.v[r]:
			y[r] -= b
		default:
			y[r] += v
		}
	}
}
