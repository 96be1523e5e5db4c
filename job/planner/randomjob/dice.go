package randomjob

import "trenchwright/base/measure"

// dice is splitmix64 (Steele, Lea, Flood 2014): the same seed gives the same throws everywhere.
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

// percent is true p times in a hundred.
func (d *dice) percent(p int) bool { return d.below(100) < p }

// number is between low and high.
func (d *dice) number(low, high float64) float64 {
	return low + float64((high-low)*(float64(d.next()>>11)/(1<<53)))
}

// length is a whole number of steps between low and high, both included.
func (d *dice) length(low, high, step measure.Length) measure.Length {
	n := int((high - low) / step)
	if n <= 0 {
		return low
	}
	return low + measure.Length(d.below(n+1))*step
}

// one picks one of a list.
func one[T any](d *dice, list ...T) T { return list[d.below(len(list))] }
