package layout

import (
	"cmp"

	"trenchwright/base/sorting"
)

// ending is one interval of places where a unit may end, and what the rest costs from there.
type ending struct {
	lo, hi nm
	next   nm // least start of the next unit
	narrow nm // its narrowest joint
	cost   cost
}

// offer is one interval of starts inside the cell at hand, at a cost.
type offer struct {
	lo, hi nm
	cost   cost
}

// sweep settles the cost to go of every start, from the end of the leg to its beginning, cell by cell. A cell is shorter than
// the shortest piece with its joint, so what is settled in it never depends on the cell itself. In a cell the offers are
// settled cheapest first, and what is covered already is taken out of the dearer ones.
type sweep struct {
	looked int // endings looked at
	g      *ground
	cert   *Certificate
	ends   [][]ending // by supply of the unit that ends, descending; only those within reach
	dead   []int      // how many of them are out of reach
	cursor []int      // by entry of the kind's inner menu: the first ending that is not too far
	kind   *kind

	rules  []rule
	offers []offer
	best   cost // of offers that fill the cell
	most   cost // of offers that can belong to a layout within the limit
	open   []interval
	done   []level
}

// budget bounds one sweep: the levels that it may keep (24 bytes each) and the endings that it may look at (some 10 ns each).
// Plain ground takes 14 levels and 190 endings a unit; odd stock lengths without cut ones between them can take any number.
type budget struct{ levels, endings int }

func (p *Problem) budget() budget {
	n := p.leastUnits()
	return budget{1<<19 + 64*n, 1<<25 + 2048*n}
}

// part is a share of a budget.
func (b budget) part(n int) budget { return budget{b.levels / n, b.endings / n} }

// run sweeps the leg. It returns the best way to begin, at noCost if there is none, and false if the leg is too long.
func (g *ground) run() (*Certificate, beginning, bool) {
	s := g.newSweep()
	if !s.down(g.end-1, 1) {
		return s.cert, beginning{cost: noCost}, false
	}
	return s.cert, g.begin(s.cert, s.start()), true
}

func (g *ground) newSweep() *sweep {
	n := len(g.p.Supplies)
	return &sweep{g: g, cert: &Certificate{g: g}, ends: make([][]ending, n), dead: make([]int, n)}
}

// down settles the starts from one chainage down to another; false if the leg is too long.
func (s *sweep) down(from, to nm) bool {
	ok := s.g.cells(from, to, func(at place, fresh bool) bool {
		s.settle(at, fresh)
		return s.cert.size < s.g.budget.levels && s.looked < s.g.budget.endings
	})
	return ok && !s.overflow()
}

func (s *sweep) overflow() bool {
	for _, block := range s.cert.blocks {
		if block[len(block)-1].cost&full != 0 {
			return true
		}
	}
	return false
}

// cells walks the starts from one chainage down to another. fresh says that the cell does not continue the one before it.
func (g *ground) cells(from, to nm, visit func(at place, fresh bool) bool) bool {
	breaks := g.breaks
	step := min(g.step, 1<<32)
	for p := len(g.parts) - 1; p >= 0; p-- {
		low := max(g.parts[p].lo+g.narrow, to)
		fresh := true
		for hi := min(g.parts[p].hi, from); hi >= low; {
			for len(breaks) > 0 && breaks[len(breaks)-1] > hi {
				breaks = breaks[:len(breaks)-1]
			}
			lo := max(low, hi-step+1)
			cut := false
			if n := len(breaks); n > 0 && breaks[n-1] >= lo {
				lo, cut = breaks[n-1], true
			}
			if !visit(place{x: interval{lo, hi}, part: p, kind: g.kindAt(lo)}, fresh) {
				return false
			}
			hi, fresh = lo-1, cut
		}
	}
	return true
}

func (s *sweep) settle(at place, fresh bool) {
	s.most = s.within(at.x)
	if s.g.limit != noCost && s.most < s.g.least(at.x) {
		return
	}
	s.prepare(at)
	s.offers, s.best = s.offers[:0], noCost
	k := at.kind
	if len(s.rules) == 0 {
		for i := range k.inner.entries[:k.inner.plain] {
			s.pull(&k.inner.entries[i], i, at.x)
		}
		for _, e := range k.last.entries[:k.last.plain] {
			s.offer(interval{s.g.end - e.advance.hi, s.g.end - e.advance.lo}, e.cost, at.x)
		}
	} else {
		s.pullBound(at)
	}
	s.cover(at.x)
	for _, d := range s.done {
		s.keep(d, at, fresh)
	}
}

