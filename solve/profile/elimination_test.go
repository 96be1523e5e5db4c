package profile

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The matrix is solved if every row's new price, h·dt + g, leaves no level out of balance.
func TestEliminationSolves(t *testing.T) {
	for seed := range uint64(500) {
		r := rand.New(rand.NewPCG(seed, 1))
		p := randomNet(r, 1+r.IntN(4), 6)
		w := (&builder{p: &p}).build()
		w.families(func(f *family) {
			for i := range f.h {
				f.h[i], f.g[i] = 0.1+r.Float64(), r.Float64()-0.5
			}
		})
		w.factor()
		w.solve()
		w.families(func(f *family) {
			for i := range f.g {
				f.g[i] += f.h[i] * f.dt[i]
			}
		})
		clear(w.net.rhs)
		for _, c := range w.chains {
			c.right()
			for _, j := range c.kept {
				w.net.rhs[c.number(j)] += c.rhs[j]
				c.rhs[j] = 0
			}
		}
		w.across.right(w.chains, w.net)
		for i, c := range w.chains {
			for j := range c.z {
				if math.Abs(c.rhs[j]) > 1e-9 {
					t.Fatalf("seed %d: leg %d joint %d is out of balance by %g", seed, i, j, c.rhs[j])
				}
			}
			for _, j := range c.kept {
				if v := w.net.rhs[c.number(j)]; math.Abs(v) > 1e-9 && !c.fixed[j] {
					t.Fatalf("seed %d: leg %d joint %d at a node is out of balance by %g", seed, i, j, v)
				}
			}
		}
	}
}
