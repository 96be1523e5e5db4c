package route

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// A line drawn again from its vertices is the same line, and so is one built from its declaration.
func TestDeclaredLineIsTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDice(t)
		v := d.vertices()
		l, err := Polyline(v)
		if err != nil {
			t.Fatal(err)
		}
		again, off, err := l.Vertices()
		if err != nil || off > 10 {
			t.Fatalf("%d nm off, %v", off, err)
		}
		drawn, err := Polyline(again)
		if err != nil || (drawn.Length()-l.Length()).Abs() > 100 {
			t.Fatalf("%v long, %v: %v", drawn.Length(), l.Length(), err)
		}
		in, off, err := Declare(l, "N", Smooth)
		if err != nil || off > 10 {
			t.Fatalf("%d nm off, %v", off, err)
		}
		in.Scale = ground
		n, list := Build(in)
		if list.Any(finding.Fault) {
			t.Fatalf("%+v", list)
		}
		if (n.Length()-l.Length()).Abs() > 100 || len(n.Legs) != len(l.Split(Smooth)) {
			t.Fatalf("%d legs of %v, want %d of %v", len(n.Legs), n.Length(), len(l.Split(Smooth)), l.Length())
		}
	})
}

// Great arcs come back whole, and arcs whose rounded ends do not quite touch tangentially still fit.
func TestVerticesOfArcs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDice(t)
		var elements []Element
		pose := Pose{Point{d.within(-1e4, 1e4), d.within(-1e4, 1e4)}, Towards(measure.FromDegrees(d.within(0, 360)))}
		for range 1 + d.IntN(6) {
			e := tangentArc(pose.At, pose.Along, d.within(5, 50), math.Copysign(d.within(1, 340), d.within(-1, 1))*math.Pi/180)
			pose = e.last()
			e.From, e.To = toMicrons(e.From), toMicrons(e.To)
			elements = append(elements, e)
		}
		l, err := Chain(elements, 1e-4)
		if err != nil {
			t.Fatal(err)
		}
		again, off, err := l.Vertices()
		if err != nil || off > 50*measure.Micrometre {
			t.Fatalf("%v off: %v", off, err)
		}
		drawn, err := Polyline(again)
		if err != nil || (drawn.Length()-l.Length()).Abs() > 100*measure.Micrometre {
			t.Fatalf("%v long, %v: %v", drawn.Length(), l.Length(), err)
		}
		if k := drawn.Kinks(Smooth); len(k) > 0 {
			t.Fatalf("arcs that touch leave kinks: %+v", k)
		}
	})
}

func toMicrons(p Point) Point { return Point{math.Round(p.E*1e6) / 1e6, math.Round(p.N*1e6) / 1e6} }

func TestDeclareClosedLine(t *testing.T) {
	l := mustPolyline(t, Vertex{At: Point{0, 0}}, Vertex{At: Point{0, 40}}, Vertex{At: Point{40, 40}, Radius: 5}, Vertex{At: Point{40, 0}}, Vertex{At: Point{0, 0}})
	in, _, err := Declare(l, "K", Smooth)
	if err != nil {
		t.Fatal(err)
	}
	in.Scale = ground
	n := mustBuild(t, in)
	if len(n.Nodes) != 3 || len(n.Legs) != 3 || n.Legs[2].ID != "C" || n.Nodes[n.Legs[2].To].ID != "K1" {
		t.Errorf("%d nodes, %d legs: %+v", len(n.Nodes), len(n.Legs), in)
	}
	for _, v := range n.Nodes {
		if v.Kind != Turn {
			t.Errorf("node %s is a %s", v.ID, v.Kind)
		}
	}
	if LegName(0)+LegName(25)+LegName(26)+LegName(701)+LegName(702) != "AZAAZZAAA" {
		t.Error("letters do not count")
	}
}

// A road across two legs: chainage and skew on each.
func TestNetworkMeetsALine(t *testing.T) {
	n := mustBuild(t, run(t, "node N1 0 0\nnode N2 0 40\nnode N3 60 40\nleg A N1 N2\nleg B N2 N3"))
	road := mustPolyline(t, Vertex{At: Point{-10, 0}}, Vertex{At: Point{90, 100}})
	got := n.Meet(road)
	if len(got) != 2 || got[0].Leg != 0 || got[0].Chainage != 10*measure.Metre || got[0].Skew != 45*measure.Degree ||
		got[1].Leg != 1 || got[1].Chainage != 30*measure.Metre || got[1].Turn != -45*measure.Degree {
		t.Errorf("got %+v", got)
	}
}
