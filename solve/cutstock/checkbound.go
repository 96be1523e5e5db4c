package cutstock

import (
	"fmt"
	"math/big"
	"slices"

	"trenchwright/base/measure"
)

// bound checks that the certificate proves the bound that the Solution states.
func (c *checker) bound() {
	s := c.solution
	if s.Proven != (s.Cost == s.Bound) {
		c.say("cut.proof", "proven", "proven is what costs no more than the bound", fmt.Sprint(s.Proven, s.Cost), fmt.Sprint(s.Bound))
	}
	if s.Bound > s.Cost {
		c.say("cut.proof", "bound", "the bound is above the cost", fmt.Sprint(s.Bound), fmt.Sprint(s.Cost))
	}
	total := new(big.Int)
	seen := map[string]bool{}
	for i, proof := range s.Certificate.Proofs {
		path := fmt.Sprintf("certificate.proofs[%d]", i)
		if seen[proof.Class] || proof.None {
			c.say("cut.proof", path, "a proof that is not of the cost of its own class", proof.Class, "")
			return
		}
		seen[proof.Class] = true
		steps, why := c.proves(proof)
		if why != "" {
			c.say("cut.proof", path, why, "", "")
			return
		}
		total.Add(total, new(big.Int).Mul(steps, big.NewInt(proof.Step)))
	}
	if total.Cmp(big.NewInt(s.Bound)) < 0 {
		c.say("cut.proof", "bound", "the certificate proves less than the bound", fmt.Sprint(s.Bound), total.String())
	}
}

// none checks that the certificate proves that there is no way for at least one class.
func (c *checker) none() {
	for _, proof := range c.solution.Certificate.Proofs {
		if steps, why := c.proves(proof); proof.None && why == "" && steps.Sign() > 0 {
			return
		}
	}
	c.say("cut.proof", "certificate", "nothing proves that the pieces cannot be cut", "", "")
}

// proves is the cost in steps that a proof proves, or why it proves none.
func (c *checker) proves(proof Proof) (*big.Int, string) {
	b := benchFor(c.problem, proof)
	for _, stock := range b.stocks {
		if !proof.None && (proof.Step <= 0 || c.problem.Stocks[stock].Price%proof.Step != 0) {
			return nil, "a price is no whole number of steps"
		}
	}
	switch {
	case proof.Pairs != nil && c.problem.FactoryEnd && !proof.None:
		return b.pairs(proof.Pairs)
	case proof.Case != nil:
		return b.cases(proof.Case, nil)
	}
	return nil, "a proof without values"
}

// bench is one class as the checker sees it.
type bench struct {
	problem Problem
	proof   Proof
	pieces  []int    // indices of the pieces of the class, one of each sort that is the same to the saw
	wants   []int    // by sort
	codes   []uint32 // by sort: its two faces
	faces   []End
	gaps    [][]order // by facing faces
	sortOf  map[int]int
	stocks  []int
	total   int
	joins   map[string][]order // by stock and faces: what was worked out
	inners  map[[3]int][]measure.Angle
}

func benchFor(p Problem, proof Proof) *bench {
	b := &bench{problem: p, proof: proof, sortOf: map[int]int{}, joins: map[string][]order{}, inners: map[[3]int][]measure.Angle{}}
	for i, piece := range p.Pieces {
		if piece.Class != proof.Class || piece.Count <= 0 {
			continue
		}
		at := slices.IndexFunc(b.pieces, func(j int) bool { return sameToSaw(p, piece, p.Pieces[j]) })
		if at < 0 {
			at = len(b.pieces)
			b.pieces, b.wants = append(b.pieces, i), append(b.wants, 0)
			b.codes = append(b.codes, b.code(piece))
		}
		b.sortOf[i] = at
		b.wants[at] += piece.Count
		b.total += piece.Count
	}
	for i, stock := range p.Stocks {
		if stock.Class == proof.Class && stock.Count != 0 {
			b.stocks = append(b.stocks, i)
		}
	}
	return b
}

