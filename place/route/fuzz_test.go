package route

import (
	"encoding/binary"
	"fmt"
	"math"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// feed deals out numbers from the fuzzer's bytes, bad ones among them.
type feed struct{ data []byte }

func (f *feed) byte() byte {
	if len(f.data) == 0 {
		return 0
	}
	b := f.data[0]
	f.data = f.data[1:]
	return b
}

func (f *feed) uint64() uint64 {
	var b [8]byte
	n := copy(b[:], f.data)
	f.data = f.data[n:]
	return binary.LittleEndian.Uint64(b[:])
}

// float is a likely coordinate, or anything at all.
func (f *feed) float() float64 {
	switch f.byte() % 8 {
	case 0:
		return math.Float64frombits(f.uint64())
	case 1:
		return []float64{0, math.NaN(), math.Inf(1), math.Inf(-1), 1e300, -1e300, Reach, -Reach, math.SmallestNonzeroFloat64, 1e-9}[f.byte()%10]
	default:
		return float64(int8(f.byte())) / float64(1+f.byte()%16)
	}
}

func (f *feed) length() measure.Length {
	switch f.byte() % 4 {
	case 0:
		return measure.Length(f.uint64())
	case 1:
		return []measure.Length{0, 1, -1, math.MaxInt64, math.MinInt64, 9e18}[f.byte()%6]
	default:
		return measure.Length(int8(f.byte())) * measure.Metre / 7
	}
}

func (f *feed) angle() measure.Angle { return measure.Angle(f.length()) }
func (f *feed) point() Point         { return Point{f.float(), f.float()} }

func (f *feed) vertices() []Vertex {
	out := make([]Vertex, f.byte()%10)
	for i := range out {
		out[i] = Vertex{f.point(), 0}
		if f.byte()%2 == 0 {
			out[i].Radius = f.float()
		}
	}
	return out
}

func (f *feed) element() Element {
	if f.byte()%2 == 0 {
		return Straight(f.point(), f.point())
	}
	return Arc(f.point(), f.point(), f.point(), f.byte()%2 == 0)
}

func sane(t *testing.T, what string, l Line) {
	t.Helper()
	var sum measure.Length
	for _, e := range l.Elements() {
		if !e.From.Usable() && e.From.Distance(Point{}) > 3*Reach || math.IsNaN(e.gridLength()) || e.Length < 0 || e.Start != sum {
			t.Fatalf("%s holds %+v", what, e)
		}
		sum += e.Length
	}
	if sum != l.Length() || sum < 0 {
		t.Fatalf("%s: %d and %d", what, sum, l.Length())
	}
}

// ask puts every question to a line.
func ask(t *testing.T, l Line, f *feed) {
	sane(t, "line", l)
	p := f.point()
	for _, foot := range append(l.Project(p), l.Nearest(p, f.length())...) {
		if foot.Chainage < 0 || foot.Chainage > l.Length() || foot.Distance < 0 {
			t.Fatalf("foot %+v on a line of %d", foot, l.Length())
		}
	}
	l.At(f.length()).Beside(f.float())
	l.Beside(f.length(), f.length())
	l.Stretches()
	l.Kinks(f.angle())
	for _, part := range l.Split(f.angle()) {
		sane(t, "part", part)
	}
	sane(t, "reversed", l.Reversed())
	if s, err := l.Scaled(f.float()); err == nil {
		sane(t, "scaled", s)
	}
	if o, err := l.Offset(f.length()); err == nil {
		sane(t, "offset", o)
		l.Meet(o)
	}
	if n := len(l.Points(f.length(), f.length(), 0.1+math.Abs(f.float()))); n > 10_001*len(l.Elements())+1 {
		t.Fatalf("%d points", n)
	}
	l.Start().Bearing()
	l.End().Bearing()
}

func FuzzLine(f *testing.F) {
	f.Add([]byte{4, 2, 10, 0, 2, 20, 0, 1, 2, 90, 0, 2, 20, 0, 0, 2, 3, 0, 2, 90, 0, 2, 99, 0, 1})
	f.Add([]byte{3, 1, 1, 1, 2, 1, 4, 1, 5})
	f.Add([]byte("a line of some kind, with points and radii in it"))
	f.Fuzz(func(t *testing.T, data []byte) {
		in := &feed{data}
		if l, err := Polyline(in.vertices()); err == nil {
			ask(t, l, in)
		} else if err.Error() == "" {
			t.Fatal("refused without a sentence")
		}
		elements := make([]Element, in.byte()%6)
		for i := range elements {
			elements[i] = in.element()
			if i > 0 && in.byte()%2 == 0 {
				elements[i].From = elements[i-1].To
			}
		}
		if l, err := Chain(elements, in.float()); err == nil {
			ask(t, l, in)
		}
		CloseOn(in.vertices(), in.point())
	})
}

func FuzzMeasures(f *testing.F) {
	f.Add([]byte{1, 3, 1, 3, 1, 3, 1, 3, 1, 3})
	f.Add([]byte{2, 90, 2, 9, 2, 4, 2, 4, 2, 4})
	f.Fuzz(func(t *testing.T, data []byte) {
		in := &feed{data}
		if m, err := JointFree(in.length(), in.length(), in.length(), in.angle()); err == nil && m < 0 {
			t.Fatalf("a zone of %d", m)
		}
		c := Corner{in.angle(), max(in.length(), 0)}
		for _, l := range []measure.Length{c.Outer(), c.SidesDiffer(), c.Face()} {
			if l > 9e18 {
				t.Fatalf("%+v: %d", c, l)
			}
		}
		c.SetBack(in.length())
		c.Across(in.length())
		if b := (Vector{in.float(), in.float()}).Bearing(); b < 0 || b >= 360*measure.Degree {
			t.Skip("no direction")
		}
		o := OriginNear(Coordinates{in.length() / 4, in.length() / 4})
		if o.E%measure.Metre != 0 || o.N%measure.Metre != 0 {
			t.Fatalf("origin %+v is no whole metre", o)
		}
		o.Coordinates(Point{in.float(), in.float()})
		_ = Drawn{As: DrawnAs(data), Apart: in.length()}.String()
	})
}

func FuzzBuild(f *testing.F) {
	f.Add([]byte{3, 1, 1, 2, 0, 0, 2, 0, 1, 2, 2, 40, 0, 2, 40, 0, 2, 0, 1, 1, 2, 0, 0})
	f.Add([]byte("nodes and legs of some kind, and what was drawn, and what the factor is"))
	f.Fuzz(func(t *testing.T, data []byte) {
		feed := &feed{data}
		in := Input{Smooth: feed.angle(), Width: feed.length(), Scale: Scale{1, feed.byte()%2 == 0}}
		if feed.byte()%4 == 0 {
			in.Scale.Factor = feed.float()
		}
		if feed.byte()%2 == 0 {
			in.Drawn = Drawn{As: []DrawnAs{OuterFace, InnerFace, TrenchEdge, BesideOf, "x"}[feed.byte()%5], Apart: feed.length(), Right: feed.byte()%2 == 0}
		}
		names := []string{"", "N0", "N1", "N2", "N3", "N4", "N5"}
		for i := range int(feed.byte() % 8) {
			n := NodeInput{ID: fmt.Sprint("N", i), At: feed.point()}
			if feed.byte()%8 == 0 {
				n.OnLeg = fmt.Sprint("L", feed.byte()%8)
			}
			in.Nodes = append(in.Nodes, n)
		}
		for i := range int(feed.byte() % 8) {
			l := LegInput{ID: fmt.Sprint("L", i), From: names[feed.byte()%7], To: names[feed.byte()%7]}
			if feed.byte()%4 == 0 {
				l.Via = feed.vertices()
			}
			in.Legs = append(in.Legs, l)
		}
		net, list := Build(in)
		if list.Any(finding.Fault) != (len(net.Legs) == 0) {
			t.Fatalf("%d legs and findings %+v", len(net.Legs), list)
		}
		for _, x := range list {
			if x.Text == "" || x.ID == "" || strings.Contains(x.Text, "%!") {
				t.Fatalf("a finding without a sentence: %+v", x)
			}
		}
		for _, l := range net.Legs {
			sane(t, "leg "+l.ID, l.Line)
			if a := l.Line.Start().At.Distance(net.Nodes[l.From].At); a > 3e-3 {
				t.Fatalf("leg %s begins %v m from its node", l.ID, a)
			}
			if a := l.Line.End().At.Distance(net.Nodes[l.To].At); a > 3e-3 {
				t.Fatalf("leg %s ends %v m from its node", l.ID, a)
			}
		}
	})
}

func FuzzWalk(f *testing.F) {
	f.Add("24.3 m\nright 90°\narc left 30 m radius 45°\nbearing S68-05-35W\n5'-6\"")
	f.Add("arc right 1e9 km radius 1e-9; \xff\xfe; left ¼")
	f.Fuzz(func(t *testing.T, text string) {
		w, faults := Walk(text, WalkStart{Unit: measure.UnitMetre})
		if len(faults) > 0 {
			return
		}
		l, err := Polyline(w.Vertices)
		if err != nil {
			return // a walk may turn back on itself, or stand still
		}
		sane(t, "walked line", l)
		if d := l.End().At.Distance(w.End.At); d > 1e-3 {
			t.Fatalf("the line ends %v m from the walk", d)
		}
	})
}
