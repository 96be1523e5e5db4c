package route

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"trenchwright/base/measure"
)

// dice are evenly spread numbers from one seed that the property test draws and prints: rapid's own floats keep close to
// nought, where a winding line is nearly straight.
type dice struct{ *rand.Rand }

func drawDice(t *rapid.T) dice {
	return dice{rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))}
}

func (d dice) within(from, to float64) float64 { return from + d.Float64()*(to-from) }

func (d dice) length(to measure.Length) measure.Length {
	return measure.Length(d.Int64N(int64(to) + 1))
}

// vertices make a winding polyline whose arcs fit: sides of 20 to 60 m, turns of up to 100°, radii of 0.5 to 8 m.
func (d dice) vertices() []Vertex {
	at, heading := Point{d.within(-1e5, 1e5), d.within(-1e5, 1e5)}, d.within(-180, 180)
	out := []Vertex{{At: at}}
	n := 1 + d.IntN(8)
	for i := range n {
		at = at.Plus(Towards(measure.FromDegrees(heading)).Times(d.within(20, 60)))
		v := Vertex{At: at}
		if i < n-1 && d.IntN(2) == 0 {
			v.Radius = d.within(0.5, 8)
		}
		out = append(out, v)
		heading += d.within(-100, 100)
		if d.IntN(10) == 0 {
			heading = math.Round(heading/90) * 90
		}
	}
	return out
}

func (d dice) line(t *rapid.T) Line {
	l, err := Polyline(d.vertices())
	if err != nil {
		t.Fatal(err)
	}
	if d.IntN(2) == 0 {
		if l, err = l.Scaled(d.within(0.999, 1.001)); err != nil {
			t.Fatal(err)
		}
	}
	return l
}

// The zero value is a line of no length that every question has an answer to.
func TestZeroLine(t *testing.T) {
	var l Line
	if l.Length() != 0 || l.Project(Point{1, 2}) != nil || l.Stretches() != nil || l.At(5) != (Pose{}) || l.Points(0, 1, 1) != nil ||
		l.Meet(l) != nil || l.Kinks(0) != nil || l.Split(0) != nil || l.Reversed().Length() != 0 || l.Scale() != 1 {
		t.Error("the zero line is not empty")
	}
	if o, err := l.Offset(measure.Metre); err != nil || o.Length() != 0 {
		t.Error("the zero line has a parallel")
	}
}

// Starts and lengths add up to the nanometre, and the whole is the sum of the true lengths rounded once.
func TestLengthsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDice(t)
		l := d.line(t)
		var sum, stretches measure.Length
		true64 := 0.0
		for _, e := range l.Elements() {
			if e.Start != sum {
				t.Fatalf("element starts at %d, the ones before end at %d", e.Start, sum)
			}
			sum += e.Length
			true64 += e.gridLength()
		}
		for _, s := range l.Stretches() {
			if s.From != stretches {
				t.Fatal("stretches leave a hole")
			}
			stretches = s.To
		}
		if sum != l.Length() || stretches != sum {
			t.Fatalf("elements %d, stretches %d, line %d", sum, stretches, l.Length())
		}
		if off := l.Length() - measure.FromMetres(true64/l.Scale()); off.Abs() > 2 {
			t.Fatalf("length %d nm off", off)
		}
	})
}

// The joints of 100 000 sides of a third of a metre are where the sum of thirds is, to the nanometre.
func TestLongLineDoesNotDrift(t *testing.T) {
	const n = 100_000
	v := make([]Vertex, n+1)
	for i := range v {
		v[i].At = Point{float64(i) / 3, 0}
	}
	l := mustPolyline(t, v...)
	for _, e := range l.Elements() {
		if want := measure.FromMetres(e.To.E); (e.End() - want).Abs() > 1 {
			t.Fatalf("joint at %d, want %d", e.End(), want)
		}
	}
}

