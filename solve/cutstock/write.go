package cutstock

import (
	"cmp"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
)

// write adds the patterns of a class to a Solution: the copies of a kind go to its pieces in the order of the list.
func (s *Solution) write(p part) {
	sh := p.shop
	next := make([]copies, len(sh.kinds))
	for i := range next {
		next[i] = sh.copiesOf(i)
	}
	k := p.cutting
	order := make([]int, len(k.ways))
	for i := range order {
		order[i] = i
	}
	// Units in the order of the list, then the ways with the longest pieces first.
	sorting.By(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(sh.units[k.ways[a].unit].stock, sh.units[k.ways[b].unit].stock), slices.CompareFunc(k.ways[a].takes, k.ways[b].takes, func(x, y take) int {
			return cmp.Or(cmp.Compare(x.kind, y.kind), cmp.Compare(y.n, x.n))
		}))
	})
	for _, i := range order {
		s.writeWay(sh, k.ways[i], k.times[i], next)
	}
}

// copies hands out the pieces of a kind.
type copies struct {
	pieces []int // indices into Problem.Pieces
	left   []int // of each
}

func (c *copies) take() int {
	for c.left[0] == 0 {
		c.pieces, c.left = c.pieces[1:], c.left[1:]
	}
	c.left[0]--
	return c.pieces[0]
}

func (s *Solution) writeWay(sh *shop, w way, times int, next []copies) {
	u := &sh.units[w.unit]
	line := sh.layOut(u, w.takes)
	if line == nil {
		panic("cutstock: a way that was found cannot be laid out")
	}
	kept, waste := sh.rests(u, line)
	s.Cost += u.Price * int64(times)
	s.Waste += waste * measure.Length(times)
	if u.Offcut {
		s.Used += times
	} else {
		s.Bought += times
	}
	for range times {
		pattern := Pattern{Stock: u.stock, Times: 1, Offcuts: kept, Waste: waste}
		for _, l := range line {
			piece := next[l.kind].take()
			pattern.Cuts = append(pattern.Cuts, Placed{Piece: piece, At: l.at, Turned: l.shape != sh.asGiven[piece]})
		}
		s.addPattern(pattern)
	}
}

// addPattern adds a pattern, or one more time of the last.
func (s *Solution) addPattern(p Pattern) {
	if n := len(s.Patterns); n > 0 {
		if last := &s.Patterns[n-1]; last.Stock == p.Stock && slices.Equal(last.Cuts, p.Cuts) {
			last.Times++
			return
		}
	}
	s.Patterns = append(s.Patterns, p)
}

// proof writes a proof by cases for the Problem's pieces and stock.
func (c *cutter) proof(n *node, none bool) Proof { return Proof{None: none, Case: c.caseOf(n)} }

func (c *cutter) caseOf(n *node) *Case {
	if n == nil {
		return nil
	}
	out := &Case{Scale: c.scale}
	if n.low == nil {
		out.Piece, out.Stock, out.Rows = make([]int64, c.allPieces), make([]int64, c.allStocks), []int64{}
		for i, k := range c.kinds {
			for _, piece := range k.pieces {
				out.Piece[piece] = n.bound.value[i]
			}
		}
		for i, u := range c.units {
			out.Stock[u.stock] = n.bound.rent[i]
		}
		for _, r := range n.bound.rules {
			if r.extra.half != nil {
				out.Halves = append(out.Halves, c.halfOf(r))
			} else {
				out.Rows = append(out.Rows, r.value)
			}
		}
		return out
	}
	split := &Split{Stock: -1, Most: n.split.most, Low: c.caseOf(n.low), High: c.caseOf(n.high)}
	if n.split.unit >= 0 {
		split.Stock = c.units[n.split.unit].stock
	}
	for _, t := range n.split.atLeast {
		split.AtLeast = append(split.AtLeast, Threshold{c.kinds[t.kind].pieces[0], t.n})
	}
	out.Split = split
	return out
}

func (c *cutter) halfOf(r rule) Half {
	h := Half{Value: -r.value}
	for i, in := range r.extra.half.in {
		if in {
			h.Pieces = append(h.Pieces, c.kinds[i].pieces...)
		}
	}
	sorting.Ascending(h.Pieces)
	return h
}

// misfitProof says that a piece is worth something and nothing takes it.
func (s *shop) misfitProof(kind int) Proof {
	c := &Case{Scale: 1, Piece: make([]int64, s.allPieces), Stock: make([]int64, s.allStocks)}
	for _, piece := range s.kinds[kind].pieces {
		c.Piece[piece] = 1
	}
	return Proof{None: true, Case: c}
}

// proof writes the best bound of a pairing.
func (p *pairing) proof() Proof {
	b := &p.lowest
	if b.alone == nil { // given up before anything was proven
		return Proof{Case: &Case{Scale: 1, Piece: make([]int64, p.allPieces), Stock: make([]int64, p.allStocks)}}
	}
	out := &PairProof{Scale: 4, Stock: make([]int64, p.allStocks)}
	names := make([]Copy, len(p.copies))
	next := make([]copies, len(p.kinds))
	for i := range next {
		next[i] = p.copiesOf(i)
	}
	given := make([]int, p.allPieces)
	for v, c := range p.copies {
		if c.unit {
			names[v] = Copy{true, p.units[c.index].stock, c.number}
			out.Rent = append(out.Rent, CopyValue{names[v], b.matching.value[v]})
			continue
		}
		piece := next[c.index].take()
		names[v] = Copy{false, piece, given[piece]}
		given[piece]++
		out.Value = append(out.Value, CopyValue{names[v], 2*b.alone[c.index] - b.matching.value[v]})
	}
	for i, u := range p.units {
		out.Stock[u.stock] = 2 * b.rent[i]
	}
	for _, set := range b.matching.sets {
		odd := OddSet{Value: set.value}
		for _, v := range set.members {
			odd.Members = append(odd.Members, names[v])
		}
		out.Sets = append(out.Sets, odd)
	}
	return Proof{Pairs: out}
}
