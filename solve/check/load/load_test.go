package load

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
	mm   = measure.Millimetre
	ft   = 0.3048
	psf  = check.Pound * check.Gravity / (ft * ft)
	ksi  = 1000 * check.Pound * check.Gravity / (0.0254 * 0.0254)
	kPa  = 1000.0
	unit = 1e-9
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %.6g, want %.6g within %g", what, got, want, within)
	}
}

// crossing is a wheel, a plate, a rating and fill of which everything is on file.
func crossing() *Problem {
	return &Problem{Where: finding.Where{Path: "load"}, Vehicles: Design("hs20"), Dynamic: new(check.Percent.Of(0.30)), DynamicFrom: "note 4",
		Rated: &Rated{Wheel: new(check.Force.Of(100e3)), On: Patch{510 * mm, 250 * mm}, From: "drawing T-9"},
		Fill:  &Fill{Depth: new(800 * mm), Weight: new(check.UnitWeight.Of(19e3)), Width: new(1200 * mm), Spread: new(1.0), SpreadFrom: "note 4", Bears: new(check.Pressure.Of(80e3)), BearsFrom: "drawing T-9"},
		Wall:  &Wall{Height: new(920 * mm), Weight: new(check.UnitWeight.Of(19e3)), K: new(0.5), KFrom: "note 4", Bears: new(check.Pressure.Of(30e3)), BearsFrom: "drawing T-9"},
		Bed: &Bed{Stands: new(measure.LinearMass(1_100_000)), StandsFrom: "drawing T-9", Width: new(1200 * mm), Allows: new(check.Pressure.Of(100e3)), AllowsFrom: "report 2",
			Soil: &Soil{Phi: 30 * measure.Degree, Weight: check.UnitWeight.Of(18e3), Deep: 900 * mm, From: "report 2"}, Factor: new(3.0), FactorFrom: "report 2"},
		Plate: &Plate{Thick: new(32 * mm), Span: new(1000 * mm), Long: new(3000 * mm), Bearing: new(400 * mm), Stress: new(check.Stress.Of(165e6)), From: "sheet of the hire"}}
}

func by(t *testing.T, s Solution, id string) check.Answer {
	t.Helper()
	for _, a := range s.Answers {
		if a.ID == id {
			return a
		}
	}
	t.Fatalf("no answer %s among %d; %v", id, len(s.Answers), s.Findings)
	return check.Answer{}
}

func step(t *testing.T, a check.Answer, name string) float64 {
	t.Helper()
	for _, s := range a.Working {
		if s.Name == name {
			return s.Is.SI
		}
	}
	t.Fatalf("%s: no step %q", a.ID, name)
	return 0
}

// AASHTO LRFD 3.6.1.2.2-.5: the tandem as read, the truck as read in SI and from memory in kip.
func TestVehicles(t *testing.T) {
	hl := Design("hl93")
	if len(hl) != 2 || Design("a lorry") != nil || *hl[0].Apart != *hl[1].Apart || hl[0].Tyre != hl[1].Tyre || *Design("hs20")[0].Apart != *hl[0].Apart {
		t.Fatalf("%+v", hl)
	}
	axles := func(v Vehicle, of float64) (all []float64) {
		for _, a := range v.Axles {
			all = append(all, a.Load.SI/of)
		}
		return all
	}
	published.Hold(t, "load.tandem", func(g published.Given) []float64 {
		v := Design(g[0])[1]
		return append(axles(v, kip), v.Axles[1].Behind.Metres()/ft, v.Apart.Metres()/ft, v.Tyre.Across.Metres()/ft, v.Tyre.Along.Metres()/ft)
	})
	published.Hold(t, "load.truck", func(g published.Given) []float64 {
		v := Design(g[0])[0]
		return append(axles(v, kip), v.Axles[1].Behind.Metres()/ft, v.Axles[2].Behind.Metres()/ft)
	})
	published.Hold(t, "load.truck-si", func(g published.Given) []float64 {
		v := Design(g[0])[0]
		return append(axles(v, 1000), v.Axles[1].Behind.Metres(), v.Axles[2].Behind.Metres())
	})
}

