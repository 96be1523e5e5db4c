package lifting

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/solve/check"
	"trenchwright/tools/published"
)

const (
	mm = measure.Millimetre
	kg = measure.Kilogram
)

func pounds(lb float64) *measure.Mass { return new(measure.Mass(math.Round(lb * 453.59237))) }

func feet(ft float64) *measure.Length { return new(measure.FromMetres(ft * 0.3048)) }

func degrees(d float64) *measure.Angle { return new(measure.FromDegrees(d)) }

func problem(lb float64) *Problem {
	return &Problem{Where: finding.Where{Path: "lift"}, Mass: pounds(lb), From: "drawing"}
}

// one is the answer of an id.
func one(t *testing.T, s Solution, id string) check.Answer {
	t.Helper()
	for _, a := range s.Answers {
		if a.ID == id {
			return a
		}
	}
	t.Fatalf("no answer %s: %+v", id, s.Findings)
	return check.Answer{}
}

const lb = 0.45359237

// The factors that rigging tables print, by angles and by lengths; and what a limit between them says.
func TestSlingFactors(t *testing.T) {
	leg := func(lbs float64, sling Sling) check.Answer {
		p := problem(lbs)
		sling.Legs, sling.Limit = 2, pounds(7071)
		p.Sling = &sling
		return one(t, Check(p), "lifting.leg")
	}
	published.Hold(t, "lifting.factor", func(g published.Given) []float64 {
		return []float64{leg(10000, Sling{Angle: degrees(g.N(0))}).Value.SI / lb / 5000}
	})
	published.Hold(t, "lifting.included", func(g published.Given) []float64 {
		return []float64{leg(10000, Sling{Angle: degrees(90 - g.N(0)/2)}).Value.SI / lb / 5000}
	})
	published.Hold(t, "lifting.legs", func(g published.Given) []float64 {
		a := leg(10000, Sling{Angle: degrees(g.N(0))})
		if meets := a.Verdict == finding.Meets; meets != (g.N(0) > 45) {
			t.Errorf("%s deg: %s", g[0], a.Sentence(problem(1).Words))
		}
		return []float64{a.Value.SI / lb}
	})
	published.Hold(t, "lifting.lengths", func(g published.Given) []float64 {
		return []float64{leg(g.N(0), Sling{Spread: feet(2 * math.Sqrt(g.N(1)*g.N(1)-g.N(2)*g.N(2)) / 12), Height: feet(g.N(2) / 12)}).Value.SI / lb}
	})
}

// A chain of checks by statics; four legs of a rigid piece count as two.
func TestChainOfChecks(t *testing.T) {
	p := &Problem{Where: finding.Where{Path: "lift"}, Mass: new(measure.Mass(math.Round(8e6 / check.Gravity))), Sling: &Sling{Legs: 4, Angle: degrees(60), Limit: new(1000 * kg)}}
	published.Hold(t, "lifting.chain", func(g published.Given) []float64 {
		p.More = new(g.N(0))
		return []float64{one(t, Check(p), "lifting.leg").Value.SI * check.Gravity / 1000}
	})
	p.Sling.Equalised = true
	p.More = nil
	if got := one(t, Check(p), "lifting.leg").Value.SI * check.Gravity / 1000; math.Abs(got-4.62/2) > 0.01 {
		t.Errorf("equalised: %.3f kN", got)
	}
}

// A shipping handbook's formula; its own example, whose lengths cannot be, is refused.
func TestUnequalLegs(t *testing.T) {
	published.Hold(t, "lifting.unequal", func(g published.Given) []float64 {
		p := problem(g.N(0))
		p.Sling = &Sling{Legs: 2, Spread: feet(g.N(1) + g.N(2)), Near: feet(g.N(1)), Height: feet(g.N(3)), Limit: pounds(9000)}
		a := one(t, Check(p), "lifting.leg")
		legs := map[string]float64{}
		for _, w := range a.Working {
			legs[w.Name] = w.Is.SI / lb
		}
		if a.Verdict != finding.Meets || a.Value.SI/lb != legs["second leg"] {
			t.Error(a.Sentence(p.Words))
		}
		return []float64{legs["first leg"], legs["second leg"]}
	})
	published.Hold(t, "lifting.unequal-wrong", func(g published.Given) []float64 {
		p := problem(g.N(0))
		p.Sling = &Sling{Legs: 2, Spread: feet(g.N(3) + g.N(4)), Near: feet(g.N(3)), Height: feet(g.N(5)), Lengths: [2]measure.Length{*feet(g.N(1)), *feet(g.N(2))}, Limit: pounds(9000)}
		s := Check(p)
		if len(s.Answers) == 0 && s.Findings.Any(finding.Fault) {
			return []float64{math.NaN()}
		}
		return []float64{s.Answers[0].Value.SI}
	})
}

