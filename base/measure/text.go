package measure

import (
	"bytes"
	"fmt"
)

// MMString is l in decimal millimetres, exact, without trailing noughts: 3060.7.
func (l Length) MMString() string { return exactDecimal(int64(l), 6) }

// MString is l in decimal metres, exact, without trailing noughts: 3.0607.
func (l Length) MString() string { return exactDecimal(int64(l), 9) }

// String is l exactly, as "3060.7 mm".
func (l Length) String() string { return l.MMString() + " mm" }

// MarshalText writes l exactly, as "3060.7 mm".
func (l Length) MarshalText() ([]byte, error) { return []byte(l.String()), nil }

// UnmarshalText reads any length that is written with its unit. A bare number is refused.
func (l *Length) UnmarshalText(text []byte) error {
	if v, ok := ownText(text); ok {
		*l = v
		return nil
	}
	r, err := Parse(string(text))
	if err == nil {
		*l = r.Length
	}
	return err
}

// ownText reads a length the way String writes it, and at once: records and jobs hold them by the million. Anything else is left to
// Parse, which reads these too and says the same of them.
func ownText(text []byte) (Length, bool) {
	digits, ok := bytes.CutSuffix(text, []byte(" mm"))
	below := ok && len(digits) > 1 && digits[0] == '-'
	if below {
		digits = digits[1:]
	}
	v, whole, part := int64(0), 0, -1 // part: digits behind the point, -1 before it
	for _, c := range digits {
		switch {
		case c == '.' && part < 0 && whole > 0:
			part = 0
			continue
		case c < '0' || c > '9' || whole == 11 || part == 6:
			return 0, false
		case part < 0:
			whole++
		default:
			part++
		}
		v = 10*v + int64(c-'0')
	}
	if !ok || whole == 0 || part == 0 || whole > 1 && digits[0] == '0' {
		return 0, false
	}
	for range 6 - max(part, 0) {
		v *= 10
	}
	if below {
		v = -v
	}
	return Length(v), true
}

// MM is a Length whose JSON is the exact decimal number of millimetres, for outputs whose names end in _mm. The zero
// value is 0.
type MM Length

// MarshalJSON writes the number of millimetres, exact to 1e-6.
func (m MM) MarshalJSON() ([]byte, error) { return []byte(Length(m).MMString()), nil }

// UnmarshalJSON reads a number of millimetres and refuses one that is finer than 1e-6 mm.
func (m *MM) UnmarshalJSON(data []byte) error {
	if string(data) == "null" {
		return nil
	}
	v, err := readDecimal(string(data), 6)
	if err != nil {
		return fmt.Errorf("cannot read %s as a number of millimetres: %w", data, err)
	}
	*m = MM(v)
	return nil
}

// Said is a written quantity other than a length as it was understood. The zero value is nought, read from nothing.
type Said[T any] struct {
	Value   T
	As      string // in words, to be echoed
	Finest  T      // the resolution that the text was written in; zero where the text has none (1:200)
	Rounded bool   // the text was no whole number of our smallest units
}

// smallest says how a quantity's unit is called that its text is written back in, and how many decimals that has.
type smallest struct {
	name   string
	digits int
}

// said makes the reading of one number in one unit, whose exact echo is in e.
func said[T ~int64](s *scanner, negative bool, n number, u row, e smallest) (Said[T], error) {
	mag, rounded, ok := n.in(u.size)
	return saidIn[T](s, negative, mag, rounded, ok, n.step(u.size), n.String()+" "+u.name, e)
}

// saidIn is said for a magnitude that was worked out already.
func saidIn[T ~int64](s *scanner, negative bool, mag uint64, rounded, ok bool, step uint64, words string, e smallest) (Said[T], error) {
	v, fits := signed(mag, negative)
	if !ok || !fits {
		return Said[T]{}, s.fault(1, s.what+" of this size is more than can be held")
	}
	if negative && v != 0 {
		words = "-" + words
	}
	if exact := exactDecimal(v, e.digits) + " " + e.name; words != exact {
		words += " = " + exact
	}
	if rounded {
		words += ", rounded to " + exactDecimal(1, e.digits) + " " + e.name
	}
	return Said[T]{Value: T(v), As: words, Finest: T(step), Rounded: rounded}, nil
}
