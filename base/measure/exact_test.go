package measure

import (
	"errors"
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

// roundedQuotient is the slow and obvious twin: a·b/den in arbitrary precision, half away from zero.
func roundedQuotient(a, b, den int64) *big.Int {
	twice := new(big.Int).Mul(big.NewInt(a), big.NewInt(b))
	d := big.NewInt(den)
	negative := (twice.Sign() < 0) != (d.Sign() < 0)
	twice.Abs(twice).Lsh(twice, 1)
	d.Abs(d)
	twice.Add(twice, d).Quo(twice, new(big.Int).Lsh(d, 1))
	if negative {
		twice.Neg(twice)
	}
	return twice
}

func anyInt(name string) func(*rapid.T) int64 {
	return func(t *rapid.T) int64 {
		return rapid.OneOf(rapid.Int64(), rapid.Int64Range(-1_000_000, 1_000_000),
			rapid.SampledFrom([]int64{0, 1, -1, math.MaxInt64, math.MinInt64})).Draw(t, name)
	}
}

func TestMulDivAgreesWithArbitraryPrecision(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, num, den := anyInt("l")(t), anyInt("num")(t), anyInt("den")(t)
		got, err := MulDiv(Length(l), num, den)
		if den == 0 {
			if err == nil {
				t.Fatal("divided by nought")
			}
			return
		}
		want := roundedQuotient(l, num, den)
		checkExact(t, int64(got), err, want)
	})
}

func checkExact(t *rapid.T, got int64, err error, want *big.Int) {
	t.Helper()
	switch {
	case !want.IsInt64() && !errors.Is(err, ErrOverflow):
		t.Fatalf("%v does not fit, but the answer was %d, %v", want, got, err)
	case want.IsInt64() && (err != nil || got != want.Int64()):
		t.Fatalf("got %d, %v; want %v", got, err, want)
	}
}

func TestAreaAgreesWithArbitraryPrecision(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := anyInt("a")(t), anyInt("b")(t)
		got, err := AreaOf(Length(a), Length(b))
		checkExact(t, int64(got), err, roundedQuotient(a, b, 1_000_000_000_000))
	})
	// 4 m by 3 m would already overflow as nm² in 64 bits.
	if a, err := AreaOf(4*Metre, 3*Metre); err != nil || a != 12_000_000 {
		t.Errorf("4 m by 3 m is %d mm², %v; want 12,000,000", a, err)
	}
}

func TestLinearMassOver(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, l := anyInt("m")(t), anyInt("l")(t)
		got, want := LinearMass(m).Over(Length(l)), roundedQuotient(m, l, int64(Metre))
		switch {
		case want.IsInt64():
			if int64(got) != want.Int64() {
				t.Fatalf("got %d, want %v", got, want)
			}
		case want.Sign() < 0 && got != math.MinInt64, want.Sign() > 0 && got != math.MaxInt64:
			t.Fatalf("got %d, which is not the end of the range towards %v", got, want)
		}
	})
	if got := LinearMass(385_500).Over(3 * Metre); got != 1_156_500 {
		t.Errorf("385.5 kg/m over 3 m is %s, want 1156.5 kg", got)
	}
}

func TestGradeCmpAgreesWithRationals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := Grade{Length(anyInt("rise")(t)), Length(anyInt("run")(t))}
		h := Grade{Length(anyInt("rise2")(t)), Length(anyInt("run2")(t))}
		if g.Run == 0 || h.Run == 0 {
			t.Skip("walls are in TestGradeCmpOfWalls")
		}
		x := big.NewRat(1, 1).SetFrac(big.NewInt(int64(g.Rise)), big.NewInt(int64(g.Run)))
		y := big.NewRat(1, 1).SetFrac(big.NewInt(int64(h.Rise)), big.NewInt(int64(h.Run)))
		if got, want := g.Cmp(h), x.Cmp(y); got != want {
			t.Fatalf("%v against %v: got %d, want %d", g, h, got, want)
		}
	})
}

func TestGradeCmpOfWalls(t *testing.T) {
	up, down, level := Grade{5, 0}, Grade{-5, 0}, Grade{}
	steep := Grade{math.MaxInt64, 1}
	order := []Grade{down, {-1, 200}, level, {1, 200}, steep, up}
	for i, g := range order {
		for j, h := range order {
			if got, want := g.Cmp(h), sign(i-j); got != want {
				t.Errorf("%v against %v: got %d, want %d", g, h, got, want)
			}
		}
	}
	if (Grade{5, 0}).Cmp(Grade{7, 0}) != 0 || level.Cmp(Grade{0, 7}) != 0 || level.Cmp(Grade{0, -7}) != 0 {
		t.Error("walls are equally steep, and level is level over any run")
	}
}

func sign(n int) int {
	switch {
	case n < 0:
		return -1
	case n > 0:
		return 1
	}
	return 0
}

// layout.md's pairs: 2.4 m at 0.5 % rise 12 mm; 3 m at 1:200 rise 15 mm.
func TestGradeOver(t *testing.T) {
	for _, c := range []struct {
		g    Grade
		over Length
		want Length
	}{
		{Grade{1, 200}, 2400 * Millimetre, 12 * Millimetre},
		{Grade{5, 1000}, 3 * Metre, 15 * Millimetre},
		{Grade{-1, 3}, 1, 0},
		{Grade{-1, 3}, 2, -1},
		{Grade{}, 3 * Metre, 0},
	} {
		if got, err := c.g.Over(c.over); err != nil || got != c.want {
			t.Errorf("%v over %v: %v, %v; want %v", c.g, c.over, got, err, c.want)
		}
	}
	if _, err := (Grade{5, 0}).Over(Metre); err == nil {
		t.Error("a wall over a run has a rise")
	}
}
