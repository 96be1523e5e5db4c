package profile

import (
	"math"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/tools/published"
)

const mm = measure.Millimetre

// straightLeg is units of one length, with limits of grade and of its change alike everywhere; nil: none.
func straightLeg(units int, length measure.Length, least, most, change *measure.Grade) Leg {
	var l Leg
	for j := range units + 1 {
		l.Joints = append(l.Joints, Joint{At: measure.Length(j) * length, Change: change, Above: 1000, Below: 1000})
		if j > 0 {
			l.Units = append(l.Units, Unit{Least: least, Most: most})
		}
	}
	return l
}

func (l *Leg) pin(joint int, metres float64) { l.Joints[joint].Pin = level(metres) }

// level is metres to the tenth of a millimetre.
func level(metres float64) *measure.Length {
	return ptr(measure.Length(math.Round(metres*1e4)) * 100 * measure.Micrometre)
}

func solved(t *testing.T, p Problem) Solution {
	t.Helper()
	s, err := Solve(p)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range Check(p, s) {
		if s.Verdict != Undecided {
			t.Errorf("the checker says: %s", f)
		}
	}
	for _, f := range s.Findings {
		for _, said := range finding.Speech(f) {
			t.Errorf("%s: %s", f, said)
		}
	}
	return s
}

// layout.md §9 case 17: z0 = 100, z2 = 100.06, units of 3 m, δ = 1 %, f1 = 100.10 → z1 = 100.045. By hand: the change at joint 1
// is (2·z1 − 200.06)/3 and at most 1 %.
func TestCase17(t *testing.T) {
	l := straightLeg(2, 3*measure.Metre, nil, nil, percent(1))
	l.pin(0, 100)
	l.pin(2, 100.06)
	l.Joints[1].Wanted = level(100.10)
	s := solved(t, Problem{Legs: []Leg{l}})
	if s.Verdict != Found || (s.Levels[0][1]-100_045*mm).Abs() > 100 { // a hair of grade is 60 nm over 3 m
		t.Errorf("%s, %v", s.Verdict, s.Levels)
	}
	if math.Abs(s.Least-55) > 1e-5 || math.Abs(s.Bound-55) > 1e-4 { // 55 mm at 1000 a metre
		t.Errorf("least %v, bound %v", s.Least, s.Bound)
	}
}

// layout.md §9 case 19: W 900, 90°, 0.5 % through the bend → lip 4.5 mm; limit 3 mm → s_in + s_out ≤ 0.667 %.
func TestCase19(t *testing.T) {
	bent := func(lip *measure.Length) Problem {
		a, b := straightLeg(10, 3*measure.Metre, nil, nil, percent(1)), straightLeg(10, 3*measure.Metre, nil, nil, percent(1))
		a.Name, b.Name = "A", "B"
		for j := range 11 {
			a.Joints[j].Wanted = ptr(100*measure.Metre + measure.Length(j)*15*mm)
			b.Joints[j].Wanted = ptr(100*measure.Metre + 150*mm + measure.Length(j)*15*mm)
		}
		return Problem{Legs: []Leg{a, b}, Step: *percent(0.05), Nodes: []Node{{Name: "bend B1", Arms: []Arm{{Leg: 0, End: true}, {Leg: 1}},
			Throughs: []Through{{In: 0, Out: 1, Change: &measure.Grade{}, Bend: &Bend{Tan: 1, Width: 900 * mm, Lip: lip}}}}}}
	}
	s := solved(t, bent(nil))
	if s.Verdict != Found || len(s.Lips) != 1 || s.Lips[0].Lip != 4500*measure.Micrometre {
		t.Errorf("%s, lips %v", s.Verdict, s.Lips)
	}
	const asked = "NOT CHECKED: no lip at a bend on file; 4.5 mm comes of these grades. Ask: whoever wrote the contract"
	if !said(s.Findings, asked) {
		t.Errorf("%v", s.Findings)
	}
	s = solved(t, bent(ptr(3*mm)))
	last := s.Runs[len(s.Runs)-1]
	for _, r := range s.Runs {
		if r.Leg == 0 && r.To == 10 {
			last = r
		}
	}
	if s.Verdict != Found || s.Lips[0].Lip > 3*mm || last.Grade.Cmp(*percent(0.3)) != 0 {
		t.Errorf("%s, lips %v, grade into the bend %v: 0.3 %% is the steepest whole step with twice it at most 0.667 %%", s.Verdict, s.Lips, last.Grade)
	}
}