// AASHTO LRFD C3.6.1.2.5: width P/0.8 in, length 6.4 in.
func TestTyre(t *testing.T) {
	published.Hold(t, "load.tyre", func(g published.Given) []float64 {
		v := Vehicle{Axles: []Axle{{Load: check.Force.Of(2 * g.N(0) * kip)}}}
		on, guided := v.patch()
		if !guided {
			t.Error("not told")
		}
		return []float64{on.Across.Metres() / 0.0254, on.Along.Metres() / 0.0254}
	})
}

// AASHTO LRFD 3.6.1.2.6 and 3.6.2.2, from memory: nothing comes to a verdict by them.
func TestSpreadAsPublished(t *testing.T) {
	published.Hold(t, "load.dynamic", func(g published.Given) []float64 { return []float64{BuriedDynamic(g.N(0)*ft) * 100} })
	hl := map[string]Vehicle{"truck": Design("hl93")[0], "tandem": Design("hl93")[1]}
	published.Hold(t, "load.spread", func(g published.Given) []float64 {
		v, depth := hl[g[0]], g.N(1)*ft
		s := v.through(depth, lldf)
		still := s.pressure() / psf / 1000
		return []float64{still, still * (1 + BuriedDynamic(depth)), s.along / ft, s.across / ft}
	})
	published.Hold(t, "load.touch", func(g published.Given) []float64 {
		v := hl["tandem"]
		s := v.through(g.N(0)*ft, lldf)
		return []float64{float64(s.axles), float64(s.wheels)}
	})
	p := crossing()
	p.Fill.Spread = nil
	if a := by(t, Check(p), "load.fill"); a.Verdict != finding.CannotSay {
		t.Errorf("a factor from memory decides: %s", a.Sentence(p.Words))
	}
}

// The slow way: every row of axles, each pair in it held against touching by its own edges.
func TestSpreadAgainstTwin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := Vehicle{Apart: new(measure.Length(rapid.IntRange(1200, 2400).Draw(t, "apart")) * mm), Tyre: Patch{300 * mm, 200 * mm}}
		at := []float64{}
		x := 0.0
		for i := range rapid.IntRange(1, 5).Draw(t, "axles") {
			gap := measure.Length(0)
			if i > 0 {
				gap = measure.Length(rapid.IntRange(900, 6000).Draw(t, "gap")) * mm
			}
			x += gap.Metres()
			at = append(at, x)
			v.Axles = append(v.Axles, Axle{check.Force.Of(float64(rapid.IntRange(5, 200).Draw(t, "kN")) * 1000), gap})
		}
		depth, spread := float64(rapid.IntRange(300, 4000).Draw(t, "depth"))/1000, 1.15
		along, across := 0.2+spread*depth, 0.3+spread*depth
		wide, wheels := across, 1.0
		if v.Apart.Metres() <= across {
			wide, wheels = across+v.Apart.Metres(), 2
		}
		worst := 0.0
		for i := range at {
			for k := i; k < len(at); k++ {
				touch, force := true, 0.0
				for n := i; n <= k; n++ {
					force += v.Axles[n].Load.SI / 2 * wheels
					touch = touch && (n == i || at[n]-along/2 <= at[n-1]+along/2+1e-12)
				}
				if touch {
					worst = max(worst, force/((at[k]-at[i]+along)*wide))
				}
			}
		}
		if got := v.through(depth, spread).pressure(); math.Abs(got-worst) > 1e-9*worst {
			t.Fatalf("%v, want %v", got, worst)
		}
	})
}

// AASHTO LRFD 12.11.2.2.1 by a state's culvert manual.
func TestEarthOverRigidUnit(t *testing.T) {
	published.Hold(t, "load.earth", func(g published.Given) []float64 {
		f := EarthFactor(g.N(0)*ft, 3*ft)
		return []float64{f, 120 * g.N(0) * f}
	})
}

