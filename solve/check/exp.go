package check

import "math"

// Exp is e to the power of x, the same bits in every build, which math.Exp does not promise: x is brought to within half of ln 2 of 0,
// the series is summed from its smallest term, and the power of 2 is put back. Good to 1 part in 1e15.
func Exp(x float64) float64 {
	if !(math.Abs(x) < 700) {
		return math.NaN()
	}
	k := math.Round(x / math.Ln2)
	// ln 2 in two parts, the first cut off after 21 bits, so that k times it is exact.
	const high = 0x1.62e42p-1
	const low = math.Ln2 - high
	r := x - float64(k*high) - float64(k*low)
	sum := 1.0
	for n := 22.0; n >= 1; n-- {
		sum = 1 + float64(sum*r)/n
	}
	return math.Ldexp(sum, int(k))
}
