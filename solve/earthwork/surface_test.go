package earthwork

import (
	"math/rand/v2"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/place/ground"
	"trenchwright/place/route"
)

// surveyed is a triangulated surface over random points.
func surveyed(t testing.TB, seed uint64, n int, e0, n0, e1, n1 float64) *ground.Surface {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 13))
	var points []ground.Point
	for range n {
		e, nn := e0+r.Float64()*(e1-e0), n0+r.Float64()*(n1-n0)
		points = append(points, ground.Point{E: e, N: nn, Z: 100 + 0.01*e + 0.4*r.Float64()})
	}
	s, said := ground.Triangulate(ground.Survey{Source: ground.Source{Name: "natural"}, Points: points})
	if s == nil {
		t.Fatal(said)
	}
	return s
}

// A dig with upright sides to a level formation is the volume of the ground over a plane within its plan: two ways to one
// figure, over a surface with many small faces, and a third for a dig that turns a corner.
func TestOverATriangulatedSurface(t *testing.T) {
	s := surveyed(t, 1, 4000, -10, -10, 60, 40)
	p := trench(1.2, Sides{Form: Vertical}, 2, 2, 40)
	p.Ground = Of(s)
	got := Solve(p)
	none(t, got.Findings)
	box := []route.Point{{E: 0, N: -0.6}, {E: 40, N: -0.6}, {E: 40, N: 0.6}, {E: 0, N: 0.6}}
	want, said := s.ToPlane(route.Point{}, 98, 0, 0, box)
	none(t, said)
	near(t, "over level formation", float64(got.Total.Dug()), float64(want.Cut), 1e-7)

	p.Legs[0].Spans[0].End.Formation -= m(0.4)
	p.Legs[0].Spans[0].End.Underside -= m(0.4)
	p.Legs[0].Spans[0].End.Top -= m(0.4)
	p.Legs[0].Spans[0].Cross = measure.Grade{Rise: 2, Run: 100}
	want, _ = s.ToPlane(route.Point{}, 98, -0.01, 0.02, box)
	near(t, "with a fall along and across", float64(Solve(p).Total.Dug()), float64(want.Cut), 1e-7)

	p = trench(1.2, Sides{Form: Vertical}, 2, 2, 40)
	p.Ground = Of(s)
	up, err := route.Polyline([]route.Vertex{{At: route.Point{E: 40}}, {At: route.Point{E: 40, N: 30}}})
	if err != nil {
		t.Fatal(err)
	}
	second := trench(1.2, Sides{Form: Vertical}, 2, 2, 30).Legs[0]
	second.Line = up
	p.Legs = append(p.Legs, second)
	p.Nodes = []Node{{Name: "N", Arms: []Arm{{0, true}, {1, false}}}}
	got = Solve(p)
	none(t, got.Findings)
	want, _ = s.ToPlane(route.Point{}, 98, 0, 0, []route.Point{{E: 0, N: -0.6}, {E: 40.6, N: -0.6}, {E: 40.6, N: 30}, {E: 39.4, N: 30}, {E: 39.4, N: 0.6}, {E: 0, N: 0.6}})
	near(t, "round a corner", float64(got.Total.Dug()), float64(want.Cut), 1e-7)
	if Of(nil) != nil {
		t.Error("no surface is no ground")
	}
}

// A combined scale factor: chainages and offsets are on the ground, the surface on the grid.
func TestScaleFactor(t *testing.T) {
	line, err := east(40).Scaled(0.9996)
	if err != nil {
		t.Fatal(err)
	}
	p := trench(1, Sides{Form: Vertical}, 1, 1, 40)
	p.Legs[0].Line, p.Legs[0].Spans[0].To = line, line.Length()
	got := Solve(p)
	none(t, got.Findings)
	near(t, "dug", float64(got.Total.Dug()), 40/0.9996, 1e-7)
}

// A kilometre in spans of 3 m over 60,000 points.
func BenchmarkSolveAKilometre(b *testing.B) {
	p := kilometre(b)
	b.ReportAllocs()
	for b.Loop() {
		if s := Solve(p); s.Total.Dug() == 0 {
			b.Fatal(s.Findings)
		}
	}
}

func kilometre(t testing.TB) *Problem {
	s := surveyed(t, 2, 60_000, -10, -60, 1010, 60)
	p := trench(1.2, Sides{Form: Sloped, Slope: oneTo(1)}, 1.5, 1.5, 999)
	p.Ground, p.Finished, p.Topsoil, p.Layer = Of(s), nil, new(mm(200)), new(mm(200))
	first := p.Legs[0].Spans[0]
	p.Legs[0].Spans = nil
	for i := range 333 {
		one := first
		one.From, one.To = m(float64(3*i)), m(float64(3*i+3))
		level := func(x measure.Length) Levels {
			f := 98.5 + 0.01*x.Metres()
			return Levels{Top: m(f + 1.1), Underside: m(f + 0.2), Formation: m(f)}
		}
		one.Start, one.End = level(one.From), level(one.To)
		p.Legs[0].Spans = append(p.Legs[0].Spans, one)
	}
	return p
}