// EN 124 and EN 1433: test loads and groups of places.
func TestClasses(t *testing.T) {
	published.Hold(t, "load.class", func(g published.Given) []float64 {
		n, group := TestLoad(strings.ToLower(g[0][:1]) + " " + g[0][1:])
		return []float64{n / 1000, float64(group)}
	})
	p := crossing()
	p.Rated = &Rated{Class: "C250", From: "data sheet", Asked: "D400", AskedFrom: "drawing 12"}
	s := Check(p)
	if a := by(t, s, "load.class"); a.Verdict != finding.DoesNot || a.Value.SI != 250e3 || a.Limit.SI != 400e3 {
		t.Errorf("%+v", a)
	}
	if a := by(t, s, "load.wheel"); a.Verdict != finding.CannotSay {
		t.Errorf("a wheel below a test load says nothing yet: %s", a.Verdict)
	}
	p.Rated.Class, p.Rated.Asked = "A15", ""
	s = Check(p)
	if a := by(t, s, "load.wheel"); a.Verdict != finding.DoesNot {
		t.Error(a.Verdict)
	}
	if a := by(t, s, "load.class"); !strings.Contains(a.NotChecked(), "NOT CHECKED: no class that this place asks for") {
		t.Error(a.NotChecked())
	}
}

// Over a narrow opening a class is tested with less, from memory (EN 124): that is said, and comes to no verdict.
func TestNarrowOpening(t *testing.T) {
	published.Hold(t, "load.class-opening", func(g published.Given) []float64 {
		return []float64{OpeningShare(measure.FromMillimetres(g.N(0)))}
	})
	p := crossing()
	p.Rated = &Rated{Class: "B125", From: "data sheet", Opening: new(200 * mm)}
	a := by(t, Check(p), "load.class-opening")
	if near(t, "tested with", a.Limit.SI, 100e3, 1e-6); a.Verdict != finding.CannotSay || a.Stop {
		t.Error(a.Sentence(p.Words))
	}
	p.Rated.Class = "A15"
	if a := by(t, Check(p), "load.class-opening"); a.Verdict != finding.CannotSay {
		t.Errorf("a figure from memory decides: %s", a.Sentence(p.Words))
	}
	for _, opening := range []*measure.Length{nil, new(250 * mm)} {
		p.Rated.Opening = opening
		for _, a := range Check(p).Answers {
			if a.ID == "load.class-opening" {
				t.Errorf("%v: %s", opening, a.Sentence(p.Words))
			}
		}
	}
}

// A wheel is held with what it weighs more while it moves, on no smaller a patch; a cut, mitred or cored piece has no rating of its own.
func TestWheelAgainstRating(t *testing.T) {
	p := crossing()
	a := by(t, Check(p), "load.wheel")
	near(t, "moving wheel", a.Value.SI, 1.3*16*kip, 1)
	if a.Verdict != finding.Meets {
		t.Error(a.Sentence(p.Words))
	}
	p.Rated.Wheel = new(check.Force.Of(1.3*16*kip - 1))
	if a := by(t, Check(p), "load.wheel"); a.Verdict != finding.DoesNot {
		t.Error(a.Sentence(p.Words))
	}
	p = crossing()
	p.Rated.On = Patch{600 * mm, 250 * mm}
	if a := by(t, Check(p), "load.wheel"); a.Verdict != finding.CannotSay {
		t.Errorf("a smaller tyre: %s", a.Sentence(p.Words))
	}
	for _, piece := range []string{"cut", "mitred", "cored"} {
		p = crossing()
		p.Rated.Piece = piece
		if a := by(t, Check(p), "load.wheel"); a.Verdict != "" || !strings.Contains(a.NotChecked(), "no word on file that a "+piece+" piece keeps the rating; it does not inherit it") {
			t.Error(a.Sentence(p.Words))
		}
		p.Rated.Keeps = new(false)
		if a := by(t, Check(p), "load.wheel"); a.Verdict != "" {
			t.Error(a.Sentence(p.Words))
		}
		p.Rated.Keeps = new(true)
		if a := by(t, Check(p), "load.wheel"); a.Verdict != finding.Meets {
			t.Error(a.Sentence(p.Words))
		}
	}
}

