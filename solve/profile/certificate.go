package profile

import "trenchwright/base/measure"

// claimReach is how far from its origin a certificate's claim reaches: no trench lies 10 km above or below another.
const claimReach = 10 * measure.Kilometre

// inward makes all prices a little smaller: those that stand at what a level costs come to stand inside it, where the noise of
// float64 does no harm. What is proven is concave in the prices and nought at nought, so that it shrinks by no more than this.
const inward = 1 - 1e-9

// certificate takes the prices of the best levels out of the work.
func (b *builder) certificate() *Certificate {
	p, w := b.p, b.w
	if w.prices == nil {
		return nil
	}
	price := b.price * inward
	if b.elastic {
		price = 1
	}
	c := &Certificate{Origin: b.origin, Reach: claimReach}
	for i, chain := range w.chains {
		l := &p.Legs[i]
		unit, change := make([]float64, len(l.Units)), make([]float64, len(l.Joints))
		for k := range unit {
			unit[k] = w.prices[i][1][k] * price
		}
		for j := 1; j < len(change)-1; j++ {
			l0, l1 := chain.x[j]-chain.x[j-1], chain.x[j+1]-chain.x[j]
			most := float64(l.Joints[j].Break)
			if l.Joints[j].Change != nil && b.counts(ChangeLimit, i, j) {
				most = -1
			}
			change[j] = inside(float64(w.prices[i][2][j]*price)/((l0+l1)/2), most, l0*l1)
		}
		c.Unit, c.Change = append(c.Unit, unit), append(c.Change, change)
	}
	b.certifyNodes(c, price)
	return c
}

// inside keeps a multiplier y of a change, y·square being its price for 100 %, within what a change costs where there is no
// limit; most below 0: there is one.
func inside(y, most, square float64) float64 {
	const less = 1 - 1e-13
	if most < 0 {
		return y
	}
	return min(max(y, -most/square*less), most/square*less)
}

func (b *builder) certifyNodes(c *Certificate, price float64) {
	p, w, r := b.p, b.w, 0
	for n, node := range p.Nodes {
		through, mouth, end := make([][2]float64, len(node.Throughs)), make([]float64, len(node.Arms)), make([]float64, len(node.Arms))
		for ti, t := range node.Throughs {
			length := func(a Arm) float64 { return float64(p.Legs[a.Leg].length(p.unit(a))) / 1e9 }
			l0, l1 := length(node.Arms[t.In]), length(node.Arms[t.Out])
			most := float64(t.Break)
			if t.Change != nil && b.counts(NodeChange, n, ti) {
				most = -1
			}
			through[ti] = [2]float64{inside(float64(w.ends[r]*price)/((l0+l1)/2), most, l0*l1), float64(w.ends[r+1]*price) / ((l0 + l1) / 2)}
			r += 2
		}
		for ai, a := range node.Arms {
			at, _ := p.ends(a)
			mouth[ai], end[ai] = w.ends[r]*price, w.prices[a.Leg][0][at]*price
			r++
		}
		c.Through, c.Mouth, c.End = append(c.Through, through), append(c.Mouth, mouth), append(c.End, end)
	}
}
