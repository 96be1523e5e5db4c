package layout

import (
	"math/rand/v2"
	"slices"
	"testing"

	"trenchwright/tools/seed"
)

// clone copies a solution so that it can be tampered with.
func clone(s Solution) Solution {
	s.Units = slices.Clone(s.Units)
	for i := range s.Units {
		s.Units[i].Covers = slices.Clone(s.Units[i].Covers)
	}
	if s.Certificate != nil {
		c := *s.Certificate
		c.blocks = slices.Clone(c.blocks)
		for i := range c.blocks {
			c.blocks[i] = slices.Clone(c.blocks[i])
		}
		s.Certificate = &c
	}
	return s
}

// Every single falsehood in a layout is found.
func TestCheckerFindsEveryFalsehood(t *testing.T) {
	const at = "31111 | window 8..14 | zone 8800..9300 road | nocut 8000..12000 road | demand 1 8500..11500 road | supply 1 stock 2400 | supply 1 covers 796 " +
		"| mitre start 1 | joint 15000±400 | castin 1400..1500"
	p := leg(t, at)
	p.Hold = true
	good := solved(t, p)
	if said := Check(p, good); len(said) > 0 {
		t.Fatalf("%s: %v", shown(good), said)
	}
	cut := slices.IndexFunc(good.Units, func(u Unit) bool { return u.Cut && u.StartTan == 0 })
	if cut < 0 {
		t.Fatalf("the example has no square cut unit: %s", shown(good))
	}
	for name, spoil := range map[string]func(s *Solution){
		"a unit starts later":             func(s *Solution) { s.Units[2].Start += 7_000_000 },
		"a nanometre of length":           func(s *Solution) { s.Units[2].Length += 3 },
		"a unit left out":                 func(s *Solution) { s.Units = slices.Delete(s.Units, 2, 3); s.Count.Units-- },
		"another advance":                 func(s *Solution) { s.Units[len(s.Units)-1].Advance++ },
		"a cut unit called whole":         func(s *Solution) { s.Units[cut].Cut = false; s.Count.Cuts-- },
		"a whole unit called cut":         func(s *Solution) { s.Units[4].Cut = true; s.Count.Cuts++ },
		"a stock that nobody makes":       func(s *Solution) { s.Units[4].Stock = mm(2999) },
		"another supply":                  func(s *Solution) { s.Units[1].Supply = 1 },
		"a supply that is not there":      func(s *Solution) { s.Units[1].Supply = 9 },
		"the other end kept":              func(s *Solution) { s.Units[0].Kept = KeptA },
		"no end kept":                     func(s *Solution) { s.Units[cut].Kept = KeptNone },
		"turned where it may not be":      func(s *Solution) { s.Units[cut].Turned = true },
		"no mitre":                        func(s *Solution) { s.Units[0].StartTan = 0 },
		"a mitre of the other hand":       func(s *Solution) { s.Units[0].StartTan = -1 },
		"a wrong gap after":               func(s *Solution) { s.Units[1].GapAfter += 3 },
		"a cover left out":                func(s *Solution) { s.Units[4].Covers = s.Units[4].Covers[1:] },
		"a cover moved":                   func(s *Solution) { s.Units[4].Covers[1].Start += 9_000_000 },
		"a cover longer":                  func(s *Solution) { s.Units[4].Covers[0].Length += 1_000 },
		"a cut cover called whole":        func(s *Solution) { s.Units[0].Covers[0].Cut = false; s.Count.CutCovers-- },
		"a cover without its mitre":       func(s *Solution) { s.Units[0].Covers[0].StartTan = 0 },
		"one cut fewer said":              func(s *Solution) { s.Count.Cuts-- },
		"one unit fewer said":             func(s *Solution) { s.Count.Units-- },
		"two closers held":                func(s *Solution) { s.Units[0].Hold, s.Units[cut].Hold = true, true },
		"a whole unit held":               func(s *Solution) { s.Units[4].Hold = true },
		"more clearance than there is":    func(s *Solution) { s.Clearance.Least++ },
		"no certificate":                  func(s *Solution) { s.Certificate = nil },
		"no units":                        func(s *Solution) { s.Units = nil },
		"called impossible":               func(s *Solution) { s.Verdict = Impossible },
		"a verdict that does not exist":   func(s *Solution) { s.Verdict = "perhaps" },
		"an empty certificate":            func(s *Solution) { s.Certificate = &Certificate{g: s.Certificate.g} },
		"a certificate of a shorter leg":  func(s *Solution) { s.Certificate = solved(t, leg(t, "31000")).Certificate },
		"a joint moved into the zone":     func(s *Solution) { moveJoint(s, mm(8900)) },
		"a unit of the demand too early":  func(s *Solution) { s.Units[2].Supply = 1 },
		"the least length of a cut piece": func(s *Solution) { s.Units[cut].Length = mm(599); s.Units[cut].Advance = mm(599) },
	} {
		bad := clone(good)
		spoil(&bad)
		if said := Check(p, bad); len(said) == 0 {
			t.Errorf("%s: not found in %s", name, shown(bad))
		}
	}
}

