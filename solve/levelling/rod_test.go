package levelling

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/place/route"
	"trenchwright/tools/published"
)

func TestRodReadings(t *testing.T) {
	hi := InstrumentAt(101_350 * mm)
	got, said := RodReadings(hi, 4*measure.Metre, []Target{{Name: "a", Level: 100_550 * mm}, {Name: "b", Level: 97_000 * mm}, {Name: "c", Level: 101_400 * mm}})
	if got[0].Reading != 800*mm || !got[0].Seen || got[1].Seen || got[2].Seen || len(said) != 2 {
		t.Errorf("%+v\n%s", got, said.Render(measure.Metric))
	}
	spoken(t, said)
	// A plane of 0.5 % rising to the east (closed form): 40 m east it is 0.2 m higher, north it is level, back west lower.
	p := Plane{At: route.Point{E: 10, N: 20}, Level: 100 * measure.Metre, Grade: measure.Grade{Rise: 5, Run: 1000}, Towards: 90 * measure.Degree}
	for at, want := range map[route.Point]measure.Length{{E: 50, N: 20}: 100_200 * mm, {E: 10, N: 99}: 100_000 * mm, {E: -10, N: 0}: 99_900 * mm} {
		if got := p.LevelAt(at); got != want {
			t.Errorf("at %v: %s, want %s", at, got, want)
		}
	}
	if _, said := RodReadings(Plane{Grade: measure.Grade{Rise: 1}}, 0, nil); len(said) != 1 {
		t.Error("a wall is no plane")
	}
}

func gradeLine(levels ...measure.Length) GradeLine {
	g := GradeLine{Wall: LeftWall, Beam: 1_500 * mm}
	for i, l := range levels {
		g.Joints = append(g.Joints, GradeJoint{Name: string(rune('a' + i)), Chainage: measure.Length(i) * 3010 * mm, Level: l * mm})
	}
	return g
}

func TestOneReadingForAGrade(t *testing.T) {
	g := gradeLine(100_000, 100_015, 100_030, 100_045)
	g.Tolerance = new(3 * mm)
	s, said := g.Set()
	none(t, said)
	if s.Reading != 1_500*mm || s.From != "a" || s.To != "d" || s.Laser != "a" || !s.Up || s.Dial.Cmp(measure.Grade{Rise: 45, Run: 9030}) != 0 || s.Off[s.Worst] != 0 || s.Verdict != Meets {
		t.Errorf("%+v", s)
	}
	// 45/9030 is 0.4983 %; a dial of 0.01 % takes 0.50 %, which is 0.15 mm off at the far end (closed form: 0.005·9030 − 45).
	g.DialStep, g.AtLast = measure.Grade{Rise: 1, Run: 10_000}, true
	s, said = g.Set()
	none(t, said)
	if s.Laser != "d" || s.Up || s.Dial.Percent(2) != "-0.50 %" || s.Worst != 0 || s.Off[0] != -150*measure.Micrometre {
		t.Errorf("%+v", s)
	}
	g.Tolerance = new(100 * measure.Micrometre)
	if s, _ = g.Set(); s.Verdict != DoesNot {
		t.Error(s.Verdict)
	}
	g.Tolerance = nil
	if s, _ = g.Set(); s.Verdict != CannotSay || s.Missing == nil {
		t.Error(s.Verdict)
	}
	spoken(t, finding.List{*s.Missing})
	for _, bad := range []GradeLine{gradeLine(1), gradeLine(0, 0), gradeLine(0, 4000), gradeLine(0, math.MaxInt64/1_000_000)} {
		if bad.Joints[0].Level == 0 && len(bad.Joints) == 2 && bad.Joints[1].Level == 0 {
			bad.Beam = -1
		}
		_, said := bad.Set()
		if len(said) != 1 {
			t.Errorf("%+v was set", bad)
		}
		spoken(t, said)
	}
}

