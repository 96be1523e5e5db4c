package plancheck

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"trenchwright/job"
)

// blur is what levels may be off by after two roundings and a straight line between them, in nanometres.
const blur = 2.6

// checkDrain: the pipe in the bed lies on its own grades, as far below the run as the job asks, falls the way its water
// runs, and comes out where it has to; or it has no level at all, and the plan says why.
func (c *checker) checkDrain() {
	if c.job == nil {
		return
	}
	d, v := c.job.Levels.Drain, c.plan.Drain
	found := d != nil && v != nil && v.Verdict == "found"
	for i := range c.plan.SetOut {
		switch s := &c.plan.SetOut[i]; {
		case s.Levels == nil:
		case s.Levels.Drain != nil && d == nil:
			c.say("set-out %s: a drain at %v, and the job has none", s.Place, *s.Levels.Drain)
		case s.Levels.Drain != nil && !found:
			c.say("set-out %s: a drain at %v, and none was found", s.Place, *s.Levels.Drain)
		case s.Levels.Drain == nil && found:
			c.say("set-out %s: the drain in the bed has no level", s.Place)
		}
	}
	switch {
	case d == nil && v != nil:
		c.say("the plan has a drain, the job has none")
	case d != nil && v == nil && len(c.plan.Grades) > 0 && !c.anyFinding(func(f finding) bool { return mentions([]string{f.Text}, "no levels of the drain") }):
		c.say("the drain in the bed has no levels, and nothing says why")
	case v != nil && !found:
		if len(v.Grades) > 0 || v.Why == "" || !c.anyFinding(func(f finding) bool { return strings.Contains(f.Text, v.Why) }) {
			c.say("the drain is %s: it has %d grades, and no finding says %q", v.Verdict, len(v.Grades), v.Why)
		}
	case found:
		c.checkPipes()
	}
}

// pipeline is the drain under one leg, by its own grades.
type pipeline struct {
	leg    *leg
	stands []stand
	grades []*drainGrade
}

// at is its underside at a chainage; beyond its ends that of the end.
func (p *pipeline) at(ch nm) float64 {
	for _, g := range p.grades {
		if ch <= g.ToMM {
			t := math.Max(0, float64(ch-g.FromMM)/float64(g.ToMM-g.FromMM))
			return float64(g.Starts) + t*float64(g.Ends-g.Starts)
		}
	}
	return float64(p.grades[len(p.grades)-1].Ends)
}

func (c *checker) checkPipes() {
	lines := map[string]*pipeline{}
	for i := range c.plan.Legs {
		l := &c.plan.Legs[i]
		if p := (&pipeline{leg: l, stands: c.stands[l.Name]}); len(p.stands) > 1 {
			for k := range c.plan.Drain.Grades {
				if g := &c.plan.Drain.Grades[k]; g.Leg == l.Name {
					p.grades = append(p.grades, g)
				}
			}
			if c.checkPipeline(p) {
				lines[l.Name] = p
			}
		}
	}
	for i := range c.plan.Legs {
		if p := lines[c.plan.Legs[i].Name]; p != nil {
			c.checkPipeDepth(p)
			c.checkPipeFall(p)
		}
	}
	c.checkPipeOutlets(lines)
	c.checkPipeNodes(lines)
	c.checkPipeLows(lines)
}

