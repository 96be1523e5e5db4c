package measure

import (
	"cmp"
	"fmt"
	"math"
	"math/bits"
	"strings"
	"unicode/utf8"
)

const (
	aGrade       = "a grade"
	gradeExample = "0.5 %, 1:200 or 1/8 in per ft"
)

// ParseGrade reads a slope: percent, per mille, rise to run (1:200), or a length per length (1/8 in per ft, 5 mm/m).
// Rise and run come in their lowest terms. A bare number is refused, for 0.5 might be percent or a half.
func ParseGrade(text string) (Said[Grade], error) {
	s, err := scan(text, aGrade, gradeExample)
	if err != nil {
		return Said[Grade]{}, err
	}
	if at, width := s.per(); at > 0 {
		return s.lengthPerLength(at, width)
	}
	negative := s.sign()
	l, err := s.literal()
	if err != nil {
		return Said[Grade]{}, err
	}
	first, err := s.number(l, commaDecimal, "")
	if err != nil {
		return Said[Grade]{}, err
	}
	s.spaces()
	switch {
	case s.take('%'):
		return s.share(negative, first, 100, "%")
	case s.take('‰'):
		return s.share(negative, first, 1000, "‰")
	case s.take(':'):
		return s.riseToRun(negative, first)
	}
	return Said[Grade]{}, s.here("%, or : and the run, was expected behind the number")
}

// per finds what parts a length from a length: " per ", or a stroke that is not part of a fraction. 0: neither.
func (s *scanner) per() (at, width int) {
	text := string(s.runes)
	if before, _, ok := strings.Cut(text, " per "); ok {
		return len([]rune(before)), len(" per ")
	}
	for i, r := range s.runes {
		if r == '/' && i > 0 && (!digit(s.runes[i-1]) || i+1 < len(s.runes) && !digit(s.runes[i+1])) {
			return i, 1
		}
	}
	return 0, 0
}

func (s *scanner) lengthPerLength(at, width int) (Said[Grade], error) {
	all := []rune(s.text)
	rise, err := Parse(string(all[:at]))
	if err != nil {
		return Said[Grade]{}, moved(err, s.text, aGrade, gradeExample, 0)
	}
	below, offset := string(s.runes[at+width:]), at+width
	if first, _ := utf8.DecodeRuneInString(strings.TrimLeft(below, " ")); !startsNumber(first) {
		below, offset = "1 "+below, offset-2 // per ft is per 1 ft
	}
	run, err := Parse(below)
	if err != nil {
		return Said[Grade]{}, moved(err, s.text, aGrade, gradeExample, offset)
	}
	if run.Length <= 0 {
		return Said[Grade]{}, s.fault(at+width+1, "a run longer than nought was expected")
	}
	g, _ := reduced(rise.Length < 0, magnitude(int64(rise.Length)), uint64(run.Length)) // both are int64
	step, _ := reduced(false, uint64(rise.Finest), uint64(run.Length))
	words := fmt.Sprintf("%s per %s = %s", rise.Length, run.Length, g.about())
	return Said[Grade]{Value: g, As: words, Rounded: rise.Rounded || run.Rounded, Finest: step}, nil
}

// share is n parts in whole.
func (s *scanner) share(negative bool, n number, whole uint64, sign string) (Said[Grade], error) {
	if err := s.finish(sign); err != nil {
		return Said[Grade]{}, err
	}
	g, ok := reduced(negative, n.num, n.den*whole) // den ≤ 1e12: no overflow
	if !ok {
		return Said[Grade]{}, s.tooLong()
	}
	as := minus(negative && n.num > 0) + n.String() + " " + sign
	if sign != "%" {
		as += " = " + g.String()
	}
	step, _ := reduced(false, 1, n.den*whole)
	return Said[Grade]{Value: g, As: as, Finest: step}, nil
}

func (s *scanner) riseToRun(negative bool, rise number) (Said[Grade], error) {
	s.spaces()
	column := s.pos + 1
	l, err := s.literal()
	if err != nil {
		return Said[Grade]{}, err
	}
	run, err := s.number(l, commaDecimal, "")
	if err != nil {
		return Said[Grade]{}, err
	}
	if err := s.finish("the run"); err != nil {
		return Said[Grade]{}, err
	}
	if run.num == 0 {
		return Said[Grade]{}, s.fault(column, "a run longer than nought was expected")
	}
	hi1, above := bits.Mul64(rise.num, run.den)
	hi2, below := bits.Mul64(run.num, rise.den)
	g, ok := reduced(negative, above, below)
	if hi1|hi2 != 0 || !ok {
		return Said[Grade]{}, s.tooLong()
	}
	return Said[Grade]{Value: g, As: fmt.Sprintf("%s%s:%s = %s", minus(g.Rise < 0), rise, run, g.about())}, nil
}

