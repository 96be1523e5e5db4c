package delivery

import (
	"math"
	"math/bits"

	"trenchwright/base/measure"
)

// Bound is with how many loads at least everything comes, in whatever order: a count of how much of a load each bundle takes, rounded
// down in a way that no load can hold more than the whole of it.
//
// For a whole number k a share x of a room counts as floor((k+1)·x)/k, and as x where (k+1)·x is whole. What fits into the room then counts
// at most 1: let the whole ones have a/(k+1) of it in all; the floors of the others add up to less than k+1-a, so to k-a at most, and
// (k-a)/k + a/(k+1) <= 1. The product of three such counts, one for each side of a box, holds for boxes in a room that are not turned
// (S. P. Fekete and J. Schepers, dual feasible functions; from memory, proved above for one side and held by Check and the tests against
// the exact count).
type Bound struct {
	Loads int
	By    string // "mass" or "deck"; "": nothing comes
	K     [3]int // by mass the first; by deck of length, width and height
	Sum   int64  // of all bundles
	Of    int64  // what a whole load counts
}

// part is the count of x in a room, in parts of k·(k+1). What is larger than the room counts a whole one: it comes on another vehicle.
func part(x, room int64, k int) int64 {
	if x >= room {
		return int64(k) * int64(k+1)
	}
	high, low := bits.Mul64(uint64(x), uint64(k+1))
	whole, rest := bits.Div64(high, low, uint64(room))
	if rest == 0 {
		return int64(whole) * int64(k)
	}
	return int64(whole) * int64(k+1)
}

// size is what bundles that count alike have in common; single: nothing may stand on one, and it on nothing, so that it takes all of the
// height above it.
type size struct {
	mass                  measure.Mass
	length, width, height measure.Length
	single                bool
}

// The parts that are tried: for rooms that a few large ones fill, and one near the plain share.
var (
	massKs = steps(100, 400)
	sideKs = [3][]int{steps(20, 100), steps(8, 100), steps(6, 100)}
)

func steps(to, last int) []int {
	var list []int
	for k := 1; k <= to; k++ {
		list = append(list, k)
	}
	return append(list, last)
}

// room is the mass that a vehicle can bring at most, wherever it stands.
func (v *Vehicle) room() measure.Mass {
	if a := v.Axles; a != nil {
		return min(v.Payload, a.Limit[0]-a.Empty[0]+a.Limit[1]-a.Empty[1])
	}
	return v.Payload
}

// stands tells which kinds of bundles ever stand on one another.
func (p *Problem) stands() []bool {
	out := make([]bool, len(p.Kinds))
	for i := range p.Kinds {
		if p.Kinds[i].High < 2 {
			continue
		}
		for _, low := range p.Kinds[i].On {
			if p.Kinds[low].High >= 2 {
				out[i], out[low] = true, true
			}
		}
	}
	return out
}

// bound counts in every way and keeps the one by which most loads are needed, and of those the one that comes nearest to one more. The
// weights of the bundles are those of that count.
func (q *question) bound(rest []int) Bound {
	q.weight = make([]int64, len(q.bundles))
	if len(rest) == 0 {
		return Bound{}
	}
	var sizes []size
	var counts []int64
	of, at, stands := map[size]int{}, make([]int, len(q.bundles)), q.stands()
	for _, b := range rest {
		x := &q.bundles[b]
		s := size{x.Mass, x.Length, x.Width, x.Height, !stands[x.Kind]}
		i, known := of[s]
		if !known {
			i = len(sizes)
			of[s], sizes, counts = i, append(sizes, s), append(counts, 0)
		}
		counts[i]++
		at[b] = i
	}
	best, weights := Bound{}, make([]int64, len(sizes))
	hold := func(by string, k [3]int, whole int64, count func(i int) int64) {
		sum, each := int64(0), make([]int64, len(sizes))
		for i := range sizes {
			each[i] = count(i)
			sum += each[i] * counts[i]
		}
		now := Bound{int((sum + whole - 1) / whole), by, k, sum, whole}
		if now.Loads > best.Loads || now.Loads == best.Loads && float64(now.Sum)/float64(whole) > float64(best.Sum)/float64(best.Of) {
			best, weights = now, each
		}
	}
	for _, k := range massKs {
		hold("mass", [3]int{k}, int64(k)*int64(k+1), func(i int) int64 {
			least := int64(math.MaxInt64)
			for v := range q.Vehicles {
				least = min(least, part(int64(sizes[i].mass), int64(q.Vehicles[v].room()), k))
			}
			return least
		})
	}
	if q.sized {
		q.byDeck(sizes, hold)
	}
	for _, b := range rest {
		q.weight[b] = weights[at[b]]
	}
	return best
}

// byDeck counts boxes on decks.
func (q *question) byDeck(sizes []size, hold func(by string, k [3]int, whole int64, count func(i int) int64)) {
	sides := make([][3][][]int64, len(q.Vehicles)) // by vehicle, side, k: the part of each size
	for v := range q.Vehicles {
		d := q.Vehicles[v].Deck
		for side, room := range [3]measure.Length{d.Length, d.Width, d.Height} {
			for _, k := range sideKs[side] {
				list := make([]int64, len(sizes))
				for i := range sizes {
					x := [3]measure.Length{sizes[i].length, sizes[i].width, sizes[i].height}[side]
					if side == 2 && sizes[i].single {
						x = room
					}
					list[i] = part(int64(x), int64(room), k)
				}
				sides[v][side] = append(sides[v][side], list)
			}
		}
	}
	for l, kl := range sideKs[0] {
		for w, kw := range sideKs[1] {
			for h, kh := range sideKs[2] {
				whole := int64(kl) * int64(kl+1) * int64(kw) * int64(kw+1) * int64(kh) * int64(kh+1)
				hold("deck", [3]int{kl, kw, kh}, whole, func(i int) int64 {
					least := int64(math.MaxInt64)
					for v := range sides {
						least = min(least, sides[v][0][l][i]*sides[v][1][w][i]*sides[v][2][h][i])
					}
					return least
				})
			}
		}
	}
}
