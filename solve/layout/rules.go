package layout

import (
	"cmp"
	"slices"

	"trenchwright/base/sorting"
)

// law is what a rule asks of pieces beside the interval [from, to].
type law int8

const (
	noCut  law = iota // a cut piece ends before from or starts behind to
	demand            // another supply's piece and the joint behind it end before from, or the joint before it starts behind to
	forced            // a piece that starts before from is followed by one that starts at or before to
	short             // a piece that starts before from and ends behind it is no longer than limit
)

type rule struct {
	law      law
	from, to nm
	supply   int  // demand
	limit    nm   // short, as a length
	edge     bool // demand: starts lie just on to, with the joint before them behind it: only its own supply may still touch
}

// rulesOf lists the rules by where they begin, with the length of the longest.
func (p *Problem) rulesOf() ([]rule, nm) {
	var out []rule
	for _, z := range p.NoCut {
		out = append(out, rule{law: noCut, from: z.From, to: z.To})
	}
	for _, d := range p.Demands {
		out = append(out, rule{law: demand, from: max(0, d.From), to: min(p.Length, d.To), supply: d.Supply})
	}
	for _, j := range p.Joints {
		out = append(out, rule{law: forced, from: j.At - j.Tolerance, to: j.At + j.Tolerance})
	}
	for i, s := range p.Stretches {
		if s.MaxUnit > 0 && i > 0 {
			out = append(out, rule{law: short, from: s.From, to: s.From, limit: s.MaxUnit})
		}
	}
	sorting.By(out, func(a, b rule) int { return cmp.Compare(a.from, b.from) })
	var longest nm
	for _, r := range out {
		longest = max(longest, r.to-r.from)
	}
	return out, longest
}

// allBreaks is every chainage at which starts begin to be treated otherwise than just before it, ascending.
func (g *ground) allBreaks() []nm {
	var out []nm
	for _, r := range g.regions {
		out = append(out, r.lo)
	}
	for _, r := range g.rules {
		switch r.law {
		case noCut:
			out = append(out, r.to)
		case forced, short:
			out = append(out, r.from)
		case demand:
			out = append(out, r.to+1)
		}
	}
	sorting.Ascending(out)
	return slices.Compact(out)
}

// place is a range of starts that every rule treats alike: all on one stretch, their joint in one part.
type place struct {
	x    interval
	part int // the joint before it lies in parts[part]; -1: in none
	kind *kind
	leg  bool // it starts the leg
}

// passed tells whether the rule has no more to say to pieces that start at a place.
func (g *ground) passed(r rule, at place) bool {
	switch r.law {
	case noCut:
		return at.x.lo >= r.to
	case demand:
		return at.x.lo > r.to
	case forced, short:
		return at.x.lo >= r.from
	}
	return true
}

// relevant is the rules that pieces from a place may meet.
func (g *ground) relevant(at place, into []rule) []rule {
	into = into[:0]
	if len(g.rules) == 0 {
		return into
	}
	i, far := 0, at.x.lo-g.longest-g.reach
	for to := len(g.rules); i < to; {
		if mid := i + (to-i)/2; g.rules[mid].from < far {
			i = mid + 1
		} else {
			to = mid
		}
	}
	for ; i < len(g.rules) && g.rules[i].from <= at.x.hi+g.reach; i++ {
		if r := g.rules[i]; !g.passed(r, at) {
			r.edge = at.part >= 0 && g.parts[at.part].lo >= r.to
			into = append(into, r)
		}
	}
	return into
}

// limits bound where a piece may end and where the next one may start.
type limits struct {
	end  interval
	next nm // the next piece starts at or before
}

var free = limits{interval{-forever, forever}, forever}

// bound is what the rules leave of an entry. A rule for long pieces splits it, so there may be several.
func bound(e entry, rules []rule, g geometry, yield func(entry, limits)) {
	lim := free
	wanted := e.supply == 0
	touch := forever
	for _, r := range rules {
		switch {
		case r.law == noCut && e.cut:
			lim.end.hi = min(lim.end.hi, r.from)
		case r.law == demand && r.supply != e.supply && r.edge:
		case r.law == demand && r.supply != e.supply:
			lim.end.hi, lim.next = min(lim.end.hi, r.from), min(lim.next, r.from)
		case r.law == demand:
			wanted, touch = true, min(touch, r.from)
		case r.law == forced:
			lim.next = min(lim.next, r.to)
		}
	}
	if !wanted {
		return
	}
	if e.supply != 0 {
		lim.end.lo = touch
	}
	splitLong(e, lim, rules, g, yield)
}

// splitLong divides an entry at the lengths that stretches ahead allow: the longer a piece, the sooner it has to end.
func splitLong(e entry, lim limits, rules []rule, g geometry, yield func(entry, limits)) {
	var ahead []rule
	for _, r := range rules {
		if r.law == short && r.limit < e.length.hi {
			ahead = append(ahead, r)
		}
	}
	sorting.By(ahead, func(a, b rule) int { return cmp.Compare(b.limit, a.limit) })
	for i := 0; ; i++ {
		// ahead[i:] are the limits that this part of the entry breaks if it reaches them.
		part, l := e, lim
		if i > 0 {
			part.length.hi = min(part.length.hi, ahead[i-1].limit)
			part.advance.hi = min(part.advance.hi, g.advance(ahead[i-1].limit))
		}
		if i < len(ahead) {
			part.length.lo = max(part.length.lo, ahead[i].limit+1)
			part.advance.lo = max(part.advance.lo, g.advance(ahead[i].limit+1))
		}
		for _, r := range ahead[i:] {
			l.end.hi = min(l.end.hi, r.from)
		}
		if !part.length.empty() && !part.advance.empty() {
			yield(part, l)
		}
		if i == len(ahead) {
			return
		}
	}
}
