package building

import "trenchwright/base/measure"

// dice is splitmix64 (Steele, Lea, Flood 2014): whole numbers alone, so that a seed makes the same build on every machine.
type dice struct{ state uint64 }

func (d *dice) next() uint64 {
	d.state += 0x9e3779b97f4a7c15
	z := d.state
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// below is one of 0 … n-1.
func (d *dice) below(n int) int { return int(d.next() % uint64(n)) }

// once tells whether something happens that does once in n times.
func (d *dice) once(n int) bool { return d.below(n) == 0 }

// within is a length from -most to most, anything between being as likely.
func (d *dice) within(most measure.Length) measure.Length {
	if most <= 0 {
		return 0
	}
	return measure.Length(d.next()%uint64(2*most+1)) - most
}

// about is a length whose standard deviation is sd and that never lies further than three of them from 0: the sum of twelve throws
// that are even between ±sd/2.
func (d *dice) about(sd measure.Length) measure.Length {
	var sum measure.Length
	for range 12 {
		sum += d.within(sd / 2)
	}
	return min(max(sum, -3*sd), 3*sd)
}

// pick is one of a list.
func pick[T any](d *dice, of []T) T { return of[d.below(len(of))] }

// bytes are ten bytes of chance for an id.
func (d *dice) bytes() (b [10]byte) {
	x, y := d.next(), d.next()
	for i := range 8 {
		b[i] = byte(x >> (8 * i))
	}
	b[8], b[9] = byte(y), byte(y>>8)
	return b
}
