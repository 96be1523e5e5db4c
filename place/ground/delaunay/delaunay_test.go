package delaunay

import (
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"trenchwright/place/ground/exact"
)

// scatter draws small sets: on grids, on lines, on circles, in the plain, with places that coincide.
func scatter(r *rand.Rand) []exact.XY {
	n := 1 + r.IntN(40)
	out := make([]exact.XY, 0, n)
	kind := r.IntN(5)
	for i := range n {
		var p exact.XY
		switch kind {
		case 0:
			p = exact.XY{X: r.Int64N(6), Y: r.Int64N(6)}
		case 1:
			p = exact.XY{X: r.Int64N(1e12), Y: r.Int64N(1e12)}
		case 2: // all but a few on one line
			p = exact.XY{X: int64(i) * 7, Y: int64(i) * 3}
			if r.IntN(8) == 0 {
				p.Y += r.Int64N(3) - 1
			}
		case 3: // on a circle of radius 65 that holds many whole places
			c := [][2]int64{{16, 63}, {25, 60}, {33, 56}, {39, 52}, {63, 16}, {60, 25}, {56, 33}, {52, 39}, {0, 65}, {65, 0}}[r.IntN(10)]
			p = exact.XY{X: c[0] * (1 - 2*r.Int64N(2)), Y: c[1] * (1 - 2*r.Int64N(2))}
		default:
			p = exact.XY{X: 1e9 * r.Int64N(20), Y: r.Int64N(4)}
		}
		out = append(out, p)
	}
	return out
}

// area is twice the area of faces, exactly.
func area(places []exact.XY, faces []Face) *big.Int {
	sum := new(big.Int)
	for _, f := range faces {
		sum.Add(sum, cross(places[f.Corner[0]], places[f.Corner[1]], places[f.Corner[2]]))
	}
	return sum
}

func cross(a, b, c exact.XY) *big.Int {
	p := new(big.Int).Mul(big.NewInt(b.X-a.X), big.NewInt(c.Y-a.Y))
	return p.Sub(p, new(big.Int).Mul(big.NewInt(b.Y-a.Y), big.NewInt(c.X-a.X)))
}

// hull is the convex hull, slowly: a place after the other by the rightmost turn.
func hull(places []exact.XY) []exact.XY {
	start := slices.MinFunc(places, exact.XY.Compare)
	out := []exact.XY{start}
	for here := start; ; {
		next := here
		for _, p := range places {
			if p == here {
				continue
			}
			if s := exact.Side(here, next, p); next == here || s < 0 || s == 0 && exact.Between(here, p, next) {
				next = p
			}
		}
		if next == start || next == here {
			return out
		}
		out, here = append(out, next), next
	}
}

func hullArea(places []exact.XY) *big.Int {
	h := hull(places)
	sum := new(big.Int)
	for i := 2; i < len(h); i++ {
		sum.Add(sum, cross(h[0], h[i-1], h[i]))
	}
	return sum
}

func mustBeDelaunay(t *testing.T, seed uint64, places []exact.XY, faces []Face, same []int32) {
	t.Helper()
	if err := Check(places, faces); err != nil {
		t.Fatalf("seed %d: %v", seed, err)
	}
	if got, want := area(places, faces), hullArea(places); got.Cmp(want) != 0 {
		t.Fatalf("seed %d: area %v, the hull has %v", seed, got, want)
	}
	used := map[int32]bool{}
	for _, f := range faces {
		for _, c := range f.Corner {
			used[c] = true
		}
	}
	for i := range places {
		first := slices.Index(places, places[i])
		if int(same[i]) != first || used[int32(i)] != (first == i) {
			t.Fatalf("seed %d: place %d: first %d, same %d, in the mesh %v", seed, i, first, same[i], used[int32(i)])
		}
	}
}

// The slow twin: no place inside any circle.
func TestNoPlaceInAnyCircle(t *testing.T) {
	flat, meshes := 0, 0
	for seed := range uint64(4000) {
		places := scatter(rand.New(rand.NewPCG(seed, 0)))
		m, same := Build(places)
		if m == nil {
			flat++
			if hullArea(places).Sign() != 0 {
				t.Fatalf("seed %d: no mesh over %v", seed, places)
			}
			continue
		}
		meshes++
		faces := m.Faces()
		mustBeDelaunay(t, seed, places, faces, same)
		for _, f := range faces {
			for i, p := range places {
				if exact.InCircle(places[f.Corner[0]], places[f.Corner[1]], places[f.Corner[2]], p) > 0 {
					t.Fatalf("seed %d: place %d lies inside the circle of %v", seed, i, f.Corner)
				}
			}
		}
	}
	if flat < 20 || meshes < 2000 {
		t.Errorf("%d meshes, %d without", meshes, flat)
	}
	t.Logf("%d meshes, %d sets on one line", meshes, flat)
}

// held tells whether the faces hold the way from a to b as fixed edges.
func held(places []exact.XY, faces []Face, a, b exact.XY) bool {
	for a != b {
		best, ok := a, false
		for _, f := range faces {
			for k := range 3 {
				p, q := places[f.Corner[after[k]]], places[f.Corner[before[k]]]
				if q == a {
					p, q = q, p
				}
				if p == a && f.Fixed[k] && exact.Side(a, b, q) == 0 && (q == b || exact.Between(a, b, q)) {
					best, ok = q, true
				}
			}
		}
		if !ok {
			return false
		}
		a = best
	}
	return true
}

