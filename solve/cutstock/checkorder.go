package cutstock

import (
	"encoding/binary"
	"fmt"
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
	name := string(binary.BigEndian.AppendUint32(nil, uint32(stock)))
	for _, code := range key {
		name += string(binary.BigEndian.AppendUint32(nil, code))
	}
	if out, ok := b.joins[name]; ok {
		return out
	}
	faces := make([][2]End, len(sorts))
	for i, sort := range sorts {
		piece := b.problem.Pieces[b.pieces[sort]]
		faces[i] = [2]End{piece.Start, piece.End}
	}
	out := []order{{}}
	if len(faces) <= 12 {
		out = linesOf(b.problem, b.problem.Stocks[stock], faces)
	}
	b.joins[name] = out
	return out
}

func faceKey(f [2]End) []string {
	return []string{fmt.Sprintf("%020d", f[0].Skew+1<<40), f[0].Cast, fmt.Sprintf("%020d", f[1].Skew+1<<40), f[1].Cast}
}

// linesOf lays pieces one after the other in every order.
func linesOf(p Problem, s Stock, faces [][2]End) []order {
	all := 1<<len(faces) - 1
	laid := make([]map[End][]order, all+1)
	for set := range laid {
		laid[set] = map[End][]order{}
	}
	for set := range all {
		for i, f := range faces {
			if set&(1<<i) > 0 {
				continue
			}
			for turn := range 2 {
				left, right := f[turn], f[1-turn]
				if turn == 1 && !p.MayTurn {
					break
				}
				into := laid[set|1<<i]
				if set == 0 {
					into[right] = addOrders(into[right], []order{{slice: nowhere}}, endOrder(p, s.A, left))
				}
				for _, before := range sortedEnds(laid[set]) {
					into[right] = addOrders(into[right], laid[set][before], betweenOrder(p, before, left))
				}
			}
		}
	}
	var out []order
	for _, last := range sortedEnds(laid[all]) {
		out = addOrders(out, laid[all][last], endOrder(p, s.B, last))
	}
	return out
}

func sortedEnds(m map[End][]order) []End {
	var out []End
	for e := range m {
		out = append(out, e)
	}
	slices.SortFunc(out, func(x, y End) int { return slices.Compare(faceKey([2]End{x}), faceKey([2]End{y})) })
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
