package profile

import (
	"math"

	"trenchwright/base/measure"
)

// thrift takes out breaks of grade that cost more than they save: where a run closes off its step, a straight line over it and
// its neighbour may be cheaper, for rounding has moved both. Nothing else changes, and no limit is left.
func (r *record) thrift(p *Problem) {
	for k := 1; k < len(r.runs); {
		one, ok := r.joined(p, k)
		if !ok {
			k++
			continue
		}
		levels := r.levels[one.Leg]
		l := &p.Legs[one.Leg]
		for j := one.From + 1; j < one.To; j++ {
			levels[j] = levels[one.From] + climb(one.Grade, l.Joints[j].At-l.Joints[one.From].At)
		}
		r.runs[k-1] = one
		r.runs = append(r.runs[:k], r.runs[k+1:]...)
		k = max(k-1, 1)
	}
}

// joined is the straight line over runs k−1 and k, if it is within all limits and saves something.
func (r *record) joined(p *Problem, k int) (Run, bool) {
	a, b := r.runs[k-1], r.runs[k]
	l, levels := &p.Legs[a.Leg], r.levels[a.Leg]
	if b.From == 0 || a.Stepped || b.Stepped || a.OnStep && b.OnStep || l.Joints[b.From].Pin != nil || p.atNode(a.Leg, a.From) || p.atNode(a.Leg, b.To) {
		return Run{}, false
	}
	one := Run{Leg: a.Leg, From: a.From, To: b.To, Grade: between(levels[b.To]-levels[a.From], l.Joints[b.To].At-l.Joints[a.From].At)}
	one.OnStep = p.onStep(one.Grade)
	if !l.carries(one, levels) {
		return Run{}, false
	}
	saved := float64(l.Joints[b.From].Break) * math.Abs(ratio(a.Grade)-ratio(b.Grade))
	for _, end := range []struct {
		joint, beside int
		was           measure.Grade
	}{{a.From, k - 2, a.Grade}, {b.To, k + 1, b.Grade}} {
		if end.joint == 0 || end.joint == len(l.Units) || r.runs[end.beside].Stepped {
			continue
		}
		joint, next := &l.Joints[end.joint], r.runs[end.beside].Grade
		if joint.Change != nil && !within(one.Grade, next, *joint.Change) {
			return Run{}, false
		}
		saved += float64(float64(joint.Break) * (math.Abs(ratio(end.was)-ratio(next)) - math.Abs(ratio(one.Grade)-ratio(next))))
	}
	for j := one.From + 1; j < one.To; j++ {
		joint, level := &l.Joints[j], levels[one.From]+climb(one.Grade, l.Joints[j].At-l.Joints[one.From].At)
		if joint.Low != nil && level < *joint.Low || joint.High != nil && level > *joint.High {
			return Run{}, false
		}
		saved += p.levelCost(joint, levels[j]) - p.levelCost(joint, level)
	}
	return one, saved > 0
}

// atNode tells whether a joint is an end of a leg that lies at a node.
func (p *Problem) atNode(leg, joint int) bool {
	for _, node := range p.Nodes {
		for _, a := range node.Arms {
			if at, _ := p.ends(a); a.Leg == leg && at == joint {
				return true
			}
		}
	}
	return false
}
