package measure

import (
	"strings"
	"testing"
)

// Every example of the requirements, and the spellings that people add to them.
func TestParseReadsWhatPeopleWrite(t *testing.T) {
	const in, ft = Inch, Foot
	for _, c := range []struct {
		text   string
		unit   Unit // of bare numbers
		want   Length
		finest Length
		as     string
	}{
		{`10'-0 1/2"`, NoUnit, 10*ft + in/2, in / 2, "10 ft 0 1/2 in = 3060.7 mm"},
		{`10' 6"`, NoUnit, 10*ft + 6*in, in, "10 ft 6 in = 3200.4 mm"},
		{`10'6"`, NoUnit, 10*ft + 6*in, in, "10 ft 6 in = 3200.4 mm"},
		{`10' 6`, NoUnit, 10*ft + 6*in, in, "10 ft 6 in = 3200.4 mm"},
		{`10'`, NoUnit, 10 * ft, Sixteenth, "10 ft = 3048 mm"},
		{`12'-0"`, NoUnit, 12 * ft, in, "12 ft 0 in = 3657.6 mm"},
		{`67 3/8"`, NoUnit, 67*in + 3*in/8, in / 8, "67 3/8 in = 1711.325 mm"},
		{`67-3/8"`, NoUnit, 67*in + 3*in/8, in / 8, "67 3/8 in = 1711.325 mm"},
		{`10'-0-1/2"`, NoUnit, 10*ft + in/2, in / 2, "10 ft 0 1/2 in = 3060.7 mm"},
		{`5 7/16`, UnitInch, 5*in + 7*Sixteenth, Sixteenth, "5 7/16 in = 138.1125 mm, taken as in: no unit is written"},
		{`½"`, NoUnit, in / 2, in / 2, "1/2 in = 12.7 mm"},
		{`3/4"`, NoUnit, 3 * in / 4, in / 4, "3/4 in = 19.05 mm"},
		{`3'-6½"`, NoUnit, 3*ft + 6*in + in/2, in / 2, "3 ft 6 1/2 in = 1079.5 mm"},
		{`3'-6½`, NoUnit, 3*ft + 6*in + in/2, in / 2, "3 ft 6 1/2 in = 1079.5 mm"},
		{`-1/2"`, NoUnit, -in / 2, in / 2, "-1/2 in = -12.7 mm"},
		{`−10'-0 1/2"`, NoUnit, -10*ft - in/2, in / 2, "-10 ft 0 1/2 in = -3060.7 mm"},
		{`5.62'`, NoUnit, 1712_976_000, ft / 100, "5.62 ft = 1712.976 mm"},
		{`5.62 ft`, NoUnit, 1712_976_000, ft / 100, "5.62 ft = 1712.976 mm"},
		{`10.25'`, NoUnit, 10*ft + 3*in, ft / 100, "10.25 ft = 3124.2 mm"},
		{`1712 mm`, NoUnit, 1712 * Millimetre, Millimetre, "1712 mm"},
		{`3.061 m`, NoUnit, 3061 * Millimetre, Millimetre, "3.061 m = 3061 mm"},
		{`3.05 m`, NoUnit, 3050 * Millimetre, 10 * Millimetre, "3.05 m = 3050 mm"},
		{`3050 mm`, NoUnit, 3050 * Millimetre, Millimetre, "3050 mm"},
		{`305 cm`, NoUnit, 3050 * Millimetre, 10 * Millimetre, "305 cm = 3050 mm"},
		{`2.5 in`, NoUnit, 5 * in / 2, in / 10, "2.5 in = 63.5 mm"},
		{`1/64"`, NoUnit, 396_875, in / 64, "1/64 in = 0.396875 mm"},
		{`3,061 m`, NoUnit, 3061 * Millimetre, Millimetre, "3.061 m = 3061 mm"},
		{`1,7 mm`, NoUnit, 1_700_000, Millimetre / 10, "1.7 mm"},
		{`1712,25 mm`, NoUnit, 1712_250_000, Millimetre / 100, "1712.25 mm"},
		{`1712,250 mm`, NoUnit, 1712_250_000, Millimetre / 1000, "1712.250 mm = 1712.25 mm"},
		{`1.712,5 mm`, NoUnit, 1712_500_000, Millimetre / 10, "1712.5 mm"},
		{`1,712.5 mm`, NoUnit, 1712_500_000, Millimetre / 10, "1712.5 mm"},
		{`1,712,000 mm`, NoUnit, 1712 * Metre, Millimetre, "1712000 mm"},
		{"12 345,5 mm", NoUnit, 12345_500_000, Millimetre / 10, "12345.5 mm"},
		{"1\u2009234\u2009567.25 mm", NoUnit, 1234567_250_000, Millimetre / 100, "1234567.25 mm"},
		{`1,250'`, NoUnit, 1250 * ft, Sixteenth, "1250 ft = 381000 mm"},
		{`12,5'`, NoUnit, 12*ft + 6*in, ft / 10, "12.5 ft = 3810 mm"},
		{"10\u2032 6\u2033", NoUnit, 10*ft + 6*in, in, "10 ft 6 in = 3200.4 mm"},
		{"10\u2019-6 \u00bd\u201d", NoUnit, 10*ft + 6*in + in/2, in / 2, "10 ft 6 1/2 in = 3213.1 mm"},
		{`7''`, NoUnit, 7 * in, in, "7 in = 177.8 mm"},
		{`10-6`, UnitFoot, 10*ft + 6*in, in, "10 ft 6 in = 3200.4 mm"},
		{`10-6 1/2`, UnitFoot, 10*ft + 6*in + in/2, in / 2, "10 ft 6 1/2 in = 3213.1 mm"},
		{`10-1/2`, UnitInch, 10*in + in/2, in / 2, "10 1/2 in = 266.7 mm, taken as in: no unit is written"},
		{`10 feet 6 inches`, NoUnit, 10*ft + 6*in, in, "10 ft 6 in = 3200.4 mm"},
		{`10ft6in.`, NoUnit, 10*ft + 6*in, in, "10 ft 6 in = 3200.4 mm"},
		{`12.5 usft`, NoUnit, 3810_007_620, 30_480_061, "12.5 US survey ft = 3810.00762 mm, rounded to 0.000001 mm"},
		{`1 US survey foot`, NoUnit, 304_800_610, Sixteenth, "1 US survey ft = 304.80061 mm, rounded to 0.000001 mm"},
		{`3061`, UnitMillimetre, 3061 * Millimetre, Millimetre, "3061 mm, taken as mm: no unit is written"},
		{`3,061`, UnitMetre, 3061 * Millimetre, Millimetre, "3.061 m = 3061 mm, taken as m: no unit is written"},
		{`.5"`, NoUnit, in / 2, in / 10, "0.5 in = 12.7 mm"},
		{`1/3"`, NoUnit, 8_466_667, 8_466_667, "1/3 in = 8.466667 mm, rounded to 0.000001 mm"},
		{`3 m`, NoUnit, 3 * Metre, Millimetre, "3 m = 3000 mm"},
		{`2 1/2 m`, NoUnit, 2500 * Millimetre, 500 * Millimetre, "2 1/2 m = 2500 mm"},
		{`1.2 km`, NoUnit, 1200 * Metre, 100 * Metre, "1.2 km = 1200000 mm"},
		{`-0 mm`, NoUnit, 0, Millimetre, "0 mm"},
		{` 3 M `, NoUnit, 3 * Metre, Millimetre, "3 m = 3000 mm"},
		{`9223372036854.775807 mm`, NoUnit, 1<<63 - 1, 1, "9223372036854.775807 mm"},
		{`-9223372036854.775808 mm`, NoUnit, -1 << 63, 1, "-9223372036854.775808 mm"},
	} {
		r, err := ParseIn(c.text, c.unit)
		if err != nil {
			t.Errorf("%s: %v", c.text, err)
			continue
		}
		if r.Length != c.want || r.Finest != c.finest || r.As != c.as {
			t.Errorf("%s: got %d nm, finest %d, %q; want %d, %d, %q", c.text, r.Length, r.Finest, r.As, c.want, c.finest, c.as)
		}
		if r.Rounded != strings.Contains(r.As, ", rounded to") {
			t.Errorf("%s: rounded is %v, but the words are %q", c.text, r.Rounded, r.As)
		}
	}
}

