package levelling

import "math"

// twin is the slow and obvious way to adjust a network: all normal equations in one square, inverted whole.
type twin struct {
	n        Network
	at       map[string]int
	list     []string
	scale    float64     // the heaviest weight, so that it counts as 1, as a held point does
	heavy    float64     // what ties a free network to its datum, as heavy as all lines together
	m        [][]float64 // of each point: its equation, the right side, and a row of ones on the diagonal
	level    map[string]float64
	variance map[string]float64
	vtpv     float64
	slack    float64 // of vtpv: the twin works on whole levels, which are good to 2e-8 m
}

func dense(n Network) twin {
	t := twin{n: n, at: map[string]int{}, level: map[string]float64{}, variance: map[string]float64{}}
	for _, l := range n.Lines {
		t.scale = max(t.scale, t.weight(l))
		for _, p := range []string{l.From, l.To} {
			if _, ok := t.at[p]; !ok {
				t.at[p] = len(t.list)
				t.list = append(t.list, p)
			}
		}
	}
	t.equations()
	t.datum()
	t.invert()
	t.read()
	return t
}

func (t *twin) weight(l Line) float64 {
	switch t.n.Weigh {
	case ByDistance:
		return 1000 / l.Distance.Metres()
	case BySetup:
		return 1 / float64(l.Setups)
	}
	return 1 / (l.SD.Metres() * l.SD.Metres())
}

func (t *twin) equations() {
	size := len(t.list)
	for i := range size {
		t.m = append(t.m, make([]float64, 2*size+1))
		t.m[i][size+1+i] = 1
	}
	for _, l := range t.n.Lines {
		w, i, k, h := t.weight(l)/t.scale, t.at[l.From], t.at[l.To], l.Rise.Metres()
		t.m[i][i] += w
		t.m[k][k] += w
		t.m[i][k] -= w
		t.m[k][i] -= w
		t.m[i][size] -= w * h
		t.m[k][size] += w * h
	}
}

// datum holds the benchmarks; in a free network of one part it adds h·c·cᵀ, where cᵀ·x is the mean of the datum points.
func (t *twin) datum() {
	size, fixed := len(t.list), t.n.Fixed
	if !t.n.Free {
		for _, f := range fixed {
			i := t.at[f.Point]
			clear(t.m[i])
			t.m[i][i], t.m[i][size] = 1, f.Level.Metres()
		}
		return
	}
	c, mean := make([]float64, size), 0.0
	for _, f := range fixed {
		c[t.at[f.Point]] = 1 / float64(len(fixed))
		mean += f.Level.Metres() / float64(len(fixed))
	}
	for i := range c {
		if len(fixed) == 0 {
			c[i] = 1 / float64(size)
		}
		t.heavy += t.m[i][i]
	}
	for i := range t.m {
		for k := range size {
			t.m[i][k] += t.heavy * c[i] * c[k]
		}
		t.m[i][size] += t.heavy * c[i] * mean
	}
}

// invert is Gauss and Jordan's way, with the greatest pivot.
func (t *twin) invert() {
	m := t.m
	for i := range m {
		best := i
		for k := i; k < len(m); k++ {
			if math.Abs(m[k][i]) > math.Abs(m[best][i]) {
				best = k
			}
		}
		m[i], m[best] = m[best], m[i]
		for k := range m {
			if k == i {
				continue
			}
			f := m[k][i] / m[i][i]
			for j := i; j < len(m[k]); j++ {
				m[k][j] -= f * m[i][j]
			}
		}
	}
}

func (t *twin) read() {
	size := len(t.list)
	for i, p := range t.list {
		t.level[p], t.variance[p] = t.m[i][size]/t.m[i][i], t.m[i][size+1+i]/t.m[i][i]/t.scale
		if t.n.Free {
			t.variance[p] -= 1 / t.heavy / t.scale // N + h·c·cᵀ has the free network's inverse plus 1/h everywhere
		}
	}
	for _, f := range t.n.Fixed {
		if !t.n.Free {
			t.variance[f.Point] = 0
		}
	}
	for _, l := range t.n.Lines {
		v := t.level[l.To] - t.level[l.From] - l.Rise.Metres()
		t.vtpv += t.weight(l) * v * v
		t.slack += t.weight(l) * math.Abs(v) * 4e-8
	}
}
