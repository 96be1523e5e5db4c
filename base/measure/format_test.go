package measure

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestFormatLength(t *testing.T) {
	mm, m := Format{}, Format{Survey: true, Places: 3}
	ftIn, ft := Format{System: Imperial}, Format{System: Imperial, Survey: true, Places: 2}
	for _, c := range []struct {
		f    Format
		l    Length
		want string
	}{
		{mm, 3_060_700_000, "3061 mm"},
		{mm, 3_060_500_000, "3061 mm"}, // half away from zero
		{mm, -3_060_500_000, "-3061 mm"},
		{mm, -400_000, "0 mm"}, // no minus before nought
		{mm, 12_345 * Millimetre, "12\u2009345 mm"},
		{mm, 9_999 * Millimetre, "9999 mm"},
		{mm, 1_234_567 * Millimetre, "1\u2009234\u2009567 mm"},
		{Format{Plain: true}, 12_345 * Millimetre, "12345 mm"},
		{Format{Places: 1}, 3_060_700_000, "3060.7 mm"},
		{Format{Places: -1}, 3_065_000_000, "3070 mm"},
		{Format{Places: 99}, 1, "0.000001 mm"},
		{m, 3_060_700_000, "3.061 m"},
		{m, 12_345_678 * Millimetre, "12345.678 m"},
		{ftIn, 10*Foot + Inch/2, `10'-0 1/2"`},
		{ftIn, 12 * Foot, `12'-0"`},
		{ftIn, 67*Inch + 3*Inch/8, `5'-7 3/8"`},
		{ftIn, 7*Inch + 3*Inch/8, `7 3/8"`},
		{ftIn, Inch / 2, `1/2"`},
		{ftIn, -Inch / 2, `-1/2"`},
		{ftIn, 0, `0"`},
		{ftIn, 12*Foot - 1, `12'-0"`},                  // carries over into the feet
		{ftIn, 12*Foot - Inch/32 - 1, `11'-11 15/16"`}, // one nanometre short of half a step
		{ftIn, -(12*Foot - Inch/32), `-12'-0"`},        // half a step goes away from zero
		{Format{System: Imperial, Fraction: 8}, 67*Inch + 7*Sixteenth, `5'-7 1/2"`},
		{Format{System: Imperial, Fraction: 64}, Inch / 64, `1/64"`},
		{Format{System: Imperial, Fraction: 12}, Inch / 8, `1/8"`}, // 12 is no power of two: eighths
		{Format{System: Imperial, Fraction: 1}, 7 * Inch / 2, `4"`},
		{ft, 1712_976_000, "5.62 ft"},
		{ft, math.MinInt64, "-30260406945.06 ft"},
		{mm, math.MinInt64, "-9\u2009223\u2009372\u2009036\u2009855 mm"},
	} {
		if got := c.f.Length(c.l); got != c.want {
			t.Errorf("%+v of %d nm: got %q, want %q", c.f, c.l, got, c.want)
		}
	}
}

func TestRoundingIsNamed(t *testing.T) {
	for _, c := range []struct {
		f    Format
		want string
	}{
		{Format{}, "to the nearest 1 mm"},
		{Format{Places: 1}, "to the nearest 0.1 mm"},
		{Format{Places: -1}, "to the nearest 10 mm"},
		{Format{Survey: true, Places: 2}, "to the nearest 10 mm"},
		{Format{System: Imperial}, `to the nearest 1/16"`},
		{Format{System: Imperial, Fraction: 1}, `to the nearest 1"`},
		{Format{System: Imperial, Survey: true, Places: 2}, "to the nearest 0.01 ft"},
	} {
		if got := c.f.Rounding(); got != c.want {
			t.Errorf("%+v: got %q, want %q", c.f, got, c.want)
		}
	}
}

