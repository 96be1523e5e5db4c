package cutstock

import (
	"math/rand/v2"
	"testing"
)

// BenchmarkJobs cuts generated jobs of 50 to 500 pieces, free and with a cast end to keep; the metric is what of them is
// proven.
func BenchmarkJobs(b *testing.B) {
	for _, factory := range []bool{true, false} {
		name := "free"
		if factory {
			name = "castEnd"
		}
		b.Run(name, func(b *testing.B) {
			proven, seed := 0, *seed
			for b.Loop() {
				p := jobOf(seed, 0)
				for ; p.FactoryEnd != factory; p = jobOf(seed, 0) {
					seed++
				}
				seed++
				s, err := Solve(p, Limits{})
				if err != nil {
					b.Fatal(err)
				}
				if s.Proven {
					proven++
				}
			}
			b.ReportMetric(float64(proven)/float64(b.N), "proven/op")
		})
	}
}

// BenchmarkCheck checks the proof of one generated job.
func BenchmarkCheck(b *testing.B) {
	p := jobOf(*seed+4, 0)
	s, err := Solve(p, Limits{})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if len(Check(p, s)) > 0 {
			b.Fatal("the answer does not hold")
		}
	}
}

// BenchmarkSets cuts the published sets of which every optimum is proven; one operation is one list.
func BenchmarkSets(b *testing.B) {
	sets := map[string][]instance{}
	var names []string
	for _, in := range binPacking(b) {
		if sets[in.set] == nil {
			names = append(names, in.set)
		}
		sets[in.set] = append(sets[in.set], in)
	}
	for _, name := range names {
		if _, open := atLeast[name]; open {
			continue
		}
		b.Run(name, func(b *testing.B) {
			i := 0
			for b.Loop() {
				in := sets[name][i%len(sets[name])]
				i++
				if s, err := Solve(in.problem, Limits{}); err != nil || !s.Proven {
					b.Fatalf("%s: %s, proven %v, %v", in.name, s.Verdict, s.Proven, err)
				}
			}
		})
	}
}

// BenchmarkMatching pairs random graphs of 400 vertices with weights.
func BenchmarkMatching(b *testing.B) {
	g := randomGraph(rand.New(rand.NewPCG(*seed, 1)), 400, 50)
	for b.Loop() {
		g.heaviest(&effort{1 << 40})
	}
}
