package earthwork

import (
	"math/rand/v2"
	"strings"
	"testing"
)

// Random legs add up, are cut into outlines of the areas that are said, and a part and the rest are the whole.
func TestRandomLegsAddUp(t *testing.T) {
	for seed := uint64(100); seed < 100+*problems; seed++ {
		s := randomSmall(seed)
		s.p.Factors = []Factor{{Of: Soil, Loose: 1.25, Compacted: 0.9, Source: "D3"}, {Of: Rock, Loose: 1.5, Compacted: 1.3, Source: "D3"}, {Of: Topsoil, Loose: 1.2, Compacted: 0.9, Source: "D3"}}
		s.p.Reuse, s.p.Load = new(true), new(8.0)
		got := Solve(s.p)
		none(t, got.Findings)
		if err := Check(s.p, &got); err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		r := rand.New(rand.NewPCG(seed, 3))
		at := m(s.length * r.Float64())
		sheet, said := SectionAt(s.p, 0, at)
		none(t, said)
		for _, c := range []struct {
			what string
			o    []Outline
			want float64
		}{{"dig", sheet.Dig, sheet.Areas.Dug()}, {"topsoil", sheet.Topsoil, sheet.Areas.Topsoil}, {"soil", sheet.Soil, sheet.Areas.Soil}, {"rock", sheet.Rock, sheet.Areas.Rock},
			{"stone", sheet.Stone, sheet.Areas.Stone}, {"fill", sheet.Fill, sheet.Areas.Fill}, {"unit", sheet.Unit, sheet.Areas.Unit}, {"back", sheet.TopsoilBack, sheet.Areas.TopsoilBack}} {
			sum := 0.0
			for _, o := range c.o {
				sum += o.Area()
			}
			near(t, c.what, sum, c.want, 1e-7)
		}
		first, second := Between(s.p, []Part{{0, 0, at}}), Between(s.p, []Part{{0, at, m(s.length)}})
		none(t, first.Findings)
		a, b := first.Total, second.Total
		near(t, "dug in two parts", float64(a.Dug()+b.Dug()), float64(got.Total.Dug()), 1e-7)
		near(t, "fill in two parts", float64(a.Fill+b.Fill), float64(got.Total.Fill), 1e-7)
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
}

// The checker finds every figure that is off.
func TestCheckFindsWhatIsOff(t *testing.T) {
	s := randomSmall(5)
	s.p.Factors = []Factor{{Of: Soil, Loose: 1.25, Compacted: 3, Source: "D3"}}
	s.p.Reuse, s.p.Load = new(true), new(0.5)
	for what, spoil := range map[string]func(*Solution){
		"span":    func(s *Solution) { s.Legs[0].Spans[0].Soil += 1e-6 },
		"fill":    func(s *Solution) { s.Legs[0].Spans[0].Fill -= 1e-6 },
		"leg":     func(s *Solution) { s.Legs[0].Total.Rock += 1e-6 },
		"run":     func(s *Solution) { s.Total.Unit += 1e-6 },
		"layer":   func(s *Solution) { s.Legs[0].Spans[0].Layers[0].Left += 1e-6 },
		"curve":   func(s *Solution) { s.Legs[0].Running[1].Dug += 1e-6 },
		"loose":   func(s *Solution) { soilOf(s).Leaves.Loose += 1e-5 },
		"balance": func(s *Solution) { soilOf(s).Back = State{} },
		"dug":     func(s *Solution) { soilOf(s).Dug.Bank += 1e-5 },
		"loads":   func(s *Solution) { *soilOf(s).Loads += 1 },
	} {
		got := Solve(s.p)
		if err := Check(s.p, &got); err != nil {
			t.Fatal(err)
		}
		spoil(&got)
		if Check(s.p, &got) == nil {
			t.Errorf("%s off, and nothing was said", what)
		}
	}
}

func soilOf(s *Solution) *Balance {
	for i := range s.Balances {
		if s.Balances[i].Of == Soil {
			return &s.Balances[i]
		}
	}
	panic("no soil")
}

// A leg that lacks a figure is left out, with the question; a leg that cannot be is refused, with the place.
func TestMissingAndWrong(t *testing.T) {
	ask := func(change func(*Problem)) string {
		p := trench(1, Sides{Form: Sloped, Slope: oneTo(1)}, 1, 1, 10)
		change(p)
		s := Solve(p)
		for _, f := range s.Findings {
			for _, bad := range speech(f) {
				t.Errorf("%s: %s", f, bad)
			}
		}
		return s.Findings.Render(0)
	}
	span := func(p *Problem) *Span { return &p.Legs[0].Spans[0] }
	for want, change := range map[string]func(*Problem){
		"no working room beside the unit on file": func(p *Problem) { span(p).Section.Room = nil },
		"no slope of the sides on file":           func(p *Problem) { span(p).Section.Sides.Slope = nil },
		"no form of the sides of the dig on file": func(p *Problem) { span(p).Section.Sides.Form = "" },
		"no height and width of a bench on file":  func(p *Problem) { span(p).Section.Sides.Form = Benched },
		"no bulking of soil on file":              func(*Problem) {},
		"no level of ground water on file":        func(*Problem) {},
		"no width of the drain's trench on file": func(p *Problem) {
			s := span(p)
			s.Section.Pipe, s.Start.Drain, s.End.Drain = &Pipe{Diameter: mm(100)}, new(m(98.8)), new(m(98.8))
		},
		"no ground to dig in":            func(p *Problem) { p.Ground = nil },
		"no length or no levels":         func(p *Problem) { p.Legs[0].Spans = nil },
		"are not above each other":       func(p *Problem) { span(p).Start.Underside = 0 },
		"ends where it begins or before": func(p *Problem) { span(p).To = 0 },
		"cannot be":                      func(p *Problem) { p.Load = new(-1.0) },
		"no slope for influence":         func(p *Problem) { p.Influence = oneTo(0) },
		"the slope of the sides is none": func(p *Problem) { span(p).Section.Sides.Slope = oneTo(-1) },
		"does not fit into the bed":      func(p *Problem) { p.Legs[0].Pads = []Pad{{Thick: m(1)}} },
		"no ground on file over the width": func(p *Problem) {
			p.Ground = field(nil, -5, -50, 6, 50, 100, func(_, _ float64) float64 { return 100 })
		},
		"lies at two nodes": func(p *Problem) { p.Nodes = []Node{{Name: "N", Arms: []Arm{{}, {}}}} },
	} {
		if got := ask(change); !strings.Contains(got, want) {
			t.Errorf("%q is not in\n%s", want, got)
		}
	}
}

// The outline of a plain section, corner by corner.
func TestOutlineOfASection(t *testing.T) {
	p := trench(2, Sides{Form: Sloped, Slope: oneTo(1)}, 1, 1, 10)
	sheet, said := SectionAt(p, 0, m(5))
	none(t, said)
	want := Outline{{m(-2), m(100)}, {m(-1), m(99)}, {0, m(99)}, {m(1), m(99)}, {m(2), m(100)}}
	if len(sheet.Dig) != 1 {
		t.Fatal(sheet.Dig)
	}
	for _, c := range want {
		found := false
		for _, got := range sheet.Dig[0] {
			found = found || got == c
		}
		if !found {
			t.Errorf("%v is no corner of %v", c, sheet.Dig[0])
		}
	}
	if sheet.Left != want[0] || sheet.Right != want[4] || sheet.BottomLeft != want[1] || sheet.BottomRight != want[3] || sheet.Bottom != m(2) {
		t.Error(sheet.Left, sheet.Right, sheet.BottomLeft, sheet.BottomRight)
	}
	if _, said := SectionAt(p, 0, m(11)); len(said) == 0 {
		t.Error("a section past the end")
	}
}

// By mass, a load takes as much of each material as its own density lets it; without one nobody counts loads of it.
func TestLoadsByMass(t *testing.T) {
	p := Problem{Weighed: true, Load: new(8.0), Factors: []Factor{{Of: Soil, Loose: 1.25, Compacted: 0.9, Load: new(7.5)}, {Of: Rock, Loose: 1.5, Compacted: 1.3}}}
	b, said := balances(&p, Quantities{Soil: 60, Rock: 10})
	if len(b) != 2 || b[0].Loads == nil || *b[0].Loads != 10 || *b[0].Load != 7.5 || b[1].Loads != nil || b[1].Load != nil {
		t.Errorf("%+v", b)
	}
	if len(said) != 1 || said[0].Text != "NOT CHECKED: no loose density of rock on file. Ask: the engineer who looked at the ground" {
		t.Errorf("%v", said)
	}
}
