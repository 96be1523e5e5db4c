package ground

import (
	"crypto/sha256"
	"encoding/hex"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/place/route"
)

// Within reach of the line a clip is the surface itself: same level and slope, to the bit; and it keeps exactly the faces
// that a slow look at all of them keeps.
func TestClip(t *testing.T) {
	kept, left := 0, 0
	for seed := range uint64(300) {
		r := rand.New(rand.NewPCG(seed, 13))
		g := patchy(r)
		if g == nil {
			continue
		}
		at := func() route.Point { return route.Point{E: 24*r.Float64() - 2, N: 24*r.Float64() - 2} }
		line := []route.Point{at(), at(), at()}[:1+r.IntN(3)]
		reach := 4 * r.Float64()
		c := g.Clip(line, reach)
		want := map[[3]Point]bool{}
		for f := range g.faces {
			if distanceSlowly(g.Corners(f), line) <= reach {
				want[g.Corners(f)] = true
			}
		}
		if c == nil {
			if len(want) > 0 {
				t.Fatalf("seed %d: nothing is kept of %d faces", seed, len(want))
			}
			continue
		}
		for f := range c.faces {
			if !want[c.Corners(f)] {
				t.Fatalf("seed %d: face %v is kept", seed, c.Corners(f))
			}
		}
		if len(c.faces) != len(want) {
			t.Fatalf("seed %d: %d faces are kept, not %d", seed, len(c.faces), len(want))
		}
		kept, left = kept+len(c.faces), left+len(g.faces)-len(c.faces)
		for i := 1; i < len(line); i++ {
			if a, b := g.Section(line), c.Section(line); math.Abs(a.Ground()-b.Ground()) > 1e-9 {
				t.Fatalf("seed %d: the section has %v of ground, the clip's %v", seed, a.Ground(), b.Ground())
			}
		}
		for range 50 {
			p := line[0].Plus(route.Vector{E: 1, N: 0}.Turned(6 * r.Float64()).Times(reach * r.Float64()))
			a, ok := g.At(p)
			b, too := c.At(p)
			a.Face, b.Face = 0, 0
			if ok != too || a.Z != b.Z {
				t.Fatalf("seed %d: at %v %v %v, in the clip %v %v", seed, p, a, ok, b, too)
			}
		}
	}
	if kept < 1000 || left < 1000 {
		t.Errorf("%d kept, %d left", kept, left)
	}
}

// distanceSlowly is how far a line lies from a triangle, by many points on its edges and by asking for points inside.
func distanceSlowly(c [3]Point, line []route.Point) float64 {
	least := math.Inf(1)
	for i := range line {
		a, b := line[i], line[min(i+1, len(line)-1)]
		if twiceArea(c[0], c[1], a) >= 0 && twiceArea(c[1], c[2], a) >= 0 && twiceArea(c[2], c[0], a) >= 0 {
			return 0
		}
		for k := range 3 {
			p, q := c[k].Plan(), c[(k+1)%3].Plan()
			least = min(least, segments(a, b, p, q))
		}
	}
	return least
}

func twiceArea(a, b Point, p route.Point) float64 {
	return (b.E-a.E)*(p.N-a.N) - (b.N-a.N)*(p.E-a.E)
}

// segments is the distance of two straights: the least of a quadratic over a square, by hand.
func segments(a, b, p, q route.Point) float64 {
	least := math.Inf(1)
	foot := func(x, a, b route.Point) {
		w := b.Minus(a)
		k := 0.0
		if s := w.Dot(w); s > 0 {
			k = min(1, max(0, x.Minus(a).Dot(w)/s))
		}
		least = min(least, x.Distance(a.Plus(w.Times(k))))
	}
	foot(a, p, q)
	foot(b, p, q)
	foot(p, a, b)
	foot(q, a, b)
	u, v, w := b.Minus(a), q.Minus(p), p.Minus(a)
	if d := u.E*v.N - u.N*v.E; d != 0 {
		s, k := (w.E*v.N-w.N*v.E)/d, (w.E*u.N-w.N*u.E)/d
		if s >= 0 && s <= 1 && k >= 0 && k <= 1 {
			return 0
		}
	}
	return least
}

