package earthwork

import (
	"math"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/place/route"
)

// published.md 2.18 (Ri): trench 60 m, b 0.9, 1:1, depth 1.6, less a pipe of 0.30 m: 240.0 and 235.76 m³ (the page prints 112.7).
func TestPipeTakesFromTheStone(t *testing.T) {
	p := trench(0.9, Sides{Form: Sloped, Slope: oneTo(1)}, 1.6, 1.6, 60)
	span := &p.Legs[0].Spans[0]
	span.Start.Underside, span.Start.Top = m(99.9), m(99.99)
	span.Start.Drain = new(m(98.4))
	span.End = span.Start
	span.Section.Pipe = &Pipe{Diameter: m(0.3)}
	span.Section.Unit, span.Section.Room = mm(2), new(m(0.449))
	s := Solve(p)
	none(t, s.Findings)
	near(t, "dug", float64(s.Total.Dug()), 240, 1e-6)
	near(t, "pipe", float64(s.Total.Pipe), math.Pi/4*0.09*60, 1e-9)
	near(t, "stone, fill and unit", float64(s.Total.Filled()-s.Total.Pipe), 235.76, 0.005)
}

// Closed forms for every part of a section.
func TestEveryPartOfASection(t *testing.T) {
	p := trench(1, Sides{Form: Vertical}, 1, 1, 20)
	p.Rock, p.Finished = flat(99.3), flat(100.1)
	p.Topsoil, p.Layer = new(mm(200)), new(mm(250))
	span := &p.Legs[0].Spans[0]
	span.Start = Levels{Top: m(99.9), Underside: m(99.15), Formation: m(99)}
	span.End = span.Start
	span.Section = Section{Unit: m(0.6), Room: new(mm(150)), OverDig: mm(50), Sides: Sides{Form: Vertical}}
	p.Legs[0].Pads = []Pad{{At: m(10), Along: mm(300), Across: mm(600), Thick: mm(50)}, {At: 0, Along: mm(300), Across: mm(600), Thick: mm(50)}}
	s := Solve(p)
	none(t, s.Findings)
	q := s.Total
	near(t, "topsoil", float64(q.Topsoil), 20*0.2, 1e-9)
	near(t, "soil", float64(q.Soil), 20*0.5, 1e-9)
	near(t, "rock", float64(q.Rock), 20*0.3, 1e-9)
	near(t, "pads", float64(q.Pads), 2*0.3*0.6*0.05, 1e-12)
	near(t, "stone", float64(q.Stone), 20*0.15-2*0.3*0.6*0.05, 1e-9)
	near(t, "unit", float64(q.Unit), 20*0.6*0.75, 1e-9)
	near(t, "topsoil back", float64(q.TopsoilBack), 20*0.2, 1e-9)
	near(t, "fill", float64(q.Fill), 20*0.4*(100.1-0.2-99.15), 1e-9)
	near(t, "raised", float64(q.Raised), 20*0.1, 1e-9)
	near(t, "upright sides", q.Faces, 40, 1e-9)
	near(t, "opened", q.Width, 20, 1e-9)
	if len(q.Layers) < 3 {
		t.Fatalf("%d layers", len(q.Layers))
	}
	near(t, "layer 1 left", float64(q.Layers[0].Left), 20*0.2*0.25, 1e-9)
	near(t, "layer 3 right", float64(q.Layers[2].Right), 20*0.2*0.25, 1e-9)
}

// A slope in two planes, a bench, and a step in the formation: closed forms.
func TestSidesInClosedForm(t *testing.T) {
	benched := Sides{Form: Benched, Bench: &Bench{Height: m(1), Width: m(0.5)}}
	s := Solve(trench(2, benched, 2.5, 2.5, 10))
	none(t, s.Findings)
	near(t, "benched", float64(s.Total.Dug()), 10*(2*1+3*1+4*0.5), 1e-8)
	plumb := Sides{Form: Sloped, Plumb: m(1), Slope: oneTo(1.5)}
	s = Solve(trench(2, plumb, 3, 3, 10))
	near(t, "upright below a slope", float64(s.Total.Dug()), 10*(2*3+2*2*1.5), 1e-8)
	p := trench(2, Sides{Form: Sloped, Slope: oneTo(1)}, 2, 2, 10)
	p.Legs[0].Start, p.Legs[0].End = End{Beyond: m(0.5), Sloped: true}, End{Sloped: true}
	s = Solve(p)
	none(t, s.Findings)
	// ends: a wedge over the bottom and a quarter of a pyramid in each corner
	near(t, "closed ends", float64(s.Total.Dug()), 10.5*(2*2+2*2)+2*(2*2*2/2+2*(2*2*2.0/3)), 1e-8)
	p.Legs[0].Spans[0].Section.Sides = benched
	s = Solve(p)
	near(t, "benched ends", float64(s.Total.Dug()), 10.5*(2+3)+2*(0.5*3*1), 1e-8)
}

