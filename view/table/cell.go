package table

import (
	"strconv"
	"strings"

	"trenchwright/base/measure"
)

// Cell is one exact value, a text, or nothing. The zero value is nothing.
type Cell struct {
	kind   Kind
	filled bool
	text   string
	number int64
	places int // of a decimal
	grade  measure.Grade
}

// Text is words; they may stand in any column, as "NOT CHECKED: no mass on file. Ask: the supplier" does.
func Text(s string) Cell { return Cell{filled: true, text: s} }

// Length is an exact length.
func Length(l measure.Length) Cell { return number(KindLength, int64(l)) }

// Mass is an exact mass.
func Mass(m measure.Mass) Cell { return number(KindMass, int64(m)) }

// LinearMass is an exact mass per length.
func LinearMass(m measure.LinearMass) Cell { return number(KindLinearMass, int64(m)) }

// Count is a whole number of things.
func Count(n int) Cell { return number(KindCount, int64(n)) }

// Angle is an exact angle.
func Angle(a measure.Angle) Cell { return number(KindAngle, int64(a)) }

// Grade is an exact grade.
func Grade(g measure.Grade) Cell { return Cell{kind: KindGrade, filled: true, grade: g} }

// Money is a sum in hundredths of the column's currency.
func Money(hundredths int64) Cell {
	return Cell{kind: KindMoney, filled: true, number: hundredths, places: 2}
}

// Decimal is n·10^-places, from 0 to 18 places: a volume, an area, a price per metre, rounded by whoever made it.
func Decimal(n int64, places int) Cell {
	return Cell{kind: KindDecimal, filled: true, number: n, places: max(0, min(places, 18))}
}

func number(k Kind, n int64) Cell { return Cell{kind: k, filled: true, number: n} }

// fits tells whether the cell may stand in a column of the kind.
func (c Cell) fits(k Kind) bool { return !c.filled || c.kind == KindText || c.kind == k }

// exact is the cell's value in its column's metric or only unit, every digit of it, and whether it is a number.
func (c Cell) exact(unit string) (text string, numeric bool) {
	switch c.kind {
	case KindText:
		return c.text, false
	case KindLength:
		if unit == "m" {
			return measure.Length(c.number).MString(), true
		}
		return measure.Length(c.number).MMString(), true
	case KindMass, KindLinearMass:
		return trimmed(decimal(c.number, 3)), true // grams as kilograms
	case KindAngle:
		return measure.Angle(c.number).DegString(), true
	case KindGrade:
		if percent, ok := strings.CutSuffix(c.grade.String(), " %"); ok {
			return percent, true
		}
		return c.grade.String(), false // 1:96 has no end in percent
	}
	return decimal(c.number, c.places), true
}

// shown is the cell as people see it in column k, and whether anything was rounded away for that.
func (c Cell) shown(k Column) (text string, rounded bool) {
	f := k.format()
	switch c.kind {
	case KindLength:
		return f.Figure(measure.Length(c.number)), !f.Exact(measure.Length(c.number))
	case KindMass, KindLinearMass:
		if f.System == measure.Imperial {
			return pounds(f, c), true
		}
		return places(decimal(c.number, 3), k.Places)
	case KindAngle:
		return places(decimal(c.number, 9), k.Places)
	case KindDecimal:
		return places(decimal(c.number, c.places), k.Places)
	case KindGrade:
		text := strings.TrimSuffix(c.grade.Percent(k.Places), " %")
		exact, numeric := c.exact("")
		return text, !numeric || trimmed(text) != exact
	}
	text, _ = c.exact(k.unit())
	return text, false
}

// pounds is a mass to the nearest pound, without the unit.
func pounds(f measure.Format, c Cell) string {
	if c.kind == KindMass {
		return strings.TrimSuffix(f.Mass(measure.Mass(c.number)), " lb")
	}
	return strings.TrimSuffix(f.LinearMass(measure.LinearMass(c.number)), " lb/ft")
}

// decimal is n·10^-places with exactly that many digits behind the point.
func decimal(n int64, places int) string {
	digits := strconv.FormatUint(magnitude(n), 10)
	if len(digits) <= places {
		digits = strings.Repeat("0", places-len(digits)+1) + digits
	}
	if places > 0 {
		digits = digits[:len(digits)-places] + "." + digits[len(digits)-places:]
	}
	if n < 0 {
		return "-" + digits
	}
	return digits
}

func magnitude(n int64) uint64 {
	if n < 0 {
		return -uint64(n)
	}
	return uint64(n)
}

// trimmed is a decimal without trailing noughts.
func trimmed(s string) string {
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// places rounds a decimal text to n places, half away from zero, and tells whether that took anything away.
func places(s string, n int) (string, bool) {
	whole, part, _ := strings.Cut(strings.TrimPrefix(s, "-"), ".")
	if len(part) <= n {
		if part == "" && n > 0 {
			s += "."
		}
		return s + strings.Repeat("0", n-len(part)), false
	}
	rest := part[n:]
	digits := []byte(whole + part[:n])
	if rest[0] >= '5' {
		digits = increment(digits)
	}
	text := string(digits)
	if n > 0 {
		text = text[:len(text)-n] + "." + text[len(text)-n:]
	}
	if strings.HasPrefix(s, "-") && strings.Trim(text, "0.") != "" {
		text = "-" + text
	}
	return text, strings.Trim(rest, "0") != ""
}

// increment adds one to a number of decimal digits.
func increment(digits []byte) []byte {
	for i := len(digits) - 1; i >= 0; i-- {
		if digits[i] < '9' {
			digits[i]++
			return digits
		}
		digits[i] = '0'
	}
	return append([]byte{'1'}, digits...)
}
