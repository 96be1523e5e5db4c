package exact

import "math/bits"

// Wide is a signed 128-bit number in two's complement. The zero value is 0.
type Wide struct {
	high int64
	low  uint64
}

// multiply is a·b in 128 bits.
func multiply(a, b int64) (high int64, low uint64) {
	h, l := bits.Mul64(uint64(a), uint64(b))
	return int64(h) - (a>>63)&b - (b>>63)&a, l
}

func product(a, b int64) Wide {
	h, l := multiply(a, b)
	return Wide{h, l}
}

func (w Wide) plus(v Wide) Wide {
	l, carry := bits.Add64(w.low, v.low, 0)
	h, _ := bits.Add64(uint64(w.high), uint64(v.high), carry)
	return Wide{int64(h), l}
}

func (w Wide) minus(v Wide) Wide {
	l, borrow := bits.Sub64(w.low, v.low, 0)
	h, _ := bits.Sub64(uint64(w.high), uint64(v.high), borrow)
	return Wide{int64(h), l}
}

// Plus is w + v; Minus is w − v. Sums of up to 2^9 values of Cross and Dot fit.
func (w Wide) Plus(v Wide) Wide  { return w.plus(v) }
func (w Wide) Minus(v Wide) Wide { return w.minus(v) }

// Sign is −1, 0 or +1.
func (w Wide) Sign() int {
	switch {
	case w.high < 0:
		return -1
	case w.high == 0 && w.low == 0:
		return 0
	}
	return 1
}

// Float is w as the nearest float64, to within one unit in its last place.
func (w Wide) Float() float64 {
	if w.high == int64(w.low)>>63 { // fits in 64 bits
		return float64(int64(w.low))
	}
	if w.high < 0 {
		return -Wide{}.minus(w).Float()
	}
	return float64(float64(w.high)*(1<<64)) + float64(w.low)
}
