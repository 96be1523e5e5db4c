package cutstock

import (
	"math"
	"slices"
)

// tree proves by cases where the bound of the whole falls short of the best cutting: it splits all cuttings by how
// many units some ways of cutting are used for, and solves both sides. It may find a better cutting on the way.
type tree struct {
	*cutter
	best   cutting
	found  bool
	phase1 bool
	pool   []way
	known  map[string]bool
	depth  int
}

// node is one case: a bound, or two cases.
type node struct {
	bound     bound
	split     limit // its high side is the rest
	low, high *node
}

// deepest is where a case is given up: there is none that deep that would not be better left unproven.
const deepest = 60

// prove proves that no cutting within the limits costs less than the best; nil when that was given up.
func (t *tree) prove(limits []limit) *node {
	if len(limits) > deepest || t.effort.spent() {
		return nil
	}
	want, have := t.stock()
	m := t.newMaster(want, have, limits, t.phase1)
	for _, w := range t.pool {
		m.add(w)
	}
	enough := t.enough()
	m.solve(enough)
	if !t.phase1 {
		m.tighten(enough)
	}
	t.gather(m)
	if t.effort.spent() {
		return nil
	}
	if m.bound.cost > enough {
		return &node{bound: m.bound}
	}
	if k, ok := m.whole(); ok {
		t.take(k)
		if t.phase1 {
			return nil // there is a cutting: nothing to prove
		}
		if m.bound.cost > t.enough() {
			return &node{bound: m.bound}
		}
	}
	split, ok := m.split()
	if !ok {
		return nil
	}
	n := &node{split: split}
	if n.low = t.prove(append(slices.Clone(limits), split)); n.low == nil {
		return nil
	}
	if t.phase1 && t.found {
		return nil
	}
	high := split
	high.low, high.most = false, split.most+1
	if n.high = t.prove(append(slices.Clone(limits), high)); n.high == nil {
		return nil
	}
	return n
}

// enough is the greatest cost that would be better than the best cutting.
func (t *tree) enough() int64 {
	switch {
	case t.phase1:
		return 0
	case t.found:
		return t.best.cost - 1
	}
	return math.MaxInt64
}

func (t *tree) take(k cutting) {
	if !t.found || k.cost < t.best.cost {
		t.best, t.found = k, true
	}
}

// gather keeps the ways that a master found.
func (t *tree) gather(m *master) {
	if t.known == nil {
		t.known = map[string]bool{}
	}
	for _, w := range m.ways {
		if w.takes != nil && !t.known[w.key()] {
			t.known[w.key()] = true
			t.pool = append(t.pool, w)
		}
	}
}

// whole is the master's solution as a cutting, when it uses every way a whole number of times and lacks no piece.
func (m *master) whole() (cutting, bool) {
	want, have := slices.Clone(m.want), slices.Clone(m.have)
	var k cutting
	for r, j := range m.lp.base {
		x := m.lp.x[r]
		times := int(math.Round(x))
		if math.Abs(x-float64(times)) > 1e-5 {
			return k, false
		}
		if w := m.ways[j]; w.takes != nil && times > 0 {
			if have[w.unit] >= 0 && have[w.unit] < times {
				return k, false
			}
			for range times {
				if w = trim(w, want); w.takes != nil {
					m.use(&k, w, 1)
					subtract(w, 1, want, have)
				}
			}
		}
	}
	return k, !slices.ContainsFunc(want, func(n int) bool { return n > 0 })
}

// used is a way and how often the master uses it.
type used struct {
	way way
	x   float64
}

// split is a limit that cuts off the master's solution: the first that does of the total by unit, ways with so many of
// one kind, ways with two kinds, ways with at least all that one of them has.
func (m *master) split() (limit, bool) {
	var list []used
	for r, j := range m.lp.base {
		if w := m.ways[j]; w.takes != nil && m.lp.x[r] > 1e-7 {
			list = append(list, used{w, m.lp.x[r]})
		}
	}
	for _, try := range [](func([]used) []limit){m.unitLimits, kindLimits, pairLimits, wholeLimits} {
		best, off := limit{}, 1e-4
		for _, l := range try(list) {
			sum := 0.0
			for _, u := range list {
				sum += float64(u.x * float64((&extra{limit: l}).counts(u.way.unit, u.way.takes)))
			}
			if d := math.Abs(sum - math.Round(sum)); d > off+1e-9 {
				off, best = d, l
				best.most, best.low = int(math.Floor(sum)), true
			}
		}
		if best.low {
			return best, true
		}
	}
	return limit{}, false
}

func (m *master) unitLimits([]used) []limit {
	out := []limit{{unit: -1}}
	for i := range m.units {
		out = append(out, limit{unit: i})
	}
	return out
}

func kindLimits(list []used) []limit {
	var out []limit
	for _, u := range list {
		for _, t := range u.way.takes {
			for n := 1; n <= t.n; n++ {
				out = append(out, limit{unit: -1, atLeast: []take{{t.kind, n}}}, limit{unit: u.way.unit, atLeast: []take{{t.kind, n}}})
			}
		}
	}
	return out
}

func pairLimits(list []used) []limit {
	var out []limit
	for _, u := range list {
		for i, a := range u.way.takes {
			for _, b := range u.way.takes[i+1:] {
				pair := []take{{a.kind, 1}, {b.kind, 1}}
				out = append(out, limit{unit: -1, atLeast: pair}, limit{unit: u.way.unit, atLeast: pair})
			}
		}
	}
	return out
}

func wholeLimits(list []used) []limit {
	var out []limit
	for _, u := range list {
		out = append(out, limit{unit: u.way.unit, atLeast: u.way.takes})
	}
	return out
}
