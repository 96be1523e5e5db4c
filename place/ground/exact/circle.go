package exact

import (
	"math"
	"math/bits"
)

// filter is the error bound of the determinant in float64, relative to the sum of its terms' magnitudes: (10 + 96ε)ε with
// ε = 2^-53 (Shewchuk, Adaptive precision floating-point arithmetic and fast robust geometric predicates, 1997, §4.4).
// Differences of integers are rounded once when they become float64, as they are there.
const filter = (10 + 96*0x1p-53) * 0x1p-53

// InCircle is +1 where d lies inside the circle through a, b and c (counterclockwise), −1 outside, 0 on it.
func InCircle(a, b, c, d XY) int {
	adx, ady := float64(a.X-d.X), float64(a.Y-d.Y)
	bdx, bdy := float64(b.X-d.X), float64(b.Y-d.Y)
	cdx, cdy := float64(c.X-d.X), float64(c.Y-d.Y)
	bc, cb := float64(bdx*cdy), float64(cdx*bdy)
	ca, ac := float64(cdx*ady), float64(adx*cdy)
	ab, ba := float64(adx*bdy), float64(bdx*ady)
	la := float64(adx*adx) + float64(ady*ady)
	lb := float64(bdx*bdx) + float64(bdy*bdy)
	lc := float64(cdx*cdx) + float64(cdy*cdy)
	det := float64(la*(bc-cb)) + float64(lb*(ca-ac)) + float64(lc*(ab-ba))
	bound := filter * (float64(la*(math.Abs(bc)+math.Abs(cb))) + float64(lb*(math.Abs(ca)+math.Abs(ac))) + float64(lc*(math.Abs(ab)+math.Abs(ba))))
	if det > bound {
		return 1
	}
	if -det > bound {
		return -1
	}
	return inCircleExactly(a, b, c, d)
}

// inCircleExactly is the sign of |a|²·b×c + |b|²·c×a + |c|²·a×b, all seen from d.
func inCircleExactly(a, b, c, d XY) int {
	var sum sum256
	sum.add(Dot(d, a, a), Cross(d, b, c))
	sum.add(Dot(d, b, b), Cross(d, c, a))
	sum.add(Dot(d, c, c), Cross(d, a, b))
	return sum.sign()
}

// sum256 is a signed 256-bit number in two's complement, least part first.
type sum256 [4]uint64

// add adds lift·w; lift is not negative.
func (s *sum256) add(lift, w Wide) {
	negative := w.high < 0
	if negative {
		w = Wide{}.minus(w)
	}
	var p sum256
	a := [2]uint64{lift.low, uint64(lift.high)}
	b := [2]uint64{w.low, uint64(w.high)}
	for i := range a {
		for j := range b {
			h, l := bits.Mul64(a[i], b[j])
			var carry uint64
			p[i+j], carry = bits.Add64(p[i+j], l, 0)
			p[i+j+1], carry = bits.Add64(p[i+j+1], h, carry)
			for k := i + j + 2; k < len(p) && carry > 0; k++ {
				p[k], carry = bits.Add64(p[k], 0, carry)
			}
		}
	}
	var carry uint64
	for k := range s {
		if negative {
			s[k], carry = bits.Sub64(s[k], p[k], carry)
		} else {
			s[k], carry = bits.Add64(s[k], p[k], carry)
		}
	}
}

func (s *sum256) sign() int {
	switch {
	case int64(s[3]) < 0:
		return -1
	case s[0]|s[1]|s[2]|s[3] == 0:
		return 0
	}
	return 1
}
