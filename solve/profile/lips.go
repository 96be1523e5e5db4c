package profile

import (
	"math/big"

	"trenchwright/base/measure"
)

// lips are those of every bend, and of every change of crossfall: from unit to unit, and from a casting to the unit at its
// mouth, where the grade of a casting along one arm is its crossfall on another.
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
			out = append(out, p.crossLip(i, j, units[j].Cross, units[j-1].Cross))
		}
	}
	for _, node := range p.Nodes {
		for _, a := range node.Arms {
			if a.Cast == nil {
				continue
			}
			cross := a.Cast.Cross // looking away from the node
			if a.End {
				cross = negated(cross)
			}
			if unit := p.Legs[a.Leg].Units[p.unit(a)].Cross; unit.Cmp(cross) != 0 {
				at, _ := p.ends(a)
				out = append(out, p.crossLip(a.Leg, at, unit, cross))
			}
		}
	}
	return out
}

func (p *Problem) crossLip(leg, joint int, a, b measure.Grade) Lip {
	d := new(big.Rat).Sub(fraction(a), fraction(b))
	return Lip{Node: -1, Leg: leg, Joint: joint, Lip: roundedUp(d.Mul(d, big.NewRat(int64(p.Width), 2))), Most: p.CrossLip}
}

// roundedUp is |v| nanometres, up to the next whole one.
func roundedUp(v *big.Rat) measure.Length {
	up := new(big.Int).Abs(v.Num())
	up.Add(up, new(big.Int).Sub(v.Denom(), big.NewInt(1)))
	return measure.Length(up.Quo(up, v.Denom()).Int64())
}
