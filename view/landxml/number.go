package landxml

import (
	"math/big"
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
	if !ok || len(text) > longestNumber || strings.ContainsAny(text, "xXpP_") {
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
