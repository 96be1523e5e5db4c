package cutstock

import (
	"cmp"
	"slices"

	"trenchwright/base/sorting"
)

// solve finds the cutting, and the rents that prove most. ok is false when pieces are left that nothing takes.
func (p *pairing) solve() (best cutting, ok bool) {
	keep := func(k cutting, found bool) {
		if found && (!ok || k.cost < best.cost) {
			best, ok = k, true
		}
	}
	p.guessRents()
	open := func() bool { return !p.effort.spent() && (!ok || best.cost > p.lowest.steps()) }
	used, k, found := p.step()
	keep(k, found)
	for range 3 {
		for u := range p.units {
			if p.units[u].count < 0 || p.single[u] || !open() {
				continue
			}
			// The bound rises with the rent while more units are used than there are.
			for low, high := int64(0), 2*p.missing(); low < high && open(); {
				p.rent[u] = (low + high) / 2
				used, k, found = p.step()
				keep(k, found)
				if used[u] > p.units[u].count {
					low = p.rent[u] + 1
				} else {
					high = p.rent[u]
				}
			}
			copy(p.rent, p.lowest.rent)
		}
	}
	if p.wasteMatters() {
		p.waste = true
		if _, k, found := p.step(); found && ok && k.cost <= best.cost {
			best = k
		}
		p.waste = false
	}
	return best, ok
}

// guessRents gives every unit that is few the rent that makes it as dear as the same unit without limit, or else as the
// cheapest unit without limit: where more units are needed than are few, that is where the bound is highest.
func (p *pairing) guessRents() {
	for u := range p.units {
		if p.units[u].count < 0 || p.single[u] {
			continue
		}
		best, same := int64(-1), false
		for t := range p.units {
			if p.units[t].count >= 0 {
				continue
			}
			alike := p.units[t].alike(&p.units[u])
			if best < 0 || alike && !same || alike == same && p.costs[t] < best {
				best, same = p.costs[t], alike
			}
		}
		p.rent[u] = max(2*(best-p.costs[u]), 0)
	}
}

// alike tells whether two units are the same to the saw.
func (u *unit) alike(v *unit) bool {
	return u.Length == v.Length && u.A == v.A && u.B == v.B && slices.Equal(u.NoCut, v.NoCut)
}

// step matches at the rents as they stand, keeps the bound if it is the best, and gives the cutting and how many of
// each unit it would use if there were no limit.
func (p *pairing) step() (used []int, k cutting, ok bool) {
	p.choose()
	m := p.match()
	if b := p.bound(m); !p.waste && !p.effort.spent() && (p.lowest.alone == nil || b.total > p.lowest.total) {
		p.lowest = b
	}
	used = make([]int, len(p.units))
	ways := p.ways(m)
	for _, w := range ways {
		if w.unit >= 0 {
			used[w.unit]++
		}
	}
	k, ok = p.share(ways)
	return used, k, ok
}

// wasteMatters tells whether cuttings of equal cost can waste more or less, and whether it can be afforded to look.
func (p *pairing) wasteMatters() bool {
	affordable := len(p.copies) <= 600 && p.halfStep() < 1<<58/(4*p.missing()) && !p.effort.spent()
	return (p.keep > 0 || len(p.units) > 1) && affordable
}

// ways reads a matching as ways on the units that were chosen; unit −1: there is none for the piece.
func (p *pairing) ways(m matching) []way {
	var out []way
	for v, mate := range m.mate {
		c := p.copies[v]
		switch {
		case c.unit || mate >= 0 && mate < v && !p.copies[mate].unit:
		case mate < 0:
			out = append(out, way{p.alone[c.index].unit, []take{{c.index, 1}}})
		case p.copies[mate].unit:
			out = append(out, way{p.copies[mate].index, []take{{c.index, 1}}})
		default:
			out = append(out, way{p.pair[c.index*len(p.kinds)+p.copies[mate].index].unit, twoTakes(c.index, p.copies[mate].index)})
		}
	}
	return out
}

// share gives the ways units that there are: always next the way that would lose most if it did not get its cheapest.
func (p *pairing) share(ways []way) (k cutting, ok bool) {
	_, have := p.stock()
	for _, w := range ways {
		if w.unit >= 0 && p.single[w.unit] {
			have[w.unit]--
			p.use(&k, w, 1)
		}
	}
	ways = slices.DeleteFunc(ways, func(w way) bool { return w.unit >= 0 && p.single[w.unit] })
	for len(ways) > 0 && !p.scarce() {
		last := len(ways) - 1
		if ways[last].unit < 0 {
			return k, false
		}
		p.use(&k, ways[last], 1)
		ways = ways[:last]
	}
	for len(ways) > 0 {
		next, unit, most := -1, -1, int64(-1)
		for i, w := range ways {
			first, loss := p.cheapest(w, have)
			if first >= 0 && loss > most {
				next, unit, most = i, first, loss
			}
		}
		if next < 0 {
			return k, false
		}
		p.use(&k, way{unit, ways[next].takes}, 1)
		have[unit] = max(have[unit]-1, min(have[unit], 0))
		ways = slices.Delete(ways, next, next+1)
	}
	return k, true
}

// scarce tells whether there is a unit that takes two pieces and is limited.
func (p *pairing) scarce() bool {
	for i := range p.units {
		if p.units[i].count >= 0 && !p.single[i] {
			return true
		}
	}
	return false
}

// cheapest is the cheapest unit left for what a way takes, and what its loss would cost.
func (p *pairing) cheapest(w way, have []int) (unit int, loss int64) {
	var list []choice
	for u := range p.units {
		if have[u] == 0 || p.single[u] && len(w.takes) > 1 || !p.takesAll(u, w.takes) {
			continue
		}
		list = append(list, choice{unit: u, cost: p.costs[u], waste: p.wasteOf(u, w.takes)})
	}
	sorting.By(list, func(a, b choice) int { return cmp.Or(cmp.Compare(a.cost, b.cost), cmp.Compare(a.waste, b.waste)) })
	switch len(list) {
	case 0:
		return -1, 0
	case 1:
		return list[0].unit, p.missing()
	}
	return list[0].unit, list[1].cost - list[0].cost
}

func (p *pairing) takesAll(u int, takes []take) bool {
	t := p.units[u].table
	if len(takes) == 1 && takes[0].n == 1 {
		return t.alone[takes[0].kind]
	}
	return t.two[takes[0].kind*t.kinds+takes[len(takes)-1].kind]
}
