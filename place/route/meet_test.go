package route

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"trenchwright/base/measure"
)

// Closed forms: a straight and a circle, two circles, and lines that run along each other.
func TestMeetClosedForms(t *testing.T) {
	road := mustPolyline(t, Vertex{At: Point{-50, 0}}, Vertex{At: Point{50, 0}})
	square := mustPolyline(t, Vertex{At: Point{10, -20}}, Vertex{At: Point{10, 20}})
	skew := mustPolyline(t, Vertex{At: Point{-20, -20}}, Vertex{At: Point{20, 20}})
	circle := mustChain(t, Arc(Point{-25, 0}, Point{25, 0}, Point{}, true)) // through north
	other := mustChain(t, Arc(Point{5, 0}, Point{55, 0}, Point{30, 0}, true))
	touch := mustPolyline(t, Vertex{At: Point{-50, 25}}, Vertex{At: Point{50, 25}})
	for _, c := range []struct {
		name string
		a, b Line
		want []Meeting
	}{
		{"square", road, square, []Meeting{{60 * measure.Metre, 20 * measure.Metre, Point{10, 0}, -90 * measure.Degree, 90 * measure.Degree}}},
		{"skew", road, skew, []Meeting{{50 * measure.Metre, measure.FromMetres(20 * math.Sqrt2), Point{0, 0}, -45 * measure.Degree, 45 * measure.Degree}}},
		{"skew, the other run back", road, skew.Reversed(), []Meeting{{50 * measure.Metre, measure.FromMetres(20 * math.Sqrt2), Point{0, 0}, 135 * measure.Degree, 45 * measure.Degree}}},
		// At (10, 22.913): the arc turns right from west to east, its direction there is 66.42° north of … square to the radius.
		{"straight and arc", square, circle, nil},
		{"arc that is touched", touch, circle, []Meeting{{50 * measure.Metre, measure.FromMetres(25 * math.Pi / 2), Point{0, 25}, 0, 0}}},
		{"two arcs", circle, other, []Meeting{{
			measure.FromMetres(25 * (math.Pi - math.Acos(15.0/25))), measure.FromMetres(25 * math.Acos(15.0/25)), Point{15, 20},
			measure.FromRadians(-2 * math.Asin(15.0/25)), measure.FromRadians(2 * math.Asin(15.0/25)),
		}}},
		{"beside", road, touch, nil},
		{"end to end", road, mustPolyline(t, Vertex{At: Point{50, 0}}, Vertex{At: Point{50, 30}}), []Meeting{{100 * measure.Metre, 0, Point{50, 0}, -90 * measure.Degree, 90 * measure.Degree}}},
		{"along", road, mustPolyline(t, Vertex{At: Point{0, 0}}, Vertex{At: Point{70, 0}}), []Meeting{
			{50 * measure.Metre, 0, Point{0, 0}, 0, 0}, {100 * measure.Metre, 50 * measure.Metre, Point{50, 0}, 0, 0},
		}},
	} {
		got := c.a.Meet(c.b)
		same := slices.EqualFunc(got, c.want, func(g, w Meeting) bool {
			return (g.Chainage-w.Chainage).Abs() <= 2 && (g.Other-w.Other).Abs() <= 2 && g.At.Distance(w.At) < 1e-9 &&
				absolute(g.Turn-w.Turn) <= 100 && absolute(g.Skew-w.Skew) <= 100
		})
		if c.name == "straight and arc" { // square ends at 20, below the arc at 22.913
			same = len(got) == 0
		}
		if !same {
			t.Errorf("%s: got %+v, want %+v", c.name, got, c.want)
		}
	}
}

func mustChain(t testing.TB, e ...Element) Line {
	t.Helper()
	l, err := Chain(e, 1e-6)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// Slow twin: both lines as short chords, each pair of chords tried. Chords that only touch are left out on both sides.
func TestMeetAgainstChords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDice(t)
		a, b := d.line(t), d.line(t)
		b = moved(b, a.At(d.length(a.Length())).At.Minus(b.At(d.length(b.Length())).At))
		const sagitta = 1e-5
		var twin []Meeting
		pa, pb := a.Points(0, a.Length(), sagitta), b.Points(0, b.Length(), sagitta)
		for i := 1; i < len(pa); i++ {
			for k := 1; k < len(pb); k++ {
				if p, skew, ok := chordsCross(pa[i-1], pa[i], pb[k-1], pb[k]); ok {
					twin = append(twin, Meeting{At: p, Skew: skew})
				}
			}
		}
		got := a.Meet(b)
		steep := func(m Meeting) bool { return m.Skew > 2*measure.Degree }
		near := func(all []Meeting, m Meeting) bool {
			return slices.ContainsFunc(all, func(o Meeting) bool { return o.At.Distance(m.At) < 1e-3 })
		}
		for _, m := range twin {
			if steep(m) && !near(got, m) {
				t.Fatalf("chords cross at %v, Meet has %+v", m.At, got)
			}
		}
		for _, m := range got {
			if steep(m) && !near(twin, m) && !nearAnEnd(m.At, a, b) {
				t.Fatalf("Meet has %+v, chords cross at %+v", m, twin)
			}
			if x, y := a.At(m.Chainage).At, b.At(m.Other).At; x.Distance(y) > 3e-6 {
				t.Fatalf("the two chainages of a meeting are %v m apart", x.Distance(y))
			}
		}
	})
}