// code is a number for the two faces of a piece.
func (b *bench) code(p Piece) uint32 {
	face := func(e End) uint32 {
		at := slices.Index(b.faces, e)
		if at < 0 {
			at = len(b.faces)
			b.faces = append(b.faces, e)
		}
		return uint32(at)
	}
	x, y := face(p.Start), face(p.End)
	if b.problem.MayTurn && x > y {
		x, y = y, x
	}
	return x<<16 | y
}

func sameToSaw(p Problem, a, b Piece) bool {
	return a.Length == b.Length && (a.Start == b.Start && a.End == b.End || p.MayTurn && a.Start == b.End && a.End == b.Start)
}

// row is a split on the way down to a case, and the side that was taken.
type row struct {
	split *Split
	high  bool
	value int64
}

// cases is the cost in steps that a case proves under the splits above it.
func (b *bench) cases(c *Case, above []row) (*big.Int, string) {
	if c.Split != nil {
		return b.splits(c.Split, above)
	}
	if c.Scale <= 0 || len(c.Piece) != len(b.problem.Pieces) || len(c.Stock) != len(b.problem.Stocks) || len(c.Rows) != len(above) {
		return nil, "a case without values for all pieces and stock"
	}
	sum := new(big.Int)
	add := func(value int64, times int) {
		sum.Add(sum, new(big.Int).Mul(big.NewInt(value), big.NewInt(int64(times))))
	}
	values := make([]int64, len(b.pieces))
	for i, sort := range b.sortOf {
		values[sort] = c.Piece[i]
	}
	for i, sort := range b.sortOf {
		if c.Piece[i] < 0 || c.Piece[i] != values[sort] {
			return nil, "pieces that are the same to the saw have different values, or less than none"
		}
	}
	for sort, value := range values {
		add(value, b.wants[sort])
	}
	rows := slices.Clone(above)
	for i := range rows {
		rows[i].value = c.Rows[i]
		limit := rows[i].split.Most
		if rows[i].high {
			limit++
		}
		if rows[i].high == (c.Rows[i] < 0) && c.Rows[i] != 0 {
			return nil, "a split has a value of the wrong sign"
		}
		add(c.Rows[i], limit)
	}
	halves, why := b.halvesOf(c.Halves)
	if why != "" {
		return nil, why
	}
	for _, h := range halves {
		add(-h.value, h.most)
	}
	for _, i := range b.stocks {
		stock := b.problem.Stocks[i]
		most := new(big.Int)
		if !b.proof.None {
			most.Mul(big.NewInt(c.Scale), big.NewInt(stock.Price/b.proof.Step))
		}
		most.Add(most, big.NewInt(c.Stock[i]))
		if c.Stock[i] < 0 || c.Stock[i] != 0 && stock.Count < 0 || !most.IsInt64() {
			return nil, "a rent for stock that is not limited, or below none"
		}
		add(-c.Stock[i], min(max(stock.Count, 0), b.total))
		if b.worthMore(i, values, rows, halves, most.Int64()) {
			return nil, fmt.Sprintf("some way of cutting stock %d is worth more than its price", i)
		}
	}
	return stepsOf(sum, c.Scale), ""
}

// halfSorts is a Half by sorts.
type halfSorts struct {
	in    []bool
	most  int // half of all copies, rounded down
	value int64
}

func (b *bench) halvesOf(halves []Half) (out []halfSorts, why string) {
	for _, h := range halves {
		sorts := halfSorts{in: make([]bool, len(b.pieces)), value: h.Value}
		for _, i := range h.Pieces {
			if _, ok := b.sortOf[i]; !ok {
				return nil, "a half of a piece of another class"
			}
			sorts.in[b.sortOf[i]] = true
		}
		for i, sort := range b.sortOf {
			if sorts.in[sort] && !slices.Contains(h.Pieces, i) {
				return nil, "a half of some of the pieces that are the same to the saw"
			}
		}
		for sort, in := range sorts.in {
			if in {
				sorts.most += b.wants[sort]
			}
		}
		sorts.most /= 2
		if h.Value < 0 {
			return nil, "a half of a value below none"
		}
		out = append(out, sorts)
	}
	return out, ""
}

