package profile

import (
	"cmp"
	"math"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
)

// broken is the cost of elastic limits, in metres, above which they count as contradicting each other: what the interior
// point may be off by. Conflicts smaller than that are told apart by their exact proof, or not at all (Undecided).
const broken = 1e-7

// plain is two limits of one joint, unit or node that contradict each other as they stand; nil: none do.
func (p *Problem) plain() *Conflict {
	for i := range p.Legs {
		for j := range p.Legs[i].Joints {
			joint := &p.Legs[i].Joints[j]
			low, high := Limit{LowLimit, i, j, j}, Limit{HighLimit, i, j, j}
			pin := Limit{PinLimit, i, j, j}
			switch {
			case joint.Pin != nil && joint.Low != nil && *joint.Pin < *joint.Low:
				return &Conflict{Limits: []Limit{pin, low}}
			case joint.Pin != nil && joint.High != nil && *joint.Pin > *joint.High:
				return &Conflict{Limits: []Limit{pin, high}}
			case joint.Low != nil && joint.High != nil && *joint.Low > *joint.High:
				return &Conflict{Limits: []Limit{low, high}}
			}
		}
		for k := range p.Legs[i].Units {
			if u := &p.Legs[i].Units[k]; u.Step == nil && u.Least != nil && u.Most != nil && u.Least.Cmp(*u.Most) > 0 {
				return &Conflict{Limits: []Limit{{LeastLimit, i, k, k}, {MostLimit, i, k, k}}}
			}
		}
	}
	return p.plainNodes()
}

// plainNodes is limits of the level of one node that contradict each other.
func (p *Problem) plainNodes() *Conflict {
	type level struct {
		at measure.Length
		of Limit
	}
	for _, node := range p.Nodes {
		var low, high, pin *level
		for _, a := range node.Arms {
			at, _ := p.ends(a)
			joint := &p.Legs[a.Leg].Joints[at]
			set := func(have **level, value *measure.Length, kind Kind, better func(a, b measure.Length) bool) {
				if value != nil && (*have == nil || better(*value-a.Rise, (*have).at)) {
					*have = &level{*value - a.Rise, Limit{kind, a.Leg, at, at}}
				}
			}
			if v := joint.Pin; v != nil && pin != nil && *v-a.Rise != pin.at {
				return &Conflict{Limits: []Limit{pin.of, {PinLimit, a.Leg, at, at}}}
			}
			set(&pin, joint.Pin, PinLimit, func(measure.Length, measure.Length) bool { return false })
			set(&low, joint.Low, LowLimit, func(a, b measure.Length) bool { return a > b })
			set(&high, joint.High, HighLimit, func(a, b measure.Length) bool { return a < b })
		}
		for _, pair := range [][2]*level{{low, high}, {low, pin}, {pin, high}} {
			if a, b := pair[0], pair[1]; a != nil && b != nil && a.at > b.at {
				return &Conflict{Limits: []Limit{a.of, b.of}}
			}
		}
	}
	return nil
}

// refuse finds out why there are no levels: the smallest conflict, or that nothing can be said.
func (p *Problem) refuse() Solution {
	b := &builder{p: p, elastic: true}
	w := b.build()
	if w.run(); w.prices == nil {
		return Solution{Verdict: Undecided, Why: unclear}
	}
	f := filter{p: p, all: p.support(b.certificate(), nil)}
	c := f.smallest()
	if c == nil {
		return Solution{Verdict: Undecided, Why: unclear}
	}
	return p.impossible(c)
}

const unclear = "the limits leave so little room that neither levels nor a conflict could be told apart in float64; limits wider by a tenth of a millimetre would decide it"

// support is the limits that a proof rests on, one by one, in the order of the network.
func (p *Problem) support(c *Certificate, within func(k Kind, i, j int) bool) []Limit {
	strongest := 0.0
	each := func(do func(l Limit, v float64)) {
		for i := range p.Legs {
			for k, u := range p.Legs[i].Units {
				length := p.Legs[i].length(k).Metres()
				kind := MostLimit
				if c.Unit[i][k] < 0 {
					kind = LeastLimit
				}
				if u.Step != nil {
					kind = StepLimit
				}
				do(Limit{kind, i, k, k}, math.Abs(c.Unit[i][k])*length)
				if j := k + 1; j < len(p.Legs[i].Units) {
					do(Limit{ChangeLimit, i, j, j}, math.Abs(c.Change[i][j])*length*p.Legs[i].length(j).Metres())
				}
			}
		}
		for n, node := range p.Nodes {
			for t, th := range node.Throughs {
				square := p.Legs[node.Arms[th.In].Leg].length(p.unit(node.Arms[th.In])).Metres() * p.Legs[node.Arms[th.Out].Leg].length(p.unit(node.Arms[th.Out])).Metres()
				do(Limit{NodeChange, n, t, t}, math.Abs(c.Through[n][t][0])*square)
				do(Limit{NodeLip, n, t, t}, math.Abs(c.Through[n][t][1])*square)
			}
			for a := range node.Arms {
				do(Limit{MouthLimit, n, a, a}, math.Abs(c.Mouth[n][a]))
			}
		}
	}
	each(func(_ Limit, v float64) { strongest = max(strongest, v) })
	var out []Limit
	each(func(l Limit, v float64) {
		if v > 1e-6*strongest && (within == nil || within(l.Kind, l.Leg, l.From)) {
			out = append(out, l)
		}
	})
	for i := range p.Legs {
		for j := range p.Legs[i].Joints {
			joint := &p.Legs[i].Joints[j]
			for _, l := range []struct {
				kind Kind
				has  bool
			}{{PinLimit, joint.Pin != nil}, {LowLimit, joint.Low != nil}, {HighLimit, joint.High != nil}} {
				if l.has && (within == nil || within(l.kind, i, j)) {
					out = append(out, Limit{l.kind, i, j, j})
				}
			}
		}
	}
	return out
}

// grouped joins limits that are alike and lie beside each other.
func (p *Problem) grouped(limits []Limit) []Limit {
	sorted := slices.Clone(limits)
	sorting.By(sorted, func(a, b Limit) int {
		return cmp.Or(cmp.Compare(rank(a.Kind), rank(b.Kind)), cmp.Compare(a.Leg, b.Leg), cmp.Compare(a.From, b.From))
	})
	var out []Limit
	for _, l := range sorted {
		if n := len(out); n > 0 && out[n-1].Kind == l.Kind && out[n-1].Leg == l.Leg && out[n-1].To+1 == l.From && p.alike(out[n-1].To, l) {
			out[n-1].To = l.From
			continue
		}
		out = append(out, l)
	}
	return out
}

// rank is the order in which kinds are told, and the other way round the order in which they are left out on trial.
func rank(k Kind) int {
	return slices.Index([]Kind{PinLimit, MouthLimit, LowLimit, HighLimit, LeastLimit, MostLimit, StepLimit, NodeLip, NodeChange, ChangeLimit}, k)
}

// alike tells whether a limit is of the same size as that of its neighbour.
func (p *Problem) alike(before int, l Limit) bool {
	same := func(a, b *measure.Grade) bool { return a != nil && b != nil && a.Cmp(*b) == 0 }
	leg := &p.Legs[min(l.Leg, len(p.Legs)-1)]
	switch l.Kind {
	case LeastLimit:
		return same(leg.Units[before].Least, leg.Units[l.From].Least)
	case MostLimit:
		return same(leg.Units[before].Most, leg.Units[l.From].Most)
	case ChangeLimit:
		return same(leg.Joints[before].Change, leg.Joints[l.From].Change)
	}
	return false
}
