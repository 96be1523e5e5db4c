package measure

import (
	"errors"
	"fmt"
	"math"
	"math/bits"
)

// ErrOverflow is what every checked sum and product here wraps when its result has no place in 64 bits.
var ErrOverflow = errors.New("more than a quantity can hold")

// MulDiv is l·num/den by a 128-bit product, rounded once to the nanometre, half away from zero.
func MulDiv(l Length, num, den int64) (Length, error) {
	if den == 0 {
		return 0, fmt.Errorf("%s times %d over 0 has no value", l, num)
	}
	q, _, ok := mulDiv(magnitude(int64(l)), magnitude(num), magnitude(den))
	v, fits := signed(q, (l < 0) != (num < 0) != (den < 0))
	if !ok || !fits {
		return 0, fmt.Errorf("%s times %d over %d lies beyond ±9.2 million km: %w", l, num, den, ErrOverflow)
	}
	return Length(v), nil
}

// AreaOf is a·b by a 128-bit product, rounded once to the square millimetre, half away from zero.
func AreaOf(a, b Length) (Area, error) {
	const squareMillimetre = uint64(Millimetre) * uint64(Millimetre) // in nm²
	q, _, ok := mulDiv(magnitude(int64(a)), magnitude(int64(b)), squareMillimetre)
	v, fits := signed(q, (a < 0) != (b < 0))
	if !ok || !fits {
		return 0, fmt.Errorf("%s by %s is beyond 9.2 million km²: %w", a, b, ErrOverflow)
	}
	return Area(v), nil
}

// Over is the mass of length l at m per metre, rounded once to the gram, half away from zero. Beyond 9.2e12 tonnes,
// which no checked job reaches, it stays at the greatest mass that there is.
func (m LinearMass) Over(l Length) Mass {
	negative := (m < 0) != (l < 0)
	q, _, ok := mulDiv(magnitude(int64(m)), magnitude(int64(l)), uint64(Metre))
	v, fits := signed(q, negative)
	switch {
	case ok && fits:
		return Mass(v)
	case negative:
		return math.MinInt64
	}
	return math.MaxInt64
}

// mulDiv is a·b/den rounded half up, whether that rounding changed anything, and whether the result fits. den > 0.
func mulDiv(a, b, den uint64) (q uint64, rounded, ok bool) {
	hi, lo := bits.Mul64(a, b)
	if hi >= den {
		return 0, false, false
	}
	q, r := bits.Div64(hi, lo, den)
	if r >= den-r { // 2r ≥ den, without doubling r
		if q == math.MaxUint64 {
			return 0, true, false
		}
		return q + 1, true, true
	}
	return q, r != 0, true
}

// magnitude is |x|, also for the least int64.
func magnitude(x int64) uint64 {
	if x < 0 {
		return -uint64(x)
	}
	return uint64(x)
}

// signed gives a magnitude its sign back, if it fits.
func signed(mag uint64, negative bool) (int64, bool) {
	if negative {
		return -int64(mag), mag <= 1<<63
	}
	return int64(mag), mag <= math.MaxInt64
}

// gcd is the greatest common divisor; gcd(0, 0) is 0.
func gcd(a, b uint64) uint64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
