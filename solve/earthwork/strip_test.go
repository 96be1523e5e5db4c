package earthwork

import (
	"math"
	"strings"
	"testing"

	"trenchwright/base/measure"
)

// The strip: a dig 2 m deep with sides 1:1 and a bottom of 2 m: edges at 3 m. Its 8 m³/m swell to 10; a heap of 1:1.5 is
// √(4·10·1.5) m wide.
func TestWorkingStrip(t *testing.T) {
	p := trench(2, Sides{Form: Sloped, Slope: oneTo(1)}, 2, 2, 10)
	p.Factors = []Factor{{Of: Soil, Loose: 1.25, Compacted: 0.9, Source: "D3"}}
	p.Surcharge = oneTo(1.5)
	p.Strip = Strip{Left: new(m(12)), Right: new(m(7)), Setback: new(m(0.6)), Heap: oneTo(1.5),
		Uses: []Use{{What: Spoil, Side: Left}, {What: Plant, Side: Right, Width: m(3)}, {What: Pegs, Side: Right, Width: m(0.5)}}}
	s := Solve(p)
	none(t, s.Findings)
	heap := math.Sqrt(4 * 10 * 1.5)
	near(t, "left", s.Strip[0].Need.Metres(), 3+0.6+heap, 1e-6)
	near(t, "right", s.Strip[1].Need.Metres(), 3+0.6+3.5, 1e-6)
	text := s.Findings.Render(measure.Metric)
	for _, want := range []string{"on the right the work needs 7.100 m from the centreline, 0.100 m more than may be used",
		"what is to stand on the right (plant) begins 0.600 m from the edge of the dig, and the line up from its foot comes out 1.000 m from it"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in\n%s", want, text)
		}
	}
	if strings.Contains(text, "on the left the work") {
		t.Error(text)
	}
	p.Strip.Uses = append(p.Strip.Uses, Use{What: Pegs, Side: Left, Width: m(0.5)})
	p.Surcharge, p.Strip.Heap, p.Strip.Setback, p.Strip.Left = nil, nil, nil, nil
	s = Solve(p)
	none(t, s.Findings)
	text = s.Findings.Render(measure.Metric)
	for _, want := range []string{"pegs and spoil are both on the left", "no line up from the foot of the dig", "no slope of a spoil heap", "no free edge", "no width of land on the left"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in\n%s", want, text)
		}
	}
}

// Services by depth: the boundary of every class, and never a word that nothing is there.
func TestServicesByDepth(t *testing.T) {
	p := trench(1, Sides{Form: Vertical}, 1, 1, 10)
	l := Levels{Top: m(99.9), Underside: m(99.2), Formation: m(99)}
	p.Legs[0].Spans[0].Start, p.Legs[0].Spans[0].End = l, l
	p.Tolerance = new(mm(100))
	for _, c := range []struct {
		top  float64
		want string
	}{
		{98.9, "service-deeper"}, {98.90001, "service-below-bed"}, {99, "service-below-bed"}, {99.00001, "service-in-bed"},
		{99.1, "service-in-bed"}, {99.10001, "service-in-unit"}, {100.19999, "service-in-unit"}, {100.2, "service-above"},
	} {
		p.Legs[0].Services = []Service{{ID: "W1", Name: "water main", At: m(4), Width: mm(200), Top: new(m(c.top)), Quality: "trial hole"}}
		s := Solve(p)
		none(t, s.Findings)
		if text := s.Findings.Render(measure.Metric); !has(s, "earthwork."+c.want) || strings.Contains(text, "clear") {
			t.Errorf("top at %v: not %s but\n%s", c.top, c.want, text)
		}
	}
	// A zone that reaches the unit is the higher class, wherever the service itself lies: bottom 99, underside 99.2, cover 99.9.
	for _, c := range []struct {
		top, zone float64
		class     string
		says      []string
	}{
		{98.8, 0.4, "service-below-bed", []string{"0.200 m below the bottom of the dig, within its zone of 0.400 m"}},
		{98.8, 0.41, "service-in-unit", []string{"0.200 m below the bottom of the dig", "its zone of 0.410 m reaches 10.000 mm above the underside of the unit"}},
		{98.8, 0.55, "service-in-unit", []string{"0.200 m below the bottom of the dig", "its zone of 0.550 m reaches 0.150 m above the underside of the unit"}},
		{99.1, 0.3, "service-in-unit", []string{"0.100 m above the bottom of the dig, in the bed or a pad", "its zone of 0.300 m reaches 0.200 m above the underside of the unit"}},
		{99.5, 0.1, "service-in-unit", []string{"where the unit is to stand: its top lies 0.300 m above the underside"}},
		{100.4, 0.5, "service-in-unit", []string{"0.300 m above the cover, and its zone of 0.500 m reaches 0.200 m below the top of it"}},
		{100.4, 0.3, "service-above", []string{"above the cover"}},
	} {
		p.Tolerance = new(m(c.zone))
		p.Legs[0].Services = []Service{{ID: "W1", Name: "water main", At: m(4), Width: mm(200), Top: new(m(c.top)), Quality: "trial hole"}}
		s := Solve(p)
		none(t, s.Findings)
		text := s.Findings.Render(measure.Metric)
		for _, want := range append(c.says, "underside of the unit at 99.200 m, top of the cover at 99.900 m") {
			if !has(s, "earthwork."+c.class) || !strings.Contains(text, want) && (strings.Contains(c.class, "in-unit") || want == c.says[0]) {
				t.Errorf("top at %v, zone %v: not %s with %q but\n%s", c.top, c.zone, c.class, want, text)
			}
		}
	}
	p.Tolerance = new(mm(100))
	p.Legs[0].Services = []Service{{Name: "cable", At: m(4), Width: mm(50)}}
	if s := Solve(p); !has(s, "earthwork.service-depth-unknown") {
		t.Error(s.Findings)
	}
	p.Legs[0].Services[0].Depth, p.Tolerance = new(mm(900)), nil
	if s := Solve(p); !has(s, "earthwork.service-in-bed") || !has(s, "none-on-file.tolerance-zone-round-recorded-services") {
		t.Error(s.Findings)
	}
}

