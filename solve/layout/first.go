package layout

import "slices"

// beginning is a way to start a leg whose first units are given: their links, and from where the rest is free.
type beginning struct {
	cost  cost // of the whole leg
	links []link
	free  *place // where the first free unit starts; nil: the given units are the whole leg
	toGo  cost   // from there
}

// begin finds the cheapest way to lay the given first units, over every place that they may take. Without given units it
// is the start of the leg itself at the cost that the sweep found.
func (g *ground) begin(cert *Certificate, swept cost) beginning {
	at := g.startPlace()
	if len(g.p.First) == 0 {
		return beginning{cost: swept, free: &at, toGo: swept}
	}
	return g.given(cert, at, g.p.First)
}

// given lays lengths one after the other from a range of starts that the rules treat alike.
func (g *ground) given(cert *Certificate, at place, lengths []nm) beginning {
	best := beginning{cost: noCost}
	first, last := at.kind.inner, at.kind.last
	if at.leg {
		first, last = g.first, g.only
	}
	rules := g.relevant(at, nil)
	each := func(m menu, visit func(entry, limits)) {
		for _, e := range m.entries {
			bound(e, rules, at.kind.geometry, func(e entry, lim limits) {
				if e.length.holds(lengths[0]) {
					a := at.kind.geometry.advance(lengths[0])
					e.length, e.advance = interval{lengths[0], lengths[0]}, interval{a, a}
					visit(e, lim)
				}
			})
		}
	}
	if len(lengths) == 1 {
		each(last, func(e entry, lim limits) {
			ends := interval{at.x.lo + e.advance.lo, at.x.hi + e.advance.lo}
			if ends.holds(g.end) && lim.end.holds(g.end) && lim.next >= g.end && e.cost < best.cost {
				best = beginning{cost: e.cost, links: []link{{&e, g.around(at), lim.end, lim.next, -1}}}
			}
		})
	}
	each(first, func(e entry, lim limits) {
		g.after(at, e, lim, func(next place) {
			rest := g.rest(cert, next, lengths[1:])
			if rest.cost != noCost && rest.cost+e.cost < best.cost {
				rest.cost += e.cost
				rest.links = slices.Insert(rest.links, 0, link{&e, g.around(at), lim.end, lim.next, next.part})
				best = rest
			}
		})
	})
	return best
}

// rest is the cheapest way on from a range of starts.
func (g *ground) rest(cert *Certificate, at place, lengths []nm) beginning {
	if len(lengths) > 0 {
		return g.given(cert, at, lengths)
	}
	best := beginning{cost: noCost}
	for i := cert.below(at.x.hi); i < cert.size; i++ {
		l := cert.at(i)
		if int(l.part) < at.part {
			break
		}
		if v := (interval{l.lo, l.hi}).and(at.x); int(l.part) == at.part && !v.empty() && l.cost < best.cost {
			from := place{x: interval{v.lo, v.lo}, part: at.part, kind: at.kind}
			best = beginning{cost: l.cost, free: &from, toGo: l.cost}
		}
	}
	return best
}

// after visits every range of starts that a piece of one length, laid from a range of starts, leads to.
func (g *ground) after(at place, e entry, lim limits, visit func(place)) {
	ends := interval{at.x.lo + e.advance.lo, at.x.hi + e.advance.lo}.and(lim.end)
	if ends.empty() {
		return
	}
	for p, part := range g.parts {
		e2 := ends.and(interval{part.lo, part.hi})
		if e2.empty() {
			continue
		}
		for x := max(e2.lo, 1); x <= min(part.hi, g.end-1, e2.hi+g.reach, lim.next); {
			next := place{x: interval{x, x}, part: p, kind: g.kindAt(x)}
			same := g.around(next)
			w := next.kind.windows[e.supply]
			next.x = interval{e2.lo + w.min, min(e2.hi+w.max, part.hi, lim.next, g.end-1)}.and(same)
			if next.x.lo = max(next.x.lo, 1); !next.x.empty() {
				visit(next)
			}
			x = same.hi + 1
		}
	}
}
