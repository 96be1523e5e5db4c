package landxml

import (
	"math/big"
	"math/bits"
	"strconv"
	"strings"

	"trenchwright/base/measure"
)

// nanometres is how many a unit holds, as a fraction: NIST SP 811 has the foot as 0.3048 m and the inch as 25.4 mm
// exactly, and the US survey foot as 1200/3937 m.
func nanometres(u measure.Unit) (num, den int64, ok bool) {
	switch u {
	case measure.UnitMillimetre:
		return int64(measure.Millimetre), 1, true
	case measure.UnitCentimetre:
		return 10 * int64(measure.Millimetre), 1, true
	case measure.UnitMetre:
		return int64(measure.Metre), 1, true
	case measure.UnitKilometre:
		return int64(measure.Kilometre), 1, true
	case measure.UnitInch:
		return int64(measure.Inch), 1, true
	case measure.UnitFoot:
		return int64(measure.Foot), 1, true
	case measure.UnitSurveyFoot:
		return 1200 * int64(measure.Metre), 3937, true
	}
	return 0, 0, false
}

// furthest is the greatest length that is read, a million km: sums and differences of a few stay within a Length.
const furthest = 1_000_000 * measure.Kilometre

// rounded is m metres to the nanometre, held within furthest.
func rounded(m float64) measure.Length {
	return measure.FromMetres(min(max(m, -furthest.Metres()), furthest.Metres()))
}

// longestNumber is how many signs a number may have.
const longestNumber = 64

// length reads a number (xs:double) of a unit, rounded once to the nanometre, half away from zero.
func length(text string, u measure.Unit) (measure.Length, bool) {
	num, den, ok := nanometres(u)
	if !ok {
		return 0, false
	}
	if l, ok := plainLength(text, uint64(num), uint64(den)); ok {
		return l, true
	}
	if len(text) > longestNumber || strings.ContainsAny(text, "xXpP_") {
		return 0, false
	}
	const least, most = 1e-15, 1e13 // outside these it is nothing, or no length; inside, an exponent is short
	f, err := strconv.ParseFloat(text, 64)
	switch {
	case err != nil || !(f > -most && f < most):
		return 0, false
	case f > -least && f < least:
		return 0, true
	}
	return exactLength(text, num, den)
}

// plainLength is length for the numbers that files are full of: at most 19 digits in all, with or without a point. ok is
// false for any other, which exactLength reads.
func plainLength(text string, num, den uint64) (l measure.Length, ok bool) {
	const mostDigits = 19 // fit into 64 bits
	digits, behind, value := 0, 0, uint64(0)
	body := strings.TrimPrefix(text, "-")
	point := false
	for i := range len(body) {
		switch c := body[i]; {
		case c == '.' && !point:
			point = true
			continue
		case c < '0' || c > '9' || digits == mostDigits:
			return 0, false
		default:
			value = value*10 + uint64(c-'0')
		}
		digits++
		if point {
			behind++
		}
	}
	// value / 10^behind · num / den, and half a unit more, cut.
	over, scaled := bits.Mul64(den, tens[behind])
	hi, lo := bits.Mul64(value, num)
	lo, carry := bits.Add64(lo, scaled/2, 0)
	hi += carry
	if digits == 0 || over != 0 || hi >= scaled {
		return 0, false
	}
	n, _ := bits.Div64(hi, lo, scaled)
	if n > uint64(furthest) {
		return 0, false
	}
	if len(body) < len(text) {
		return -measure.Length(n), true
	}
	return measure.Length(n), true
}

// tens are the powers of ten that fit into 64 bits.
var tens = [20]uint64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19}

// exactLength is length for any number, in fractions of any size.
func exactLength(text string, num, den int64) (measure.Length, bool) {
	r, ok := new(big.Rat).SetString(text)
	if !ok {
		return 0, false
	}
	r.Mul(r, big.NewRat(num, den))
	n, d := r.Num(), r.Denom()
	// Half away from zero: (2n ± d) / 2d, cut.
	twice := new(big.Int).Lsh(n, 1)
	if n.Sign() < 0 {
		twice.Sub(twice, d)
	} else {
		twice.Add(twice, d)
	}
	twice.Quo(twice, new(big.Int).Lsh(d, 1))
	if !twice.IsInt64() || twice.Int64() > int64(furthest) || twice.Int64() < -int64(furthest) {
		return 0, false
	}
	return measure.Length(twice.Int64()), true
}

func decimal(n int) string { return strconv.Itoa(n) }