func moved(l Line, by Vector) Line {
	e := l.Elements()
	for i := range e {
		e[i].From, e[i].To, e[i].Centre = e[i].From.Plus(by), e[i].To.Plus(by), e[i].Centre.Plus(by)
	}
	return newLine(e, l.scale)
}

func nearAnEnd(p Point, lines ...Line) bool {
	for _, l := range lines {
		for _, e := range l.elements {
			if p.Distance(e.From) < 1e-3 || p.Distance(e.To) < 1e-3 {
				return true
			}
		}
	}
	return false
}

func chordsCross(a, b, c, d Point) (Point, measure.Angle, bool) {
	u, v, w := b.Minus(a), d.Minus(c), c.Minus(a)
	det := u.E*v.N - u.N*v.E
	if det == 0 {
		return Point{}, 0, false
	}
	s, r := (w.E*v.N-w.N*v.E)/det, (w.E*u.N-w.N*u.E)/det
	sin := math.Abs(det) / (u.Length() * v.Length())
	return a.Plus(u.Times(s)), measure.FromRadians(math.Asin(min(sin, 1))), s >= 0 && s <= 1 && r >= 0 && r <= 1
}

// Layout notes §1: (path + 2·margin)/sin φ + W/tan φ.
func TestJointFree(t *testing.T) {
	const m = measure.Metre
	for _, c := range []struct {
		path, margin, width measure.Length
		skew                float64
		want                float64 // metres
	}{
		{4 * m, m / 2, 9 * m / 10, 90, 5},
		{4 * m, m / 2, 9 * m / 10, 30, 5/0.5 + 0.9*math.Sqrt(3)},
		{4 * m, m / 2, 9 * m / 10, 150, 5/0.5 + 0.9*math.Sqrt(3)},
		{4 * m, 0, m, 45, 4*math.Sqrt2 + 1},
	} {
		got, err := JointFree(c.path, c.margin, c.width, measure.FromDegrees(c.skew))
		if err != nil || math.Abs(got.Metres()-c.want) > 1e-8 {
			t.Errorf("%+v: got %v m, %v", c, got.Metres(), err)
		}
	}
	for _, skew := range []measure.Angle{0, 4 * measure.Degree, 176 * measure.Degree, math.MaxInt64} {
		if _, err := JointFree(m, m, m, skew); err == nil {
			t.Errorf("a crossing at %v° was taken", skew.Degrees())
		}
	}
	if _, err := JointFree(-1, 0, 0, 90*measure.Degree); err == nil {
		t.Error("a negative path was taken")
	}
}

// From its meaning: the run of width W is swept by a path at skew φ. The chainages at which either wall lies in the path
// span just the joint-free width.
func TestJointFreeFromItsMeaning(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDice(t)
		path, width, skew := d.within(0.5, 10), d.within(0.1, 2), d.within(6, 174)*math.Pi/180
		axis := Vector{1, 0}.Turned(skew)
		low, high := math.Inf(1), math.Inf(-1)
		for _, wall := range []float64{-width / 2, width / 2} {
			for _, edge := range []float64{-path / 2, path / 2} {
				// Where the wall N = wall meets the edge of the path.
				at := Point{}.Plus(axis.Right().Times(edge))
				e := at.E + (wall-at.N)*axis.E/axis.N
				low, high = min(low, e), max(high, e)
			}
		}
		got, err := JointFree(measure.FromMetres(path), 0, measure.FromMetres(width), measure.FromRadians(skew))
		if err != nil || math.Abs(got.Metres()-(high-low)) > 1e-7 {
			t.Fatalf("got %v m, the walls are swept over %v m: %v", got.Metres(), high-low, err)
		}
	})
}

