package ground

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"trenchwright/place/ground/exact"
	"trenchwright/place/route"
)

func close(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

func square(side float64) []Point {
	return []Point{{0, 0, 0}, {side, 0, 0}, {side, side, 0}, {0, side, 0}}
}

// Solids with a formula. 2.15 and 2.16 are published values, worked out by hand there.
func TestVolumesOfSolids(t *testing.T) {
	prism := mustTriangulate(t, Survey{Points: []Point{{0, 0, 1.2}, {30, 0, 1.8}, {0, 40, 2.4}}})
	v, l := prism.ToPlane(route.Point{}, 0, 0, 0, nil)
	spoken(t, l)
	close(t, "2.15, a triangle with legs of 30 and 40 m and heights of 1.2, 1.8 and 2.4 m", float64(v.Cut), 1080, 1e-9)

	frustum := mustTriangulate(t, Survey{Points: []Point{{0, 0, 0}, {4, 0, 0}, {4, 4, 0}, {0, 4, 0}, {1, 1, 3}, {3, 1, 3}, {3, 3, 3}, {1, 3, 3}}, SpikeSlope: 99})
	v, _ = frustum.ToPlane(route.Point{}, 0, 0, 0, nil)
	close(t, "2.16, a frustum over 16 and 4 m², 3 m high", float64(v.Cut), 28, 1e-12)
	m := frustum.Measures()
	close(t, "its base", m.Area2D, 16, 1e-12)
	close(t, "its mantle and top: 4 + 4·(4+2)/2·√(3²+1²)", m.Area3D, 4+4*3*math.Sqrt(10), 1e-12)

	const n, radius, height = 720, 5.0, 3.0
	cone := Survey{Points: []Point{{100, 200, height}}, SpikeSlope: 99}
	for i := range n {
		a := 2 * math.Pi * float64(i) / n
		cone.Points = append(cone.Points, Point{100 + radius*math.Cos(a), 200 + radius*math.Sin(a), 0})
	}
	v, _ = mustTriangulate(t, cone).ToPlane(route.Point{}, 0, 0, 0, nil)
	close(t, "a pyramid over 720 sides", float64(v.Cut), n*radius*radius*math.Sin(2*math.Pi/n)/2*height/3, 1e-7)
	close(t, "nearly a cone", float64(v.Cut), math.Pi*radius*radius*height/3, 1e-3)

	// A plane that tilts through a level square, turned on the middle: two wedges of 10·5·1/2 each.
	flat := mustTriangulate(t, Survey{Points: square(10)})
	v, _ = flat.ToPlane(route.Point{E: 5, N: 3}, 0, 0.2, 0, nil)
	for what, got := range map[string]float64{"cut": float64(v.Cut), "fill": float64(v.Fill)} {
		close(t, "a tilted plane, "+what, got, 25, 1e-12)
	}
	close(t, "the area where it is cut", v.CutArea, 50, 1e-12)
	close(t, "the area where it is filled", v.FillArea, 50, 1e-12)
	close(t, "deepest", v.Deepest, 1, 1e-12)
	close(t, "highest", v.Highest, 1, 1e-12)
	close(t, "net", float64(v.Net()), 0, 1e-12)

	// 2.17 without its slopes: a trench 0.8 m wide, 1.0 to 1.6 m deep over 50 m.
	top := mustTriangulate(t, Survey{Points: []Point{{-1, -5, 0}, {60, -5, 0}, {60, 5, 0}, {-1, 5, 0}}})
	bottom := mustTriangulate(t, Survey{Points: []Point{{0, 0, -1}, {50, 0, -1.6}, {50, 0.8, -1.6}, {0, 0.8, -1}}})
	v, l = Between(top, bottom, nil)
	spoken(t, l)
	close(t, "a trench of upright sides", float64(v.Cut), 0.8*50*1.3, 1e-10)
	close(t, "its plan", v.Common, 40, 1e-10)

	outline := []route.Point{{E: 10, N: 0.2}, {E: 20, N: 0.2}, {E: 20, N: 5}, {E: 10, N: 5}}
	v, l = Between(top, bottom, outline)
	spoken(t, l)
	close(t, "10 m of it, without a fifth of its width", float64(v.Cut), 0.6*10*(1+0.6*15/50), 1e-10)
	close(t, "the outline", v.Outline, 48, 1e-10)
	close(t, "without ground below", v.Missing(), 42, 1e-10)
	if want := "ground.outline-bare"; len(l) != 1 || l[0].ID != want || l[0].Value != "6.000 m² in common, 42.000 m² without" {
		t.Errorf("%v", l)
	}
	v, _ = Between(top, top, nil)
	if v.Cut != 0 || v.Fill != 0 {
		t.Errorf("a surface against itself: %+v", v)
	}
	close(t, "level with itself", v.LevelArea, 610, 1e-9)
}

func TestVolumesRefused(t *testing.T) {
	flat := mustTriangulate(t, Survey{Source: Source{Name: "flat"}, Points: square(10)})
	twice, l := FromMesh(Mesh{Source: Source{Name: "heap"}, Points: append(square(10), Point{5, 12, 1}), Faces: [][3]int{{0, 1, 2}, {0, 2, 3}, {0, 1, 4}}})
	spoken(t, l)
	if !twice.Overlaps() || !strings.Contains(texts(l), "ground.faces-overlap") {
		t.Error("the heap is tidy: " + texts(l))
	}
	elsewhere := *flat
	elsewhere.Origin.E = 1000
	for want, l := range map[string][]string{
		"ground.volume-overlap": {ids(Between(flat, twice, nil)), ids(Between(twice, flat, nil)), ids(twice.ToPlane(route.Point{}, 0, 0, 0, nil))},
		"ground.two-origins":    {ids(Between(flat, &elsewhere, nil))},
		"ground.plane":          {ids(flat.ToPlane(route.Point{}, math.NaN(), 0, 0, nil)), ids(flat.ToPlane(route.Point{E: math.Inf(1)}, 0, 0, 0, nil))},
		"ground.outline": {
			ids(Between(flat, flat, []route.Point{{E: 1}, {E: 2}})), ids(Between(flat, flat, []route.Point{{E: 1}, {E: 2}, {E: 3}})),
			ids(Between(flat, flat, []route.Point{})), ids(Between(flat, flat, []route.Point{{E: 1}, {E: 2, N: math.NaN()}, {E: 3}})),
			ids(Between(flat, flat, []route.Point{{E: 0, N: 0}, {E: 5, N: 5}, {E: 5, N: 0}, {E: 0, N: 5}})),
		},
	} {
		for i, got := range l {
			if got != want {
				t.Errorf("%d: got %s, want %s", i, got, want)
			}
		}
	}
}

// The slow twin: every face against every face; what they have in common by asking for corners inside and edges that
// cross, sorted round their middle; the solid between by the divergence theorem over its skin.
func volumeSlowly(a, b *Surface) (cut, fill, common float64) {
	for f := range a.faces {
		for g := range b.faces {
			p := commonPlan(a.Corners(f), b.Corners(g))
			if len(p) < 3 {
				continue
			}
			za, zb := planeThrough(a.Corners(f)), planeThrough(b.Corners(g))
			common += skin(p, func(q xy) float64 { return 1 }, func(q xy) float64 { return 0 })
			above := func(q xy) float64 { return za(q) - zb(q) }
			cut += skin(onSide(p, above), za, zb)
			fill += skin(onSide(p, func(q xy) float64 { return -above(q) }), zb, za)
		}
	}
	return cut, fill, common
}

func planeThrough(c [3]Point) func(xy) float64 {
	return func(q xy) float64 {
		w := func(i, j int) float64 {
			return (c[i].E-q.x)*(c[j].N-q.y) - (c[j].E-q.x)*(c[i].N-q.y)
		}
		return (w(1, 2)*c[0].Z + w(2, 0)*c[1].Z + w(0, 1)*c[2].Z) / (w(1, 2) + w(2, 0) + w(0, 1))
	}
}

func commonPlan(a, b [3]Point) []xy {
	var out []xy
	plan := func(p Point) xy { return xy{p.E, p.N} }
	side := func(p, q, r xy) float64 { return (q.x-p.x)*(r.y-p.y) - (q.y-p.y)*(r.x-p.x) }
	for _, way := range [2][2][3]Point{{a, b}, {b, a}} {
		for _, p := range way[0] {
			c := way[1]
			if q := plan(p); side(plan(c[0]), plan(c[1]), q) >= 0 && side(plan(c[1]), plan(c[2]), q) >= 0 && side(plan(c[2]), plan(c[0]), q) >= 0 {
				out = append(out, q)
			}
		}
	}
	for i := range 3 {
		for j := range 3 {
			p, q, r, s := plan(a[i]), plan(a[(i+1)%3]), plan(b[j]), plan(b[(j+1)%3])
			u, w := side(r, s, p), side(r, s, q)
			if u*w < 0 && side(p, q, r)*side(p, q, s) < 0 {
				k := u / (u - w)
				out = append(out, xy{p.x + k*(q.x-p.x), p.y + k*(q.y-p.y)})
			}
		}
	}
	return around(out)
}

// around sorts the corners of a convex polygon counterclockwise.
func around(p []xy) []xy {
	var m xy
	for _, q := range p {
		m.x, m.y = m.x+q.x/float64(len(p)), m.y+q.y/float64(len(p))
	}
	slices.SortFunc(p, func(a, b xy) int {
		if math.Atan2(a.y-m.y, a.x-m.x) < math.Atan2(b.y-m.y, b.x-m.x) {
			return -1
		}
		return 1
	})
	return p
}

func onSide(p []xy, d func(xy) float64) []xy {
	var out []xy
	for i, q := range p {
		r := p[(i+1)%len(p)]
		u, w := d(q), d(r)
		if u >= 0 {
			out = append(out, q)
		}
		if u*w < 0 {
			out = append(out, xy{q.x + (r.x-q.x)*u/(u-w), q.y + (r.y-q.y)*u/(u-w)})
		}
	}
	return around(out)
}

// skin is the volume of the solid between two planes over a convex polygon, by a sixth of the sum of the triple products of
// the triangles of its skin, seen from its first corner.
func skin(p []xy, top, bottom func(xy) float64) float64 {
	if len(p) < 3 {
		return 0
	}
	type v3 struct{ x, y, z float64 }
	o := v3{p[0].x, p[0].y, bottom(p[0])}
	at := func(q xy, z float64) v3 { return v3{q.x - o.x, q.y - o.y, z - o.z} }
	sum := 0.0
	add := func(a, b, c v3) {
		sum += a.x*(b.y*c.z-b.z*c.y) - a.y*(b.x*c.z-b.z*c.x) + a.z*(b.x*c.y-b.y*c.x)
	}
	for i := range p {
		q, r := p[i], p[(i+1)%len(p)]
		add(at(p[0], top(p[0])), at(q, top(q)), at(r, top(r)))
		add(at(p[0], bottom(p[0])), at(r, bottom(r)), at(q, bottom(q)))
		add(at(q, bottom(q)), at(r, bottom(r)), at(r, top(r)))
		add(at(q, bottom(q)), at(r, top(r)), at(q, top(q)))
	}
	return sum / 6
}

func TestVolumesAgainstSlowTwin(t *testing.T) {
	mixed := 0
	for seed := range uint64(300) {
		r := rand.New(rand.NewPCG(seed, 9))
		a, b := patchy(r), patchy(r)
		if a == nil || b == nil {
			continue
		}
		v, l := Between(a, b, nil)
		spoken(t, l)
		cut, fill, common := volumeSlowly(a, b)
		if math.Abs(float64(v.Cut)-cut) > 1e-6 || math.Abs(float64(v.Fill)-fill) > 1e-6 || math.Abs(v.Common-common) > 1e-6 {
			t.Fatalf("seed %d: %+v, slowly cut %v fill %v common %v", seed, v, cut, fill, common)
		}
		close(t, "its parts", v.CutArea+v.FillArea+v.LevelArea, v.Common, 1e-9)
		back, _ := Between(b, a, nil)
		close(t, "the other way round", float64(back.Fill), cut, 1e-6)
		if cut > 1 && fill > 1 {
			mixed++
		}
		// An outline and what is left of the ground outside it make the whole.
		ring := []route.Point{{E: 3 + r.Float64(), N: 2}, {E: 15, N: 4 * r.Float64()}, {E: 9, N: 9}, {E: 16, N: 15}, {E: 4, N: 18 * r.Float64()}}
		frame := []route.Point{{E: -9, N: -9}, {E: 29, N: -9}, {E: 29, N: 29}, {E: -9, N: 29}}
		in, l := Between(a, b, ring)
		if l.Any("fault") {
			continue // it crossed itself
		}
		all, _ := Between(a, b, frame)
		close(t, "inside a frame round everything", float64(all.Cut), cut, 1e-6)
		if in.Common > all.Common+1e-9 || in.Cut > all.Cut+1e-9 || in.Common > in.Outline+1e-9 {
			t.Fatalf("seed %d: inside the outline %+v, altogether %+v", seed, in, all)
		}
	}
	if mixed < 50 {
		t.Errorf("only %d pairs had cut and fill", mixed)
	}
}

// The triangles of an outline add up to the outline, exactly.
func TestTrianglesMakeTheOutline(t *testing.T) {
	made := 0
	for seed := range uint64(500) {
		r := rand.New(rand.NewPCG(seed, 23))
		var ring []route.Point
		n := 3 + r.IntN(40)
		for i := range n { // a star round the middle never crosses itself
			a := 2 * math.Pi * (float64(i) + 0.9*r.Float64()) / float64(n)
			d := 1 + 50*r.Float64()
			ring = append(ring, route.Point{E: 1e5 + d*math.Cos(a), N: d * math.Sin(a)})
		}
		s, why := triangles(ring)
		if s == nil {
			t.Fatalf("seed %d: the ring %s", seed, why)
		}
		var whole, parts exact.Wide
		for i := range ring {
			whole = whole.Plus(exact.Cross(place(ring[0]), place(ring[i]), place(ring[(i+1)%n])))
		}
		for f := range s.faces {
			a, b, c := s.corners(int32(f))
			parts = parts.Plus(exact.Cross(a.XY, b.XY, c.XY))
		}
		if whole != parts {
			t.Fatalf("seed %d: %v, the ring has %v", seed, parts, whole)
		}
		made += len(s.faces)
	}
	if made < 5000 {
		t.Errorf("only %d triangles", made)
	}
}
