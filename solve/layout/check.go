package layout

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sort"

	"trenchwright/base/finding"
	"trenchwright/base/sorting"
)

// Check verifies a solution against its problem: the arrangement piece by piece, and the claim of best or impossible by the
// certificate. It shares no code with the solver, only the types and the way a certificate is stored. No finding: all holds.
func Check(p Problem, s Solution) []finding.Finding {
	c := checker{p: p, s: s}
	c.p.Zones, c.p.NoCut = c.sorted(p.Zones), c.sorted(p.NoCut)
	switch s.Verdict {
	case Found:
		c.arrangement()
		c.proof(true)
	case Impossible:
		c.proof(false)
	case Undecided:
		c.say("layout.check.undecided", 0, "nothing is claimed, so nothing is checked")
		c.out[0].Kind = finding.NotChecked
	default:
		c.say("layout.check.verdict", 0, "verdict %q is none of found, impossible, undecided", s.Verdict)
	}
	return c.out
}

// CheckLaid verifies an arrangement alone, piece by piece: units that somebody chose, of which nobody says that they are best.
func CheckLaid(p Problem, units []Unit) []finding.Finding {
	c := checker{p: p, s: Solution{Verdict: Found, Units: units}}
	c.p.Zones, c.p.NoCut = c.sorted(p.Zones), c.sorted(p.NoCut)
	for _, u := range units {
		c.s.Count.Units++
		if u.Cut {
			c.s.Count.Cuts++
		}
		for _, k := range u.Covers {
			if k.Cut {
				c.s.Count.CutCovers++
			}
		}
	}
	c.arrangement()
	return c.out
}

type checker struct {
	p      Problem // with its zones sorted
	s      Solution
	widest nm // of all zones
	out    []finding.Finding
}

// mostFindings keeps a wrong layout of a long leg from burying its reader.
const mostFindings = 100

func (c *checker) say(id string, at nm, format string, args ...any) {
	if len(c.out) >= mostFindings {
		return
	}
	c.out = append(c.out, finding.Finding{
		ID: id, Kind: finding.Fault, Text: fmt.Sprintf(format, args...), Where: finding.Where{Chainage: &at},
	})
}

func (c *checker) arrangement() {
	units := c.s.Units
	if len(units) == 0 {
		c.say("layout.check.empty", 0, "a layout is claimed, but it has no units")
		return
	}
	if units[0].Start != 0 {
		c.say("layout.check.start", units[0].Start, "the first unit starts at %s, not at 0", inMM(units[0].Start))
	}
	if last := units[len(units)-1]; last.Start+last.Advance != c.p.Length {
		c.say("layout.check.end", last.Start, "the last unit ends at %s, the leg at %s", inMM(last.Start+last.Advance), inMM(c.p.Length))
	}
	for i := range units {
		if u := units[i]; u.Supply < 0 || u.Supply >= len(c.p.Supplies) {
			c.say("layout.check.supply", u.Start, "unit %d is of supply %d; there are %d", i+1, u.Supply, len(c.p.Supplies))
			return
		}
		c.unit(i)
	}
	c.joints()
	c.demands()
	c.forced()
	c.counts()
	c.clearances()
}

// on is the stretch that a unit or joint belongs to.
func (c *checker) on(x nm) Stretch {
	if len(c.p.Stretches) == 0 {
		return Stretch{To: c.p.Length}
	}
	return c.p.Stretches[max(0, sort.Search(len(c.p.Stretches), func(i int) bool { return c.p.Stretches[i].From > x })-1)]
}

// near is the zones of a list, sorted by where they begin, that may meet [lo, hi].
func (c *checker) near(sorted []Zone, lo, hi nm) []Zone {
	i := sort.Search(len(sorted), func(i int) bool { return sorted[i].From > lo-c.widest })
	j := sort.Search(len(sorted), func(i int) bool { return sorted[i].From > hi })
	return sorted[min(i, j):j]
}

// sorted is a copy of zones by where they begin; the widest of all is remembered.
func (c *checker) sorted(zones []Zone) []Zone {
	out := slices.Clone(zones)
	sorting.By(out, func(a, b Zone) int { return cmp.Compare(a.From, b.From) })
	for _, z := range out {
		c.widest = max(c.widest, z.To-z.From+1)
	}
	return out
}

// covers is the chainage that a length reaches over on a stretch.
func (s Stretch) covers(l nm) float64 {
	d := float64(l)
	if s.Run != 0 {
		d *= math.Cos(math.Atan2(math.Abs(float64(s.Rise)), math.Abs(float64(s.Run))))
	}
	if s.Radius != 0 {
		d = 2 * float64(s.Radius) * math.Asin(d/2/float64(s.Radius))
	}
	return d
}

// slack is what rounding a length and its advance, each once, may make between them.
const slack = 1.5

