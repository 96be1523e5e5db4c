package profile

import (
	"math"

	"trenchwright/base/measure"
)

// tightening makes limits narrower than they are, where rounding needs room, and says where the grade may not change.
// The zero value changes nothing.
type tightening struct {
	change [][]float64 // by leg and joint: taken off Change
	grade  [][]float64 // by leg and unit: taken off both limits
	level  [][]float64 // by leg and joint: taken off Low and High, in metres
	hold   [][]bool    // by leg and joint: no change of grade here
	nodes  float64     // taken off every limit of grade at a node
}

// builder makes a Problem into rows.
type builder struct {
	p       *Problem
	elastic bool                        // limits may be broken at a price of 1 a metre, and nothing else costs
	use     func(k Kind, i, j int) bool // which limits count; nil: all
	tight   *tightening
	origin  measure.Length
	price   float64 // the highest: costs are counted in it
	w       *work
	base    []int    // by node: its number among the kept levels
	end     [][2]int // by leg: the node at its start and at its end, −1: none
	lift    [][2]measure.Length
}

func (b *builder) metres(l measure.Length) float64 { return float64(l-b.origin) / 1e9 }

// rise is what g makes over l, in metres.
func rise(g measure.Grade, l measure.Length) float64 { return float64(ratio(g)*float64(l)) / 1e9 }

// ratio is g as a number.
func ratio(g measure.Grade) float64 {
	if g.Rise == 0 {
		return 0
	}
	return float64(g.Rise) / float64(g.Run)
}

func (b *builder) counts(k Kind, i, j int) bool { return b.use == nil || b.use(k, i, j) }

// build makes the rows; the first levels are straight lines between what is known.
func (b *builder) build() *work {
	p := b.p
	b.origin, b.price = p.origin(), p.price()
	b.w = &work{joined: p.Squares && !b.elastic, spread: 0.1}
	b.attach()
	for i := range p.Legs {
		b.w.chains = append(b.w.chains, b.leg(i))
	}
	b.settleNodes()
	b.wire()
	return b.w
}

// origin is a level near all others.
func (p *Problem) origin() measure.Length {
	for i := range p.Legs {
		for _, j := range p.Legs[i].Joints {
			for _, l := range []*measure.Length{j.Pin, j.Wanted, j.Low, j.High} {
				if l != nil {
					return *l
				}
			}
		}
	}
	return 0
}

// price is the highest price of a level, or failing that of a change of grade.
func (p *Problem) price() float64 {
	var level, change int64
	for i := range p.Legs {
		for _, j := range p.Legs[i].Joints {
			level, change = max(level, j.Above, j.Below), max(change, j.Break)
		}
	}
	for _, n := range p.Nodes {
		for _, t := range n.Throughs {
			change = max(change, t.Break)
		}
	}
	if level == 0 {
		level = change
	}
	return float64(max(level, 1))
}

func (b *builder) attach() {
	b.end, b.lift = make([][2]int, len(b.p.Legs)), make([][2]measure.Length, len(b.p.Legs))
	for i := range b.end {
		b.end[i] = [2]int{-1, -1}
	}
	for n, node := range b.p.Nodes {
		for _, a := range node.Arms {
			b.end[a.Leg][side(a)], b.lift[a.Leg][side(a)] = n, a.Rise
		}
	}
}

// side is 0 for the start of a leg and 1 for its end.
func side(a Arm) int {
	if a.End {
		return 1
	}
	return 0
}

// ends are the joint of an arm at its node and the next one.
func (p *Problem) ends(a Arm) (at, next int) {
	if n := len(p.Legs[a.Leg].Joints) - 1; a.End {
		return n, n - 1
	}
	return 0, 1
}

// unit is the unit of an arm at its node.
func (p *Problem) unit(a Arm) int {
	at, next := p.ends(a)
	return min(at, next)
}

// length is that of a unit.
func (l *Leg) length(unit int) measure.Length { return l.Joints[unit+1].At - l.Joints[unit].At }

// bends tells whether the grade is one line through joint j, with a change that costs and is limited.
func (l *Leg) bends(j int) bool { return l.Units[j-1].Step == nil && l.Units[j].Step == nil }

func (b *builder) leg(i int) *chain {
	l := &b.p.Legs[i]
	m := len(l.Joints)
	c := newChain(m, b.end[i][0] >= 0, b.end[i][1] >= 0)
	for j := range l.Joints {
		c.x[j] = float64(l.Joints[j].At-l.Joints[0].At) / 1e9
		if pin := l.Joints[j].Pin; pin != nil {
			c.fixed[j], c.z[j] = true, b.metres(*pin)
		}
	}
	for j := 1; j < m-1; j++ {
		l0, l1 := c.x[j]-c.x[j-1], c.x[j+1]-c.x[j]
		c.alpha[j], c.beta[j] = 2*l1/(l0+l1), 2*l0/(l0+l1)
	}
	b.interpolate(l, c)
	b.levelRows(i, c)
	b.unitRows(i, c)
	b.curveRows(i, c)
	return c
}

// interpolate sets first levels: what is known, and straight lines between.
func (b *builder) interpolate(l *Leg, c *chain) {
	last := -1
	for j := range l.Joints {
		switch known := &l.Joints[j]; {
		case known.Pin != nil:
		case known.Wanted != nil:
			c.z[j] = b.metres(*known.Wanted)
		default:
			continue
		}
		for k := last + 1; k < j; k++ {
			if last < 0 {
				c.z[k] = c.z[j]
				continue
			}
			share := (c.x[k] - c.x[last]) / (c.x[j] - c.x[last])
			c.z[k] = c.z[last] + float64(share*(c.z[j]-c.z[last]))
		}
		last = j
	}
	if last < 0 {
		return
	}
	for k := last + 1; k < len(c.z); k++ {
		c.z[k] = c.z[last]
	}
}