// Both legs together hold the load up and pull evenly to both sides, whatever the geometry.
func TestLegsInBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spread := float64(rapid.IntRange(400, 6000).Draw(t, "spread")) / 1000
		near := spread * float64(rapid.IntRange(20, 80).Draw(t, "near")) / 100
		height := max(near, spread-near) * float64(rapid.IntRange(60, 300).Draw(t, "height")) / 100
		p := &Problem{Where: finding.Where{Path: "lift"}, Mass: new(1000 * kg), Sling: &Sling{Legs: 2, Spread: new(measure.FromMetres(spread)), Near: new(measure.FromMetres(near)), Height: new(measure.FromMetres(height)), Limit: new(9999 * kg)}}
		s := Check(p)
		if len(s.Answers) == 0 {
			t.Fatalf("%v", s.Findings)
		}
		var first, second float64
		for _, w := range s.Answers[0].Working {
			switch w.Name {
			case "first leg":
				first = w.Is.SI
			case "second leg":
				second = w.Is.SI
			}
		}
		if first == 0 {
			return // half way: one formula serves both
		}
		a, b := near, spread-near
		up := first*height/math.Hypot(height, a) + second*height/math.Hypot(height, b)
		side := first*a/math.Hypot(height, a) - second*b/math.Hypot(height, b)
		if math.Abs(up-1000) > 1e-6 || math.Abs(side) > 1e-6 {
			t.Fatalf("%.6f kg up, %.6f kg to a side", up, side)
		}
	})
}

// ANSI B18.15 and the table that suppliers print: at its own angles an eyebolt has what both leave it.
func TestEyebolts(t *testing.T) {
	at := func(size, deg float64) float64 {
		lbs, ok := Eyebolt(measure.FromMillimetres(size*25.4), deg)
		if !ok {
			t.Errorf("no eyebolt of %v in", size)
		}
		return lbs
	}
	shares := map[float64]float64{}
	published.Hold(t, "lifting.eyebolt-generic", func(g published.Given) []float64 {
		for _, row := range generic {
			if row.deg == g.N(0) {
				shares[row.deg] = row.share
				return []float64{row.share}
			}
		}
		return nil
	})
	published.Hold(t, "lifting.eyebolt", func(g published.Given) []float64 {
		for _, e := range eyebolts {
			if math.Abs(e.size.Millimetres()-g.N(0)*25.4) < 1e-9 {
				for i, deg := range []float64{0, 30, 60, 90} {
					share := shares[90]
					if deg == 0 || deg == 30 {
						share = map[float64]float64{0: shares[5], 30: shares[30]}[deg]
					}
					if got := at(g.N(0), deg); math.Abs(got-min(e.lb[i], share*e.lb[0])) > 1e-9 {
						t.Errorf("%s in at %v deg: %v", g[0], deg, got)
					}
				}
				return e.lb[:]
			}
		}
		return nil
	})
	for _, c := range [][3]float64{{0.5, 45, 520}, {0.5, 31, 520}, {1, 90, 0.25 * 7880}, {1, 60, 0.25 * 7880}, {0.375, 90, 180}} {
		if got := at(c[0], c[1]); math.Abs(got-c[2]) > 1e-9 {
			t.Errorf("%v in at %v deg: %v, want %v", c[0], c[1], got, c[2])
		}
	}
	if _, ok := Eyebolt(7*mm, 0); ok {
		t.Error("an eyebolt of 7 mm is on file")
	}
	p := problem(1500)
	p.Sling = &Sling{Legs: 2, Angle: degrees(60), Limit: pounds(2000), Point: pounds(5000), PointFrom: "drawing", Eyebolt: new(measure.Inch / 2)}
	if a := one(t, Check(p), "lifting.point"); a.Verdict != finding.DoesNot || math.Abs(a.Limit.SI/lb-850) > 1e-6 || !a.Stop {
		t.Errorf("%s", a.Sentence(p.Words))
	}
}