// within is the most that offers in a cell may cost to belong to a layout within the limit, however few units lead there.
func (s *sweep) within(x interval) cost {
	if s.g.limit == noCost {
		return noCost
	}
	before := cost((x.lo+s.g.reach-1)/s.g.reach) * oneUnit
	return s.g.limit - min(before, s.g.limit)
}

// least is what starts in a cell cost at least to the end of the leg, by length alone.
func (g *ground) least(x interval) cost {
	return cost((g.end-x.hi+g.narrow+g.reach-1)/g.reach) * oneUnit
}

// prepare drops endings that are out of reach and finds the rules that matter.
func (s *sweep) prepare(at place) {
	s.rules = s.g.relevant(at, s.rules)
	if s.kind != at.kind {
		s.kind = at.kind
		s.cursor = append(s.cursor[:0], make([]int, len(at.kind.inner.entries))...)
	}
	const slack = 1 << 8
	for i, ends := range s.ends {
		d := s.dead[i]
		for d < len(ends) && ends[d].lo > at.x.hi+s.g.reach {
			d++
		}
		s.dead[i] = d
		if d < slack {
			continue
		}
		s.ends[i] = append(ends[:0], ends[d:]...)
		s.dead[i] = 0
		for j, e := range at.kind.inner.entries {
			if e.supply == i {
				s.cursor[j] = max(0, s.cursor[j]-d)
			}
		}
	}
}

// pull makes offers of one entry from every ending in its reach.
func (s *sweep) pull(e *entry, index int, x interval) {
	ends := s.ends[e.supply]
	j := s.cursor[index]
	far := x.hi + e.advance.hi
	first := j
	for j < len(ends) && ends[j].lo > far {
		j++
	}
	s.cursor[index] = j
	near := x.lo + e.advance.lo
	for ; j < len(ends); j++ {
		f := &ends[j]
		if f.hi < near-s.g.wobble {
			break
		}
		c := f.cost + e.cost
		if c >= s.best || c > s.most || f.hi < near {
			continue
		}
		lo, hi := f.lo-e.advance.hi, f.hi-e.advance.lo
		if lo <= x.lo && hi >= x.hi {
			s.best = c
			continue
		}
		s.offers = append(s.offers, offer{max(lo, x.lo), min(hi, x.hi), c})
	}
	s.looked += j - first
}

// pullBound is pull where rules matter.
func (s *sweep) pullBound(at place) {
	k := at.kind
	for _, e := range k.inner.entries {
		bound(e, s.rules, k.geometry, func(e entry, lim limits) {
			ends := s.ends[e.supply][s.dead[e.supply]:]
			s.looked += len(ends)
			for _, f := range ends {
				v, ok := f.within(lim)
				if ok {
					s.offer(interval{v.lo - e.advance.hi, v.hi - e.advance.lo}, v.cost+e.cost, at.x)
				}
			}
		})
	}
	for _, e := range k.last.entries {
		bound(e, s.rules, k.geometry, func(e entry, lim limits) {
			if lim.end.holds(s.g.end) && lim.next >= s.g.end {
				s.offer(interval{s.g.end - e.advance.hi, s.g.end - e.advance.lo}, e.cost, at.x)
			}
		})
	}
}

// within is what limits leave of an ending.
func (f ending) within(lim limits) (ending, bool) {
	f.lo = max(f.lo, lim.end.lo)
	f.hi = min(f.hi, lim.end.hi, lim.next-f.narrow)
	return f, f.lo <= f.hi && f.next <= lim.next
}

func (s *sweep) offer(v interval, c cost, x interval) {
	v = v.and(x)
	if v.empty() || c >= s.best || c > s.most {
		return
	}
	if v == x {
		s.best = c
		return
	}
	s.offers = append(s.offers, offer{v.lo, v.hi, c})
}

// cover settles the offers of a cell into done, descending by position.
func (s *sweep) cover(x interval) {
	s.done = s.done[:0]
	s.open = append(s.open[:0], x)
	kept := s.offers[:0]
	for _, o := range s.offers {
		if o.cost < s.best {
			kept = append(kept, o)
		}
	}
	if s.best != noCost {
		kept = append(kept, offer{x.lo, x.hi, s.best})
	}
	s.offers = kept
	if len(kept) > manyOffers {
		s.coverMany(x)
		return
	}
	sortOffers(kept)
	for _, o := range kept {
		if len(s.open) == 0 {
			break
		}
		s.take(o)
	}
	sortLevels(s.done)
	s.join()
}

// manyOffers is where taking offers one by one becomes slower than merging whole cost levels.
const manyOffers = 48

