package delaunay

import (
	"cmp"
	"math/bits"
	"slices"

	"trenchwright/place/ground/exact"
)

// keyed is a place with its way along the curve.
type keyed struct {
	key   uint64
	place int32
}

// coming is the order in which so many places along a curve come: every second one in the last round, every second one of
// the others in the round before, and so on (Amenta, Choi and Rote 2003, with the curve instead of chance).
func coming(n int) []int32 {
	order := make([]int32, 0, n)
	for round := bits.Len(uint(n)); round >= 0; round-- {
		for i := 1<<round - 1; i < n; i += 2 << round {
			order = append(order, int32(i))
		}
	}
	return order
}

// distinct are the places that no earlier one coincides with, along a Hilbert curve; same is of each place the first one
// in its place. Places that coincide lie beside each other on the curve.
func distinct(places []exact.XY) (first, same []int32) {
	along := curve(places)
	same = make([]int32, len(places))
	first = make([]int32, 0, len(places))
	for len(along) > 0 {
		n := 1
		for n < len(along) && along[n].key == along[0].key {
			n++
		}
		first = oneKey(places, along[:n], first, same)
		along = along[n:]
	}
	return first, same
}

// oneKey is distinct for places with one key.
func oneKey(places []exact.XY, some []keyed, first, same []int32) []int32 {
	if len(some) > 1 {
		slices.SortFunc(some, func(a, b keyed) int {
			return cmp.Or(places[a.place].Compare(places[b.place]), cmp.Compare(a.place, b.place))
		})
	}
	for i, k := range some {
		if i > 0 && places[some[i-1].place] == places[k.place] {
			same[k.place] = same[some[i-1].place]
			continue
		}
		same[k.place] = k.place
		first = append(first, k.place)
	}
	return first
}

// curveBits is how finely each axis is divided for the curve.
const curveBits = 31

// curve sorts places along a Hilbert curve over the square that holds them.
func curve(places []exact.XY) []keyed {
	if len(places) == 0 {
		return nil
	}
	low, high := places[0], places[0]
	for _, p := range places {
		low.X, low.Y = min(low.X, p.X), min(low.Y, p.Y)
		high.X, high.Y = max(high.X, p.X), max(high.Y, p.Y)
	}
	shift := max(0, bits.Len64(uint64(max(high.X-low.X, high.Y-low.Y)))-curveBits)
	all := make([]keyed, len(places))
	for i, p := range places {
		all[i] = keyed{hilbert(uint64(p.X-low.X)>>shift, uint64(p.Y-low.Y)>>shift), int32(i)}
	}
	return sorted(all)
}

// hilbert is how far along the curve the cell x, y lies.
func hilbert(x, y uint64) uint64 {
	key := uint64(0)
	for b := curveBits - 1; b >= 0; b-- {
		rx, ry := x>>b&1, y>>b&1
		key = key<<2 | (3*rx ^ ry)
		if ry == 0 {
			if rx == 1 {
				x, y = ^x, ^y
			}
			x, y = y, x
		}
	}
	return key
}

// sorted sorts by key, equal keys in the order in which they stood: by digits of 11 bits from the last one on.
func sorted(all []keyed) []keyed {
	const digit = 11
	other := make([]keyed, len(all))
	for shift := 0; shift < 2*curveBits; shift += digit {
		var begins [1 << digit]int
		for _, k := range all {
			begins[k.key>>shift&(1<<digit-1)]++
		}
		if begins[all[0].key>>shift&(1<<digit-1)] == len(all) {
			continue // one digit for all
		}
		sum := 0
		for d, n := range begins {
			begins[d] = sum
			sum += n
		}
		for _, k := range all {
			d := k.key >> shift & (1<<digit - 1)
			other[begins[d]] = k
			begins[d]++
		}
		all, other = other, all
	}
	return all
}