// Between two lines in proportion, beyond the ends nothing; above the next line outwards the chart itself has to say.
func TestChart(t *testing.T) {
	p := &Problem{Where: finding.Where{Path: "lift"}, Mass: new(2000 * kg), Tackle: new(100 * kg),
		Machine: &Machine{Chart: []Row{{3000 * mm, 5000 * kg}, {4000 * mm, 3600 * kg}, {6000 * mm, 2000 * kg}}, From: "chart 7", Pick: new(3500 * mm), Set: new(5000 * mm)}}
	s := Check(p)
	if a := one(t, s, "lifting.pick"); a.Limit.SI != 4300 || a.Value.SI != 2100 || a.Verdict != finding.Meets {
		t.Errorf("%s", a.Sentence(p.Words))
	}
	if a := one(t, s, "lifting.set"); a.Limit.SI != 2800 || a.Verdict != finding.CannotSay {
		t.Errorf("%s", a.Sentence(p.Words))
	}
	p.Machine.Set = new(6001 * mm)
	if a := one(t, Check(p), "lifting.set"); a.Verdict != "" || !strings.Contains(a.NotChecked(), "nothing is read beyond it") {
		t.Errorf("%+v", a)
	}
	p.Machine.Set, p.Machine.Shared = new(4000*mm), 2
	if a := one(t, Check(p), "lifting.set"); math.Abs(a.Limit.SI-2880) > 1e-9 || a.Verdict != finding.Meets {
		t.Errorf("%s", a.Sentence(p.Words))
	}
	published.Hold(t, "lifting.shared", func(g published.Given) []float64 { return []float64{Reserve(int(g.N(0)))} })
	p.Tackle = nil
	if a := one(t, Check(p), "lifting.pick"); a.Verdict != "" || len(a.Missing) != 1 {
		t.Errorf("without tackle: %+v", a.Missing)
	}
}

// 29 CFR 1926.1408 Table A: the upper bound of each line is in it.
func TestOverhead(t *testing.T) {
	published.Hold(t, "lifting.overhead", func(g published.Given) []float64 {
		got, ok := Clearance(g.N(0))
		if !ok {
			return []float64{math.NaN()}
		}
		return []float64{got.Metres() / 0.3048}
	})
	p := problem(1000)
	for _, c := range []struct {
		kv, ft float64
		want   finding.Verdict
	}{{50, 10, finding.Meets}, {50, 9.99, finding.DoesNot}, {1001, 200, ""}} {
		p.Overhead = &Overhead{Kilovolts: &c.kv, Distance: feet(c.ft)}
		if a := one(t, Check(p), "lifting.overhead"); a.Verdict != c.want || !a.Stop {
			t.Errorf("%v kV, %v ft: %s", c.kv, c.ft, a.Sentence(p.Words))
		}
	}
	p.Overhead = &Overhead{Distance: feet(30)}
	if a := one(t, Check(p), "lifting.overhead"); a.Verdict != "" || a.Missing[0].Ask != "the owner of the line" {
		t.Errorf("%+v", a)
	}
}

// Force over area, worked by hand: 80 kN on 1 m x 0.8 m is 100 kPa; 17,984.72 lbf on 3.28084 ft x 2.624672 ft the same.
func TestGround(t *testing.T) {
	kN := func(n float64) *check.Quantity { return new(check.Force.Of(n * 1000)) }
	kPa := func(n float64) *check.Quantity { return new(check.Pressure.Of(n * 1000)) }
	pad := &[2]measure.Length{1000 * mm, 800 * mm}
	p := problem(1000)
	for _, c := range []struct {
		g    Ground
		want finding.Verdict
		asks []string // whom
	}{
		{Ground{Reaction: kN(80), Pad: pad, Allows: kPa(100)}, finding.Meets, nil},
		{Ground{Reaction: kN(80.001), Pad: pad, Allows: kPa(100)}, finding.DoesNot, nil},
		{Ground{Pressure: kPa(60), Allows: kPa(60)}, finding.Meets, nil},
		{Ground{Pressure: kPa(61), Allows: kPa(60)}, finding.DoesNot, nil},
		{Ground{Reaction: kN(80), Allows: kPa(100)}, "", []string{planner}},
		{Ground{Pad: pad, Allows: kPa(100)}, "", []string{"the owner of the machine"}},
		{Ground{Reaction: kN(80), Pad: pad}, "", []string{groundEngineer}},
		{Ground{}, "", []string{"the owner of the machine", groundEngineer}},
	} {
		p.Ground = &c.g
		a := one(t, Check(p), "lifting.ground")
		var asks []string
		for _, m := range a.Missing {
			asks = append(asks, m.Ask)
		}
		if a.Verdict != c.want || a.Stop || !slices.Equal(asks, c.asks) {
			t.Errorf("%+v: %s, asks %q", c.g, a.Sentence(p.Words), asks)
		}
		if c.g.Reaction != nil && c.g.Pad != nil && math.Abs(a.Working[1].Is.SI-c.g.Reaction.SI/0.8) > 1e-6 {
			t.Errorf("%+v", a.Working)
		}
	}
}

