package scene

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func points(t *rapid.T, label string, n int) []Point {
	ps := make([]Point, n)
	for i := range ps {
		ps[i] = Point{rapid.Float64Range(-100, 100).Draw(t, label), rapid.Float64Range(-100, 100).Draw(t, label)}
	}
	return ps
}

func transform(t *rapid.T, label string) Transform {
	return Stretch(rapid.Float64Range(-3, 3).Draw(t, label), rapid.Float64Range(-3, 3).Draw(t, label)).
		Then(Turn(rapid.Float64Range(-400, 400).Draw(t, label))).
		Then(Shift(rapid.Float64Range(-50, 50).Draw(t, label), 7))
}

func near(a, b Point) bool { return a.Sub(b).Length() < 1e-6 }

func TestThenDoesOneAfterTheOther(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, p := transform(t, "a"), transform(t, "b"), points(t, "p", 1)[0]
		if got, want := a.Then(b).Apply(p), b.Apply(a.Apply(p)); !near(got, want) {
			t.Fatalf("together %v, one after the other %v", got, want)
		}
	})
}

func TestTheZeroTransformChangesNothing(t *testing.T) {
	p, u := Point{3, 4}, Turn(30).Then(Shift(1, 2))
	if got := (Transform{}).Apply(p); got != p {
		t.Errorf("%v became %v", p, got)
	}
	if got := (Transform{}).Then(u); got != u {
		t.Errorf("zero then %v is %v", u, got)
	}
	if got := u.Then(Transform{}); got != u {
		t.Errorf("%v then zero is %v", u, got)
	}
}

func TestAnglesRunCounterClockwiseOnThePage(t *testing.T) {
	if got := Direction(90); got != (Point{0, -1}) {
		t.Errorf("90° points to %v, want up the page", got)
	}
	if got := (Point{1, 0}).Left(); got != (Point{0, -1}) {
		t.Errorf("left of the way to the right is %v, want up the page", got)
	}
	if got := Turn(90).Apply(Point{1, 0}); got != (Point{0, -1}) {
		t.Errorf("turned by 90°, right becomes %v, want up the page", got)
	}
	for a := -180.0; a < 180; a += 7.5 {
		if got := Direction(a).Angle(); math.Abs(got-a) > 1e-9 && math.Abs(got-a) < 359 {
			t.Errorf("the direction of %v° has the angle %v°", a, got)
		}
	}
}

func TestUprightIsReadable(t *testing.T) {
	for angle, want := range map[float64]float64{0: 0, 90: 90, -90: 90, 91: -89, 180: 0, 270: 90, -135: 45, 720: 0} {
		if got := Upright(angle); got != want {
			t.Errorf("Upright(%v) = %v, want %v", angle, got, want)
		}
	}
}

// Two circles of known radius: the curves leave them by less than arcPiece promises.
func TestArcsStayOnTheirCircle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.Float64Range(0.1, 1e4).Draw(t, "radius")
		start, sweep := rapid.Float64Range(-400, 400).Draw(t, "start"), rapid.Float64Range(-360, 360).Draw(t, "sweep")
		var o Outline
		o.Arc(Point{5, 6}, r, start, sweep)
		if end := Direction(start + sweep).Times(r).Add(Point{5, 6}); o[len(o)-1].To.Sub(end).Length() > r*1e-9 {
			t.Fatalf("the arc ends at %v, want %v", o[len(o)-1].To, end)
		}
		from := o[0].To
		for _, s := range o[1:] {
			for k := range 11 {
				p := curvePoint(from, s, float64(k)/10)
				if off := math.Abs(p.Sub(Point{5, 6}).Length() - r); off > 7e-8*r {
					t.Fatalf("%v mm off a circle of %v mm", off, r)
				}
			}
			from = s.To
		}
	})
}

func TestFlatKeepsItsTolerance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := points(t, "p", 4)
		var o Outline
		o.Move(p[0])
		o.Curve(p[1], p[2], p[3])
		const tolerance = 0.05
		flat := o.Flat(tolerance)[0].Points
		for k := range 201 {
			at := curvePoint(p[0], o[1], float64(k)/200)
			best := math.Inf(1)
			for i := 1; i < len(flat); i++ {
				best = math.Min(best, segmentDistance(at, flat[i-1], flat[i]))
			}
			if best > tolerance {
				t.Fatalf("the curve leaves its %d pieces by %v mm", len(flat)-1, best)
			}
		}
	})
}

func TestAHoleIsAHoleWhicheverWayItRuns(t *testing.T) {
	outer := Rectangle(Box{0, 0, 10, 10})
	ring := Circle(Point{5, 5}, 2)
	for name, hole := range map[string]Outline{"one way": ring, "other way": ring.reversed()} {
		o := outer.Without(hole).Flat(0.01)
		if inside(o, Point{5, 5}) || !inside(o, Point{1, 1}) || inside(o, Point{11, 5}) {
			t.Errorf("%s: the hole is not a hole", name)
		}
	}
	if a, b := ring.area(), ring.reversed().area(); math.Abs(a+b) > 1e-9 {
		t.Errorf("a ring has the area %v, the other way %v", a, b)
	}
}

func TestFlatParts(t *testing.T) {
	var o Outline
	o.Move(Point{0, 0})
	o.Line(Point{1, 0})
	o.Close()
	o.Line(Point{0, 5}) // goes on from the start of the closed contour
	o.Move(Point{9, 9})
	got := o.Flat(0.1)
	if len(got) != 3 || !got[0].Closed || got[1].Closed || got[1].Points[0] != (Point{0, 0}) || len(got[2].Points) != 1 {
		t.Errorf("got %v", got)
	}
	if got := Circle(Point{}, 1).Flat(0.1); len(got) != 1 {
		t.Errorf("a circle has %d contours", len(got))
	}
}
