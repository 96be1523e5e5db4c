package layout

import (
	"slices"
	"sort"

	"trenchwright/base/measure"
)

// On site the plan is asked again from where things came to lie. The cost to go answers for every start, so the best next
// piece is one look at what its lengths lead to.

// Costs is the cost to go of every start of a leg, without a layout of it; nil for a Problem that contradicts itself or is too long.
func Costs(p Problem) *Certificate {
	if p.faults() != nil {
		return nil
	}
	cert, _, ok := newGround(&p, false).run()
	if !ok {
		return nil
	}
	return cert
}

// Next is the best unit to lay from a measured start of a unit, with the gap to hold after it and the least cost from there
// to the end, this unit with it; false if the leg cannot be finished from there. A start just on the far edge of a demand is
// taken to have its joint behind the edge.
func (c *Certificate) Next(x measure.Length) (Unit, Count, bool) {
	units, count, ok := c.Ahead(x, 1)
	if !ok {
		return Unit{}, Count{}, false
	}
	return units[0], count, true
}

// Ahead is the next n units from a measured start, each gap as near to nominal as may be, and the least cost from there to
// the end of the leg. With n = 0 it lays all that is left and spreads the openings evenly.
func (c *Certificate) Ahead(x measure.Length, n int) ([]Unit, Count, bool) {
	g := c.g
	if x < 0 || x >= g.end {
		return nil, Count{}, false
	}
	at := g.measured(x)
	toGo := c.least(at)
	if toGo == noCost {
		return nil, Count{}, false
	}
	r := &route{g: g, parts: g.parts, stop: max(0, n)}
	r.walk(at, toGo, g.ways(c))
	if n <= 0 {
		r.links[0].start = interval{x, x}
		r.settle()
	}
	return r.units(), toGo.count(), true
}

// After is the best start of the next unit behind a unit of a supply whose end was measured, and the least cost from there
// to the end of the leg: the gap to hold now is what lies between. Among equals it is nearest to nominal.
func (c *Certificate) After(end measure.Length, supply int) (start measure.Length, toGo Count, ok bool) {
	g := c.g
	best, least := noCost, forever
	for i := c.below(end + g.reach); i < c.size; i++ {
		l := c.at(i)
		if l.hi < end {
			break
		}
		w := g.kindAt(l.lo).windows[supply]
		v := interval{end + w.min, end + w.max}.and(interval{l.lo, l.hi})
		if v.empty() || end < g.parts[l.part].lo {
			continue
		}
		x := min(max(end+w.aim, v.lo), v.hi)
		if off := (x - end - w.aim).Abs(); l.cost < best || l.cost == best && off < least {
			best, least, start = l.cost, off, x
		}
	}
	return start, best.count(), best != noCost
}

// measured is a start that was built, wherever the joint before it came to lie.
func (g *ground) measured(x nm) place {
	if x == 0 {
		return g.startPlace()
	}
	part := sort.Search(len(g.parts), func(i int) bool { return g.parts[i].lo > x }) - 1
	return place{x: interval{x, x}, part: part, kind: g.kindAt(x)}
}

// least is the cost from a place, found from what its pieces lead to.
func (c *Certificate) least(at place) cost {
	best := noCost
	c.g.each(at, func(e *entry, lim limits, last bool) bool {
		if last {
			if c.g.ends(at.x.lo, e, lim) {
				best = min(best, e.cost)
			}
			return true
		}
		c.g.onward(c, at.x, e, lim, noCost, func(_ int, behind level, _ interval) { best = min(best, behind.cost+e.cost) })
		return true
	})
	return best
}

// Upstream sweeps again what lies before a change. The problem differs from the certificate's own only in what is nearer to
// the start of the leg than changed (a zone that was found, say, ends there); starts nearer than stop are left out, since
// what is built needs no answer. Everything behind the change is taken over as it stands.
func (c *Certificate) Upstream(p Problem, changed, stop measure.Length) (*Certificate, error) {
	if err := p.faults(); err != nil {
		return nil, err
	}
	g := newGround(&p, false)
	changed += 1 + max(g.widest(), c.g.widest()) // starts whose joint reaches back into the change are swept as well
	s := g.newSweep()
	s.takeOver(c, changed)
	if !s.down(min(changed-1, g.end-1), max(stop, 1)) {
		return nil, Malformed{[]string{tooLong}}
	}
	return s.cert, nil
}

// widest is the widest joint of all.
func (g *ground) widest() nm {
	var w nm
	for _, k := range g.kinds {
		for _, v := range k.windows {
			w = max(w, v.max)
		}
	}
	return w
}

// takeOver shares the blocks of another certificate down to a chainage and copies the rest of the last one.
func (s *sweep) takeOver(c *Certificate, changed nm) {
	n := c.below(changed - 1)
	s.cert.blocks = slices.Clone(c.blocks[:n/blockSize])
	s.cert.size = n / blockSize * blockSize
	for i := s.cert.size; i < n; i++ {
		s.cert.add(s.here(c.at(i), c))
	}
	if n < c.size {
		if l := c.at(n); l.hi >= changed {
			l.lo = changed
			s.cert.add(s.here(l, c))
		}
	}
	first := s.cert.size
	for first > 0 && s.cert.at(first-1).lo <= changed+s.g.reach {
		first--
	}
	for i := first; i < s.cert.size; i++ {
		l := s.cert.at(i)
		s.ending(l, place{x: interval{l.lo, l.hi}, part: int(l.part), kind: s.g.kindAt(l.lo)})
	}
}

// here numbers the part of another certificate's level as this one does.
func (s *sweep) here(l level, c *Certificate) level {
	l.part = s.cert.fromEnd(c.fromEnd(l.part))
	return l
}