// 29 CFR 1910.178 as a federal guide works it; nearer by it keeps no more than it is rated for.
func TestTruck(t *testing.T) {
	published.Hold(t, "lifting.truck", func(g published.Given) []float64 { return []float64{Keeps(g.N(0), g.N(1), g.N(2))} })
	if got := Keeps(5000, 24, 20); got != 5000 {
		t.Errorf("nearer by it keeps %v", got)
	}
	p := problem(4200)
	p.Truck = &Truck{Rated: pounds(5000), RatedAt: feet(2), At: feet(2.5), From: "plate"}
	if a := one(t, Check(p), "lifting.truck"); a.Verdict != finding.DoesNot {
		t.Errorf("%s", a.Sentence(p.Words))
	}
	p.Mass = pounds(3000)
	if a := one(t, Check(p), "lifting.truck"); a.Verdict != finding.CannotSay {
		t.Errorf("%s", a.Sentence(p.Words))
	}
}

// What people may carry is what whoever assessed it entered, and nothing else.
func TestHand(t *testing.T) {
	p := &Problem{Where: finding.Where{Path: "lift"}, Mass: new(96 * kg), Hand: &Hand{People: 4}}
	if a := one(t, Check(p), "lifting.hand"); a.Verdict != "" {
		t.Errorf("%s", a.Sentence(p.Words))
	}
	for each, want := range map[measure.Mass]finding.Verdict{24 * kg: finding.Meets, 23 * kg: finding.DoesNot} {
		p.Hand.Each = &each
		if a := one(t, Check(p), "lifting.hand"); a.Verdict != want {
			t.Errorf("%s", a.Sentence(p.Words))
		}
	}
}

// What cannot be is refused in a sentence, and nothing is worked out of it.
func TestWhatCannotBe(t *testing.T) {
	for name, spoil := range map[string]func(*Problem){
		"no mass":     func(p *Problem) { p.Mass = new(measure.Mass(0)) },
		"flat legs":   func(p *Problem) { p.Sling.Angle = degrees(29.9) },
		"five legs":   func(p *Problem) { p.Sling.Legs = 5 },
		"beyond":      func(p *Problem) { p.Sling.Spread, p.Sling.Near = feet(4), feet(5) },
		"chart rises": func(p *Problem) { p.Machine = &Machine{Chart: []Row{{3000 * mm, 2000 * kg}, {4000 * mm, 2100 * kg}}} },
		"chart back":  func(p *Problem) { p.Machine = &Machine{Chart: []Row{{3000 * mm, 2000 * kg}, {3000 * mm, 1900 * kg}}} },
		"movement":    func(p *Problem) { p.More = new(0.9) },
		"voltage":     func(p *Problem) { p.Overhead = &Overhead{Kilovolts: new(-1.0)} },
		"nobody":      func(p *Problem) { p.Hand = &Hand{} },
		"no pad":      func(p *Problem) { p.Ground = &Ground{Pad: &[2]measure.Length{0, mm}} },
		"no force":    func(p *Problem) { p.Ground = &Ground{Reaction: new(check.Force.Of(0))} },
		"no forks":    func(p *Problem) { p.Truck = &Truck{At: feet(0)} },
	} {
		p := problem(1000)
		p.Sling = &Sling{Legs: 2, Angle: degrees(60), Limit: pounds(1000)}
		spoil(p)
		s := Check(p)
		if len(s.Answers) > 0 || !s.Findings.Any(finding.Fault) {
			t.Errorf("%s: %+v", name, s)
			continue
		}
		for _, f := range s.Findings {
			if err := finding.Speech(f); err != nil {
				t.Errorf("%s: %v", name, err)
			}
		}
	}
	p := problem(1)
	p.Mass = nil
	if s := Check(p); len(s.Answers) > 0 || !s.Findings.Any(finding.NotChecked) || !strings.Contains(s.Findings[1].Text, "Hard stop") {
		t.Errorf("%+v", s)
	}
}
