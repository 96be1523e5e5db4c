package measure

import (
	"math"
	"strings"
	"testing"
)

func TestParseAngle(t *testing.T) {
	for _, c := range []struct {
		text string
		want Angle
		as   string
	}{
		{"22.5°", 22_500_000_000, "22.5 deg"},
		{"22.5 deg", 22_500_000_000, "22.5 deg"},
		{"22,5°", 22_500_000_000, "22.5 deg"},
		{"22°30'", 22_500_000_000, "22°30' = 22.5 deg"},
		{"22° 30′ 15″", 22_504_166_667, `22°30'15" = 22.504166667 deg, rounded to 0.000000001 deg`},
		{"22° 30' 15\"", 22_504_166_667, `22°30'15" = 22.504166667 deg, rounded to 0.000000001 deg`},
		{"22° 30' 18\"", 22_505_000_000, `22°30'18" = 22.505 deg`},
		{"22°30'15''", 22_504_166_667, `22°30'15" = 22.504166667 deg, rounded to 0.000000001 deg`},
		{"-22°30'", -22_500_000_000, "-22°30' = -22.5 deg"},
		{"22-30-18", 22_505_000_000, `22°30'18" = 22.505 deg`},
		{"12-24", 12_400_000_000, "12°24' = 12.4 deg"},  // as in the published curve 3.14, I 12-24
		{"0-34-48", 580_000_000, `0°34'48" = 0.58 deg`}, // published curve 3.13
		{"right 45", 45 * Degree, "right 45 deg"},
		{"left 45", -45 * Degree, "left 45 deg"},
		{"Left 22°30'", -22_500_000_000, "left 22°30' = 22.5 deg"},
		{"45° left", -45 * Degree, "left 45 deg"},
		{"100 gon", 90 * Degree, "100 gon = 90 deg"},
		{"25 grads", 22_500_000_000, "25 gon = 22.5 deg"},
		{"1/2 deg", Degree / 2, "1/2 deg = 0.5 deg"},
	} {
		said, err := ParseAngle(c.text)
		if err != nil || said.Value != c.want || said.As != c.as {
			t.Errorf("%s: got %d, %q, %v; want %d, %q", c.text, said.Value, said.As, err, c.want, c.as)
		}
	}
	if said, err := ParseDegrees("45"); err != nil || said.Value != 45*Degree {
		t.Errorf("a bare 45 where degrees are meant: %v, %v", said, err)
	}
}

func TestParseAngleRefuses(t *testing.T) {
	const example = "; write for example 22.5°, 22°30', 22-30-15, right 45 or 25 gon"
	for text, want := range map[string]string{
		"45":             "column 3: a unit was expected behind the number: °, deg or gon",
		"22°60'":         "column 4: 60 minutes; less than 60 was expected",
		"22°30'60\"":     "column 7: 60 seconds; less than 60 was expected",
		"22.5°30'":       "column 6: degrees with decimals take no minutes behind them",
		"22°30.5'5\"":    "column 9: minutes with decimals take no seconds behind them",
		"22°30":          "column 6: the mark for minutes (') was expected",
		"22°30'5":        "column 8: the mark for seconds (\") was expected",
		"left -45°":      "column 6: a turn has a sign, or left or right in words, not both",
		"45 rad":         "column 4: a unit was expected behind the number: °, deg or gon",
		"sharp":          "column 1: a number was expected",
		"9999999999999°": "column 1: an angle of this size is more than can be held",
	} {
		_, err := ParseAngle(text)
		if err == nil || !strings.HasSuffix(err.Error(), want+example) {
			t.Errorf("%s:\n got %v\nwant %s", text, err, want+example)
		}
	}
}

