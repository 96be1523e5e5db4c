package ground

import (
	"encoding/binary"
	"math"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/place/route"
)

// points makes points of bytes: mostly small whole numbers, so that much coincides, crosses and lies on one line; some far
// apart, some a nanometre beside, some no numbers.
func points(b []byte) []Point {
	var out []Point
	for ; len(b) >= 4; b = b[4:] {
		p := Point{float64(b[0] % 16), float64(b[1] % 16), float64(b[2] % 4)}
		switch b[3] {
		case 1:
			p.E += 1e-9
		case 2:
			p.E, p.N = p.E*1e6, p.N*1e6
		case 3:
			p.N = math.NaN()
		case 4:
			p.Z = math.Inf(1)
		case 5:
			p.E /= 3
			p.N /= 7
		}
		out = append(out, p)
	}
	return out
}

// Whatever comes in, nothing breaks: there is a surface, or a fault that says why not.
func FuzzTriangulate(f *testing.F) {
	f.Add([]byte("0000p000p0p0pppp"), []byte("000p0p00"), uint8(3))
	f.Add([]byte{0, 0, 1, 0, 15, 0, 1, 0, 15, 15, 1, 0, 0, 15, 1, 0}, []byte{1, 1, 2, 5, 14, 14, 1, 5, 1, 14, 0, 5, 14, 1, 3, 5, 7, 2, 3, 5, 8, 14, 1, 5, 3, 14, 1, 5}, uint8(2))
	f.Add([]byte{0, 0, 1, 2, 15, 0, 1, 2, 15, 15, 1, 0, 0, 15, 1, 1}, []byte{1, 1, 2, 1, 14, 14, 1, 1, 1, 14, 0, 1, 14, 1, 3, 1}, uint8(5))
	f.Fuzz(func(t *testing.T, surveyed, strings []byte, per uint8) {
		if len(surveyed) > 400 || len(strings) > 400 {
			return
		}
		s := Survey{Points: points(surveyed)}
		for all := points(strings); len(all) > 0; {
			n := min(len(all), 2+int(per%7))
			s.Lines = append(s.Lines, Line{"line", all[:n]})
			all = all[n:]
		}
		if per > 128 {
			s.LongestEdge = float64(per - 128)
		}
		g, l := Triangulate(s)
		spoken(t, l)
		if g == nil {
			if !l.Any(finding.Fault) {
				t.Fatal("no surface and no fault")
			}
			return
		}
		asked(t, g)
		m := Mesh{Points: s.Points}
		for i := 0; i+2 < len(strings); i++ {
			m.Faces = append(m.Faces, [3]int{int(strings[i]) % 40, int(strings[i+1]) % 40, int(strings[i+2]) % 40})
		}
		if g, l = FromMesh(m); g != nil {
			asked(t, g)
		}
		spoken(t, l)
	})
}

// asked asks a surface for everything, and holds the answers together.
func asked(t *testing.T, g *Surface) {
	t.Helper()
	m := g.Measures()
	line := []route.Point{m.Min, m.Max, {E: m.Max.E, N: m.Min.N}, {E: m.Min.E, N: m.Max.N}, m.Min}
	s := g.Section(line)
	if ground := s.Ground(); !(ground <= s.Length*(1+1e-9)) {
		t.Fatalf("%v of ground along %v", ground, s.Length)
	}
	back, err := Decode(g.Encode())
	if err != nil {
		t.Fatal(err)
	}
	if a, b := g.Section(line).Ground(), back.Section(line).Ground(); math.Abs(a-b) > 1e-6*(1+a) {
		t.Fatalf("%v of ground, read back %v", a, b)
	}
	if v, l := g.ToPlane(m.Min, m.ZMin, 0, 0, nil); !g.Overlaps() && (len(l) > 0 || math.Abs(v.Common-m.Area2D) > 1e-6*(1+m.Area2D)) {
		t.Fatalf("%v, %v of %v m²", l, v.Common, m.Area2D)
	}
	if v, _ := Between(g, g, nil); !g.Overlaps() && (math.Abs(v.Common-m.Area2D) > 1e-6*(1+m.Area2D) || math.Abs(float64(v.Cut)) > 1e-6*(1+m.Area2D)) {
		t.Fatalf("against itself %+v of %v m²", v, m.Area2D)
	}
}

// The example that the fuzzer begins with is ground: one triangle.
func TestSeedOfTheFuzzerIsGround(t *testing.T) {
	b := []byte(magic + "\x01\x00\x00\x00\x00\x03\x00\x00\x00\x00\x04\x02\x02\x01\x02\x01\x00\x02\x01")
	s, err := Decode(signed(b))
	if err != nil || s.FaceCount() != 1 || s.Measures().ZMax != 2e-9 {
		t.Errorf("%v, %v", s, err)
	}
	if n, _ := binary.Uvarint(b[13:]); n != 3 {
		t.Errorf("%d points", n)
	}
}
