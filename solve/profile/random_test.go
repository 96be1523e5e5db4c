package profile

import (
	"math/rand/v2"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

func ptr[T any](v T) *T { return &v }

// percent is a grade of whole hundredths of a percent.
func percent(v float64) *measure.Grade {
	return &measure.Grade{Rise: measure.Length(v * 100), Run: 10_000}
}

// randomNet is a small network in which every kind of limit occurs, many of them at odds with each other. Everything is a
// whole millimetre, so that the best is a fraction of small numbers.
func randomNet(r *rand.Rand, legs, units int) Problem {
	p := Problem{Squares: r.IntN(4) == 0, Width: 900 * measure.Millimetre}
	for i := range legs {
		p.Legs = append(p.Legs, randomLeg(r, string(rune('A'+i)), 1+r.IntN(units)))
	}
	free := [][2]int{}
	for i := range legs {
		free = append(free, [2]int{i, 0}, [2]int{i, 1})
	}
	r.Shuffle(len(free), func(a, b int) { free[a], free[b] = free[b], free[a] })
	for legs > 1 && len(free) >= 2 && r.IntN(4) > 0 {
		k := min(len(free), 2+r.IntN(3))
		p.join(r, free[:k])
		free = free[k:]
	}
	return p
}

func one(r *rand.Rand, in int) bool { return r.IntN(in) == 0 }

func ground(r *rand.Rand) *measure.Length {
	return ptr(100*measure.Metre + measure.Length(r.IntN(400))*measure.Millimetre)
}

func randomLeg(r *rand.Rand, name string, units int) Leg {
	l := Leg{Name: name}
	at := measure.Length(0)
	for range units + 1 {
		joint := Joint{At: at, Above: int64(r.IntN(3) * 500), Below: int64(r.IntN(3) * 700), Break: int64(r.IntN(4) * 2000)}
		if !one(r, 5) {
			joint.Wanted = ground(r)
		}
		if one(r, 8) {
			joint.Pin = ground(r)
		}
		if !one(r, 3) {
			joint.Change = percent(float64(r.IntN(12)))
		}
		if one(r, 9) {
			joint.Low = ground(r)
		}
		if one(r, 9) {
			joint.High = ground(r)
		}
		l.Joints = append(l.Joints, joint)
		at += measure.Length(1000+r.IntN(3)*1000) * measure.Millimetre
	}
	for range units {
		u := Unit{Cross: *percent(float64(r.IntN(3)))}
		if !one(r, 5) {
			u.Least = percent(-float64(r.IntN(8)))
		}
		if !one(r, 5) {
			u.Most = percent(float64(r.IntN(8)))
		}
		if one(r, 8) {
			u.Step = &Step{Grade: *percent(float64(r.IntN(3))), Most: ptr(measure.Length(r.IntN(100)) * measure.Millimetre)}
		}
		u.Below = measure.Length(r.IntN(3)) * 20 * measure.Millimetre
		l.Units = append(l.Units, u)
	}
	return l
}

// join makes a node of some ends.
func (p *Problem) join(r *rand.Rand, ends [][2]int) {
	node := Node{}
	for k, e := range ends {
		a := Arm{Leg: e[0], End: e[1] == 1}
		if one(r, 4) {
			a.Rise = measure.Length(r.IntN(50)) * measure.Millimetre
		}
		if one(r, 4) {
			a.Cast = &Cast{Grade: *percent(float64(r.IntN(3) - 1)), Cross: *percent(float64(r.IntN(2))), Change: percent(float64(r.IntN(5)))}
		}
		node.Arms = append(node.Arms, a)
		at, _ := p.ends(a)
		if joint := &p.Legs[e[0]].Joints[at]; k > 0 && !one(r, 20) {
			joint.Pin, joint.Low, joint.High = nil, nil, nil
		}
	}
	t := Through{In: 0, Out: 1, Break: int64(r.IntN(3) * 1000)}
	if one(r, 2) {
		t.Change = percent(float64(r.IntN(5)))
	}
	if one(r, 2) {
		t.Bend = &Bend{Tan: 1, Width: 900 * measure.Millimetre, Lip: ptr(measure.Length(r.IntN(9)) * measure.Millimetre)}
	}
	node.Throughs = append(node.Throughs, t)
	for _, a := range node.Arms {
		p.Legs[a.Leg].Units[p.unit(a)].Step = nil
	}
	p.Nodes = append(p.Nodes, node)
}

// Whatever is said of a network, the checker finds it so; and hardly anything stays undecided, though these limits are as
// tight as no trench's.
func TestWhatIsSaidHolds(t *testing.T) {
	const networks = 2000
	count, unproven := map[Verdict]int{}, 0
	for seed := range uint64(networks) {
		r := rand.New(rand.NewPCG(seed, 7))
		p := randomNet(r, 1+r.IntN(4), 6)
		if one(r, 2) {
			p.Step = *percent(0.05)
		}
		p.Apart = r.IntN(4)
		s, err := Solve(p)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if count[s.Verdict]++; s.Verdict == Undecided {
			t.Logf("seed %d: %s", seed, s.Why)
			continue
		}
		for _, f := range Check(p, s) {
			t.Errorf("seed %d, %s: %s", seed, s.Verdict, f)
		}
		if s.Verdict == Found && !s.Proven {
			t.Logf("seed %d: least %v, proven %v", seed, s.Least, s.Bound)
			if unproven++; s.Least-s.Bound > 1e-5*s.Least || unproven > networks/1000 || !said(s.Findings, "could not be proven") {
				t.Errorf("seed %d: that is not near, or it is not said, or it is one of %d", seed, unproven)
			}
		}
		for _, f := range s.Findings {
			for _, wrong := range finding.Speech(f) {
				t.Errorf("seed %d: %s: %s", seed, f, wrong)
			}
		}
		if s.Verdict == Impossible && (s.Why == "" || len(s.Findings) != 1) {
			t.Errorf("seed %d: impossible without a word", seed)
		}
	}
	t.Logf("%d found, %d of them not proven to a millionth, %d impossible, %d undecided", count[Found], unproven, count[Impossible], count[Undecided])
	if count[Undecided] > networks/50 || count[Found] < networks/3 || count[Impossible] < networks/6 {
		t.Errorf("%v: not the mixture that was meant", count)
	}
}

// A second time the same is said.
func TestSameAnswerTwice(t *testing.T) {
	for seed := range uint64(50) {
		solved := func() Solution {
			s, err := Solve(randomNet(rand.New(rand.NewPCG(seed, 7)), 3, 6))
			if err != nil {
				t.Fatal(err)
			}
			return s
		}
		if a, b := solved(), solved(); a.Why != b.Why || a.Cost != b.Cost || a.Least != b.Least || len(a.Runs) != len(b.Runs) {
			t.Errorf("seed %d: %v and %v", seed, a, b)
		}
	}
}

// wild makes a network's figures extreme: units of a millimetre beside units of a kilometre, levels kilometres apart, prices
// from nothing to the dearest, grades up to the steepest.
func wild(r *rand.Rand, p *Problem) {
	far := func() *measure.Length {
		return ptr(measure.Length(r.Int64N(int64(4*measure.Kilometre))) - 2*measure.Kilometre)
	}
	steep := func() *measure.Grade { return &measure.Grade{Rise: measure.Length(r.Int64N(20e9) - 10e9), Run: 1e9} }
	prices := []int64{0, 1, 1000, dearest}
	for i := range p.Legs {
		at := measure.Length(0)
		for j := range p.Legs[i].Joints {
			joint := &p.Legs[i].Joints[j]
			joint.At = at
			at += []measure.Length{1_000_000, 1_234_567, 3 * measure.Metre, measure.Kilometre}[r.IntN(4)]
			joint.Above, joint.Below, joint.Break = prices[r.IntN(4)], prices[r.IntN(4)], prices[r.IntN(4)]
			if joint.Wanted != nil && one(r, 3) {
				joint.Wanted = far()
			}
			if joint.Pin != nil && one(r, 3) {
				joint.Pin = far()
			}
		}
		for k := range p.Legs[i].Units {
			if u := &p.Legs[i].Units[k]; one(r, 3) {
				u.Least, u.Most = steep(), steep()
			}
		}
	}
}

// Whatever is asked for, there is an answer or a fault, and what is claimed holds.
func TestWildFigures(t *testing.T) {
	count, unproven := map[Verdict]int{}, 0
	for seed := range uint64(1000) {
		r := rand.New(rand.NewPCG(seed, 9))
		p := randomNet(r, 1+r.IntN(4), 6)
		wild(r, &p)
		if one(r, 2) {
			p.Step = *percent(0.05)
		}
		s, err := Solve(p)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if count[s.Verdict]++; s.Verdict == Undecided {
			continue
		}
		if s.Verdict == Found && !s.Proven {
			unproven++
		}
		for _, f := range Check(p, s) {
			t.Errorf("seed %d, %s: %s", seed, s.Verdict, f)
		}
	}
	t.Logf("%v, %d of them not proven", count, unproven)
	if unproven > count[Found]/3 {
		t.Error("hardly anything was proven")
	}
}
