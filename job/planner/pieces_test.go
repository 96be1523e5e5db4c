package planner

import (
	"math"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/solve/layout"
	"trenchwright/tools/published"
)

const mm = measure.Millimetre

// A mitred end of a solid piece is a trapezoid in plan: its centre of gravity from the square end and from the long side.
func TestCentreOfAMitredPiece(t *testing.T) {
	published.Hold(t, "piece.mitred", func(g published.Given) []float64 {
		solid := job.Known(job.Section{Width: measure.FromMetres(g.N(2)), Height: 300 * mm})
		x, y, _ := centre(measure.FromMetres((g.N(0)+g.N(1))/2), 0, (g.N(0)-g.N(1))/g.N(2), solid, job.Entry[job.Section]{})
		return []float64{x.Metres(), g.N(2)/2 - y.Metres()}
	})
}

// The slow twin sums thin slices of walls and base.
func TestCentreAgainstSlices(t *testing.T) {
	W, H, w, h := 0.9, 0.75, 0.6, 0.55
	outer, inner := job.Known(job.Section{Width: 900 * mm, Height: 750 * mm}), job.Known(job.Section{Width: 600 * mm, Height: 550 * mm})
	for _, c := range [][3]float64{{2.4, 0, 0.4}, {1.1, -0.3, 0.2}, {3, 0.5, 0.5}, {2, 1, -1}} {
		L, s0, s1 := c[0], c[1], c[2]
		var m, mx, my float64
		const n = 20000
		for i := range n {
			y := (float64(i)+0.5)/n*W - W/2
			depth := H
			if math.Abs(y) < w/2 {
				depth = H - h
			}
			a, b := s0*y, L+s1*y
			dm := depth * (b - a)
			m, mx, my = m+dm, mx+dm*(a+b)/2, my+dm*y
		}
		x, y, _ := centre(measure.FromMetres(L), s0, s1, outer, inner)
		if math.Abs(x.Metres()-mx/m) > 1e-5 || math.Abs(y.Metres()-my/m) > 1e-5 {
			t.Errorf("%v: centre %.6f, %.6f; slices make %.6f, %.6f", c, x.Metres(), y.Metres(), mx/m, my/m)
		}
	}
}

// Window 8 to 14 mm, H 750, W 900, units of 2400: what is left for a change of grade at mid gap is 0.80 % on a straight,
// 0.51 % on a radius of 1000 m, 0.22 % on 500 m and nothing on 360 m (worked by hand, no source).
func TestOneBudget(t *testing.T) {
	w := measure.Window{Nominal: 11 * mm, Min: 8 * mm, Max: 14 * mm}
	for radius, want := range map[float64]float64{math.Inf(1): 0.80, 1000: 0.51, 500: 0.22, 360: 0} {
		left := room(w.Nominal, w) - opening(2.4/radius, 900*mm)
		if got := left.Metres() / 0.375 * 100; math.Abs(got-want) > 0.005 {
			t.Errorf("radius %v m: %.3f %% is left, %.2f %% was expected", radius, got, want)
		}
	}
}

// longestOnCurve and curveWindow are each other's converse.
func TestLongestOnCurve(t *testing.T) {
	w := measure.Window{Nominal: 10 * mm, Min: 6 * mm, Max: 15 * mm}
	for _, radius := range []measure.Length{60 * measure.Metre, 149 * measure.Metre, 400 * measure.Metre} {
		l := longestOnCurve(w, radius, 900*mm, mm)
		if _, ok := curveWindow(w, radius, l, 900*mm, mm); !ok {
			t.Errorf("R %v: %v is said to fit and does not", radius, l)
		}
		if g, ok := curveWindow(w, radius, l+10*mm, 900*mm, mm); ok && g.Max-g.Min > 100*measure.Micrometre {
			t.Errorf("R %v: %v more would fit too, window %v", radius, 10*mm, g)
		}
	}
}

func pairsAt(stations ...measure.Length) []job.CastIn {
	var out []job.CastIn
	for _, s := range stations {
		for _, side := range []string{"left", "right"} {
			out = append(out, job.CastIn{Kind: "insert", Of: 3000 * mm, At: s, Side: side, Edge: 200 * mm})
		}
	}
	return out
}

// What is left to lift a piece by follows from where it lay on its unit, and which way round.
func TestInsertsLeft(t *testing.T) {
	s := &supply{width: 600 * mm}
	s.Unit.Outer = job.Known(job.Section{Width: 600 * mm, Height: 500 * mm})
	s.Unit.CastIn = pairsAt(600*mm, 2400*mm)
	s.Lifting.OffCentre = job.Known(100 * mm)
	for _, c := range []struct {
		name         string
		length, face measure.Length
		turned       bool
		kept         string
		want         string
		x            measure.Length // of the first insert that is left
	}{
		{"both pairs, nearly whole", 2900 * mm, 0, false, "start", "two pairs of inserts remain and the hook stands", 600 * mm},
		{"both pairs, hook off the centre", 2700 * mm, 0, false, "start", "does not meet the stated figure", 600 * mm},
		{"one pair", 1500 * mm, 0, false, "start", "one pair of inserts remains", 600 * mm},
		{"too near the saw", 750 * mm, 0, false, "start", "no pair of inserts remains", 0},
		{"from end B, turned", 1500 * mm, 1500 * mm, true, "start", "one pair of inserts remains", 600 * mm},
		{"from end B, not turned", 1500 * mm, 1500 * mm, false, "end", "one pair of inserts remains", 900 * mm},
	} {
		u := layout.Unit{Length: c.length, Cut: true}
		p := describe(u, s)
		things := castOn(s, 3000*mm, u, c.face, c.turned, c.kept)
		if got := liftOf(p, things, s); !strings.Contains(got, c.want) {
			t.Errorf("%s: %q", c.name, got)
		}
		for _, h := range things {
			if h.left {
				if h.x != c.x {
					t.Errorf("%s: the first insert lies at %v, %v was expected", c.name, h.x, c.x)
				}
				break
			}
		}
	}
}

// An insert 300 mm along its wall from a face sawn 45° is 212 mm from it: the concrete that holds it is measured square to
// the face.
func TestEdgeDistanceIsSquareToTheFace(t *testing.T) {
	s := &supply{width: 600 * mm}
	s.Unit.CastIn = []job.CastIn{{Kind: "insert", Of: 3000 * mm, At: 600 * mm, Side: "right", Edge: 250 * mm}}
	u := layout.Unit{Length: 1200 * mm, EndTan: 1, Cut: true} // the right wall ends at 900
	if h := castOn(s, 3000*mm, u, 0, false, "start")[0]; h.left || !strings.Contains(h.hit, "is 212 mm from a cut end") {
		t.Errorf("left %t, %q", h.left, h.hit)
	}
	s.Unit.CastIn[0].Edge = 210 * mm
	if h := castOn(s, 3000*mm, u, 0, false, "start")[0]; !h.left {
		t.Errorf("%q", h.hit)
	}
}

func TestMarks(t *testing.T) {
	for got, want := range map[string]string{
		place("B", 17): "B-017", coverMark("B-017", 2): "B-017.2", offcutMark("B-017", 0): "B-017/a", offcutMark("B-017", 27): "B-017/ab",
	} {
		if got != want {
			t.Errorf("%s, %s was expected", got, want)
		}
	}
}
