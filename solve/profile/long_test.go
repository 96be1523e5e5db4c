package profile

import (
	"math"
	"math/rand/v2"
	"testing"

	"trenchwright/base/measure"
)

// longLeg is a leg over made-up ground: slow hills, and noise of a few millimetres as a survey has it. With pins, a joint
// near the middle of every so many is pinned to the ground.
func longLeg(units, pins int, price int64, noise float64, seed uint64) Problem {
	r := rand.New(rand.NewPCG(seed, 0))
	l := straightLeg(units, 3010*mm, percent(-10), percent(10), percent(0.8))
	z, slope := 100.0, 0.0
	for j := range l.Joints {
		slope += (r.Float64()-0.5)*0.004 - 0.05*slope
		z += slope * 3
		l.Joints[j].Wanted = ptr(measure.Length(math.Round((z+noise*r.NormFloat64())*1e6)) * measure.Micrometre)
		l.Joints[j].Break = price
		if pins > 0 && j%(units/pins) == units/pins/2 {
			l.Joints[j].Pin = l.Joints[j].Wanted
		}
	}
	return Problem{Legs: []Leg{l}}
}

func breaks(s Solution) int {
	n := 0
	for k, r := range s.Runs {
		if k > 0 && r.Leg == s.Runs[k-1].Leg && r.Grade.Cmp(s.Runs[k-1].Grade) != 0 {
			n++
		}
	}
	return n
}

// layout.md §7: with 34 joints and 20 mm of ground noise 31 breaks without a price for them, 0 to 3 with one.
func TestAPriceMakesGradesStraight(t *testing.T) {
	for seed := range uint64(10) {
		p := longLeg(33, 0, 0, 0.02, seed)
		for j := range p.Legs[0].Joints {
			p.Legs[0].Joints[j].Change = percent(5)
		}
		free := breaks(solved(t, p))
		for j := range p.Legs[0].Joints {
			p.Legs[0].Joints[j].Break = 60_000 // 60 mm at one joint for each percent
		}
		p.Step = *percent(0.05)
		s := solved(t, p)
		if priced := breaks(s); free < 25 || priced > 4 {
			t.Errorf("seed %d: %d breaks without a price, %d with", seed, free, priced)
		}
		for _, r := range s.Runs {
			if !r.OnStep {
				t.Errorf("seed %d: grade %v is not on its step, and nothing is pinned", seed, r.Grade)
			}
		}
	}
}

// Between pins one run closes; all others are whole steps. Breaks stand apart, but for curves that the budget forces.
func TestGradesOnTheirStep(t *testing.T) {
	closing, all := 0, 0
	for seed := range uint64(10) {
		p := longLeg(400, 4, 30_000, 0.01, seed)
		p.Step, p.Apart = *percent(0.05), 4
		s := solved(t, p)
		if s.Verdict != Found {
			t.Fatalf("seed %d: %s %s", seed, s.Verdict, s.Why)
		}
		off := 0
		for _, r := range s.Runs {
			if all++; !r.OnStep {
				off++
			}
		}
		if closing += off; off > 3 {
			t.Errorf("seed %d: %d of %d runs are off their step; three spans between pins need one each", seed, off, len(s.Runs))
		}
		if s.Cost > 1.1*s.Least {
			t.Errorf("seed %d: rounding made %.4g of %.4g", seed, s.Cost, s.Least)
		}
	}
	t.Logf("%d runs, %d of them closing", all, closing)
}