// Published traverse 3.8 (R H, jerrymahun.com ch. I): each bearing with its length gives the printed latitude and
// departure to 0.001 ft.
func TestBearingsOfPublishedTraverse(t *testing.T) {
	for _, c := range []struct {
		bearing         string
		length          float64
		lat, dep        float64
		wholeCircle, as string
	}{
		{"S68-05-35W", 472.68, -176.357, -438.548, `248°05'35"`, `south 68°05'35" west = 248.093055556 deg clockwise from north`},
		{"N19-46-00W", 216.13, 203.395, -73.093, `340°14'00"`, `north 19°46'00" west = 340.233333333 deg clockwise from north`},
		{"N45-55-20E", 276.52, 192.357, 198.651, `45°55'20"`, `north 45°55'20" east = 45.922222222 deg clockwise from north`},
		{"S54-59-15E", 382.24, -219.312, 313.065, `125°00'45"`, `south 54°59'15" east = 125.0125 deg clockwise from north`},
	} {
		said, err := ParseBearing(c.bearing)
		if err != nil {
			t.Errorf("%s: %v", c.bearing, err)
			continue
		}
		sin, cos := math.Sincos(said.Value.Radians())
		if math.Abs(c.length*cos-c.lat) > 0.0006 || math.Abs(c.length*sin-c.dep) > 0.0006 {
			t.Errorf("%s %.2f: latitude %.4f, departure %.4f; printed %.3f, %.3f", c.bearing, c.length, c.length*cos, c.length*sin, c.lat, c.dep)
		}
		if said.Value.DMS() != c.wholeCircle || said.As != c.as {
			t.Errorf("%s: %s, %q; want %s, %q", c.bearing, said.Value.DMS(), said.As, c.wholeCircle, c.as)
		}
		if back := said.Value.Bearing(); back != c.bearing {
			t.Errorf("%s came back as %s", c.bearing, back)
		}
		if whole, err := ParseBearing(c.wholeCircle); err != nil || whole.Value != said.Value {
			t.Errorf("%s: %v, %v; want %v", c.wholeCircle, whole.Value, err, said.Value)
		}
	}
	for text, want := range map[string]Angle{
		"N0E": 0, "N 0° W": 0, "N90E": 90 * Degree, "S90E": 90 * Degree, "south 45.5 west": 225_500_000_000, "n 12 e": 12 * Degree,
	} {
		if said, err := ParseBearing(text); err != nil || said.Value != want {
			t.Errorf("%s: %v, %v; want %v", text, said.Value, err, want)
		}
	}
	for _, text := range []string{"N91E", "S68-05-35", "68-05-35W", "360°", "-5°", "E45N", "N", "north"} {
		if said, err := ParseBearing(text); err == nil {
			t.Errorf("%s was read as %s", text, said.As)
		}
	}
	for a, want := range map[Angle]string{0: "N00-00-00E", 90 * Degree: "N90-00-00E", 180 * Degree: "S00-00-00W", 270 * Degree: "S90-00-00W",
		360*Degree - 1: "N00-00-00E", -90 * Degree: "S90-00-00W", 450 * Degree: "N90-00-00E"} {
		if got := a.Bearing(); got != want {
			t.Errorf("%v: %s, want %s", a, got, want)
		}
	}
}

