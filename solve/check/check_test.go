package check

import (
	"math"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/wording"
)

// Source: NIST SP 811, Appendix B, from memory: 1 lbf = 4.448 221 615 N, 1 lbf/ft2 = 47.880 26 Pa, 1 lbf/in2 = 6.894 757 kPa,
// 1 lb/ft3 = 16.018 46 kg/m3. The unit follows the size of the figure.
func TestBothSystems(t *testing.T) {
	for _, c := range []struct {
		q    Quantity
		want string
	}{
		{Force.Of(4.448221615), "4.448 N (1 lbf)"}, {Force.Of(12345), "12.35 kN (2775 lbf)"}, {Pressure.Of(47880.26), "47.88 kPa (1000 lbf/ft²)"},
		{Stress.Of(6.894757e6), "6.895 MPa (1000 lbf/in²)"}, {Density.Of(1000), "1000 kg/m³ (62.43 lb/ft³)"}, {Ratio.Of(1.155), "1.155"}, {Percent.Of(0.2), "20 %"},
		{Length.Of(0.9134), "913.4 mm (2.997 ft)"}, {Length.Of(0.0254), "25.4 mm (1 in)"}, {Mass.Of(0), "0 kg (0 lb)"}, {Angle.Of(math.Pi / 3), "60 deg"}, {LineMass.Of(744), "744 kg/m (499.9 lb/ft)"},
		{Volts(50), "50 kV"}, {Ratio.Of(math.Inf(1)), "no figure"}, {Force.Of(-1e-15), "0 N (0 lbf)"}, {Temperature.Of(30), "30 °C (86 °F)"}, {Warmth.Of(20), "20 K (36 °F)"}, {Current.Of(400), "400 A"},
	} {
		if got := c.q.Both(false); got != c.want {
			t.Errorf("%s, want %s", got, c.want)
		}
	}
	if got := Force.Of(10000).Both(true); got != "2248 lbf (10 kN)" {
		t.Error(got)
	}
}

// Limits are kept as they are stated: at the limit is within it, within the uncertainty of the limit nobody can say, and what is no
// number decides nothing.
func TestHeldAgainst(t *testing.T) {
	for _, c := range []struct {
		value, plus, limit float64
		most, least        finding.Verdict
	}{
		{10, 0, 10, finding.Meets, finding.Meets}, {10.01, 0, 10, finding.DoesNot, finding.Meets}, {9.99, 0, 10, finding.Meets, finding.DoesNot},
		{9.5, 1, 10, finding.CannotSay, finding.CannotSay}, {8.9, 1, 10, finding.Meets, finding.DoesNot}, {math.NaN(), 0, 1, finding.CannotSay, finding.CannotSay},
	} {
		if got := AtMost(c.value, c.plus, c.limit); got != c.most {
			t.Errorf("at most: %v: %s", c, got)
		}
		if got := AtLeast(c.value, c.plus, c.limit); got != c.least {
			t.Errorf("at least: %v: %s", c, got)
		}
	}
}

// With anything missing there is no verdict, and a rule that is from memory or common practice decides nothing.
func TestNoVerdictOfNothing(t *testing.T) {
	a := Answer{ID: "x.y", What: "the load", Rule: Rule{Law: "statics", Status: Closed}, Decides: "the engineer", Where: finding.Where{Path: "x"}}
	if _, ok := a.Need("rating", nil, "", "the supplier"); ok {
		t.Error("a figure that nobody entered is there")
	}
	a.Hold(Force.Of(1), Force.Of(2), "", finding.Meets)
	if a.Verdict != "" || a.Sentence(wording.Speech{}) != "the load: NOT CHECKED: no rating on file. Ask: the supplier" || !a.Findings(wording.Speech{}).Any(finding.NotChecked) {
		t.Errorf("%+v", a)
	}
	a.Missing, a.Rule.Status = nil, Memory
	a.Hold(Force.Of(1), Force.Of(2), "drawing 4", finding.Meets)
	if a.Verdict != finding.CannotSay {
		t.Errorf("from memory: %s", a.Verdict)
	}
	a.Rule.Status = Read
	a.Hold(Force.Of(3000), Force.Of(2000), "drawing 4", finding.DoesNot)
	a.Try = "a lighter piece"
	if got := a.Sentence(wording.Speech{}); got != "the load: 3 kN (674.4 lbf), limit 2 kN (449.6 lbf) (drawing 4): does not meet the stated figure. The engineer decides" {
		t.Error(got)
	}
	for _, f := range a.Findings(wording.Speech{}) {
		if err := finding.Speech(f); err != nil || !strings.Contains(f.Rule, "statics") {
			t.Errorf("%v: %+v", err, f)
		}
	}
}

// Exp agrees with the machine's own to a part in 1e15, and says no figure where there is none.
func TestExp(t *testing.T) {
	for x := -30.0; x <= 30; x += 0.0137 {
		if got, want := Exp(x), math.Exp(x); math.Abs(got-want) > 1e-15*want {
			t.Fatalf("e^%v is %v, want %v", x, got, want)
		}
	}
	if !math.IsNaN(Exp(1e9)) || !math.IsNaN(Exp(math.NaN())) {
		t.Error("no figure is given as one")
	}
}

// What is read is what was written, in its own kind alone. Source: NIST SP 811, as above; 1 kip is 1000 lbf.
func TestRead(t *testing.T) {
	for _, c := range []struct {
		kind     *Kind
		text     string
		si       float64
		imperial bool
	}{
		{Force, "12.5 kN", 12500, false}, {Force, "16kip", 71171.5458, true}, {Force, "8000 lbf", 35585.7729, true}, {Pressure, "1 ksf", 47880.26, true}, {Pressure, "50 kN/m2", 50000, false},
		{Stress, "36 ksi", 248.2113e6, true}, {Stress, "250 N/mm2", 250e6, false}, {UnitWeight, "120 pcf", 18850.5, true}, {UnitWeight, "19 kN/m³", 19000, false}, {Density, "1.349 g/cc", 1349, false}, {Temperature, "86 °F", 30, true},
	} {
		q, imperial, err := c.kind.Read(c.text)
		if err != nil || math.Abs(q.SI-c.si) > 1e-5*c.si || imperial != c.imperial {
			t.Errorf("%s: %v %v %v, want %v", c.text, q.SI, imperial, err, c.si)
		}
	}
	for text, want := range map[string]string{"12": "without a unit", "12 kg": "no unit of force", "": "a number was expected", "kN": "a number was expected", "1,200 lbf": "no unit of force", "1.2.3 kN": "no number", "12 kPa": "no unit of force"} {
		if _, _, err := Force.Read(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
}

// Whatever somebody writes, it is read as a figure or refused in words; what is shown reads back.
func FuzzRead(f *testing.F) {
	for _, s := range []string{"12.5 kN", "16kip", "-3 kPa", "1e9 lbf", "kN", "", "٣ kN"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, k := range []*Kind{Force, Pressure, Stress, UnitWeight, Density} {
			q, _, err := k.Read(text)
			if (err == nil) != (q.Kind == k) {
				t.Fatalf("%q: %v %v", text, q, err)
			}
			if err != nil || math.Abs(q.SI) > 1e9 || math.Abs(q.SI) < 1 {
				continue
			}
			for _, imperial := range []bool{false, true} {
				if back, _, err := k.Read(q.In(imperial)); err != nil || math.Abs(back.SI-q.SI) > 1e-3*math.Abs(q.SI) {
					t.Fatalf("%q is shown as %s and read back as %v, %v", text, q.In(imperial), back, err)
				}
			}
		}
	})
}