// Exchange: taking out any break of grade, so that a straight line leads from the break before it to the one behind, does
// not save anything. It would, if a grade broke more often than the price of a break allows. With grades on their step this
// holds of runs that close; two neighbours on whole steps make no line on a whole step.
func TestNoBreakTooMany(t *testing.T) {
	tried := 0
	for seed := range uint64(40) {
		p := longLeg(300, 3, 20_000, 0.02, seed/2)
		if seed%2 == 1 {
			p.Step = *percent(0.05)
		}
		s := solved(t, p)
		levels, l := s.Levels[0], &p.Legs[0]
		for k := 1; k < len(s.Runs); k++ {
			a, b := s.Runs[k-1], s.Runs[k]
			if l.Joints[b.From].Pin != nil || a.OnStep && b.OnStep {
				continue
			}
			one := Run{From: a.From, To: b.To, Grade: between(levels[b.To]-levels[a.From], l.Joints[b.To].At-l.Joints[a.From].At)}
			merged := append(append(append([]Run(nil), s.Runs[:k-1]...), one), s.Runs[k+1:]...)
			with := [][]measure.Length{append([]measure.Length(nil), levels...)}
			for j := one.From + 1; j < one.To; j++ {
				with[0][j] = levels[one.From] + climb(one.Grade, l.Joints[j].At-l.Joints[one.From].At)
			}
			if len(p.misses(&record{with, merged})) > 0 {
				continue
			}
			tried++
			if got := p.cost(with, merged); got < s.Cost-1e-6*s.Cost {
				t.Errorf("seed %d: without the break at joint %d it costs %.9g, with it %.9g", seed, b.From, got, s.Cost)
			}
		}
	}
	if tried < 50 {
		t.Errorf("only %d breaks could be taken out", tried)
	}
}

// Budgets so tight that most joints bend by all they may: levels are found in whole nanometres all the same, or the conflict
// is proven.
func TestTightBudgets(t *testing.T) {
	for _, v := range []struct {
		change float64
		want   Verdict
	}{{0.3, Found}, {0.1, Found}, {0.02, Found}, {0.005, Impossible}} {
		p := longLeg(1500, 25, 30_000, 0.02, 5)
		for j := range p.Legs[0].Joints {
			p.Legs[0].Joints[j].Change = percent(v.change)
		}
		if v.change < 0.01 { // whole hundredths of a percent are not enough
			for j := range p.Legs[0].Joints {
				p.Legs[0].Joints[j].Change = &measure.Grade{Rise: 5, Run: 100_000}
			}
		}
		if s := solved(t, p); s.Verdict != v.want {
			t.Errorf("%v %%: %s %s", v.change, s.Verdict, s.Why)
		}
	}
}

// A pin is never moved, and where limits are met by one grade alone it is kept exactly: 0.5 % over 100 m with 0.50 m.
func TestNothingToSpare(t *testing.T) {
	l := straightLeg(40, 2500*mm, nil, percent(-0.5), percent(0))
	l.pin(0, 100)
	l.pin(40, 99.5)
	s := solved(t, Problem{Legs: []Leg{l}, Step: *percent(0.05)})
	if s.Verdict != Found || len(s.Runs) != 1 || !s.Runs[0].OnStep || s.Runs[0].Grade.Cmp(*percent(-0.5)) != 0 {
		t.Errorf("%s %v", s.Verdict, s.Runs)
	}
}

// Two legs through a mitre without a change of grade, pinned at both far ends: one grade, which is no whole step.
func TestOneGradeThroughABend(t *testing.T) {
	a, b := straightLeg(5, 3*measure.Metre, nil, nil, percent(1)), straightLeg(7, 3*measure.Metre, nil, nil, percent(1))
	for _, l := range []*Leg{&a, &b} {
		for j := range l.Joints {
			l.Joints[j].Break = 1000
		}
	}
	a.pin(0, 100)
	b.pin(0, 100.037) // b runs towards the bend
	s := solved(t, Problem{Legs: []Leg{a, b}, Step: *percent(0.05), Nodes: []Node{{Arms: []Arm{{Leg: 0, End: true}, {Leg: 1, End: true}},
		Throughs: []Through{{In: 0, Out: 1, Change: &measure.Grade{}, Bend: &Bend{Tan: 1, Width: 900 * mm, Lip: ptr(3 * mm)}}}}}})
	if s.Verdict != Found || len(s.Runs) != 2 || s.Runs[0].Grade.Cmp(negated(s.Runs[1].Grade)) != 0 {
		t.Errorf("%s %s %v", s.Verdict, s.Why, s.Runs)
	}
}

func BenchmarkSolve30000(b *testing.B) {
	p := longLeg(30_000, 100, 30_000, 0.02, 1)
	for b.Loop() {
		if s, err := Best(p); err != nil || s.Verdict != Found {
			b.Fatal(err, s.Verdict)
		}
	}
}

func BenchmarkSquares3000(b *testing.B) {
	p := longLeg(3000, 10, 30_000, 0.02, 1)
	p.Squares = true
	for b.Loop() {
		if s, err := Best(p); err != nil || s.Verdict != Found {
			b.Fatal(err, s.Verdict)
		}
	}
}