// coverMany settles many offers: each cost level is united, what is covered is taken out of it, and it is united with that.
func (s *sweep) coverMany(x interval) {
	sorting.By(s.offers, func(a, b offer) int { return cmp.Or(cmp.Compare(a.cost, b.cost), cmp.Compare(a.lo, b.lo)) })
	var covered set
	for i := 0; i < len(s.offers); {
		c := s.offers[i].cost
		var all []interval
		for ; i < len(s.offers) && s.offers[i].cost == c; i++ {
			all = append(all, interval{s.offers[i].lo, s.offers[i].hi})
		}
		fresh := merged(all).less(covered)
		for _, v := range fresh {
			s.done = append(s.done, level{lo: v.lo, hi: v.hi, cost: c})
		}
		covered = union(append(fresh, covered...))
		if len(covered) == 1 && covered[0] == x {
			break
		}
	}
	sorting.By(s.done, func(a, b level) int { return cmp.Compare(b.lo, a.lo) })
	s.join()
}

// take settles what is still open of an offer.
func (s *sweep) take(o offer) {
	for i := 0; i < len(s.open); i++ {
		v := s.open[i]
		lo, hi := max(v.lo, o.lo), min(v.hi, o.hi)
		if hi < lo {
			continue
		}
		s.done = append(s.done, level{lo: lo, hi: hi, cost: o.cost})
		left, right := interval{v.lo, lo - 1}, interval{hi + 1, v.hi}
		switch {
		case left.empty() && right.empty():
			s.open[i] = s.open[len(s.open)-1]
			s.open = s.open[:len(s.open)-1]
			i--
		case left.empty():
			s.open[i] = right
		default:
			s.open[i] = left
			if !right.empty() {
				s.open = append(s.open, right)
			}
		}
	}
}

// join makes one level of neighbours at the same cost.
func (s *sweep) join() {
	out := s.done[:0]
	for _, d := range s.done {
		if n := len(out); n > 0 && out[n-1].cost == d.cost && out[n-1].lo == d.hi+1 {
			out[n-1].lo = d.lo
			continue
		}
		out = append(out, d)
	}
	s.done = out
}

// Both lists are a dozen long and nearly in order: insertion is the fastest there is.
func sortOffers(v []offer) {
	for i := 1; i < len(v); i++ {
		for j := i; j > 0 && v[j].cost < v[j-1].cost; j-- {
			v[j], v[j-1] = v[j-1], v[j]
		}
	}
}

func sortLevels(v []level) {
	for i := 1; i < len(v); i++ {
		for j := i; j > 0 && v[j].lo > v[j-1].lo; j-- {
			v[j], v[j-1] = v[j-1], v[j]
		}
	}
}

// keep writes a level down and says where units may end before it.
func (s *sweep) keep(d level, at place, fresh bool) {
	d.part = int32(at.part)
	low := s.g.parts[at.part].lo
	if s.cert.extend(d, fresh) {
		for i, w := range at.kind.windows {
			if last := len(s.ends[i]) - 1; last >= 0 && s.ends[i][last].next == d.hi+1 {
				s.ends[i][last].lo, s.ends[i][last].next = max(low, d.lo-w.max), d.lo
			}
		}
		return
	}
	s.cert.add(d)
	s.ending(d, at)
}

// ending says where units may end before a level.
func (s *sweep) ending(d level, at place) {
	low := s.g.parts[at.part].lo
	for i, w := range at.kind.windows {
		e := ending{max(low, d.lo-w.max), d.hi - w.min, d.lo, w.min, d.cost}
		if e.lo <= e.hi {
			s.ends[i] = append(s.ends[i], e)
		}
	}
}

// start is the cost of the whole leg.
func (s *sweep) start() cost {
	at := s.g.startPlace()
	s.rules = s.g.relevant(at, s.rules)
	best := noCost
	for _, e := range s.g.first.entries {
		bound(e, s.rules, at.kind.geometry, func(e entry, lim limits) {
			for _, f := range s.ends[e.supply][s.dead[e.supply]:] {
				if f, ok := f.within(lim); ok && f.lo <= e.advance.hi && f.hi >= e.advance.lo {
					best = min(best, f.cost+e.cost)
				}
			}
		})
	}
	for _, e := range s.g.only.entries {
		bound(e, s.rules, at.kind.geometry, func(e entry, lim limits) {
			if e.advance.holds(s.g.end) && lim.end.holds(s.g.end) && lim.next >= s.g.end {
				best = min(best, e.cost)
			}
		})
	}
	return best
}

func (g *ground) startPlace() place {
	return place{interval{0, 0}, -1, &g.kinds[g.regions[0].kind], true}
}
