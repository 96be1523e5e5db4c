package layout

// corridor is every start that lies on some layout of the least cost, as a graph of intervals. It is thin where the cost to
// go is broad, so that further wishes can be tried on it again and again.
type corridor struct {
	g     *ground
	cert  *Certificate
	nodes []node  // ascending: arcs lead on only
	of    []int32 // by level of the certificate
	arcs  []arc
	last  int // the first node from which a piece leads to the end of the leg
}

// node is a part of one level; the first is where the free part of the leg begins.
type node struct {
	x    interval
	at   place
	toGo cost
	arcs [2]int // from, to in arcs
	back int    // the first node that leads here
}

// arc is a piece that leads from its node to another one, or to the end.
type arc struct {
	piece *entry
	lim   limits
	to    int // -1: the end of the leg
}

// mostNodes bounds the time that ties may take.
const mostNodes = 1 << 16

// newCorridor collects the starts level by level from the beginning of the leg; nil if there are too many.
func (g *ground) newCorridor(cert *Certificate, from beginning) *corridor {
	c := &corridor{g: g, cert: cert, of: make([]int32, cert.size), last: mostNodes}
	hull := make([]interval, cert.size) // by level: the starts that can be reached
	for i := range hull {
		hull[i] = interval{forever, -forever}
	}
	reached := func(i int, x interval) {
		hull[i] = interval{min(x.lo, hull[i].lo), max(x.hi, hull[i].hi)}
	}
	next := cert.size - 1
	c.grow(*from.free, from.free.x, from.toGo, reached)
	for ; next >= 0 && len(c.nodes) < mostNodes; next-- {
		if hull[next].empty() {
			continue
		}
		l := cert.at(next)
		c.of[next] = int32(len(c.nodes))
		c.grow(place{x: interval{l.lo, l.hi}, part: int(l.part), kind: g.kindAt(l.lo)}, hull[next], l.cost, reached)
	}
	if next >= 0 {
		return nil
	}
	c.trace()
	return c
}

// trace gives arcs their nodes for the levels that they name, and nodes the first one that leads to them.
func (c *corridor) trace() {
	for i := range c.nodes {
		c.nodes[i].back = i
	}
	for i := len(c.nodes) - 1; i >= 0; i-- {
		arcs := c.arcs[c.nodes[i].arcs[0]:c.nodes[i].arcs[1]]
		for k := range arcs {
			if arcs[k].to < 0 {
				c.last = i
				continue
			}
			arcs[k].to = int(c.of[arcs[k].to])
			c.nodes[arcs[k].to].back = i
		}
	}
}

// grow adds a node with all its arcs, which name levels until all nodes stand.
func (c *corridor) grow(at place, x interval, toGo cost, reached func(int, interval)) {
	n := node{x: x, at: at, toGo: toGo, arcs: [2]int{len(c.arcs), 0}}
	c.g.each(at, func(e *entry, lim limits, last bool) bool {
		switch {
		case last && e.cost == toGo && lim.end.holds(c.g.end) && lim.next >= c.g.end &&
			!(interval{c.g.end - e.advance.hi, c.g.end - e.advance.lo}).and(x).empty():
			c.arcs = append(c.arcs, arc{e, lim, -1})
		case !last && e.cost < toGo:
			c.g.onward(c.cert, x, e, lim, toGo-e.cost, func(i int, l level, reach interval) {
				w := c.g.kindAt(l.lo).windows[e.supply]
				ends := interval{max(x.lo+reach.lo, c.g.parts[l.part].lo), x.hi + reach.hi}
				v := interval{max(l.lo, ends.lo+w.min), min(l.hi, ends.hi+w.max, lim.next)}
				if !v.empty() {
					c.arcs = append(c.arcs, arc{e, lim, i})
					reached(i, v)
				}
			})
		}
		return true
	})
	n.arcs[1] = len(c.arcs)
	c.nodes = append(c.nodes, n)
}

// opened says from which starts of each node the end of the leg can be reached.
type opened struct {
	sets []set
	room []interval // that they lie in
}

// open finds that for parts narrowed to keep joints away from zones; the room of another finding may be used up for it.
func (c *corridor) open(parts []interval, into opened) opened {
	if into.sets == nil {
		into = opened{make([]set, len(c.nodes)), make([]interval, 0, 2*len(c.nodes))}
	}
	out, room := into.sets, into.room[:0]
	clear(out)
	first := c.last // of the nodes that lead to what is open so far
	for i := len(c.nodes) - 1; i >= first; i-- {
		n := &c.nodes[i]
		from := len(room)
		for _, a := range c.arcs[n.arcs[0]:n.arcs[1]] {
			if a.to < 0 {
				room = append(room, interval{c.g.end - a.piece.advance.hi, c.g.end - a.piece.advance.lo}.and(n.x))
				continue
			}
			for _, s := range out[a.to] {
				room = append(room, c.back(a, s, parts).and(n.x))
			}
		}
		out[i] = united(room[from:])
		room = room[:from+len(out[i])]
		if len(out[i]) > 0 {
			first = min(first, n.back)
		}
	}
	return opened{out, room}
}

// back is where an arc may start that leads into s.
func (c *corridor) back(a arc, s interval, parts []interval) interval {
	ends := c.endings(a, s, parts)
	if ends.empty() {
		return ends
	}
	return interval{ends.lo - a.piece.advance.hi, ends.hi - a.piece.advance.lo}
}

// endings is where the piece of an arc may end that leads into s.
func (c *corridor) endings(a arc, s interval, parts []interval) interval {
	to := &c.nodes[a.to]
	part := parts[to.at.part]
	s = s.and(interval{part.lo, min(part.hi, a.lim.next)})
	if s.empty() {
		return s
	}
	w := to.at.kind.windows[a.piece.supply]
	return interval{s.lo - w.max, s.hi - w.min}.and(a.lim.end).and(interval{part.lo, forever})
}

// ways reads the steps out of the corridor.
func (c *corridor) ways(open []set, parts []interval) ways {
	return func(at place, toGo cost) []step {
		i := 0
		x := at.x.lo
		if !at.leg && (x != c.nodes[0].x.lo || at.part != c.nodes[0].at.part) {
			i = int(c.of[c.level(at)])
		}
		var found []step
		n := &c.nodes[i]
		for _, a := range c.arcs[n.arcs[0]:n.arcs[1]] {
			if a.to < 0 {
				if c.g.ends(x, a.piece, a.lim) {
					found = append(found, step{piece: a.piece, lim: a.lim, reach: interval{c.g.end - x, c.g.end - x}, last: true})
				}
				continue
			}
			to := &c.nodes[a.to]
			for _, s := range open[a.to] {
				ends := c.endings(a, s, parts)
				if v := (interval{ends.lo - x, ends.hi - x}).and(a.piece.advance); !ends.empty() && !v.empty() {
					s = s.and(parts[to.at.part])
					found = append(found, step{piece: a.piece, lim: a.lim, reach: v, behind: level{s.lo, s.hi, to.toGo, int32(to.at.part)}})
				}
			}
		}
		return found
	}
}

// level is the certificate's interval that a place lies in.
func (c *corridor) level(at place) int {
	for i := c.cert.below(at.x.lo); ; i++ {
		if l := c.cert.at(i); int(l.part) == at.part {
			return i
		}
	}
}