// checkPipeline: its grades run on from the first place of the leg to the last, and every place's level lies on them.
func (c *checker) checkPipeline(p *pipeline) bool {
	if len(p.grades) == 0 {
		c.say("leg %s: the drain has no grades under it", p.leg.Name)
		return false
	}
	within := 1 + c.rounding(p.leg)
	first, last := p.grades[0], p.grades[len(p.grades)-1]
	if (first.FromMM-p.stands[0].at).abs() > within || (last.ToMM-p.stands[len(p.stands)-1].at).abs() > within {
		c.say("leg %s: the drain runs from %v to %v, the leg's places from %v to %v", p.leg.Name, first.FromMM, last.ToMM, p.stands[0].at, p.stands[len(p.stands)-1].at)
		return false
	}
	wall := c.job.Levels.Drain.Wall
	for k, g := range p.grades {
		if g.ToMM <= g.FromMM || k > 0 && (p.grades[k-1].ToMM != g.FromMM || p.grades[k-1].Ends != g.Starts) {
			c.say("leg %s: the drain's grade from %v at %v does not run on from the one before", p.leg.Name, g.FromMM, g.Starts)
			return false
		}
		for e, z := range [2]elevation{g.Starts, g.Ends} {
			if invert := g.Inverts[e]; (invert != nil) != wall.Known || invert != nil && *invert != z+elevation(wall.Value) {
				c.say("leg %s: the drain's invert at the end of a grade at %v does not lie its wall of %v above it", p.leg.Name, z, nm(wall.Value))
			}
		}
	}
	for _, s := range p.stands {
		if z := s.Levels.Drain; z != nil && math.Abs(float64(*z)-p.at(s.at)) > blur {
			c.say("set-out %s: the drain lies at %v, %.1f nm off its grades", s.Place, *z, float64(*z)-p.at(s.at))
		}
	}
	return true
}

// checkPipeDepth: under both units that meet at a place the pipe lies at least as far below as the job asks, and no deeper.
func (c *checker) checkPipeDepth(p *pipeline) {
	d := c.job.Levels.Drain
	for _, s := range p.stands {
		for side, u := range [2]*unit{s.last, s.unit} {
			m := c.makes[u.Supply]
			left, right := s.Levels.Walls[2*side], s.Levels.Walls[2*side+1]
			if m == nil || left == nil || right == nil || s.Levels.Drain == nil {
				continue
			}
			outer := m.Unit.Outer.Value
			under := float64(*left+*right)/2 + float64(*right-*left)*float64(d.Offset)/float64(outer.Width) - float64(outer.Height)
			clear := under - float64(*s.Levels.Drain) - float64(d.Diameter)
			if clear < float64(d.Below)-blur {
				c.say("set-out %s: the drain lies %v below the unit, the job asks for %v", s.Place, nm(math.Round(clear)), nm(d.Below))
			}
			if d.Deepest.Known && clear > float64(d.Deepest.Value)+blur {
				c.say("set-out %s: the drain lies %v below the unit, the job allows %v", s.Place, nm(math.Round(clear)), nm(d.Deepest.Value))
			}
		}
	}
}

// checkPipeFall: between two places, and on either side of an outlet, the pipe falls the way its water runs.
func (c *checker) checkPipeFall(p *pipeline) {
	d := c.job.Levels.Drain
	cuts := []nm{}
	for _, s := range p.stands {
		cuts = append(cuts, s.at)
	}
	for _, o := range c.pipeOutlets(p.leg.Name) {
		if at := nm(o.At); at > cuts[0] && at < cuts[len(p.stands)-1] && !slices.ContainsFunc(cuts, func(x nm) bool { return (x - at).abs() <= pinReach }) {
			cuts = append(cuts, at)
		}
	}
	slices.Sort(cuts)
	for k := range len(cuts) - 1 {
		from, to := cuts[k], cuts[k+1]
		way, long := c.pipeWay(p.leg, (from+to)/2), float64(to-from)
		fall := p.at(from) - p.at(to)
		if d.Most.Known && math.Abs(fall) > ratio(d.Most.Value)*long+blur {
			c.say("leg %s: the drain falls by %v from %v to %v, steeper than %s", p.leg.Name, nm(math.Round(fall)), from, to, d.Most.Value)
		}
		switch {
		case !d.Least.Known:
		case way != 0 && fall*float64(way) < ratio(d.Least.Value)*long-blur:
			c.say("leg %s: the drain falls by %v from %v to %v, the job asks for %s", p.leg.Name, nm(math.Round(fall*float64(way))), from, to, d.Least.Value)
		case way == 0 && !c.anyFinding(func(f finding) bool {
			return f.Where.Leg == p.leg.Name && mentions([]string{f.Text}, "which way the drain runs")
		}):
			c.say("leg %s: which way the drain runs from %v to %v follows from nothing, and no finding says so", p.leg.Name, from, to)
		}
	}
}