func TestParseRefusesAndSaysWhy(t *testing.T) {
	const example = `; write for example 3.061 m, 3061 mm, 10'-0 1/2" or 67 3/8 in`
	for _, c := range []struct {
		text string
		unit Unit
		want string
	}{
		{``, NoUnit, `column 1: nothing is written here`},
		{`   `, NoUnit, `column 1: nothing is written here`},
		{`3061`, NoUnit, `column 5: a number without a unit`},
		{`5 7/16`, NoUnit, `column 7: a number without a unit`},
		{`1,712 mm`, NoUnit, `column 2: the comma can be read two ways, as 1.712 mm and as 1712 mm; write the one that is meant`},
		{`1,712`, UnitMillimetre, `column 2: the comma can be read two ways, as 1.712 mm and as 1712 mm; write the one that is meant`},
		{`10-6`, NoUnit, `column 3: a dash between two numbers is feet and inches only where feet are the unit in use`},
		{`10-6`, UnitMillimetre, `column 3: a dash between two numbers is feet and inches only where feet are the unit in use`},
		{`10-1/2`, UnitFoot, `column 1: the dash can be read two ways, as feet with a fraction and as feet and 1/2 in`},
		{`10 furlong`, NoUnit, `column 4: "furlong" is no unit of length; mm, cm, m, km, in, ft, yd or usft was expected`},
		{`10 mmm`, NoUnit, `column 4: "mmm" is no unit of length; mm, cm, m, km, in, ft, yd or usft was expected`},
		{`wide`, NoUnit, `column 1: a number was expected`},
		{`NaN`, UnitMetre, `column 1: a number was expected`},
		{`--5 mm`, NoUnit, `column 2: a number was expected`},
		{`10'--6"`, NoUnit, `column 5: inches, or nothing more, was expected behind the feet`},
		{`1e3 mm`, NoUnit, `column 2: "e3" is no unit of length; mm, cm, m, km, in, ft, yd or usft was expected`},
		{`10' 14"`, NoUnit, `column 5: 14 in beside feet; less than 12 in was expected`},
		{`10.5' 6"`, NoUnit, `column 7: feet with decimals or a fraction take no inches behind them`},
		{`10' 6 mm`, NoUnit, `column 9: inches were expected behind the feet`},
		{`67 9/8"`, NoUnit, `column 3: the fraction 9/8 beside a whole number is not below 1`},
		{`1/0"`, NoUnit, `column 1: 1/0 is no fraction: below the line 1 to 1000 was expected`},
		{`2.5 1/2"`, NoUnit, `column 1: a number has decimals or a fraction, not both`},
		{`5. mm`, NoUnit, `column 3: a digit was expected after the point`},
		{`1,23,456 mm`, NoUnit, `column 3: groups of three digits were expected`},
		{`1234,567,890 mm`, NoUnit, `column 1: one to three digits were expected before the first group`},
		{`1.234,567.890 mm`, NoUnit, `column 6: the digits are grouped in two ways`},
		{`3 m 61 cm`, NoUnit, `column 5: nothing more was expected after the unit`},
		{`3 m x`, NoUnit, `column 5: nothing more was expected after the unit`},
		{`9223372036854.775808 mm`, NoUnit, `column 1: beyond ±9.2 million km, more than a length can hold`},
		{`9999999999999999999 km`, NoUnit, `column 1: beyond ±9.2 million km, more than a length can hold`},
		{`12345678901234567890 mm`, NoUnit, `column 1: more than 19 digits`},
		{`0.1234567890123 m`, NoUnit, `column 1: more than 12 decimals`},
		{`1234567890123 1/2 in`, NoUnit, `column 1: more than 12 digits before a fraction`},
	} {
		_, err := ParseIn(c.text, c.unit)
		want := `cannot read "` + strings.ReplaceAll(c.text, `"`, `\"`) + `" as a length: ` + c.want + example
		if err == nil || err.Error() != want {
			t.Errorf("%s:\n got %v\nwant %s", c.text, err, want)
		}
	}
	if _, err := Parse(strings.Repeat("1", 81)); err == nil || !strings.Contains(err.Error(), "longer than 80 characters") {
		t.Errorf("81 characters: %v", err)
	}
}

