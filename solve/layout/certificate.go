package layout

import (
	"math"

	"trenchwright/base/measure"
)

// Certificate is the cost to go: for every place where a unit may start, the least that must still be laid from there to the
// end of the leg. That is its whole claim, and the checker verifies it piece by piece: no piece leads from a start to another
// one that costs less to finish than the claim allows. A start in no interval cannot be finished at all.
type Certificate struct {
	g      *ground
	blocks [][]packed // descending by position, all but the last full
	size   int
}

// level is one interval of starts that cost the same to finish, with the joint before them in one part of the free axis.
type level struct {
	lo, hi measure.Length // both included
	cost   cost
	part   int32
}

// packed is a level as it is kept, in 24 bytes: a long leg has millions.
type packed struct {
	lo    measure.Length
	cost  cost
	width uint32 // hi - lo; wider levels are kept in pieces
	part  int32  // counted from the end of the leg, so that it stays when something changes nearer to the start
}

// blockSize is how many levels are kept together: growing a list by copying would need twice the memory.
const blockSize = 1 << 13

func (c *Certificate) add(l level) {
	if n := len(c.blocks); n == 0 || len(c.blocks[n-1]) == blockSize {
		size := blockSize
		if n == 0 { // most legs are short
			size = min(size, 64+16*c.g.p.leastUnits())
		}
		c.blocks = append(c.blocks, make([]packed, 0, size))
	}
	last := len(c.blocks) - 1
	c.blocks[last] = append(c.blocks[last], packed{l.lo, l.cost, uint32(l.hi - l.lo), c.fromEnd(l.part)})
	c.size++
}

// extend lets the last level reach down to d where d only continues it.
func (c *Certificate) extend(d level, fresh bool) bool {
	if fresh || c.size == 0 {
		return false
	}
	block := c.blocks[len(c.blocks)-1]
	last := &block[len(block)-1]
	width := last.lo + measure.Length(last.width) - d.lo
	if last.part != c.fromEnd(d.part) || last.cost != d.cost || last.lo != d.hi+1 || width > math.MaxUint32 {
		return false
	}
	last.lo, last.width = d.lo, uint32(width)
	return true
}

// Len is the number of intervals.
func (c *Certificate) Len() int { return c.size }

// Interval is the i-th interval of starts, counted from the end of the leg, with the cost to finish from any of them.
func (c *Certificate) Interval(i int) (lo, hi measure.Length, toGo Count) {
	l := c.at(i)
	return l.lo, l.hi, l.cost.count()
}

func (c *Certificate) at(i int) level {
	p := c.packed(i)
	return level{p.lo, p.hi(), p.cost, c.fromEnd(p.part)}
}

func (c *Certificate) packed(i int) *packed { return &c.blocks[i/blockSize][i%blockSize] }

func (p *packed) hi() measure.Length { return p.lo + measure.Length(p.width) }

// fromEnd turns a number of a part counted from the start into one counted from the end, and back.
func (c *Certificate) fromEnd(part int32) int32 { return int32(len(c.g.parts)) - 1 - part }

// below is the index of the first interval that begins at or before x.
func (c *Certificate) below(x measure.Length) int {
	from, to := 0, c.size
	for from < to {
		mid := from + (to-from)/2
		if c.packed(mid).lo <= x {
			to = mid
		} else {
			from = mid + 1
		}
	}
	return from
}

// ToGo is the least cost from a unit that starts at x to the end; false where a leg cannot be finished from x.
func (c *Certificate) ToGo(x measure.Length) (Count, bool) {
	i := c.below(x)
	if i == c.size || c.at(i).hi < x {
		return Count{}, false
	}
	return c.at(i).cost.count(), true
}
