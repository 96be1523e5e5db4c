package cutstock

import (
	"encoding/binary"
	"math"
	"math/bits"
	"slices"
)

// cutter is a shop with what its solvers share.
type cutter struct {
	*shop
	effort *effort
	scale  int64 // of the values of a proof
	costs  []int64
}

// missing is what a piece costs that nothing is left to cut from, in steps: more than all pieces cut singly.
func (c *cutter) missing() int64 {
	return int64(c.total)*slices.Max(append(slices.Clone(c.costs), 1)) + 1
}

func newCutter(s *shop, e *effort) *cutter {
	c := &cutter{shop: s, effort: e}
	for i := range s.units {
		c.costs = append(c.costs, s.units[i].Price/s.step)
	}
	// Sums of values stay below 2^61: the dearest cutting is a missing piece everywhere.
	room := 60 - bits.Len64(uint64(c.total)) - bits.Len64(uint64(c.missing()))
	c.scale = 1 << max(min(room, 30), 8)
	return c
}

// master is the linear programme over ways: every kind is cut as often as it is wanted, no unit more often than it is
// there, at least cost. It holds the ways that are known and finds the others by the prices that they leave.
type master struct {
	*cutter
	lp     *simplex
	ways   []way // by column of lp; no takes: not a way
	known  map[string]bool
	want   []int // by kind: what is left to cut
	have   []int // by unit: copies that are left; below 0: no limit
	rowOf  []int // by unit: its row, −1
	extras []*extra
	beyond int  // first of the columns for what is cut beyond what is wanted, by kind
	phase1 bool // costs count as 0 and a missing piece as 1: is there any cutting at all

	swapsFrom, swapsTo int // columns of swaps
	swapsOver          bool

	calm  []float64 // prices of the best bound so far
	value float64   // of the programme over all ways, when it is solved
	bound bound     // best so far
}

// bound is a proof in integers: values by kind, rents by unit, values by extra row, and the least cost in steps.
type bound struct {
	value, rent []int64
	rules       []rule
	cost        int64
	slack       int64 // numerator above cost−1, to tell better bounds of equal cost
}

func (c *cutter) newMaster(want, have []int, limits []limit, phase1 bool) *master {
	m := &master{cutter: c, known: map[string]bool{}, want: slices.Clone(want), have: slices.Clone(have), phase1: phase1}
	m.bound = bound{value: make([]int64, len(c.kinds)), rent: make([]int64, len(c.units))}
	var start []column
	var rhs []float64
	row := func(cost, sign float64, right int) {
		start = append(start, column{rows: []int32{int32(len(rhs))}, vals: []float64{sign}, cost: cost})
		rhs = append(rhs, float64(right))
	}
	lack := 1.0
	if !phase1 {
		lack = float64(c.missing())
	}
	for i := range c.kinds {
		row(lack, 1, want[i])
	}
	for i := range c.units {
		m.rowOf = append(m.rowOf, -1)
		if have[i] >= 0 {
			m.rowOf[i] = len(rhs)
			row(0, 1, have[i])
		}
	}
	for _, l := range limits {
		cost := 0.0
		if !l.low {
			cost = lack
		}
		m.extras = append(m.extras, &extra{limit: l, left: l.most, row: len(rhs)})
		row(cost, 1, l.most)
	}
	m.lp = newSimplex(start, rhs, c.effort)
	m.ways = make([]way, len(start))
	m.beyond = len(start)
	for i := range c.kinds {
		m.addOther(i, -1)
	}
	for _, x := range m.extras {
		if !x.atMost() {
			m.addOther(x.row, -1)
		}
	}
	return m
}

// addOther adds a column without cost and with a single value: what is cut beyond what is wanted.
func (m *master) addOther(row int, val float64) {
	m.lp.add(column{rows: []int32{int32(row)}, vals: []float64{val}})
	m.ways = append(m.ways, way{})
}

func (w way) key() string {
	b := binary.AppendUvarint(nil, uint64(w.unit))
	for _, t := range w.takes {
		b = binary.AppendUvarint(binary.AppendUvarint(b, uint64(t.kind)), uint64(t.n))
	}
	return string(b)
}

// add makes a way known; false if it was.
func (m *master) add(w way) bool {
	key := w.key()
	if m.known[key] {
		return false
	}
	m.known[key] = true
	var c column
	for _, t := range w.takes {
		c.rows, c.vals = append(c.rows, int32(t.kind)), append(c.vals, float64(t.n))
		c.barred = c.barred || t.n > m.want[t.kind]
	}
	if r := m.rowOf[w.unit]; r >= 0 {
		c.rows, c.vals = append(c.rows, int32(r)), append(c.vals, 1)
	}
	for _, x := range m.extras {
		if n := x.counts(w.unit, w.takes); n > 0 {
			c.rows, c.vals = append(c.rows, int32(x.row)), append(c.vals, float64(n))
		}
	}
	if !m.phase1 {
		c.cost = float64(m.costs[w.unit])
	}
	m.lp.add(c)
	m.ways = append(m.ways, w)
	return true
}

