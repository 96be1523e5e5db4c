package programme

import (
	"math"
	"slices"
)

// link is one activity that waits for another: wherever the follower has come by u metres of its own, the other has come by a distance
// that is linear in u, held within its ends.
type link struct {
	before, after int
	lo, hi        float64 // of u, m
	turned        bool    // the two go against each other
	shift         float64 // m: the other has come by shift+u, or by shift-u
	wait, work    int64
	kind          CauseKind
}

// piece is a part of a link along which both fronts are straight: seconds that the other has worked, and the follower.
type piece struct{ x0, x1, y0, y1 float64 }

// bond is a link between two runs, ready to be asked.
type bond struct {
	link
	pieces     []piece
	same       bool  // both work by one calendar and no time passes between: the follower's place is lag behind the other's, at any time
	lag        int64 // s
	one, other *hours
	asked      [2]asked // what was asked last, and the answer: the same is asked again and again
	turn       int
}

// asked is a question to a bond, and its answer.
type asked struct {
	w, v  int64
	known bool
}

// behind is a link that waits for the end of the other.
func behind(before, after int, long float64, kind CauseKind) link {
	return link{before: before, after: after, shift: long, kind: kind}
}

func (l *link) come(u, long float64) float64 {
	x := l.shift + u
	if l.turned {
		x = l.shift - u
	}
	return min(max(x, 0), long)
}

// tie makes a bond of a link between two runs.
func (m *model) tie(l link, a, b *run) bond {
	out := bond{link: l, one: &m.hours[a.hours], other: &m.hours[b.hours]}
	long := a.at[len(a.at)-1]
	cuts := []float64{l.lo, l.hi}
	add := func(u float64) {
		if u > l.lo && u < l.hi {
			cuts = append(cuts, u)
		}
	}
	for _, u := range b.at {
		add(u)
	}
	for _, x := range a.at { // its ends too: beyond them it is held
		if l.turned {
			add(l.shift - x)
		} else {
			add(x - l.shift)
		}
	}
	slices.Sort(cuts)
	lag := math.Inf(-1)
	for k := 1; k < len(cuts); k++ {
		u, v := cuts[k-1], cuts[k]
		if u == v && l.lo < l.hi {
			continue
		}
		p := piece{a.until(l.come(u, long)), a.until(l.come(v, long)), b.until(u), b.until(v)}
		if p.y0 == p.y1 && b.total > 0 && l.lo < l.hi {
			continue // the follower has nothing to do there, and waits for nothing
		}
		out.pieces = append(out.pieces, p)
		lag = max(lag, p.x0-p.y0, p.x1-p.y1)
	}
	if len(out.pieces) == 0 {
		lag = -1e12
	}
	out.lag = roundedUp(lag) + l.work
	out.same = a.hours == b.hours && l.wait == 0
	return out
}

// roundedUp is to the next whole second; 1e-6 s is what sums of seconds lose at most.
func roundedUp(x float64) int64 { return int64(math.Ceil(x - 1e-6)) }

// from is the first place at which the follower may begin when the other begins at place w of its own calendar.
func (b *bond) from(w int64) int64 {
	if b.same {
		return w + b.lag
	}
	for _, a := range b.asked {
		if a.known && a.w == w {
			return a.v
		}
	}
	if len(b.pieces) == 0 {
		return 0
	}
	best := math.Inf(-1)
	for i := range b.pieces {
		best = max(best, b.pieces[i].needs(b, float64(w)))
	}
	v := roundedUp(best) + b.work
	b.turn = 1 - b.turn
	b.asked[b.turn] = asked{w, v, true}
	return v
}

// needs is the most that a piece asks for: along it the place that has to be reached less what the follower has worked is straight
// between the moments at which either calendar begins or stops, so that it is greatest at one of those, or at an end.
func (p *piece) needs(b *bond, w float64) float64 {
	low, high := min(p.x0, p.x1), max(p.x0, p.x1)
	worked := func(x float64) float64 { // by the follower, where the other has worked x
		if p.x0 == p.x1 {
			return min(p.y0, p.y1)
		}
		return p.y0 + float64((x-p.x0)/(p.x1-p.x0)*(p.y1-p.y0))
	}
	if w+high > float64(b.one.all) {
		return float64(never) // its last hour comes before it is done
	}
	best := math.Inf(-1)
	try := func(t, x float64) {
		best = max(best, b.other.placeAt(t+float64(b.wait))-worked(x))
	}
	comes := func(x float64) float64 { // where nothing was done yet, it comes there when it begins
		if x == 0 {
			return float64(b.one.starts(int64(w)))
		}
		return b.one.reached(w + x)
	}
	try(comes(low), low)
	if low == high {
		return best
	}
	try(comes(high), high)
	// breaks of the other's calendar: just before, and just behind
	h := b.one
	k, _ := slices.BinarySearch(h.before, int64(math.Ceil(w+low)))
	for ; k < len(h.before) && float64(h.before[k]) < w+high; k++ {
		x := float64(h.before[k]) - w
		if x < low {
			continue
		}
		if k > 0 && x > low {
			try(float64(h.to[k-1]), x)
		}
		try(float64(h.from[k]), x)
	}
	// breaks of the follower's
	h = b.other
	first, last := comes(low)+float64(b.wait), comes(high)+float64(b.wait)
	k, _ = slices.BinarySearch(h.from, int64(first))
	for k = max(k-1, 0); k < len(h.from) && float64(h.from[k]) <= last; k++ {
		for _, t := range [2]int64{h.from[k], h.to[k]} {
			if at := float64(t); at > first && at < last {
				if x := b.one.placeAt(at-float64(b.wait)) - w; x >= low && x <= high {
					try(at-float64(b.wait), x)
				}
			}
		}
	}
	return best
}

// upTo is the last place at which the other may begin so that the follower may begin at place v: none at or behind from.
func (b *bond) upTo(v, from int64) int64 {
	if b.same {
		return v - b.lag
	}
	if b.from(from) > v {
		return from - 1
	}
	step := int64(1)
	for b.from(from+step) <= v && from+step < b.one.all {
		from += step
		step *= 2
	}
	for ; step > 0; step /= 2 {
		if from+step <= b.one.all && b.from(from+step) <= v {
			from += step
		}
	}
	return from
}