func (c *checker) joints() {
	for i := 1; i < len(c.s.Units); i++ {
		u, next := c.s.Units[i-1], c.s.Units[i]
		end := u.Start + u.Advance
		s := c.on(next.Start)
		w := c.p.Supplies[u.Supply].Gap
		if s.Gap.Min != 0 || s.Gap.Max != 0 || s.Gap.Nominal != 0 {
			w = s.Gap
		}
		level := Stretch{Rise: s.Rise, Run: s.Run}
		open := float64(next.Start - end)
		if open < level.covers(w.Min)-slack || open > level.covers(w.Max)+slack || s.Run == 0 && (next.Start-end < w.Min || next.Start-end > w.Max) {
			c.say("layout.check.gap", end, "the joint after unit %d opens %s; its window is %s to %s", i, inMM(next.Start-end), inMM(w.Min), inMM(w.Max))
		}
		if math.Abs(level.covers(u.GapAfter)-open) > slack {
			c.say("layout.check.gap-after", end, "unit %d says a joint of %s follows, but %s lie between", i, inMM(u.GapAfter), inMM(next.Start-end))
		}
		for _, z := range c.near(c.p.Zones, end, next.Start) {
			if next.Start > z.From && end < z.To {
				c.say("layout.check.joint-in-zone", end, "the joint after unit %d, %s to %s, meets %s, %s to %s", i,
					inMM(end), inMM(next.Start), z.Why, inMM(z.From), inMM(z.To))
			}
		}
	}
}

func (c *checker) demands() {
	for i, u := range c.s.Units {
		end := u.Start + u.Advance
		touches := u.Supply == 0
		for _, d := range c.p.Demands {
			touches = touches || d.Supply == u.Supply && end >= d.From && u.Start <= d.To
			if d.Supply != u.Supply && end > d.From && u.Start < d.To {
				c.say("layout.check.demand", u.Start, "unit %d is of supply %d under %s, which asks for supply %d", i+1, u.Supply, d.Why, d.Supply)
			}
			if i == len(c.s.Units)-1 {
				continue
			}
			next := c.s.Units[i+1]
			for _, edge := range []nm{d.From, d.To} {
				if end < edge && edge < next.Start {
					c.say("layout.check.demand-edge", edge, "the joint after unit %d has the edge of %s inside", i+1, d.Why)
				}
			}
			if end < d.To && next.Start > d.From && (u.Supply != d.Supply || next.Supply != d.Supply) {
				c.say("layout.check.demand-joint", end, "the joint after unit %d lies in %s and not between two units of supply %d", i+1, d.Why, d.Supply)
			}
		}
		if !touches {
			c.say("layout.check.unwanted", u.Start, "unit %d is of supply %d where nothing asks for it", i+1, u.Supply)
		}
	}
}

func (c *checker) forced() {
	for _, j := range c.p.Joints {
		if !slices.ContainsFunc(c.s.Units, func(u Unit) bool { return (u.Start - j.At).Abs() <= j.Tolerance }) {
			c.say("layout.check.forced-joint", j.At, "no unit starts within %s of %s, where %s asks for a joint", inMM(j.Tolerance), inMM(j.At), j.Why)
		}
	}
	for i, l := range c.p.First {
		if i >= len(c.s.Units) || (c.s.Units[i].Length-l).Abs() > 1 {
			c.say("layout.check.first", 0, "unit %d is not %s long, as given", i+1, inMM(l))
		}
	}
}

func (c *checker) counts() {
	var n Count
	held := 0
	for _, u := range c.s.Units {
		n.Units++
		if u.Cut {
			n.Cuts++
		}
		if u.Hold {
			held++
			if !u.Cut {
				c.say("layout.check.held", u.Start, "a whole unit is held to be cut")
			}
		}
		for _, k := range u.Covers {
			if k.Cut {
				n.CutCovers++
			}
		}
	}
	if n != c.s.Count {
		c.say("layout.check.count", 0, "counted %v, said %v", n, c.s.Count)
	}
	if held > 1 || held > 0 && !c.p.Hold {
		c.say("layout.check.held", 0, "%d closers are held, with Hold %v", held, c.p.Hold)
	}
}

// clearances measures again how far joints keep away from zones.
func (c *checker) clearances() {
	least, known := nm(0), false
	reach := make([]nm, len(c.p.Zones)) // how far the zones up to each one reach
	for i, z := range c.p.Zones {
		reach[i] = z.To
		if i > 0 {
			reach[i] = max(z.To, reach[i-1])
		}
	}
	note := func(gap nm) {
		if !known || gap < least {
			least, known = gap, true
		}
	}
	for i := 1; i < len(c.s.Units); i++ {
		end, next := c.s.Units[i-1].Start+c.s.Units[i-1].Advance, c.s.Units[i].Start
		k := sort.Search(len(c.p.Zones), func(k int) bool { return c.p.Zones[k].From >= next })
		if k < len(c.p.Zones) {
			note(c.p.Zones[k].From - next)
		}
		if k > 0 {
			note(end - reach[k-1])
		}
	}
	said := c.s.Clearance
	if said.Known && said.Deviations == 0 && (said.Least != least || !known) || said.Known && said.Least < least {
		c.say("layout.check.clearance", 0, "the joint nearest to a zone keeps %s away, said %s", inMM(least), inMM(said.Least))
	}
}