func said(l finding.List, text string) bool {
	for _, f := range l {
		if strings.Contains(f.Sentence(), text) || strings.Contains(f.Text, text) {
			return true
		}
	}
	return false
}

// Impossible profiles and what is said of each: where, limit against value, what to try; the log reads them all out. The first three are layout.md §9 case 18.
func TestImpossible(t *testing.T) {
	m := measure.Metre
	node := func(p *Problem, arms []Arm, throughs ...Through) Problem {
		p.Nodes = append(p.Nodes, Node{Name: "bend B1", Arms: arms, Throughs: throughs})
		return *p
	}
	two := func(units int, least, most, change *measure.Grade) *Problem {
		a, b := straightLeg(units, 3*m, least, most, change), straightLeg(units, 3*m, least, most, change)
		a.Name, b.Name = "A", "B"
		return &Problem{Legs: []Leg{a, b}}
	}
	told := map[string]string{} // by sentence
	for _, c := range []struct {
		name, why, try string
		p              func() Problem
	}{
		{"too steep", "the levels between the pins at chainage 0.000 m and chainage 6.000 m make 0.400 m over 6.000 m: about 6.667 %, limit 5 %",
			"a pin 100 mm lower at chainage 6.000 m (100.300 m)", func() Problem {
				l := straightLeg(2, 3*m, percent(-5), percent(5), percent(1))
				l.pin(0, 100)
				l.pin(2, 100.4)
				return Problem{Legs: []Leg{l}}
			}},
		{"no room to turn", "grade 0 % from chainage 0.000 m to 3.000 m and 3 % from chainage 6.000 m to 9.000 m with one unit between: a joint may change by 1 %, 2 joints by 2 %; 2 units between would be needed",
			"a change of grade of at most 1.5 % at each joint from chainage 3.000 m to 6.000 m", func() Problem {
				l := straightLeg(3, 3*m, nil, nil, percent(1))
				l.Units[0].Least, l.Units[0].Most = percent(0), percent(0)
				l.Units[2].Least, l.Units[2].Most = percent(3), percent(3)
				return Problem{Legs: []Leg{l}}
			}},
		{"too little drop", "least fall 0.5 % up-chainage over 100.000 m makes 0.500 m, but only 0.400 m between the pins at chainage 0.000 m and chainage 100.000 m",
			"a least fall of 0.4 % up-chainage from chainage 0.000 m to 100.000 m", func() Problem {
				l := straightLeg(40, 2500*mm, nil, percent(-0.5), percent(1))
				l.pin(0, 100)
				l.pin(40, 99.6)
				return Problem{Legs: []Leg{l}}
			}},
		{"the wrong way", "least fall 0.5 % up-chainage over 30.000 m makes 0.150 m, but the level rises by 0.050 m between the pins at chainage 0.000 m and the road at chainage 30.000 m",
			"a pin 200 mm lower at the road at chainage 30.000 m (99.850 m)", func() Problem {
				l := straightLeg(10, 3*m, nil, percent(-0.5), percent(1))
				l.pin(0, 100)
				l.pin(10, 100.05)
				l.Joints[10].Name = "the road"
				return Problem{Legs: []Leg{l}}
			}},
		{"two limits of grade", "over 12.000 m the limits of grade make a fall of at least 0.090 m, but the pins at chainage 0.000 m and chainage 12.000 m make a fall of 0.040 m",
			"a pin 50 mm higher at chainage 0.000 m (100.050 m)", func() Problem {
				l := straightLeg(4, 3*m, nil, percent(-0.5), percent(2))
				l.Units[2].Most, l.Units[3].Most = percent(-1), percent(-1)
				l.pin(0, 100)
				l.pin(4, 99.96)
				return Problem{Legs: []Leg{l}}
			}},
		{"pins too near each other", "grade 0 % from chainage 0.000 m to 3.000 m and 2 % from chainage 3.000 m to 6.000 m: a joint may change by 1 %; one unit between would be needed",
			"a change of grade of at most 2 % at chainage 3.000 m", func() Problem {
				l := straightLeg(2, 3*m, nil, nil, percent(1))
				l.pin(0, 100)
				l.pin(1, 100)
				l.pin(2, 100.06)
				return Problem{Legs: []Leg{l}}
			}},
		{"nothing left of the budget", "grade 0 % from chainage 0.000 m to 3.000 m and 1 % from chainage 3.000 m to 6.000 m, but no change of grade",
			"a change of grade of at most 1 % at chainage 3.000 m", func() Problem {
				l := straightLeg(2, 3*m, nil, nil, percent(0))
				l.Units[0].Least, l.Units[0].Most = percent(0), percent(0)
				l.Units[1].Least = percent(1)
				return Problem{Legs: []Leg{l}}
			}},
		{"pinned under what is allowed", "the pin at the tank at chainage 3.000 m is at 99.500 m, 100 mm below the 99.600 m that the level there may not go under",
			"a pin 100 mm higher at the tank at chainage 3.000 m (99.600 m)", func() Problem {
				l := straightLeg(2, 3*m, nil, nil, percent(1))
				l.pin(1, 99.5)
				l.Joints[1].Low, l.Joints[1].Name = level(99.6), "the tank"
				return Problem{Legs: []Leg{l}}
			}},
		{"a service in the way", "the level at the duct at chainage 3.000 m may not go under 100.200 m and not over 100.100 m",
			"", func() Problem {
				l := straightLeg(2, 3*m, nil, nil, percent(1))
				l.Joints[1].Low, l.Joints[1].High, l.Joints[1].Name = level(100.2), level(100.1), "the duct"
				return Problem{Legs: []Leg{l}}
			}},
		{"over a service", "these cannot be met together: the pin 100.000 m at chainage 0.000 m; not below 100.300 m at the duct at chainage 6.000 m; and a fall of at most 4 % down-chainage from chainage 0.000 m to 6.000 m",
			"a lowest level 60 mm lower at the duct at chainage 6.000 m (100.240 m)", func() Problem {
				l := straightLeg(4, 3*m, percent(-4), percent(4), percent(8))
				l.pin(0, 100)
				l.Joints[2].Low, l.Joints[2].Name = level(100.3), "the duct"
				return Problem{Legs: []Leg{l}}
			}},
		{"two falls in one unit", "the unit at chainage 0.000 m is asked for a least fall of 0.5 % down-chainage and for a least fall of 0.5 % up-chainage",
			"", func() Problem {
				l := straightLeg(2, 3*m, percent(0.5), percent(-0.5), percent(1))
				return Problem{Legs: []Leg{l}}
			}},
		{"pins that meet", "the pin 100.000 m at chainage 6.000 m of leg A and the pin 100.012 m at chainage 0.000 m of leg B meet at bend B1, and are off by 12 mm there",
			"a pin 12 mm higher at chainage 6.000 m of leg A (100.012 m)", func() Problem {
				p := two(2, nil, nil, percent(1))
				p.Legs[0].pin(2, 100)
				p.Legs[1].pin(0, 100.012)
				return node(p, []Arm{{Leg: 0, End: true}, {Leg: 1}})
			}},
		{"a lip at a bend", "a lip of at most 3 mm at bend B1", "a lip of at most 9 mm at bend B1", func() Problem {
			p := two(1, percent(1), percent(2), percent(5))
			return node(p, []Arm{{Leg: 0, End: true}, {Leg: 1}}, Through{Out: 1, Change: &measure.Grade{}, Bend: &Bend{Tan: 1, Width: 900 * mm, Lip: ptr(3 * mm)}})
		}},
		{"past a casting", "a change of grade of at most 0.5 % at the mouth of bend B1, which lies at 0 %", "", func() Problem {
			p := two(1, nil, percent(-1), percent(5))
			return node(p, []Arm{{Leg: 0, End: true, Cast: &Cast{Change: percent(0.5)}}, {Leg: 1, Cast: &Cast{Change: percent(0.5)}}})
		}},
		{"across a node", "these cannot be met together: the pin 100.000 m at chainage 0.000 m of leg A; the pin 100.500 m at chainage 6.000 m of leg B; a fall of at most 4 % down-chainage from chainage 0.000 m to 6.000 m of leg A; and a fall of at most 4 % down-chainage from chainage 0.000 m to 6.000 m of leg B",
			"a pin 20 mm lower at chainage 6.000 m of leg B (100.480 m)", func() Problem {
				p := two(2, percent(-4), percent(4), percent(8))
				p.Legs[0].pin(0, 100)
				p.Legs[1].pin(2, 100.5)
				return node(p, []Arm{{Leg: 0, End: true}, {Leg: 1}})
			}},
		{"steps too high", "units at 0 % that step by at most 30 mm", "", func() Problem {
			l := straightLeg(3, 3*m, nil, nil, percent(1))
			for k := range l.Units {
				l.Units[k].Step = &Step{Most: ptr(30 * mm)}
			}
			l.pin(0, 100)
			l.pin(3, 99.8)
			return Problem{Legs: []Leg{l}}
		}},
	} {
		s := solved(t, c.p())
		t.Logf("%s: %s\n\tto try: %s", c.name, s.Why, strings.Join(s.Try, "; or "))
		if len(s.Try) == 0 {
			t.Errorf("%s: nothing is said to try", c.name)
		}
		if other, twice := told[s.Why]; twice {
			t.Errorf("%s and %s read alike: %s", other, c.name, s.Why)
		}
		told[s.Why] = c.name
		if s.Verdict != Impossible || !strings.Contains(s.Why, c.why) {
			t.Errorf("%s: %s\n got %s\nwant %s", c.name, s.Verdict, s.Why, c.why)
		}
		if c.try != "" && !strings.Contains(strings.Join(s.Try, "\n"), c.try) {
			t.Errorf("%s: nothing to try has %q in it:\n%s", c.name, c.try, strings.Join(s.Try, "\n"))
		}
	}
	if len(told) < 10 {
		t.Errorf("%d impossible profiles are told apart, ten are wanted", len(told))
	}
}

