package cutstock

import (
	"encoding/binary"
	"slices"

	"trenchwright/base/measure"
)

// order is what the cuts take in some order of the pieces on a unit, and the least that may be left over.
type order struct{ cuts, slice measure.Length }

const nowhere = measure.Length(1) << 60

// orders is what all orders and turnings of some sorts of pieces on a unit of stock come to: by sets of pieces laid
// from end A, and the face that lies last. More than twelve pieces at once are given the least that cuts can take.
func (b *bench) orders(stock int, sorts []int) []order {
	key := make([]uint32, len(sorts), len(sorts)+1)
	for i, sort := range sorts {
		key[i] = b.codes[sort]
	}
	slices.Sort(key)
	// The length of the stock plays no part: the first with such ends stands for all.
	alike := slices.IndexFunc(b.problem.Stocks, func(s Stock) bool {
		return s.A == b.problem.Stocks[stock].A && s.B == b.problem.Stocks[stock].B
	})
	text := binary.BigEndian.AppendUint32(make([]byte, 0, 4*len(key)+4), uint32(alike))
	for _, code := range key {
		text = binary.BigEndian.AppendUint32(text, code)
	}
	name := string(text)
	if out, ok := b.joins[name]; ok {
		return out
	}
	out := []order{{}}
	if len(sorts) <= 12 {
		out = b.linesOf(b.problem.Stocks[stock], key)
	}
	b.joins[name] = out
	return out
}

// linesOf lays pieces, given by the codes of their faces, one after the other in every order.
func (b *bench) linesOf(s Stock, codes []uint32) []order {
	all := 1<<len(codes) - 1
	laid := make([][][]order, all+1) // by set of pieces, by last face
	for set := range laid {
		laid[set] = make([][]order, len(b.faces))
	}
	for set := range all {
		for i, code := range codes {
			if set&(1<<i) > 0 {
				continue
			}
			for turn := range 2 {
				left, right := code>>16, code&0xffff
				if turn == 1 {
					left, right = right, left
				}
				if turn == 1 && (!b.problem.MayTurn || left == right) {
					break
				}
				into := &laid[set|1<<i][right]
				if set == 0 {
					*into = addOrders(*into, []order{{slice: nowhere}}, endOrder(b.problem, s.A, b.faces[left]))
				}
				for before, orders := range laid[set] {
					if len(orders) > 0 {
						*into = addOrders(*into, orders, b.gap(before, int(left)))
					}
				}
			}
		}
	}
	var out []order
	for last, orders := range laid[all] {
		if len(orders) > 0 {
			out = addOrders(out, orders, endOrder(b.problem, s.B, b.faces[last]))
		}
	}
	return out
}

// endOrder is what a face takes at an end of the stock.
func endOrder(p Problem, stock, face End) order {
	if face.Cast != "" {
		if face.Cast == stock.Cast && stock.Skew == face.Skew {
			return order{0, nowhere}
		}
		return order{nowhere, nowhere}
	}
	cuts, slice := atStockEnd(p, stock.Skew, face.Skew)
	return order{cuts, slice}
}

// gap is betweenOrder by numbers of faces.
func (b *bench) gap(f, g int) order {
	if b.gaps == nil {
		for _, x := range b.faces {
			var row []order
			for _, y := range b.faces {
				row = append(row, betweenOrder(b.problem, x, y))
			}
			b.gaps = append(b.gaps, row)
		}
	}
	return b.gaps[f][g]
}

// betweenOrder is what two facing faces take.
func betweenOrder(p Problem, a, b End) order {
	if a.Cast != "" || b.Cast != "" {
		return order{nowhere, nowhere}
	}
	cuts, slice := parting(p, a.Skew, b.Skew)
	return order{cuts, slice}
}

// addOrders adds to list what orders become with one more place.
func addOrders(list, orders []order, place order) []order {
	for _, o := range orders {
		if o.cuts >= nowhere || place.cuts >= nowhere {
			continue
		}
		o = order{o.cuts + place.cuts, min(o.slice, place.slice)}
		if !slices.Contains(list, o) {
			list = append(list, o)
		}
	}
	return list
}
