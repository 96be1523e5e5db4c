package profile

import (
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"trenchwright/base/measure"
)

// eased is a Problem in which one limit gives way by what Bears.Saves is told for. A pin gives way upwards, or down.
func eased(was Problem, l Limit, sign measure.Length) Problem {
	p := was.Unpriced() // a copy, whose prices come back
	for i := range p.Legs {
		p.Legs[i].Units = slices.Clone(p.Legs[i].Units)
		for j := range p.Legs[i].Joints {
			p.Legs[i].Joints[j].Break = was.Legs[i].Joints[j].Break
		}
	}
	for n := range p.Nodes {
		p.Nodes[n].Arms = slices.Clone(p.Nodes[n].Arms)
		for k := range p.Nodes[n].Throughs {
			p.Nodes[n].Throughs[k].Break = was.Nodes[n].Throughs[k].Break
		}
	}
	more := func(g *measure.Grade, by int64) *measure.Grade { // by thousandths
		sum := new(big.Rat).Add(fraction(*g), big.NewRat(by, 1000))
		return &measure.Grade{Rise: measure.Length(sum.Num().Int64()), Run: measure.Length(sum.Denom().Int64())}
	}
	switch l.Kind {
	case NodeChange:
		t := &p.Nodes[l.Leg].Throughs[l.From]
		t.Change = more(t.Change, 1)
		return p
	case NodeLip:
		bend := *p.Nodes[l.Leg].Throughs[l.From].Bend
		bend.Lip = ptr(*bend.Lip + measure.Length(bend.Tan*float64(bend.Width)/2/1000))
		p.Nodes[l.Leg].Throughs[l.From].Bend = &bend
		return p
	case MouthLimit:
		cast := *p.Nodes[l.Leg].Arms[l.From].Cast
		cast.Change = more(cast.Change, 1)
		p.Nodes[l.Leg].Arms[l.From].Cast = &cast
		return p
	}
	for k := l.From; k <= l.To; k++ {
		leg := &p.Legs[l.Leg]
		joint := &leg.Joints[k]
		switch l.Kind {
		case LeastLimit:
			leg.Units[k].Least = more(leg.Units[k].Least, -1)
		case MostLimit:
			leg.Units[k].Most = more(leg.Units[k].Most, 1)
		case StepLimit:
			leg.Units[k].Step = &Step{leg.Units[k].Step.Grade, ptr(*leg.Units[k].Step.Most + 10*mm)}
		case ChangeLimit:
			joint.Change = more(joint.Change, 1)
		case PinLimit:
			joint.Pin = ptr(*joint.Pin + sign*10*mm)
		case LowLimit:
			joint.Low = ptr(*joint.Low - 10*mm)
		case HighLimit:
			joint.High = ptr(*joint.High + 10*mm)
		}
	}
	return p
}

// Where a limit that is named gives way, levels cost less, and by no more than is said: prices of a proof are the most that
// giving way can save. Where one that is not named gives way, nothing is saved.
func TestLimitsThatBearAreNamed(t *testing.T) {
	named, helps, others := 0, 0, 0
	for seed := range uint64(400) {
		r := rand.New(rand.NewPCG(seed, 7))
		p := randomNet(r, 1+r.IntN(3), 6)
		if one(r, 2) {
			p = p.Unpriced()
		}
		s, err := Best(p)
		if err != nil {
			t.Fatal(err)
		}
		if s.Verdict != Found || s.Least < 1 {
			continue
		}
		said := map[Limit]float64{}
		bears := p.Bearings(s)
		for i, l := range p.Legs {
			for _, b := range bears.Along(i, 0, len(l.Units)) {
				said[b.Limit] = b.Saves
			}
		}
		noise := p.price() / 1000 * giveLevel
		try := func(l Limit) float64 {
			best := s.Least
			for _, sign := range []measure.Length{1, -1} {
				q := eased(p, l, sign)
				if again, err := Best(q); err == nil && again.Verdict == Found {
					best = min(best, again.Least)
				}
			}
			return s.Least - best
		}
		for l, saves := range said {
			saved := try(l)
			if named++; saved > noise {
				helps++
			}
			if saved > saves*(1+1e-4)+noise {
				t.Errorf("seed %d: %s saves %.3f, said are %.3f at the most", seed, p.Says(l), saved, saves)
			}
		}
		for i, l := range p.Legs {
			for k, u := range l.Units {
				for _, kind := range []Kind{LeastLimit, MostLimit} {
					limit := Limit{kind, i, k, k}
					if standsFor(said, limit) || u.Step != nil || u.bound(kind) == nil {
						continue
					}
					if others++; try(limit) > noise*1.001+1e-6*s.Least {
						t.Errorf("seed %d: %s is not named, and saves %.4f of %.3f", seed, p.Says(limit), try(limit), s.Least)
					}
				}
			}
		}
	}
	t.Logf("%d limits named, %d of them save something alone; %d others save nothing", named, helps, others)
	if named < 200 || helps*4 < named*3 || others < 500 {
		t.Error("too little is tested")
	}
}

// standsFor tells whether a limit is among those that are named, which may stand for several units beside each other.
func standsFor(said map[Limit]float64, l Limit) bool {
	for o := range said {
		if o.Kind == l.Kind && o.Leg == l.Leg && o.From <= l.From && l.To <= o.To {
			return true
		}
	}
	return false
}