// NIST SP 811: the foot is 0.3048 m exactly, the US survey foot 1200/3937 m: 2 ppm apart, 2 ft in 1,000,000 ft.
func TestFootAndSurveyFootDiffer(t *testing.T) {
	international, err1 := Parse("1000000 ft")
	survey, err2 := Parse("1000000 usft")
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	if international.Length != 304_800*Metre {
		t.Errorf("1,000,000 ft is %v, want 304,800 m exactly", international.Length)
	}
	if want := Length(304800609601219); survey.Length != want || !survey.Rounded { // 1200e15/3937 = 304800609601219.2
		t.Errorf("1,000,000 usft is %d nm, rounded %v; want %d, rounded", survey.Length, survey.Rounded, want)
	}
	if apart := survey.Length - international.Length; apart < 199*Foot/100 || apart > 201*Foot/100 {
		t.Errorf("the two feet part by %v over 1,000,000 ft, want 2 ft", apart)
	}
}

func TestParseUnit(t *testing.T) {
	for text, want := range map[string]Unit{"mm": UnitMillimetre, " Ft ": UnitFoot, "usft": UnitSurveyFoot, `"`: UnitInch} {
		if got, err := ParseUnit(text); err != nil || got != want {
			t.Errorf("%q: %v, %v; want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "mm2", "kg", "3 mm"} {
		if got, err := ParseUnit(text); err == nil {
			t.Errorf("%q was read as %v", text, got)
		}
	}
}

func BenchmarkParse(b *testing.B) {
	for _, text := range []string{"3061 mm", `10'-0 1/2"`, "1\u2009234\u2009567.25 mm"} {
		b.Run(text, func(b *testing.B) {
			for b.Loop() {
				if _, err := Parse(text); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
