package measure

import (
	"fmt"
	"strings"
)

const aChainage = "a chainage"

// Chainage is l as set-out sheets write it (trade convention): metric in km + m, 0+123.456, imperial in hundreds of
// feet + feet, 1+23.45. places counts digits after the point (0 to 6 metric, 0 to 5 imperial); rounded half away from
// zero, with the sign in front of all.
func Chainage(l Length, system System, places int) string {
	f := Format{System: system, Survey: true, Places: max(0, min(places, 6))}
	whole, digits := chainageWhole(system)
	n, _, _ := mulDiv(magnitude(int64(l)), 1, uint64(f.Step()))
	stations := whole * pow10(f.places())
	rest := fixedDecimal(n%stations, f.places())
	point := strings.IndexByte(rest+".", '.')
	return fmt.Sprintf("%s%d+%s%s", minus(l < 0 && n > 0), n/stations, strings.Repeat("0", max(0, digits-point)), rest)
}

// chainageWhole is how many metres or feet stand before the plus, and how many digits behind it.
func chainageWhole(system System) (uint64, int) {
	if system == Imperial {
		return 100, 2
	}
	return 1000, 3
}

// ParseChainage reads a chainage with a plus in the given system, or any length with its unit.
func ParseChainage(text string, system System) (Reading, error) {
	unit, example := UnitMetre, "0+123.456 or 123.456 m"
	if system == Imperial {
		unit, example = UnitFoot, "1+23.45 or 123.45 ft"
	}
	s, err := scan(text, aChainage, example)
	if err != nil {
		return Reading{}, err
	}
	plus := s.index('+', s.pos+1)
	if plus < 0 {
		r, err := Parse(text)
		return r, moved(err, text, aChainage, example, 0)
	}
	negative := s.sign()
	stations, err := s.stationPart(commaThousands)
	if err != nil {
		return Reading{}, err
	}
	if !s.take('+') || !digit(s.at(0)) {
		return Reading{}, s.here("the plus between whole stations and the rest was expected, with a digit behind it")
	}
	column := s.pos + 1
	rest, err := s.stationPart(commaDecimal)
	if err != nil {
		return Reading{}, err
	}
	s.spaces()
	named := s.pos + 1
	if written, ok := oneOf(s, lengthWords); ok && written != unit {
		return Reading{}, s.fault(named, fmt.Sprintf("a chainage with a plus is in %s here", unit))
	}
	if err := s.finish("the chainage"); err != nil {
		return Reading{}, err
	}
	whole, _ := chainageWhole(system)
	if !stations.whole() || rest.literal.den > 0 || rest.num/rest.den >= whole {
		return Reading{}, s.fault(column, fmt.Sprintf("whole stations and less than %d %s behind the plus were expected", whole, unit))
	}
	size := unit.row().size
	far, _, ok1 := mulDiv(stations.num, whole*size.num, 1)
	near, rounded, ok2 := rest.in(size)
	r := Reading{Finest: finest(rest, unit), Unit: unit, Rounded: rounded}
	words := fmt.Sprintf("chainage %s+%s %s", stations, rest, unit)
	return s.reading(r, negative, far+near, ok1 && ok2 && far+near >= far, words, true)
}

// stationPart reads one of the two numbers of a chainage.
func (s *scanner) stationPart(rule comma) (number, error) {
	l, err := s.literal()
	if err != nil {
		return number{}, err
	}
	return s.number(l, rule, "")
}

// index is where r stands from a place on, -1 if nowhere.
func (s *scanner) index(r rune, from int) int {
	for i := from; i < len(s.runes); i++ {
		if s.runes[i] == r {
			return i
		}
	}
	return -1
}
