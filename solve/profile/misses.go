package profile

import (
	"math/big"

	"trenchwright/base/measure"
)

// pass is a level of record beyond its limit.
type pass struct {
	leg, joint int
	by         float64 // metres
}

// past is every level of record that passes its limit.
func (p *Problem) past(r *record) []pass {
	var out []pass
	for i := range p.Legs {
		for j := range p.Legs[i].Joints {
			var by measure.Length
			if low := p.Legs[i].Joints[j].Low; low != nil {
				by = *low - r.levels[i][j]
			}
			if high := p.Legs[i].Joints[j].High; high != nil {
				by = max(by, r.levels[i][j]-*high)
			}
			if by > 0 {
				out = append(out, pass{i, j, by.Metres()})
			}
		}
	}
	return out
}

// misses is where levels of record do not hold another limit, exactly.
func (p *Problem) misses(r *record) []stretch {
	var out []stretch
	first, last := make([]*Run, len(p.Legs)), make([]*Run, len(p.Legs))
	for k := range r.runs {
		run := &r.runs[k]
		if run.From == 0 {
			first[run.Leg] = run
		}
		last[run.Leg] = run
		l := &p.Legs[run.Leg]
		if !l.carries(*run, r.levels[run.Leg]) {
			out = append(out, stretch{run.Leg, run.From, run.To})
		}
		if run.From == 0 || run.Stepped || r.runs[k-1].Stepped {
			continue
		}
		if most := l.Joints[run.From].Change; most != nil && !within(r.runs[k-1].Grade, run.Grade, *most) {
			out = append(out, stretch{run.Leg, r.runs[k-1].From, run.To})
		}
	}
	for i := range p.Legs {
		for j := range p.Legs[i].Joints {
			if pin := p.Legs[i].Joints[j].Pin; pin != nil && r.levels[i][j] != *pin {
				out = append(out, stretch{i, max(j-1, 0), min(j+1, len(p.Legs[i].Units))})
			}
		}
	}
	return append(out, p.missesAtNodes(first, last)...)
}

// carries tells whether a run is within the limits of its units.
func (l *Leg) carries(run Run, levels []measure.Length) bool {
	if s := l.Units[run.From].Step; s != nil {
		step := levels[run.To] - levels[run.From] - climb(s.Grade, l.Joints[run.To].At-l.Joints[run.From].At)
		return s.Most == nil || step.Abs() <= *s.Most
	}
	for k := run.From; k < run.To; k++ {
		u := &l.Units[k]
		if u.Least != nil && run.Grade.Cmp(*u.Least) < 0 || u.Most != nil && run.Grade.Cmp(*u.Most) > 0 {
			return false
		}
	}
	return true
}

// within tells whether two grades differ by no more than most, exactly.
func within(a, b, most measure.Grade) bool {
	if d := ratio(b) - ratio(a); d < ratio(most)-1e-12 && -d < ratio(most)-1e-12 {
		return true
	}
	d := new(big.Rat).Sub(fraction(a), fraction(b))
	return d.Abs(d).Cmp(fraction(most)) <= 0
}

func fraction(g measure.Grade) *big.Rat {
	if g.Rise == 0 {
		return new(big.Rat)
	}
	return big.NewRat(int64(g.Rise), int64(g.Run))
}

func (p *Problem) missesAtNodes(first, last []*Run) []stretch {
	var out []stretch
	away := func(a Arm) (*Run, measure.Grade) {
		if a.End {
			g := last[a.Leg].Grade
			return last[a.Leg], measure.Grade{Rise: -g.Rise, Run: g.Run}
		}
		return first[a.Leg], first[a.Leg].Grade
	}
	for _, node := range p.Nodes {
		for _, a := range node.Arms {
			run, g := away(a)
			if a.Cast != nil && a.Cast.Change != nil && !within(g, a.Cast.Grade, *a.Cast.Change) {
				out = append(out, stretch{run.Leg, run.From, run.To})
			}
		}
		for _, t := range node.Throughs {
			inRun, in := away(node.Arms[t.In])
			outRun, g := away(node.Arms[t.Out])
			back := measure.Grade{Rise: -in.Rise, Run: in.Run}
			if t.Change != nil && !within(back, g, *t.Change) || t.Bend != nil && t.Bend.Lip != nil && !t.Bend.holds(in, g) {
				out = append(out, stretch{inRun.Leg, inRun.From, inRun.To}, stretch{outRun.Leg, outRun.From, outRun.To})
			}
		}
	}
	return out
}

// lip is (W/2)·tan α times the sum of the grades in and out, in nanometres, exactly; in and out are away from the node.
func (b *Bend) lip(in, out measure.Grade) *big.Rat {
	sum := new(big.Rat).Sub(fraction(out), fraction(in))
	tan := new(big.Rat).SetFloat64(b.Tan)
	return sum.Mul(sum, tan.Mul(tan, big.NewRat(int64(b.Width), 2)))
}

func (b *Bend) holds(in, out measure.Grade) bool {
	lip := b.lip(in, out)
	return lip.Abs(lip).Cmp(new(big.Rat).SetInt64(int64(*b.Lip))) <= 0
}
