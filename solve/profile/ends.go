package profile

import "trenchwright/base/measure"

// Rows across nodes stand in this order: by node, for every through its change and then its sum of grades, then for every
// arm its mouth. Rows that limit nothing are there too, and cost nothing.

// settleNodes gives all ends at a node one level, and fixes them where one of them is pinned.
func (b *builder) settleNodes() {
	for _, node := range b.p.Nodes {
		sum, fixed, pinned := 0.0, false, 0.0
		for _, a := range node.Arms {
			at, _ := b.p.ends(a)
			c := b.w.chains[a.Leg]
			level := c.z[at] - float64(a.Rise)/1e9
			sum += level
			if c.fixed[at] && !fixed {
				fixed, pinned = true, level
			}
		}
		level := sum / float64(max(len(node.Arms), 1))
		if fixed {
			level = pinned
		}
		for _, a := range node.Arms {
			at, _ := b.p.ends(a)
			c := b.w.chains[a.Leg]
			c.z[at], c.fixed[at] = level+float64(a.Rise)/1e9, fixed
		}
	}
	for _, c := range b.w.chains {
		for j, f := range c.fixed {
			if f {
				c.pins = append(c.pins, j)
			}
		}
	}
}

// wire numbers the kept levels, makes the rows across nodes, and plans the matrix of the nodes.
func (b *builder) wire() {
	size := len(b.p.Nodes)
	for i, c := range b.w.chains {
		c.vars = make([]int, len(c.kept))
		last := len(c.z) - 1
		for k, j := range c.kept {
			switch {
			case j == 0 && b.end[i][0] >= 0:
				c.vars[k] = b.end[i][0]
			case j == last && b.end[i][1] >= 0:
				c.vars[k] = b.end[i][1]
			default:
				c.vars[k] = size
				size++
			}
		}
	}
	plan := newNetPlan(size)
	for _, c := range b.w.chains {
		for k, v := range c.vars {
			for _, u := range c.vars[:k+1] {
				c.slots = append(c.slots, plan.slot(v, u))
			}
		}
	}
	b.acrossRows()
	a := &b.w.across
	a.slots = make([][]int, len(a.terms))
	for r, terms := range a.terms {
		for i, s := range terms {
			for _, t := range terms[:i+1] {
				a.slots[r] = append(a.slots[r], b.slot(plan, s, t))
			}
		}
	}
	b.w.net = plan.net()
	for n, node := range b.p.Nodes {
		if len(node.Arms) == 0 {
			b.w.net.idle = append(b.w.net.idle, n)
		}
	}
}

func (b *builder) slot(plan *netPlan, s, t term) int {
	c, d := b.w.chains[s.chain], b.w.chains[t.chain]
	if c.fixed[s.joint] || d.fixed[t.joint] {
		return -1
	}
	return plan.slot(c.number(s.joint), d.number(t.joint))
}

func (b *builder) acrossRows() {
	p := b.p
	rows := 0
	for _, node := range p.Nodes {
		rows += 2*len(node.Throughs) + len(node.Arms)
	}
	a := &b.w.across
	a.family, a.terms = newFamily(rows), make([][]term, rows)
	k, lim, some := newLine(rows), noLimits(rows), false
	r := 0
	for n, node := range p.Nodes {
		for ti, t := range node.Throughs {
			in, out := node.Arms[t.In], node.Arms[t.Out]
			scale, plus, minus := b.pair(in, out)
			a.terms[r], a.terms[r+1] = plus, minus
			if t.Change != nil && b.counts(NodeChange, n, ti) {
				most := b.less(ratio(*t.Change)) * scale
				lim.low[r], lim.high[r] = -most, most
			}
			if t.Break > 0 && !b.elastic {
				k.above[r] = float64(t.Break) / (b.price * scale)
				k.below[r], some = k.above[r], true
			}
			if t.Bend != nil && t.Bend.Lip != nil && b.counts(NodeLip, n, ti) {
				most := b.less(t.Bend.most()) * scale
				lim.low[r+1], lim.high[r+1] = -most, most
			}
			r += 2
		}
		for ai, arm := range node.Arms {
			at, next := p.ends(arm)
			if arm.Cast != nil && arm.Cast.Change != nil && b.counts(MouthLimit, n, ai) {
				length := p.Legs[arm.Leg].length(min(at, next))
				a.terms[r] = []term{{arm.Leg, next, 1}, {arm.Leg, at, -1}}
				mid, most := rise(arm.Cast.Grade, length), float64(b.less(ratio(*arm.Cast.Change))*length.Metres())
				lim.low[r], lim.high[r] = mid-most, mid+most
			}
			r++
		}
	}
	if some {
		a.parts = append(a.parts, k)
	}
	b.limit(&a.family, lim)
}

// pair is the change of grade from one arm to the other, and the sum of their grades, both times scale metres.
func (b *builder) pair(in, out Arm) (scale float64, change, sum []term) {
	length := func(a Arm) measure.Length { return b.p.Legs[a.Leg].length(b.p.unit(a)) }
	l0, l1 := float64(length(in))/1e9, float64(length(out))/1e9
	scale = 2 * l0 * l1 / (l0 + l1)
	inAt, inNext := b.p.ends(in)
	outAt, outNext := b.p.ends(out)
	f, g := scale/l0, scale/l1
	change = []term{{out.Leg, outNext, g}, {out.Leg, outAt, -g}, {in.Leg, inNext, f}, {in.Leg, inAt, -f}}
	sum = []term{{out.Leg, outNext, g}, {out.Leg, outAt, -g}, {in.Leg, inNext, -f}, {in.Leg, inAt, f}}
	return scale, change, sum
}

// less is a limit of grade at a node, with the room that rounding needs.
func (b *builder) less(most float64) float64 {
	if b.tight == nil || most < 2*b.tight.nodes {
		return most
	}
	return most - b.tight.nodes
}
