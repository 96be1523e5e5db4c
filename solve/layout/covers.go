package layout

import "slices"

// covering is one way to cover a unit, before the gaps are spread.
type covering struct {
	whole whole
	cuts  cuts
	gaps  nm // all gaps of the window together
	off   nm // how far they are from nominal
}

// arrange lays the covers of a unit of length l: fewest cut, then gaps nearest to nominal, then fewest covers, then the
// longest whole ones. It returns nil where covers are unknown, and reports whether the length can be covered at all.
func (c Covers) arrange(s shape, l nm) ([]Cover, bool) {
	if c.unknown(s) {
		return nil, true
	}
	wholes := c.wholes(l)
	for _, choice := range c.choices(s) {
		var best *covering
		for _, k := range choice {
			for _, w := range wholes {
				if !c.fill(w, k).holds(l) {
					continue
				}
				if v := c.open(w, k, l); best == nil || v.before(*best) {
					best = &v
				}
			}
		}
		if best != nil {
			return c.place(s, *best, l), true
		}
	}
	return nil, false
}

func (a covering) before(b covering) bool {
	an, bn := len(a.whole.lengths)+len(a.cuts.ranges), len(b.whole.lengths)+len(b.cuts.ranges)
	switch {
	case a.off != b.off:
		return a.off < b.off
	case an != bn:
		return an < bn
	}
	return slices.Compare(a.whole.lengths, b.whole.lengths) > 0
}

// open chooses the gaps: nominal if the cut covers can take the rest, else as near to it as may be.
func (c Covers) open(w whole, k cuts, l nm) covering {
	rest := l - w.sum - k.setback
	var lo, hi nm
	for _, r := range k.ranges {
		lo, hi = lo+r.lo, hi+r.hi
	}
	n := nm(len(w.lengths) + k.gaps)
	gaps := min(max(n*c.Gap.Nominal, n*c.Gap.Min, rest-hi), n*c.Gap.Max, rest-lo)
	return covering{w, k, gaps, (gaps - n*c.Gap.Nominal).Abs()}
}

// share divides a length over cut covers as evenly as their ranges allow.
func share(total nm, ranges []interval) []nm {
	out := make([]nm, len(ranges))
	for i, r := range ranges {
		var lo, hi nm // what the others can take
		for _, o := range ranges[i+1:] {
			lo, hi = lo+o.lo, hi+o.hi
		}
		even := (total + nm(len(ranges)-i) - 1) / nm(len(ranges)-i)
		out[i] = min(max(even, r.lo, total-hi), r.hi, total-lo)
		total -= out[i]
	}
	return out
}

// place lays a covering out: a cover mitred at the start, whole ones with the longest first, cut ones, a cover mitred at
// the end.
func (c Covers) place(s shape, v covering, l nm) []Cover {
	sizes := share(l-v.whole.sum-v.cuts.setback-v.gaps, v.cuts.ranges)
	var out []Cover
	if v.cuts.first {
		out = append(out, Cover{Length: sizes[0], Cut: true})
		sizes = sizes[1:]
	}
	for _, w := range v.whole.lengths {
		out = append(out, Cover{Stock: w, Length: w})
	}
	for _, size := range sizes {
		out = append(out, Cover{Length: size, Cut: true})
	}
	if s.start.Mitred {
		out[0].Mitred, out[0].StartTan = true, s.start.Tan
	}
	if s.end.Mitred {
		last := &out[len(out)-1]
		last.Mitred, last.EndTan = true, s.end.Tan
	}
	for i := range out {
		if out[i].Cut {
			out[i].Stock = c.stock(out[i])
		}
	}
	c.space(s, out, v.gaps)
	return out
}

// stock is the shortest cover that a cut one comes from.
func (c Covers) stock(k Cover) nm {
	need := k.Length + half(c.Width, k.StartTan) + half(c.Width, k.EndTan)
	if !k.Mitred {
		need += c.LeastSlice
	}
	best := c.longest()
	for _, l := range c.Lengths {
		if l >= need && l < best {
			best = l
		}
	}
	return best
}

// space spreads the gaps evenly. On a square unit the half gaps at its two ends are one gap.
func (c Covers) space(s shape, out []Cover, gaps nm) {
	inner := nm(len(out) - 1)
	at := c.Gap.Nominal / 2
	square := !s.start.Mitred && !s.end.Mitred
	switch {
	case square:
		at = gaps / nm(len(out)) / 2
		gaps -= gaps / nm(len(out))
	case s.start.Mitred:
		at = c.setback(s.start)
	}
	for i := range out {
		out[i].Start = at
		at += out[i].Length
		if inner > 0 {
			step := (gaps + inner - 1) / inner
			gaps -= step
			inner--
			at += step
		}
	}
}
