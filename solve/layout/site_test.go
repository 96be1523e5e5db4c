package layout

import (
	"math/rand/v2"
	"slices"
	"testing"

	"trenchwright/tools/seed"
)

func TestMeasuredJoint(t *testing.T) { // layout.md §9 case 16
	c := solved(t, leg(t, "9020")).Certificate
	if u, n, ok := c.Next(mm(6034)); !ok || u.Length != mm(2986) || n != (Count{1, 1, 1}) {
		t.Errorf("from 6034: %s %v %v, want 2986 in (1,1,1)", inMM(u.Length), n, ok)
	}
	if units, n, ok := c.Ahead(mm(6016), 0); !ok || len(units) != 2 || n != (Count{2, 2, 1}) {
		t.Errorf("from 6016: %d units, %v %v, want (2,2,1)", len(units), n, ok)
	}
	wide := solved(t, leg(t, "9020 | window 8..14")).Certificate
	x, n, ok := wide.After(mm(6006), 0)
	if !ok || x != mm(6020) || n != (Count{1, 0, 0}) {
		t.Errorf("behind 6006 with gaps of 8 to 14: next at %s %v %v, want 6020 and no cut", inMM(x), n, ok)
	}
	if _, _, ok := c.Next(mm(8600)); ok {
		t.Error("420 left, and something is said to fit")
	}
}

// No drift must give the plan back unchanged (layout.md §6): from every planned start the certificate tells the planned rest.
func TestNoDriftGivesThePlanBack(t *testing.T) {
	from := seed.Of(t)
	for i := range 500 {
		p, tick := randomLeg(rand.New(rand.NewPCG(from, uint64(i))))
		if len(p.First) > 0 {
			continue
		}
		s := solved(t, p)
		for k, u := range s.Units {
			if slices.ContainsFunc(p.Demands, func(d Demand) bool { return d.To == u.Start }) {
				continue // a start on the edge does not tell on which side of it the joint before it lies
			}
			if _, got, ok := s.Certificate.Next(u.Start); !ok || got != count(s.Units[k:]) {
				t.Fatalf("seed %d leg %d: from unit %d the certificate says %v, the plan %v\n%s%s", from, i, k+1, got, count(s.Units[k:]), inTicks(p, tick), unitsInTicks(s.Units, tick))
			}
		}
	}
}

// A change sweeps again only what lies before it, and says the same as sweeping everything.
func TestUpstreamAgreesWithAll(t *testing.T) {
	from := seed.Of(t)
	starts := 0
	for i := range 400 {
		r := rand.New(rand.NewPCG(from, uint64(i)))
		p, tick := randomLeg(r)
		p.First = nil
		old := solved(t, p).Certificate
		q := p
		zone := Zone{From: nm(r.IntN(int(p.Length/tick))) * tick, Why: "found"}
		zone.To = zone.From + nm(1+r.IntN(20))*tick
		q.Zones = append([]Zone{zone}, p.Zones...)
		if r.IntN(2) == 0 && len(p.Zones) > 0 { // or one fell away
			zone, q.Zones = p.Zones[0], p.Zones[1:]
		}
		got, err := old.Upstream(q, zone.To, 1)
		if err != nil {
			t.Fatal(err)
		}
		want := solved(t, q).Certificate
		for x := tick; x < p.Length; x += tick {
			a, n, ok1 := got.Ahead(x, 1)
			_, m, ok2 := want.Ahead(x, 1)
			if n != m || ok1 != ok2 {
				t.Fatalf("seed %d leg %d: from %d ticks %v %v, all swept %v %v, %v\n%s", from, i, x/tick, n, ok1, m, ok2, a, inTicks(q, tick))
			}
			starts++
		}
	}
	t.Logf("seed %d: %d starts", from, starts)
}

func BenchmarkSite(b *testing.B) {
	p := longLeg(b, "")
	cert := solved(b, p).Certificate
	b.Run("next unit behind a measured joint", func(b *testing.B) {
		for i := 0; b.Loop(); i++ {
			cert.Next(mm(500_000_000 + float64(i%100)))
		}
	})
	b.Run("100 units ahead", func(b *testing.B) {
		for b.Loop() {
			cert.Ahead(mm(500_000_000), 100)
		}
	})
	b.Run("a zone found 300 m ahead", func(b *testing.B) {
		q := p
		q.Zones = append([]Zone{{mm(500_300_000), mm(500_300_700), "found"}}, p.Zones...)
		for b.Loop() {
			c, err := cert.Upstream(q, mm(500_300_700), mm(500_000_000))
			if err != nil {
				b.Fatal(err)
			}
			c.Next(mm(500_000_000))
		}
	})
}