// A rating by a design vehicle holds for that vehicle and lighter ones, and says nothing of closer axles.
func TestRatedAsVehicle(t *testing.T) {
	own := func(kN float64, gap measure.Length) []Vehicle {
		return []Vehicle{{Name: "tractor", Axles: []Axle{{check.Force.Of(60e3), 0}, {check.Force.Of(kN * 1000), gap}}, Apart: new(1900 * mm), Tyre: Patch{510 * mm, 300 * mm}}}
	}
	for _, c := range []struct {
		vehicles []Vehicle
		rated    string
		want     finding.Verdict
	}{{Design("hs20"), "hs20", finding.Meets}, {own(100, 5000*mm), "hs20", finding.Meets}, {own(100, 1300*mm), "hs20", finding.CannotSay}, {own(160, 5000*mm), "hs20", finding.DoesNot}, {Design("hl93")[1:], "hs20", finding.CannotSay}} {
		p := crossing()
		p.Vehicles, p.Rated = c.vehicles, &Rated{Vehicle: c.rated, From: "data sheet"}
		if a := by(t, Check(p), "load.wheel"); a.Verdict != c.want {
			t.Errorf("%s rated %s: %s", c.vehicles[0].Name, c.rated, a.Sentence(p.Words))
		}
	}
}

// Closed forms of the theory of elasticity, and what textbooks print of them.
func TestSoilAsPublished(t *testing.T) {
	published.Hold(t, "load.point", func(g published.Given) []float64 { return []float64{Point(g.N(0), g.N(1), g.N(2))} })
	published.Hold(t, "load.patch", func(g published.Given) []float64 {
		half := g.N(1) / 2 / g.N(2)
		return []float64{g.N(0) / (g.N(1) * g.N(1)) * 4 * Corner(half, half)}
	})
	published.Hold(t, "load.corner", func(g published.Given) []float64 { return []float64{Corner(g.N(0), g.N(1))} })
	published.Hold(t, "load.corner-outside", func(g published.Given) []float64 {
		return []float64{g.N(0) * 2 * (Corner(1, 1.5) - Corner(1, 0.5))} // 3 m and 4.5 m over 3 m, less 3 m and 1.5 m
	})
	published.Hold(t, "load.strip", func(g published.Given) []float64 {
		return []float64{Strip(g.N(0), g.N(1), g.N(2), 0), Strip(g.N(0), g.N(1), g.N(2), g.N(1)/2)}
	})
	published.Hold(t, "load.beside", func(g published.Given) []float64 { return []float64{Beside(g.N(0), g.N(1), g.N(2), g.N(3))} })
}

// Deep below a vehicle its wheels are one force; just below a wheel it is the pressure of the tyre. A slow sum of points over every tyre comes
// to the same in between, where the others are far enough away to be points.
func TestElasticHalfSpace(t *testing.T) {
	v := Design("hs20")[0]
	all := 0.0
	for _, a := range v.Axles {
		all += a.Load.SI
	}
	near(t, "deep", v.elastic(500)/Point(all, 500, 0), 1, 0.001)
	near(t, "at the top", v.elastic(0.005)*0.508*0.254/(16*kip), 1, 0.001)
	const n = 40
	sum := 0.0
	at := 0.0
	for i, a := range v.Axles {
		at += a.Behind.Metres()
		for _, side := range []float64{0, 6 * ft} {
			for x := range n {
				for y := range n {
					along, across := (float64(x)+0.5)/n*0.254-0.127, (float64(y)+0.5)/n*0.508-0.254
					sum += Point(v.Axles[i].Load.SI/2/(n*n), 1, math.Hypot(at-14*ft+along, side+across))
				}
			}
		}
	}
	near(t, "1 m down, below the middle axle", v.elastic(1)/sum, 1, 0.005)
}