func TestAngleText(t *testing.T) {
	a := Angle(-22_504_166_667)
	for got, want := range map[string]string{
		a.DegString():              "-22.504166667",
		a.String():                 "-22.504166667 deg",
		a.Show(2):                  "-22.50°",
		a.DMS():                    `-22°30'15"`,
		a.Turn(1):                  "left 22.5°",
		(-a).Turn(1):               "right 22.5°",
		Angle(0).Turn(1):           "straight",
		Angle(-1).Show(3):          "0.000°",
		Angle(-1).DMS():            `0°00'00"`,
		(45 * Degree).Show(0):      "45°",
		Angle(math.MinInt64).DMS(): `-9223372036°51'17"`,
	} {
		if got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

func TestParseGrade(t *testing.T) {
	for _, c := range []struct {
		text string
		want Grade
		as   string
	}{
		{"0.5 %", Grade{1, 200}, "0.5 %"},
		{"-0,5%", Grade{-1, 200}, "-0.5 %"},
		{"1:200", Grade{1, 200}, "1:200 = 0.5 %"},
		{"1 : 7.5", Grade{2, 15}, "1:7.5 = about 13.3333 %"},
		{"1/8 in per ft", Grade{1, 96}, "3.175 mm per 304.8 mm = about 1.0417 %"},
		{`1/8" per foot`, Grade{1, 96}, "3.175 mm per 304.8 mm = about 1.0417 %"},
		{`1/8"/ft`, Grade{1, 96}, "3.175 mm per 304.8 mm = about 1.0417 %"},
		{`-1/4 in / 10 ft`, Grade{-1, 480}, "-6.35 mm per 3048 mm = about -0.2083 %"},
		{"5 mm/m", Grade{1, 200}, "5 mm per 1000 mm = 0.5 %"},
		{"5 ‰", Grade{1, 200}, "5 ‰ = 0.5 %"},
		{"0 %", Grade{0, 1}, "0 %"},
	} {
		said, err := ParseGrade(c.text)
		if err != nil || said.Value != c.want || said.As != c.as {
			t.Errorf("%s: got %v, %q, %v; want %v, %q", c.text, said.Value, said.As, err, c.want, c.as)
		}
	}
	for text, want := range map[string]string{
		"0.5":          "column 4: %, or : and the run, was expected behind the number",
		"1:0":          "column 3: a run longer than nought was expected",
		"1 in per":     "column 3: ",
		"1 in per 0 m": "column 10: a run longer than nought was expected",
		"1 per ft":     "column 2: a number without a unit",
		"1/8 in/ft x":  "column 11: inches, or nothing more, was expected behind the feet",
	} {
		_, err := ParseGrade(text)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: got %v, want %s", text, err, want)
		}
	}
	if got := (Grade{1, 96}).String(); got != "1:96" {
		t.Errorf("1:96 prints as %s", got)
	}
	if got := (Grade{-2, 400}).Percent(2); got != "-0.50 %" {
		t.Errorf("-1:200 prints as %s", got)
	}
}

// NIST SP 811: 1 lb = 0.453 592 37 kg exactly.
func TestParseMass(t *testing.T) {
	for _, c := range []struct {
		text string
		want Mass
		as   string
	}{
		{"1184 kg", 1_184_000, "1184 kg"},
		{"1.184 t", 1_184_000, "1.184 t = 1184 kg"},
		{"1,184 t", 1_184_000, "1.184 t = 1184 kg"},
		{"2,610 lb", 1_183_876, "2610 lb = 1183.876 kg, rounded to 0.001 kg"},
		{"1 lb", 454, "1 lb = 0.454 kg, rounded to 0.001 kg"},
		{"100000 lbs", 45_359_237, "100000 lb = 45359.237 kg"},
		{"2 short tons", 1_814_369, "2 short ton = 1814.369 kg, rounded to 0.001 kg"},
		{"350 g", 350, "350 g = 0.35 kg"},
	} {
		said, err := ParseMass(c.text)
		if err != nil || said.Value != c.want || said.As != c.as {
			t.Errorf("%s: got %d, %q, %v; want %d, %q", c.text, said.Value, said.As, err, c.want, c.as)
		}
	}
	for text, want := range map[string]string{
		"1184":     "column 5: a number without a unit",
		"1,184 kg": "column 2: the comma can be read two ways, as 1.184 kg and as 1184 kg; write the one that is meant",
		"2 tons":   "column 3: a ton can be a short ton of 2000 lb, a long ton of 2240 lb or a tonne of 1000 kg; write lb, kg or t",
		"5 kN":     "column 3: a unit was expected behind the number",
		"5 kg/m":   "column 5: nothing more was expected after the unit",
	} {
		_, err := ParseMass(text)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: got %v, want %s", text, err, want)
		}
	}
}

