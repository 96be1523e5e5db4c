package peer

import (
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
	"time"

	"trenchwright/base/measure"
	"trenchwright/solve/profile"
)

// madeUp is a leg over noisy ground with some pins, limits and prices of all sizes; some cannot be had.
func madeUp(seed uint64) profile.Problem {
	r := rand.New(rand.NewPCG(seed, 0))
	grade := func(tenths int) *measure.Grade { return &measure.Grade{Rise: measure.Length(tenths), Run: 1000} }
	l := profile.Leg{}
	z := 100_000
	for j := range 5 + r.IntN(60) {
		z += r.IntN(61) - 30
		joint := profile.Joint{At: measure.Length(j) * 3 * measure.Metre, Above: int64(1 + r.IntN(1000)), Below: int64(1 + r.IntN(1000)), Break: int64(r.IntN(3) * 10_000)}
		wanted := measure.Length(z) * measure.Millimetre
		joint.Wanted = &wanted
		switch r.IntN(12) {
		case 0:
			joint.Pin = &wanted
		case 1:
			low := wanted + 20*measure.Millimetre
			joint.Low = &low
		case 2:
			high := wanted - 20*measure.Millimetre
			joint.High = &high
		}
		joint.Change = grade(4 + r.IntN(20))
		l.Joints = append(l.Joints, joint)
		if j > 0 {
			l.Units = append(l.Units, profile.Unit{Least: grade(-5 - r.IntN(30)), Most: grade(5 + r.IntN(30))})
		}
	}
	return profile.Problem{Legs: []profile.Leg{l}}
}

// Outside solvers of the same text find the same least cost, or no levels where ours finds none.
func TestProfilesOutside(t *testing.T) {
	for _, find := range []func() (Solver, error){Clp, func() (Solver, error) { return HiGHS("..") }} {
		s, err := find()
		if err != nil {
			t.Logf("NOT CHECKED: %v", err)
			continue
		}
		legs, found, none, worst := uint64(40), 0, 0, 0.0
		if s.Name != "clp" {
			legs = 6 // it takes long to start
		}
		for seed := range legs {
			p := madeUp(seed)
			model := filepath.Join(t.TempDir(), "model.lp")
			f, err := os.Create(model)
			if err != nil {
				t.Fatal(err)
			}
			if err := WriteProfile(f, p); err != nil {
				t.Fatal(err)
			}
			f.Close()
			theirs, err := s.AskReal(model, 10*time.Second)
			if err != nil {
				t.Fatal(err)
			}
			ours, err := profile.Best(p)
			if err != nil {
				t.Fatal(err)
			}
			switch {
			case theirs.Verdict == Best && ours.Verdict == profile.Found:
				found++
				off := math.Abs(ours.Least-theirs.Least) / max(theirs.Least, 1)
				if worst = max(worst, off); off > 1e-6 {
					t.Errorf("seed %d: ours %.9g, %s %.9g", seed, ours.Least, s.Name, theirs.Least)
				}
			case theirs.Verdict == None && ours.Verdict == profile.Impossible:
				none++
			default:
				t.Errorf("seed %d: ours is %s (%s), %s says %s", seed, ours.Verdict, ours.Why, s.Name, theirs.Verdict)
			}
		}
		t.Logf("%s: %d with levels (worst off by %.1e), %d without", s.Name, found, worst, none)
		if found == 0 {
			t.Errorf("%s: nothing was compared", s.Name)
		}
	}
}
