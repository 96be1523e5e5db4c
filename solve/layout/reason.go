package layout

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/sorting"
	"trenchwright/base/wording"
)

// A leg that is impossible names the smallest reason: what no single piece can do, then what no number of pieces can come
// to, then the fewest demands that cannot be met together.

// mostTried is the number of units up to which a leg is solved again and again to find reasons.
const mostTried = 4_000

// reason says in words why no layout exists.
func (g *ground) reason(cert *Certificate) string {
	p := g.p
	if why := p.mitreReason(); why != "" {
		return why
	}
	if why := p.shortReason(); why != "" {
		return why
	}
	if why := p.curveReason(); why != "" {
		return why
	}
	if why := g.sumReason(); why != "" {
		return why
	}
	if why := g.spanReason(); why != "" {
		return why
	}
	if p.leastUnits() <= mostTried {
		return p.conflictReason()
	}
	last := p.Length
	if cert.size > 0 {
		last = cert.at(cert.size - 1).lo
	}
	return fmt.Sprintf("the leg can be laid from its end back to %s and no further", p.say(last))
}

// shortReason: a leg too short for any piece, or for any but one that has no factory end.
func (p *Problem) shortReason() string {
	least, one := forever, forever
	for _, s := range p.Supplies {
		ha, hz := half(s.Width, p.Start.Tan), half(s.Width, p.End.Tan)
		both := p.Start.Mitred && p.End.Mitred
		single := s.ShortestCut + half(s.Width, p.End.Tan-p.Start.Tan)
		two := 2*s.ShortestCut + ha + hz + s.Gap.Min
		if !both && !p.Start.Mitred && !p.End.Mitred {
			for _, k := range s.Stocks {
				single = min(single, k.Length)
			}
		}
		one = min(one, single)
		if both && s.KeepFactoryEnd {
			single = two
		}
		least = min(least, single)
	}
	s := p.Supplies[0]
	switch {
	case p.Length < one && one == s.ShortestCut:
		return p.tell("leg %s is shorter than the shortest cut %s %s", p.say(p.Length), wording.Unit, p.say(s.ShortestCut))
	case p.Length < one:
		return fmt.Sprintf("leg %s is shorter than any piece that fits its ends, %s", p.say(p.Length), p.say(one))
	case p.Length < least:
		return p.tell("one piece of %s between two %ss has no factory end, and two need %s", p.say(p.Length), wording.Mitre, p.say(least))
	}
	return ""
}

// names lists the zones of a stretch, in brackets.
func (p *Problem) names(from, to nm) string {
	var out []string
	for _, z := range p.Zones {
		if z.Why != "" && z.From < to && z.To > from && !slices.Contains(out, z.Why) {
			out = append(out, z.Why)
		}
	}
	if len(out) == 0 {
		return ""
	}
	return " (" + listed(out) + ")"
}

