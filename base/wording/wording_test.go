package wording

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"trenchwright/base/measure"
)

func TestEveryWordHasBothSpellings(t *testing.T) {
	for w := range count {
		uk, us := Speech{}.Word(w), Speech{US: true}.Word(w)
		if uk == "" || us == "" || strings.ToLower(uk+us) != uk+us {
			t.Errorf("word %d is %q and %q", w, uk, us)
		}
	}
}

// Worked by hand: 1 in = 25.4 mm.
func TestLengthsInSentences(t *testing.T) {
	metric, imperial := Speech{}, Speech{Imperial: true}
	const µm, mm = measure.Micrometre, measure.Millimetre
	for _, c := range []struct {
		l        measure.Length
		mm, ftin string
	}{
		{2438400 * µm, "2438.4 mm", `8'-0"`},
		{192400 * µm, "192.4 mm", `7 9/16" (7.575 in)`},
		{1301581779, "1301.6 mm", `4'-3 1/4" (51.243 in)`},
		{8010417, "8.01 mm", "0.315 in"},
		{-6350 * µm, "-6.35 mm", `-1/4"`},
		{-8 * mm, "-8 mm", "-0.315 in"},
		{0, "0 mm", `0"`},
		{1, "0 mm", `0"`},
		{492124999, "492.1 mm", `1'-7 3/8"`},
		{3000 * mm, "3000 mm", `9'-10 1/8" (118.11 in)`},
	} {
		if got := metric.Length(c.l); got != c.mm {
			t.Errorf("%d nm: got %s, want %s", c.l, got, c.mm)
		}
		if got := imperial.Length(c.l); got != c.ftin {
			t.Errorf("%d nm: got %s, want %s", c.l, got, c.ftin)
		}
	}
	for _, c := range []struct {
		l     Far
		m, ft string
	}{
		{Far(24300 * mm), "24.300 m", "79.72 ft"}, {Far(17 * µm), "0.017 mm", "0.001 in"}, {0, "0.000 m", "0.00 ft"}, {Far(measure.Inch), "25.400 mm", "0.08 ft"},
	} {
		if got := metric.Far(c.l); got != c.m {
			t.Errorf("%d nm: got %s, want %s", c.l, got, c.m)
		}
		if got := imperial.Far(c.l); got != c.ft {
			t.Errorf("%d nm: got %s, want %s", c.l, got, c.ft)
		}
	}
	// by tape: metres as they are, feet and inches to the nearest sixteenth, without a decimal behind them
	for l, want := range map[Tape][2]string{Tape(3000 * mm): {"3.000 m", `9'-10 1/8"`}, Tape(1127 * mm): {"1.127 m", `3'-8 3/8"`}, Tape(17 * µm): {"0.017 mm", `0"`}} {
		if m, ft := metric.Say("%s", l), imperial.Say("%s", l); m != want[0] || ft != want[1] {
			t.Errorf("%d nm by tape: %s and %s, want %s", l, m, ft, want)
		}
	}
}

func TestSay(t *testing.T) {
	const form = "the %s of %s turns %d times within %s at %s %s"
	args := []any{Mitred, "B1", 2, 6350 * measure.Micrometre, Chainage, Far(measure.Foot)}
	if got, want := (Speech{}).Say(form, args...), "the mitred of B1 turns 2 times within 6.35 mm at chainage 0.305 m"; got != want {
		t.Errorf("got %s", got)
	}
	if got, want := (Speech{US: true, Imperial: true}).Say(form, args...), `the mitered of B1 turns 2 times within 1/4" at station 1.00 ft`; got != want {
		t.Errorf("got %s", got)
	}
	if args[0] != Mitred {
		t.Error("the caller's arguments were changed")
	}
}

// What stands in a sentence is the length, to what it is rounded to: read back it differs by half a thousandth of an inch
// or a twentieth of a millimetre.
func TestSaidLengthsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := measure.Length(rapid.Int64Range(0, int64(100*measure.Metre)).Draw(t, "nm"))
		for s, half := range map[Speech]measure.Length{{}: 50 * measure.Micrometre, {Imperial: true}: measure.Inch / 2000} {
			text := s.Length(l)
			if _, exact, ok := strings.Cut(text, " ("); ok {
				text = strings.TrimSuffix(exact, ")")
			}
			r, err := measure.Parse(text)
			if err != nil || (r.Length-l).Abs() > half {
				t.Fatalf("%d nm is said as %s, read back as %v, %v", l, s.Length(l), r.Length, err)
			}
		}
	})
}

// Sentences are reworded by whole words, for the United States alone.
func TestReworded(t *testing.T) {
	const said = "two mitred units of the community, 3 metres behind the centre: 2.154 diameters"
	if got := (Speech{}).Reworded(said); got != said {
		t.Errorf("UK: %q", got)
	}
	if got, want := (Speech{US: true}).Reworded(said), "two mitered trench sections of the community, 3 meters behind the center: 2.154 diameters"; got != want {
		t.Errorf("US: %q, not %q", got, want)
	}
}
