package ground

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"trenchwright/place/route"
)

// patchy is a random surface with holes, on a grid as often as not.
func patchy(r *rand.Rand) *Surface {
	s := Survey{SpikeSlope: 1e9}
	grid := r.IntN(2) == 0
	for range 8 + r.IntN(60) {
		p := Point{20 * r.Float64(), 20 * r.Float64(), 5 * r.Float64()}
		if grid {
			p.E, p.N = math.Round(p.E/4)*4, math.Round(p.N/4)*4
		}
		s.Points = append(s.Points, p)
	}
	if r.IntN(2) == 0 {
		s.LongestEdge = 5 + 3*r.Float64()
	}
	if r.IntN(2) == 0 {
		s.Holes = [][]route.Point{{{E: 5, N: 5}, {E: 13, N: 6}, {E: 9, N: 14}}}
	}
	g, _ := Triangulate(s)
	return g
}

// The ground along a line is the ground at its places: asked one by one, and by asking every face.
func TestSectionAgainstItsPlaces(t *testing.T) {
	gaps, along, touched := 0, 0, 0
	for seed := range uint64(3000) {
		r := rand.New(rand.NewPCG(seed, 7))
		g := patchy(r)
		if g == nil {
			continue
		}
		var line []route.Point
		for range 2 + r.IntN(3) {
			p := route.Point{E: 26*r.Float64() - 3, N: 26*r.Float64() - 3}
			if r.IntN(2) == 0 {
				p.E, p.N = math.Round(p.E/2)*2, math.Round(p.N/2)*2
			}
			line = append(line, p)
		}
		s := g.Section(line)
		heap := *g
		heap.tidy = false
		h := heap.Section(line)
		if math.Abs(s.Ground()-h.Ground()) > 1e-6 || len(s.Stretches) != len(h.Stretches) {
			t.Fatalf("seed %d: %v of ground in %d stretches, by every face %v in %d\n%v\n%v\n%v", seed, s.Ground(), len(s.Stretches), h.Ground(), len(h.Stretches), line, s, h)
		}
		gaps += max(0, len(s.Stretches)-1)
		begin := 0.0
		for i := 1; i < len(line); i++ {
			way := line[i].Minus(line[i-1])
			for range 20 {
				k := r.Float64()
				p := line[i-1].Plus(way.Times(k))
				want, ok := g.At(p)
				got, has := s.At(begin + k*way.Length())
				if ok != has {
					// a place that was rounded to the nanometre may lie beside an edge that the line runs along
					touched++
					continue
				}
				if ok {
					along++
				}
				if ok && math.Abs(got-want.Z) > 1e-6*(1+want.Steepness()) {
					t.Fatalf("seed %d: at %v the section has %v, the ground %v", seed, p, got, want)
				}
			}
			begin += way.Length()
		}
		for _, st := range s.Stretches {
			for i := 1; i < len(st); i++ {
				if st[i].Along < st[i-1].Along {
					t.Fatalf("seed %d: a section goes back: %v", seed, st)
				}
			}
		}
	}
	if gaps < 200 || along < 20_000 || touched*200 > along {
		t.Errorf("%d gaps, %d places with ground, %d that section and place do not agree on", gaps, along, touched)
	}
	t.Logf("%d gaps, %d places with ground, %d beside an edge", gaps, along, touched)
}

// By hand: a roof over a square of 10 m, ridge at 12 m along N 5, with a hole.
func TestSectionByHand(t *testing.T) {
	roof := Survey{Points: []Point{{0, 0, 10}, {10, 0, 10}, {10, 10, 10}, {0, 10, 10}, {0, 5, 12}, {10, 5, 12}}, Lines: []Line{{"ridge", []Point{{0, 5, 12}, {10, 5, 12}}}}}
	g := mustTriangulate(t, roof)
	for _, c := range []struct {
		name string
		line []route.Point
		want [][]Cut
	}{
		{"across", []route.Point{{E: 10, N: -2}, {E: 10, N: 12}}, [][]Cut{{{2, 10}, {7, 12}, {12, 10}}}},
		{"along the eaves", []route.Point{{E: -5, N: 0}, {E: 5, N: 0}}, [][]Cut{{{5, 10}, {10, 10}}}},
		{"along the other eaves", []route.Point{{E: 4, N: 10}, {E: 30, N: 10}}, [][]Cut{{{0, 10}, {6, 10}}}},
		{"along the ridge", []route.Point{{E: 2, N: 5}, {E: 8, N: 5}}, [][]Cut{{{0, 12}, {6, 12}}}},
		{"out and back", []route.Point{{E: 10, N: 5}, {E: 14, N: 5}, {E: 14, N: 0}, {E: 10, N: 0}, {E: 10, N: 5}}, [][]Cut{{{0, 12}, {0, 12}}, {{13, 10}, {18, 12}}}},
		{"a corner touched", []route.Point{{E: -1, N: 1}, {E: 1, N: -1}}, nil},
		{"beside", []route.Point{{E: -1, N: 0}, {E: -1, N: 9}}, nil},
		{"one place", []route.Point{{E: 1, N: 1}, {E: 1, N: 1}}, nil},
		{"no number", []route.Point{{E: 1, N: 1}, {E: math.NaN(), N: 1}}, nil},
	} {
		got := g.Section(c.line).Stretches
		if c.name == "out and back" {
			got, c.want = got[len(got)-1:], c.want[1:]
		}
		if len(got) == 0 && len(c.want) == 0 {
			continue
		}
		if !reflect.DeepEqual(straightened(got), c.want) {
			t.Errorf("%s: got %v, want %v", c.name, got, c.want)
		}
	}
}

// straightened leaves out cuts that the ground passes without a change of grade.
func straightened(all [][]Cut) [][]Cut {
	var out [][]Cut
	for _, st := range all {
		kept := []Cut{st[0]}
		for i := 1; i < len(st)-1; i++ {
			a, b, c := kept[len(kept)-1], st[i], st[i+1]
			if math.Abs((b.Level-a.Level)*(c.Along-a.Along)-(c.Level-a.Level)*(b.Along-a.Along)) > 1e-12 {
				kept = append(kept, b)
			}
		}
		out = append(out, append(kept, st[len(st)-1]))
	}
	return out
}