// pipeOutlets are the outlets of the drain on a leg.
func (c *checker) pipeOutlets(name string) (out []job.Outlet) {
	for _, o := range c.job.Levels.Outlets {
		if o.Leg == name && o.Of != "run" {
			out = append(out, o)
		}
	}
	return out
}

// pipeWay is +1 where the drain's water runs up-chainage, −1 where it runs down: as stated; else to the only outlet that can
// be walked to; else as the run's water does. 0: nothing says it.
func (c *checker) pipeWay(l *leg, ch nm) int {
	toward := ""
	for _, w := range c.job.Levels.Drain.Ways {
		if w.Leg == l.Name && nm(w.From) <= ch && (w.To == 0 || ch <= nm(w.To)) {
			toward = w.Toward
		}
	}
	if toward == "" {
		seen := map[string]bool{l.Name: true}
		on, back := 0, 0
		for _, o := range c.pipeOutlets(l.Name) {
			if nm(o.At) > ch {
				on = 1
			} else {
				back = 1
			}
		}
		if on == 0 {
			on = c.outletsBeyond(l, l.To, seen)
		}
		if back == 0 {
			back = c.outletsBeyond(l, l.From, seen)
		}
		if on+back == 1 {
			return on - back
		}
		if st := c.stretchAt(l, ch); st != nil {
			toward = st.Toward
		}
	}
	switch toward {
	case l.To:
		return 1
	case l.From:
		return -1
	}
	return 0
}

// outletsBeyond counts the outlets that are walked to from an end of a leg, away from it and past no other; two where the run
// comes back to where it was.
func (c *checker) outletsBeyond(l *leg, end string, seen map[string]bool) (n int) {
	at := c.nodes[end]
	if at == nil || len(at.Legs) < 2 {
		return 0
	}
	for _, name := range at.Legs {
		switch other := c.legs[name]; {
		case name == l.Name || other == nil:
		case seen[name]:
			n += 2
		default:
			if seen[name] = true; len(c.pipeOutlets(name)) > 0 {
				n++ // nothing passes it
				continue
			}
			far := other.To
			if far == end {
				far = other.From
			}
			n += c.outletsBeyond(other, far, seen)
		}
	}
	return n
}

// checkPipeOutlets: where the job states an invert, it is kept.
func (c *checker) checkPipeOutlets(lines map[string]*pipeline) {
	wall := c.job.Levels.Drain.Wall
	for _, o := range c.job.Levels.Outlets {
		p := lines[o.Leg]
		if o.Of == "run" || o.Drain == nil || !wall.Known || p == nil {
			continue
		}
		z := p.at(nm(o.At))
		for _, s := range p.stands {
			if (s.at-nm(o.At)).abs() <= pinReach && s.Levels.Drain != nil {
				z = float64(*s.Levels.Drain)
			}
		}
		want := metresUp(*o.Drain * c.coordinateUnit())
		if math.Abs(z+float64(wall.Value)-float64(want)) > blur {
			c.say("outlet %s: the drain's invert lies %.1f nm off the stated %v", o.ID, z+float64(wall.Value)-float64(want), want)
		}
	}
}

// armAt is an end of a pipeline at a node: its level there, the length of pipe to the node, and +1 where its water runs to it.
type armAt struct {
	z, far float64
	in     int
}

