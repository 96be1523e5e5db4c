package earthwork

import (
	"math"
	"math/rand/v2"
	"testing"

	"trenchwright/place/ground"
	"trenchwright/place/route"
)

// Upright sides are dug whichever way a run goes: a section ends on them, and whatever is rounded in where it ends, there is
// ground beside it.
func TestUprightSidesInEveryDirection(t *testing.T) {
	const seed = 20260312
	r := rand.New(rand.NewPCG(seed, 1))
	t.Logf("seed %d", seed)
	surface, found := ground.Triangulate(ground.Survey{Points: []ground.Point{{E: -100, N: -100, Z: 10}, {E: 100, N: -100, Z: 10}, {E: 100, N: 100, Z: 10}, {E: -100, N: 100, Z: 10}}})
	if surface == nil {
		t.Fatal(found)
	}
	for range 200 {
		turn, length := r.Float64()*2*math.Pi, 3+r.Float64()*20
		from := route.Point{E: r.Float64()*20 - 10, N: r.Float64()*20 - 10}
		to := route.Point{E: from.E + length*math.Cos(turn), N: from.N + length*math.Sin(turn)}
		p := trench(0.5, Sides{Form: Vertical}, 0.3, 0.3, length)
		line, err := route.Polyline([]route.Vertex{{At: from}, {At: to}})
		if err != nil {
			t.Fatal(err)
		}
		p.Ground, p.Legs[0].Line = Of(surface), line
		span := &p.Legs[0].Spans[0]
		span.To = line.Length()
		span.Start = Levels{Top: m(9.98), Underside: m(9.8), Formation: m(9.7)}
		span.End = span.Start
		s := Solve(p)
		none(t, s.Findings)
		near(t, "dug", float64(s.Total.Dug()), 0.5*0.3*span.To.Metres(), 1e-6)
	}
}
