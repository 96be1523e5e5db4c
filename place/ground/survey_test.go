package ground

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/wording"
	"trenchwright/place/ground/exact"
	"trenchwright/place/route"
)

// spoken holds every finding to the rules of speech.
func spoken(t *testing.T, l finding.List) {
	t.Helper()
	for _, f := range l {
		for _, wrong := range finding.Speech(f) {
			t.Errorf("%s: %q: %s", f.ID, f.Text, wrong)
		}
	}
}

func texts(l finding.List) string {
	var out []string
	for _, f := range l {
		out = append(out, f.ID+": "+f.Text)
	}
	return strings.Join(out, "\n")
}

func mustTriangulate(t *testing.T, s Survey) *Surface {
	t.Helper()
	g, l := Triangulate(s)
	spoken(t, l)
	if g == nil {
		t.Fatal(texts(l))
	}
	return g
}

// What does not fit together is told, whole sentences, and by the rule that is stated.
func TestFindingsOfASurvey(t *testing.T) {
	square := []Point{{0, 0, 10}, {10, 0, 10}, {10, 10, 10}, {0, 10, 10}}
	for _, c := range []struct {
		name  string
		s     Survey
		want  string
		at    route.Point
		level float64 // of the ground there
	}{
		{"equal points are one", Survey{Points: append(square, Point{10, 0, 10})}, "", route.Point{E: 10}, 10},
		{"two levels", Survey{Points: append(square, Point{10, 0, 10.25})},
			"ground.two-levels: point 2 and point 5 lie in one place, E 10.000 m, N 0.000 m, at levels 10.000 m and 10.250 m; the first holds", route.Point{E: 10}, 10},
		{"two levels on a line", Survey{Points: square, Lines: []Line{{"kerb", []Point{{0, 0, 11}, {10, 10, 10}}}}},
			"ground.two-levels: point 1 and point 1 of breakline \"kerb\" lie in one place, E 0.000 m, N 0.000 m, at levels 10.000 m and 11.000 m; the first holds", route.Point{}, 10},
		{"lines cross", Survey{Points: square, Lines: []Line{{"kerb", []Point{{2, 2, 20}, {8, 8, 20}}}, {"ditch", []Point{{2, 8, 5}, {8, 2, 7}}}}, SpikeSlope: 9},
			"ground.lines-cross: breaklines \"kerb\" and \"ditch\" cross at E 5.000 m, N 5.000 m, where their levels are 20.000 m and 6.000 m; the first holds", route.Point{E: 5, N: 5}, 20},
		{"a line crosses itself", Survey{Points: square, Lines: []Line{{"kerb", []Point{{2, 2, 10}, {8, 8, 10}, {8, 2, 10}, {2, 8, 11}}}}},
			"ground.lines-cross: breakline \"kerb\" crosses itself at E 5.000 m, N 5.000 m, at levels 10.000 m and 10.500 m; the first holds", route.Point{E: 5, N: 5}, 10},
		{"a point off its line", Survey{Points: append(square, Point{5, 5, 10.5}), Lines: []Line{{"kerb", []Point{{2, 2, 10}, {8, 8, 10}}}}},
			"ground.off-line: point 5 lies on breakline \"kerb\" in plan, E 5.000 m, N 5.000 m, and 0.500 m off it in level; the line goes through the point", route.Point{E: 5, N: 5}, 10.5},
		{"a spike", Survey{Points: append(square, Point{5, 5, 30})},
			"ground.spike: a point at E 5.000 m, N 5.000 m, level 30.000 m, stands 20.000 m or more above all of its neighbours", route.Point{E: 5, N: 5}, 30},
		{"a pit", Survey{Points: append(square, Point{5, 5, 0})},
			"ground.spike: a point at E 5.000 m, N 5.000 m, level 0.000 m, stands 10.000 m or more below all of its neighbours", route.Point{E: 5, N: 5}, 0},
		{"no number", Survey{Points: append(square, Point{5, math.NaN(), 0})},
			"ground.no-number: point 5 has a coordinate that is no number; it is left out", route.Point{E: 5, N: 5}, 10},
		{"out of reach", Survey{Points: append(square, Point{5e8, 0, 0})},
			"ground.out-of-reach: point 5 lies out of reach; it is left out", route.Point{E: 5, N: 5}, 10},
		{"a line of one point", Survey{Points: square, Lines: []Line{{"kerb", []Point{{2, 2, 10}}}}},
			"ground.line-short: breakline \"kerb\" has fewer than two usable points; it is no line", route.Point{E: 2, N: 2}, 10},
		{"a ring of two", Survey{Points: square, Outer: []route.Point{{E: 1}, {E: 2}}},
			"ground.ring: the outer boundary is left out: it has fewer than three places", route.Point{E: 2, N: 2}, 10},
	} {
		g, l := Triangulate(c.s)
		spoken(t, l)
		if got := texts(l); got != c.want {
			t.Errorf("%s:\ngot  %s\nwant %s", c.name, got, c.want)
		}
		if g == nil {
			t.Errorf("%s: no surface", c.name)
			continue
		}
		if at, ok := g.At(c.at); !ok || at.Z != c.level {
			t.Errorf("%s: level %v %v, want %v", c.name, at.Z, ok, c.level)
		}
	}
	for want, points := range map[string][]Point{
		"ground.one-line: a surface needs three points in different places, and there are so many that can be used: 0":                                                                               nil,
		"ground.one-line: a surface needs three points in different places, and there are so many that can be used: 2":                                                                               {{0, 0, 0}, {1, 1, 1}, {0, 0, 0}},
		"ground.one-line: all 4 points lie on one line in plan":                                                                                                                                      {{0, 0, 0}, {1, 1, 1}, {2, 2, 0}, {7, 7, 0}},
		"ground.no-number: point 2 has a coordinate that is no number; it is left out\nground.one-line: a surface needs three points in different places, and there are so many that can be used: 1": {{0, 0, 0}, {math.Inf(1), math.NaN(), 1}},
	} {
		g, l := Triangulate(Survey{Points: points})
		spoken(t, l)
		if g != nil || texts(l) != want {
			t.Errorf("got  %s\nwant %s", texts(l), want)
		}
	}
}