// NIST SP 811: 1 yd = 0.9144 m exactly, so that a cubic yard is 0.764 554 857 984 m³.
func TestParseBulk(t *testing.T) {
	for _, c := range []struct {
		text string
		want Bulk
		as   string
	}{
		{"12 m3", 12_000_000, "12 m³"},
		{"12.5 m³", 12_500_000, "12.5 m³"},
		{"8 cu yd", 6_116_439, "8 yd³ = 6.116439 m³, rounded to 0.000001 m³"},
		{"1,000 yd3", 764_554_858, "1000 yd³ = 764.554858 m³, rounded to 0.000001 m³"},
		{"200 L", 200_000, "200 L = 0.2 m³"},
		{"3 cubic metres", 3_000_000, "3 m³"},
	} {
		said, err := ParseBulk(c.text)
		if err != nil || said.Value != c.want || said.As != c.as {
			t.Errorf("%s: got %d, %q, %v; want %d, %q", c.text, said.Value, said.As, err, c.want, c.as)
		}
	}
	for _, text := range []string{"12", "12 t", "m3", "12 m2", "3 bags"} {
		if said, err := ParseBulk(text); err == nil {
			t.Errorf("%s is read as %s", text, said.As)
		}
	}
}

func TestParseLinearMass(t *testing.T) {
	for text, want := range map[string]LinearMass{
		"385 kg/m": 385_000, "0.385 t/m": 385_000, "259 lb/ft": 385_434, "259 plf": 385_434, "385.5 kg per metre": 385_500,
	} {
		if said, err := ParseLinearMass(text); err != nil || said.Value != want {
			t.Errorf("%s: got %d, %q, %v; want %d", text, said.Value, said.As, err, want)
		}
	}
	if _, err := ParseLinearMass("385 kg"); err == nil {
		t.Error("385 kg was read as a mass per length")
	}
}