// A strip is points side by side: the sum over a fine grid of them comes to the same, below it and on the wall (twice the half space's).
func TestStripAgainstPoints(t *testing.T) {
	const h = 0.02
	below := func(x0, x1, y, x, z float64) (sum float64) {
		for a := x0 + h/2; a < x1; a += h {
			for b := -y + h/2; b < y; b += h {
				sum += Point(h*h, z, math.Hypot(a-x, b))
			}
		}
		return sum
	}
	near(t, "middle", below(-0.5, 0.5, 12, 0, 1), Strip(1, 1, 1, 0), 0.002)
	near(t, "outside", below(-0.5, 0.5, 12, 1.2, 1), Strip(1, 1, 1, 1.2), 0.002)
	near(t, "corner", below(0, 1, 0.75, 0, 1), 2*Corner(1, 0.75), 0.001)
	lines := 0.0 // of line loads along the strip: 2 q a² z / (pi (a² + z²)²) in the half space
	for a := 1 + h/2; a < 3; a += h {
		lines += 2 * h * a * a * 1.5 / (math.Pi * (a*a + 1.5*1.5) * (a*a + 1.5*1.5))
	}
	near(t, "wall", 2*lines, Beside(1, 1, 3, 1.5), 0.0005)
}

// Rankine by Smith, inputs as read, recomputed; Jaky from memory.
func TestRankineAsPublished(t *testing.T) {
	published.Hold(t, "load.rankine", func(g published.Given) []float64 {
		p := &Problem{Wall: &Wall{Height: new(measure.FromMetres(g.N(0))), Weight: new(check.UnitWeight.Of(g.N(1) * 1000)), Phi: new(measure.FromDegrees(g.N(2))), Surcharge: new(check.Pressure.Of(g.N(3) * 1000))}}
		a := by(t, Check(p), "load.wall")
		return []float64{step(t, a, "coefficient where the wall gives way"), step(t, a, "earth at the foot") * g.N(0) / 2 / 1000, step(t, a, "surcharge") * g.N(0) / 1000, step(t, a, "thrust on a length of run") / 1000, step(t, a, "which acts above the foot")}
	})
	published.Hold(t, "load.active", func(g published.Given) []float64 { return []float64{Active(g.N(0) * math.Pi / 180)} })
	published.Hold(t, "load.rest", func(g published.Given) []float64 { return []float64{AtRest(g.N(0) * math.Pi / 180)} })
}

// With Rankine's coefficient a wall that does not give way can fail and never pass.
func TestWallThatDoesNotGiveWay(t *testing.T) {
	p := crossing()
	if a := by(t, Check(p), "load.wall"); a.Verdict != finding.Meets {
		t.Error(a.Sentence(p.Words))
	}
	p.Wall.K, p.Wall.Phi = nil, new(30*measure.Degree)
	if a := by(t, Check(p), "load.wall"); a.Verdict != finding.CannotSay {
		t.Error(a.Sentence(p.Words))
	}
	p.Wall.Bears = new(check.Pressure.Of(5e3))
	if a := by(t, Check(p), "load.wall"); a.Verdict != finding.DoesNot {
		t.Error(a.Sentence(p.Words))
	}
	p.Wall.Phi = nil
	if a := by(t, Check(p), "load.wall"); a.Verdict != "" {
		t.Error(a.Sentence(p.Words))
	}
	p = crossing()
	p.Wall.Strip = &Beam{check.Pressure.Of(60e3), 300 * mm, 2300 * mm}
	if a := by(t, Check(p), "load.wall"); a.Verdict != finding.DoesNot || step(t, a, "at a depth of") <= 0 {
		t.Error(a.Sentence(p.Words))
	}
}

// California Trenching and Shoring Manual 4.8.1: no less than this, and no deeper.
func TestTrafficBesideWall(t *testing.T) {
	p := crossing()
	p.Wall.Traffic = true
	least := 0.0
	published.Hold(t, "load.traffic", func(published.Given) []float64 {
		least = step(t, by(t, Check(p), "load.wall"), "vehicles beside it, no less than")
		return []float64{least / psf, trafficDeep / ft}
	})
	near(t, "at the foot", by(t, Check(p), "load.wall").Value.SI, least+0.5*19e3*0.92, 0.01)
	p.Wall.Height = new(4 * measure.Metre)
	near(t, "below 10 ft it is the earth alone", by(t, Check(p), "load.wall").Value.SI, 0.5*19e3*4, 0.01)
}

