package ground

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/place/route"
)

func ids(_ any, l finding.List) string {
	var out []string
	for _, f := range l {
		out = append(out, f.ID)
	}
	return strings.Join(out, " ")
}

func TestFromMesh(t *testing.T) {
	points := append(square(10), Point{5, 5, 4}, Point{math.NaN(), 0, 0}, Point{10, 0, 0}, Point{10, 0, 7})
	for _, c := range []struct {
		name   string
		faces  [][3]int
		hidden []bool
		want   string
		figure Measures // faces, invisible and areas only
	}{
		{"two faces, one the other way round", [][3]int{{0, 1, 2}, {0, 3, 2}}, nil, "", Measures{Faces: 2, Area2D: 100, Area3D: 100}},
		{"hidden", [][3]int{{0, 1, 2}, {0, 3, 2}}, []bool{true}, "", Measures{Faces: 1, Invisible: 1, Area2D: 50, Area3D: 50}},
		{"equal points", [][3]int{{0, 6, 2}, {0, 1, 4}}, nil, "ground.faces-overlap", Measures{Faces: 2, Area2D: 75, Area3D: 50 + 25*math.Sqrt(1+16.0/25)}},
		{"an upright step", [][3]int{{0, 1, 2}, {1, 7, 6}, {1, 7, 2}}, nil, "ground.face-flat ground.face-flat", Measures{Faces: 3, Area2D: 50, Area3D: 85}},
		{"broken", [][3]int{{0, 1, 2}, {0, 1, 5}, {0, 1, 99}, {-1, 2, 3}}, nil, "ground.face-broken ground.face-broken ground.face-broken", Measures{Faces: 1, Area2D: 50, Area3D: 50}},
		{"twice", [][3]int{{0, 1, 2}, {2, 1, 0}, {1, 2, 0}}, nil, "ground.face-twice ground.face-twice", Measures{Faces: 1, Area2D: 50, Area3D: 50}},
	} {
		s, l := FromMesh(Mesh{Source: Source{Name: "mesh"}, Points: points, Faces: c.faces, Hidden: c.hidden})
		spoken(t, l)
		want := strings.TrimSpace("ground.no-number " + c.want)
		if got := ids(nil, l); got != want {
			t.Errorf("%s: %s", c.name, texts(l))
		}
		m := s.Measures()
		if m.Points != 7 || m.Faces != c.figure.Faces || m.Invisible != c.figure.Invisible {
			t.Errorf("%s: %+v", c.name, m)
		}
		close(t, c.name, m.Area2D, c.figure.Area2D, 1e-9)
		close(t, c.name, m.Area3D, c.figure.Area3D, 1e-9)
	}
	for _, faces := range [][][3]int{nil, {{0, 0, 1}}} {
		if s, l := FromMesh(Mesh{Points: points, Faces: faces}); s != nil || !l.Any(finding.Fault) {
			t.Errorf("a surface of %v", faces)
		}
	}
}

// Huge coordinates, as they stand in files with the zone before the easting: nothing is lost to the nanometre.
func TestHugeCoordinates(t *testing.T) {
	far := route.Point{E: 25_530_649.014, N: 6_783_005.232}
	var points []Point
	for _, p := range []Point{{0, 0, 16.1}, {4.5, 0.25, 17.3}, {1.125, 6, 16.9}} {
		points = append(points, Point{p.E + far.E, p.N + far.N, p.Z})
	}
	s, l := FromMesh(Mesh{Points: points, Faces: [][3]int{{0, 1, 2}}})
	if len(l) > 0 {
		t.Error(texts(l))
	}
	close(t, "its area", s.Measures().Area2D, (4.5*6-1.125*0.25)/2, 3e-8) // coordinates there step by 3.7 nm
	if at, ok := s.At(points[1].Plan()); !ok || Record(at.Z) != 17_300*measure.Millimetre {
		t.Errorf("%v %v", at, ok)
	}
}

// Faces that lie over each other are found: against every pair of faces.
func TestOverlapsAgainstEveryPair(t *testing.T) {
	tidy, heaps := 0, 0
	for seed := range uint64(3000) {
		r := rand.New(rand.NewPCG(seed, 11))
		g := patchy(r)
		if g == nil {
			continue
		}
		m := Mesh{}
		for f := range g.faces {
			c := g.Corners(f)
			n := len(m.Points)
			m.Points = append(m.Points, c[:]...)
			m.Faces = append(m.Faces, [3]int{n, n + 1 + r.IntN(2), 0})
			m.Faces[f][2] = 3*n + 3 - m.Faces[f][0] - m.Faces[f][1]
			m.Hidden = append(m.Hidden, r.IntN(5) == 0)
		}
		if r.IntN(2) == 0 { // one point goes astray, or a face is laid over all
			if r.IntN(2) == 0 {
				m.Points[r.IntN(len(m.Points))].E += 4 * r.Float64()
			} else {
				n := len(m.Points)
				m.Points = append(m.Points, Point{20 * r.Float64(), 20 * r.Float64(), 0}, Point{20 * r.Float64(), 20 * r.Float64(), 0}, Point{20 * r.Float64(), 20 * r.Float64(), 0})
				m.Faces = append(m.Faces, [3]int{n, n + 1, n + 2})
			}
		}
		s, l := FromMesh(m)
		spoken(t, l)
		if s == nil {
			continue
		}
		over := false
		for f := range s.faces {
			for h := range f {
				over = over || s.overlap(int32(f), int32(h))
			}
		}
		if over != s.Overlaps() {
			t.Fatalf("seed %d: overlaps %v, by every pair %v", seed, s.Overlaps(), over)
		}
		if over {
			heaps++
		} else {
			tidy++
		}
	}
	if tidy < 1000 || heaps < 500 {
		t.Errorf("%d tidy, %d heaps", tidy, heaps)
	}
}

// An upright step in a mesh stands in the section with both of its levels.
func TestSectionOverAStep(t *testing.T) {
	s, l := FromMesh(Mesh{
		Points: []Point{{0, 0, 1}, {5, 0, 1}, {5, 10, 1}, {0, 10, 1}, {5, 0, 3}, {10, 0, 3}, {10, 10, 3}, {5, 10, 3}},
		Faces:  [][3]int{{0, 1, 2}, {0, 2, 3}, {4, 5, 6}, {4, 6, 7}},
	})
	if len(l) > 0 {
		t.Error(texts(l))
	}
	got := straightened(s.Section([]route.Point{{E: -1, N: 5}, {E: 11, N: 5}}).Stretches)
	if len(got) != 1 || len(got[0]) != 4 || got[0][1] != (Cut{6, 1}) || got[0][2] != (Cut{6, 3}) || got[0][3] != (Cut{11, 3}) {
		t.Errorf("got %v", got)
	}
}
