package planner

import (
	"trenchwright/base/measure"
	"trenchwright/solve/earthwork"
)

// insteadStep is how much further out each next place for a peg is tried.
const insteadStep = 500 * measure.Millimetre

// instead finds where pegs that do not last would, square to the same place: the nearest of places at even steps that no dig and
// nothing beside one takes, no nearer to it than where the job keeps room for pegs, within the land on file; further out on the same side, and only where there is none on the other side.
func (b *build) instead(where []pegPlace) {
	var open []int // pegs that have no place yet
	for i := range where {
		if len(b.plan.Pegs[i].Lost) > 0 {
			open = append(open, i)
		}
	}
	own := func(i int) (first, way measure.Length) {
		off := where[i].offset
		return off.Abs() / insteadStep * insteadStep, map[bool]measure.Length{true: -1, false: 1}[off < 0]
	}
	open = b.outward(where, open, own)
	b.outward(where, open, func(i int) (first, way measure.Length) { // there from as far off as the job has its pegs
		_, way = own(i)
		return where[i].offset.Abs() - insteadStep, -way
	})
}

// outward tries places beside pegs, step by step from first out, left where way is negative. It returns those that found none.
func (b *build) outward(where []pegPlace, open []int, start func(i int) (first, way measure.Length)) []int {
	var without []int
	for step := insteadStep; len(open) > 0; step += insteadStep {
		var tried []pegPlace
		var of, left []int
		for _, i := range open {
			first, way := start(i)
			p := where[i]
			if p.offset = way * (first + step); p.offset.Abs() > b.landBeside(p.offset) {
				without = append(without, i)
				continue
			}
			p.on = b.axes[p.leg].line.Beside(p.at, p.offset)
			tried, of = append(tried, p), append(of, i)
		}
		taken := b.taken(tried)
		for k, i := range of {
			if taken[k] {
				left = append(left, i)
				continue
			}
			peg := b.peg(&tried[k])
			b.plan.Pegs[i].Instead = &PegInstead{Side: peg.Side, Arrow: peg.Arrow, Offset: peg.Offset, E: peg.E, N: peg.N, Ground: peg.Ground}
		}
		open = left
	}
	return without
}

// landBeside is how far from the centreline land may be used on the side of an offset.
func (b *build) landBeside(offset measure.Length) measure.Length {
	land := b.job.Dig.Strip.Right
	if offset < 0 {
		land = b.job.Dig.Strip.Left
	}
	if land.Known {
		return land.Value
	}
	return pegReach
}

// taken tells of each place whether a dig, or what stands beside one, takes it.
func (b *build) taken(where []pegPlace) []bool {
	out := make([]bool, len(where))
	looks := b.pegLooks(where)
	asked := make([]earthwork.Place, len(looks))
	for i, q := range looks {
		asked[i] = earthwork.Place{Leg: q.leg, At: q.at}
	}
	sheets, _ := earthwork.Sections(b.asked, asked, pegReach)
	for i, q := range looks {
		if !nothingDug(sheets[i]) {
			lostTo(sheets[i], q.offset, func(string, ...measure.Length) { out[q.peg] = true })
			if from, reserved, _ := roomFrom(sheets[i], q.offset); reserved && q.offset.Abs() < from {
				out[q.peg] = true
			}
		}
	}
	return out
}
