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

// AASHTO LRFD 3.6.1.2.2-.5, published.md 4.1 (R): truck 8/32/32 kip at 14 ft, tandem 2 x 25 kip at 4 ft, wheels 6 ft apart, patch 20 x 10 in.
// HS-20 wheel 16 kip (M, and read in a summary of HL-93).
func TestVehicles(t *testing.T) {
	hl := Design("hl93")
	if len(hl) != 2 || Design("a lorry") != nil || *hl[0].Apart != 6*measure.Foot || hl[0].Axles[2].Behind != 14*measure.Foot || hl[1].Axles[1].Behind != 4*measure.Foot {
		t.Fatalf("%+v", hl)
	}
	for i, kips := range [][]float64{{8, 32, 32}, {25, 25}} {
		for k, want := range kips {
			near(t, hl[i].Name, hl[i].Axles[k].Load.SI/kip, want, unit)
		}
		if hl[i].Tyre != (Patch{508 * mm, 254 * mm}) {
			t.Errorf("%+v", hl[i].Tyre)
		}
	}
	near(t, "HS-20 wheel", Design("hs20")[0].heaviest()/kip, 16, unit)
}

// AASHTO LRFD C3.6.1.2.5, published.md 4.1 (R): width P/0.8 in, length 6.4 in: 16 kip on 20 in x 6.4 in.
func TestTyre(t *testing.T) {
	v := Design("hs20")[0]
	v.Tyre = Patch{}
	on, guided := v.patch()
	near(t, "width", on.Across.Metres()/0.0254, 20, 1e-6)
	near(t, "length", on.Along.Metres()/0.0254, 6.4, 1e-6)
	if !guided {
		t.Error("not told")
	}
}

