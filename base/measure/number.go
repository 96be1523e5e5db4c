package measure

import (
	"fmt"
	"strconv"
	"strings"
)

// What a written number may have at most, so that all sums on it stay within 128 bits.
const (
	mostDigits      = 19   // that count; 64 bits hold them all
	mostDecimals    = 12   // a thousandth of a nanometre, written in metres
	mostWholeDigits = 12   // before a fraction
	mostDenominator = 1000 // of a fraction
)

// literal is a number as it stands in the text. What its commas mean is known only with its unit.
type literal struct {
	column   int      // where it starts, from 1
	groups   []string // runs of digits; the first may be empty (.5)
	marks    []rune   // what stands between them: ' ', '.' or ','
	columns  []int    // where those stand
	num, den uint64   // the fraction; den 0: none is written
	bare     bool     // the fraction stands alone: 1/2
	dash     bool     // a dash stands between whole and fraction: 67-3/8
}

// number is a literal whose commas are understood: num/den.
type number struct {
	num, den uint64
	decimals int // digits behind the point
	literal  literal
}

// literal reads the number that comes next.
func (s *scanner) literal() (literal, error) {
	l := literal{column: s.pos + 1}
	if num, den, ok, err := s.fraction(); ok || err != nil {
		l.num, l.den, l.bare = num, den, true
		return l, err
	}
	first := s.digits()
	if first == "" && !s.separator() {
		return l, s.here("a number was expected")
	}
	l.groups = []string{first}
	for s.separator() {
		mark := s.at(0)
		if mark == '\u2009' {
			mark = ' '
		}
		l.marks, l.columns = append(l.marks, mark), append(l.columns, s.pos+1)
		s.pos++
		l.groups = append(l.groups, s.digits())
	}
	if s.at(0) == '.' && len(l.marks) == 0 {
		return l, s.fault(s.pos+2, "a digit was expected after the point")
	}
	return l, s.fractionOf(&l)
}

// separator tells whether a point or comma before a digit, or a space before exactly three digits, comes next.
func (s *scanner) separator() bool {
	switch s.at(0) {
	case '.', ',':
		return digit(s.at(1))
	case ' ', '\u2009':
		if s.pos == 0 || !digit(s.runes[s.pos-1]) || !digit(s.at(1)) || !digit(s.at(2)) || !digit(s.at(3)) {
			return false
		}
		return !digit(s.at(4)) && s.at(4) != '/'
	}
	return false
}

// fractionOf reads the fraction behind a whole number, if there is one: 67 3/8, 67-3/8, 6½.
func (s *scanner) fractionOf(l *literal) error {
	start := s.pos
	if s.take('-') {
		l.dash = true
	} else {
		s.spaces()
	}
	num, den, ok, err := s.fraction()
	if err != nil {
		return err
	}
	if !ok {
		s.pos, l.dash = start, false
		return nil
	}
	if num >= den {
		return s.fault(start+1, fmt.Sprintf("the fraction %d/%d beside a whole number is not below 1", num, den))
	}
	l.num, l.den = num, den
	return nil
}

// fraction reads 3/8 or ⅜; with neither there it steps over nothing.
func (s *scanner) fraction() (num, den uint64, ok bool, err error) {
	for _, v := range vulgar {
		if s.take(v.sign) {
			return v.num, v.den, true, nil
		}
	}
	start := s.pos
	above := s.digits()
	if above == "" || s.at(0) != '/' || !digit(s.at(1)) {
		s.pos = start
		return 0, 0, false, nil
	}
	s.pos++
	below := s.digits()
	num, _ = strconv.ParseUint(above, 10, 64)
	den, _ = strconv.ParseUint(below, 10, 64)
	if len(above) > 6 || len(below) > 6 || den == 0 || den > mostDenominator {
		return 0, 0, false, s.fault(start+1, fmt.Sprintf("%s/%s is no fraction: below the line 1 to %d was expected", above, below, mostDenominator))
	}
	return num, den, true, nil
}

// startsNumber tells whether a written number can begin with r.
func startsNumber(r rune) bool {
	for _, v := range vulgar {
		if r == v.sign {
			return true
		}
	}
	return digit(r) || r == '.' || r == '-' || r == '+'
}

// vulgar is every sign of Unicode that is a fraction with both its numbers.
var vulgar = [...]struct {
	sign     rune
	num, den uint64
}{
	{'½', 1, 2}, {'¼', 1, 4}, {'¾', 3, 4}, {'⅛', 1, 8}, {'⅜', 3, 8}, {'⅝', 5, 8}, {'⅞', 7, 8}, {'⅓', 1, 3}, {'⅔', 2, 3},
	{'⅕', 1, 5}, {'⅖', 2, 5}, {'⅗', 3, 5}, {'⅘', 4, 5}, {'⅙', 1, 6}, {'⅚', 5, 6}, {'⅐', 1, 7}, {'⅑', 1, 9}, {'⅒', 1, 10},
}

