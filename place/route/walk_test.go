package route

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/tools/published"
)

func TestWalk(t *testing.T) {
	w, faults := Walk(`24.3 m   # from the gate
right 90°; 10 m
arc left 30 m radius 45°
5'-6"
left 45
right 45
2 m`, WalkStart{Bearing: 0})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	line := mustPolyline(t, w.Vertices...)
	want := 24.3 + 10 + 30*math.Pi/4 + 5.5*0.3048 + 2
	if got := line.Length().Metres(); math.Abs(got-want) > 1e-8 {
		t.Errorf("length %v m, walked %v m", got, want)
	}
	if d := line.End().At.Distance(w.End.At); d > 1e-9 || line.End().Bearing() != 45*measure.Degree {
		t.Errorf("the line ends %v m from the walk, bearing %v", d, line.End().Bearing())
	}
	if s := line.Stretches(); len(s) != 3 || s[1].Radius != -30*measure.Metre {
		t.Errorf("stretches %+v", s)
	}
	if k := line.Kinks(Smooth); len(k) != 1 || k[0].Deflection != 90*measure.Degree {
		t.Errorf("kinks %+v: left 45 and right 45 on one spot are no turn", k)
	}
	if len(w.Heard) != 8 || !strings.HasPrefix(w.Heard[3], "line 3: arc to the left, radius 30 m") {
		t.Errorf("heard %q", w.Heard)
	}
}

// An arc of any turn up to a full circle comes out as one arc of that turn.
func TestWalkArcs(t *testing.T) {
	for _, turn := range []float64{0.5, 45, 90, 90.5, 180, 270, 300, 359.5} {
		for _, way := range []string{"left", "right"} {
			w, faults := Walk(fmt.Sprintf("arc %s 12.5 m radius %v°\n3 m", way, turn), WalkStart{Bearing: 30 * measure.Degree})
			if len(faults) > 0 {
				t.Fatal(faults)
			}
			line := mustPolyline(t, w.Vertices...)
			if got, want := line.Length().Metres(), 12.5*turn*math.Pi/180+3; math.Abs(got-want) > 1e-8 {
				t.Errorf("%s %v°: length %v, want %v", way, turn, got, want)
			}
			if len(line.Stretches()) != 2 || len(line.Kinks(Smooth/1000)) != 0 {
				t.Errorf("%s %v°: stretches %+v, kinks %+v", way, turn, line.Stretches(), line.Kinks(Smooth/1000))
			}
		}
	}
}

func TestWalkOnTheGround(t *testing.T) {
	w, faults := Walk("400 m", WalkStart{Scale: Scale{0.9996, true}})
	if len(faults) > 0 || w.End.At.Distance(Point{0, 399.84}) > 1e-9 {
		t.Errorf("400 m on the ground are %v on the grid", w.End.At)
	}
}

func TestWalkFaultsAtOnce(t *testing.T) {
	_, faults := Walk("24.3\nright; 10 m\narc 30 m radius 45°\n  arc right 3 m radius -45°\nsideways 3 m\nright 270°", WalkStart{})
	var at []string
	for _, f := range faults {
		at = append(at, fmt.Sprintf("%d:%d", f.Where.Line, f.Where.Column))
		if f.Text == "" || f.Try == "" {
			t.Errorf("a fault without a sentence: %+v", f)
		}
	}
	if want := []string{"1:1", "2:1", "3:1", "4:3", "5:1", "6:1"}; !slices.Equal(at, want) {
		t.Errorf("faults at %v, want %v: %+v", at, want, faults)
	}
	if _, faults = Walk("right 90°", WalkStart{}); len(faults) != 1 || faults[0].Text != "the walk goes nowhere" {
		t.Errorf("a walk that only turns: %+v", faults)
	}
	if _, faults = Walk(strings.Repeat("x\n", 1000), WalkStart{}); len(faults) != mostFaults {
		t.Errorf("%d faults", len(faults))
	}
}

// published.md 3.8: a loop traverse closed by the compass rule. Its coordinates are (N, E), in feet.
func TestTraverseAsPublished(t *testing.T) {
	for _, v := range published.Values(t, "traverse", 1) {
		var in struct {
			Start [2]float64
			Legs  [][2]any
		}
		var want struct {
			Lat, Dep, Err []float64
			Misclosure    float64
			Coords        [][2]float64
		}
		published.Decode(t, v.Input, &in)
		published.Decode(t, v.Expect, &want)
		var text strings.Builder
		for _, l := range in.Legs {
			fmt.Fprintf(&text, "bearing %s\n%v m\n", l[0], l[1]) // the unit is the source's; the numbers are what is compared
		}
		start := Point{in.Start[1], in.Start[0]}
		w, faults := Walk(text.String(), WalkStart{At: start})
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		for i := range want.Lat {
			d := w.Vertices[i+1].At.Minus(w.Vertices[i].At)
			if math.Abs(d.N-want.Lat[i]) > v.Tol || math.Abs(d.E-want.Dep[i]) > v.Tol {
				t.Errorf("leg %d: %v, published %v, %v", i+1, d, want.Lat[i], want.Dep[i])
			}
		}
		closed, c := CloseOn(w.Vertices, start)
		if math.Abs(c.Miss.N-want.Err[0]) > v.Tol || math.Abs(c.Miss.E-want.Err[1]) > v.Tol || math.Abs(c.By.Metres()-want.Misclosure) > v.Tol {
			t.Errorf("closing %+v, published %v and %v", c, want.Err, want.Misclosure)
		}
		if n := c.OneIn(); n < 12_100 || n > 12_130 { // printed 1:12 100, recomputed 12 116
			t.Errorf("1 in %d", n)
		}
		for i, p := range want.Coords {
			if at := closed[i+1].At; math.Abs(at.N-p[0]) > v.Tol || math.Abs(at.E-p[1]) > v.Tol {
				t.Errorf("point %d: %v, published %v", i+1, at, p)
			}
		}
	}
}
