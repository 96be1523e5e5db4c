package scene

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

var testPage = Box{-200, -200, 200, 200}

// evenOdd is the slow and obvious answer to whether p lies in a polygon.
func evenOdd(polygon []Point, p Point) bool {
	in := false
	for i, a := range polygon {
		b := polygon[(i+1)%len(polygon)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}

func edgeDistance(polygon []Point, p Point) float64 {
	return distance([]Contour{{Points: polygon, Closed: true}}, p)
}

// Random polygons, crossing themselves too: along every hatch line what is
// drawn is what the slow answer says.
func TestHatchesFillTheirAreaAndNoMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		polygon := points(t, "corner", rapid.IntRange(3, 9).Draw(t, "corners"))
		pattern := rapid.SampledFrom([]Pattern{Diagonal, Backward, Uprights, Levels, CrossHatch}).Draw(t, "pattern")
		const step = 3.0
		o, _, err := hatched(Polygon(polygon...), Hatch{Pattern: pattern, Spacing: step}, testPage)
		if err != nil {
			t.Fatal(err)
		}
		drawn := o.Flat(1)
		for _, c := range drawn {
			for k := range 21 {
				p := between(c.Points[0], c.Points[1], float64(k)/20)
				if !evenOdd(polygon, p) && edgeDistance(polygon, p) > 1e-6 {
					t.Fatalf("%v is hatched, but lies outside", p)
				}
			}
		}
		// And no gap: a point inside is at most half a step from some stroke,
		// or nearer than that to an edge.
		for _, p := range points(t, "probe", 20) {
			near := edgeDistance(polygon, p)
			for _, c := range drawn {
				near = math.Min(near, segmentDistance(p, c.Points[0], c.Points[1]))
			}
			if evenOdd(polygon, p) && near > step/2+1e-6 {
				t.Fatalf("%v lies inside, but %v mm from any stroke", p, near)
			}
		}
	})
}

func TestDotsAreWholeAndInside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		polygon := points(t, "corner", rapid.IntRange(3, 7).Draw(t, "corners"))
		o, pen, err := hatched(Polygon(polygon...), Hatch{Pattern: Stone, Spacing: 4}, testPage)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range o.Flat(1) {
			p := between(c.Points[0], c.Points[1], 0.5)
			if !evenOdd(polygon, p) && edgeDistance(polygon, p) > 1e-6 {
				t.Fatalf("a dot at %v lies outside", p)
			}
			for _, q := range []Point{{p.X + pen.Width/2, p.Y}, {p.X - pen.Width/2, p.Y}} {
				if !evenOdd(polygon, q) && edgeDistance(polygon, q) > 0.01 {
					t.Fatalf("the dot at %v is cut at %v", p, q)
				}
			}
		}
	})
}

// A rectangle of 40 × 30 has one dot for every step × row of its area, and
// soil draws 3/6 of the lines for 1.6/4 of their length.
func TestPatternsHaveTheirDensity(t *testing.T) {
	box := Box{0, 0, 40, 30}
	dots, _, err := hatched(Rectangle(box), Hatch{Pattern: Stone, Spacing: 1}, testPage)
	if err != nil {
		t.Fatal(err)
	}
	if n, want := float64(len(dots)/2), 40*30/0.866; math.Abs(n-want) > 0.1*want {
		t.Errorf("%v dots, want about %.0f", n, want)
	}
	soil, _, err := hatched(Rectangle(box), Hatch{Pattern: Soil, Spacing: 1}, testPage)
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for _, c := range soil.Flat(1) {
		sum += c.Points[1].Sub(c.Points[0]).Length()
	}
	if want := 40 * 30 / 0.5 * 0.5 * 1.6 / 4; math.Abs(sum-want) > 0.1*want {
		t.Errorf("%v mm of strokes, want about %v", sum, want)
	}
}

func TestHatchesOfNeighboursRunThrough(t *testing.T) {
	left, _, _ := hatched(Rectangle(Box{0, 0, 10, 10}), Hatch{Pattern: Diagonal}, testPage)
	right, _, _ := hatched(Rectangle(Box{10, 0, 20, 10}), Hatch{Pattern: Diagonal}, testPage)
	ends := map[[2]int]bool{}
	key := func(p Point) [2]int { return [2]int{int(math.Round(p.X * 1e6)), int(math.Round(p.Y * 1e6))} }
	for _, s := range left {
		ends[key(s.To)] = true
	}
	met := 0
	for _, s := range right {
		if math.Abs(s.To.X-10) < 1e-9 && ends[key(s.To)] {
			met++
		}
	}
	if met < 4 {
		t.Errorf("only %d lines run through the common side", met)
	}
}

func TestHatchesStayOnThePage(t *testing.T) {
	o, _, err := hatched(Rectangle(Box{-1e6, -1e6, 1e6, 1e6}), Hatch{Pattern: Levels, Spacing: 1}, Box{0, 0, 100, 100})
	if err != nil || len(o) > 2*101 {
		t.Errorf("%d steps for a page of 100 mm, error %v", len(o), err)
	}
}

func TestEveryPatternIsNamedInTheRefusal(t *testing.T) {
	_, _, err := hatched(Rectangle(testPage), Hatch{Pattern: "x"}, testPage)
	for _, p := range []Pattern{Diagonal, Backward, CrossHatch, Uprights, Levels, Stone, Soil} {
		if !strings.Contains(err.Error(), string(p)) {
			t.Errorf("%v does not name %q", err, p)
		}
		if o, _, err := hatched(Rectangle(Box{0, 0, 9, 9}), Hatch{Pattern: p}, testPage); err != nil || len(o) == 0 {
			t.Errorf("%q draws %d steps, error %v", p, len(o), err)
		}
	}
}
