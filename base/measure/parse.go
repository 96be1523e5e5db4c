package measure

import (
	"fmt"
	"strings"
)

// Reading is a written length as it was understood. The zero value is 0 m, read from nothing.
type Reading struct {
	Length  Length
	As      string // in words, to be echoed: "10 ft 0 1/2 in = 3060.7 mm"
	Finest  Length // the resolution that the text was written in: 1/16 in, 1 mm, 0.01 ft
	Unit    Unit   // the first unit written, or the one that a bare number was given
	Rounded bool   // the text was finer than, or no whole number of, nanometres
}

const (
	aLength       = "a length"
	lengthExample = `3.061 m, 3061 mm, 10'-0 1/2" or 67 3/8 in`
)

// Parse reads a length as people write it, in any unit. A number without a unit is refused.
func Parse(text string) (Reading, error) { return ParseIn(text, NoUnit) }

// ParseIn is Parse where a bare number is one of unit, and 10-6 is 10 ft 6 in where that unit is the foot.
//
// A whole number of metres, kilometres, feet or yards is a size, not a reading to the metre: its Finest is 1 mm or
// 1/16 in (common practice, no source). Everything else is as fine as its last digit or fraction.
func ParseIn(text string, unit Unit) (Reading, error) {
	s, err := scan(text, aLength, lengthExample)
	if err != nil {
		return Reading{}, err
	}
	negative := s.sign()
	first, err := s.literal()
	if err != nil {
		return Reading{}, err
	}
	s.spaces()
	written, ok := oneOf(s, lengthWords)
	if ok && written == UnitFoot {
		s.spaces()
		if !s.end() {
			return s.feetInches(negative, first)
		}
	}
	if ok {
		return s.single(negative, first, written, true)
	}
	if s.at(0) == '-' {
		if unit != UnitFoot || first.den > 0 {
			return Reading{}, s.here("a dash between two numbers is feet and inches only where feet are the unit in use")
		}
		return s.feetInches(negative, first)
	}
	if !s.end() {
		return Reading{}, s.here(fmt.Sprintf("%q is no unit of length; mm, cm, m, km, in, ft, yd or usft was expected", s.following()))
	}
	if unit == NoUnit || unit.String() == "" {
		return Reading{}, s.here("a number without a unit")
	}
	return s.single(negative, first, unit, false)
}

// ParseUnit reads the name of a unit alone, as it stands in the head of a column.
func ParseUnit(text string) (Unit, error) {
	s, err := scan(text, "a unit of length", "mm, m, in or ft")
	if err != nil {
		return NoUnit, err
	}
	u, ok := oneOf(s, lengthWords)
	if !ok {
		return NoUnit, s.here(fmt.Sprintf("%q is no unit of length", s.following()))
	}
	return u, s.finish("the unit")
}

// single is a length of one number and one unit.
func (s *scanner) single(negative bool, l literal, unit Unit, written bool) (Reading, error) {
	if err := s.finish("the unit"); err != nil {
		return Reading{}, err
	}
	row := unit.row()
	if l.dash && !written && unit == UnitFoot {
		return Reading{}, s.fault(l.column, fmt.Sprintf("the dash can be read two ways, as feet with a fraction and as feet and %d/%d in", l.num, l.den))
	}
	n, err := s.number(l, row.comma, row.name)
	if err != nil {
		return Reading{}, err
	}
	mag, rounded, ok := n.in(row.size)
	r := Reading{Finest: finest(n, unit), Unit: unit, Rounded: rounded}
	return s.reading(r, negative, mag, ok, n.String()+" "+row.name, written)
}

// feetInches is whole feet, read already, and the inches that come next.
func (s *scanner) feetInches(negative bool, feet literal) (Reading, error) {
	f, err := s.number(feet, commaThousands, "ft")
	if err != nil {
		return Reading{}, err
	}
	if !f.whole() {
		return Reading{}, s.here("feet with decimals or a fraction take no inches behind them")
	}
	s.spaces()
	s.take('-')
	s.spaces()
	if r := s.at(0); !startsNumber(r) || r == '-' || r == '+' {
		return Reading{}, s.here("inches, or nothing more, was expected behind the feet")
	}
	inches, err := s.literal()
	if err != nil {
		return Reading{}, err
	}
	s.spaces()
	if u, ok := oneOf(s, lengthWords); ok && u != UnitInch {
		return Reading{}, s.here("inches were expected behind the feet")
	}
	if err := s.finish("the inches"); err != nil {
		return Reading{}, err
	}
	i, err := s.number(inches, commaThousands, "in")
	if err != nil {
		return Reading{}, err
	}
	if i.num/i.den >= 12 {
		return Reading{}, s.fault(inches.column, fmt.Sprintf("%s in beside feet; less than 12 in was expected", i))
	}
	whole, _, ok1 := f.in(rows[UnitFoot].size)
	part, rounded, ok2 := i.in(rows[UnitInch].size)
	r := Reading{Finest: finest(i, UnitInch), Unit: UnitFoot, Rounded: rounded}
	return s.reading(r, negative, whole+part, ok1 && ok2 && whole+part >= whole, fmt.Sprintf("%s ft %s in", f, i), true)
}

// finest is the resolution of n in unit.
func finest(n number, unit Unit) Length {
	if n.whole() {
		switch unit {
		case UnitMetre, UnitKilometre:
			return Millimetre
		case UnitFoot, UnitYard, UnitSurveyFoot:
			return Sixteenth
		}
	}
	return Length(n.step(unit.row().size))
}

// reading completes r with its signed length and the words for it.
func (s *scanner) reading(r Reading, negative bool, mag uint64, ok bool, words string, written bool) (Reading, error) {
	v, fits := signed(mag, negative)
	if !ok || !fits {
		return Reading{}, s.fault(1, "beyond ±9.2 million km, more than a length can hold")
	}
	r.Length = Length(v)
	if negative && v != 0 {
		words = "-" + words
	}
	r.As = words
	if exact := r.Length.String(); strings.TrimSuffix(words, " mm") != strings.TrimSuffix(exact, " mm") {
		r.As += " = " + exact
	}
	if r.Rounded {
		r.As += ", rounded to 0.000001 mm"
	}
	if !written {
		r.As += fmt.Sprintf(", taken as %s: no unit is written", r.Unit)
	}
	return r, nil
}