// Neighbours share their end, arcs of a rounded vertex leave no kink, and the line is where its points say.
func TestLineHangsTogether(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := drawDice(t).vertices()
		for i := 1; i < len(v)-1; i++ {
			if v[i].Radius == 0 {
				v[i].Radius = 1
			}
		}
		l, err := Polyline(v)
		if err != nil {
			t.Fatal(err)
		}
		// A turn whose arc would be shorter than 10 µm stays: at most 10 µm / 0.5 m = 2e-5 rad.
		if k := l.Kinks(measure.Degree / 800); len(k) > 0 {
			t.Fatalf("kinks on a rounded line: %+v", k)
		}
		for i, e := range l.elements {
			if i > 0 && l.elements[i-1].To != e.From {
				t.Fatal("a step in the line")
			}
			if d := e.at(e.gridLength()).At.Distance(e.To); d > 1e-9 {
				t.Fatalf("%s ends %v m from its end", e, d)
			}
		}
	})
}

// What lies at a chainage and an offset projects back to them: always one of the feet, to a few nanometres.
func TestProjectFindsWhatBesidePlaced(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDice(t)
		l := d.line(t)
		ch := d.length(l.Length())
		off := measure.FromMillimetres(d.within(-400, 400)) // less than the least radius
		const near = 50 * measure.Nanometre
		p := l.Beside(ch, off)
		for _, f := range l.Project(p) {
			if f.Kind == OnLine && (f.Chainage-ch).Abs() < near && (f.Offset-off).Abs() < near {
				return
			}
		}
		// At a kink, a point inside the corner is nearer to the other side: only there the foot may be missing.
		for _, k := range l.Kinks(0) {
			if (k.Chainage - ch).Abs() < near {
				return
			}
		}
		t.Fatalf("placed at %d, %d; feet %+v", ch, off, l.Project(p))
	})
}

// Slow twin: the distance sampled every 5 mm has a least value where Project has a foot, and nowhere else.
func TestProjectAgainstDenseSampling(t *testing.T) {
	const step = 5 * measure.Millimetre
	rapid.Check(t, func(t *rapid.T) {
		dice := drawDice(t)
		v := dice.vertices()
		v = v[:min(len(v), 5)]
		v[len(v)-1].Radius = 0
		l, err := Polyline(v)
		if err != nil {
			t.Fatal(err)
		}
		p := l.At(dice.length(l.Length())).Beside(dice.within(-30, 30))
		var least []measure.Length
		n := int(l.Length()/step) + 1
		d := make([]float64, n+1)
		at := func(i int) measure.Length { return min(measure.Length(i)*step, l.Length()) }
		for i := range d {
			d[i] = l.At(at(i)).At.Distance(p)
		}
		for i := range d {
			if (i == 0 || d[i] < d[i-1]) && (i == n || d[i] <= d[i+1]) {
				least = append(least, at(i))
			}
		}
		feet := l.Project(p)
		for _, f := range feet {
			if f.Kind == RoundArc {
				return
			}
			if !anyNear(least, f.Chainage, 2*step) && !shallow(l, p, f.Chainage, step) {
				t.Fatalf("foot at %v m, sampled least distances at %v", f.Chainage.Metres(), least)
			}
		}
		for _, ch := range least {
			found := shallow(l, p, ch, step)
			for _, f := range feet {
				found = found || (f.Chainage-ch).Abs() <= 2*step
			}
			if !found {
				t.Fatalf("distance is least near %v m, feet %+v", ch.Metres(), feet)
			}
		}
	})
}

func anyNear(all []measure.Length, ch, within measure.Length) bool {
	for _, a := range all {
		if (a - ch).Abs() <= within {
			return true
		}
	}
	return false
}

// shallow: sampling cannot tell, because the distance changes so little around ch (p near the centre of an arc, or two
// feet that merge), or because a kink lies within a step or two.
func shallow(l Line, p Point, ch, step measure.Length) bool {
	for _, k := range l.Kinks(0) {
		if (k.Chainage - ch).Abs() <= 2*step {
			return true
		}
	}
	d := l.At(ch).At.Distance(p)
	side := func(by measure.Length) float64 {
		return l.At(min(max(ch+by, 0), l.Length())).At.Distance(p)
	}
	return math.Abs(side(4*step)-d) < 1e-4 || math.Abs(side(-4*step)-d) < 1e-4
}

