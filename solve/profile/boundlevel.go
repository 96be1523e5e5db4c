package profile

import (
	"math/big"

	"trenchwright/base/measure"
)

// levels adds what the levels come to. An end at a node that is not the last arm there has its price from the certificate;
// what is left over at the node falls to the last arm.
func (e *evaluator) levels() {
	atNode := make([][2]bool, len(e.p.Legs))
	for n, node := range e.p.Nodes {
		var pin *measure.Length // of the node
		rest := number(0)
		for _, a := range node.Arms {
			end := 0
			if a.End {
				end = 1
			}
			atNode[a.Leg][end] = true
			joint := e.endJoint(a)
			if own := e.p.Legs[a.Leg].Joints[joint].Pin; own != nil && pin == nil && e.use(PinLimit, a.Leg, joint) {
				level := *own - a.Rise
				pin = &level
			}
			e.sum(rest, e.level[a.Leg][joint])
		}
		for ai, a := range node.Arms {
			joint := e.endJoint(a)
			y := new(big.Float).SetPrec(wide).Set(rest)
			if ai < len(node.Arms)-1 {
				y = times(number(e.c.End[n][ai]), 1e9)
				e.sum(rest, minus(y))
			}
			level := pin
			if pin != nil {
				at := *pin + a.Rise
				level = &at
			}
			e.oneLevel(a.Leg, joint, y, level)
			e.worth(times(y, int64(a.Rise))) // multipliers at a node are of the node's level
			e.worth(times(e.level[a.Leg][joint], -int64(a.Rise)))
		}
	}
	for i := range e.p.Legs {
		last := len(e.p.Legs[i].Joints) - 1
		for j := range e.p.Legs[i].Joints {
			if j == 0 && atNode[i][0] || j == last && atNode[i][1] {
				continue
			}
			pin := e.p.Legs[i].Joints[j].Pin
			if pin != nil && !e.use(PinLimit, i, j) {
				pin = nil
			}
			e.oneLevel(i, j, e.level[i][j], pin)
		}
	}
}

func (e *evaluator) endJoint(a Arm) int {
	if a.End {
		return len(e.p.Legs[a.Leg].Joints) - 1
	}
	return 0
}

// oneLevel adds the least of cost(z) − y·z over the levels that a joint may have, y being 1e9 times the multiplier.
func (e *evaluator) oneLevel(i, j int, y *big.Float, pin *measure.Length) {
	joint := &e.p.Legs[i].Joints[j]
	if pin != nil {
		e.worth(e.at(joint, y, *pin))
		return
	}
	low, high := e.c.Origin-e.c.Reach, e.c.Origin+e.c.Reach
	if joint.Low != nil && e.use(LowLimit, i, j) {
		low = *joint.Low
	}
	if joint.High != nil && e.use(HighLimit, i, j) {
		high = *joint.High
	}
	if w := joint.Wanted; w != nil && e.priced && e.beat > 0 && !e.p.Squares {
		low, high = max(low, *w-farthest(e.beat, joint.Below)), min(high, *w+farthest(e.beat, joint.Above))
		if low > high { // its limits alone cost more than is to be beaten
			low, high = min(low, high), max(low, high)
		}
	}
	least := lesser(e.at(joint, y, low), e.at(joint, y, high))
	if w := joint.Wanted; e.priced && w != nil {
		if low <= *w && *w <= high {
			least = lesser(least, e.at(joint, y, *w))
		}
		if e.p.Squares {
			if v := vertex(joint, y, low, high); v != nil {
				least = lesser(least, v)
			}
		}
	}
	e.worth(least)
}

// farthest is how far a joint may lie off its wanted level before that alone costs more than all is to, rounded up.
func farthest(beat float64, price int64) measure.Length {
	if price <= 0 {
		return 2 * claimReach
	}
	if far := beat / float64(price) * (1 + 1e-9); far < claimReach.Metres() {
		return measure.FromMetres(far) + 1
	}
	return 2 * claimReach
}

func lesser(a, b *big.Float) *big.Float {
	if a.Cmp(b) < 0 {
		return a
	}
	return b
}

// at is cost(z) − y·z, rounded down.
func (e *evaluator) at(joint *Joint, y *big.Float, z measure.Length) *big.Float {
	cost := number(0)
	if e.priced && joint.Wanted != nil {
		d, price := int64(z-*joint.Wanted), joint.Above
		if d < 0 {
			d, price = -d, joint.Below
		}
		cost = times(whole(d), price)
		if e.p.Squares {
			cost = times(cost, d)
		} else {
			cost = times(cost, 1e9)
		}
	}
	return down(cost, times(y, -int64(z)))
}

// vertex is the least of price·(z−f)² − y·z over all z, rounded down: −y·f − y²/(4·price) at z = f + y/(2·price). It is nil
// where that z lies beyond low or high, or where the side costs nothing: then the least is at an end.
func vertex(joint *Joint, y *big.Float, low, high measure.Length) *big.Float {
	price := joint.Above
	if y.Sign() < 0 {
		price = joint.Below
	}
	f := *joint.Wanted
	if price == 0 || y.Cmp(times(whole(2*price), int64(low-f))) < 0 || y.Cmp(times(whole(2*price), int64(high-f))) > 0 {
		return nil
	}
	square := new(big.Float).SetPrec(wide).Mul(y, y)
	out := new(big.Float).SetPrec(wide).SetMode(big.ToNegativeInf)
	out.Quo(minus(square), whole(4*price))
	return down(out, times(y, -int64(f)))
}
