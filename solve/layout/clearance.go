package layout

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"trenchwright/base/sorting"
)

// enoughDeviations is the clearance beyond which more is not sought: one joint in a thousand goes beyond 3.29 standard
// deviations on either side (layout.md §8).
const enoughDeviations = 3.29

// notch is the step in which clearance is counted: a millimetre, or a hundredth of a standard deviation.
type notch struct {
	drift Drift
	unit  nm // the longest unit with its joint: the drift of a place is that of the fewest units that reach it
}

func (p *Problem) notch() notch {
	var l nm
	for _, s := range p.Supplies {
		l = max(l, s.longest()+s.Gap.Nominal)
	}
	return notch{p.Drift, l}
}

func (n notch) known() bool { return n.drift != (Drift{}) }

// deviation is the standard deviation of a joint planned at x.
func (n notch) deviation(x nm) float64 {
	units := float64(x) / float64(n.unit)
	scatter, bias := float64(n.drift.Scatter), float64(n.drift.Bias)
	return math.Sqrt(float64(units*float64(scatter*scatter)) + float64(float64(units*units)*float64(bias*bias)))
}

// margin is what a number of notches keeps a joint at x away from a zone.
func (n notch) margin(x nm, notches int) nm {
	if !n.known() {
		return nm(notches) * 1_000_000
	}
	return nm(math.Round(float64(notches) / 100 * n.deviation(x)))
}

// most is the number of notches beyond which nothing is gained.
func (n notch) most(p *Problem) int {
	switch {
	case n.known():
		return int(math.Round(enoughDeviations * 100))
	case p.Clear > 0:
		return int((p.Clear + 999_999) / 1_000_000)
	}
	return int(min(n.unit/1_000_000, 1<<30))
}

// kept is the parts of the axis with joints kept a number of notches away from zones. Edges of demands and the ends of the
// leg keep nobody away.
func (g *ground) kept(n notch, notches int) []interval {
	if notches == 0 {
		return g.parts
	}
	out := slices.Clone(g.parts)
	zones := g.p.edges()
	for i, part := range out {
		if k := sort.Search(len(zones.closing), func(k int) bool { return zones.closing[k] > part.lo }); k > 0 {
			e := zones.closing[k-1]
			out[i].lo = max(part.lo, e+n.margin(e, notches))
		}
		if k := sort.Search(len(zones.opening), func(k int) bool { return zones.opening[k] >= part.hi }); k < len(zones.opening) {
			e := zones.opening[k]
			out[i].hi = min(part.hi, e-n.margin(e, notches))
		}
	}
	return out
}

// edges is where zones open and close, each ascending.
type edges struct{ opening, closing []nm }

func (p *Problem) edges() edges {
	var e edges
	for _, z := range p.Zones {
		e.opening, e.closing = append(e.opening, z.From), append(e.closing, z.To)
	}
	sorting.Ascending(e.opening)
	sorting.Ascending(e.closing)
	return e
}

// away finds how many notches the joints of a layout of the least cost can be kept away from zones, and from where in each
// node of the corridor that is possible.
func (c *corridor) away(n notch) (int, []set) {
	best, spare := c.open(c.g.parts, opened{}), opened{}
	try := func(notches int) bool {
		spare = c.open(c.g.kept(n, notches), spare)
		ok := len(spare.sets[0]) > 0
		if ok {
			best, spare = spare, best
		}
		return ok
	}
	most := n.most(c.g.p)
	if most < 1 || !try(1) {
		return 0, best.sets
	}
	if try(most) {
		return most, best.sets
	}
	lo, hi := 1, most
	for hi-lo > 1 {
		if mid := lo + (hi-lo)/2; try(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo, best.sets
}

// clearance measures a layout: the joint that is nearest to a zone, in deviations where drift is known.
func (p *Problem) clearance(units []Unit) Clearance {
	order := make([]int, len(p.Zones))
	for i := range order {
		order[i] = i
	}
	sorting.By(order, func(a, b int) int { return cmp.Compare(p.Zones[a].From, p.Zones[b].From) })
	n := p.notch()
	var best Clearance
	least := math.Inf(1)
	look := func(joint, zone int, gap, edge nm) {
		d, size := 0.0, gap.Millimetres()
		if n.known() {
			d = math.Inf(1)
			if sd := n.deviation(edge); sd > 0 {
				d = float64(gap) / sd
			}
			size = d
		}
		if size < least {
			least = size
			best = Clearance{Known: true, Least: gap, Deviations: d, Joint: joint, Zone: zone}
		}
	}
	behind := make([]int, len(order)) // by place in order: of the zones so far, the one that reaches furthest
	for i := range order {
		behind[i] = order[i]
		if i > 0 && p.Zones[behind[i-1]].To >= p.Zones[order[i]].To {
			behind[i] = behind[i-1]
		}
	}
	for i := range len(units) - 1 {
		end := units[i].Start + units[i].Advance
		k := sort.Search(len(order), func(k int) bool { return p.Zones[order[k]].From >= units[i+1].Start })
		if k < len(order) {
			look(i, order[k], p.Zones[order[k]].From-units[i+1].Start, p.Zones[order[k]].From)
		}
		if k > 0 {
			look(i, behind[k-1], end-p.Zones[behind[k-1]].To, p.Zones[behind[k-1]].To)
		}
	}
	return best
}