// A dig on a ring: Pappus. Level ground, curved axis, sections to one side heavier by a slope across.
func TestCurveByPappus(t *testing.T) {
	for _, right := range []bool{true, false} {
		r := 12.0
		if !right {
			r = -12
		}
		arc := route.ArcFrom(route.Point{}, route.Vector{N: 1}, route.Point{E: r, N: 12})
		line, err := route.Chain([]route.Element{arc}, 0)
		if err != nil {
			t.Fatal(err)
		}
		l := line.Length()
		near(t, "length", l.Metres(), math.Pi/2*12, 1e-6)
		p := trench(2, Sides{Form: Sloped, Slope: oneTo(1)}, 2, 2, 1)
		p.Legs[0].Line, p.Legs[0].Spans[0].To = line, l
		s := Solve(p)
		none(t, s.Findings)
		near(t, "a section even on both sides keeps its length", float64(s.Total.Dug()), l.Metres()*8, 1e-5)
		// the formation falls to the right: the outside or the inside is deeper
		p.Legs[0].Spans[0].Section.Sides = Sides{Form: Vertical}
		p.Legs[0].Spans[0].Cross = measure.Grade{Rise: 1, Run: 10}
		s = Solve(p)
		moment := 2 * 0.1 / 3 // ∫ y (2 + 0.1 y) dy over −1 to 1
		want := l.Metres() * (4 - moment/r)
		near(t, "crossfall on a curve", float64(s.Total.Dug()), want, 1e-6)
	}
}

// The wedge of a mitred bend is counted once: a dig through 90° on level ground has the volume of its plan.
func TestBendCountsItsWedgeOnce(t *testing.T) {
	corner := route.Point{E: 10}
	for _, to := range []route.Point{{E: 10, N: -8}, {E: 10, N: 8}, {E: 16, N: 8}, {E: 18, N: 0}} {
		second, err := route.Polyline([]route.Vertex{{At: corner}, {At: to}})
		if err != nil {
			t.Fatal(err)
		}
		for _, sides := range []Sides{{Form: Vertical}, {Form: Sloped, Slope: oneTo(1)}} {
			p := trench(2, sides, 2, 2, 10)
			other := trench(2, sides, 2, 2, 10).Legs[0]
			other.Name, other.Line, other.Spans[0].To = "B", second, second.Length()
			p.Legs = append(p.Legs, other)
			p.Nodes = []Node{{Name: "N", Arms: []Arm{{0, true}, {1, false}}}}
			s := Solve(p)
			none(t, s.Findings)
			// sections are even about the axis: what the outside gains the inside loses
			area := 4.0
			if sides.Form == Sloped {
				area = 8
			}
			near(t, "bend", float64(s.Total.Dug()), area*(10+second.Length().Metres()), 1e-6)
		}
	}
}

// A tee and a cross on level ground, upright sides: the plan is a union of rectangles.
func TestTeeCountsTheMiddleOnce(t *testing.T) {
	line := func(to route.Point) route.Line {
		l, err := route.Polyline([]route.Vertex{{At: route.Point{}}, {At: to}})
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	arms := []route.Point{{E: 10}, {E: -10}, {N: 10}, {N: -10}}
	for n := 3; n <= 4; n++ {
		p := trench(2, Sides{Form: Vertical}, 2, 2, 10)
		one := p.Legs[0]
		p.Legs, p.Nodes = nil, []Node{{Name: "T"}}
		for i := range n {
			one.Line = line(arms[i])
			p.Legs = append(p.Legs, one)
			p.Nodes[0].Arms = append(p.Nodes[0].Arms, Arm{Leg: i})
		}
		s := Solve(p)
		none(t, s.Findings)
		want := 2 * (20*2.0 + float64(n-2)*2*(10-1))
		near(t, "union", float64(s.Total.Dug()), want, 1e-6)
	}
}
