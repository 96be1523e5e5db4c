package cutstock

import (
	"slices"

	"trenchwright/base/measure"
)

// pairing cuts where every piece keeps a cast end. Pieces are paired so that the pairs save most: a matching in a
// general graph, for least slices and the hands of mitres make no simple threshold of what fits with what. A unit that
// is limited in number and never takes two pieces is a vertex itself. One that takes two and is limited has a rent: it
// is treated as dearer and without limit, and the rent is moved until no more of it are used than there are.
type pairing struct {
	*cutter
	rent   []int64   // by unit, in half steps
	single []bool    // by unit: limited, never takes two
	copies []copyOf  // by vertex
	alone  []choice  // by kind
	pair   []choice  // kinds × kinds
	waste  bool      // compare equal costs by waste too
	lowest pairBound // the best bound so far
}

// copyOf is what a vertex stands for.
type copyOf struct {
	unit   bool
	index  int // of the kind or of the unit
	number int
}

// choice is the cheapest unit for a piece or a pair: the cost in half steps with the rent, and the waste.
type choice struct {
	unit  int // −1: none
	cost  int64
	waste measure.Length
}

func (a choice) less(b choice) bool {
	return b.unit < 0 || a.cost < b.cost || a.cost == b.cost && a.waste < b.waste
}

// pairBound is a matching with what its prices prove, in quarter steps.
type pairBound struct {
	matching matching
	rent     []int64
	alone    []int64 // by kind: cost alone in half steps
	total    int64
}

func (c *cutter) newPairing() *pairing {
	p := &pairing{cutter: c, rent: make([]int64, len(c.units)), single: make([]bool, len(c.units))}
	for i := range c.units {
		p.single[i] = c.units[i].count >= 0 && !c.units[i].table.any
	}
	for i, u := range c.units {
		for n := range max(u.count, 0) {
			if p.single[i] {
				p.copies = append(p.copies, copyOf{true, i, n})
			}
		}
	}
	for i := len(c.kinds) - 1; i >= 0; i-- {
		for n := range c.kinds[i].want {
			p.copies = append(p.copies, copyOf{false, i, n})
		}
	}
	return p
}

// choose finds the cheapest unit for every piece and every pair, at the rents as they stand.
func (p *pairing) choose() {
	n := len(p.kinds)
	none := choice{unit: -1, cost: 2 * p.missing()}
	p.alone, p.pair = slices.Repeat([]choice{none}, n), slices.Repeat([]choice{{unit: -1}}, n*n)
	for u := range p.units {
		if p.single[u] {
			continue
		}
		cost, t := 2*p.costs[u]+p.rent[u], p.units[u].table
		for i := range n {
			if c := (choice{unit: u, cost: cost}); t.alone[i] {
				c.waste = p.wasteOf(u, []take{{i, 1}})
				if c.less(p.alone[i]) {
					p.alone[i] = c
				}
			}
			for j := i; j < n; j++ {
				if t.two[i*n+j] {
					c := choice{unit: u, cost: cost, waste: p.wasteOf(u, twoTakes(i, j))}
					if c.less(p.pair[i*n+j]) {
						p.pair[i*n+j], p.pair[j*n+i] = c, c
					}
				}
			}
		}
		p.effort.spend(int64(n) * int64(n))
	}
}

func twoTakes(i, j int) []take {
	switch {
	case i == j:
		return []take{{i, 2}}
	case i < j:
		return []take{{i, 1}, {j, 1}}
	}
	return []take{{j, 1}, {i, 1}}
}

// wasteOf is the waste of one unit, in micrometres so that sums stay small; 0 where waste is not asked for.
func (p *pairing) wasteOf(u int, takes []take) measure.Length {
	if !p.waste {
		return 0
	}
	_, waste := p.rests(&p.units[u], p.layOut(&p.units[u], takes))
	return waste / measure.Micrometre
}

// graph is the graph of what each pair saves. With waste, a half step outweighs all waste.
func (p *pairing) graph() *graph {
	kinds, n := len(p.kinds), len(p.kinds)+len(p.units)
	g := &graph{}
	for _, c := range p.copies {
		group := c.index
		if c.unit {
			group += kinds
		}
		g.group = append(g.group, group)
	}
	unit := p.halfStep()
	g.weight = make([][]int64, n)
	for i := range g.weight {
		g.weight[i] = make([]int64, n)
	}
	for i := range kinds {
		for j := range kinds {
			if pair := p.pair[i*kinds+j]; pair.unit >= 0 {
				saved := p.alone[i].cost + p.alone[j].cost - pair.cost
				g.weight[i][j] = saved*unit + int64(p.alone[i].waste+p.alone[j].waste-pair.waste)
			}
		}
		for u := range p.units {
			if p.single[u] && p.units[u].table.alone[i] {
				saved := p.alone[i].cost - 2*p.costs[u]
				weight := saved*unit + int64(p.alone[i].waste-p.wasteOf(u, []take{{i, 1}}))
				g.weight[i][kinds+u], g.weight[kinds+u][i] = weight, weight
			}
		}
	}
	return g
}

// halfStep is what a half step weighs: 1, or more than all waste together.
func (p *pairing) halfStep() int64 {
	if !p.waste {
		return 1
	}
	all := int64(1)
	longest := measure.Length(0)
	for _, u := range p.units {
		longest = max(longest, u.Length)
	}
	return all + int64(longest/measure.Micrometre+1)*int64(p.total)
}

// match finds the best matching at the rents as they stand.
func (p *pairing) match() matching {
	g := p.graph()
	var weight int64
	same := true
	for _, row := range g.weight {
		for _, w := range row {
			if w > 0 && weight > 0 && w != weight {
				same = false
			}
			weight = max(weight, w)
		}
	}
	if same {
		return g.most(p.effort)
	}
	return g.heaviest(p.effort)
}

// bound is what a matching's prices prove.
func (p *pairing) bound(m matching) pairBound {
	b := pairBound{matching: m, rent: slices.Clone(p.rent)}
	for i := range p.kinds {
		b.alone = append(b.alone, p.alone[i].cost)
	}
	for v, c := range p.copies {
		if !c.unit {
			b.total += 2 * p.alone[c.index].cost
		}
		b.total -= m.value[v]
	}
	for _, set := range m.sets {
		b.total -= set.value * int64(len(set.members)/2)
	}
	for i, r := range p.rent {
		b.total -= 2 * r * int64(max(p.units[i].count, 0))
	}
	return b
}

// steps is the bound in whole steps.
func (b pairBound) steps() int64 { return max(-(-b.total >> 2), 0) }