func TestImpossibleInUSWords(t *testing.T) {
	l := straightLeg(30, 10*measure.Foot/3, nil, percent(-0.5), percent(1))
	l.Joints[0].Pin, l.Joints[30].Pin = ptr(100*measure.Foot), ptr(100*measure.Foot-measure.Foot/5*2)
	s := solved(t, Problem{Legs: []Leg{l}, Words: wording.Speech{US: true, Imperial: true}})
	const want = "least fall 0.5 % up-station over 100.00 ft makes 0.50 ft, but only 0.40 ft between the pins at station 0+00 and station 1+00"
	if s.Why != want || !strings.Contains(strings.Join(s.Try, "\n"), `a pin 1 1/4"`) {
		t.Errorf("%s\nwant %s\n%q", s.Why, want, s.Try)
	}
}

// Published vertical curves, each with its source in the file.
func TestVerticalCurves(t *testing.T) {
	type curve struct {
		id, source              string
		tol                     float64
		pvi, el, g1, g2, length float64
		stations, els, turning  []float64
	}
	// published.md 3.11, the second sag (R inputs, low point computed there): PVI 74+26.50, el 772.30, -4/+2 %, L 750.
	curves := []curve{{"3.11 second", "jerrymahun soln-ss-vert-curves-1", 0.0006, 7426.5, 772.3, -4, 2, 750, []float64{7051.5, 7801.5}, []float64{787.3, 779.8}, []float64{7551.5, 777.3}}}
	for _, v := range published.Values(t, "vertical_curve", 2) {
		var in struct {
			PVI, El, L float64
			G1         float64 `json:"g1_pct"`
			G2         float64 `json:"g2_pct"`
			Stations   []float64
		}
		var want struct{ El, Turning []float64 }
		published.Decode(t, v.Input, &in)
		published.Decode(t, v.Expect, &want)
		curves = append(curves, curve{v.ID, v.Source, v.Tol, in.PVI, in.El, in.G1, in.G2, in.L, in.Stations, want.El, want.Turning})
	}
	feet := func(v float64) measure.Length { return measure.Length(math.Round(v * float64(measure.Foot))) }
	for _, v := range curves {
		c, err := CurveAt(feet(v.pvi), feet(v.el), feet(v.length), *percent(v.g1), *percent(v.g2))
		if err != nil {
			t.Fatal(err)
		}
		for k, at := range v.stations {
			if got := float64(c.At(feet(at))) / float64(measure.Foot); math.Abs(got-v.els[k]) > v.tol {
				t.Errorf("%s (%s) at %v: %.4f, published %v", v.id, v.source, at, got, v.els[k])
			}
		}
		at, el, ok := c.Turning()
		got := [2]float64{float64(at) / float64(measure.Foot), float64(el) / float64(measure.Foot)}
		if !ok || math.Abs(got[0]-v.turning[0]) > 0.006 || math.Abs(got[1]-v.turning[1]) > 0.0011 {
			t.Errorf("%s (%s): turns at %v, published %v", v.id, v.source, got, v.turning)
		}
	}
}