func TestPegs(t *testing.T) {
	f := Figures{Unit: measure.UnitMetre, Places: 3}
	for want, m := range map[string]Mark{
		"↓ cut 1.234 m":        FromPeg(101_234*mm, 100_000*mm),
		"↑ fill 0.300 m":       FromPeg(100_000*mm, 100_300*mm),
		"= level with the peg": FromPeg(5, 5),
		"→ right 2.000 m":      SideOf(2 * measure.Metre),
		"← left 2.000 m":       SideOf(-2 * measure.Metre),
		"= on the line":        SideOf(0),
	} {
		if got := m.Words(f); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	// Looking east, right is south.
	row := SetOutPeg(route.Origin{E: 400_000 * measure.Metre, N: 200_000 * measure.Metre}, 1, Station{Name: "A-001/A-002", At: route.Point{E: 10}, Bearing: 90 * measure.Degree}, 2*measure.Metre, new(101*measure.Metre),
		[]Wanted{{"pad top", 100_250 * mm}})
	if row.Peg != (route.Coordinates{E: 400_010 * measure.Metre, N: 199_998 * measure.Metre}) || row.Line.Way != Left || row.Levels[0].Mark.Words(f) != "↓ cut 0.750 m" {
		t.Errorf("%+v", row)
	}
	if row = SetOutPeg(route.Origin{}, 1, Station{}, 0, nil, []Wanted{{"bed", 0}}); row.Levels[0].Mark != nil {
		t.Error("a peg that nobody levelled has a mark")
	}
}

// A plane through three of four corners shows what rock and packers are (closed form, in whole millimetres).
func TestRockAgainstPlanes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var c Corners
		for i := range c {
			c[i] = measure.Length(rapid.IntRange(-30, 30).Draw(t, "corner")) * mm
		}
		r := RockOf(c)
		opposite := map[Corner]Corner{NearLeft: FarRight, FarRight: NearLeft, NearRight: FarLeft, FarLeft: NearRight}
		if opposite[r.High[0]] != r.High[1] || opposite[r.Low[0]] != r.Low[1] {
			t.Fatalf("%+v", r)
		}
		// Lying on the high diagonal and one low corner, the unit stands over the other low corner by OnOne.
		over := c[r.High[0]] + c[r.High[1]] - c[r.Low[0]] - c[r.Low[1]]
		if over != r.OnOne || over < 0 || r.OnBoth[0]+r.OnBoth[1] != r.OnOne {
			t.Fatalf("air %s, packer %s", over, r.OnOne)
		}
		packed := c
		packed[r.Low[0]] += r.OnBoth[0]
		packed[r.Low[1]] += r.OnBoth[1]
		if RockOf(packed).Twist != 0 {
			t.Fatal("it rocks on its packers")
		}
		// The fit is least: along all three directions in which a plane can move, the residuals balance.
		at := Corners{r.Fit.Middle - (r.Fit.Along+r.Fit.Across)/2, r.Fit.Middle + (r.Fit.Across-r.Fit.Along)/2, r.Fit.Middle + (r.Fit.Along-r.Fit.Across)/2, r.Fit.Middle + (r.Fit.Along+r.Fit.Across)/2}
		var v Corners
		for i := range v {
			v[i] = c[i] - at[i]
		}
		if v[0]+v[1]+v[2]+v[3] != 0 || v[0]+v[1] != v[2]+v[3] || v[0]+v[2] != v[1]+v[3] || v[0].Abs() != r.Fit.Off {
			t.Fatalf("residuals %v of %v", v, c)
		}
	})
	r := RockOf(Corners{10 * mm, 6 * mm, 8 * mm, 10 * mm})
	if r.High != [2]Corner{NearLeft, FarRight} || r.OnOne != 6*mm || r.OnBoth != [2]measure.Length{3 * mm, 3 * mm} || r.Low[0] != NearRight {
		t.Errorf("%+v", r)
	}
}