// AASHTO LRFD 3.6.1.2.6 and 3.6.2.2, published.md 4.2 and 4.3 (M): spread at H = 2 ft 1.287 ksf, with the buried dynamic allowance 1.606;
// tandem at 3 ft 0.590 and 0.712 ksf on 8.283 x 5.117 ft; axles touch from 2.754 ft, wheels from 3.768 ft.
func TestSpreadAsPublished(t *testing.T) {
	for feet, want := range map[float64]float64{0: 33, 1: 28.875, 2: 24.75, 4: 16.5, 8: 0, 10: 0} {
		near(t, "dynamic allowance", BuriedDynamic(feet*ft)*100, want, 1e-9)
	}
	hl := Design("hl93")
	truck := hl[0].through(2*ft, lldf)
	near(t, "truck at 2 ft", truck.pressure()/psf/1000, 1.287, 0.0006)
	near(t, "moving", truck.pressure()/psf/1000*(1+BuriedDynamic(2*ft)), 1.606, 0.0006)
	tandem := hl[1].through(3*ft, lldf)
	near(t, "tandem at 3 ft", tandem.pressure()/psf/1000, 0.590, 0.0006)
	near(t, "moving", tandem.pressure()/psf/1000*(1+BuriedDynamic(3*ft)), 0.712, 0.0006)
	near(t, "along", tandem.along/ft, 8.283, 0.0006)
	near(t, "across", tandem.across/ft, 5.117, 0.0006)
	for _, c := range []struct {
		feet          float64
		axles, wheels int
	}{{2.753, 1, 1}, {2.755, 2, 1}, {3.767, 2, 1}, {3.769, 2, 2}} {
		if s := hl[1].through(c.feet*ft, lldf); s.axles != c.axles || s.wheels != c.wheels {
			t.Errorf("tandem at %v ft: %+v", c.feet, s)
		}
	}
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

// AASHTO LRFD 12.11.2.2.1 by a state's culvert manual, published.md 4.3a (R formula, C values), 120 pcf, Bc 3 ft: H 2 -> 1.133, 272 psf; H 3 -> 1.15, 414 psf.
func TestEarthOverRigidUnit(t *testing.T) {
	for _, c := range []struct{ h, factor, psf float64 }{{2, 1.1333, 272}, {3, 1.15, 414}} {
		f := EarthFactor(c.h*ft, 3*ft)
		near(t, "factor", f, c.factor, 0.0001)
		near(t, "pressure", 120*c.h*f, c.psf, 0.01)
	}
}

// EN 124 and EN 1433 test classes, published.md 4.4 (R): 15, 125, 250, 400, 600, 900 kN in groups 1 to 6.
func TestClasses(t *testing.T) {
	for i, want := range []float64{15, 125, 250, 400, 600, 900} {
		n, group := TestLoad([]string{"A15", "b125", "C 250", "D400", "E600", "F900"}[i])
		if n != want*1000 || group != i+1 {
			t.Errorf("%v kN, group %d", n, group)
		}
	}
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

// published.md 4.6 (R, textbook examples), 4.7 (R, Fadum; Craig), 4.8 (C) and 4.9 (formula R, value C).
func TestSoilAsPublished(t *testing.T) {
	for _, v := range published.Values(t, "boussinesq", 1) {
		var in struct{ Cases [][3]float64 }
		var want struct {
			KPa []float64 `json:"kPa"`
		}
		published.Decode(t, v.Input, &in)
		published.Decode(t, v.Expect, &want)
		for i, c := range in.Cases {
			near(t, "point", Point(c[0]*1000, c[1], c[2])/1000, want.KPa[i], v.Tol)
		}
	}
	near(t, "corner m = n = 1", Corner(1, 1), 0.17522, 0.00001)
	near(t, "1.5 m outside the long edge", 300*2*(Corner(1, 1.5)-Corner(1, 0.5)), 44.08, 0.01)
	near(t, "four corners of 2 x 2 m at 5 m", 1500.0/4*4*Corner(0.2, 0.2), 26.86, 0.01)
	for _, v := range published.Values(t, "strip_stress", 1) {
		var want struct{ Centre, Edge float64 }
		published.Decode(t, v.Expect, &want)
		near(t, "strip, middle", Strip(100, 2, 2, 0), want.Centre, v.Tol)
		near(t, "strip, edge", Strip(100, 2, 2, 1), want.Edge, v.Tol)
	}
	near(t, "beside a wall", Beside(10, 1, 3, 1.5), 3.70, 0.005)
	near(t, "in the half space", Beside(10, 1, 3, 1.5)/2, 1.85, 0.005)
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

// Smith by eurocode.us, published.md 4.10 (Ri): H 6 m, 20 kN/m³, 20 deg, surcharge 50 kPa: Ka 0.49029, 323.592 kN/m at 2.4545 m.
func TestRankineAsPublished(t *testing.T) {
	for _, v := range published.Values(t, "rankine", 1) {
		var in struct{ H, G, Phi, Q float64 }
		var want struct{ Ka, Soil, Surch, P, Arm float64 }
		published.Decode(t, v.Input, &in)
		published.Decode(t, v.Expect, &want)
		p := &Problem{Wall: &Wall{Height: new(measure.FromMetres(in.H)), Weight: new(check.UnitWeight.Of(in.G * 1000)), Phi: new(measure.Angle(in.Phi) * measure.Degree), Surcharge: new(check.Pressure.Of(in.Q * 1000))}}
		a := by(t, Check(p), "load.wall")
		near(t, "Ka", step(t, a, "coefficient where the wall gives way"), want.Ka, 0.00001)
		near(t, "thrust", step(t, a, "thrust on a length of run")/1000, want.P, v.Tol)
		near(t, "arm", step(t, a, "which acts above the foot"), want.Arm, 0.0001)
		near(t, "surcharge", step(t, a, "surcharge")*in.H/1000, want.Surch, v.Tol)
	}
	near(t, "30 deg", Active(math.Pi/6), 1.0/3, 1e-12)
	near(t, "Jaky (M)", AtRest(math.Pi/6), 0.5, 1e-12)
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

// California Trenching and Shoring Manual 4.8.1, published.md 4.11 (R): no less than 72 psf, down to 10 ft.
func TestTrafficBesideWall(t *testing.T) {
	p := crossing()
	p.Wall.Traffic = true
	a := by(t, Check(p), "load.wall")
	near(t, "at the foot", a.Value.SI, 72*psf+0.5*19e3*0.92, 0.01)
	p.Wall.Height = new(4 * measure.Metre)
	near(t, "below 10 ft it is the earth alone", by(t, Check(p), "load.wall").Value.SI, 0.5*19e3*4, 0.01)
}

// Vesić by GEC-6 and Das, published.md 4.12 (R): factors by angle; 388.1 and 635.8 kPa undrained, 1387.0 = 470.3 + 661.0 + 255.8 kPa, 329.2 kPa (C).
func TestBearingAsPublished(t *testing.T) {
	for deg, want := range map[float64][3]float64{20: {14.83, 6.40, 5.39}, 25: {20.72, 10.66, 10.88}, 30: {30.14, 18.40, 22.40}, 35: {46.12, 33.30, 48.03}, 40: {75.31, 64.20, 109.41}, 0: {5.14, 1, 0}} {
		nc, nq, ng := Factors(deg * math.Pi / 180)
		for i, got := range []float64{nc, nq, ng} {
			near(t, "factor", got, want[i], 0.006)
		}
	}
	near(t, "square, undrained", Bearing(2, 2, 1, 50e3, 0, 18e3).All()/kPa, 388.1, 0.15)
	near(t, "strip, undrained", Bearing(2, 0, 1, 100e3, 0, 19e3).All()/kPa, 635.8, 0.2)
	c := Bearing(3, 3, 1.5, 10e3, 28*math.Pi/180, 17e3)
	near(t, "cohesion", c.Cohesion/kPa, 470.3, 0.1)
	near(t, "depth", c.Depth/kPa, 661.0, 0.1)
	near(t, "width", c.Width/kPa, 255.8, 0.1)
	near(t, "all", c.All()/kPa, 1387.0, 0.1)
	near(t, "strip", Bearing(1.2, 0, 1, 0, 25*math.Pi/180, 16.5e3).All()/kPa, 329.2, 0.1)
}

// What stands presses on bed or pads by statics; both ways give the same load back.
func TestBedAndPads(t *testing.T) {
	p := crossing()
	a := by(t, Check(p), "load.bed")
	near(t, "bed", a.Value.SI, 1100*check.Gravity/1.2, 0.01)
	if a.Verdict != finding.Meets || by(t, Check(p), "load.bearing").Verdict != finding.Meets {
		t.Error(a.Sentence(p.Words))
	}
	p.Bed.Pad, p.Bed.Pads, p.Bed.Apart = Patch{300 * mm, 200 * mm}, 2, new(3000*mm)
	p.Bed.More = new(check.Force.Of(5e3))
	a = by(t, Check(p), "load.bed")
	near(t, "pad", a.Value.SI, (1100*check.Gravity*3/2+5e3)/0.06, 0.01)
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

// Handbook of formulas for stress and strain, Table 11.4, published.md 4.15 (R, good to 0.0004): simply supported plates under an even pressure.
func TestPlateAsPublished(t *testing.T) {
	for _, v := range published.Values(t, "plate", 1) {
		var in struct{ AB []float64 }
		var want struct{ Beta, Alpha []float64 }
		published.Decode(t, v.Input, &in)
		published.Decode(t, v.Expect, &want)
		for i, ab := range in.AB {
			mx, my, w := Navier(ab, 1, ab, 1)
			near(t, "beta", 6*max(mx, my), want.Beta[i], v.Tol)
			near(t, "alpha", w*12*(1-poisson*poisson), want.Alpha[i], v.Tol)
		}
	}
	// A long plate under a load across its whole length is a beam: 6 x 1/8 = 0.75.
	_, my, _ := Navier(12, 1, 12, 1)
	near(t, "long plate", 6*my, 0.75, 0.0005)
}

// published.md 4.5 (C): a 16 kip wheel on 10 in, width 20 in + span: 16.0, 17.9, 16.0, 14.2 and 10.7 ksi for the plates of the table. The
// truth of two edges lies between the wheel's own strip and the whole plate, and the series of four edges below the wheel's own strip.
func TestPlateBetweenItsBounds(t *testing.T) {
	for i, span := range []float64{10, 23, 31, 41, 63} {
		thick := []float64{0.5, 0.75, 0.875, 1, 1.25}[i]
		near(t, "stress", strip(16*kip, span*0.0254, 10*0.0254, (20+span)*0.0254, thick*0.0254)/ksi, []float64{16.0, 17.9, 16.0, 14.2, 10.7}[i], 0.06)
	}
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

// published.md 4.5: bearing 12 in and a design beyond 5 ft 3 in (R); the table by span (M) warns and decides nothing.
func TestPlateByRoadAuthorities(t *testing.T) {
	for span, want := range map[measure.Length]measure.Length{10: 32, 11: 48, 23: 48, 31: 56, 41: 64, 63: 80, 64: 0} {
		if got := ByTable(span * measure.Inch); got != want*measure.Inch/64 {
			t.Errorf("%d in: %s", span, got)
		}
	}
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
