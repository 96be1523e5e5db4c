package measure

import (
	"fmt"
	"strings"
)

const (
	anAngle      = "an angle"
	angleExample = `22.5°, 22°30', 22-30-15, right 45 or 25 gon`
)

var (
	asDegrees = smallest{"deg", 9}
	degreeRow = row{name: "deg", size: ratio{uint64(Degree), 1}, comma: commaDecimal}
	gonRow    = row{name: "gon", size: ratio{uint64(Degree) / 10 * 9, 1}, comma: commaDecimal} // 400 gon are 360°
	second    = ratio{uint64(Degree) / 400, 9}                                                 // 1e9/3600: not whole
	minute    = ratio{uint64(Degree) / 20, 3}
)

var angleWords = []word[row]{
	{"degrees", degreeRow}, {"degree", degreeRow}, {"deg.", degreeRow}, {"deg", degreeRow}, {"°", degreeRow},
	{"gradians", gonRow}, {"gradian", gonRow}, {"grads", gonRow}, {"grad", gonRow}, {"gons", gonRow}, {"gon", gonRow},
}

// hand is the way a turn goes, in words.
type hand uint8

const (
	noHand hand = iota
	right
	left
)

var handWords = []word[hand]{{"right", right}, {"left", left}}

// ParseAngle reads a turn: degrees, degrees with minutes and seconds, gons; with left or right in words. Right and
// unsigned are positive. A number with neither unit nor hand is refused.
func ParseAngle(text string) (Said[Angle], error) { return parseAngle(text, false) }

// ParseDegrees is ParseAngle where a bare number is degrees.
func ParseDegrees(text string) (Said[Angle], error) { return parseAngle(text, true) }

func parseAngle(text string, bare bool) (Said[Angle], error) {
	s, err := scan(text, anAngle, angleExample)
	if err != nil {
		return Said[Angle]{}, err
	}
	way, _ := oneOf(s, handWords)
	s.spaces()
	signColumn, hasSign := s.pos+1, s.at(0) == '-' || s.at(0) == '+'
	negative := s.sign()
	t, err := s.turn(bare || way != noHand)
	if err != nil {
		return Said[Angle]{}, err
	}
	s.spaces()
	if way == noHand {
		way, _ = oneOf(s, handWords)
	}
	if err := s.finish("the angle"); err != nil {
		return Said[Angle]{}, err
	}
	if way == noHand {
		return t.said(s, negative)
	}
	if hasSign {
		return Said[Angle]{}, s.fault(signColumn, "a turn has a sign, or left or right in words, not both")
	}
	said, err := t.said(s, false)
	if way == left {
		said.Value = -said.Value
	}
	if err == nil {
		said.As = [...]string{right: "right ", left: "left "}[way] + said.As
	}
	return said, err
}

// turn is the size of an angle without its sign.
type turn struct {
	mag         uint64
	rounded, ok bool
	step        uint64
	words       string
}

func (t turn) said(s *scanner, negative bool) (Said[Angle], error) {
	return saidIn[Angle](s, negative, t.mag, t.rounded, t.ok, t.step, t.words, asDegrees)
}

// turn reads the size of an angle; bare allows a lone number of degrees.
func (s *scanner) turn(bare bool) (turn, error) {
	l, err := s.literal()
	if err != nil {
		return turn{}, err
	}
	if s.at(0) == '-' {
		return s.sexagesimal(l, "-", "-", "")
	}
	s.spaces()
	unit, ok := oneOf(s, angleWords)
	if !ok && !bare {
		return turn{}, s.here("a unit was expected behind the number: °, deg or gon")
	}
	if !ok {
		unit = degreeRow
	}
	if s.spaces(); ok && unit.name == degreeRow.name && digit(s.at(0)) {
		return s.sexagesimal(l, "", "'", `"`)
	}
	n, err := s.number(l, unit.comma, unit.name)
	if err != nil {
		return turn{}, err
	}
	mag, rounded, fits := n.in(unit.size)
	return turn{mag, rounded, fits, n.step(unit.size), n.String() + " " + unit.name}, nil
}

