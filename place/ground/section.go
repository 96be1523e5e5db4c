package ground

import (
	"math"

	"trenchwright/place/ground/exact"
	"trenchwright/place/route"
)

// Cut is a point of a section: metres along the line in plan, and the level of the ground there.
type Cut struct{ Along, Level float64 }

// Section is the ground along a line. Between the cuts of a stretch the ground is straight; between two stretches there is
// none. Two cuts in one place are an upright step.
type Section struct {
	Length    float64 // of the line in plan, m
	Stretches [][]Cut
}

// thread is the least gap in the ground, in metres, that parts two stretches: below a nanometre coordinates do not tell
// where an edge lies.
const thread = 1e-9

// Section is the ground along a line of at least two places, exactly: every edge that the line crosses gives a cut. The
// edge of the surface belongs to it. A line with a coordinate out of reach has no ground.
func (s *Surface) Section(line []route.Point) Section {
	out := Section{}
	for i := 1; i < len(line); i++ {
		if !usable(line[i-1]) || !usable(line[i]) {
			return Section{}
		}
		a, b := place(line[i-1]), place(line[i])
		if a == b {
			continue
		}
		l := straight{a: a, b: b, square: exact.Dot(a, b, b).Float()}
		length := math.Sqrt(l.square) / 1e9
		if len(s.faces) > 0 {
			out.append(s.ground(&l, length), length)
		}
		out.Length += length
	}
	return out
}

// ground are the pieces along a straight. Where it runs along the edge of the surface, the ground lies on one side only:
// the straight is moved to the other side for what is missing.
func (s *Surface) ground(l *straight, length float64) [][]cut {
	find := s.pieces
	if !s.tidy {
		find = s.heaped
	}
	left := find(l)
	if len(left) == 1 && left[0][0].along <= 0 && left[0][len(left[0])-1].along >= 1 {
		return left
	}
	other := *l
	other.rightOn = true
	return fillGaps(left, find(&other), thread/length)
}

// fillGaps puts what some pieces have where others have a gap.
func fillGaps(pieces, more [][]cut, least float64) [][]cut {
	var out [][]cut
	from := 0.0
	gap := func(to float64) {
		if to-from <= least {
			return
		}
		for _, m := range more {
			if part := clipped(m, from, to); len(part) > 1 && part[len(part)-1].along-part[0].along > least {
				out = append(out, part)
			}
		}
	}
	for _, p := range pieces {
		first, last := p[0].along, p[len(p)-1].along
		if last-first <= least {
			continue // it touches in one place
		}
		gap(first)
		out = append(out, p)
		from = last
	}
	gap(1)
	return out
}

// clipped is the part of a piece between two places along the straight.
func clipped(p []cut, from, to float64) []cut {
	var out []cut
	for i := 1; i < len(p); i++ {
		a, b := p[i-1], p[i]
		if b.along < from || a.along > to {
			continue
		}
		if len(out) == 0 {
			out = append(out, between(a, b, from))
		}
		out = append(out, between(a, b, to))
	}
	return out
}

// append puts the pieces of one straight behind what there is.
func (s *Section) append(pieces [][]cut, length float64) {
	for _, p := range pieces {
		begin := s.Length + float64(p[0].along*length)
		var to []Cut
		if n := len(s.Stretches); n > 0 && begin-s.Stretches[n-1][len(s.Stretches[n-1])-1].Along <= thread {
			to = s.Stretches[n-1]
			s.Stretches = s.Stretches[:n-1]
		} else {
			to = make([]Cut, 0, len(p))
		}
		for _, c := range p {
			to = appendCut(to, Cut{s.Length + float64(min(max(c.along, 0), 1)*length), c.z / 1e9})
		}
		s.Stretches = append(s.Stretches, to)
	}
}

// same is the height below which two levels in one place are one level and not a step, in metres: ten nanometres, where
// the levels of two faces at their common edge differ by rounding.
const same = 1e-8

// appendCut puts a cut behind others: never before the last, and not again where the last one was.
func appendCut(to []Cut, c Cut) []Cut {
	if n := len(to); n > 0 {
		last := to[n-1]
		c.Along = max(c.Along, last.Along)
		if c.Along == last.Along && math.Abs(c.Level-last.Level) <= same {
			return to
		}
	}
	return append(to, c)
}

// At is the level of the section so many metres along; false: no ground there. At a step it is the level before it.
func (s Section) At(along float64) (float64, bool) {
	for _, st := range s.Stretches {
		if along < st[0].Along || along > st[len(st)-1].Along {
			continue
		}
		for i := 1; i < len(st); i++ {
			a, b := st[i-1], st[i]
			if along > b.Along {
				continue
			}
			if b.Along == a.Along {
				return a.Level, true
			}
			return a.Level + float64((b.Level-a.Level)*((along-a.Along)/(b.Along-a.Along))), true
		}
		return st[0].Level, true
	}
	return 0, false
}

// Ground is how many metres of the line have ground.
func (s Section) Ground() float64 {
	total := 0.0
	for _, st := range s.Stretches {
		total += st[len(st)-1].Along - st[0].Along
	}
	return total
}
