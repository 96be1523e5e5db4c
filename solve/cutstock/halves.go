package cutstock

import (
	"cmp"
	"slices"

	"trenchwright/base/sorting"
)

// Rounds of odd sets that a programme is tightened by, and how many sets each may add.
const (
	mostRounds  = 40
	setsInRound = 12
	mostSets    = 150
)

// tighten solves the programme with odd sets that its solution does not keep to, until the bound is above enough or no
// such set is found.
func (m *master) tighten(enough int64) {
	for range mostRounds {
		if m.effort.spent() || m.bound.cost > enough || len(m.extras) > mostSets {
			return
		}
		sets := m.brokenHalves()
		if len(sets) == 0 {
			return
		}
		for _, h := range sets {
			m.addHalf(h)
		}
		if !m.lp.dual() {
			return
		}
		m.solve(enough)
	}
}

func (m *master) addHalf(h *half) {
	x := &extra{half: h, left: h.most, row: m.lp.rows}
	vals := make([]float64, len(m.ways))
	for j, w := range m.ways {
		vals[j] = float64(x.counts(w.unit, w.takes))
	}
	m.extras = append(m.extras, x)
	m.lp.addRow(vals, float64(h.most))
	m.ways = append(m.ways, way{})
}

// brokenHalves are odd sets that the solution breaks: of three kinds that lie in ways that are used in part, and of all
// kinds that hang together by such ways.
func (m *master) brokenHalves() []*half {
	b := m.newBreaker()
	out := b.threes()
	for _, set := range b.components() {
		if b.odd(set) {
			out = b.consider(out, set)
		}
	}
	sorting.By(out, func(x, y broken) int {
		return cmp.Or(cmp.Compare(y.by, x.by), slices.Compare(x.set, y.set))
	})
	var halves []*half
	used := make([]int, len(b.kinds))
	for _, x := range out {
		if len(halves) == setsInRound {
			break
		}
		busy := 0
		for _, i := range x.set {
			busy = max(busy, used[i])
		}
		if busy < 2 && !m.hasHalf(b.half(x.set)) {
			halves = append(halves, b.half(x.set))
			for _, i := range x.set {
				used[i]++
			}
		}
	}
	return halves
}

// threes are the broken sets of three kinds. Of a way with some of each the halves come to at most those of each kind
// and one for every two kinds of which it has an odd number: most sets are passed over by that.
func (b *breaker) threes() []broken {
	var out []broken
	for i := range b.kinds {
		for j := range i {
			two := b.alone[i] + b.alone[j] + b.together[i][j]
			for k := range j {
				most := two + b.alone[k] + b.together[i][k] + b.together[j][k]
				if set := [3]int{i, j, k}; most > float64(b.pieces(set[:])/2) && b.odd(set[:]) {
					out = b.consider(out, set[:])
				}
			}
		}
	}
	n := int64(len(b.kinds))
	b.m.effort.spend(n * n * n)
	return out
}

func (m *master) hasHalf(h *half) bool {
	return slices.ContainsFunc(m.extras, func(x *extra) bool { return x.half != nil && slices.Equal(x.half.in, h.in) })
}

// broken is an odd set, and by how much the solution breaks it.
type broken struct {
	set []int // indices into breaker.kinds, rising
	by  float64
}

// breaker looks at the ways that a solution uses in part.
type breaker struct {
	m        *master
	kinds    []int // that lie in such ways
	ways     []used
	counts   [][]int     // by way, by kind
	alone    []float64   // by kind: how often two of it lie in a way
	together [][]float64 // by two kinds: how often an odd number of each lies in a way
}

// mostKinds bounds the search among threes.
const mostKinds = 160

func (m *master) newBreaker() *breaker {
	b := &breaker{m: m}
	index := map[int]int{}
	for r, j := range m.lp.base {
		w := m.ways[j]
		if x := m.lp.x[r]; w.takes != nil && x > 1e-6 {
			part := x - float64(int(x+1e-6))
			for _, t := range w.takes {
				if _, ok := index[t.kind]; !ok && part > 1e-6 && len(index) < mostKinds {
					index[t.kind] = len(b.kinds)
					b.kinds = append(b.kinds, t.kind)
				}
			}
			b.ways = append(b.ways, used{w, x})
		}
	}
	n := len(b.kinds)
	b.alone = make([]float64, n)
	for range b.kinds {
		b.together = append(b.together, make([]float64, n))
	}
	for _, u := range b.ways {
		counts := make([]int, n)
		for _, t := range u.way.takes {
			if i, ok := index[t.kind]; ok {
				counts[i] = t.n
			}
		}
		b.counts = append(b.counts, counts)
		for i := range n {
			b.alone[i] += float64(float64(counts[i]/2) * u.x)
			for j := range n {
				if counts[i]%2 > 0 && counts[j]%2 > 0 {
					b.together[i][j] += u.x
				}
			}
		}
	}
	return b
}

// odd tells whether an odd number of pieces is wanted of the kinds of a set.
func (b *breaker) odd(set []int) bool { return b.pieces(set)%2 == 1 }

func (b *breaker) pieces(set []int) int {
	n := 0
	for _, i := range set {
		n += b.m.want[b.kinds[i]]
	}
	return n
}

// by is by how much the solution breaks a set.
func (b *breaker) by(set []int) float64 {
	sum := 0.0
	for w, counts := range b.counts {
		n := 0
		for _, i := range set {
			n += counts[i]
		}
		sum += float64(float64(n/2) * b.ways[w].x)
	}
	return sum - float64(b.pieces(set)/2)
}

// consider adds a set if it is broken.
func (b *breaker) consider(list []broken, set []int) []broken {
	if by := b.by(set); by > 0.01 {
		set = slices.Clone(set)
		sorting.Ascending(set)
		list = append(list, broken{set, by})
	}
	return list
}

// components are the kinds that hang together by ways that are used in part.
func (b *breaker) components() [][]int {
	var out [][]int
	seen := make([]bool, len(b.kinds))
	for i := range b.kinds {
		if seen[i] {
			continue
		}
		set := []int{i}
		seen[i] = true
		for at := 0; at < len(set); at++ {
			for j := range b.kinds {
				if !seen[j] && b.hang(set[at], j) {
					seen[j] = true
					set = append(set, j)
				}
			}
		}
		out = append(out, set)
	}
	return out
}

// hang tells whether two kinds lie together in some way that is used.
func (b *breaker) hang(i, j int) bool {
	return slices.ContainsFunc(b.counts, func(counts []int) bool { return counts[i] > 0 && counts[j] > 0 })
}

func (b *breaker) half(set []int) *half {
	h := &half{in: make([]bool, len(b.m.shop.kinds)), most: b.pieces(set) / 2}
	for _, i := range set {
		h.in[b.kinds[i]] = true
	}
	return h
}
