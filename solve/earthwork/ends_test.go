package earthwork

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"trenchwright/place/route"
)

// plot is level ground over a rectangle.
func plot(e0, n0, e1, n1, z float64) *tin {
	return field(nil, e0, n0, e1, n1, max(e1-e0, n1-n0), func(_, _ float64) float64 { return z })
}

// texts are the texts of all findings of one kind.
func texts(s Solution, id string) []string {
	var out []string
	for _, f := range s.Findings {
		if f.ID == id {
			out = append(out, fmt.Sprintf("%s %s: %s", f.Where.Leg, *f.Where.Chainage, f.Text))
		}
	}
	return out
}

// A closed end asks for ground no further than to where its floor comes out: 2 m deep at 1:1 after 0.5 m of room, and
// with benches that stand out beyond what was looked at first.
func TestClosedEndAsksForGroundUntilItComesOut(t *testing.T) {
	sloped := Sides{Form: Sloped, Slope: oneTo(1)}
	benched := Sides{Form: Benched, Bench: &Bench{Height: m(1), Width: m(1)}}
	full := 30.5*(2*2+2*2) + 2*2*2/2 + 2*(2*2*2.0/3)
	// s metres before it comes out the floor lies s deep, 3 − s to either side of the axis, and the sides come out at 3
	lost := 3*0.1*0.1 - 0.1*0.1*0.1/3
	for _, c := range []struct {
		sides  Sides
		e0, e1 float64 // the survey reaches from here to there
		start  bool
		dug    float64
		bare   string
	}{
		{sloped, -5, 33, false, full, ""},
		{sloped, -5, 32.501, false, full, ""},
		{sloped, -5, 32.4, false, full - lost, "32400 mm: NOT CHECKED: no ground on file over the width of the dig for 0.100 m"},
		{sloped, -2.501, 33, true, full, ""},
		{sloped, -2.4, 33, true, full - lost, "-2500 mm: NOT CHECKED: no ground on file over the width of the dig for 0.100 m"},
		{benched, -5, 31.51, false, 30.5*(2+4) + 4, ""},
		{benched, -5, 31.4, false, 30.5*(2+4) + 4*0.9, "31400 mm: NOT CHECKED: no ground on file over the width of the dig for 0.100 m"},
	} {
		p := trench(2, c.sides, 2, 2, 30)
		p.Ground = plot(c.e0, -9, c.e1, 9, 100)
		if end := (End{Beyond: m(0.5), Sloped: true}); c.start {
			p.Legs[0].Start = end
		} else {
			p.Legs[0].End = end
		}
		s := Solve(p)
		none(t, s.Findings)
		what := fmt.Sprintf("%s, survey from %g to %g", c.sides.Form, c.e0, c.e1)
		near(t, what, float64(s.Total.Dug()), c.dug, 1e-6)
		told := strings.Join(texts(s, "earthwork.no-ground"), " | ")
		if c.bare == "" && told != "" || c.bare != "" && !strings.HasPrefix(told, "A "+c.bare) || strings.Contains(told, " | ") {
			t.Errorf("%s: %q, want %q", what, told, c.bare)
		}
	}
}

// What the ground does beyond the place where a closed end comes out is not dug.
func TestClosedEndStopsWhereItComesOut(t *testing.T) {
	p := trench(2, Sides{Form: Sloped, Slope: oneTo(1)}, 2, 2, 30)
	p.Legs[0].End = End{Sloped: true}
	p.Ground = field(nil, -50, -50, 50, 50, 4, func(e, _ float64) float64 {
		if e > 38 {
			return 120 // a bank, above where the floor would be by then
		}
		return 100
	})
	s := Solve(p)
	none(t, s.Findings)
	near(t, "dug", float64(s.Total.Dug()), 30*(2*2+2*2)+2*2*2/2+2*(2*2*2.0/3), 1e-8)
}

// Beyond a bend, where nothing belongs to a leg any more, no ground is asked for: in the acute corner the survey ends just
// outside what is dug.
func TestNoGroundIsAskedForBeyondABend(t *testing.T) {
	second, err := route.Polyline([]route.Vertex{{At: route.Point{E: 30}}, {At: route.Point{E: 10, N: -20}}})
	if err != nil {
		t.Fatal(err)
	}
	p := trench(2, Sides{Form: Sloped, Slope: oneTo(1)}, 2, 2, 30)
	leg := p.Legs[0]
	leg.Name, leg.Line, leg.Spans = "B", second, []Span{leg.Spans[0]}
	leg.Spans[0].To = second.Length()
	p.Legs = append(p.Legs, leg)
	p.Nodes = []Node{{Name: "N", Arms: []Arm{{0, true}, {1, false}}}}
	// the outer corner lies where the line that halves the angle is 3 m from both axes
	corner := 3 / math.Tan(math.Pi/8)
	p.Ground = plot(-5, -40, 30+corner+0.01, 30, 100)
	s := Solve(p)
	none(t, s.Findings)
	if told := texts(s, "earthwork.no-ground"); told != nil {
		t.Error(told)
	}
	p.Ground = flat(100)
	near(t, "dug", float64(s.Total.Dug()), float64(Solve(p).Total.Dug()), 1e-8)
}

// Where nothing is counted, no pad and no pipe displaces stone: half of the leg lies beyond the survey.
func TestNoPadIsTakenOutOfWhatIsNotCounted(t *testing.T) {
	p := trench(2, Sides{Form: Vertical}, 1, 1, 20)
	p.Ground = plot(-5, -9, 10, 9, 100)
	s := &p.Legs[0].Spans[0]
	for _, l := range []*Levels{&s.Start, &s.End} {
		l.Underside, l.Top = l.Formation+mm(200), l.Formation+mm(700)
		l.Drain = new(l.Formation)
	}
	s.Section.Pipe = &Pipe{Diameter: mm(100)}
	for _, at := range []float64{0, 4, 10, 15, 20} {
		p.Legs[0].Pads = append(p.Legs[0].Pads, Pad{At: m(at), Along: mm(400), Across: mm(500), Thick: mm(100)})
	}
	got := Solve(p)
	none(t, got.Findings)
	near(t, "pads", float64(got.Total.Pads), (0.4+0.4+0.2)*0.5*0.1, 1e-9) // the first reaches out past the leg and counts whole
	near(t, "pipe", float64(got.Total.Pipe), math.Pi/4*0.1*0.1*10, 1e-9)
	near(t, "stone", float64(got.Total.Stone+got.Total.Pads+got.Total.Pipe), 2*0.2*10, 1e-9)
	if err := Check(p, &got); err != nil {
		t.Error(err)
	}
}
