package layout

import (
	"fmt"
	"slices"

	"trenchwright/base/wording"
)

// Where no joint can stand over a stretch, one unit has to reach over it. Zones keep joints away, and near the ends of the
// leg so does the shortest unit that can be the first or the last. Such a stretch may be longer than any unit, or it may ask
// for a length that no unit can have.

// room is one place where joints can stand.
type room struct {
	interval
	single bool // too narrow for two joints with a unit between them
}

// spans are the rooms of a leg, its two ends among them, and what is too near to an end to be one.
type spans struct {
	*ground
	rooms       []room
	first, last nm       // the least length of a first and of a last unit; forever: there is none
	before      interval // the last place that is too near to the start; empty: none
	behind      interval // the first that is too near to the end
}

func (g *ground) newSpans() *spans {
	s := &spans{ground: g, first: forever, last: forever, before: interval{1, 0}, behind: interval{1, 0}}
	lo, hi := forever, g.end-forever
	for _, e := range g.first.entries {
		lo, s.first = min(lo, e.advance.lo), min(s.first, e.length.lo)
	}
	for _, k := range g.kinds {
		for _, e := range k.last.entries {
			hi, s.last = max(hi, g.end-e.advance.lo), min(s.last, e.length.lo)
		}
	}
	s.rooms = []room{{interval{0, 0}, true}}
	for _, part := range g.parts {
		v := part.and(interval{lo, hi})
		switch {
		case part.hi-part.lo < g.narrow:
		case v.hi-v.lo >= g.narrow:
			s.rooms = append(s.rooms, room{v, v.hi-v.lo < g.narrow+g.step})
		case part.hi-g.narrow < lo:
			s.before = part
		case s.behind.empty():
			s.behind = part
		}
	}
	s.rooms = append(s.rooms, room{interval{g.end, g.end}, true})
	return s
}

// spanReason: a stretch that one unit has to reach over, and none can.
func (g *ground) spanReason() string {
	s := g.newSpans()
	for i := range len(s.rooms) - 1 {
		if why := s.tooLong(s.rooms[i].hi, s.rooms[i+1].lo); why != "" {
			return why
		}
	}
	for i := range len(s.rooms) - 1 {
		if s.needed(i) && s.needed(i+1) {
			if why := s.noLength(i); why != "" {
				return why
			}
		}
	}
	return ""
}

// missing is the longest unit that is asked for and does not exist; 0 if there is none, or a curve allows none.
func (s *spans) missing() nm {
	var need nm
	for i := range len(s.rooms) - 1 {
		from, to := s.rooms[i].hi, s.rooms[i+1].lo
		if _, reach := s.longest(from, to); to-from > reach {
			need = max(need, s.kindAt(from).geometry.length(to-from))
			if need > s.p.limitOver(from, to) {
				return 0
			}
		}
	}
	return need
}

// tooLong says that no unit reaches from one chainage to another one.
func (s *spans) tooLong(from, to nm) string {
	longest, reach := s.longest(from, to)
	if to-from <= reach {
		return ""
	}
	p := s.p
	why := fmt.Sprintf("%s without a joint between %s and %s%s", p.say(to-from), p.say(from), p.say(to), p.names(from, to))
	if v := s.before; from == 0 && !v.empty() && v.hi < to && v.hi > s.narrow && s.first < forever {
		why += p.tell("; a joint before %s would leave a first %s of at most %s, shortest %s", p.say(v.hi), wording.Unit, p.say(v.hi-s.narrow), p.say(s.first))
	}
	if v := s.behind; to == s.end && !v.empty() && v.lo > from && v.lo+s.narrow < s.end && s.last < forever {
		why += p.tell("; a joint behind %s would leave a last %s of at most %s, shortest %s", p.say(v.lo), wording.Unit, p.say(s.end-v.lo-s.narrow), p.say(s.last))
	}
	switch {
	case longest > 0 && longest == p.longest():
		return why + p.tell("; longest %s %s", wording.Unit, p.say(longest))
	case longest > 0:
		return why + p.tell("; longest %s there %s", wording.Unit, p.say(longest))
	case from == 0 && to == s.end && p.Start.Mitred && p.End.Mitred:
		return why + p.tell("; one %s between two %ss would have no factory end", wording.Unit, wording.Mitre)
	}
	return why + p.tell("; no %s can lie there", wording.Unit)
}

// longest is the longest unit that can reach over a stretch without a joint, and how far it reaches along the axis.
func (s *spans) longest(from, to nm) (length, reach nm) {
	limit := s.p.limitOver(from, to)
	s.over(from, to, func(e entry, geo geometry) {
		if l := min(e.length.hi, limit); l >= e.length.lo {
			length, reach = max(length, l), max(reach, geo.advance(l))
		}
	})
	return length, reach
}

// over visits what may be laid over a stretch without a joint.
func (s *spans) over(from, to nm, visit func(entry, geometry)) {
	all := func(m menu, geo geometry) {
		for _, e := range m.entries {
			visit(e, geo)
		}
	}
	start := s.kinds[s.regions[0].kind].geometry
	whole := from == 0 && to == s.end
	for _, e := range s.only.entries {
		if whole || e.advance.holds(s.end) {
			visit(e, start)
		}
	}
	if !whole {
		if to < s.end {
			all(s.ground.first, start)
		}
		for _, k := range s.kinds {
			if from > 0 && to < s.end {
				all(k.inner, k.geometry)
			}
			if from > 0 {
				all(k.last, k.geometry)
			}
		}
	}
}

