package ground

import (
	"math"
	"math/rand/v2"
	"testing"

	"trenchwright/place/route"
)

// country is made-up ground: rolling, with roads as breaklines that run through it.
func country(points, lines int, seed uint64) Survey {
	r := rand.New(rand.NewPCG(seed, 0))
	side := math.Sqrt(float64(points)) // some one point a square metre
	z := func(e, n float64) float64 { return 100 + 3*math.Sin(e/40) + 2*math.Cos(n/25) }
	var s Survey
	for range points {
		e, n := side*r.Float64(), side*r.Float64()
		s.Points = append(s.Points, Point{e, n, z(e, n)})
	}
	for k := range lines { // one beside the other, so that none crosses
		l := Line{Name: "road"}
		n := side * (float64(k) + 0.5) / float64(lines)
		for e := 1.0; e < side-1; e += 5 {
			y := n + 0.3*side/float64(lines)*math.Sin(e/30)
			l.Points = append(l.Points, Point{e, y, z(e, y) + 0.1})
		}
		s.Lines = append(s.Lines, l)
	}
	return s
}

func BenchmarkTriangulate(b *testing.B) {
	s := country(1_000_000, 100, 1)
	for b.Loop() {
		if g, l := Triangulate(s); g == nil || len(l) > 0 {
			b.Fatal(l)
		}
	}
}

func BenchmarkSection(b *testing.B) {
	s, _ := Triangulate(country(500_000, 20, 1))
	b.Logf("%d faces", len(s.faces))
	r := rand.New(rand.NewPCG(2, 0))
	for name, near := range map[string]bool{"anywhere": false, "along a trench": true} {
		b.Run(name, func(b *testing.B) {
			k := 0
			for b.Loop() {
				k++
				e, n := 20+600*r.Float64(), 20+600*r.Float64()
				if near {
					e, n = 20+0.1*float64(k%6000), 20+0.1*float64(k%6000)
				}
				s.Section([]route.Point{{E: e, N: n}, {E: e + 8, N: n - 6}})
			}
		})
	}
}

func BenchmarkAt(b *testing.B) {
	s, _ := Triangulate(country(500_000, 20, 1))
	r := rand.New(rand.NewPCG(2, 0))
	for b.Loop() {
		s.At(route.Point{E: 700 * r.Float64(), N: 700 * r.Float64()})
	}
}

func BenchmarkBetween(b *testing.B) {
	x, _ := Triangulate(country(10_000, 5, 1))
	y, _ := Triangulate(country(10_000, 5, 2))
	b.Logf("%d and %d faces", len(x.faces), len(y.faces))
	for b.Loop() {
		Between(x, y, nil)
	}
}