// Vesić by GEC-6 and Das, with shape and depth; the three terms by factors that others print.
func TestBearingAsPublished(t *testing.T) {
	published.Hold(t, "load.factors", func(g published.Given) []float64 {
		nc, nq, ng := Factors(g.N(0) * math.Pi / 180)
		return []float64{nc, nq, ng}
	})
	square := func(g published.Given) float64 {
		return givesUnder(g.N(0), g.N(1), g.N(2), g.N(3), parts{g.N(4) * 1.3, g.N(5), g.N(6) * 0.8}).All()
	}
	published.Hold(t, "load.three-terms", func(g published.Given) []float64 { return []float64{square(g)} })
	published.Hold(t, "load.three-terms-das", func(g published.Given) []float64 {
		return []float64{square(g), square(g) / 3 * g.N(0) * g.N(0)}
	})
	bearing := func(g published.Given) Capacity {
		return Bearing(g.N(0), g.N(1), g.N(2), g.N(3), g.N(4)*math.Pi/180, g.N(5))
	}
	published.Hold(t, "load.bearing-clay", func(g published.Given) []float64 { return []float64{bearing(g).All()} })
	published.Hold(t, "load.bearing-strip", func(g published.Given) []float64 { return []float64{bearing(g).All()} })
	published.Hold(t, "load.bearing", func(g published.Given) []float64 {
		c := bearing(g)
		return []float64{c.Cohesion, c.Depth, c.Width, c.All()}
	})
}

// What stands presses on bed or pads by statics; both ways give the same load back.
func TestBedAndPads(t *testing.T) {
	p := crossing()
	a := by(t, Check(p), "load.bed")
	near(t, "bed", a.Value.SI, 1100*check.Gravity/1.2, 0.01)
	if a.Verdict != finding.Meets || by(t, Check(p), "load.bearing").Verdict != finding.Meets {
		t.Error(a.Sentence(p.Words))
	}
	near(t, "one width below", step(t, a, "of which arrives one width below its middle"), a.Value.SI*0.5498, 1)
	p.Bed.Pad, p.Bed.Pads, p.Bed.Apart = Patch{300 * mm, 200 * mm}, 2, new(3000*mm)
	p.Bed.More = new(check.Force.Of(5e3))
	a = by(t, Check(p), "load.bed")
	near(t, "pad", a.Value.SI, (1100*check.Gravity*3/2+5e3)/0.06, 0.01)
	near(t, "one width below a pad", step(t, a, "of which arrives one width below its middle"), a.Value.SI*4*Corner(1.0/3, 0.5), 1e-6)
	if a.Verdict != finding.DoesNot {
		t.Error(a.Sentence(p.Words))
	}
	p.Bed.Pad = Patch{}
	if a := by(t, Check(p), "load.bed"); a.Verdict != "" || !strings.Contains(a.NotChecked(), "no length of bed that the force besides is counted over") {
		t.Error(a.Sentence(p.Words))
	}
	p.Bed.Over = new(2 * measure.Metre)
	near(t, "bed with more", by(t, Check(p), "load.bed").Value.SI, (1100*check.Gravity+2500)/1.2, 0.01)
	p.Bed.Factor = nil
	if a := by(t, Check(p), "load.bearing"); a.Verdict != "" {
		t.Error(a.Sentence(p.Words))
	}
}

// Handbook of formulas for stress and strain, Table 11.4, good to 0.0004: simply supported plates under an even pressure.
func TestPlateAsPublished(t *testing.T) {
	factors := func(g published.Given) []float64 {
		mx, my, w := Navier(g.N(0), 1, g.N(0), 1)
		return []float64{6 * max(mx, my), w * 12 * (1 - poisson*poisson)}
	}
	published.Hold(t, "load.plate-series", factors)
	published.Hold(t, "load.plate-long", factors)
}

