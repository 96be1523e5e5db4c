package cutstock

import (
	"fmt"
	"math"
	"math/big"
	"math/bits"
	"slices"
)

// likes are copies of one piece, or of one stock, that have the same value and lie in the same sets.
type likes struct {
	stock  bool
	index  int
	value  int64
	sets   []int
	copies int
}

// pairs is the cost in steps that a proof by pairs proves.
func (b *bench) pairs(proof *PairProof) (*big.Int, string) {
	if proof.Scale <= 0 || len(proof.Stock) != len(b.problem.Stocks) {
		return nil, "a proof by pairs without values for all stock"
	}
	sum := new(big.Int)
	add := func(value int64, times int) {
		sum.Add(sum, new(big.Int).Mul(big.NewInt(value), big.NewInt(int64(times))))
	}
	sets, why := setsOf(proof)
	if why != "" {
		return nil, why
	}
	if !b.countable(proof) {
		return nil, "a proof by pairs whose values are too large to be added up"
	}
	for _, set := range proof.Sets {
		add(-set.Value, len(set.Members)/2)
	}
	pieces, why := b.allCopies(proof.Value, sets, false)
	if why != "" {
		return nil, why
	}
	units, why := b.allCopies(proof.Rent, sets, true)
	if why != "" {
		return nil, why
	}
	for _, l := range pieces {
		add(l.value, l.copies)
	}
	for _, l := range units {
		add(-l.value, l.copies)
	}
	for _, i := range b.stocks {
		stock := b.problem.Stocks[i]
		if proof.Stock[i] < 0 || proof.Stock[i] != 0 && (stock.Count < 0 || b.isUnit(units, i)) {
			return nil, "a rent below none, or for stock that is not limited"
		}
		add(-proof.Stock[i], min(max(stock.Count, 0), b.total))
		if why := b.holds(proof, i, pieces, units); why != "" {
			return nil, why
		}
	}
	return stepsOf(sum, proof.Scale), ""
}

// countable tells whether every value of a proof is so small that holds can add them up: an eighth of what fits.
func (b *bench) countable(proof *PairProof) bool {
	const most = math.MaxInt64 / 8
	small := func(v int64) bool { return v >= -most && v <= most }
	for _, i := range b.stocks {
		high, low := bits.Mul64(uint64(proof.Scale), uint64(b.problem.Stocks[i].Price/b.proof.Step))
		if high != 0 || low > most {
			return false
		}
	}
	for _, values := range [2][]CopyValue{proof.Value, proof.Rent} {
		if slices.ContainsFunc(values, func(v CopyValue) bool { return !small(v.Value) }) {
			return false
		}
	}
	left := int64(most) // for all sets together: shared sums some of them
	for _, set := range proof.Sets {
		if set.Value < 0 || set.Value > left {
			return false
		}
		left -= set.Value
	}
	return !slices.ContainsFunc(proof.Stock, func(v int64) bool { return !small(v) })
}

func (b *bench) isUnit(units []likes, stock int) bool {
	return slices.ContainsFunc(units, func(l likes) bool { return l.index == stock })
}

// setsOf is the sets that each copy lies in.
func setsOf(proof *PairProof) (map[Copy][]int, string) {
	out := map[Copy][]int{}
	for i, set := range proof.Sets {
		if set.Value < 0 || len(set.Members)%2 == 0 {
			return nil, "a set of an even number, or of a value below none"
		}
		for _, m := range set.Members {
			if slices.Contains(out[m], i) {
				return nil, "a copy twice in a set"
			}
			out[m] = append(out[m], i)
		}
	}
	return out, ""
}

// allCopies groups the copies of all pieces, or of the stock that never takes two pieces. Every copy that there is has
// to be there once.
func (b *bench) allCopies(values []CopyValue, sets map[Copy][]int, stock bool) ([]likes, string) {
	var out []likes
	seen := map[Copy]bool{}
	most := map[int]int{}
	for _, v := range values {
		if v.Stock != stock || v.Number < 0 || seen[v.Copy] || stock && v.Value < 0 {
			return nil, "a copy twice, or of the wrong kind"
		}
		seen[v.Copy] = true
		most[v.Index]++
		at := slices.IndexFunc(out, func(l likes) bool {
			return l.index == v.Index && l.value == v.Value && slices.Equal(l.sets, sets[v.Copy])
		})
		if at < 0 {
			at = len(out)
			out = append(out, likes{stock: stock, index: v.Index, value: v.Value, sets: sets[v.Copy]})
		}
		out[at].copies++
	}
	indices := b.stocks
	if !stock {
		indices = nil
		for i := range b.problem.Pieces {
			if _, ok := b.sortOf[i]; ok {
				indices = append(indices, i)
			}
		}
	}
	for _, i := range indices {
		n := most[i]
		delete(most, i)
		switch {
		case !stock && n != b.problem.Pieces[i].Count, stock && n > 0 && n < min(b.problem.Stocks[i].Count, b.total):
			return nil, fmt.Sprintf("not every copy of %d has a value", i)
		case stock && n > 0 && (b.problem.Stocks[i].Count < 0 || b.takesTwo(i)):
			return nil, fmt.Sprintf("stock %d is not limited, or takes two pieces", i)
		}
	}
	if len(most) > 0 {
		return nil, "a copy of another class"
	}
	return out, ""
}

// takesTwo tells whether two pieces of the class can be cut from a unit of stock.
func (b *bench) takesTwo(stock int) bool {
	for s, i := range b.pieces {
		for t, j := range b.pieces[:s+1] {
			if (s != t || b.wants[s] > 1) && b.twoFit(stock, i, j) {
				return true
			}
		}
	}
	return false
}

// holds tells why no way of cutting a stock is worth more than its price, its rent and the sets that hold all of it.
func (b *bench) holds(proof *PairProof, stock int, pieces, units []likes) string {
	price := proof.Scale * (b.problem.Stocks[stock].Price / b.proof.Step)
	for i, l := range pieces {
		piece := b.pieces[b.sortOf[l.index]]
		if b.oneFits(stock, piece) {
			if !b.isUnit(units, stock) && l.value > price+proof.Stock[stock] {
				return fmt.Sprintf("a piece %d alone on stock %d is worth more than its price", l.index, stock)
			}
			for _, u := range units {
				if u.index == stock && l.value > price+u.value+shared(proof, l, u) {
					return fmt.Sprintf("a piece %d on stock %d is worth more than its price", l.index, stock)
				}
			}
		}
		for j, m := range pieces[:i+1] {
			if i == j && l.copies < 2 || l.value+m.value <= price+proof.Stock[stock] {
				continue
			}
			other := b.pieces[b.sortOf[m.index]]
			if l.value+m.value > price+proof.Stock[stock]+shared(proof, l, m) && b.twoFit(stock, piece, other) {
				return fmt.Sprintf("pieces %d and %d on stock %d are worth more than its price", l.index, m.index, stock)
			}
		}
	}
	return ""
}

// shared is the value of the sets that hold both.
func shared(proof *PairProof, a, b likes) int64 {
	sum := int64(0)
	for _, set := range a.sets {
		if slices.Contains(b.sets, set) {
			sum += proof.Sets[set].Value
		}
	}
	return sum
}
