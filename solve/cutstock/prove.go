package cutstock

import "math/bits"

// prove keeps the bound that the values prove, if it is the best: worth is the most that a way on each unit is worth by them.
func (m *master) prove(value, rent []int64, rules []rule, worth []int64) bool {
	// All values are scaled by num/den so that no way on stock without limit is worth more than its price.
	num, den := int64(1), int64(1)
	first := true
	for i := range m.units {
		if m.have[i] >= 0 {
			continue
		}
		cost := m.cost(i)
		if cost == 0 && worth[i] > 0 {
			return false // values above nothing for what is free without limit: prices on the way
		}
		if worth[i] > 0 && (first || mulCmp(cost, den, num, worth[i]) < 0) {
			num, den, first = cost, worth[i], false
		}
	}
	if num/2 > den {
		num, den = 1, 1
	}
	b := bound{value: make([]int64, len(value)), rent: make([]int64, len(rent))}
	var sum wide
	for i, v := range value {
		b.value[i] = mulDiv(v, num, den)
		sum.addMul(b.value[i], int64(m.want[i]))
	}
	for _, r := range rules {
		r.value = mulDiv(r.value, num, den)
		b.rules = append(b.rules, r)
		sum.addMul(r.value, int64(r.extra.left))
	}
	for i := range m.units {
		if m.have[i] > 0 {
			b.rent[i] = max(-mulDiv(-worth[i], num, den)-m.cost(i), 0)
			sum.addMul(-b.rent[i], int64(m.have[i]))
		}
	}
	b.cost, b.slack = sum.ceilDiv(m.scale)
	if b.greater(m.bound) {
		m.bound = b
		return true
	}
	return false
}

// greater tells whether b proves more than another.
func (b bound) greater(other bound) bool {
	return b.cost > other.cost || b.cost == other.cost && b.slack > other.slack
}

// mulCmp compares a·b with c·d, all at least 0.
func mulCmp(a, b, c, d int64) int {
	h1, l1 := bits.Mul64(uint64(a), uint64(b))
	h2, l2 := bits.Mul64(uint64(c), uint64(d))
	if h1 != h2 {
		if h1 < h2 {
			return -1
		}
		return 1
	}
	if l1 != l2 {
		if l1 < l2 {
			return -1
		}
		return 1
	}
	return 0
}

// mulDiv is ⌊a·num/den⌋ for num, den at least 0, den above 0.
func mulDiv(a, num, den int64) int64 {
	neg := a < 0
	if neg {
		a = -a
	}
	hi, lo := bits.Mul64(uint64(a), uint64(num))
	quo, rem := bits.Div64(hi, lo, uint64(den))
	if !neg {
		return int64(quo)
	}
	if rem > 0 {
		quo++
	}
	return -int64(quo)
}

// wide is a sum that may pass 64 bits on its way.
type wide struct {
	hi int64
	lo uint64
}

func (w *wide) addMul(a, b int64) {
	hi, lo := bits.Mul64(uint64(a), uint64(b))
	if a < 0 {
		hi -= uint64(b)
	}
	if b < 0 {
		hi -= uint64(a)
	}
	var carry uint64
	w.lo, carry = bits.Add64(w.lo, lo, 0)
	w.hi += int64(hi) + int64(carry)
}

// ceilDiv is the sum over den, rounded up, at least 0; and what the sum has above the last whole number.
func (w *wide) ceilDiv(den int64) (quo, rest int64) {
	if w.hi < 0 || w.hi == 0 && w.lo == 0 {
		return 0, 0
	}
	q, r := bits.Div64(uint64(w.hi), w.lo, uint64(den))
	if r == 0 {
		return int64(q), den
	}
	return int64(q) + 1, int64(r)
}
