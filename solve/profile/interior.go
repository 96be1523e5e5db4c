package profile

import (
	"math"
	"slices"
)

// work is a Problem in numbers: legs, what couples them, and the matrix of their ends.
type work struct {
	chains []*chain
	across across
	net    *net
	joined bool // primal and dual steps are of one length: squares need it
	spread float64
	passes int

	best      float64 // relative gap of the best levels so far
	kept      [][]float64
	prices    [][3][]float64 // of level, unit and curve rows, with kept
	ends      []float64      // of the rows across nodes
	rough     [][3][]float64 // prices and ends before they were refined
	roughEnds []float64
	cost      float64
}

const (
	goodGap    = 3e-9 // relative gap to stop at
	fairGap    = 2e-7 // good enough, where nothing better can be had in float64
	goodOff    = 1e-9 // metres that a row may be off
	mostPasses = 100
	smallCost  = 1e-2 // costs are compared to at least this, in metres at the highest price
	nudge      = 1e-11
)

func (w *work) measure(change bool) {
	for _, c := range w.chains {
		c.measure(change)
	}
	w.across.measure(w.chains, change)
}

// families calls do for the rows of every leg and for those across nodes.
func (w *work) families(do func(f *family)) {
	for _, c := range w.chains {
		do(&c.level)
		do(&c.unit)
		do(&c.curve)
	}
	do(&w.across.family)
}

// factor eliminates every leg towards its ends, then the ends.
func (w *work) factor() {
	clear(w.net.value)
	for _, c := range w.chains {
		for j := range c.level.h {
			c.level.h[j] += nudge
		}
		c.assemble()
		c.eliminate(w.net)
	}
	w.across.assemble(w.net)
	w.net.factor()
}

// solve finds the step from the g of all rows, and what it does to every row.
func (w *work) solve() {
	clear(w.net.rhs)
	for _, c := range w.chains {
		c.right()
		c.forward(w.net)
	}
	w.across.right(w.chains, w.net)
	w.net.solve()
	for _, c := range w.chains {
		c.backward(w.net)
	}
	w.measure(true)
}

func (w *work) shift(by float64) {
	for _, c := range w.chains {
		for j, d := range c.dz {
			c.z[j] += float64(by * d)
		}
	}
	w.measure(false)
}

func (w *work) state() state {
	var s state
	w.families(func(f *family) { f.gap(&s) })
	return s
}

// run drives the pairs to nothing. It tells whether the gap came down far enough; kept is the best there was.
func (w *work) run() bool {
	w.measure(false)
	w.families((*family).aim)
	w.factor()
	w.solve()
	w.shift(1)
	w.families(func(f *family) { f.start(w.spread) })
	w.best = math.Inf(1)
	away := 1.0 // how much of the first misfit of the prices is left
	for w.passes = 0; w.passes < mostPasses; w.passes++ {
		s := w.state()
		rel := s.products / (math.Abs(s.cost) + smallCost)
		if !(rel < math.Inf(1)) {
			break
		}
		if merit := max(rel, s.off*goodGap/goodOff, away*1e-2); merit < w.best {
			w.keep(merit, s.cost)
		}
		if w.best <= goodGap || s.pairs == 0 && w.passes > 2 {
			break
		}
		if !w.pass(s, &away) {
			break
		}
	}
	w.refine()
	return w.best <= fairGap
}

// refine makes the prices kept sum to nought at every level as nearly as float64 can: what is left of the sums is given to
// the rows by the last step's matrix, most to those that give way least.
func (w *work) refine() {
	if w.prices == nil {
		return
	}
	w.rough = make([][3][]float64, len(w.prices))
	for i, y := range w.prices {
		w.rough[i] = [3][]float64{slices.Clone(y[0]), slices.Clone(y[1]), slices.Clone(y[2])}
	}
	w.roughEnds = slices.Clone(w.ends)
	w.families(func(f *family) {
		f.newton(0)
		for r, h := range f.h {
			if h < idle {
				f.h[r] = 0
			}
		}
	})
	w.factor()
	for range 3 {
		for i, c := range w.chains {
			copy(c.level.g, w.prices[i][0])
			copy(c.unit.g, w.prices[i][1])
			copy(c.curve.g, w.prices[i][2])
		}
		copy(w.across.g, w.ends)
		w.solve()
		for i, c := range w.chains {
			give(w.prices[i][0], &c.level)
			give(w.prices[i][1], &c.unit)
			give(w.prices[i][2], &c.curve)
		}
		give(w.ends, &w.across.family)
	}
}

// give adds what the step makes of a row's price, where that is a number (a pivot of nought makes none).
func give(y []float64, f *family) {
	for r, h := range f.h {
		if more := float64(h * f.dt[r]); !lost(more) {
			y[r] += more
		}
	}
}

// pass is one step: a predictor, a corrector with the predictor's second-order terms.
func (w *work) pass(s state, away *float64) bool {
	mu := s.products / float64(max(s.pairs, 1))
	w.families(func(f *family) { f.newton(0) })
	w.factor()
	w.solve()
	r := reach{first: true, primal: 1, dual: 1}
	w.families(func(f *family) { f.reach(0, &r) })
	if w.joined {
		r.primal = min(r.primal, r.dual)
		r.dual = r.primal
	}
	after := s.products + float64(r.primal*r.p) + float64(r.dual*r.d) + float64(r.primal*r.dual*r.pd)
	sigma := max(after, 0) / max(s.products, math.SmallestNonzeroFloat64)
	tau := mu * min(sigma*sigma*sigma, 1)
	w.families(func(f *family) { f.correct(tau) })
	w.solve()
	const most = 0.9995
	r = reach{primal: 1 / most, dual: 1 / most}
	w.families(func(f *family) { f.reach(tau, &r) })
	primal, dual := most*r.primal, most*r.dual
	if w.joined {
		primal = min(primal, dual)
		dual = primal
	}
	if !(primal > 1e-9) || !(dual > 1e-9) {
		return false
	}
	w.families(func(f *family) { f.move(tau, primal, dual) })
	w.shift(primal)
	*away *= 1 - dual
	return true
}

// keep remembers levels and prices.
func (w *work) keep(merit, cost float64) {
	w.best, w.cost = merit, cost
	if w.kept == nil {
		w.kept = make([][]float64, len(w.chains))
		for i, c := range w.chains {
			w.kept[i] = make([]float64, len(c.z))
		}
	}
	for i, c := range w.chains {
		copy(w.kept[i], c.z)
	}
	if merit > 1e3*fairGap { // prices are of no use yet
		w.prices = nil
		return
	}
	w.prices = make([][3][]float64, len(w.chains))
	for i, c := range w.chains {
		w.prices[i] = [3][]float64{c.level.prices(), c.unit.prices(), c.curve.prices()}
	}
	w.ends = w.across.prices()
}