func digit(r rune) bool { return r >= '0' && r <= '9' }

func (s *scanner) digits() string {
	start := s.pos
	for digit(s.at(0)) {
		s.pos++
	}
	return string(s.runes[start:s.pos])
}

// number understands l's points, commas and spaces, given how its unit reads a comma before three digits.
func (s *scanner) number(l literal, rule comma, unit string) (number, error) {
	if l.bare {
		return number{num: l.num, den: l.den, literal: l}, nil
	}
	point, err := s.decimalMark(l, rule, unit)
	if err != nil {
		return number{}, err
	}
	whole, part := strings.Join(l.groups[:point], ""), strings.Join(l.groups[point:], "")
	whole = strings.TrimLeft(whole, "0")
	switch {
	case l.den > 0 && part != "":
		return number{}, s.fault(l.column, "a number has decimals or a fraction, not both")
	case len(whole)+len(part) > mostDigits:
		return number{}, s.fault(l.column, fmt.Sprintf("more than %d digits", mostDigits))
	case len(part) > mostDecimals:
		return number{}, s.fault(l.column, fmt.Sprintf("more than %d decimals", mostDecimals))
	case l.den > 0 && len(whole) > mostWholeDigits:
		return number{}, s.fault(l.column, fmt.Sprintf("more than %d digits before a fraction", mostWholeDigits))
	}
	n, _ := strconv.ParseUint("0"+whole+part, 10, 64)
	if l.den > 0 {
		return number{num: n*l.den + l.num, den: l.den, literal: l}, nil
	}
	return number{num: n, den: pow10(len(part)), decimals: len(part), literal: l}, nil
}

// decimalMark is the index of the group behind the decimal mark: len(groups) when there is none. Every other mark must
// part groups of three digits.
func (s *scanner) decimalMark(l literal, rule comma, unit string) (int, error) {
	n := len(l.marks)
	if n == 0 {
		return 1, nil
	}
	last, point := l.marks[n-1], len(l.groups)
	alone := !strings.ContainsRune(string(l.marks[:n-1]), last)
	switch {
	case last == ' ' || !alone: // 12 345 or 1,234,567: no decimals
	case last == ',' && n == 1:
		decimal, err := s.commaAlone(l, rule, unit)
		if err != nil {
			return 0, err
		}
		if decimal {
			point = 1
		}
	default:
		point = n
	}
	grouping := l.marks[:point-1]
	for i, mark := range grouping {
		if mark != grouping[0] {
			return 0, s.fault(l.columns[i], "the digits are grouped in two ways")
		}
		if len(l.groups[i+1]) != 3 {
			return 0, s.fault(l.columns[i]+1, "groups of three digits were expected")
		}
	}
	if len(grouping) > 0 && (len(l.groups[0]) == 0 || len(l.groups[0]) > 3) {
		return 0, s.fault(l.column, "one to three digits were expected before the first group")
	}
	return point, nil
}

// commaAlone tells whether the only mark, a comma, is a decimal one.
func (s *scanner) commaAlone(l literal, rule comma, unit string) (bool, error) {
	before, after := l.groups[0], l.groups[1]
	if len(after) != 3 || before == "" || len(before) > 3 || before[0] == '0' || rule == commaDecimal {
		return true, nil
	}
	if rule == commaThousands {
		return false, nil
	}
	return false, s.fault(l.columns[0], fmt.Sprintf("the comma can be read two ways, as %s.%s %s and as %s%s %s; write the one that is meant",
		before, after, unit, before, after, unit))
}

// String is the number as it was understood: 3.061, 67 3/8, 1/2.
func (n number) String() string {
	l := n.literal
	switch {
	case l.bare:
		return fmt.Sprintf("%d/%d", l.num, l.den)
	case l.den > 0:
		return fmt.Sprintf("%d %d/%d", (n.num-l.num)/l.den, l.num, l.den)
	}
	return fixedDecimal(n.num, n.decimals)
}

// in is n times a unit in whole smallest units, rounded once, half up.
func (n number) in(size ratio) (mag uint64, rounded, ok bool) {
	return mulDiv(n.num, size.num, n.den*size.den)
}

// step is the resolution that n was written in, at least one smallest unit.
func (n number) step(size ratio) uint64 {
	q, _, _ := mulDiv(1, size.num, n.den*size.den)
	return max(q, 1)
}

// whole tells whether n has neither decimals nor a fraction.
func (n number) whole() bool { return n.decimals == 0 && n.literal.den == 0 }