// limits are the two sides of a row, infinite where there is none.
type limits struct{ low, high []float64 }

func noLimits(n int) limits {
	l := limits{make([]float64, n), make([]float64, n)}
	for r := range n {
		l.low[r], l.high[r] = math.Inf(-1), math.Inf(1)
	}
	return l
}

// narrow takes so much off both sides of a row, where there is room.
func (l limits) narrow(row int, by float64) {
	if l.high[row]-l.low[row] > 2*by {
		l.low[row] += by
		l.high[row] -= by
	}
}

// narrowest is the width under which a row counts as fixed, in metres.
const narrowest = 1e-9

// limit gives a family its limits: bounds, holds where there is no room between them, or springs if they may be broken.
func (b *builder) limit(f *family, l limits) {
	n := len(f.t)
	if b.elastic {
		low, high := newLine(n), newLine(n)
		some := [2]bool{}
		for r := range n {
			if finite(l.low[r]) {
				low.at[r], low.below[r], some[0] = l.low[r], 1, true
			}
			if finite(l.high[r]) {
				high.at[r], high.above[r], some[1] = l.high[r], 1, true
			}
		}
		if some[0] {
			f.parts = append(f.parts, low)
		}
		if some[1] {
			f.parts = append(f.parts, high)
		}
		return
	}
	var low, high *bound
	var fixed *hold
	for r := range n {
		switch width := l.high[r] - l.low[r]; {
		case width >= 0 && width <= narrowest:
			if fixed == nil {
				fixed = newHold(n)
			}
			fixed.at[r] = (l.low[r] + l.high[r]) / 2
			continue
		}
		if finite(l.low[r]) {
			if low == nil {
				low = newBound(n, 1)
			}
			low.at[r] = l.low[r]
		}
		if finite(l.high[r]) {
			if high == nil {
				high = newBound(n, -1)
			}
			high.at[r] = l.high[r]
		}
	}
	if low != nil {
		f.parts = append(f.parts, low)
	}
	if high != nil {
		f.parts = append(f.parts, high)
	}
	if fixed != nil {
		f.parts = append(f.parts, fixed)
	}
}

// costly is a part that costs.
type costly interface {
	part
	set(r int, at, above, below float64)
}

func (b *builder) costs(n int) costly {
	if b.p.Squares {
		return newBowl(n)
	}
	return newLine(n)
}

func (b *builder) levelRows(i int, c *chain) {
	l := &b.p.Legs[i]
	k := b.costs(len(l.Joints))
	lim := noLimits(len(l.Joints))
	some, limited := false, false
	for j := range l.Joints {
		joint := &l.Joints[j]
		if joint.Wanted != nil && joint.Above+joint.Below > 0 && !b.elastic {
			k.set(j, b.metres(*joint.Wanted), float64(joint.Above)/b.price, float64(joint.Below)/b.price)
			some = true
		}
		if joint.Low != nil && b.counts(LowLimit, i, j) {
			lim.low[j], limited = b.metres(*joint.Low), true
		}
		if joint.High != nil && b.counts(HighLimit, i, j) {
			lim.high[j], limited = b.metres(*joint.High), true
		}
		if b.tight != nil && joint.Pin == nil {
			lim.narrow(j, b.tight.level[i][j])
		}
	}
	if some {
		c.level.parts = append(c.level.parts, k)
	}
	if limited {
		b.limit(&c.level, lim)
	}
}

func (b *builder) unitRows(i int, c *chain) {
	l := &b.p.Legs[i]
	lim := noLimits(len(l.Units))
	for k := range l.Units {
		u, length := &l.Units[k], l.length(k)
		if s := u.Step; s != nil {
			if s.Most != nil && b.counts(StepLimit, i, k) {
				mid, most := rise(s.Grade, length), float64(*s.Most)/1e9
				lim.low[k], lim.high[k] = mid-most, mid+most
			}
			continue
		}
		off := 0.0
		if b.tight != nil {
			off = b.tight.grade[i][k] * float64(length) / 1e9
		}
		if u.Least != nil && b.counts(LeastLimit, i, k) {
			lim.low[k] = rise(*u.Least, length)
		}
		if u.Most != nil && b.counts(MostLimit, i, k) {
			lim.high[k] = rise(*u.Most, length)
		}
		lim.narrow(k, off)
	}
	b.limit(&c.unit, lim)
}

func (b *builder) curveRows(i int, c *chain) {
	l := &b.p.Legs[i]
	m := len(l.Joints)
	k := newLine(m)
	lim := noLimits(m)
	some := false
	for j := 1; j < m-1; j++ {
		joint := &l.Joints[j]
		if !l.bends(j) {
			continue
		}
		scale := c.alpha[j] * (c.x[j] - c.x[j-1])
		if joint.Change != nil && b.counts(ChangeLimit, i, j) {
			most := ratio(*joint.Change)
			if b.tight != nil {
				most = max(most-b.tight.change[i][j], 0)
			}
			lim.low[j], lim.high[j] = -most*scale, most*scale
		}
		if b.tight != nil && b.tight.hold[i][j] {
			lim.low[j], lim.high[j] = 0, 0
		} else if joint.Break > 0 && !b.elastic {
			k.above[j] = float64(joint.Break) / (b.price * scale)
			k.below[j] = k.above[j]
			some = true
		}
	}
	if some {
		c.curve.parts = append(c.curve.parts, k)
	}
	b.limit(&c.curve, lim)
}