// The strip of common practice under a wheel. The truth of two edges lies between the wheel's own strip and the whole plate, and the series of
// four edges below the wheel's own strip.
func TestPlateBetweenItsBounds(t *testing.T) {
	published.Hold(t, "load.beam", func(g published.Given) []float64 { return []float64{strip(g.N(0), g.N(1), g.N(2), 6, 1)} }) // 6 wide and 1 thick: a modulus of 1
	published.Hold(t, "load.plate-strip", func(g published.Given) []float64 {
		return []float64{strip(16*kip, g.N(0)*0.0254, 10*0.0254, (20+g.N(0))*0.0254, g.N(1)*0.0254) / ksi}
	})
	rapid.Check(t, func(t *rapid.T) {
		p := crossing()
		p.Plate.Thick = new(measure.Length(rapid.IntRange(10, 50).Draw(t, "thick")) * mm)
		p.Plate.Span = new(measure.Length(rapid.IntRange(300, 1600).Draw(t, "span")) * mm)
		p.Plate.Long = new(measure.Length(rapid.IntRange(600, 6000).Draw(t, "long")) * mm)
		a := Check(p).Answers
		var most, least, series float64
		for _, x := range a {
			if x.ID == "load.plate" {
				most, least = x.Working[1].Is.SI, x.Working[2].Is.SI
			}
		}
		p.Plate.Edges = true
		for _, x := range Check(p).Answers {
			if x.ID == "load.plate" {
				series = x.Working[2].Is.SI
			}
		}
		if !(least <= most && series > 0 && series <= most*1.001) {
			t.Fatalf("%v..%v, series %v", least, most, series)
		}
	})
	for thick, want := range map[measure.Length]finding.Verdict{60 * mm: finding.Meets, 32 * mm: finding.CannotSay, 8 * mm: finding.DoesNot} {
		p := crossing()
		p.Plate.Thick = new(thick)
		if a := by(t, Check(p), "load.plate"); a.Verdict != want {
			t.Errorf("%s: %s", thick, a.Sentence(p.Words))
		}
	}
}

// Two equal wheels a apart bend a span s by P (s - a/2)² / (2 s) at most (statics), one by P s / 4: the first is more below (2 - √2) s.
func TestTwoAxlesOnPlate(t *testing.T) {
	for _, a := range []float64{0.3, 0.58, 0.59, 0.9} {
		two, one := (1-a/2)*(1-a/2)/2, 0.25
		v := Vehicle{Axles: []Axle{{}, {Behind: measure.FromMetres(a)}}}
		if v.crowds(1) != (two > one) {
			t.Errorf("axles %v of the span apart: %v against %v", a, two, one)
		}
	}
	p := crossing()
	p.Plate.Thick = new(60 * mm)
	p.Vehicles[0].Axles[2].Behind = 550 * mm
	if a := by(t, Check(p), "load.plate"); a.Verdict != finding.CannotSay {
		t.Error(a.Sentence(p.Words))
	}
}

// What a road authority asks of bearing and span, as read; the table by span, from memory, warns and decides nothing.
func TestPlateByRoadAuthorities(t *testing.T) {
	published.Hold(t, "load.plate-table", func(g published.Given) []float64 {
		thick := ByTable(measure.FromMillimetres(g.N(0) * 25.4))
		if thick == 0 {
			return []float64{math.NaN()}
		}
		return []float64{thick.Metres() / 0.0254}
	})
	published.Hold(t, "load.plate-road", func(published.Given) []float64 {
		s := Check(crossing())
		return []float64{by(t, s, "load.plate-bearing").Limit.SI / 0.0254, by(t, s, "load.plate-span").Limit.SI / 0.0254}
	})
	p := crossing()
	p.Plate.Span, p.Plate.Bearing = new(63*measure.Inch+1), new(12*measure.Inch)
	s := Check(p)
	if a := by(t, s, "load.plate-span"); a.Verdict != finding.DoesNot {
		t.Error(a.Sentence(p.Words))
	}
	if a := by(t, s, "load.plate-bearing"); a.Verdict != finding.Meets {
		t.Error(a.Sentence(p.Words))
	}
	p.Plate.Span, p.Plate.Bearing = new(63*measure.Inch), new(12*measure.Inch-1)
	s = Check(p)
	if a := by(t, s, "load.plate-span"); a.Verdict != finding.Meets {
		t.Error(a.Sentence(p.Words))
	}
	if a := by(t, s, "load.plate-bearing"); a.Verdict != finding.DoesNot {
		t.Error(a.Sentence(p.Words))
	}
	if a := by(t, s, "load.plate-thickness"); a.Verdict != finding.CannotSay {
		t.Error(a.Sentence(p.Words))
	}
}