func has(s Solution, id string) bool {
	for _, f := range s.Findings {
		if f.ID == id {
			return true
		}
	}
	return false
}

// Water, and a step beside what is set.
func TestWaterAndSteps(t *testing.T) {
	p := trench(1, Sides{Form: Vertical}, 1, 1, 10)
	second := p.Legs[0].Spans[0]
	second.From, second.To = m(10), m(20)
	for _, l := range []*Levels{&second.Start, &second.End} {
		l.Formation -= mm(300)
	}
	p.Legs[0].Line = east(20)
	p.Legs[0].Spans = append(p.Legs[0].Spans, second)
	p.Water = flat(98.8)
	s := Solve(p)
	none(t, s.Findings)
	text := s.Findings.Render(measure.Metric)
	for _, want := range []string{"water is recorded up to 0.100 m above the formation, over 10.000 m in all", "no line down from the foot of what is set"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in\n%s", want, text)
		}
	}
	p.Influence = oneTo(1)
	s = Solve(p)
	none(t, s.Findings)
	if !has(s, "earthwork.undermines") {
		t.Error(s.Findings)
	}
	near(t, "dug across the step", float64(s.Total.Dug()), 10*1+10*1.3, 1e-9)
	near(t, "deepest", s.Legs[0].Deepest.Depth.Metres(), 1.3, 1e-9)
}

func TestFabric(t *testing.T) {
	for _, c := range []struct {
		length, sheet, lap float64
		want               int
	}{{50, 50, 0.5, 1}, {50.001, 50, 0.5, 2}, {99.5, 50, 0.5, 2}, {99.501, 50, 0.5, 3}, {1, 50, 0.5, 1}} {
		if got := Sheets(m(c.length), m(c.sheet), m(c.lap)); got != c.want {
			t.Errorf("%v m in sheets of %v with laps of %v: %d, want %d", c.length, c.sheet, c.lap, got, c.want)
		}
	}
	p := trench(2, Sides{Form: Vertical}, 1, 1, 99.5)
	p.Fabric = &Fabric{Lap: m(0.5), Sheet: m(50), Up: mm(300)}
	s := Solve(p)
	near(t, "covered", s.Fabric.Covered, 99.5*2.6, 1e-9)
	near(t, "order", s.Fabric.Order, 100*2.6, 1e-9)
	part := Between(p, []Part{{0, m(10), m(40)}})
	near(t, "covered in a part", part.Fabric.Covered, 30*2.6, 1e-9)
	near(t, "stone in a part", float64(part.Total.Stone), float64(s.Total.Stone)*30/99.5, 1e-9)
	p.Fabric.Sheet = p.Fabric.Lap
	if s = Solve(p); !has(s, "earthwork.fabric") {
		t.Error(s.Findings)
	}
}

// Surfaces that reach only part of the way, sides that never end, a formation in the air: each said, with its stretch, and
// the rest still adds up.
func TestWhatTheGroundDoesNotSay(t *testing.T) {
	half := func(level float64) Ground {
		return field(nil, 5, -50, 60, 50, 100, func(_, _ float64) float64 { return level })
	}
	for want, change := range map[string]func(*Problem){
		"no finished ground on file for 5.000 m": func(p *Problem) { p.Finished = half(100.2) },
		"no rock on file for 5.000 m":            func(p *Problem) { p.Rock = half(99.5) },
		"no ground on file over the width":       func(p *Problem) { p.Ground = half(100) },
		"does not meet the ground within 250 m": func(p *Problem) {
			p.Legs[0].Spans[0].Section.Sides.Slope = oneTo(1)
			p.Ground = field(nil, -500, -500, 500, 500, 1000, func(_, n float64) float64 { return 100 + n })
		},
		"the formation lies above the ground as it is": func(p *Problem) { p.Ground = flat(98) },
	} {
		p := trench(1, Sides{Form: Sloped, Slope: oneTo(1)}, 1, 1, 10)
		change(p)
		s := Solve(p)
		none(t, s.Findings)
		if err := Check(p, &s); err != nil {
			t.Error(err)
		}
		if text := s.Findings.Render(measure.Metric); !strings.Contains(text, want) {
			t.Errorf("%q is not in\n%s", want, text)
		}
	}
	p := trench(1, Sides{Form: Sloped, Slope: oneTo(1)}, 1, 1, 10)
	p.Ground = half(100)
	near(t, "dug where there is ground", float64(Solve(p).Total.Dug()), 5*2, 1e-6)
}
