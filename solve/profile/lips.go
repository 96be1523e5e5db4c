package profile

import (
	"math/big"

	"trenchwright/base/measure"
)

// lips are those of every bend, and of every change of crossfall.
//
// A mitred pair on grades s_in and s_out has a lip of (W/2)·tan α·(s_in + s_out) at each wall, opposite in sign; a change Δ of
// crossfall has one of Δ·W/2 (layout.md §7). Without a width on file the latter cannot be said.
func (p *Problem) lips(runs []Run) []Lip {
	var out []Lip
	first, last := make([]measure.Grade, len(p.Legs)), make([]measure.Grade, len(p.Legs))
	for _, run := range runs {
		if run.From == 0 {
			first[run.Leg] = run.Grade
		}
		last[run.Leg] = run.Grade
	}
	away := func(a Arm) measure.Grade {
		if a.End {
			return negated(last[a.Leg])
		}
		return first[a.Leg]
	}
	for n, node := range p.Nodes {
		for ti, t := range node.Throughs {
			if b := t.Bend; b != nil {
				lip := b.lip(away(node.Arms[t.In]), away(node.Arms[t.Out]))
				out = append(out, Lip{Node: n, Through: ti, Lip: roundedUp(lip), Most: b.Lip})
			}
		}
	}
	if p.Width == 0 {
		return out
	}
	for i := range p.Legs {
		units := p.Legs[i].Units
		for j := 1; j < len(units); j++ {
			if units[j].Cross.Cmp(units[j-1].Cross) == 0 {
				continue
			}
			d := new(big.Rat).Sub(fraction(units[j].Cross), fraction(units[j-1].Cross))
			d.Mul(d, big.NewRat(int64(p.Width), 2))
			out = append(out, Lip{Node: -1, Leg: i, Joint: j, Lip: roundedUp(d), Most: p.CrossLip})
		}
	}
	return out
}

// roundedUp is |v| nanometres, up to the next whole one.
func roundedUp(v *big.Rat) measure.Length {
	up := new(big.Int).Abs(v.Num())
	up.Add(up, new(big.Int).Sub(v.Denom(), big.NewInt(1)))
	return measure.Length(up.Quo(up, v.Denom()).Int64())
}