// The parallel of a rounded line is longer or shorter by offset times what the line turns through: exact for arcs.
func TestOffsetLengthFollowsTurn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDice(t)
		l := d.line(t)
		off := measure.FromMillimetres(d.within(-400, 400))
		o, err := l.Offset(off)
		if err != nil {
			t.Fatal(err)
		}
		want := 0.0 // right turns shorten what lies on the right
		for _, e := range l.elements {
			want -= math.Copysign(e.Sweep, e.Radius) * off.Metres()
		}
		for _, k := range l.Kinks(0) {
			want -= 2 * off.Metres() * math.Tan(k.Deflection.Radians()/2)
		}
		if got := (o.Length() - l.Length()).Metres(); math.Abs(got-want) > 1e-7 {
			t.Fatalf("parallel differs by %v m, want %v", got, want)
		}
		for _, p := range []measure.Length{0, o.Length() / 3, o.Length()} {
			feet := l.Project(o.At(p).At) // all of them: a winding line may come by again
			beside := func(f Foot) bool {
				// Outside a kink of up to 100° the parallel's corner is off/cos 50° from the vertex.
				return f.Kind == OnLine && (f.Offset-off).Abs() <= 50 || f.Kind == AtVertex && f.Distance.Metres() < math.Abs(off.Metres())/math.Cos(50*math.Pi/180)+1e-6
			}
			if !slices.ContainsFunc(feet, beside) {
				t.Fatalf("parallel at %v m is not %v from the line: %+v", p.Metres(), off.Metres(), feet)
			}
		}
	})
}

// Two offsets, there and back, give the line again.
func TestOffsetThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDice(t)
		l := d.line(t)
		off := measure.FromMillimetres(d.within(-400, 400))
		there, err := l.Offset(off)
		if err != nil {
			t.Fatal(err)
		}
		back, err := there.Offset(-off)
		if err != nil {
			t.Fatal(err)
		}
		if d := (back.Length() - l.Length()).Abs(); d > 100 {
			t.Fatalf("there and back changes the length by %d nm", d)
		}
		for i, e := range back.elements {
			if d := e.From.Distance(l.elements[i].From); d > 1e-7 {
				t.Fatalf("there and back moves element %d by %v m", i, d)
			}
		}
	})
}

func TestOffsetRefusesWithASentence(t *testing.T) {
	tight := mustPolyline(t, Vertex{At: Point{0, 0}}, Vertex{At: Point{100, 0}, Radius: 2}, Vertex{At: Point{100, -50}})
	short := mustPolyline(t, Vertex{At: Point{0, 0}}, Vertex{At: Point{100, 0}}, Vertex{At: Point{100, -1}}, Vertex{At: Point{50, -1}})
	for _, c := range []struct {
		line Line
		off  measure.Length
		want string
	}{
		{tight, 2 * measure.Metre, "a line 2.000 m to the right of it cannot follow the arc of 3.142 m to the right, radius 2.000 m at chainage 98.000 m"},
		{short, measure.Metre, "a line 1.000 m to the right leaves nothing of the straight of 1.000 m at chainage 100.000 m"},
	} {
		if _, err := c.line.Offset(c.off); err == nil || err.Error() != c.want {
			t.Errorf("got %v\nwant %s", err, c.want)
		}
	}
	if _, err := tight.Offset(-2 * measure.Metre); err != nil {
		t.Errorf("the outer side of an arc has a parallel: %v", err)
	}
}

// Run the other way, chainages count from the other end and right is left.
func TestReversed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDice(t)
		l := d.line(t)
		r := l.Reversed()
		if d := (r.Length() - l.Length()).Abs(); d > 2 {
			t.Fatalf("reversed is %d nm longer", d)
		}
		ch := d.length(l.Length())
		for _, k := range l.Kinks(0) {
			if (k.Chainage - ch).Abs() < 10 {
				return
			}
		}
		off := measure.FromMillimetres(d.within(-400, 400))
		if d := l.Beside(ch, off).Distance(r.Beside(r.Length()-ch, -off)); d > 1e-7 {
			t.Fatalf("%v m apart", d)
		}
	})
}

