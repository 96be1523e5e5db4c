package points

import (
	"strings"

	"trenchwright/base/measure"
)

// shape is how a number is written.
type shape struct {
	number   bool // digits with at most one decimal sign, perhaps a sign before them
	point    bool // it has a point
	comma    bool // it has a comma
	grouping bool // its comma may part thousands as well: 1 to 3 digits, a comma, 3 digits
}

// shapeOf looks at a field. Exponents and digits in groups are not numbers here.
func shapeOf(text string) shape {
	text = strings.TrimLeft(text, "+-")
	digits, before := 0, -1
	var s shape
	for _, r := range text {
		switch {
		case r >= '0' && r <= '9':
			digits++
		case (r == '.' || r == ',') && before < 0:
			before = digits
			s.point, s.comma = r == '.', r == ','
		default:
			return shape{}
		}
	}
	s.number = digits > 0 && !(s.comma && digits == before) // "5." is a number, "5," a field with its separator
	s.grouping = s.comma && before >= 1 && before <= 3 && digits-before == 3 && text[0] != '0'
	return s
}

// fits tells whether a number is written with the decimal sign.
func (s shape) fits(decimal rune) bool {
	return s.number && !(s.point && decimal == ',') && !(s.comma && decimal == '.')
}

// furthest is the greatest coordinate that is read, a million km: differences stay within a Length.
const furthest = 1_000_000 * measure.Kilometre

// length reads a number of a unit, exactly, rounded once to the nanometre.
func length(text string, decimal rune, unit measure.Unit) (measure.Length, string) {
	if !shapeOf(text).fits(decimal) || len(text)-len(strings.TrimLeft(text, "+-")) > 1 {
		return 0, notANumber(text, decimal)
	}
	text = strings.Replace(text, ",", ".", 1)
	if l, ok := whole(text, unit); ok {
		return l, ""
	}
	if whole, part, cut := strings.Cut(text, "."); cut && part == "" {
		text = whole // 5. is 5
	}
	r, err := measure.ParseIn(text, unit)
	if err != nil {
		return 0, err.Error()
	}
	if r.Length > furthest || r.Length < -furthest {
		return 0, "\"" + clipped(text) + "\" " + unit.String() + " is further than a million km"
	}
	return r.Length, ""
}

// whole is length for the plain numbers that lists are full of, where they come to whole nanometres: the digits with zeros
// behind them. ok is false for any other.
func whole(text string, unit measure.Unit) (l measure.Length, ok bool) {
	places := 0
	switch unit {
	case measure.UnitMillimetre:
		places = 6
	case measure.UnitCentimetre:
		places = 7
	case measure.UnitMetre:
		places = 9
	default:
		return 0, false
	}
	const most = 17 // digits of a million km in nanometres, and one less than an int64 surely holds
	before, behind, _ := strings.Cut(strings.TrimLeft(text, "+-"), ".")
	if len(behind) > places || len(before)+places > most {
		return 0, false
	}
	n := int64(0)
	for _, digits := range [2]string{before, behind} {
		for _, c := range []byte(digits) {
			n = n*10 + int64(c-'0') // shapeOf has seen that they are digits
		}
	}
	for range places - len(behind) {
		n *= 10
	}
	if text[0] == '-' {
		n = -n
	}
	return measure.Length(n), true
}

func notANumber(text string, decimal rune) string {
	why := "\"" + clipped(text) + "\" is not a number with a decimal point"
	if decimal == ',' {
		why = "\"" + clipped(text) + "\" is not a number with a decimal comma"
	}
	return why
}

func clipped(text string) string {
	const few = 24
	if r := []rune(text); len(r) > few {
		return string(r[:few]) + "…"
	}
	return text
}
