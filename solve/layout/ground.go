package layout

import (
	"cmp"
	"slices"

	"trenchwright/base/sorting"
)

// The free ground of a leg: where joints may lie, on which stretch, and under which rules.

// window is the range of advances that a joint may cover, with the one that is aimed at.
type window struct{ aim, min, max nm }

// kind is one sort of stretch. All stretches of equal shape share it.
type kind struct {
	geometry geometry
	longest  nm       // MaxUnit; 0: none
	windows  []window // of the joint that ends where a unit starts here, by the supply of the unit before
	inner    menu     // pieces that start here
	last     menu     // pieces that start here and end the leg
}

// piece of the axis with one kind, from lo up to the next one's lo.
type region struct {
	lo   nm
	kind int
}

// ground is everything about a leg that does not depend on where units lie.
type ground struct {
	p       *Problem
	end     nm
	parts   []interval // where a joint may lie wholly, in order; neighbours may share an edge
	regions []region
	kinds   []kind
	first   menu // the first piece of several
	only    menu // a piece that is the whole leg
	busy    set  // under a zone, crossing or demand
	rules   []rule
	breaks  []nm // where starts begin to be treated otherwise than just before, ascending
	longest nm   // of all rules, in chainage
	reach   nm   // of any piece with its joint
	step    nm   // of the shortest piece with the narrowest joint
	narrow  nm   // narrowest joint
	wobble  nm   // how much the narrowest joint differs between stretches and supplies: endings are in order but for it
	budget  budget
	limit   cost // of a layout that is worth finding; noCost: any. With a limit the cost to go is no proof
}

// newGround prepares a leg; nominal closes every joint window to what is aimed at.
func newGround(p *Problem, nominal bool) *ground {
	g := &ground{p: p, end: p.Length, budget: p.budget(), limit: noCost}
	g.parts = p.jointParts()
	g.busy = p.busyGround()
	g.rules, g.longest = p.rulesOf()
	g.regionsOf(nominal)
	g.breaks = g.allBreaks()
	start := g.kinds[g.regions[0].kind]
	g.first = p.menuOn(start.geometry, start.longest, shape{start: p.Start})
	g.only = p.menuOn(start.geometry, start.longest, shape{p.Start, p.End})
	g.step, g.narrow = forever, forever
	for _, k := range g.kinds {
		for _, w := range k.windows {
			g.narrow = min(g.narrow, w.min)
			g.wobble = max(g.wobble, w.min)
			g.reach = max(g.reach, w.max)
		}
	}
	g.wobble -= g.narrow
	var far nm
	for _, k := range g.kinds {
		for _, e := range slices.Concat(k.inner.entries, k.last.entries) {
			g.step = min(g.step, e.advance.lo)
			far = max(far, e.advance.hi)
		}
	}
	for _, e := range g.first.entries {
		far = max(far, e.advance.hi)
	}
	g.step += g.narrow
	g.reach += far
	return g
}

// jointParts is the axis without the open zones, cut at the ends of demands: no joint has one of them inside.
func (p *Problem) jointParts() []interval {
	zones := make([]interval, len(p.Zones))
	for i, z := range p.Zones {
		zones[i] = interval{z.From, z.To}
	}
	slices.SortFunc(zones, func(a, b interval) int { return cmp.Or(cmp.Compare(a.lo, b.lo), cmp.Compare(a.hi, b.hi)) })
	var free []interval
	var from nm
	for _, z := range zones {
		if z.hi <= 0 || z.lo >= p.Length {
			continue
		}
		if z.lo >= from {
			free = append(free, interval{from, z.lo})
		}
		from = max(from, z.hi)
	}
	if from <= p.Length {
		free = append(free, interval{from, p.Length})
	}
	var marks []nm
	for _, d := range p.Demands {
		marks = append(marks, d.From, d.To)
	}
	sorting.Ascending(marks)
	var out []interval
	for _, v := range free {
		i, _ := slices.BinarySearch(marks, v.lo+1)
		for ; i < len(marks) && marks[i] <= v.hi && marks[i] < p.Length; i++ {
			if marks[i] > v.lo {
				out = append(out, interval{v.lo, marks[i]})
				v.lo = marks[i]
			}
		}
		out = append(out, v)
	}
	return out
}

func (g *ground) regionsOf(nominal bool) {
	stretches := g.p.Stretches
	if len(stretches) == 0 {
		stretches = []Stretch{{To: g.p.Length}}
	}
	seen := map[Stretch]int{}
	for _, s := range stretches {
		key := s
		key.From, key.To = 0, 0
		at, known := seen[key]
		if !known {
			at = len(g.kinds)
			seen[key] = at
			g.kinds = append(g.kinds, g.kindOf(s, nominal))
		}
		if n := len(g.regions); n > 0 && g.regions[n-1].kind == at {
			continue
		}
		g.regions = append(g.regions, region{s.From, at})
	}
}

func (g *ground) kindOf(s Stretch, nominal bool) kind {
	k := kind{geometry: s.geometry(), longest: s.MaxUnit}
	for _, supply := range g.p.Supplies {
		w := supply.Gap
		if s.Gap.Max != 0 || s.Gap.Min != 0 || s.Gap.Nominal != 0 {
			w = s.Gap
		}
		v := window{k.geometry.opening(w.Nominal), k.geometry.opening(w.Min), k.geometry.opening(w.Max)}
		if nominal {
			v.min, v.max = v.aim, v.aim
		}
		k.windows = append(k.windows, v)
	}
	k.inner = g.p.menuOn(k.geometry, k.longest, shape{})
	k.last = g.p.menuOn(k.geometry, k.longest, shape{end: g.p.End})
	return k
}

// regionAt is the region that x lies in.
func (g *ground) regionAt(x nm) int {
	i, found := slices.BinarySearchFunc(g.regions, x, func(r region, x nm) int { return cmp.Compare(r.lo, x) })
	if found {
		return i
	}
	return max(0, i-1)
}

func (g *ground) kindAt(x nm) *kind {
	if len(g.kinds) == 1 { // most legs
		return &g.kinds[0]
	}
	return &g.kinds[g.regions[g.regionAt(x)].kind]
}
