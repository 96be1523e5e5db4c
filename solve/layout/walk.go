package layout

import "slices"

// link is one piece of a sequence: what it is, and between which bounds it may move without meeting another rule.
type link struct {
	piece *entry
	start interval // starts that the rules treat alike
	end   interval
	next  nm  // the next piece starts at or before
	part  int // the joint after it lies in parts[part]; -1: it is the last
}

// route is a sequence of pieces with one set of places for them.
type route struct {
	g     *ground
	links []link
	x     []nm // start of each
	d     []nm // advance of each
}

// step is one way on from a start.
type step struct {
	piece  *entry
	lim    limits
	reach  interval // advances of the piece that keep to the cost
	behind level    // where the next piece starts; no part: the piece is the last
	last   bool
}

// steps lists the ways on from a place that cost exactly toGo. Whole units come before cut ones, longer before shorter.
func (g *ground) steps(cert *Certificate, at place, toGo cost, visit func(step) bool) {
	x := at.x.lo
	first, last := &at.kind.inner, &at.kind.last
	if at.part < 0 {
		first, last = &g.first, &g.only
	}
	rules := g.relevant(at, nil)
	going := true
	each := func(m *menu, visit func(*entry, limits)) {
		entries := m.entries
		if len(rules) == 0 {
			for i := range entries[:m.plain] {
				if going {
					visit(&entries[i], free)
				}
			}
			return
		}
		for _, e := range entries {
			bound(e, rules, at.kind.geometry, func(e entry, lim limits) {
				if going {
					visit(&e, lim)
				}
			})
		}
	}
	each(last, func(e *entry, lim limits) {
		rest := g.end - x
		if e.cost == toGo && e.advance.holds(rest) && lim.end.holds(g.end) && lim.next >= g.end {
			going = visit(step{piece: e, lim: lim, reach: interval{rest, rest}, last: true})
		}
	})
	each(first, func(e *entry, lim limits) {
		if e.cost >= toGo {
			return
		}
		g.onward(cert, x, e, lim, func(behind level, reach interval) bool {
			if behind.cost+e.cost == toGo {
				going = visit(step{piece: e, lim: lim, reach: reach, behind: behind})
			}
			return going
		})
	})
}

// onward visits every level that an entry laid at x leads to, with the advances that lead there, the furthest first.
func (g *ground) onward(cert *Certificate, x nm, e *entry, lim limits, visit func(level, interval) bool) {
	far := x + e.advance.hi + g.reach
	if len(g.kinds) == 1 {
		far = x + e.advance.hi + g.kinds[0].windows[e.supply].max
	}
	for i := cert.below(far); i < cert.size; i++ {
		l := cert.at(i)
		if l.hi < x+e.advance.lo {
			return
		}
		w := g.kindAt(l.lo).windows[e.supply]
		reach := interval{
			max(e.advance.lo, g.parts[l.part].lo-x, l.lo-w.max-x, lim.end.lo-x),
			min(e.advance.hi, l.hi-w.min-x, lim.end.hi-x, lim.next-w.min-x),
		}
		if reach.empty() || l.lo > lim.next {
			continue
		}
		if !visit(l, reach) {
			return
		}
	}
}

// follow makes a route of the best way to begin and what comes after it.
func (g *ground) follow(cert *Certificate, from beginning) *route {
	r := &route{g: g, links: from.links}
	r.x, r.d = make([]nm, len(r.links)), make([]nm, len(r.links))
	if from.free != nil {
		g.walk(cert, *from.free, from.toGo, r)
	}
	return r
}

// walk follows the cost to go from a place to the end. It prefers whole units, so closers come late.
func (g *ground) walk(cert *Certificate, at place, toGo cost, r *route) {
	for {
		best, ok := g.prefer(cert, at, toGo)
		if !ok {
			panic("layout: the cost to go leads nowhere")
		}
		x, d := at.x.lo, best.reach.lo
		part := -1
		if !best.last {
			part = int(best.behind.part)
		}
		r.links = append(r.links, link{best.piece, g.around(at), best.lim.end, best.lim.next, part})
		r.x, r.d = append(r.x, x), append(r.d, d)
		if best.last {
			return
		}
		w := g.kindAt(best.behind.lo).windows[best.piece.supply]
		next := min(max(x+d+w.aim, best.behind.lo, x+d+w.min), best.behind.hi, x+d+w.max, best.lim.next)
		at = place{interval{next, next}, part, g.kindAt(next)}
		toGo = best.behind.cost
	}
}

// prefer chooses a step: the first whole unit, with the joint as near to what is aimed at as may be, or else the cut length
// that is wished for, or the middle of the widest range of lengths.
func (g *ground) prefer(cert *Certificate, at place, toGo cost) (step, bool) {
	var found []step
	g.steps(cert, at, toGo, func(s step) bool {
		if len(found) > 0 && found[0].piece.advance.lo == found[0].piece.advance.hi && s.piece != found[0].piece && !found[0].piece.cut {
			return false
		}
		found = append(found, s)
		return !s.last
	})
	if len(found) == 0 {
		return step{}, false
	}
	if n := len(found) - 1; found[n].last {
		return found[n], true
	}
	if !found[0].piece.cut {
		return g.nearest(found, at.x.lo), true
	}
	var ranges []interval
	for _, s := range found {
		ranges = append(ranges, s.reach)
	}
	want := middle(union(ranges))
	for _, wish := range g.p.Prefer.Cuts {
		if a := at.kind.geometry.advance(wish); union(ranges).holds(a) {
			want = a
			break
		}
	}
	for _, s := range found {
		if s.reach.holds(want) {
			s.reach = interval{want, want}
			return s, true
		}
	}
	return step{}, false
}

// nearest is the step whose joint can be nearest to what is aimed at; all are of one whole unit.
func (g *ground) nearest(found []step, x nm) step {
	best, least := found[0], forever
	for _, s := range found {
		w := g.kindAt(s.behind.lo).windows[s.piece.supply]
		aim := x + s.reach.lo + w.aim
		if off := max(s.behind.lo-aim, aim-s.behind.hi, 0); off < least {
			best, least = s, off
		}
	}
	return best
}

// middle is the middle of the widest interval, of the first if several are.
func middle(s set) nm {
	best := s[0]
	for _, v := range s {
		if v.hi-v.lo > best.hi-best.lo {
			best = v
		}
	}
	return best.lo + (best.hi-best.lo)/2
}

// around is the starts about a place that the rules treat alike.
func (g *ground) around(at place) interval {
	if at.part < 0 {
		return interval{0, 0}
	}
	v := interval{0, g.end}
	i, found := slices.BinarySearch(g.breaks, at.x.lo)
	if found {
		i++
	}
	if i > 0 {
		v.lo = g.breaks[i-1]
	}
	if i < len(g.breaks) {
		v.hi = g.breaks[i] - 1
	}
	return v
}
