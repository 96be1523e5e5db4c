package profile

import (
	"cmp"
	"math"
	"math/big"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/base/wording"
)

// Bears is a limit that keeps levels off where they are wanted: the proof has a price for it.
type Bears struct {
	Limit
	Saves float64 // of the price, where it gives way by 10 mm, or by 0.1 % of grade
}

// How far limits are thought to give way, so that one can be held against another: levels in metres, and grades.
const (
	giveLevel = 0.010
	giveGrade = 0.001
)

// Bearings is what limits have a price in the proof of a solution.
type Bearings struct {
	p      *Problem
	c      *Certificate
	level  [][]float64 // by leg and joint: multiplier of its level, for a metre
	levels [][]measure.Length
	least  float64 // below that a price of a metre is noise, or not worth a word
	out    []Bears
}

// Bearings of the best levels; nil: they have no proof that fits.
func (p Problem) Bearings(s Solution) *Bearings {
	if p.shape(s.Proof) != "" || len(s.Levels) != len(p.Legs) {
		return nil
	}
	return &Bearings{p: &p, c: s.Proof, level: p.multipliers(s.Proof), levels: s.Levels, least: p.price() / 1000}
}

// Along is the limits with a price along joints from to to of a leg, and at its nodes where those are among them, the dearest
// first. Where there is none, levels lie as they do for the price of breaks of grade alone.
func (b *Bearings) Along(leg, from, to int) []Bears {
	if b == nil {
		return nil
	}
	b.out = nil
	l := &b.p.Legs[leg]
	for k := from; k < to; k++ {
		b.unit(leg, k)
	}
	for j := max(from, 1); j <= min(to, len(l.Units)-1); j++ {
		b.change(leg, j)
	}
	for j := from; j <= to; j++ {
		b.joint(leg, j)
	}
	for n := range b.p.Nodes {
		for ai, a := range b.p.Nodes[n].Arms {
			if at, _ := b.p.ends(a); a.Leg == leg && from <= at && at <= to {
				b.node(n, ai)
			}
		}
	}
	sorting.By(b.out, func(a, b Bears) int { return cmp.Compare(b.Saves, a.Saves) })
	return b.out
}

// Says is a limit in words; SaysAt is where a joint lies along its leg, and SaysSpan where joints from to to of a leg do.
func (p Problem) Says(l Limit) string { return p.limit(l) }
func (p Problem) SaysAt(leg, joint int) string {
	return p.Words.Word(wording.Chainage) + " " + p.chainage(leg, joint)
}
func (p Problem) SaysSpan(leg, from, to int) string { return p.span(leg, from, to) }

// multipliers are those of all levels, for a metre: what is left of the prices of everything else.
func (p *Problem) multipliers(c *Certificate) [][]float64 {
	e := evaluator{p: p, c: c, use: allLimits, priced: true, total: number(0)}
	for i := range p.Legs {
		e.level = append(e.level, make([]*big.Float, len(p.Legs[i].Joints)))
		for j := range e.level[i] {
			e.level[i][j] = number(0)
		}
	}
	e.units()
	e.changes()
	e.nodes()
	out := make([][]float64, len(e.level))
	for i := range e.level {
		for _, y := range e.level[i] {
			v, _ := y.Float64()
			out[i] = append(out[i], v/1e9)
		}
	}
	return out
}

// add adds a limit, or makes the one before longer.
func (b *Bearings) add(l Limit, saves float64) {
	if saves < b.least*giveLevel {
		return
	}
	if n := len(b.out) - 1; n >= 0 && b.out[n].Kind == l.Kind && b.out[n].Leg == l.Leg && b.out[n].To+1 == l.From && b.p.alike(b.out[n].To, l) {
		b.out[n].To, b.out[n].Saves = l.To, b.out[n].Saves+saves
		return
	}
	b.out = append(b.out, Bears{l, saves})
}

// unit: a limit of grade with a price, or of a step.
func (b *Bearings) unit(leg, k int) {
	l, y := &b.p.Legs[leg], math.Abs(b.c.Unit[leg][k])
	kind, give := MostLimit, l.length(k).Metres()*giveGrade
	switch {
	case l.Units[k].Step != nil:
		kind, give = StepLimit, giveLevel
	case b.c.Unit[leg][k] < 0:
		kind = LeastLimit
	}
	b.add(Limit{kind, leg, k, k}, y*give)
}

