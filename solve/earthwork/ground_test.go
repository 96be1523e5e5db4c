package earthwork

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/place/route"
)

// tin is a triangulated surface that asks every triangle: slow and obvious.
type tin struct{ faces []face }

type spot struct{ e, n, z float64 }

func (t *tin) Corners(low, high route.Point) []route.Point {
	var out []route.Point
	for _, f := range t.faces {
		for _, c := range f {
			if c.e >= low.E && c.e <= high.E && c.n >= low.N && c.n <= high.N {
				out = append(out, route.Point{E: c.e, N: c.n})
			}
		}
	}
	return out
}

func (t *tin) Section(from, to route.Point) []Stretch {
	long := from.Distance(to)
	if long == 0 {
		return nil
	}
	d := to.Minus(from).Unit()
	type bit struct{ a, b Cut }
	var bits []bit
	for _, f := range t.faces {
		low, high := 0.0, long
		for i := range f {
			a, b := f[i], f[(i+1)%3]
			// left of a→b is inside: cross((b-a), p-a) >= 0 with p = from + s d
			ex, ny := b.e-a.e, b.n-a.n
			c := ex*(from.N-a.n) - ny*(from.E-a.e)
			k := ex*d.N - ny*d.E
			switch {
			case math.Abs(k) < 1e-14:
				if c < 0 {
					high = -1
				}
			case k > 0:
				low = max(low, -c/k)
			default:
				high = min(high, -c/k)
			}
		}
		if high-low > 1e-12 {
			bits = append(bits, bit{Cut{low, f.level(from.E+low*d.E, from.N+low*d.N)}, Cut{high, f.level(from.E+high*d.E, from.N+high*d.N)}})
		}
	}
	slices.SortFunc(bits, func(a, b bit) int {
		switch {
		case a.a.Along < b.a.Along:
			return -1
		case a.a.Along > b.a.Along:
			return 1
		}
		return 0
	})
	var out []Stretch
	for _, b := range bits {
		if n := len(out); n > 0 && math.Abs(out[n-1][len(out[n-1])-1].Along-b.a.Along) < 1e-9 {
			out[n-1] = append(out[n-1], b.b)
			continue
		}
		out = append(out, Stretch{b.a, b.b})
	}
	return out
}

// face is a triangle, counterclockwise.
type face [3]spot

func (f face) level(e, n float64) float64 {
	a, b, c := f[0], f[1], f[2]
	twice := (b.e-a.e)*(c.n-a.n) - (b.n-a.n)*(c.e-a.e)
	wb := ((c.e-a.e)*(a.n-n) - (c.n-a.n)*(a.e-e)) / twice
	wc := ((a.e-b.e)*(b.n-n) - (a.n-b.n)*(b.e-e)) / twice
	return a.z + wb*(b.z-a.z) + wc*(c.z-a.z)
}

func (t *tin) at(e, n float64) (float64, bool) {
	for _, f := range t.faces {
		in := true
		for i := range f {
			a, b := f[i], f[(i+1)%3]
			in = in && (b.e-a.e)*(n-a.n)-(b.n-a.n)*(e-a.e) >= -1e-12
		}
		if in {
			return f.level(e, n), true
		}
	}
	return 0, false
}

// field is ground over a box: a grid of cells moved about by chance, each cut into two triangles, with levels from z.
func field(r *rand.Rand, e0, n0, e1, n1, cell float64, z func(e, n float64) float64) *tin {
	cols, rows := int((e1-e0)/cell)+1, int((n1-n0)/cell)+1
	at := func(i, k int) spot {
		return spot{e0 + (e1-e0)*float64(i)/float64(cols), n0 + (n1-n0)*float64(k)/float64(rows), 0}
	}
	grid := make([][]spot, cols+1)
	for i := range grid {
		for k := range rows + 1 {
			p := at(i, k)
			if r != nil {
				p.e += (r.Float64() - 0.5) * cell * 0.5
				p.n += (r.Float64() - 0.5) * cell * 0.5
			}
			p.z = z(p.e, p.n)
			grid[i] = append(grid[i], p)
		}
	}
	t := &tin{}
	for i := range cols {
		for k := range rows {
			a, b, c, d := grid[i][k], grid[i+1][k], grid[i+1][k+1], grid[i][k+1]
			if r != nil && r.IntN(2) == 0 {
				t.faces = append(t.faces, face{a, b, d}, face{b, c, d})
			} else {
				t.faces = append(t.faces, face{a, b, c}, face{a, c, d})
			}
		}
	}
	return t
}

// flat is ground at one level.
func flat(level float64) *tin {
	return field(nil, -500, -500, 500, 500, 1000, func(_, _ float64) float64 { return level })
}

func mm(l float64) measure.Length { return measure.FromMillimetres(l) }
func m(l float64) measure.Length  { return measure.FromMetres(l) }

// east is a straight line from the origin.
func east(length float64) route.Line {
	l, err := route.Polyline([]route.Vertex{{At: route.Point{}}, {At: route.Point{E: length}}})
	if err != nil {
		panic(err)
	}
	return l
}

// trench is a dig of bottom width b (all of it over-dig beside a narrow unit), with sides, from depth to depth below level 100.
func trench(b float64, sides Sides, d0, d1, length float64) *Problem {
	levels := func(d float64) Levels {
		return Levels{Top: m(100 - d + 0.002), Underside: m(100 - d + 0.001), Formation: m(100 - d)}
	}
	return &Problem{
		Ground: flat(100),
		Legs: []Leg{{Name: "A", Line: east(length), Spans: []Span{{From: 0, To: m(length), Start: levels(d0), End: levels(d1),
			Section: Section{Unit: m(b / 2), Room: new(m(b / 4)), Sides: sides}}}}},
	}
}

func oneTo(run float64) *measure.Grade { return &measure.Grade{Rise: measure.Metre, Run: m(run)} }

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %.12g, want %.12g ± %g", what, got, want, tol)
	}
}

// none fails the test on faults.
func none(t *testing.T, l finding.List) {
	t.Helper()
	for _, f := range l {
		if f.Kind == finding.Fault {
			t.Errorf("%s", f)
		}
		for _, bad := range speech(f) {
			t.Errorf("%s: %s", f, bad)
		}
	}
}

func speech(f finding.Finding) []string { return finding.Speech(f) }