func TestChainJoins(t *testing.T) {
	l := mustChain(t, Straight(Point{0, 0}, Point{0, 10}), Arc(Point{0, 10}, Point{5, 15}, Point{5, 10}, true), Straight(Point{5, 15}, Point{20, 15}))
	if got, want := l.Length(), measure.FromMetres(10+5*math.Pi/2+15); (got - want).Abs() > 1 {
		t.Errorf("length %v, want %v", got, want)
	}
	if k := l.Kinks(Smooth / 1000); len(k) != 0 {
		t.Errorf("kinks %v", k)
	}
	// Rounded coordinates: a step of 0.4 mm closes when a millimetre may be closed, and is refused when not.
	parts := []Element{Straight(Point{0, 0}, Point{0, 10}), Straight(Point{0.0004, 10}, Point{0, 20})}
	l, err := Chain(parts, 1e-3)
	if err != nil || l.elements[1].From != (Point{0, 10}) {
		t.Errorf("a step of 0.4 mm: %v %v", l, err)
	}
	if _, err = Chain(parts, 1e-4); err == nil || err.Error() != "element 2 begins 0.400 mm from the end of element 1" {
		t.Errorf("got %v", err)
	}
	for name, bad := range map[string]Element{
		"element 1 is an arc without length":                                                                 Arc(Point{1, 0}, Point{1, -1e-8}, Point{}, true),
		"element 1: the ends of the arc lie 1.000 m off its radius of 1.000 m":                               Arc(Point{1, 0}, Point{0, 2}, Point{}, true),
		"element 1 is no arc that can be drawn: radius 1 m, turn 360.000°; try: two arcs for a full circle":  Arc(Point{1, 0}, Point{1, 0}, Point{}, true),
		"element 1 from (NaN, 0) to (0, 1) is not within 10000 km of the origin":                             Straight(Point{math.NaN(), 0}, Point{0, 1}),
		"element 1 is no arc that can be drawn: radius +Inf m, turn 0.000°; try: two arcs for a full circle": {Point{}, Point{1, 1}, Point{}, math.Inf(1), 0, 0, 0},
		"element 1 is a straight without length":                                                             Straight(Point{1, 1}, Point{1, 1}),
	} {
		if _, err := Chain([]Element{bad}, 1e-3); err == nil || err.Error() != name {
			t.Errorf("got %v, want %s", err, name)
		}
	}
	if _, err := Chain(nil, 0); err == nil {
		t.Error("a line of nothing was made")
	}
}

// The arc after a small step passes through both its ends, and turns as much as it was told to.
func TestChainSettlesArcs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDice(t)
		r, turn, right := d.within(1, 500), d.within(0.1, 340)*math.Pi/180, d.IntN(2) == 0
		sign := map[bool]float64{true: 1, false: -1}[right]
		c := Point{d.within(-1e5, 1e5), d.within(-1e5, 1e5)}
		arm := Vector{0, r}.Turned(d.within(0, 6))
		e := Arc(c.Plus(arm), c.Plus(arm.Turned(sign*turn)), c, right)
		if math.Abs(e.Sweep-turn) > 1e-6 || math.Abs(math.Abs(e.Radius)-r) > 1e-6 {
			t.Fatalf("arc turns %v, want %v", e.Sweep, turn)
		}
		by := Vector{d.within(-5e-4, 5e-4), d.within(-5e-4, 5e-4)}
		l, err := Chain([]Element{Straight(e.From.Plus(e.first().Along.Times(-5)), e.From.Plus(by)), e}, 1e-3)
		if err != nil {
			t.Fatal(err)
		}
		got := l.elements[1]
		if got.From != e.From.Plus(by) || got.To != e.To || math.Abs(got.Sweep-turn) > 1e-6 {
			t.Fatalf("settled %+v", got)
		}
		if m := math.Max(math.Abs(got.From.Distance(got.Centre)-math.Abs(got.Radius)), math.Abs(got.To.Distance(got.Centre)-math.Abs(got.Radius))); m > 1e-7 {
			t.Fatalf("settled arc misses its ends by %v m", m)
		}
	})
}

// An arc known by its first direction and its end is the arc it was taken from.
func TestArcFrom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDice(t)
		r, turn := d.within(-500, 500), d.within(0.01, 340)*math.Pi/180
		from, along := Point{d.within(-1e5, 1e5), d.within(-1e5, 1e5)}, Towards(measure.FromDegrees(d.within(0, 360)))
		want := tangentArc(from, along, math.Abs(r), math.Copysign(turn, r))
		got := ArcFrom(from, along, want.To)
		if math.Abs(got.Sweep-want.Sweep) > 1e-6 || math.Abs(got.Radius-want.Radius) > 1e-6*math.Abs(r)+1e-6 || got.Centre.Distance(want.Centre) > 1e-6*math.Abs(r)+1e-6 {
			t.Fatalf("got %+v, want %+v", got, want)
		}
	})
	if e := ArcFrom(Point{}, Vector{0, 1}, Point{1e-9, 100}); e.Radius != 0 {
		t.Errorf("an arc of a billion metres: %+v", e)
	}
}