func TestReadingIsNotShownFinerThanItWasWritten(t *testing.T) {
	fine := Format{Places: 3}
	metres := Format{Survey: true, Places: 6}
	sixtyFourth := Format{System: Imperial, Fraction: 64}
	for _, c := range []struct {
		text string
		f    Format
		want string
	}{
		{`10'-0 1/16"`, fine, "3050 mm"}, // 3049.5875: to 1 mm, as 1/16 in tells no tenth of a millimetre
		{`67 3/8"`, fine, "1711 mm"},
		{`10' 6"`, fine, "3200 mm"},
		{`10'`, fine, "3048 mm"}, // a size, not a reading to the foot
		{`3061 mm`, fine, "3061 mm"},
		{`3.05 m`, fine, "3050 mm"},
		{`3.05 m`, metres, "3.05 m"},
		{`3 m`, metres, "3.000 m"},
		{`3.061 m`, sixtyFourth, `10'-0 1/2"`}, // 10'-0.512": thirty-seconds, reduced
		{`3.05 m`, sixtyFourth, `10'-0"`},
		{`3 m`, sixtyFourth, `9'-10 1/8"`},
		{`5.62'`, Format{System: Imperial, Survey: true, Places: 5}, "5.62 ft"},
		{`1/2"`, sixtyFourth, `1/2"`},
	} {
		r, err := Parse(c.text)
		if err != nil {
			t.Fatal(err)
		}
		if got := c.f.Reading(r); got != c.want {
			t.Errorf("%s: got %q, want %q", c.text, got, c.want)
		}
	}
}

func mustParse(t *testing.T, text string) Reading {
	t.Helper()
	r, err := Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// anyFormat draws a format that Length is meant to work with.
func anyFormat(t *rapid.T) Format {
	f := Format{
		System: System(rapid.IntRange(0, 1).Draw(t, "system")),
		Survey: rapid.Bool().Draw(t, "survey"),
		Plain:  rapid.Bool().Draw(t, "plain"),
	}
	if f.System == Imperial && !f.Survey {
		f.Fraction = rapid.SampledFrom([]int{0, 1, 2, 4, 8, 16, 32, 64}).Draw(t, "fraction")
	} else {
		_, full := f.whole()
		f.Places = rapid.IntRange(0, full).Draw(t, "places")
	}
	return f
}

func anyLength(t *rapid.T) Length {
	return Length(rapid.OneOf(
		rapid.Int64(),
		rapid.Int64Range(-int64(50*Metre), int64(50*Metre)),
		rapid.SampledFrom([]int64{0, 1, -1, math.MaxInt64, math.MinInt64, int64(Inch), int64(Foot), -int64(Sixteenth)}),
	).Draw(t, "length"))
}

// What a format shows, its reader gets back to within half a step; whole steps come back exactly, and the text claims no
// finer resolution than the format's step.
func TestParseReadsBackEveryFormat(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, l := anyFormat(t), anyLength(t)
		step := f.Step()
		text := f.Length(l)
		r, err := Parse(text)
		if err != nil {
			if l.Abs() > math.MaxInt64-step || l == math.MinInt64 { // rounded up out of the range
				return
			}
			t.Fatalf("%s: %v", text, err)
		}
		if r.Rounded {
			t.Fatalf("%s: read back with rounding", text)
		}
		if f.Exact(l) && r.Length != l {
			t.Fatalf("%s: a whole number of steps came back as %s, not %s", text, r.Length, l)
		}
		if apart := (r.Length - l).Abs(); 2*apart > step {
			t.Fatalf("%s: read back %s, half a step is %s", text, apart, step/2)
		}
		sized := finest(number{den: 1}, r.Unit) == r.Finest // whole metres and feet count as sizes
		if r.Finest < step && !(sized && f.Survey) {
			t.Fatalf("%s: reads as fine as %s, the step is %s", text, r.Finest, step)
		}
		if again := f.Length(r.Length); again != text {
			t.Fatalf("%s: formats again as %s", text, again)
		}
	})
}

// A format held to a reading's resolution keeps two neighbouring readings apart, and is the coarsest that does.
func TestNoFinerThanIsTheCoarsestThatTellsApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := anyFormat(t)
		allowed := Length(rapid.Int64Range(1, int64(Metre)).Draw(t, "finest"))
		held := f.NoFinerThan(allowed)
		if held.Step() < f.Step() {
			t.Fatalf("%+v became finer: %+v", f, held)
		}
		if f.Step() >= allowed && held != f {
			t.Fatalf("%+v is coarse enough for %s and was changed to %+v", f, allowed, held)
		}
		if f.Step() < allowed && held.Step() > allowed {
			t.Fatalf("%+v: a step of %s loses readings %s apart", held, held.Step(), allowed)
		}
		ladderEnds := f.System == Imperial && !f.Survey && held.Step() == Inch || held.places() == -6
		factor := Length(10)
		if f.System == Imperial && !f.Survey {
			factor = 2
		}
		if f.Step() < allowed && held.Step()*factor <= allowed && !ladderEnds {
			t.Fatalf("%+v for %s: the next coarser step would do", held, allowed)
		}
	})
}
