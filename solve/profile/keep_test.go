package profile

import (
	"math/rand/v2"
	"testing"

	"trenchwright/base/measure"
)

// moved is a problem whose joints inside legs stand up to a tenth of a millimetre elsewhere.
func moved(r *rand.Rand, p Problem) Problem {
	legs := make([]Leg, len(p.Legs))
	for i, l := range p.Legs {
		l.Joints = append([]Joint(nil), l.Joints...)
		for j := 1; j < len(l.Joints)-1; j++ {
			l.Joints[j].At += measure.Length(r.IntN(200_001) - 100_000)
		}
		legs[i] = l
	}
	p.Legs = legs
	return p
}

// Kept grades are those of before on every step that was not between two pins, and hold every limit; what closes stays where
// it was. Networks come from seeds that are printed.
func TestKeepKeepsGrades(t *testing.T) {
	tried, held, runs := 0, 0, 0
	for seed := range uint64(400) {
		r := rand.New(rand.NewPCG(seed, 31))
		p := randomNet(r, 1+r.IntN(3), 2+r.IntN(12))
		p.Step = measure.Grade{Rise: 1, Run: 2000}
		before, err := Solve(p)
		if err != nil || before.Verdict != Found {
			continue
		}
		q := moved(r, p)
		s, err := Solve(q)
		if err != nil || s.Verdict != Found {
			continue
		}
		tried++
		kept, ok := Keep(q, s, before)
		if !ok {
			continue
		}
		held++
		if bad := Check(q, kept); len(bad) > 0 {
			t.Errorf("seed %d: %s", seed, bad[0].Text)
		}
		grades := map[[2]int]Run{}
		for _, run := range before.Runs {
			for k := run.From; k < run.To; k++ {
				grades[[2]int{run.Leg, k}] = run
			}
		}
		for _, run := range kept.Runs {
			for k := run.From; k < run.To; k++ {
				was := grades[[2]int{run.Leg, k}]
				runs++
				if d := ratio(run.Grade) - ratio(was.Grade); d > 1e-3 || d < -1e-3 || run.OnStep && !was.OnStep && d != 0 && !was.Stepped {
					t.Errorf("seed %d: unit %d of leg %d lies at %s, before at %s", seed, k, run.Leg, run.Grade, was.Grade)
				}
			}
		}
		if again, ok := Keep(q, s, kept); !ok || again.Cost != kept.Cost {
			t.Errorf("seed %d: kept once more it costs %v, not %v", seed, again.Cost, kept.Cost)
		}
	}
	t.Logf("%d networks, kept in %d, %d units", tried, held, runs)
	if tried < 100 || held*2 < tried {
		t.Errorf("kept in %d of %d networks: too little is tested", held, tried)
	}
}