func (s *scanner) tooLong() error { return s.fault(1, "more digits than a grade can hold") }

// reduced is rise over run in lowest terms, and whether they fit; run is not 0 unless its product overflowed.
func reduced(negative bool, rise, run uint64) (Grade, bool) {
	g := max(gcd(rise, run), 1)
	v, ok := signed(rise/g, negative)
	return Grade{Rise: Length(v), Run: Length(run / g)}, ok && run/g <= math.MaxInt64
}

// Cmp compares two grades exactly, by 128-bit products: -1, 0 or +1. The zero Grade is level. A run of nought under a
// rise is a wall, steeper than any slope.
func (g Grade) Cmp(h Grade) int {
	gs, hs := g.sign(), h.sign()
	if gs != hs || gs == 0 {
		return cmp.Compare(gs, hs)
	}
	gw, hw := g.Run == 0, h.Run == 0
	if gw || hw {
		return gs * (boolInt(gw) - boolInt(hw))
	}
	ghi, glo := bits.Mul64(magnitude(int64(g.Rise)), magnitude(int64(h.Run)))
	hhi, hlo := bits.Mul64(magnitude(int64(h.Rise)), magnitude(int64(g.Run)))
	return gs * cmp.Or(cmp.Compare(ghi, hhi), cmp.Compare(glo, hlo))
}

func boolInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

// sign is -1 falling, 0 level, +1 rising along the run.
func (g Grade) sign() int {
	s := cmp.Compare(g.Rise, 0)
	if g.Run < 0 {
		s = -s
	}
	return s
}

// Over is the rise of g over a run of l, rounded once to the nanometre, half away from zero.
func (g Grade) Over(l Length) (Length, error) {
	if g == (Grade{}) {
		return 0, nil
	}
	return MulDiv(l, int64(g.Rise), int64(g.Run))
}

// String is g exactly: in percent where that has an end within nine decimals, else as rise to run, 1:96.
func (g Grade) String() string {
	rise, run := magnitude(int64(g.Rise)), magnitude(int64(g.Run))
	sign := minus(g.sign() < 0)
	if rise == 0 {
		return "0 %"
	}
	const nine = 100 * 1_000_000_000
	if run > 0 {
		if n, rounded, ok := mulDiv(rise, nine, run); ok && !rounded && n <= math.MaxInt64 {
			return sign + exactDecimal(int64(n), 9) + " %"
		}
	}
	d := gcd(rise, run)
	return fmt.Sprintf("%s%d:%d", sign, rise/d, run/d)
}

// Ratio is the size of g as rise to run, as the sides of a dig are said: one up and so many out, 1:1.5, where that ends within
// three decimals, else in whole numbers, 3:1.
func (g Grade) Ratio() string {
	rise, run := magnitude(int64(g.Rise)), magnitude(int64(g.Run))
	if rise == 0 || run == 0 {
		return g.String()
	}
	if n, rounded, ok := mulDiv(run, 1000, rise); ok && !rounded && n <= math.MaxInt64 {
		return "1:" + exactDecimal(int64(n), 3)
	}
	d := gcd(rise, run)
	return fmt.Sprintf("%d:%d", rise/d, run/d)
}

// about is g in percent, for reading beside an exact ratio.
func (g Grade) about() string {
	if s := g.String(); strings.HasSuffix(s, "%") {
		return s
	}
	return "about " + g.Percent(4)
}

// Percent is g with a fixed count of decimals (0 to 9), rounded half away from zero: 0.50 %.
func (g Grade) Percent(places int) string {
	places = max(0, min(places, 9))
	if g.Run == 0 && g.Rise != 0 {
		return g.String()
	}
	n, _, ok := mulDiv(magnitude(int64(g.Rise)), 100*pow10(places), max(magnitude(int64(g.Run)), 1))
	if !ok {
		return g.String()
	}
	return minus(g.sign() < 0 && n > 0) + fixedDecimal(n, places) + " %"
}

// MarshalText writes g exactly.
func (g Grade) MarshalText() ([]byte, error) {
	if g.Run == 0 && g.Rise != 0 {
		return nil, fmt.Errorf("a rise of %s over no run is no grade", g.Rise)
	}
	return []byte(g.String()), nil
}

// UnmarshalText reads any grade.
func (g *Grade) UnmarshalText(text []byte) error {
	said, err := ParseGrade(string(text))
	if err == nil {
		*g = said.Value
	}
	return err
}
