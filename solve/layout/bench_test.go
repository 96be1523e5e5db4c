package layout

import (
	"math/rand/v2"
	"testing"
)

// longLeg is 1,000 km with 4,000 zones of 0.2 to 1 m, one in every 250 m; the same every time.
func longLeg(t testing.TB, clauses string) Problem {
	p := leg(t, "1000000000"+clauses)
	r := rand.New(rand.NewPCG(1, 2))
	for i := range 4000 {
		from := mm(float64(i*250_000 + r.IntN(200_000)))
		p.Zones = append(p.Zones, Zone{from, from + mm(float64(200+r.IntN(800))), "a service"})
	}
	return p
}

func BenchmarkLongLeg(b *testing.B) {
	for _, c := range []struct{ name, clauses string }{{"fixed", ""}, {"window", " | window 8..14"}} {
		b.Run(c.name, func(b *testing.B) {
			p := longLeg(b, c.clauses)
			b.ReportAllocs()
			for b.Loop() {
				s := solved(b, p)
				b.ReportMetric(float64(s.Count.Units), "units")
				b.ReportMetric(float64(s.Certificate.Len())/float64(s.Count.Units), "levels/unit")
			}
		})
	}
}

func BenchmarkCheckLongLeg(b *testing.B) {
	p := longLeg(b, "")
	s := solved(b, p)
	for b.Loop() {
		if said := Check(p, s); len(said) > 0 {
			b.Fatal(said[0].Text)
		}
	}
}

// BenchmarkOrdinaryLeg is one of some thousand legs of a long route: 250 m between two bends with a service and a crossing.
func BenchmarkOrdinaryLeg(b *testing.B) {
	p := leg(b, "250000 | window 8..14 | mitre start 0.4 | mitre end -0.7 | zone 61000..61800 a service | zone 120000..120400 the road | zone 126000..126300 the road "+
		"| nocut 120000..126300 the road | demand 1 119500..126800 the road | supply 1 window 8..14")
	for _, c := range []struct {
		name string
		run  func()
	}{{"solve", func() { solved(b, p) }}, {"check", func() func() {
		s := solved(b, p)
		return func() {
			if said := Check(p, s); len(said) > 0 {
				b.Fatal(said[0].Text)
			}
		}
	}()}} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				c.run()
			}
		})
	}
}
