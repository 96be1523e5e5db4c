package profile

import (
	"math"
	"math/big"
	"slices"

	"trenchwright/base/measure"
)

// This file evaluates a Certificate. It shares nothing with the solver but the types. Weak duality: whatever the levels z,
//
//	cost(z) = Σ over rows of what the row costs ≥ Σ over rows of the least of (cost(t) − y·t), if Σ y·row = 0
//
// for every row t = row·z with its multiplier y. The multipliers of units, changes and nodes are given; the multiplier of
// every level is then what makes the sum nought, exactly: float64 are binary fractions and lengths are whole nanometres, so
// that all sums are exact in a wide enough big.Float. Divisions are rounded down. Everything is in 1e-18 of the price.

const wide = 512 // bits

// evaluator adds up a lower bound.
type evaluator struct {
	p      *Problem
	c      *Certificate
	use    func(k Kind, i, j int) bool // which limits count
	priced bool                        // costs count
	beat   float64                     // what levels are to cost less than; 0: whatever they cost
	total  *big.Float
	level  [][]*big.Float // by leg and joint: 1e9 times the multiplier of its level
	wrong  string         // why nothing is proven
}

// lowerBound is what no levels within the certificate's reach cost less than, rounded down; or why it proves nothing.
// use says which limits count; unless priced, costs do not. With beat above 0 only levels that cost less than that are looked
// at: no one of them alone lies further off its wanted level than all of that would pay for.
func (p *Problem) lowerBound(c *Certificate, use func(k Kind, i, j int) bool, priced bool, beat float64) (*big.Float, string) {
	if p.shape(c) != "" {
		return nil, p.shape(c)
	}
	e := &evaluator{p: p, c: c, use: use, priced: priced, beat: beat, total: number(0)}
	e.total.SetMode(big.ToNegativeInf)
	e.level = make([][]*big.Float, len(p.Legs))
	for i := range p.Legs {
		e.level[i] = make([]*big.Float, len(p.Legs[i].Joints))
		for j := range e.level[i] {
			e.level[i][j] = number(0)
		}
	}
	e.units()
	e.changes()
	e.nodes()
	e.levels()
	if e.wrong != "" {
		return nil, e.wrong
	}
	return e.total.Quo(e.total, number(1e18)), ""
}

// shape is what is wrong with the certificate's size, "" if nothing.
func (p *Problem) shape(c *Certificate) string {
	const odd = "the certificate does not fit the network"
	if c == nil || len(c.Unit) != len(p.Legs) || len(c.Change) != len(p.Legs) || c.Reach <= 0 {
		return odd
	}
	for i := range p.Legs {
		if len(c.Unit[i]) != len(p.Legs[i].Units) || len(c.Change[i]) != len(p.Legs[i].Joints) {
			return odd
		}
	}
	if len(c.Through) != len(p.Nodes) || len(c.Mouth) != len(p.Nodes) || len(c.End) != len(p.Nodes) {
		return odd
	}
	for n, node := range p.Nodes {
		if len(c.Through[n]) != len(node.Throughs) || len(c.Mouth[n]) != len(node.Arms) || len(c.End[n]) != len(node.Arms) {
			return odd
		}
	}
	if !c.finite() {
		return "a multiplier is no number"
	}
	return ""
}

// finite tells whether every multiplier is a number: on figures many orders apart the last step can lose them.
func (c *Certificate) finite() bool {
	for _, rows := range [][][]float64{c.Unit, c.Change, c.Mouth, c.End} {
		for _, row := range rows {
			if slices.ContainsFunc(row, lost) {
				return false
			}
		}
	}
	for _, rows := range c.Through {
		for _, y := range rows {
			if lost(y[0]) || lost(y[1]) {
				return false
			}
		}
	}
	return true
}

// lost tells whether v is no number, or none that can be added to.
func lost(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) }

func number(v float64) *big.Float            { return new(big.Float).SetPrec(wide).SetFloat64(v) }
func whole(l int64) *big.Float               { return new(big.Float).SetPrec(wide).SetInt64(l) }
func times(a *big.Float, l int64) *big.Float { return new(big.Float).SetPrec(wide).Mul(a, whole(l)) }

// sum adds b to a, and notes where that is not exact.
func (e *evaluator) sum(a, b *big.Float) {
	if a.Add(a, b); a.Acc() != big.Exact {
		e.wrong = "the multipliers are too far apart to be added exactly"
	}
}

// worth adds v to the total, rounded down.
func (e *evaluator) worth(v *big.Float) { e.total.Add(e.total, v) }

// over is v·g, rounded down.
func over(v *big.Float, g measure.Grade) *big.Float {
	out := new(big.Float).SetPrec(wide).SetMode(big.ToNegativeInf)
	if g.Rise == 0 {
		return out
	}
	return out.Quo(times(v, int64(g.Rise)), whole(int64(g.Run)))
}

func minus(v *big.Float) *big.Float { return new(big.Float).SetPrec(wide).Neg(v) }

// rise takes a multiplier y of a unit's rise to the levels of its joints, 1e9 times it.
func (e *evaluator) rise(leg, unit int, y *big.Float, sign int64) {
	e.sum(e.level[leg][unit+1], times(y, -sign))
	e.sum(e.level[leg][unit], times(y, sign))
}

// between adds the least of −y·t for t between low and high, given as what y·low and y·high are; nil: none on file.
func (e *evaluator) between(y *big.Float, low, high func(*big.Float) *big.Float) {
	at := high
	switch {
	case y.Sign() == 0:
		return
	case y.Sign() < 0:
		at = low
	}
	if at == nil {
		e.wrong = "a multiplier stands where no limit is on file"
		return
	}
	e.worth(at(minus(y)))
}