// Findings speak the job's units, and a thousand of a kind do not drown the rest.
func TestFindingsInFeetAndInBulk(t *testing.T) {
	s := Survey{Source: Source{Speech: wording.Speech{US: true, Imperial: true}, Where: finding.Where{File: "survey.csv"}}}
	for i := range 40 {
		p := Point{float64(i % 8), float64(i / 8), 1}
		s.Points = append(s.Points, p, Point{p.E, p.N, p.Z + 0.3048})
	}
	_, l := Triangulate(s)
	spoken(t, l)
	if len(l) != shown+1 || l[20].Text != "20 more like the 20 findings ground.two-levels above" {
		t.Errorf("%d findings: %s", len(l), texts(l))
	}
	if want := "at levels 3.28 ft and 4.28 ft"; !strings.Contains(l[0].Text, want) {
		t.Errorf("%s", l[0].Text)
	}
}

// Many lines that cross in many places: each crossing is told, both lines pass through it, and none is left out.
func TestAHatchOfBreaklines(t *testing.T) {
	for seed := range uint64(30) {
		r := rand.New(rand.NewPCG(seed, 5))
		s := Survey{Points: []Point{{-100, -100, 0}, {100, -100, 0}, {100, 100, 0}, {-100, 100, 0}}}
		for range 3 + r.IntN(12) {
			a, b := 2*math.Pi*r.Float64(), 2*math.Pi*r.Float64()
			s.Lines = append(s.Lines, Line{"line", []Point{{90 * math.Cos(a), 90 * math.Sin(a), 0}, {90 * math.Cos(b), 90 * math.Sin(b), 0}}})
		}
		g, l := Triangulate(s)
		spoken(t, l)
		if l.Any(finding.Fault) {
			t.Fatalf("seed %d: %s", seed, texts(l))
		}
		for _, line := range s.Lines { // the ground has an edge all along the line: nothing crosses it
			a, b := line.Points[0].vertex(), line.Points[1].vertex()
			for i := range g.faces {
				for k := range 3 {
					u, v := &g.vertices[g.faces[i].corner[after[k]]], &g.vertices[g.faces[i].corner[before[k]]]
					if farSides(a.XY, b.XY, u.XY, v.XY) && farSides(u.XY, v.XY, a.XY, b.XY) {
						t.Fatalf("seed %d: an edge from %v to %v crosses the line from %v to %v", seed, u, v, a, b)
					}
				}
			}
		}
	}
}

// farSides tells whether u and v lie on different sides of the line from a to b, both more than 3 nm off it: a crossing is
// rounded to the nanometre.
func farSides(a, b, u, v exact.XY) bool {
	length := math.Sqrt(exact.Dot(a, b, b).Float())
	x, y := exact.Cross(a, b, u).Float()/length, exact.Cross(a, b, v).Float()/length
	return x*y < 0 && min(math.Abs(x), math.Abs(y)) > 3
}