// A good layout that is not the best is refused by the certificate of the leg.
func TestCheckerRefusesTheSecondBest(t *testing.T) {
	from := seed.Of(t)
	tried := 0
	for i := range 300 {
		p, tick := randomLeg(rand.New(rand.NewPCG(from, uint64(i))))
		q := p
		q.Zones = append([]Zone{{p.Length / 3, p.Length/3 + 15*tick, ""}, {p.Length / 2, p.Length/2 + 9*tick, ""}}, p.Zones...)
		best, second := solved(t, p), solved(t, q)
		if best.Verdict != Found || second.Verdict != Found || best.Count == second.Count {
			continue
		}
		tried++
		second.Certificate, second.Clearance = best.Certificate, p.clearance(second.Units)
		if said := Check(p, second); len(said) != 1 || said[0].ID != "layout.check.not-best" {
			t.Fatalf("seed %d leg %d: %v of %v passes with %v", from, i, second.Count, best.Count, said)
		}
	}
	t.Logf("seed %d: %d second bests refused", from, tried)
}

// moveJoint lets the joint nearest to x lie there.
func moveJoint(s *Solution, x nm) {
	best := 0
	for i := range s.Units[:len(s.Units)-1] {
		if (s.Units[i+1].Start - x).Abs() < (s.Units[best+1].Start - x).Abs() {
			best = i
		}
	}
	by := x - s.Units[best+1].Start
	s.Units[best].Advance += by
	s.Units[best].Length += by
	s.Units[best+1].Start += by
	s.Units[best+1].Advance -= by
	s.Units[best+1].Length -= by
}

// A certificate that claims more than is true of any start, or that leaves out a start, is refused wherever that is.
func TestCheckerRefusesATamperedProof(t *testing.T) {
	from := seed.Of(t)
	tried := 0
	for i := range 150 {
		r := rand.New(rand.NewPCG(from, uint64(i)))
		p, tick := randomLeg(r)
		good := solved(t, p)
		for range 20 {
			if good.Certificate.Len() == 0 {
				break
			}
			bad := clone(good)
			k := r.IntN(bad.Certificate.Len())
			l := &bad.Certificate.blocks[k/blockSize][k%blockSize]
			what := ""
			switch r.IntN(4) {
			case 0:
				what, l.cost = "a cut cover dearer", l.cost+oneCover
			case 1:
				what, l.cost = "a unit dearer", l.cost+oneUnit
			case 2:
				if l.width == 0 {
					continue
				}
				what, l.width = "shorter by a nanometre", l.width-1
			case 3:
				if bad.Certificate.Len() > blockSize {
					continue
				}
				what = "left out"
				bad.Certificate.blocks[0] = slices.Delete(bad.Certificate.blocks[0], k, k+1)
				bad.Certificate.size--
			}
			tried++
			if said := Check(p, bad); len(said) == 0 {
				t.Fatalf("seed %d leg %d: interval %d %s, not found\n%s", from, i, k, what, inTicks(p, tick))
			}
		}
	}
	t.Logf("seed %d: %d falsehoods found", from, tried)
}
