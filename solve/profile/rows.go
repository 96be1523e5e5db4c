package profile

import "math"

// family is many rows of one shape, with the parts that cost or limit them.
type family struct {
	t, dt []float64 // what the rows measure, in metres, and its change
	h, g  []float64 // of the step that is being made: change of price for a change of t, and price for none
	parts []part
}

func newFamily(n int) family {
	all := make([]float64, 4*n)
	return family{t: all[:n:n], dt: all[n : 2*n : 2*n], h: all[2*n : 3*n : 3*n], g: all[3*n:]}
}

func (f *family) newton(tau float64) {
	clear(f.h)
	clear(f.g)
	for _, p := range f.parts {
		p.newton(f.t, f.h, f.g, tau)
	}
}

func (f *family) aim() {
	clear(f.h)
	clear(f.g)
	for _, p := range f.parts {
		p.aim(f.t, f.h, f.g)
	}
}

func (f *family) correct(tau float64) {
	clear(f.g)
	for _, p := range f.parts {
		p.correct(f.t, f.g, tau)
	}
}

func (f *family) reach(tau float64, r *reach) {
	for _, p := range f.parts {
		p.reach(f.t, f.dt, tau, r)
	}
}

func (f *family) move(tau, primal, dual float64) {
	for _, p := range f.parts {
		p.move(f.t, f.dt, tau, primal, dual)
	}
}

func (f *family) gap(s *state) {
	for _, p := range f.parts {
		p.gap(f.t, s)
	}
}

func (f *family) start(spread float64) {
	for _, p := range f.parts {
		p.start(f.t, spread)
	}
}

// prices are the rows' own.
func (f *family) prices() []float64 {
	y := make([]float64, len(f.t))
	for _, p := range f.parts {
		p.duals(y)
	}
	return y
}

// measure puts what the rows of c measure at z into t; with change, dz into dt.
func (c *chain) measure(change bool) {
	z, level, unit, curve := c.z, c.level.t, c.unit.t, c.curve.t
	if change {
		z, level, unit, curve = c.dz, c.level.dt, c.unit.dt, c.curve.dt
	}
	copy(level, z)
	unit = unit[:len(z)-1]
	before := 0.0
	for k := range unit {
		d := z[k+1] - z[k]
		unit[k] = d
		curve[k] = float64(c.beta[k]*d) - float64(c.alpha[k]*before)
		before = d
	}
}

// term is a level's share in a row across a node.
type term struct {
	chain, joint int
	factor       float64
}

// across is the rows that couple ends of legs.
type across struct {
	family
	terms [][]term
	slots [][]int // of the matrix of the nodes, for each pair of terms; −1: one of them is fixed
}

func (a *across) measure(cs []*chain, change bool) {
	for r, terms := range a.terms {
		sum := 0.0
		for _, t := range terms {
			if change {
				sum += float64(t.factor * cs[t.chain].dz[t.joint])
			} else {
				sum += float64(t.factor * cs[t.chain].z[t.joint])
			}
		}
		if change {
			a.dt[r] = sum
		} else {
			a.t[r] = sum
		}
	}
}

func (a *across) assemble(n *net) {
	for r, terms := range a.terms {
		at := 0
		for i, s := range terms {
			for j, t := range terms[:i+1] {
				if slot := a.slots[r][at]; slot >= 0 {
					v := float64(a.h[r] * s.factor * t.factor)
					if slot < n.size && i != j { // two terms on the same level
						v *= 2
					}
					n.value[slot] += v
				}
				at++
			}
		}
	}
}

func (a *across) right(cs []*chain, n *net) {
	for r, terms := range a.terms {
		for _, t := range terms {
			if c := cs[t.chain]; !c.fixed[t.joint] {
				n.rhs[c.number(t.joint)] -= float64(t.factor * a.g[r])
			}
		}
	}
}

// finite tells whether a limit is one.
func finite(v float64) bool { return !math.IsInf(v, 0) }