// sexagesimal reads minutes, and seconds if there are any, behind whole degrees. first stands before the minutes,
// behind and last behind minutes and seconds. In the form with dashes (22-30-15) nothing stands behind the last number.
func (s *scanner) sexagesimal(degrees literal, first, behind, last string) (turn, error) {
	d, err := s.number(degrees, commaDecimal, "deg")
	if err != nil {
		return turn{}, err
	}
	if !d.whole() {
		return turn{}, s.here("degrees with decimals take no minutes behind them")
	}
	if first != "" {
		s.pos++
	}
	m, err := s.sixtieth("minutes")
	if err != nil {
		return turn{}, err
	}
	more := s.mark(behind)
	if !more && first == "" {
		return turn{}, s.here("the mark for minutes (') was expected")
	}
	if first == "" {
		s.spaces()
		more = digit(s.at(0))
	}
	if !more {
		return d.with(m, minute, d.String()+"°"+m.two()+"'"), nil
	}
	if !m.whole() {
		return turn{}, s.here("minutes with decimals take no seconds behind them")
	}
	sec, err := s.sixtieth("seconds")
	if err != nil {
		return turn{}, err
	}
	if !s.mark(last) && last != "" {
		return turn{}, s.here(`the mark for seconds (") was expected`)
	}
	words := d.String() + "°" + m.two() + "'" + sec.two() + `"`
	sec.num += m.num * 60 * sec.den // m < 60 and sec < 60·den: far below 2^64
	return d.with(sec, second, words), nil
}

// mark steps over ', " or -, where two ' are one ".
func (s *scanner) mark(m string) bool {
	if m == `"` && s.at(0) == '\'' && s.at(1) == '\'' {
		s.pos += 2
		return true
	}
	return m != "" && s.take([]rune(m)[0])
}

// sixtieth reads minutes or seconds, which run from 0 to under 60.
func (s *scanner) sixtieth(name string) (number, error) {
	l, err := s.literal()
	if err != nil {
		return number{}, err
	}
	n, err := s.number(l, commaDecimal, name)
	if err == nil && n.num/n.den >= 60 {
		err = s.fault(l.column, fmt.Sprintf("%s %s; less than 60 was expected", n, name))
	}
	return n, err
}

// two is n with at least two digits before its point.
func (n number) two() string {
	if n.num/n.den < 10 && !n.literal.bare {
		return "0" + n.String()
	}
	return n.String()
}

// with adds part, counted in unit, to d whole degrees; only the part can need rounding.
func (d number) with(part number, unit ratio, words string) turn {
	whole, _, ok := d.in(degreeRow.size)
	rest, rounded, _ := part.in(unit)
	return turn{whole + rest, rounded, ok && whole+rest >= whole, part.step(unit), words}
}

// DegString is a in decimal degrees, exact, without trailing noughts: 22.5.
func (a Angle) DegString() string { return exactDecimal(int64(a), 9) }

// String is a exactly, as "22.5 deg".
func (a Angle) String() string { return a.DegString() + " deg" }

// MarshalText writes a exactly, as "22.5 deg".
func (a Angle) MarshalText() ([]byte, error) { return []byte(a.String()), nil }

// UnmarshalText reads any angle that is written with its unit or its hand.
func (a *Angle) UnmarshalText(text []byte) error {
	said, err := ParseAngle(string(text))
	if err == nil {
		*a = said.Value
	}
	return err
}

// Show is a in degrees with a fixed count of decimals (0 to 9), rounded half away from zero: 22.50°.
func (a Angle) Show(places int) string {
	text := showDegrees(magnitude(int64(a)), places)
	return minus(a < 0 && strings.Trim(text, "0.°") != "") + text
}

// Turn is a as a turn that a person makes: right 22.5°, left 22.5°, straight. It rounds like Show.
func (a Angle) Turn(places int) string {
	text := showDegrees(magnitude(int64(a)), places)
	switch {
	case a > 0:
		return "right " + text
	case a < 0:
		return "left " + text
	}
	return "straight"
}

func showDegrees(mag uint64, places int) string {
	places = max(0, min(places, 9))
	n, _, _ := mulDiv(mag, 1, pow10(9-places))
	return fixedDecimal(n, places) + "°"
}

// minus is the sign of a negative figure.
func minus(negative bool) string {
	if negative {
		return "-"
	}
	return ""
}

// DMS is a to the nearest second of arc: 22°30'15".
func (a Angle) DMS() string {
	n, _, _ := mulDiv(magnitude(int64(a)), second.den, second.num)
	return minus(a < 0 && n > 0) + fmt.Sprintf(`%d°%02d'%02d"`, n/3600, n/60%60, n%60)
}