// Tolerances added up at worst and as the root of the sum of squares; the bias of a lot is added whole.
func TestStackAsPublished(t *testing.T) {
	one := func(x measure.Length, n int) Allowance {
		return Allowance{Name: "x", Ask: "the supplier", Each: &x, Count: n}
	}
	add := func(limit measure.Length, parts ...Allowance) Stack {
		s, said := Add(parts, &limit)
		none(t, said)
		return s
	}
	published.Hold(t, "stack.equal", func(g published.Given) []float64 {
		var parts []Allowance
		for range int(g.N(0)) {
			parts = append(parts, one(units(g.N(1)), 1))
		}
		s := add(0, parts...)
		return []float64{s.Worst.Metres(), s.RSS.Metres()}
	})
	published.Hold(t, "stack.mixed", func(g published.Given) []float64 {
		s := add(0, one(units(g.N(0)), 1), one(units(g.N(1)), 1), one(units(g.N(2)), 1), one(units(g.N(3)), 1))
		return []float64{s.Worst.Metres(), s.RSS.Metres()}
	})
	var run []Allowance
	published.Hold(t, "stack.run", func(g published.Given) []float64 {
		run = []Allowance{one(measure.FromMillimetres(g.N(1)), int(g.N(0))), one(measure.FromMillimetres(g.N(3)), int(g.N(2)))}
		s := add(0, run...)
		return []float64{s.Worst.Millimetres(), s.RSS.Millimetres()}
	})
	published.Hold(t, "stack.bias", func(g published.Given) []float64 {
		bias := one(measure.FromMillimetres(g.N(1)), int(g.N(0)))
		bias.Bias = true
		s := add(0, bias)
		return []float64{s.Worst.Millimetres(), s.RSS.Millimetres()}
	})
	for want, limit := range map[Verdict]measure.Length{Meets: 248 * mm, CannotSay: 248*mm - 1, DoesNot: 25 * mm} {
		if got := add(limit, run...); got.Verdict != want {
			t.Errorf("limit %s: %s, want %s", limit, got.Verdict, want)
		}
	}
	if got := add(5*mm, one(3*mm, 1), one(4*mm, 1)); got.Verdict != CannotSay { // the root is 5 exactly
		t.Error(got.Verdict)
	}
	missing := Allowance{Name: "cover thickness", Ask: "the supplier", Count: 1}
	s := add(300*mm, append(run, missing)...)
	if s.Verdict != CannotSay || !s.Said.Any(finding.NotChecked) {
		t.Errorf("%+v", s)
	}
	spoken(t, s.Said)
	if s = add(25*mm, append(run, missing)...); s.Verdict != DoesNot {
		t.Error("what is known is too much already")
	}
}

// The level of a cover is not said to meet a limit before all four of its parts are on file.
func TestCoverLevelNeedsAllOfItsParts(t *testing.T) {
	limit := new(10 * mm)
	all := []*measure.Length{new(3 * mm), new(4 * mm), new(2 * mm), new(mm)} // 10 at worst; by the root √30 = 5.5
	s, said := Add(CoverLevel(all[0], all[1], all[2], all[3]), limit)
	none(t, said)
	if s.Verdict != Meets || s.Worst != 10*mm {
		t.Errorf("%+v", s)
	}
	near(t, "the root", s.RSS, 0.005477226, 1e-9)
	for i := range all {
		some := slices.Clone(all)
		some[i] = nil
		s, said := Add(CoverLevel(some[0], some[1], some[2], some[3]), limit)
		none(t, said)
		spoken(t, s.Said)
		if s.Verdict != CannotSay || len(s.Said) != 1 {
			t.Errorf("without part %d: %+v", i, s)
		}
	}
}

// A two-peg test made up from a known collimation gives that back, wherever the instrument stood.
func TestTwoPegGivesTheCollimationBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := Collimation{Grade: measure.Grade{Rise: measure.Length(rapid.IntRange(-200, 200).Draw(t, "µm per m")) * measure.Micrometre, Run: measure.Metre}}
		up := measure.Length(rapid.IntRange(-2000, 2000).Draw(t, "B above A")) * mm
		place := func(name string) Sights {
			s := Sights{DistanceA: measure.Length(rapid.IntRange(0, 80).Draw(t, name+" A")) * measure.Metre, DistanceB: measure.Length(rapid.IntRange(0, 80).Draw(t, name+" B")) * measure.Metre}
			s.B = 1500 * mm
			s.A = s.B + up
			s.A += c.Over(s.DistanceA)
			s.B += c.Over(s.DistanceB)
			return s
		}
		tp := TwoPeg{place("mid"), place("end")}
		got, said := tp.Test()
		if len(said) > 0 {
			if (tp.Mid.DistanceA-tp.Mid.DistanceB)-(tp.End.DistanceA-tp.End.DistanceB) != 0 {
				t.Fatal(said)
			}
			return
		}
		if got.Cmp(c.Grade) != 0 || got.True != up || got.Corrected.A-got.Corrected.B != up {
			t.Fatalf("%+v", got)
		}
	})
	c := Collimation{Grade: measure.Grade{Rise: 5 * mm, Run: 40 * measure.Metre}}
	for want, allowed := range map[Verdict]*measure.Length{Meets: new(5 * mm), DoesNot: new(5*mm - 1), CannotSay: nil} {
		got := c.Judge(40*measure.Metre, allowed)
		if got.Verdict != want {
			t.Errorf("%v: %s", allowed, got.Verdict)
		}
		if got.Missing != nil {
			spoken(t, finding.List{*got.Missing})
		}
	}
	_, said := MidAndBeyond(measure.Metre/2, 0, 0, 0, 0, 0).Test()
	if len(said) != 1 {
		t.Error("pegs half a metre apart")
	}
	spoken(t, said)
}
