package cutstock

import (
	"math"
	"slices"

	"trenchwright/base/sorting"
)

// dive rounds a solved master step by step: ways that are used in full are fixed, then the one most nearly so; the
// programme for what is left is solved again. It gives a cutting of at most target steps or nothing. At step deviate
// it fixes the next best way instead of the best.
type dive struct {
	m      *master
	target int64
	fixed  cutting
	banned []int // column that the step does not fix
}

// state is a solved programme to come back to.
type state struct {
	base       []int
	inv, x     []float64
	rhs, price []float64
	want, have []int
	left       []int // of the extra rows
}

func (m *master) save() state {
	var left []int
	for _, x := range m.extras {
		left = append(left, x.left)
	}
	return state{
		slices.Clone(m.lp.base), slices.Clone(m.lp.inv), slices.Clone(m.lp.x), slices.Clone(m.lp.rhs), slices.Clone(m.lp.prices),
		slices.Clone(m.want), slices.Clone(m.have), left,
	}
}

func (m *master) restore(s state) {
	copy(m.lp.inv, s.inv)
	copy(m.lp.x, s.x)
	copy(m.lp.rhs, s.rhs)
	copy(m.lp.prices, s.price)
	copy(m.want, s.want)
	copy(m.have, s.have)
	for i, x := range m.extras {
		x.left = s.left[i]
	}
	for i := range m.lp.at {
		m.lp.at[i] = -1
	}
	for r, j := range s.base {
		m.lp.base[r], m.lp.at[j] = j, r
	}
	m.bar()
}

// bar bars the columns that take more than is wanted, and for what is wanted no more also cutting beyond it.
func (m *master) bar() {
	for j, w := range m.ways {
		barred := false
		for _, t := range w.takes {
			barred = barred || t.n > m.want[t.kind]
		}
		m.lp.cols[j].barred = barred
	}
	for j := m.swapsFrom; j < m.swapsTo; j++ {
		m.lp.cols[j].barred = m.swapsOver
	}
	for i := range m.kinds {
		m.lp.cols[m.beyond+i].barred = m.want[i] == 0
	}
}

// fix takes ways off what is wanted.
func (m *master) fix(w way, times int) {
	subtract(w, times, m.want, m.have)
	for _, t := range w.takes {
		m.lp.rhs[t.kind] = float64(m.want[t.kind])
	}
	if r := m.rowOf[w.unit]; r >= 0 {
		m.lp.rhs[r] = float64(m.have[w.unit])
	}
	for _, x := range m.extras {
		x.left -= times * x.counts(w.unit, w.takes)
		m.lp.rhs[x.row] = float64(x.left)
	}
}

// again solves the programme for what is left; false when that failed or would cost more than enough.
func (m *master) again(enough int64) bool {
	m.bar()
	m.lp.refresh()
	if !m.lp.dual() {
		return false
	}
	m.bound = bound{}
	m.solve(enough)
	return m.bound.cost <= enough && !m.effort.spent()
}

// run dives; bans[i] is how many of the best ways step i passes over.
func (d *dive) run(bans []int) (cutting, bool) {
	for step := 0; ; step++ {
		if d.fixFull(); d.done() {
			return d.fixed, d.fixed.cost <= d.target
		}
		if k, ok := d.finish(); ok {
			return k, true
		}
		over := 0
		if step < len(bans) {
			over = bans[step]
		}
		w, ok := d.nearest(over)
		if !ok {
			return cutting{}, false
		}
		d.fix(w, 1)
		if d.done() {
			return d.fixed, d.fixed.cost <= d.target
		}
		if !d.m.again(d.target - d.fixed.cost) {
			return cutting{}, false
		}
	}
}

func (d *dive) done() bool { return !slices.ContainsFunc(d.m.want, func(n int) bool { return n > 0 }) }

func (d *dive) fix(w way, times int) {
	d.m.use(&d.fixed, w, times)
	d.m.fix(w, times)
}

// fixFull fixes what the programme uses a whole number of times, and the whole part of the rest.
func (d *dive) fixFull() {
	m := d.m
	fixed := false
	for r, j := range m.lp.base {
		w := m.ways[j]
		if times := min(int(m.lp.x[r]+1e-6), timesOf(w, m.want, m.have)); w.takes != nil && times > 0 {
			d.fix(w, times)
			fixed = true
		}
	}
	if fixed {
		m.bar()
		m.lp.refresh()
		m.lp.dual()
	}
}

// nearest is the way that is used most nearly in full, after passing over some.
func (d *dive) nearest(over int) (way, bool) {
	type candidate struct {
		w way
		x float64
	}
	var list []candidate
	for r, j := range d.m.lp.base {
		w := d.m.ways[j]
		if w.takes != nil && d.m.lp.x[r] > 1e-6 && timesOf(w, d.m.want, d.m.have) > 0 {
			list = append(list, candidate{w, d.m.lp.x[r]})
		}
	}
	sorting.By(list, func(a, b candidate) int {
		if math.Abs(a.x-b.x) > 1e-9 {
			if a.x > b.x {
				return -1
			}
			return 1
		}
		return slices.CompareFunc(a.w.takes, b.w.takes, func(s, t take) int { return s.kind - t.kind })
	})
	if over >= len(list) {
		return way{}, false
	}
	return list[over].w, true
}

// finish tries to cut all that is left within the target at once.
func (d *dive) finish() (cutting, bool) {
	m := d.m
	for _, tilt := range []int64{0, 100} {
		if k, ok := m.oneByOne(m.sizeValues(tilt), m.want, m.have, 500); ok && d.fixed.cost+k.cost <= d.target {
			out := d.fixed.clone()
			for i, w := range k.ways {
				m.use(&out, w, k.times[i])
			}
			return out, true
		}
	}
	return cutting{}, false
}