// Ground = grid / factor: 400 m of coordinates at 0.9996 are 160 mm longer on the ground (layout notes §2).
func TestGroundIsLongerThanGrid(t *testing.T) {
	l := mustPolyline(t, Vertex{At: Point{0, 0}}, Vertex{At: Point{400, 0}})
	g, err := l.Scaled(0.9996)
	if err != nil {
		t.Fatal(err)
	}
	if got := (g.Length() - l.Length()).Millimetres(); math.Abs(got-160.064) > 1e-3 {
		t.Errorf("%v mm longer, want 400 m·(1/0.9996 - 1) = 160.064", got)
	}
	if p := g.At(g.Length()).At; p != (Point{400, 0}) {
		t.Errorf("the end moved to %v", p)
	}
	for _, bad := range []float64{0, -1, 1.02, math.NaN(), math.Inf(1)} {
		if _, err := l.Scaled(bad); err == nil {
			t.Errorf("factor %v was taken", bad)
		}
	}
}

func TestPolylineRefusesAllAtOnce(t *testing.T) {
	_, err := Polyline([]Vertex{
		{At: Point{0, 0}}, {At: Point{10, 0}, Radius: 8}, {At: Point{10, 10}, Radius: 8}, {At: Point{0, 10}},
	})
	want := "between points 1 and 2 the arcs need 0.000 m + 8.000 m"
	if err != nil {
		want = "between points 2 and 3 the arcs need 8.000 m + 8.000 m of straight to touch, and there are 10.000 m; " +
			"try: a radius of at most 5.000 m at point 2 and 5.000 m at point 3"
	}
	if err == nil || err.Error() != want {
		t.Errorf("got %v\nwant %s", err, want)
	}
	nan := math.NaN()
	_, err = Polyline([]Vertex{{At: Point{0, 0}, Radius: 1}, {At: Point{nan, 0}}, {At: Point{5, 5}, Radius: -1}, {At: Point{5, 5}}, {At: Point{1e9, 0}}})
	if faults, ok := err.(Refusals); !ok || len(faults) != 5 {
		t.Errorf("want five faults at once, got %v", err)
	}
}

// An arc may use up both its tangents, and two arcs may touch: a walk of arcs does that.
func TestArcsThatTouch(t *testing.T) {
	l := mustPolyline(t, Vertex{At: Point{0, 0}}, Vertex{At: Point{5, 0}, Radius: 5}, Vertex{At: Point{5, 10}, Radius: 5}, Vertex{At: Point{10, 10}})
	if n := len(l.Elements()); n != 2 {
		t.Errorf("%d elements, want the two arcs alone: %v", n, l.Elements())
	}
	if got, want := l.Length().Metres(), 5*math.Pi; math.Abs(got-want) > 1e-8 {
		t.Errorf("length %v, want %v", got, want)
	}
}

func TestSplitAtKinks(t *testing.T) {
	l := mustPolyline(t, Vertex{At: Point{0, 0}}, Vertex{At: Point{10, 0}}, Vertex{At: Point{20, 0}}, Vertex{At: Point{20, 10}})
	parts := l.Split(Smooth)
	if len(parts) != 2 || parts[0].Length() != 20*measure.Metre || parts[1].Length() != 10*measure.Metre {
		t.Errorf("parts %v", parts)
	}
	if k := l.Kinks(Smooth); len(k) != 1 || k[0].Deflection != -90*measure.Degree || k[0].Chainage != 20*measure.Metre {
		t.Errorf("kinks %+v, want one of 90° to the left at 20 m", k)
	}
}

// Drawn points stay on the line and their chords within the sagitta.
func TestPointsForDrawing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDice(t)
		l := d.line(t)
		const sagitta = 0.01
		from := d.length(l.Length() / 2)
		to := l.Length()/2 + d.length(l.Length()-l.Length()/2)
		pts := l.Points(from, to, sagitta)
		if pts[0].Distance(l.At(from).At) > 1e-9 || pts[len(pts)-1].Distance(l.At(to).At) > 1e-9 {
			t.Fatal("the ends are not drawn")
		}
		for i := 1; i < len(pts); i++ {
			middle := pts[i-1].Plus(pts[i].Minus(pts[i-1]).Times(0.5))
			if feet := l.Nearest(middle, 0); feet[0].Distance.Metres() > sagitta*1.01 {
				t.Fatalf("chord %d leaves the line by %v m", i, feet[0].Distance.Metres())
			}
		}
	})
}
