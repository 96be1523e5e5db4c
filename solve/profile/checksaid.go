package profile

import (
	"math"
	"math/big"

	"trenchwright/base/measure"
)

// conflict verifies a claim of impossible: with the limits named alone and no prices at all, a cost above nought is proven.
// Two limits of one place that exclude each other prove themselves.
func (c *checker) conflict() {
	r := c.s.Reason
	if r == nil || len(r.Limits) == 0 {
		c.say("conflict", 0, 0, "no conflict is named")
		return
	}
	named := func(k Kind, i, j int) bool {
		for _, l := range r.Limits {
			if l.Kind == k && l.Leg == i && l.From <= j && j <= l.To {
				return true
			}
		}
		return false
	}
	if len(r.Limits) == 2 && c.exclude(r.Limits[0], r.Limits[1]) {
		return
	}
	low, why := c.p.lowerBound(&r.Proof, named, false, 0)
	switch {
	case why != "":
		c.say("conflict", 0, 0, "%s", why)
	case low.Sign() <= 0:
		c.say("conflict", 0, 0, "the limits named are not proven to contradict each other")
	}
}

// exclude tells whether two limits of one unit, or of the level of one joint or node, exclude each other.
func (c *checker) exclude(a, b Limit) bool {
	if a.Kind == LeastLimit && b.Kind == MostLimit && a.Leg == b.Leg && a.From <= b.To && b.From <= a.To {
		k := max(a.From, b.From)
		u := c.p.Legs[a.Leg].Units[k]
		return u.Step == nil && u.Least != nil && u.Most != nil && rat(*u.Least).Cmp(rat(*u.Most)) > 0
	}
	place := [2]int{-1, -1}
	low, high := [2]*measure.Length{}, [2]*measure.Length{}
	for k, l := range []Limit{a, b} {
		if l.Leg < 0 || l.Leg >= len(c.p.Legs) || l.From < 0 || l.From >= len(c.p.Legs[l.Leg].Joints) {
			return false
		}
		joint, rise := c.p.Legs[l.Leg].Joints[l.From], measure.Length(0)
		place[k] = (l.Leg+1)<<32 + l.From
		for n, node := range c.p.Nodes {
			for _, arm := range node.Arms {
				if arm.Leg == l.Leg && (arm.End && l.From == len(c.p.Legs[l.Leg].Joints)-1 || !arm.End && l.From == 0) {
					place[k], rise = n, arm.Rise
				}
			}
		}
		at := func(v *measure.Length) *measure.Length {
			if v == nil {
				return nil
			}
			w := *v - rise
			return &w
		}
		switch l.Kind {
		case PinLimit:
			low[k], high[k] = at(joint.Pin), at(joint.Pin)
		case LowLimit:
			low[k] = at(joint.Low)
		case HighLimit:
			high[k] = at(joint.High)
		default:
			return false
		}
	}
	above := func(l, h *measure.Length) bool { return l != nil && h != nil && *l > *h }
	return place[0] == place[1] && (above(low[0], high[1]) || above(low[1], high[0]))
}

// lips verifies that every bend has its lip, to the nanometre.
func (c *checker) lips() {
	said := map[[2]int]Lip{}
	for _, l := range c.s.Lips {
		if l.Node >= 0 {
			said[[2]int{l.Node, l.Through}] = l
			continue
		}
		units := c.p.Legs[l.Leg].Units
		d := rat(units[min(l.Joint, len(units)-1)].Cross)
		if l.Joint > 0 && l.Joint < len(units) {
			d.Sub(d, rat(units[l.Joint-1].Cross))
		} else {
			d.Sub(d, c.castCross(l.Leg, l.Joint > 0))
		}
		d.Abs(d).Mul(d, big.NewRat(int64(c.p.Width), 2))
		c.near("lip", l.Leg, l.Joint, l.Lip, d)
	}
	for n, node := range c.p.Nodes {
		for k, t := range node.Throughs {
			if t.Bend == nil {
				continue
			}
			l, ok := said[[2]int{n, k}]
			if !ok {
				c.say("lip", node.Arms[t.In].Leg, 0, "the lip of the bend at node %d is not said", n)
				continue
			}
			in, _ := c.outward(node.Arms[t.In])
			out, _ := c.outward(node.Arms[t.Out])
			c.near("lip", node.Arms[t.In].Leg, 0, l.Lip, bendLip(t.Bend, in.Neg(in), out))
		}
	}
}

