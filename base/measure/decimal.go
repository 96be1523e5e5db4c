package measure

import (
	"fmt"
	"math/bits"
	"strconv"
	"strings"
)

// thinSpace groups the digits of long numbers of millimetres, as ISO 80000-1 has it: never a comma or a point.
const thinSpace = "\u2009"

// exactDecimal writes units·10^-digits with every digit that counts and no trailing noughts.
func exactDecimal(units int64, digits int) string {
	s := fixedDecimal(magnitude(units), digits)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if units < 0 {
		return "-" + s
	}
	return s
}

// fixedDecimal writes units·10^-digits with exactly that many digits after the point; a negative count of digits
// multiplies instead.
func fixedDecimal(units uint64, digits int) string {
	s := strconv.FormatUint(units, 10)
	if digits <= 0 {
		if units == 0 {
			return "0"
		}
		return s + strings.Repeat("0", -digits)
	}
	if len(s) <= digits {
		s = strings.Repeat("0", digits-len(s)+1) + s
	}
	return s[:len(s)-digits] + "." + s[len(s)-digits:]
}

// grouped sets sep between groups of three digits of the whole part, from five digits on.
func grouped(decimal, sep string, from int) string {
	whole, rest, _ := strings.Cut(decimal, ".")
	if len(whole) < from {
		return decimal
	}
	var b strings.Builder
	for i, c := range whole {
		if i > 0 && (len(whole)-i)%3 == 0 {
			b.WriteString(sep)
		}
		b.WriteRune(c)
	}
	if rest != "" {
		b.WriteString("." + rest)
	}
	return b.String()
}

// readDecimal reads a plain or JSON number (sign, digits, point, exponent) as a whole number of 10^-digits, exactly: a
// number that is finer than that is refused, never rounded.
func readDecimal(text string, digits int) (int64, error) {
	body, negative := strings.CutPrefix(text, "-")
	mantissa, exponent, hasExponent := strings.Cut(strings.ToLower(body), "e")
	shift := digits
	if hasExponent {
		e, err := strconv.Atoi(exponent)
		if err != nil || e < -400 || e > 400 {
			return 0, fmt.Errorf("%q is not a number of this size", text)
		}
		shift += e
	}
	whole, part, _ := strings.Cut(mantissa, ".")
	shift -= len(part)
	all := strings.TrimLeft(whole+part, "0")
	if strings.Trim(whole+part, "0123456789") != "" || whole+part == "" {
		return 0, fmt.Errorf("%q is not a number", text)
	}
	for ; shift < 0 && strings.HasSuffix(all, "0"); shift++ {
		all = all[:len(all)-1]
	}
	if all == "" {
		return 0, nil
	}
	if shift < 0 {
		return 0, fmt.Errorf("%s is finer than the %d decimals that are kept", text, digits)
	}
	mag, err := strconv.ParseUint(all, 10, 64)
	if err != nil || shift > 19 {
		return 0, fmt.Errorf("%s: %w", text, ErrOverflow)
	}
	hi, lo := bits.Mul64(mag, pow10(shift))
	v, fits := signed(lo, negative)
	if hi != 0 || !fits {
		return 0, fmt.Errorf("%s: %w", text, ErrOverflow)
	}
	return v, nil
}

// pow10 is 10^n for n from 0 to 19.
func pow10(n int) uint64 {
	p := uint64(1)
	for range n {
		p *= 10
	}
	return p
}
