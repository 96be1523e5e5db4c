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
	parts []interval // of the axis where joints may lie, perhaps kept away from zones
	links []link
	x     []nm // start of each
	d     []nm // advance of each
	stop  int  // how many pieces to lay; 0: to the end of the leg
	next  nm   // where the piece behind the last one starts, if the leg goes on
}

// step is one way on from a start.
type step struct {
	piece  *entry
	lim    limits
	reach  interval // advances of the piece that keep to the cost
	behind level    // where the next piece starts
	last   bool     // the piece ends the leg
}

// ways lists the steps from a place that cost exactly toGo: a last piece, then whole units, the longest first, then cut ones.
// The list is good until the next call.
type ways func(at place, toGo cost) []step

// each visits what the rules leave of two menus at a place, first the pieces that end the leg, while visit says so.
func (g *ground) each(at place, visit func(e *entry, lim limits, last bool) bool) {
	inner, last := &at.kind.inner, &at.kind.last
	if at.leg {
		inner, last = &g.first, &g.only
	}
	rules := g.relevant(at, nil)
	going := true
	for _, m := range []*menu{last, inner} {
		if len(rules) == 0 {
			for i := 0; i < m.plain && going; i++ {
				going = visit(&m.entries[i], free, m == last)
			}
			continue
		}
		for _, e := range m.entries {
			bound(e, rules, at.kind.geometry, func(e entry, lim limits) {
				going = going && visit(&e, lim, m == last)
			})
		}
	}
}

// ends tells whether an entry can end the leg from x.
func (g *ground) ends(x nm, e *entry, lim limits) bool {
	return e.advance.holds(g.end-x) && lim.end.holds(g.end) && lim.next >= g.end
}

// ways reads the steps out of the cost to go. It stops when the first whole unit is found: nothing is preferred to it.
func (g *ground) ways(cert *Certificate) ways {
	var found []step
	return func(at place, toGo cost) []step {
		found = found[:0]
		x := at.x.lo
		g.each(at, func(e *entry, lim limits, last bool) bool {
			switch {
			case last && e.cost == toGo && g.ends(x, e, lim):
				found = append(found, step{piece: e, lim: lim, reach: interval{g.end - x, g.end - x}, last: true})
			case !last && e.cost < toGo:
				g.onward(cert, at.x, e, lim, toGo-e.cost, func(_ int, behind level, reach interval) {
					found = append(found, step{piece: e, lim: lim, reach: reach, behind: behind})
				})
			}
			return len(found) == 0 || found[0].piece.cut && !found[0].last
		})
		return found
	}
}

// onward visits every level of a cost, noCost for any, that an entry laid from x leads to, with the advances that lead there
// from the one or other end of x, the furthest level first.
func (g *ground) onward(cert *Certificate, x interval, e *entry, lim limits, costing cost, visit func(int, level, interval)) {
	far := x.hi + e.advance.hi + g.reach
	if len(g.kinds) == 1 {
		far = x.hi + e.advance.hi + g.kinds[0].windows[e.supply].max
	}
	for i := cert.below(far); i < cert.size; i++ {
		p := cert.packed(i)
		if p.hi() < x.lo+e.advance.lo {
			return
		}
		if p.cost != costing && costing != noCost {
			continue
		}
		l := cert.at(i)
		w := g.kindAt(l.lo).windows[e.supply]
		reach := interval{
			max(e.advance.lo, g.parts[l.part].lo-x.hi, l.lo-w.max-x.hi, lim.end.lo-x.hi),
			min(e.advance.hi, l.hi-w.min-x.lo, lim.end.hi-x.lo, lim.next-w.min-x.lo),
		}
		if !reach.empty() && l.lo <= lim.next {
			visit(i, l, reach)
		}
	}
}

// follow makes a route of the best way to begin and what comes after it.
func (g *ground) follow(from beginning, parts []interval, on ways) *route {
	r := &route{g: g, parts: parts, links: from.links}
	n := int(from.cost / oneUnit)
	r.links = slices.Grow(r.links, n-len(r.links))
	r.x, r.d = make([]nm, len(r.links), n), make([]nm, len(r.links), n)
	if from.free != nil {
		r.walk(*from.free, from.toGo, on)
	}
	return r
}

// walk goes on from a place to the end, one preferred step after the other: whole units first, so that closers come late.
func (r *route) walk(at place, toGo cost, on ways) {
	for {
		found := on(at, toGo)
		if len(found) == 0 {
			panic("layout: the cost to go leads nowhere")
		}
		best := r.g.prefer(found, at)
		k := link{best.piece, r.g.around(at), best.lim.end, best.lim.next, -1}
		x, d := at.x.lo, best.reach.lo
		r.x, r.d = append(r.x, x), append(r.d, d)
		if best.last {
			r.links = append(r.links, k)
			return
		}
		k.part = int(best.behind.part)
		r.links = append(r.links, k)
		w := r.g.kindAt(best.behind.lo).windows[best.piece.supply]
		next := min(max(x+d+w.aim, best.behind.lo, x+d+w.min), best.behind.hi, x+d+w.max, best.lim.next)
		r.next = next
		if r.stop > 0 && len(r.links) == r.stop {
			return
		}
		at = place{x: interval{next, next}, part: k.part, kind: r.g.kindAt(next)}
		toGo = best.behind.cost
	}
}

// prefer chooses a step: the last piece; the first whole unit, with the joint as near to what is aimed at as may be; or else
// the cut length that is wished for, or the middle of the widest range of lengths, rounded to the step that is wished for.
func (g *ground) prefer(found []step, at place) step {
	if found[0].last {
		return found[0]
	}
	if !found[0].piece.cut {
		return g.nearest(found, at.x.lo)
	}
	var ranges []interval
	for _, s := range found {
		ranges = append(ranges, s.reach)
	}
	all := union(ranges)
	widest := all.widest()
	want := at.kind.geometry.rounded(widest.lo+(widest.hi-widest.lo)/2, widest, g.p.Prefer.Step)
	for _, wish := range g.p.Prefer.Cuts {
		if a := at.kind.geometry.advance(wish); all.holds(a) {
			want = a
			break
		}
	}
	i := slices.IndexFunc(found, func(s step) bool { return s.reach.holds(want) })
	found[i].reach = interval{want, want}
	return found[i]
}

// nearest is the step of the first whole unit whose joint can be nearest to what is aimed at.
func (g *ground) nearest(found []step, x nm) step {
	best, least := found[0], forever
	for _, s := range found {
		if s.piece.cut || s.piece.length != found[0].piece.length || s.piece.supply != found[0].piece.supply {
			break
		}
		w := g.kindAt(s.behind.lo).windows[s.piece.supply]
		aim := x + s.reach.lo + w.aim
		if off := max(s.behind.lo-aim, aim-s.behind.hi, 0); off < least {
			best, least = s, off
		}
	}
	return best
}

// widest is the widest interval, the first if several are.
func (s set) widest() interval {
	best := s[0]
	for _, v := range s {
		if v.hi-v.lo > best.hi-best.lo {
			best = v
		}
	}
	return best
}

// around is the starts about a place that the rules treat alike.
func (g *ground) around(at place) interval {
	if at.leg {
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