func (e *evaluator) units() {
	for i := range e.p.Legs {
		l := &e.p.Legs[i]
		for k := range l.Units {
			u, length := &l.Units[k], int64(l.Joints[k+1].At-l.Joints[k].At)
			y := times(number(e.c.Unit[i][k]), 1e9)
			e.rise(i, k, y, 1)
			var low, high func(*big.Float) *big.Float
			switch s := u.Step; {
			case s != nil && s.Most != nil && e.use(StepLimit, i, k):
				low = func(v *big.Float) *big.Float { return down(over(times(v, length), s.Grade), times(v, -int64(*s.Most))) }
				high = func(v *big.Float) *big.Float { return down(over(times(v, length), s.Grade), times(v, int64(*s.Most))) }
			case s != nil:
			default:
				if u.Least != nil && e.use(LeastLimit, i, k) {
					low = func(v *big.Float) *big.Float { return over(times(v, length), *u.Least) }
				}
				if u.Most != nil && e.use(MostLimit, i, k) {
					high = func(v *big.Float) *big.Float { return over(times(v, length), *u.Most) }
				}
			}
			e.between(y, low, high)
		}
	}
}

func down(a, b *big.Float) *big.Float {
	return new(big.Float).SetPrec(wide).SetMode(big.ToNegativeInf).Add(a, b)
}

// change adds the least of price·|c| − y·l₀·l₁·c for a change of grade c of at most most (nil: no limit).
func (e *evaluator) change(y *big.Float, l0, l1 int64, price int64, most *measure.Grade) {
	v := times(times(y, l0), l1)
	v.Abs(v)
	if e.priced {
		v.Sub(v, times(number(1e18), price))
	}
	switch {
	case v.Sign() <= 0:
	case most == nil:
		e.wrong = "a change of grade is priced higher than it costs, and no limit is on file there"
	default:
		e.worth(over(minus(v), *most))
	}
}

func (e *evaluator) changes() {
	for i := range e.p.Legs {
		l := &e.p.Legs[i]
		for j := 1; j < len(l.Units); j++ {
			y := number(e.c.Change[i][j])
			if y.Sign() == 0 {
				continue
			}
			if l.Units[j-1].Step != nil || l.Units[j].Step != nil {
				e.wrong = "a multiplier stands at a joint that steps"
				return
			}
			l0, l1 := int64(l.Joints[j].At-l.Joints[j-1].At), int64(l.Joints[j+1].At-l.Joints[j].At)
			e.rise(i, j, times(y, l0), 1)
			e.rise(i, j-1, times(y, l1), -1)
			most := l.Joints[j].Change
			if most != nil && !e.use(ChangeLimit, i, j) {
				most = nil
			}
			e.change(y, l0, l1, l.Joints[j].Break, most)
		}
	}
}

// armUnit is the unit of an arm at its node, its length, and −1 where chainage runs towards the node.
func (e *evaluator) armUnit(a Arm) (unit int, length, sign int64) {
	l := &e.p.Legs[a.Leg]
	sign = 1
	if a.End {
		unit, sign = len(l.Units)-1, -1
	}
	return unit, int64(l.Joints[unit+1].At - l.Joints[unit].At), sign
}

func (e *evaluator) nodes() {
	for n, node := range e.p.Nodes {
		for ti, t := range node.Throughs {
			in, out := node.Arms[t.In], node.Arms[t.Out]
			inUnit, l0, inSign := e.armUnit(in)
			outUnit, l1, outSign := e.armUnit(out)
			for sort, v := range e.c.Through[n][ti] {
				if v == 0 {
					continue
				}
				y := number(v)
				e.rise(out.Leg, outUnit, times(y, l0), outSign) // of l₀·(rise out) ± l₁·(rise in), both away from the node
				e.rise(in.Leg, inUnit, times(y, l1), inSign*int64(1-2*sort))
				if sort == 0 {
					most := t.Change
					if most != nil && !e.use(NodeChange, n, ti) {
						most = nil
					}
					e.change(y, l0, l1, t.Break, most)
					continue
				}
				if t.Bend == nil || t.Bend.Lip == nil || !e.use(NodeLip, n, ti) {
					e.wrong = "a multiplier stands at a bend without a lip on file"
					return
				}
				e.lip(times(times(y, l0), l1), t.Bend)
			}
		}
		for ai, a := range node.Arms {
			if v := e.c.Mouth[n][ai]; v != 0 {
				e.mouth(number(v), a, n, ai)
			}
		}
	}
}

// lip adds the least of −y·s for a sum of grades s of at most lip/(W/2·tan α) either way.
func (e *evaluator) lip(y *big.Float, b *Bend) {
	y.Abs(y)
	below := times(number(b.Tan), int64(b.Width))
	out := new(big.Float).SetPrec(wide).SetMode(big.ToNegativeInf)
	e.worth(out.Quo(times(minus(y), 2*int64(*b.Lip)), below))
}

func (e *evaluator) mouth(y *big.Float, a Arm, n, ai int) {
	if a.Cast == nil || a.Cast.Change == nil || !e.use(MouthLimit, n, ai) {
		e.wrong = "a multiplier stands at a mouth without a limit on file"
		return
	}
	unit, length, sign := e.armUnit(a)
	y = times(y, 1e9)
	e.rise(a.Leg, unit, y, sign)
	e.worth(over(minus(times(y, length)), a.Cast.Grade))
	e.worth(over(minus(times(new(big.Float).SetPrec(wide).Abs(y), length)), *a.Cast.Change))
}