func TestFormatMass(t *testing.T) {
	metric, imperial := Format{}, Format{System: Imperial}
	for got, want := range map[string]string{
		metric.Mass(1_184_000):             "1184 kg",
		metric.Mass(12_345_500):            "12\u2009346 kg",
		metric.Mass(420):                   "0.4 kg",
		metric.Mass(-20):                   "0.0 kg",
		metric.Mass(9_960):                 "10 kg",
		imperial.Mass(1_183_876):           "2,610 lb",
		metric.LinearMass(385_000):         "385 kg/m",
		imperial.LinearMass(385_433):       "259 lb/ft",
		Mass(1_184_500).String():           "1184.5 kg",
		LinearMass(-385_123).String():      "-385.123 kg/m",
		metric.Mass(math.MinInt64):         "-9\u2009223\u2009372\u2009036\u2009854\u2009776 kg",
		Format{Plain: true}.Mass(12345678): "12346 kg",
	} {
		if got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

func TestParseWindow(t *testing.T) {
	const mm = Millimetre
	for text, want := range map[string]Window{
		"8 mm..14 mm":                {11 * mm, 8 * mm, 14 * mm},
		"8..14 mm":                   {11 * mm, 8 * mm, 14 * mm},
		"8 mm to 14 mm":              {11 * mm, 8 * mm, 14 * mm},
		"8 mm … 14 mm":               {11 * mm, 8 * mm, 14 * mm},
		"10 mm in 8 mm..14 mm":       {10 * mm, 8 * mm, 14 * mm},
		"10 in 8..14 mm":             {10 * mm, 8 * mm, 14 * mm},
		"10 mm":                      {10 * mm, 10 * mm, 10 * mm},
		"1/2 in in 1/4 in..3/4 in":   {Inch / 2, Inch / 4, 3 * Inch / 4},
		"3/8 in in 1/4 in .. 3/4 in": {3 * Inch / 8, Inch / 4, 3 * Inch / 4},
		`½" in ¼"..¾"`:               {Inch / 2, Inch / 4, 3 * Inch / 4},
		"-5 mm..5 mm":                {0, -5 * mm, 5 * mm},
	} {
		if got, err := ParseWindow(text); err != nil || got != want {
			t.Errorf("%s: got %v, %v; want %v", text, got, err, want)
		}
	}
	const example = "; write for example 8 mm..14 mm, 10 mm in 8 mm..14 mm, or 10 mm"
	for text, want := range map[string]string{
		"14 mm..8 mm":          "column 1: the window is upside down, from 14 mm to 8 mm",
		"20 mm in 8 mm..14 mm": "column 1: 20 mm lies outside 8 mm to 14 mm",
		"8..14":                "column 6: a number without a unit",
		"8 mm..":               "column 7: nothing is written here",
		"..14 mm":              "column 1: nothing is written here",
		"x in 8 mm..14 mm":     "column 1: a number was expected",
		"10 mm in 8 mx..14 mm": `column 12: "mx" is no unit of length; mm, cm, m, km, in, ft, yd or usft was expected`,
	} {
		_, err := ParseWindow(text)
		if err == nil || !strings.HasSuffix(err.Error(), " as a window: "+want+example) {
			t.Errorf("%s: got %v, want %s", text, err, want)
		}
	}
	w := Window{10 * mm, 8 * mm, 14 * mm}
	if !w.Contains(8*mm) || !w.Contains(14*mm) || w.Contains(8*mm-1) || w.Contains(14*mm+1) {
		t.Error("a window includes its edges and nothing beyond")
	}
}

func TestChainage(t *testing.T) {
	for _, c := range []struct {
		l      Length
		system System
		places int
		want   string
	}{
		{123_456 * Millimetre, Metric, 3, "0+123.456"},
		{12_345_600 * Millimetre, Metric, 3, "12+345.600"},
		{5 * Metre, Metric, 0, "0+005"},
		{-5500 * Millimetre, Metric, 1, "-0+005.5"},
		{999_999_600_000, Metric, 3, "1+000.000"},
		{12345 * Foot / 100, Imperial, 2, "1+23.45"},
		{5650 * Foot, Imperial, 2, "56+50.00"},
		{3 * Foot, Imperial, 0, "0+03"},
		{-1, Metric, 3, "0+000.000"},
		{math.MinInt64, Metric, 3, "-9223372+036.855"},
	} {
		if got := Chainage(c.l, c.system, c.places); got != c.want {
			t.Errorf("%v: got %s, want %s", c.l, got, c.want)
		}
	}
	for _, c := range []struct {
		text   string
		system System
		want   Length
	}{
		{"0+123.456", Metric, 123_456 * Millimetre},
		{"0+123,456", Metric, 123_456 * Millimetre},
		{"-0+005.5 m", Metric, -5500 * Millimetre},
		{"1+23.45", Imperial, 12345 * Foot / 100},
		{"56+94.12 ft", Imperial, 569412 * Foot / 100}, // published 3.10
		{"123.456 m", Imperial, 123_456 * Millimetre},
		{"+5 m", Metric, 5 * Metre},
	} {
		r, err := ParseChainage(c.text, c.system)
		if err != nil || r.Length != c.want {
			t.Errorf("%s: got %v, %v; want %v", c.text, r.Length, err, c.want)
		}
	}
	for text, want := range map[string]string{
		"0+1234":    "column 3: whole stations and less than 1000 m behind the plus were expected",
		"0.5+100":   "column 5: whole stations and less than 1000 m behind the plus were expected",
		"1+":        "column 3: the plus between whole stations and the rest was expected, with a digit behind it",
		"1+ 5":      "column 3: the plus between whole stations and the rest was expected, with a digit behind it",
		"1+005 ft":  "column 7: a chainage with a plus is in m here",
		"123":       "column 4: a number without a unit",
		"9999999+0": "column 1: beyond ±9.2 million km",
	} {
		_, err := ParseChainage(text, Metric)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: got %v, want %s", text, err, want)
		}
	}
}