// listed joins words for a sentence; long lists are shortened.
func listed(words []string) string {
	if n := len(words); n > 6 {
		words = append(slices.Clone(words[:5]), fmt.Sprintf("%d more", n-5))
	}
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// sumReason: no number of units comes to the length, whatever lies on the leg.
func (g *ground) sumReason() string {
	if len(g.kinds) > 1 || g.p.leastUnits() > mostTried {
		return ""
	}
	for _, w := range g.kinds[0].windows[1:] { // which joint opens how far is a matter of where supplies change
		if w != g.kinds[0].windows[0] {
			return ""
		}
	}
	below, above, decided := g.nearestLengths()
	if below == g.p.Length || !decided {
		return ""
	}
	text := g.p.tell("no number of whole and cut %s comes to %s", wording.Units, g.p.say(g.p.Length))
	if !g.mayCut() {
		text = g.p.tell("nothing can be cut, and no number of whole %s comes to %s", wording.Units, g.p.say(g.p.Length))
	}
	switch {
	case below > 0 && above < forever:
		return text + fmt.Sprintf("; the nearest that can be laid are %s and %s", g.p.say(below), g.p.say(above))
	case above < forever:
		return text + fmt.Sprintf("; the shortest that can be laid is %s", g.p.say(above))
	}
	return text
}

func (g *ground) mayCut() bool {
	for _, k := range g.kinds {
		for _, e := range k.inner.entries {
			if e.cut {
				return true
			}
		}
	}
	return false
}

// mostSums is how many different ranges of sums are kept account of.
const mostSums = 1_000

// nearestLengths is the longest leg up to this one, and the shortest from it on, that free ground would take; 0 and forever
// if there is none near. decided is false where there are too many sums to say that none is nearer.
func (g *ground) nearestLengths() (below, above nm, decided bool) {
	spans := func(m menu) set {
		var all []interval
		for _, e := range m.entries {
			all = append(all, e.advance)
		}
		return union(all)
	}
	k := g.kinds[0]
	inner, last := spans(k.inner), spans(k.last)
	w := k.windows[0]
	below, above = 0, forever
	look := func(s set) {
		for _, v := range s {
			if v.lo <= g.end {
				below = max(below, min(v.hi, g.end))
			}
			if v.hi >= g.end {
				above = min(above, max(v.lo, g.end))
			}
		}
	}
	look(spans(g.only))
	joint := set{{w.min, w.max}}
	for sum := sums(spans(g.first), joint); len(sum) > 0 && sum[0].lo <= g.end; sum = sums(sums(sum, inner), joint) {
		look(sums(sum, last))
		if below == g.end {
			break
		}
		if len(sum) > mostSums {
			return below, above, false
		}
		for len(sum) > 0 && sum[len(sum)-1].lo > g.end {
			sum = sum[:len(sum)-1]
		}
	}
	return below, above, true
}

// sums is every sum of a point of s and a point of t.
func sums(s, t set) set {
	var all []interval
	for _, a := range s {
		for _, b := range t {
			all = append(all, interval{a.lo + b.lo, a.hi + b.hi})
		}
	}
	return union(all)
}

// wish is one thing that a problem asks for and that could be left out.
type wish struct {
	name string
	kind int // by which it is left out: zone, noCut, demand, joint, first, curve
	at   int
	from nm
	to   nm // of a curve
}

const (
	zoneWish = iota
	noCutWish
	demandWish
	jointWish
	firstWish
	curveWish
)

// wishes lists what a problem asks for along its leg.
func (p *Problem) wishes() []wish {
	var out []wish
	named := func(what, why string, from, to nm) string {
		text := fmt.Sprintf("%s from %s to %s", what, p.say(from), p.say(to))
		if from == to {
			text = fmt.Sprintf("%s at %s", what, p.say(from))
		}
		if why != "" {
			text += " (" + why + ")"
		}
		return text
	}
	for i, z := range p.Zones {
		out = append(out, wish{named("no joint", z.Why, z.From, z.To), zoneWish, i, z.From, 0})
	}
	for i, z := range p.NoCut {
		out = append(out, wish{named(p.tell("no cut %s", wording.Unit), z.Why, z.From, z.To), noCutWish, i, z.From, 0})
	}
	for i, d := range p.Demands {
		out = append(out, wish{named(p.tell("%s of %s", wording.Units, cmp.Or(p.Supplies[d.Supply].Name, "another supply")), d.Why, d.From, d.To), demandWish, i, d.From, 0})
	}
	for i, j := range p.Joints {
		out = append(out, wish{named("a joint", j.Why, j.At-j.Tolerance, j.At+j.Tolerance), jointWish, i, j.At, 0})
	}
	if len(p.First) > 0 {
		out = append(out, wish{p.tell("the lengths of the first %s", wording.Units), firstWish, 0, 0, 0})
	}
	out = append(out, p.curveWishes()...)
	sorting.By(out, func(a, b wish) int { return cmp.Compare(a.from, b.from) })
	return out
}

// with is the problem with only some of its wishes.
func (p *Problem) with(wishes []wish) Problem {
	q := *p
	q.Zones, q.NoCut, q.Demands, q.Joints, q.First = nil, nil, nil, nil, nil
	q.Stretches = p.limited(wishes)
	for _, w := range wishes {
		switch w.kind {
		case zoneWish:
			q.Zones = append(q.Zones, p.Zones[w.at])
		case noCutWish:
			q.NoCut = append(q.NoCut, p.NoCut[w.at])
		case demandWish:
			q.Demands = append(q.Demands, p.Demands[w.at])
		case jointWish:
			q.Joints = append(q.Joints, p.Joints[w.at])
		case firstWish:
			q.First = p.First
		}
	}
	return q
}

// possible tells whether a problem has a layout and at which cost; decided is false if that took too long to find out.
func (p *Problem) possible() (least cost, ok, decided bool) {
	g := newGround(p, false)
	g.budget = g.budget.part(8) // it is one of many
	_, from, decided := g.run()
	return from.cost, decided && from.cost != noCost, decided
}

// conflict is a smallest set of wishes that cannot be met together. Demands forbid one supply and allow another one, so they
// are not taken away while the others are sifted; those without which it could be done are named with them.
func (p *Problem) conflict() []wish {
	all := p.wishes()
	isDemand := func(w wish) bool { return w.kind == demandWish }
	rest := slices.DeleteFunc(slices.Clone(all), isDemand)
	demands := slices.DeleteFunc(slices.Clone(all), func(w wish) bool { return !isDemand(w) })
	switch {
	case !p.meets(nil):
		return nil
	case !p.meets(demands):
		for _, d := range slices.Clone(demands) {
			if fewer := leftOut(demands, d); !p.meets(fewer) {
				demands = fewer
			}
		}
		return demands
	}
	needed := p.sift(demands, rest, false)
	out := slices.Clone(needed)
	for _, d := range demands {
		if p.meets(slices.Concat(needed, leftOut(demands, d))) {
			out = append(out, d)
		}
	}
	sorting.By(out, func(a, b wish) int { return cmp.Compare(a.from, b.from) })
	return out
}

// sift finds a smallest part of rest that cannot be met together with what is known: half of it is taken as known to sift
// the other half, until nothing can be left out.
func (p *Problem) sift(known, rest []wish, added bool) []wish {
	if added && !p.meets(known) || len(rest) == 0 {
		return nil
	}
	if len(rest) == 1 {
		return rest
	}
	a, b := rest[:len(rest)/2], rest[len(rest)/2:]
	needB := p.sift(slices.Concat(known, a), b, len(a) > 0)
	needA := p.sift(slices.Concat(known, needB), a, len(needB) > 0)
	return slices.Concat(needA, needB)
}

// meets tells whether some wishes can be met together, as far as is known.
func (p *Problem) meets(wishes []wish) bool {
	q := p.with(wishes)
	_, ok, decided := q.possible()
	return ok || !decided
}

func leftOut(wishes []wish, w wish) []wish {
	return slices.DeleteFunc(slices.Clone(wishes), func(o wish) bool { return o.kind == w.kind && o.at == w.at })
}

func (p *Problem) conflictReason() string {
	wishes := p.conflict()
	var names []string
	for _, w := range wishes {
		names = append(names, w.name)
	}
	switch len(names) {
	case 0:
		return p.tell("no sequence of %s comes to %s on these stretches", wording.Units, p.say(p.Length))
	case 1:
		return "this cannot be met: " + names[0] + p.comesBack(wishes)
	}
	return "these cannot be met together: " + listed(names) + p.comesBack(wishes)
}

// comesBack says how far a leg with some of its wishes can be laid from its end, where it cannot be laid whole.
func (p *Problem) comesBack(wishes []wish) string {
	q := p.with(wishes)
	g := newGround(&q, false)
	g.budget = g.budget.part(8)
	cert, from, decided := g.run()
	if !decided || from.cost != noCost || cert.size == 0 {
		return ""
	}
	return fmt.Sprintf("; laid from its end, the leg comes back to %s and no further", p.say(cert.at(cert.size-1).lo))
}