// With nothing on file nothing is said, each thing is asked for, and no answer has a verdict.
func TestNothingInvented(t *testing.T) {
	s := Check(&Problem{Where: finding.Where{Path: "load"}, Rated: &Rated{}, Fill: &Fill{}, Wall: &Wall{}, Bed: &Bed{}, Plate: &Plate{}})
	if len(s.Answers) != 6 {
		t.Fatalf("%d answers", len(s.Answers))
	}
	for _, a := range s.Answers {
		if a.Verdict != "" || !strings.Contains(a.NotChecked(), "NOT CHECKED") {
			t.Errorf("%s: %s", a.ID, a.Verdict)
		}
	}
	for _, f := range s.Findings {
		if err := finding.Speech(f); err != nil {
			t.Error(err)
		}
	}
	for _, f := range Check(crossing()).Findings {
		if err := finding.Speech(f); err != nil {
			t.Error(err)
		}
	}
}

// What cannot be is refused in a sentence each, and nothing is computed.
func TestWhatCannotBe(t *testing.T) {
	for name, spoil := range map[string]func(*Problem){
		"axle":       func(p *Problem) { p.Vehicles[0].Axles[1].Load = check.Force.Of(0) },
		"axles":      func(p *Problem) { p.Vehicles[0].Axles[1].Behind = -5 * mm },
		"class":      func(p *Problem) { p.Rated.Class = "D300" },
		"vehicle":    func(p *Problem) { p.Rated.Vehicle = "a tank" },
		"piece":      func(p *Problem) { p.Rated.Piece = "broken" },
		"rating":     func(p *Problem) { p.Rated.Wheel = new(check.Force.Of(-1)) },
		"spread":     func(p *Problem) { p.Fill.Spread = new(math.NaN()) },
		"earth":      func(p *Problem) { p.Fill.Weight = new(check.UnitWeight.Of(19)) },
		"strip":      func(p *Problem) { p.Wall.Strip = &Beam{check.Pressure.Of(1e3), 3000 * mm, 1000 * mm} },
		"friction":   func(p *Problem) { p.Wall.Phi = new(-5 * measure.Degree) },
		"no mass":    func(p *Problem) { p.Bed.Stands = new(measure.LinearMass(0)) },
		"pad":        func(p *Problem) { p.Bed.Pad = Patch{300 * mm, 0} },
		"factor":     func(p *Problem) { p.Bed.Factor = new(0.5) },
		"thin plate": func(p *Problem) { p.Plate.Thick = new(measure.Length(0)) },
		"dynamic":    func(p *Problem) { p.Dynamic = new(check.Percent.Of(-0.1)) },
	} {
		p := crossing()
		spoil(p)
		s := Check(p)
		if len(s.Answers) > 0 || !s.Findings.Any(finding.Fault) {
			t.Errorf("%s: %+v", name, s.Findings)
			continue
		}
		if err := finding.Speech(s.Findings[0]); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Without a vehicle on file no wheel is worked out: what is missing is said, and no figure of nought stands in its working.
func TestNoVehicleNoWheel(t *testing.T) {
	p := &Problem{Dynamic: new(check.Percent.Of(0.2)), DynamicFrom: "engineer's note", Rated: &Rated{Wheel: new(check.Force.Of(55e3))}, Plate: &Plate{}}
	for _, a := range Check(p).Answers {
		for _, w := range a.Working {
			if w.Name == "wheel as it moves" {
				t.Errorf("%s: %s = %v", a.ID, w.Name, w.Is)
			}
		}
	}
}
