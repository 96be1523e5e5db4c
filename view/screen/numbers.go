package screen

import (
	"math"
	"strconv"
)

// Numbers is a column of numbers for drawing, written as JSON with three decimals at most.
type Numbers []float64

// Gaps is a column of numbers of which some are not known: NaN here, null in JSON.
type Gaps []float64

// MarshalJSON writes the column, an empty one as [].
func (n Numbers) MarshalJSON() ([]byte, error) { return column(n), nil }

// MarshalJSON writes the column, an empty one as [].
func (n Gaps) MarshalJSON() ([]byte, error) { return column(n), nil }

func column(n []float64) []byte {
	out := make([]byte, 0, 2+9*len(n))
	out = append(out, '[')
	for i, v := range n {
		if i > 0 {
			out = append(out, ',')
		}
		out = appendThousandths(out, v)
	}
	return append(out, ']')
}

// appendThousandths writes v rounded to its third decimal, without idle noughts.
func appendThousandths(out []byte, v float64) []byte {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return append(out, "null"...)
	}
	t := int64(math.Round(v * 1000))
	if t < 0 {
		out, t = append(out, '-'), -t
	}
	out = strconv.AppendInt(out, t/1000, 10)
	part := t % 1000
	if part == 0 {
		return out
	}
	out = append(out, '.', byte('0'+part/100))
	if part %= 100; part == 0 {
		return out
	}
	out = append(out, byte('0'+part/10))
	if part %= 10; part == 0 {
		return out
	}
	return append(out, byte('0'+part))
}
