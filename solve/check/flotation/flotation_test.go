package flotation

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/solve/check"
	"trenchwright/tools/published"
)

const mm = measure.Millimetre

// trough is inner 1.0 x 0.8 m, walls 100, base 120, covers 120 mm, 24 kN/m3; g is counted as 9.81 m/s2, which falls out.
func trough() *Problem {
	mass := func(kN float64) *measure.LinearMass { return new(measure.LinearMass(math.Round(kN * 1e6 / 9.81))) }
	return &Problem{Where: finding.Where{Path: "checks.flotation"}, Width: 1200 * mm, Height: 920 * mm, Inside: 1000 * mm, Deep: 800 * mm, Mass: mass(7.296), Covers: mass(3.456), From: "example",
		Water: new(920 * mm), Factor: new(1.0), FactorFrom: "example"}
}

// A trough in closed form: weight over uplift, and the water at which it floats.
func TestPublishedTrough(t *testing.T) {
	published.Hold(t, "load.trough", func(g published.Given) []float64 {
		p := trough()
		p.Water = new(measure.FromMillimetres(g.N(0)))
		s := Check(p)
		if len(s.Answers) != 2 || len(s.Marks) != 2 || len(s.Holds) != 2 {
			t.Fatalf("%+v", s)
		}
		for _, a := range s.Answers {
			if a.Verdict != finding.DoesNot {
				t.Errorf("%s: %s", a.ID, a.Verdict)
			}
		}
		force := func(name string) float64 {
			for _, w := range s.Answers[1].Working {
				if w.Name == name {
					return w.Is.SI / 1000 * 9.81 / check.Gravity
				}
			}
			t.Fatalf("no step %q", name)
			return 0
		}
		return []float64{force("weight"), force("uplift"), s.Answers[0].Value.SI, s.Answers[1].Value.SI, s.Marks[0].At.Metres(), s.Marks[1].At.Metres()}
	})
}

// What is said to hold it holds it exactly: with so much more mass, so much water inside, or the water so low, the factor is met.
func TestWhatHoldsHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := func(name string, from, to int) measure.Length {
			return measure.Length(rapid.IntRange(from, to).Draw(t, name)) * mm
		}
		p := &Problem{Width: length("width", 300, 2500), Height: length("height", 200, 2000), Mass: new(measure.LinearMass(rapid.IntRange(20_000, 3_000_000).Draw(t, "mass"))),
			Factor: new(float64(rapid.IntRange(100, 150).Draw(t, "factor")) / 100), FactorFrom: "note"}
		p.Inside, p.Deep = p.Width*8/10, p.Height*8/10
		p.Water = new(length("water", 1, 2500))
		s := Check(p)
		ratio := func(mass float64, lift float64) float64 { return mass / lift }
		for _, h := range s.Holds {
			lift, mass := p.lift(*p.Water), float64(*p.Mass)/1000
			for _, got := range []float64{ratio(mass+float64(h.Mass)/1000, lift), ratio(mass, p.lift(*h.Below))} {
				if math.Abs(got-*p.Factor) > 1e-3 {
					t.Fatalf("with what holds it the factor is %.5f, asked %.2f: %+v", got, *p.Factor, h)
				}
			}
			if h.Flooded != nil {
				if got := ratio(mass+p.density()*p.Inside.Metres()*h.Flooded.Metres(), lift); math.Abs(got-*p.Factor) > 1e-6 {
					t.Fatalf("flooded: %.6f", got)
				}
			}
		}
		if met := s.Answers[0].Verdict == finding.Meets; met == (len(s.Holds) > 0) {
			t.Fatalf("%s, and %d ways to hold it", s.Answers[0].Verdict, len(s.Holds))
		}
	})
}

// Nobody entered a factor: it is not checked, unless it floats whatever the factor is. The level at which it floats is told all the same.
func TestNothingInvented(t *testing.T) {
	p := trough()
	p.Factor, p.Water = nil, new(500*mm)
	s := Check(p)
	if a := s.Answers[0]; a.Verdict != "" || !strings.Contains(a.Sentence(p.Words), "NOT CHECKED: no factor against floating on file. Ask: the engineer") {
		t.Errorf("%+v", a)
	}
	p.Water = new(900 * mm)
	if a := Check(p).Answers[0]; a.Verdict != finding.DoesNot || a.Limit.SI != 1 {
		t.Errorf("%+v", a)
	}
	p.Water = nil
	if s := Check(p); s.Answers[0].Verdict != "" || s.Marks[0].At == nil || len(s.Answers[0].Missing) != 2 {
		t.Errorf("%+v", s)
	}
	p.Mass = nil
	if s := Check(p); len(s.Answers) != 0 || !s.Findings.Any(finding.NotChecked) {
		t.Errorf("%+v", s)
	}
}

// Within what the level of the water is good for, nobody can say.
func TestWithinItsUncertainty(t *testing.T) {
	p := trough()
	p.Factor, p.Water, p.WaterPlus = new(1.10), new(560*mm), 0
	if v := Check(p).Answers[0].Verdict; v != finding.Meets {
		t.Error(v)
	}
	p.WaterPlus = 10 * mm
	if v := Check(p).Answers[0].Verdict; v != finding.CannotSay {
		t.Error(v)
	}
}

// What cannot be is refused in a sentence, and nothing is computed.
func TestWhatCannotBe(t *testing.T) {
	for name, spoil := range map[string]func(*Problem){
		"no width": func(p *Problem) { p.Width = 0 }, "inside wider": func(p *Problem) { p.Inside = 1300 * mm }, "no mass": func(p *Problem) { p.Mass = new(measure.LinearMass(0)) },
		"negative water": func(p *Problem) { p.Water = new(-5 * mm) }, "factor": func(p *Problem) { p.Factor = new(0.5) }, "no number": func(p *Problem) { p.Factor = new(math.NaN()) },
		"oil": func(p *Problem) { p.Density = 800 },
	} {
		p := trough()
		spoil(p)
		if s := Check(p); len(s.Answers) > 0 || !s.Findings.Any(finding.Fault) {
			t.Errorf("%s: %+v", name, s)
		} else if err := finding.Speech(s.Findings[0]); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}
