package layout

import (
	"slices"

	"trenchwright/base/measure"
)

// nm is a Length, by the unit in which the programme counts.
type nm = measure.Length

// forever lies beyond every chainage, and twice it still fits.
const forever = nm(1) << 61

// interval is closed on both sides; empty if hi < lo.
type interval struct{ lo, hi nm }

// set is disjoint intervals in ascending order, none touching the next.
type set []interval

func (a interval) and(b interval) interval { return interval{max(a.lo, b.lo), min(a.hi, b.hi)} }

func (a interval) empty() bool { return a.hi < a.lo }

func (a interval) holds(x nm) bool { return a.lo <= x && x <= a.hi }

// union is every point of the given intervals; neighbours without an integer between them become one.
func union(in []interval) set { return united(slices.Clone(in)) }

// united is union for intervals that it may use up.
func united(in []interval) set {
	in = slices.DeleteFunc(in, interval.empty)
	if len(in) > 1 {
		slices.SortFunc(in, func(a, b interval) int { return int(min(1, max(-1, a.lo-b.lo))) })
	}
	return merged(in)
}

// merged is union for intervals in ascending order already, which it uses up.
func merged(in []interval) set {
	out := set(in[:0])
	for _, v := range in {
		if n := len(out); n > 0 && v.lo <= out[n-1].hi+1 {
			out[n-1].hi = max(out[n-1].hi, v.hi)
			continue
		}
		out = append(out, v)
	}
	return out
}

// less is what of s is not in t.
func (s set) less(t set) set {
	var out set
	j := 0
	for _, v := range s {
		for ; j < len(t) && t[j].hi < v.lo; j++ {
		}
		for k := j; k < len(t) && t[k].lo <= v.hi; k++ {
			if t[k].lo > v.lo {
				out = append(out, interval{v.lo, t[k].lo - 1})
			}
			v.lo = t[k].hi + 1
		}
		if !v.empty() {
			out = append(out, v)
		}
	}
	return out
}

// and is what two sets share.
func (s set) and(t set) set {
	var out set
	for i, j := 0, 0; i < len(s) && j < len(t); {
		if v := s[i].and(t[j]); !v.empty() {
			out = append(out, v)
		}
		if s[i].hi < t[j].hi {
			i++
		} else {
			j++
		}
	}
	return out
}

// without takes the inside of (from, to) away; the edges stay.
func (s set) without(from, to nm) set {
	var out []interval
	for _, v := range s {
		if from >= to || v.hi <= from || v.lo >= to {
			out = append(out, v)
			continue
		}
		out = append(out, interval{v.lo, from}, interval{to, v.hi})
	}
	return union(out)
}

func (s set) holds(x nm) bool {
	i, found := slices.BinarySearchFunc(s, x, func(v interval, x nm) int {
		switch {
		case v.hi < x:
			return -1
		case v.lo > x:
			return 1
		}
		return 0
	})
	return found && s[i].holds(x)
}