// solve solves the programme over all ways. It stops early when the bound shows that no more ways can lift or lower
// the least whole cost, or that it is above enough.
func (m *master) solve(enough int64) {
	for round := 0; ; round++ {
		m.lp.primal()
		m.value = m.lp.value()
		if m.effort.spent() || !m.price(round >= calmFrom) || m.bound.cost > enough || m.bound.cost >= ceil(m.value) {
			return
		}
	}
}

// ceil is the least whole number not below x, up to float noise.
func ceil(x float64) int64 { return int64(math.Ceil(x - 1e-6)) }

// price looks for ways that lower the value, and takes the bound that the search proves on the way. When calm it looks
// by prices between the programme's own, which jump about, and those of the best bound so far, which lie still; by its
// own only where that finds nothing that lowers the value.
func (m *master) price(calmly bool) bool {
	prices := slices.Clone(m.lp.prices)
	if calmly && m.calm != nil && len(m.calm) == len(prices) {
		for i := range prices {
			prices[i] = float64(calm*m.calm[i]) + float64((1-calm)*prices[i])
		}
		if m.priceBy(prices) {
			return true
		}
	}
	return m.priceBy(m.lp.prices)
}

// calm is the part of the best bound's prices in those that ways are looked for by, from some round on: short solutions
// are over before that pays.
const (
	calm     = 0.7
	calmFrom = 15
)

// priceBy looks for ways by given prices, and tells whether one was found that lowers the value.
func (m *master) priceBy(prices []float64) bool {
	value, rent, rules := m.values(prices)
	worth := make([]int64, len(m.units)) // of the best way, by unit
	exact := true
	r := m.rank(value)
	from := len(m.ways)
	for i := range m.units {
		worth[i] = m.cost(i) + rent[i]
		if m.have[i] > 0 || m.have[i] < 0 {
			exact = m.priceUnit(i, r, rules, &worth[i]) && exact
		}
	}
	if exact && m.prove(value, rent, rules, worth) {
		m.calm = slices.Clone(prices)
	}
	for j := from; j < len(m.ways); j++ {
		if !m.lp.cols[j].barred && m.lp.reduced(&m.lp.cols[j]) < -priceSlack {
			return true
		}
	}
	return false
}

// cost is a unit's price in the scale of values.
func (m *master) cost(unit int) int64 {
	if m.phase1 {
		return 0
	}
	return m.costs[unit] * m.scale
}

// grain is taken off every value, so that float noise makes nothing of what is free.
const grain = 4

// values are prices as integers: values by kind, rents by unit, rules.
func (m *master) values(prices []float64) (value, rent []int64, rules []rule) {
	whole := func(x float64) int64 { return int64(math.Floor(x * float64(m.scale))) }
	value, rent = make([]int64, len(m.kinds)), make([]int64, len(m.units))
	for i := range m.kinds {
		value[i] = max(whole(prices[i])-grain, 0)
	}
	for u, r := range m.rowOf {
		if r >= 0 {
			rent[u] = max(-whole(prices[r]), 0)
		}
	}
	for _, x := range m.extras {
		v := whole(prices[x.row])
		if x.atMost() {
			v = min(v, 0)
		} else {
			v = max(v, 0)
		}
		rules = append(rules, rule{x, v})
	}
	return value, rent, rules
}

// quick is how many steps a search for better ways takes before what it found is thought enough for this round.
const quick = 20_000

// priceUnit searches ways on one unit that are worth more than its cost and rent. It is exact when none was found, or
// when done.
func (m *master) priceUnit(i int, r ranking, rules []rule, worth *int64) (done bool) {
	noise := *worth >> 27
	if *worth > 0 {
		noise++
	}
	var best []take
	keep := func(v int64, takes []take) {
		*worth, best = v, takes
		m.add(way{i, takes})
	}
	steps, done := m.fill(i, r, m.want, rules, *worth+noise, quick, keep)
	if !done && best == nil && len(rules) == 0 {
		var v, more int64
		var takes []take
		if v, takes, more, done = m.tabled(i, r, m.want); done && v > *worth+noise {
			keep(v, takes)
		}
		steps += more
	}
	if !done && best == nil {
		var more int64
		more, done = m.fill(i, r, m.want, rules, *worth+noise, max(m.effort.left, quick), keep)
		steps += more
	}
	m.effort.spend(steps)
	if best == nil {
		*worth += noise
		return done
	}
	// More ways from the kinds that the best one leaves: a programme solved by many ways at once needs fewer rounds.
	most := slices.Clone(m.want)
	floor := m.cost(i) + noise
	for range len(m.kinds) / 4 {
		for _, t := range best {
			most[t.kind] = 0
		}
		best = nil
		steps, _ := m.fill(i, r, most, rules, floor, quick/5, func(_ int64, takes []take) { best = takes })
		m.effort.spend(steps)
		if best == nil {
			break
		}
		m.add(way{i, best})
	}
	return done
}