// A surface comes back from its bytes, and the bytes do not depend on the order in which it was made.
func TestBytesThereAndBack(t *testing.T) {
	for seed := range uint64(300) {
		r := rand.New(rand.NewPCG(seed, 17))
		g := patchy(r)
		if g == nil {
			continue
		}
		g.Name, g.Role, g.Origin = "Bestand ½", Existing, route.Origin{E: 500_000 * measure.Metre, N: -4_000_000 * measure.Metre}
		b := g.Encode()
		back, err := Decode(b)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if string(back.Encode()) != string(b) {
			t.Fatalf("seed %d: other bytes", seed)
		}
		if back.Name != g.Name || back.Role != g.Role || back.Origin != g.Origin || back.tidy != g.tidy {
			t.Fatalf("seed %d: came back as %q %q %v", seed, back.Name, back.Role, back.Origin)
		}
		a, c := g.Measures(), back.Measures()
		c.Points = a.Points
		if math.Abs(a.Area2D-c.Area2D) > 1e-9 || math.Abs(a.Area3D-c.Area3D) > 1e-9 || a.Faces != c.Faces {
			t.Fatalf("seed %d: %+v came back as %+v", seed, a, c)
		}
		m := Mesh{Source: Source{Name: g.Name, Origin: g.Origin}, Role: g.Role} // the same faces, stirred
		for _, f := range r.Perm(len(g.faces)) {
			p := g.Corners(f)
			n := len(m.Points)
			m.Points = append(m.Points, p[:]...)
			k := r.IntN(3)
			m.Faces = append(m.Faces, [3]int{n + k, n + (k+2)%3, n + (k+1)%3})
		}
		stirred, _ := FromMesh(m)
		if string(stirred.Encode()) != string(b) {
			t.Fatalf("seed %d: the order of its faces shows in its bytes", seed)
		}
	}
}

// These bytes are what version 1 is, on every machine; a change of them is a new version.
func TestBytesStay(t *testing.T) {
	g := mustTriangulate(t, Survey{Source: Source{Name: "yard"}, Role: Finished, Points: []Point{{0, 0, 10.5}, {12.25, 0.001, 10.25}, {12, 9.5, -1}, {0.000000001, 8, 3}, {6, 4, 10}}, SpikeSlope: 9})
	b := g.Encode()
	const want = "23591d0da923ac1a3690518bf777f7daf01f6d6253a259b99c170b0ec318ce73"
	sum := sha256.Sum256(b)
	if got := hex.EncodeToString(sum[:]); got != want {
		t.Errorf("%d bytes %x have the sum %s", len(b), b, got)
	}
}

func TestDecodeRefuses(t *testing.T) {
	g := mustTriangulate(t, Survey{Points: append(square(10), Point{5, 5, 1})})
	good := g.Encode()
	body := good[:len(good)-sha256.Size]
	for _, c := range []struct {
		name, want string
		b          []byte
	}{
		{"nothing", "do not begin with twground", nil},
		{"another file", "do not begin with twground", []byte(strings.Repeat("PK\x03\x04", 40))},
		{"a later version", "version 2", append([]byte(magic+"\x02"), good[9:]...)},
		{"cut short", "changed or cut short", good[:len(good)-1]},
		{"changed", "changed or cut short", append(append([]byte{}, good[:20]...), append([]byte{good[20] ^ 1}, good[21:]...)...)},
		{"longer", "stand behind its faces", signed(append(append([]byte{}, body...), 0))},
		{"shorter", "broken", signed(body[:len(body)-1])},
		{"a bomb", "greater than it can be", signed(append([]byte(magic+"\x01\x00\x00\x00\x00"), 0xff, 0xff, 0xff, 0xff, 0x07))},
		{"no points", "it has no faces", signed([]byte(magic + "\x01\x00\x00\x00\x00\x00\x00"))},
		{"a number too long", "longer than it needs to be", signed([]byte(magic + "\x01\x80\x00\x00\x00\x00\x00\x00"))},
	} {
		s, err := Decode(c.b)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, %v", c.name, s, err)
		}
	}
}

func signed(body []byte) []byte {
	sum := sha256.Sum256(body)
	return append(append([]byte{}, body...), sum[:]...)
}

// What is read is what would be written: no other bytes stand for the same ground.
func FuzzDecode(f *testing.F) {
	for seed := range uint64(6) {
		if g := patchy(rand.New(rand.NewPCG(seed, 17))); g != nil {
			b := g.Encode()
			f.Add(b[:len(b)-sha256.Size])
		}
	}
	f.Add([]byte(magic + "\x01\x00\x00\x00\x00\x03\x00\x00\x00\x02\x02\x02\x02\x00\x00\x01\x00\x01\x02"))
	f.Fuzz(func(t *testing.T, body []byte) {
		s, err := Decode(signed(body))
		if err != nil {
			return
		}
		if string(s.Encode()) != string(signed(body)) {
			t.Errorf("%x is written as %x", body, s.Encode())
		}
		m := s.Measures()
		s.At(m.Min)
		s.Section([]route.Point{m.Min, m.Max, {E: m.Max.E, N: m.Min.N}})
		if again, err := Decode(s.Encode()); err != nil || !reflect.DeepEqual(again.measures, s.measures) {
			t.Errorf("read again: %v", err)
		}
	})
}
