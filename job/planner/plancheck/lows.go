package plancheck

import (
	"math"
	"strconv"

	"trenchwright/base/measure"
)

// puddle is the run as water sees it: a point at each end of each unit, at the level of its invert, and one for each node
// where several legs end, at that of the lowest of them.
type puddle struct {
	level []elevation
	near  [][]int
	at    []spot // of each point
}

// spot is a place of a leg; a node has none.
type spot struct {
	leg *leg
	k   int // which of its stands
}

// checkLows: from every low point of the invert the water has an outlet that the job names, or a finding speaks of it.
func (c *checker) checkLows() {
	if c.job == nil || len(c.stands) == 0 {
		return
	}
	p := c.puddles()
	seen := make([]bool, len(p.level))
	for v := range p.level {
		if seen[v] {
			continue
		}
		flat, low := p.flat(v, seen)
		if !low || c.drained(p, flat) {
			continue
		}
		if s := p.at[flat[0]]; s.leg != nil {
			c.say("set-out %s: water stands there at %v, no outlet is named and no finding says so", c.stands[s.leg.Name][s.k].Place, p.level[flat[0]])
		}
	}
}

func (c *checker) puddles() *puddle {
	p, ends := &puddle{}, map[string][]int{}
	for i := range c.plan.Legs {
		l := &c.plan.Legs[i]
		stands := c.stands[l.Name]
		for k := range len(stands) - 1 {
			deep := c.deep(stands[k].unit)
			low := p.add(stands[k].wall-deep, spot{l, k})
			high := p.add(stands[k+1].before-deep, spot{l, k + 1})
			p.join(low, high)
			switch {
			case k > 0:
				p.join(low-1, low)
			default:
				ends[l.From] = append(ends[l.From], low)
			}
			if k == len(stands)-2 {
				ends[l.To] = append(ends[l.To], high)
			}
		}
	}
	for i := range c.plan.Nodes {
		list := ends[c.plan.Nodes[i].ID]
		if len(list) < 2 {
			continue
		}
		lowest := p.level[list[0]]
		for _, v := range list {
			lowest = min(lowest, p.level[v])
		}
		node := p.add(lowest, spot{})
		for _, v := range list {
			p.join(v, node)
		}
	}
	return p
}

// deep is how far the invert of a unit lies below its wall top. Where the inner height of any supply is not on file, the
// wall tops stand for the inverts.
func (c *checker) deep(u *unit) elevation {
	for _, s := range c.supplies {
		if s.InnerHeight == nil {
			return 0
		}
	}
	if s := c.supplies[u.Supply]; s != nil {
		return elevation(*s.InnerHeight)
	}
	return 0
}

func (p *puddle) add(z elevation, s spot) int {
	p.level, p.near, p.at = append(p.level, z), append(p.near, nil), append(p.at, s)
	return len(p.level) - 1
}

func (p *puddle) join(a, b int) {
	p.near[a], p.near[b] = append(p.near[a], b), append(p.near[b], a)
}

// flat is all points of one level around v, and whether from none of them water runs on.
func (p *puddle) flat(v int, seen []bool) (points []int, low bool) {
	points, low, seen[v] = []int{v}, true, true
	for i := 0; i < len(points); i++ {
		for _, w := range p.near[points[i]] {
			switch {
			case p.level[w] < p.level[v]:
				low = false
			case p.level[w] == p.level[v] && !seen[w]:
				seen[w] = true
				points = append(points, w)
			}
		}
	}
	return points, low
}

// drained tells whether one of the points is the place nearest to an outlet of the job, or a finding names one of them.
func (c *checker) drained(p *puddle, points []int) bool {
	for _, v := range points {
		s := p.at[v]
		if s.leg == nil {
			continue
		}
		for _, o := range c.job.Levels.Outlets {
			if o.Leg == s.leg.Name && o.Of != "drain" && c.nearest(s.leg, o.At) == s.k {
				return true
			}
		}
		at := c.stands[s.leg.Name][s.k].at.metres()
		if c.anyFinding(func(f finding) bool {
			said, err := strconv.ParseFloat(f.Where.Chainage, 64)
			return f.ID == "profile.low" && f.Where.Leg == s.leg.Name && err == nil && math.Abs(said-at) < 1e-3
		}) {
			return true
		}
	}
	return false
}

// nearest is the place of a leg that lies nearest to a chainage.
func (c *checker) nearest(l *leg, ch measure.Length) int {
	best := 0
	for k, s := range c.stands[l.Name] {
		if (s.at - nm(ch)).abs() < (c.stands[l.Name][best].at - nm(ch)).abs() {
			best = k
		}
	}
	return best
}
