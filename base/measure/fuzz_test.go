package measure

import (
	"errors"
	"strings"
	"testing"
	"unicode/utf8"
)

var fuzzSeeds = []string{
	`10'-0 1/2"`, `10' 6"`, `10'`, `67 3/8"`, `5 7/16`, `½"`, `3'-6½"`, `-1/2"`, `5.62'`, `1712 mm`, `3.061 m`, `305 cm`, `3,061 m`, `1,712 mm`,
	"1\u2009234.5 mm", `10-6`, `12.5 usft`, `10′-0″`, `1.234.567,8 mm`, `22.5°`, `22°30'15"`, `right 45`, `25 gon`, `12-24`, `0.5 %`, `1:200`,
	`1/8 in per ft`, `5 mm/m`, `1184 kg`, `2,610 lb`, `2 tons`, `385 kg/m`, `259 lb/ft`, `8 mm..14 mm`, `10 mm in 8..14 mm`, `S68-05-35W`,
	`0+123.456`, `1+23.45`, "", " ", "\x00", "\xff\xfe", `9223372036854.775808 mm`, strings.Repeat("9", 100),
}

func fuzzWith(f *testing.F, check func(*testing.T, string)) {
	for _, s := range fuzzSeeds {
		f.Add(s)
	}
	f.Fuzz(check)
}

// spoken checks that a refusal is a ParseError whose column lies in or just behind the text.
func spoken(t *testing.T, text string, err error) {
	t.Helper()
	var p *ParseError
	if !errors.As(err, &p) {
		t.Fatalf("%q: %v is no ParseError", text, err)
	}
	if p.Column < 1 || p.Column > utf8.RuneCountInString(text)+1 || p.Problem == "" || p.Example == "" || p.What == "" {
		t.Fatalf("%q: %+v", text, p)
	}
}

// echoed is the part of an echo that repeats the text in plain spelling.
func echoed(as string) string {
	before, _, _ := strings.Cut(as, " = ")
	before, _, _ = strings.Cut(before, ", rounded")
	before, _, _ = strings.Cut(before, ", taken as")
	return before
}

func FuzzParse(f *testing.F) {
	fuzzWith(f, func(t *testing.T, text string) {
		for _, unit := range []Unit{NoUnit, UnitMillimetre, UnitInch, UnitFoot} {
			r, err := ParseIn(text, unit)
			if err != nil {
				spoken(t, text, err)
				continue
			}
			if r.Finest <= 0 || r.Unit == NoUnit {
				t.Fatalf("%q: %+v", text, r)
			}
			for _, again := range []string{r.Length.String(), echoed(r.As)} {
				if back, err := Parse(again); err != nil || back.Length != r.Length {
					t.Fatalf("%q was read as %q; %q then gave %v, %v", text, r.As, again, back.Length, err)
				}
			}
		}
	})
}

func FuzzParseAngle(f *testing.F) {
	fuzzWith(f, func(t *testing.T, text string) {
		said, err := ParseDegrees(text)
		if err != nil {
			spoken(t, text, err)
		} else {
			for _, again := range []string{said.Value.String(), echoed(said.As)} {
				if back, err := ParseAngle(again); err != nil || back.Value != said.Value {
					t.Fatalf("%q was read as %q; %q then gave %v, %v", text, said.As, again, back.Value, err)
				}
			}
		}
		bearing, err := ParseBearing(text)
		if err != nil {
			spoken(t, text, err)
			return
		}
		if back, err := ParseBearing(bearing.Value.String()); err != nil || back.Value != bearing.Value {
			t.Fatalf("%q was read as %q, then as %v, %v", text, bearing.As, back.Value, err)
		}
		quadrant := bearing.Value.Bearing()
		if back, err := ParseBearing(quadrant); err != nil || back.Value.Bearing() != quadrant {
			t.Fatalf("%q came back from %s as %v, %v", text, quadrant, back.Value, err)
		}
	})
}

func FuzzParseGrade(f *testing.F) {
	fuzzWith(f, func(t *testing.T, text string) {
		said, err := ParseGrade(text)
		if err != nil {
			spoken(t, text, err)
			return
		}
		if back, err := ParseGrade(said.Value.String()); err != nil || back.Value.Cmp(said.Value) != 0 {
			t.Fatalf("%q was read as %q, then as %v, %v", text, said.As, back.Value, err)
		}
	})
}

func FuzzParseMass(f *testing.F) {
	fuzzWith(f, func(t *testing.T, text string) {
		mass, err := ParseMass(text)
		if err != nil {
			spoken(t, text, err)
		} else if back, err := ParseMass(mass.Value.String()); err != nil || back.Value != mass.Value {
			t.Fatalf("%q was read as %q, then as %v, %v", text, mass.As, back.Value, err)
		}
		bulk, err := ParseBulk(text)
		if err != nil {
			spoken(t, text, err)
		} else if back, err := ParseBulk(bulk.Value.String()); err != nil || back.Value != bulk.Value {
			t.Fatalf("%q was read as %q, then as %v, %v", text, bulk.As, back.Value, err)
		}
		linear, err := ParseLinearMass(text)
		if err != nil {
			spoken(t, text, err)
		} else if back, err := ParseLinearMass(linear.Value.String()); err != nil || back.Value != linear.Value {
			t.Fatalf("%q was read as %q, then as %v, %v", text, linear.As, back.Value, err)
		}
	})
}

func FuzzParseWindow(f *testing.F) {
	fuzzWith(f, func(t *testing.T, text string) {
		w, err := ParseWindow(text)
		if err != nil {
			spoken(t, text, err)
			return
		}
		if back, err := ParseWindow(w.String()); err != nil || back != w || w.Check() != nil {
			t.Fatalf("%q was read as %v, then as %v, %v", text, w, back, err)
		}
	})
}

func FuzzParseChainage(f *testing.F) {
	fuzzWith(f, func(t *testing.T, text string) {
		for _, system := range []System{Metric, Imperial} {
			r, err := ParseChainage(text, system)
			if err != nil {
				spoken(t, text, err)
				continue
			}
			shown := Chainage(r.Length, system, 3)
			back, err := ParseChainage(shown, system)
			if err == nil && Chainage(back.Length, system, 3) != shown {
				t.Fatalf("%q was shown as %s and came back as %v", text, shown, back.Length)
			}
			if err != nil && r.Length.Abs() < 9_000_000*Kilometre {
				t.Fatalf("%q was shown as %s, which is refused: %v", text, shown, err)
			}
		}
	})
}

func FuzzMMJSON(f *testing.F) {
	for _, s := range []string{"0", "3060.7", "-1e-6", "1e400", "1e-400", "00", "1.", ".5", "null", "9223372036854.775807"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var m MM
		if m.UnmarshalJSON([]byte(text)) != nil {
			return
		}
		data, err := m.MarshalJSON()
		var back MM
		if err != nil || back.UnmarshalJSON(data) != nil || back != m {
			t.Fatalf("%q was read as %d, written as %s, read as %d", text, m, data, back)
		}
	})
}
