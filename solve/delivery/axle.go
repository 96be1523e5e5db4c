package delivery

import "trenchwright/base/measure"

// tenth is the step in which moments are taken: a tenth of a micrometre. Moments of 500 t over 100 m then stay within 64 bits, and what
// is cut off moves what an axle bears by less than a gram.
const tenth = 100 * measure.Nanometre

// tenths is a length in tenths of a micrometre.
func tenths(l measure.Length) int64 { return int64(l / tenth) }

// share is what the moment of a load may be, in grams times tenths of a micrometre about the front of the deck. The vehicle is a beam on two
// supports (statics, closed form): with the load M at x behind the front of the deck, the second group bears M·(Ahead+x)/Apart more
// than empty and the first the rest. Neither may bear more than its limit, nor less than nothing.
func (a *Axles) share(mass measure.Mass) (least, most int64) {
	m, apart, ahead := int64(mass), tenths(a.Apart), tenths(a.Ahead)
	first, second := int64(a.Limit[0]-a.Empty[0]), int64(a.Limit[1]-a.Empty[1])
	least = max((m-first)*apart, -int64(a.Empty[1])*apart) - m*ahead
	most = min(second*apart, (m+int64(a.Empty[0]))*apart) - m*ahead
	return least, most
}

// bear is what both groups bear under a load of that mass with that moment about the front of the deck, to the nearest gram.
func (a *Axles) bear(mass measure.Mass, moment int64) [2]measure.Mass {
	apart := tenths(a.Apart)
	q := moment + int64(mass)*tenths(a.Ahead)
	second := measure.Mass(rounded(q, apart))
	return [2]measure.Mass{a.Empty[0] + mass - second, a.Empty[1] + second}
}

// rounded is n/d to the nearest, halves away from zero; d is above 0.
func rounded(n, d int64) int64 {
	if n < 0 {
		return -rounded(-n, d)
	}
	return n/d + (n%d*2)/d
}