// splits is the lesser of what both sides of a split prove.
func (b *bench) splits(s *Split, above []row) (*big.Int, string) {
	if s.Low == nil || s.High == nil {
		return nil, "a split with one side"
	}
	for _, t := range s.AtLeast {
		if _, ok := b.sortOf[t.Piece]; !ok {
			return nil, "a split by a piece of another class"
		}
	}
	low, why := b.cases(s.Low, append(slices.Clone(above), row{split: s}))
	if why != "" {
		return nil, why
	}
	high, why := b.cases(s.High, append(slices.Clone(above), row{split: s, high: true}))
	if why != "" {
		return nil, why
	}
	if high.Cmp(low) < 0 {
		return high, ""
	}
	return low, ""
}

// stepsOf rounds a sum of values up to whole steps, at least none.
func stepsOf(sum *big.Int, scale int64) *big.Int {
	if sum.Sign() <= 0 {
		return new(big.Int)
	}
	up := new(big.Int).Add(sum, big.NewInt(scale-1))
	return up.Div(up, big.NewInt(scale))
}

// counts tells whether a split's rule counts a way of cutting.
func (b *bench) counts(s *Split, stock int, taken []int) bool {
	if s.Stock >= 0 && s.Stock != stock {
		return false
	}
	for _, t := range s.AtLeast {
		if taken[b.sortOf[t.Piece]] < t.Number {
			return false
		}
	}
	return true
}

// twoFit tells whether two pieces that keep a cast end each can be cut from one unit of stock.
func (b *bench) twoFit(stock, i, j int) bool {
	p := b.problem
	room := p.Stocks[stock].Length - p.Pieces[i].Length - p.Pieces[j].Length
	if room < 0 {
		return false
	}
	for _, order := range [2][2]int{{i, j}, {j, i}} {
		for _, f := range b.inner(stock, order[0], -1) {
			for _, g := range b.inner(stock, order[1], 1) {
				if least, slice := parting(p, f, g); gapHolds(room, least, slice) {
					return true
				}
			}
		}
	}
	return false
}

// inner lists the skews that a piece can turn to the middle of a unit when it keeps its cast end at A (−1) or B (1).
func (b *bench) inner(stock, i, side int) []measure.Angle {
	key := [3]int{stock, i, side}
	if out, ok := b.inners[key]; ok {
		return out
	}
	p, s := b.problem, b.problem.Stocks[stock]
	end, placed := s.A, Placed{Piece: i}
	if side > 0 {
		end, placed.At = s.B, s.Length-p.Pieces[i].Length
	}
	var out []measure.Angle
	for turn := range 2 {
		outer, inner := p.Pieces[i].Start, p.Pieces[i].End
		if (turn == 1) == (side < 0) {
			outer, inner = inner, outer
		}
		if turn == 1 && !p.MayTurn || end.Cast == "" || outer.Skew != end.Skew {
			continue
		}
		if faceFault(p, s, placed, outer, true, end.Cast, side) == "" && faceFault(p, s, placed, inner, false, "", -side) == "" {
			out = append(out, inner.Skew)
		}
	}
	b.inners[key] = out
	return out
}

// oneFits tells whether a piece that keeps a cast end can be cut from a unit of stock.
func (b *bench) oneFits(stock, i int) bool {
	p, s := b.problem, b.problem.Stocks[stock]
	for _, at := range []measure.Length{0, s.Length - p.Pieces[i].Length} {
		for _, turned := range []bool{false, true} {
			if at >= 0 && lineFault(p, s, []Placed{{i, at, turned}}) == "" {
				return true
			}
		}
	}
	return false
}
