package programme_test

import (
	"testing"

	"trenchwright/solve/programme"
	"trenchwright/solve/programme/made"
)

// BenchmarkImproved is a programme of 30 activities with its search and its proof: at most 1 s is asked for each.
func BenchmarkImproved(b *testing.B) {
	for i := range b.N {
		p := made.Problem(i%50, 30)
		p.Effort = effort
		programme.Solve(p)
	}
}

// BenchmarkLarger is the same for 120 activities; how far it comes out above its bound is reported.
func BenchmarkLarger(b *testing.B) {
	gap := 0.0
	for i := range b.N {
		p := made.Problem(i%10, 120)
		p.Effort = effort
		s := programme.Solve(p)
		gap += float64(s.End-s.Bound) / float64(s.Bound-p.Start)
	}
	b.ReportMetric(100*gap/float64(b.N), "%above")
}

// BenchmarkDated is time against distance for 10,000 activities in the order in which they stand: dates, floats, what is critical.
func BenchmarkDated(b *testing.B) {
	p := made.Problem(1, 10_000)
	for b.Loop() {
		if s := programme.Solve(p); len(s.Order) != len(p.Activities) {
			b.Fatal(len(s.Order), s.Findings)
		}
	}
}
