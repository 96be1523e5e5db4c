package layout

import "math/bits"

// Spreading openings evenly is drawing the shortest line through a corridor: over the joints, the sum of openings so far
// must stay between what zones and forced joints allow, and the tightest string from its start to its end has the most
// equal steps that there are. It is found in one pass by the funnel of its two possible sides.

type knot struct {
	at int // the joint
	y  nm  // the sum of openings before it
}

// steeper tells whether a to b rises less than a to c, by exact products.
func steeper(a, b, c knot) bool {
	return less(int64(b.y-a.y), int64(c.at-a.at), int64(c.y-a.y), int64(b.at-a.at))
}

// less tells whether p·q < s·t, for q and t above 0.
func less(p, q, s, t int64) bool {
	switch {
	case p < 0 && s >= 0:
		return true
	case p >= 0 && s < 0:
		return false
	case p < 0:
		return less(-s, t, -p, q)
	}
	ph, pl := bits.Mul64(uint64(p), uint64(q))
	sh, sl := bits.Mul64(uint64(s), uint64(t))
	return ph < sh || ph == sh && pl < sl
}

// even spreads the openings of a route whose advances stand, within off of what is aimed at.
func (r *route) even(off nm) {
	s, ok := r.starts(off, r.d)
	if !ok || len(s) < 2 {
		return
	}
	base := make([]nm, len(s)) // where each piece would start with every joint at its aim
	base[0] = s[0].lo          // 0, or where a unit was measured to start
	for i := 1; i < len(s); i++ {
		base[i] = base[i-1] + r.d[i-1] + r.joint(i-1).aim
	}
	for i := range s {
		s[i].lo, s[i].hi = s[i].lo-base[i], s[i].hi-base[i]
	}
	line := taut(s)
	x := base[0]
	for i := range s {
		if i > 0 {
			w, e := r.joint(i-1).held(off), x+r.d[i-1]
			x = min(max(line[i]+base[i], e+w.min, s[i].lo+base[i]), e+w.max, s[i].hi+base[i])
		}
		r.x[i] = x
	}
}

// taut is the tight string through the corridor: its first and last interval are single points.
func taut(corridor []interval) []nm {
	f := funnel{low: []knot{{0, corridor[0].lo}}, high: []knot{{0, corridor[0].lo}}}
	f.line = append(f.line, f.low[0])
	for i := 1; i < len(corridor); i++ {
		f.addLow(knot{i, corridor[i].lo})
		f.addHigh(knot{i, corridor[i].hi})
	}
	f.line = append(f.line, f.low[1:]...)
	out := make([]nm, 0, len(corridor))
	for i := 1; i < len(f.line); i++ {
		a, b := f.line[i-1], f.line[i]
		n, rise := nm(b.at-a.at), b.y-a.y
		step, rest := rise/n, rise%n
		if rest < 0 {
			step, rest = step-1, rest+n
		}
		y, owed := a.y, nm(0)
		for range n {
			out = append(out, y)
			y, owed = y+step, owed+rest
			if owed >= n {
				y, owed = y+1, owed-n
			}
		}
	}
	return append(out, f.line[len(f.line)-1].y)
}

// funnel holds the two sides that the string may still hug, both from the same first knot: low with falling slopes, high with
// rising ones; line is what is settled.
type funnel struct {
	low, high, line []knot
}

func (f *funnel) addLow(k knot) {
	for len(f.low) > 1 && !steeper(f.low[len(f.low)-2], k, f.low[len(f.low)-1]) {
		f.low = f.low[:len(f.low)-1]
	}
	if len(f.low) == 1 {
		for len(f.high) > 1 && steeper(f.high[0], f.high[1], k) {
			f.high = f.high[1:]
			f.line = append(f.line, f.high[0])
		}
		f.low = append(f.low[:0], f.high[0])
	}
	f.low = append(f.low, k)
}

func (f *funnel) addHigh(k knot) {
	for len(f.high) > 1 && !steeper(f.high[len(f.high)-2], f.high[len(f.high)-1], k) {
		f.high = f.high[:len(f.high)-1]
	}
	if len(f.high) == 1 {
		for len(f.low) > 1 && steeper(f.low[0], k, f.low[1]) {
			f.low = f.low[1:]
			f.line = append(f.line, f.low[0])
		}
		f.high = append(f.high[:0], f.low[0])
	}
	f.high = append(f.high, k)
}