func (c *checker) pipeArms(n *node, lines map[string]*pipeline) (out []armAt) {
	for _, name := range n.Legs {
		p := lines[name]
		if p == nil {
			continue
		}
		last := len(p.stands) - 1
		if p.leg.From == n.ID {
			out = append(out, armAt{p.at(p.stands[0].at), float64(p.stands[0].at), -c.pipeWay(p.leg, c.endMiddle(p, 0, 1))})
		}
		if p.leg.To == n.ID {
			out = append(out, armAt{p.at(p.stands[last].at), float64(p.leg.NodeLength - p.stands[last].at), c.pipeWay(p.leg, c.endMiddle(p, last, last-1))})
		}
	}
	return out
}

// endMiddle is the middle between an end of a leg and what comes next: a place, or an outlet before it.
func (c *checker) endMiddle(p *pipeline, end, next int) nm {
	from, to := p.stands[end].at, p.stands[next].at
	for _, o := range c.pipeOutlets(p.leg.Name) {
		if at := nm(o.At); (at-from).abs() > pinReach && (at-from).abs() < (to-from).abs() && (at > from) == (to > from) {
			to = at
		}
	}
	return (from + to) / 2
}

// checkPipeNodes: where legs meet, the drain runs on: level where nothing says how, else with its least fall under a casting.
func (c *checker) checkPipeNodes(lines map[string]*pipeline) {
	least := c.job.Levels.Drain.Least
	for i := range c.plan.Nodes {
		n := &c.plan.Nodes[i]
		arms := c.pipeArms(n, lines)
		for k, a := range arms {
			level := func(a armAt) float64 {
				if !least.Known || a.far <= blur {
					return a.z
				}
				return a.z - float64(a.in)*ratio(least.Value)*a.far
			}
			if k > 0 && math.Abs(level(a)-level(arms[0])) > 2*blur+2 {
				c.say("node %s: the drains of its legs miss each other by %.1f nm", n.ID, level(a)-level(arms[0]))
			}
		}
	}
}

// checkPipeLows: from every low of the pipe inside a leg, or at an end where nothing follows, the water has an outlet, or a
// finding speaks of it.
func (c *checker) checkPipeLows(lines map[string]*pipeline) {
	for i := range c.plan.Legs {
		p := lines[c.plan.Legs[i].Name]
		if p == nil {
			continue
		}
		for k := 0; k <= len(p.grades); k++ { // a low begins behind grade k−1
			if k > 0 && p.grades[k-1].Ends >= p.grades[k-1].Starts || k == 0 && c.joined(p.leg.From) {
				continue
			}
			end := k
			for end < len(p.grades) && p.grades[end].Ends == p.grades[end].Starts {
				end++
			}
			if end < len(p.grades) && p.grades[end].Ends < p.grades[end].Starts || end == len(p.grades) && c.joined(p.leg.To) {
				continue
			}
			from, to := p.stands[0].at, p.stands[len(p.stands)-1].at
			if k > 0 {
				from = p.grades[k-1].ToMM
			}
			if end < len(p.grades) {
				to = p.grades[end].FromMM
			}
			c.checkPipeLow(p, from, to)
		}
	}
}

func (c *checker) joined(id string) bool { n := c.nodes[id]; return n != nil && len(n.Legs) > 1 }

func (c *checker) checkPipeLow(p *pipeline, from, to nm) {
	start, end := p.stands[0].at, p.stands[len(p.stands)-1].at
	for _, o := range c.pipeOutlets(p.leg.Name) {
		if at := min(max(nm(o.At), start), end); at >= from-pinReach && at <= to+pinReach {
			return
		}
	}
	said := c.anyFinding(func(f finding) bool {
		at, err := strconv.ParseFloat(f.Where.Chainage, 64)
		return f.ID == "planner.drain-low" && f.Where.Leg == p.leg.Name && err == nil && math.Abs(at-from.metres()) < 2e-3
	})
	if !said {
		c.say("leg %s: the drain's water stands from %v to %v, no outlet is named and no finding says so", p.leg.Name, from, to)
	}
}