func TestTrim(t *testing.T) {
	var grid []Point
	for e := range 11 {
		for n := range 11 {
			grid = append(grid, Point{float64(e), float64(n), 1})
		}
	}
	ring := func(low, high float64) []route.Point {
		return []route.Point{{E: low, N: low}, {E: high, N: low}, {E: high, N: high}, {E: low, N: high}}
	}
	for _, c := range []struct {
		name string
		s    Survey
		area float64
	}{
		{"all", Survey{Points: grid}, 100},
		{"outer", Survey{Points: grid, Outer: ring(1, 9)}, 64},
		{"hole", Survey{Points: grid, Outer: ring(1, 9), Holes: [][]route.Point{ring(3, 5), ring(6, 7)}}, 64 - 4 - 1},
		{"an island in a hole", Survey{Points: grid, Holes: [][]route.Point{ring(1, 9)}, Islands: [][]route.Point{ring(3, 6)}}, 100 - 64 + 9},
		{"far away points bridged", Survey{Points: append(grid, Point{30, 5, 1})}, 200},
		{"not bridged", Survey{Points: append(grid, Point{30, 5, 1}), LongestEdge: 2}, 100},
		{"a breakline stops the peeling", Survey{Points: grid, LongestEdge: 0.5, Lines: []Line{{"kerb", []Point{{2, 2, 1}, {8, 2, 1}, {8, 8, 1}, {2, 8, 1}, {2, 2, 1}}}}}, 36},
	} {
		if got := mustTriangulate(t, c.s).Measures().Area2D; math.Abs(got-c.area) > 1e-9 {
			t.Errorf("%s: %v m², want %v", c.name, got, c.area)
		}
	}
	g, l := Triangulate(Survey{Points: grid, Outer: ring(20, 30)})
	spoken(t, l)
	if g != nil || !strings.Contains(texts(l), "leave no face") {
		t.Error(texts(l))
	}
}

// At is the corners' own level at the corners, the plane's between them, and no ground outside.
func TestAt(t *testing.T) {
	const seed = 3
	r := rand.New(rand.NewPCG(seed, 0))
	s := Survey{}
	z := func(e, n float64) float64 { return 50 + 0.02*e - 0.05*n }
	for range 2000 {
		e, n := 1000*r.Float64(), 400*r.Float64()
		s.Points = append(s.Points, Point{e, n, z(e, n)})
	}
	g := mustTriangulate(t, s)
	for _, p := range s.Points {
		if l, ok := g.At(p.Plan()); !ok || math.Abs(l.Z-p.Z) > 0.6e-9 {
			t.Fatalf("at %v: %v %v", p, l, ok)
		}
	}
	hits := 0
	for range 20_000 {
		p := route.Point{E: 1100*r.Float64() - 50, N: 500*r.Float64() - 50}
		l, ok := g.At(p)
		slow := false
		for f := range g.faces {
			a, b, c := g.corners(int32(f))
			slow = slow || exact.Inside(a.XY, b.XY, c.XY, place(p))
			if slow {
				break
			}
		}
		if ok != slow {
			t.Fatalf("seed %d: at %v ground is %v", seed, p, ok)
		}
		if !ok {
			continue
		}
		hits++
		down, sloped := l.Downhill()
		if math.Abs(l.Z-z(p.E, p.N)) > 1e-6 || !sloped {
			t.Fatalf("seed %d: at %v level %v, slope %v %v", seed, p, l.Z, l.East, l.North)
		}
		if a, b, c := g.corners(int32(l.Face)); exact.Cross(a.XY, b.XY, c.XY).Float() > 1e18 && (math.Abs(l.Steepness()-math.Hypot(0.02, 0.05)) > 1e-6 || math.Abs(down.Degrees()-338.19859) > 1e-3) {
			t.Fatalf("seed %d: at %v slope %v, downhill %v", seed, p, l.Steepness(), down)
		}
	}
	if hits < 5000 {
		t.Errorf("only %d places had ground", hits)
	}
	if _, ok := g.At(route.Point{E: math.NaN()}); ok {
		t.Error("ground at no number")
	}
	if _, ok := (&Surface{}).At(route.Point{}); ok {
		t.Error("ground on a surface without faces")
	}
	if _, sloped := (Level{}).Downhill(); sloped {
		t.Error("level ground falls")
	}
}