// limitOver is the longest unit that curves allow over a stretch.
func (p *Problem) limitOver(from, to nm) nm {
	limit := forever
	for _, s := range p.Stretches {
		if s.MaxUnit > 0 && s.From < to && s.To > from {
			limit = min(limit, s.MaxUnit)
		}
	}
	return limit
}

// needed tells whether every layout has exactly one joint in a room: no unit reaches past it, and no second joint fits.
func (s *spans) needed(i int) bool {
	if i == 0 || i == len(s.rooms)-1 {
		return true
	}
	from, to := s.rooms[i-1].hi, s.rooms[i+1].lo
	_, reach := s.longest(from, to)
	return s.rooms[i].single && to-from > reach
}

// noLength says that no unit has the length that fits between two rooms with one joint each.
func (s *spans) noLength(i int) string {
	a, b := s.rooms[i], s.rooms[i+1]
	fits := interval{b.lo - a.hi, b.hi - a.lo - 2*s.narrow}
	if i == 0 {
		fits.hi += s.narrow
	}
	if i+2 == len(s.rooms) {
		fits.hi += s.narrow
	}
	below, above, can := nm(0), forever, false
	s.over(a.hi, b.lo, func(e entry, geo geometry) {
		can = can || !e.advance.and(fits).empty()
		if e.advance.hi < fits.lo {
			below = max(below, e.length.hi)
		} else if e.advance.lo > fits.hi {
			above = min(above, e.length.lo)
		}
	})
	if can || fits.empty() {
		return ""
	}
	p := s.p
	size := p.say(fits.lo)
	if fits.hi > fits.lo {
		size += " to " + p.say(fits.hi)
	}
	why := p.tell("one %s of %s has to reach from %s to %s%s", wording.Unit, size, p.say(a.hi), p.say(b.lo), p.names(a.hi, b.lo))
	var near []string
	if below > 0 {
		near = append(near, p.say(below))
	}
	if above < forever {
		near = append(near, p.say(above))
	}
	switch len(near) {
	case 0:
		return why + p.tell("; no %s can lie there", wording.Unit)
	case 1:
		return why + "; the nearest that can be made is " + near[0]
	}
	return why + "; the nearest that can be made are " + listed(near)
}

// longest is the longest unit of all.
func (p *Problem) longest() nm {
	var l nm
	for _, s := range p.Supplies {
		l = max(l, s.longest())
	}
	return l
}

// curveReason: a stretch whose limit no unit keeps to.
func (p *Problem) curveReason() string {
	shortest := forever
	for _, f := range []shape{{}, {start: p.Start}, {end: p.End}, {p.Start, p.End}} {
		for _, e := range p.menuOn(geometry{cosine: 1}, 0, f).entries {
			shortest = min(shortest, e.length.lo)
		}
	}
	for _, w := range p.curveWishes() {
		s := p.Stretches[w.at]
		if s.MaxUnit < shortest && w.to-w.from > p.widestGap() {
			return fmt.Sprintf("%s; the shortest that can be made is %s", w.name, p.say(shortest))
		}
	}
	return ""
}

// widestGap is the widest joint of all.
func (p *Problem) widestGap() nm {
	var g nm
	for _, s := range p.Supplies {
		g = max(g, s.Gap.Max)
	}
	for _, s := range p.Stretches {
		g = max(g, s.Gap.Max)
	}
	return g
}

// curveWishes are the limits that curves set to units, each with where it begins and ends.
func (p *Problem) curveWishes() []wish {
	var out []wish
	for i, s := range p.Stretches {
		if s.MaxUnit == 0 {
			continue
		}
		if n := len(out); n > 0 && out[n-1].to == s.From && p.Stretches[out[n-1].at].MaxUnit == s.MaxUnit && p.Stretches[out[n-1].at].Radius == s.Radius {
			out[n-1].to = s.To
			continue
		}
		out = append(out, wish{kind: curveWish, at: i, from: s.From, to: s.To})
	}
	for i := range out {
		w := &out[i]
		s := p.Stretches[w.at]
		w.name = p.tell("no %s longer than %s from %s to %s", wording.Unit, p.say(s.MaxUnit), p.say(w.from), p.say(w.to))
		if s.Radius > 0 {
			w.name += fmt.Sprintf(", a curve of %s m radius", s.Radius.MString())
		}
	}
	return out
}

// limited keeps the limits of the curves that are wished for, and lifts the others as far as a chord reaches.
func (p *Problem) limited(wishes []wish) []Stretch {
	if !slices.ContainsFunc(p.Stretches, func(s Stretch) bool { return s.MaxUnit > 0 }) {
		return p.Stretches
	}
	out := slices.Clone(p.Stretches)
	for i := range out {
		s := &out[i]
		kept := slices.ContainsFunc(wishes, func(w wish) bool { return w.kind == curveWish && w.from <= s.From && s.To <= w.to })
		if s.MaxUnit == 0 || kept {
			continue
		}
		if s.MaxUnit = 0; s.Radius > 0 && 2*s.Radius <= p.longest() {
			s.MaxUnit = 2*s.Radius - 1
		}
	}
	return out
}