func (b *Bearings) change(leg, j int) {
	l := &b.p.Legs[leg]
	if l.Joints[j].Change == nil {
		return
	}
	y := float64(math.Abs(b.c.Change[leg][j]) * l.length(j-1).Metres() * l.length(j).Metres())
	b.add(Limit{ChangeLimit, leg, j, j}, (y-float64(l.Joints[j].Break))*giveGrade)
}

// joint: a limit of a level that what the level itself costs does not account for.
func (b *Bearings) joint(leg, j int) {
	joint, at := &b.p.Legs[leg].Joints[j], b.levels[leg][j]
	pull := b.pull(leg, j)
	for _, of := range []struct {
		kind  Kind
		limit *measure.Length
	}{{PinLimit, joint.Pin}, {LowLimit, joint.Low}, {HighLimit, joint.High}} {
		if of.limit != nil && (at-*of.limit).Abs() <= measure.Micrometre {
			b.add(Limit{of.kind, leg, j, j}, pull*giveLevel)
			return
		}
	}
}

// pull is how much a metre up or down at a joint, and with it of all ends at its node, would save.
func (b *Bearings) pull(leg, j int) float64 {
	ends := [][2]int{{leg, j}}
	if j == 0 || j == len(b.p.Legs[leg].Units) {
		ends = b.p.sameNode(leg, j)
	}
	low, high := 0.0, 0.0 // what a metre up costs at the joints themselves; two figures where they lie as they are wanted
	for _, e := range ends {
		joint, y := &b.p.Legs[e[0]].Joints[e[1]], b.level[e[0]][e[1]]
		down, up := b.p.costSlopes(joint, b.levels[e[0]][e[1]])
		low, high = low+down-y, high+up-y
	}
	return max(low, -high, 0)
}

// sameNode is a joint at an end of a leg, with all others at its node.
func (p *Problem) sameNode(leg, j int) [][2]int {
	for _, node := range p.Nodes {
		var all [][2]int
		mine := false
		for _, a := range node.Arms {
			at, _ := p.ends(a)
			all, mine = append(all, [2]int{a.Leg, at}), mine || a.Leg == leg && at == j
		}
		if mine {
			return all
		}
	}
	return [][2]int{{leg, j}}
}

// costSlopes are what a metre up costs at a joint, coming from below and going on above.
func (p *Problem) costSlopes(joint *Joint, level measure.Length) (below, above float64) {
	if joint.Wanted == nil {
		return 0, 0
	}
	off := level - *joint.Wanted
	if p.Squares {
		price := joint.Above
		if off < 0 {
			price = joint.Below
		}
		return float64(2 * float64(price) * off.Metres()), float64(2 * float64(price) * off.Metres())
	}
	below, above = -float64(joint.Below), float64(joint.Above)
	switch {
	case off > measure.Micrometre:
		below = above
	case off < -measure.Micrometre:
		above = below
	}
	return below, above
}

func (b *Bearings) node(n, arm int) {
	node := &b.p.Nodes[n]
	for ti, t := range node.Throughs {
		if t.In != arm && t.Out != arm {
			continue
		}
		in, out := node.Arms[t.In], node.Arms[t.Out]
		square := b.p.Legs[in.Leg].length(b.p.unit(in)).Metres() * b.p.Legs[out.Leg].length(b.p.unit(out)).Metres()
		if t.Change != nil {
			b.add(Limit{NodeChange, n, ti, ti}, (float64(math.Abs(b.c.Through[n][ti][0])*square)-float64(t.Break))*giveGrade)
		}
		b.add(Limit{NodeLip, n, ti, ti}, math.Abs(b.c.Through[n][ti][1])*square*giveGrade)
	}
	if a := node.Arms[arm]; a.Cast != nil {
		b.add(Limit{MouthLimit, n, arm, arm}, math.Abs(b.c.Mouth[n][arm])*b.p.Legs[a.Leg].length(b.p.unit(a)).Metres()*giveGrade)
	}
}