// castCross is the crossfall of the casting at an end of a leg, looking up-chainage.
func (c *checker) castCross(leg int, end bool) *big.Rat {
	out := new(big.Rat)
	for _, node := range c.p.Nodes {
		for _, a := range node.Arms {
			if a.Leg == leg && a.End == end && a.Cast != nil {
				out = rat(a.Cast.Cross)
			}
		}
	}
	if end {
		out.Neg(out)
	}
	return out
}

// near: said is exact, rounded up.
func (c *checker) near(id string, leg, joint int, said measure.Length, exact *big.Rat) {
	d := new(big.Rat).Sub(big.NewRat(int64(said), 1), exact)
	if d.Sign() < 0 || d.Cmp(big.NewRat(1, 1)) >= 0 {
		c.say(id, leg, joint, "said to be %s, it is %s nm", said, exact.FloatString(3))
	}
}

// spot is a place where the checker looks for water: an end of a unit, or where a node's ends run together.
type spot struct{ leg, at int } // at: twice the unit, and one more at its end; leg −1: at is the node

// water is the network as the checker sees it.
type water struct {
	*checker
	meets map[spot]int // nodes of ends
}

func (c *checker) water() water {
	w := water{c, map[spot]int{}}
	for n, node := range c.p.Nodes {
		for _, a := range node.Arms {
			w.meets[w.mouth(a)] = n
		}
	}
	return w
}

func (w water) mouth(a Arm) spot {
	if a.End {
		return spot{a.Leg, 2*len(w.p.Legs[a.Leg].Units) - 1}
	}
	return spot{a.Leg, 0}
}

// height is that of the invert; a node is as low as the lowest of its ends.
func (w water) height(v spot) measure.Length {
	if v.leg < 0 {
		var out measure.Length
		for k, a := range w.p.Nodes[v.at].Arms {
			if z := w.height(w.mouth(a)); k == 0 || z < out {
				out = z
			}
		}
		return out
	}
	k, l := v.at/2, &w.p.Legs[v.leg]
	u, z := &l.Units[k], w.s.Levels[v.leg][k]
	switch {
	case v.at%2 == 0:
	case u.Step == nil:
		z = w.s.Levels[v.leg][k+1]
	default:
		up := new(big.Rat).Mul(rat(u.Step.Grade), big.NewRat(int64(l.Joints[k+1].At-l.Joints[k].At), 1))
		v, _ := up.Float64()
		z += measure.Length(math.Round(v))
	}
	return z - u.Below
}

func (w water) beside(v spot) (out []spot) {
	if v.leg < 0 {
		for _, a := range w.p.Nodes[v.at].Arms {
			out = append(out, w.mouth(a))
		}
		return out
	}
	if n, ok := w.meets[v]; ok {
		out = append(out, spot{-1, n})
	}
	for _, at := range []int{v.at - 1, v.at + 1} {
		if at >= 0 && at < 2*len(w.p.Legs[v.leg].Units) {
			out = append(out, spot{v.leg, at})
		}
	}
	return out
}

// flat is all places of one level around v, and whether from any of them water runs on.
func (w water) flat(v spot) (places []spot, falls bool) {
	seen := map[spot]bool{v: true}
	places = []spot{v}
	for k := 0; k < len(places); k++ {
		here := w.height(places[k])
		for _, u := range w.beside(places[k]) {
			switch there := w.height(u); {
			case there < here:
				falls = true
			case there == here && !seen[u]:
				seen[u] = true
				places = append(places, u)
			}
		}
	}
	return places, falls
}

// lows verifies that water runs on from none of the lows that are said, and that there are as many lows as are said.
func (c *checker) lows() {
	w := c.water()
	looked, found := map[spot]bool{}, [][]spot{}
	for i, l := range c.p.Legs {
		for at := range 2 * len(l.Units) {
			if looked[spot{i, at}] {
				continue
			}
			places, falls := w.flat(spot{i, at})
			for _, v := range places {
				looked[v] = true
			}
			if !falls {
				found = append(found, places)
			}
		}
	}
	if len(found) != len(c.s.Lows) {
		c.say("low-point", 0, 0, "%d lows are said, there are %d", len(c.s.Lows), len(found))
	}
	for _, l := range c.s.Lows {
		here := false
		for _, places := range found {
			for _, v := range places {
				here = here || v == spot{l.Leg, 2 * l.From} || v == spot{l.Leg, 2*l.From - 1}
			}
		}
		if !here {
			c.say("low-point", l.Leg, l.From, "from a low said to be here water runs on")
		}
	}
}