func TestLinesAreForced(t *testing.T) {
	forced, refused, long := 0, 0, 0
	for seed := range uint64(6000) {
		r := rand.New(rand.NewPCG(seed, 1))
		places := scatter(r)
		m, same := Build(places)
		if m == nil {
			continue
		}
		type line struct{ a, b int32 }
		var kept []line
		for range 1 + r.IntN(12) {
			a, b := same[r.IntN(len(places))], same[r.IntN(len(places))]
			before := len(m.all)
			parting, crossed := m.Force(a, b)
			for _, p := range parting {
				if exact.Side(places[a], places[b], places[p]) != 0 || !exact.Between(places[a], places[b], places[p]) {
					t.Fatalf("seed %d: %v does not part %v to %v", seed, places[p], places[a], places[b])
				}
			}
			if len(m.all) != before {
				t.Fatalf("seed %d: the number of triangles changed", seed)
			}
			for _, c := range crossed {
				p, q := places[c.Edge[0]], places[c.Edge[1]]
				if exact.Side(places[a], places[b], p)*exact.Side(places[a], places[b], q) >= 0 || exact.Side(p, q, places[a])*exact.Side(p, q, places[b]) >= 0 {
					t.Fatalf("seed %d: %v does not cross %v to %v", seed, c, places[a], places[b])
				}
			}
			if len(crossed) > 0 {
				refused++
				continue
			}
			forced++
			kept = append(kept, line{a, b})
		}
		faces := m.Faces()
		mustBeDelaunay(t, seed, places, faces, same)
		for _, l := range kept {
			if !held(places, faces, places[l.a], places[l.b]) {
				t.Fatalf("seed %d: the line from %v to %v is not in the mesh", seed, places[l.a], places[l.b])
			}
		}
		if len(kept) > 8 {
			long++
		}
	}
	if forced < 10_000 || refused < 500 || long < 100 {
		t.Errorf("%d forced, %d refused", forced, refused)
	}
	t.Logf("%d lines forced, %d would cross others", forced, refused)
}

// Long lines through many triangles, some in channels with edges that hang into them.
func TestLongLines(t *testing.T) {
	hanging := 0
	for seed := range uint64(40) {
		r := rand.New(rand.NewPCG(seed, 2))
		var places []exact.XY
		for range 1500 {
			places = append(places, exact.XY{X: r.Int64N(1e10), Y: r.Int64N(1e7) * (1 + 999*r.Int64N(2))})
		}
		m, same := Build(places)
		for range 30 {
			a, b := same[r.IntN(len(places))], same[r.IntN(len(places))]
			m.prepare()
			if a == b {
				continue
			}
			if _, channel := m.look(m.number[a], m.number[b]); channel != nil {
				left, right, _ := m.banks(m.number[a], channel)
				all := append(left, right...)
				for _, e := range all {
					if slices.ContainsFunc(all, func(f bank) bool { return f.own == e.out }) {
						hanging++
					}
				}
			}
			m.Force(a, b)
		}
		mustBeDelaunay(t, seed, places, m.Faces(), same)
	}
	if hanging < 10 {
		t.Errorf("only %d edges hung into channels", hanging)
	}
	t.Logf("%d edges hung into channels", hanging)
}

// The checker finds what it is there for.
func TestCheckFinds(t *testing.T) {
	places := []exact.XY{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 10, Y: 10}, {X: 0, Y: 10}, {X: 3, Y: 4}}
	for name, spoil := range map[string]func(f []Face){
		"turned":     func(f []Face) { f[0].Corner[0], f[0].Corner[1] = f[0].Corner[1], f[0].Corner[0] },
		"neighbour":  func(f []Face) { f[1].Beyond[0], f[1].Beyond[1] = f[1].Beyond[1], f[1].Beyond[0] },
		"twice":      func(f []Face) { f[1] = f[0] },
		"one-sided":  func(f []Face) { f[0].Fixed = [3]bool{!f[0].Fixed[0], !f[0].Fixed[1], !f[0].Fixed[2]} },
		"not a hull": func(f []Face) { f[2].Beyond = [3]int32{None, None, None} },
	} {
		m, _ := Build(places)
		faces := m.Faces()
		if err := Check(places, faces); err != nil {
			t.Fatal(err)
		}
		spoil(faces)
		if Check(places, faces) == nil {
			t.Errorf("%s: not found", name)
		}
	}
	wrong := []Face{{Corner: [3]int32{0, 1, 3}, Beyond: [3]int32{1, None, None}}, {Corner: [3]int32{1, 2, 3}, Beyond: [3]int32{None, 0, None}}}
	places[2] = exact.XY{X: 8, Y: 8}
	if Check(places, wrong) == nil {
		t.Error("a place inside a circle is not found")
	}
}

func BenchmarkBuild(b *testing.B) {
	const n = 1_000_000
	r := rand.New(rand.NewPCG(1, 0))
	random, grid := make([]exact.XY, n), make([]exact.XY, n)
	for i := range n {
		random[i] = exact.XY{X: r.Int64N(1e12), Y: r.Int64N(1e12)}
		grid[i] = exact.XY{X: int64(i%1000) * 1e9, Y: int64(i/1000) * 1e9}
	}
	for name, places := range map[string][]exact.XY{"random": random, "grid": grid} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				Build(places)
			}
		})
	}
}
