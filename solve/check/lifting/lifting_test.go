package lifting

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

// Source: rigging tables, published values 5.1 (status R): factors of the angle; 10,000 lb on two legs. Tables print 1.555 for 40 and
// 1.742 for 35 deg, and 1.104 where 65 deg comes to 1.1034: roundings of theirs.
func TestSlingFactors(t *testing.T) {
	for deg, want := range map[float64]float64{90: 1, 85: 1.004, 80: 1.015, 75: 1.035, 70: 1.064, 65: 1.104, 60: 1.155, 55: 1.221, 50: 1.305, 45: 1.414, 40: 1.556, 35: 1.743, 30: 2} {
		p := problem(10000)
		p.Sling = &Sling{Legs: 2, Angle: degrees(deg), Limit: pounds(20000)}
		a := one(t, Check(p), "lifting.leg")
		if got := a.Value.SI / lb / 5000; math.Abs(got-want) > 0.0007 {
			t.Errorf("%v deg: %.4f, want %.3f", deg, got, want)
		}
	}
	for deg, want := range map[float64]float64{90: 5000, 60: 5774, 45: 7071, 30: 10000} {
		p := problem(10000)
		p.Sling = &Sling{Legs: 2, Angle: degrees(deg), Limit: pounds(7071)}
		a := one(t, Check(p), "lifting.leg")
		if got := a.Value.SI / lb; math.Abs(got-want) > 0.6 {
			t.Errorf("%v deg: %.1f lb, want %.0f", deg, got, want)
		}
		if meets := a.Verdict == finding.Meets; meets != (want < 7071) {
			t.Errorf("%v deg: %s", deg, a.Sentence(p.Words))
		}
	}
	// 5.3, by the lengths: 2,400 lb on two legs of 120 in, hook 96 in up: 1,500 lb.
	p := problem(2400)
	p.Sling = &Sling{Legs: 2, Spread: feet(2 * math.Sqrt(120*120-96*96) / 12), Height: feet(8), Limit: pounds(2000)}
	if got := one(t, Check(p), "lifting.leg").Value.SI / lb; math.Abs(got-1500) > 0.1 {
		t.Errorf("by lengths: %.2f lb, want 1500", got)
	}
}

// Source: the chain of checks 5.10 (closed form): 8 kN on two legs at 60 deg 4.62 kN a leg, times 1.25 5.77; four legs of a rigid piece
// count as two.
func TestChainOfChecks(t *testing.T) {
	p := &Problem{Where: finding.Where{Path: "lift"}, Mass: new(measure.Mass(math.Round(8e6 / check.Gravity))), Sling: &Sling{Legs: 4, Angle: degrees(60), Limit: new(1000 * kg)}}
	for more, want := range map[float64]float64{1: 4.62, 1.25: 5.77} {
		p.More = &more
		if got := one(t, Check(p), "lifting.leg").Value.SI * check.Gravity / 1000; math.Abs(got-want) > 0.005 {
			t.Errorf("x %v: %.3f kN, want %.2f", more, got, want)
		}
	}
	p.Sling.Equalised = true
	if got := one(t, Check(p), "lifting.leg").Value.SI * check.Gravity / 1000; math.Abs(got-5.77/2) > 0.01 && math.Abs(got-4.62/2) > 0.01 {
		t.Errorf("equalised: %.3f kN", got)
	}
}

// Source: formula of a shipping handbook, published values 5.5 (status R, C): 10,000 lb, 8 and 2 ft, hook 6 ft up: 3,333 and 8,433 lb.
// And its example whose lengths cannot be is refused.
func TestUnequalLegs(t *testing.T) {
	for _, v := range published.Values(t, "two_leg", 1) {
		var in struct{ W, D1, D2, H float64 }
		var want struct{ T1, T2 float64 }
		published.Decode(t, v.Input, &in)
		published.Decode(t, v.Expect, &want)
		p := problem(in.W)
		p.Sling = &Sling{Legs: 2, Spread: feet(in.D1 + in.D2), Near: feet(in.D1), Height: feet(in.H), Limit: pounds(9000)}
		a := one(t, Check(p), "lifting.leg")
		if got := a.Value.SI / lb; math.Abs(got-want.T2) > 0.5 || a.Verdict != finding.Meets {
			t.Errorf("%.2f lb, want %.2f; %s", got, want.T2, a.Verdict)
		}
	}
	p := problem(4000)
	p.Sling = &Sling{Legs: 2, Spread: feet(12), Near: feet(2), Height: feet(3), Lengths: [2]measure.Length{*feet(4), *feet(14)}, Limit: pounds(9000)}
	if s := Check(p); len(s.Answers) > 0 || !s.Findings.Any(finding.Fault) {
		t.Errorf("lengths that cannot be: %+v", s)
	}
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

// Source: ANSI B18.15, published values 5.8 (status R): the lower of it and of the table that suppliers print.
func TestEyebolts(t *testing.T) {
	for _, c := range []struct {
		size     measure.Length
		deg, lbs float64
	}{
		{measure.Inch / 2, 0, 1840}, {measure.Inch / 2, 30, 850}, {measure.Inch / 2, 45, 520}, {measure.Inch / 2, 90, 440}, {measure.Inch, 90, 0.25 * 7880}, {measure.Inch, 60, 0.25 * 7880},
		{measure.Inch / 4, 60, 0}, {3 * measure.Inch / 8, 90, 180},
	} {
		got, ok := Eyebolt(c.size, c.deg)
		if !ok || math.Abs(got-c.lbs) > 1e-9 {
			t.Errorf("%v at %v deg: %v, want %v", c.size, c.deg, got, c.lbs)
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
	for n, want := range map[int]float64{1: 0, 2: 0.2, 3: 1.0 / 3, 4: 0.5, 6: 0.5} {
		if got := Reserve(n); got != want {
			t.Errorf("%d machines keep %v free, want %v", n, got, want)
		}
	}
	p.Tackle = nil
	if a := one(t, Check(p), "lifting.pick"); a.Verdict != "" || len(a.Missing) != 1 {
		t.Errorf("without tackle: %+v", a.Missing)
	}
}

// Source: 29 CFR 1926.1408 Table A, published values 1.8 (status R): the upper bound of each line is in it.
func TestOverhead(t *testing.T) {
	for kv, ft := range map[float64]float64{0.4: 10, 50: 10, 50.1: 15, 200: 15, 200.1: 20, 350: 20, 350.1: 25, 500: 25, 500.1: 35, 750: 35, 750.1: 45, 1000: 45} {
		if got, ok := Clearance(kv); !ok || got != *feet(ft) {
			t.Errorf("%v kV: %v, want %v ft", kv, got, ft)
		}
	}
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

// Source: 29 CFR 1910.178 as a federal guide works it, published values 5.7 (status R).
func TestTruck(t *testing.T) {
	for _, c := range [][4]float64{{5000, 24, 28, 4285.71}, {4000, 24, 36, 2666.67}, {7500, 20, 30, 5000}, {5000, 24, 30, 4000}, {5000, 24, 20, 5000}} {
		if got := Keeps(c[0], c[1], c[2]); math.Abs(got-c[3]) > 0.01 {
			t.Errorf("%v: %.2f", c, got)
		}
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
