package layout

// Solve lays out one leg. Among layouts with the fewest units, then cut units, then cut covers it chooses, in this order:
//
//  1. gaps as aimed at, if that costs nothing (and that is found out in a quarter of the time);
//  2. the joint nearest to a zone as far away from it as can be had, up to Problem.Clear (legs whose corridor has at most mostNodes nodes);
//  3. closers not beside a fixed end, not in a zone, not beside another cut unit, as far as exchanging them with whole
//     neighbours gets;
//  4. whole units from the start, the longest first: closers late;
//  5. cut lengths as wished for, or else as equal as may be;
//  6. those that are free a whole number of Prefer.Step, in laying order: the last of them takes what is left over.
//
// The error is for a Problem that contradicts itself; it names every field at fault.
func Solve(p Problem) (Solution, error) {
	if err := p.faults(); err != nil {
		return Solution{}, err
	}
	g := newGround(&p, false)
	cert, from, ok := g.run()
	out := Solution{Certificate: cert, LeastUnits: p.leastUnits()}
	switch {
	case !ok:
		out.Verdict, out.Why = Undecided, tooLong
		return out, nil
	case from.cost == noCost:
		out.Verdict, out.Why, out.Try = Impossible, g.reason(cert), p.remedies()
		return out, nil
	}
	least := from.cost
	out.Opened = p.windowed()
	if out.Opened {
		narrow := newGround(&p, true)
		narrow.limit, narrow.budget = least, g.budget.part(4)
		if c, begin, ok := narrow.run(); ok && begin.cost == least {
			g, cert, from, out.Opened = narrow, c, begin, false
		}
	}
	r, best := g.choose(cert, from)
	r.slide()
	r.settle()
	out.Verdict, out.Units = Found, r.units()
	out.Count = count(out.Units)
	out.Clearance = p.clearance(out.Units)
	out.Clearance.Best = best && out.Clearance.Known
	out.Why = p.whyCut(out.Count)
	if p.Hold {
		out.Held = r.hold(out.Units)
	}
	if out.Count.cost() != least {
		panic("layout: the layout costs other than its proof")
	}
	return out, nil
}

// Possible tells whether a leg can be laid, and what for, without laying it out: for asking what a change would do. The
// answer is not checked, and false is also said of a Problem that contradicts itself or is too long.
func Possible(p Problem) (Count, bool) {
	if p.faults() != nil {
		return Count{}, false
	}
	c, ok, _ := p.possible()
	if !ok {
		return Count{}, false
	}
	return c.count(), true
}

// choose picks one layout of the least cost, and says whether none keeps further away from zones.
func (g *ground) choose(cert *Certificate, from beginning) (*route, bool) {
	if len(g.p.Zones) > 0 && from.free != nil && from.toGo/oneUnit < mostNodes {
		if c := g.newCorridor(cert, from); c != nil {
			n := g.p.notch()
			notches, open := c.away(n)
			parts := g.kept(n, notches)
			return g.follow(from, parts, c.ways(open, parts)), true
		}
	}
	return g.follow(from, g.parts, g.ways(cert)), false
}

const tooLong = "the leg is too long, or its lengths come to too many different sums, for one programme: divide it at a joint that is fixed, or lay it with fewer stock lengths"

// windowed tells whether any joint may open.
func (p *Problem) windowed() bool {
	for _, s := range p.Supplies {
		if s.Gap.Min != s.Gap.Max {
			return true
		}
	}
	for _, s := range p.Stretches {
		if s.Gap.Min != s.Gap.Max {
			return true
		}
	}
	return false
}

// leastUnits is ⌈(L+g)/(l+g)⌉ with the widest gap and the longest unit.
func (p *Problem) leastUnits() int {
	var l, g nm
	for _, s := range p.Supplies {
		l, g = max(l, s.longest()), max(g, s.Gap.Max)
	}
	for _, s := range p.Stretches {
		g = max(g, s.Gap.Max)
	}
	n := (p.Length + g + l + g - 1) / (l + g)
	return int(max(1, n))
}
