package layout

import (
	"cmp"
	"slices"

	"trenchwright/base/sorting"
)

// shape is what the ends of one piece look like; only a mitre and its seam matter here.
type shape struct{ start, end End }

// whole is a number of uncut covers and their lengths together.
type whole struct {
	sum     nm
	lengths []nm // the longest first
}

// wholes is every number and sum of uncut covers that fit into reach, by number, then sum. Of several choices of lengths with
// the same number and sum it keeps the one with the longest covers.
func (c Covers) wholes(reach nm) []whole {
	out := []whole{{}}
	for ring := out; len(ring) > 0; {
		var next []whole
		for _, w := range ring {
			for _, l := range c.Lengths {
				if w.sum+l+nm(len(w.lengths)+1)*c.Gap.Min <= reach+c.Gap.Max {
					next = append(next, w.and(l))
				}
			}
		}
		sorting.By(next, func(a, b whole) int {
			return cmp.Or(cmp.Compare(a.sum, b.sum), slices.Compare(b.lengths, a.lengths))
		})
		ring = slices.CompactFunc(next, func(a, b whole) bool { return a.sum == b.sum })
		out = append(out, ring...)
	}
	return out
}

// and is one cover more, in its place.
func (w whole) and(l nm) whole {
	i := slices.IndexFunc(w.lengths, func(o nm) bool { return o < l })
	if i < 0 {
		i = len(w.lengths)
	}
	return whole{w.sum + l, slices.Insert(slices.Clone(w.lengths), i, l)}
}

// cuts is one way of cutting covers for a piece: the range of each cut cover's axis length, as they lie after the whole
// ones (a cover mitred at the start lies before them).
type cuts struct {
	ranges  []interval
	gaps    int  // gaps of the window, beside one for each whole cover
	setback nm   // what mitres, and the half gap at a square end opposite, take off the length
	first   bool // ranges[0] lies at the start, before the whole covers
	alone   bool // no whole cover goes with it: one cover from mitre to mitre
}

func (c Covers) longest() nm { return slices.Max(c.Lengths) }

// square is the range of a cover cut square.
func (c Covers) square() interval { return interval{c.ShortestCut, c.longest() - c.LeastSlice} }

// mitred is the range of the axis length of a cover with one mitre: bearing on both walls, out of the longest cover.
func (c Covers) mitred(tan float64) interval {
	h := half(c.Width, tan)
	return interval{c.ShortestCut + h, c.longest() - h}
}

// between is the same for one cover with two mitres.
func (c Covers) between(s, e float64) interval {
	return interval{c.ShortestCut + half(c.Width, e-s), c.longest() - half(c.Width, s) - half(c.Width, e)}
}

// setback is half the seam of a mitre, along the axis.
func (c Covers) setback(e End) nm {
	seam := e.Seam
	if seam == 0 {
		seam = c.Gap.Nominal
	}
	return secant(seam, e.Tan) / 2
}

// choices are the ways to cut covers for a shape, by how many are cut: at most two on a piece with one mitre or none, three
// between two mitres.
func (c Covers) choices(s shape) [][]cuts {
	square := c.square()
	switch {
	case !s.start.Mitred && !s.end.Mitred:
		return [][]cuts{{{}}, {{ranges: []interval{square}, gaps: 1}}, {{ranges: []interval{square, square}, gaps: 2}}}
	case s.start.Mitred && s.end.Mitred:
		back := c.setback(s.start) + c.setback(s.end)
		a, z := c.mitred(s.start.Tan), c.mitred(s.end.Tan)
		return [][]cuts{nil,
			{{ranges: []interval{c.between(s.start.Tan, s.end.Tan)}, setback: back, first: true, alone: true}},
			{{ranges: []interval{a, z}, gaps: 1, setback: back, first: true}},
			{{ranges: []interval{a, square, z}, gaps: 2, setback: back, first: true}}}
	case s.start.Mitred:
		r, back := c.mitred(s.start.Tan), c.setback(s.start)+c.Gap.Nominal/2
		return [][]cuts{nil,
			{{ranges: []interval{r}, setback: back, first: true}},
			{{ranges: []interval{r, square}, gaps: 1, setback: back, first: true}}}
	}
	r, back := c.mitred(s.end.Tan), c.setback(s.end)+c.Gap.Nominal/2
	return [][]cuts{nil,
		{{ranges: []interval{r}, setback: back}},
		{{ranges: []interval{square, r}, gaps: 1, setback: back}}}
}

// fill is the range of lengths that the whole covers w and the cut ones k fill together; empty if there is none.
func (c Covers) fill(w whole, k cuts) interval {
	if k.alone && len(w.lengths) > 0 {
		return interval{1, 0}
	}
	v := interval{w.sum + k.setback, w.sum + k.setback}
	for _, r := range k.ranges {
		if r.empty() {
			return interval{1, 0}
		}
		v.lo, v.hi = v.lo+r.lo, v.hi+r.hi
	}
	n := nm(len(w.lengths) + k.gaps)
	return interval{v.lo + n*c.Gap.Min, v.hi + n*c.Gap.Max}
}

// unknown tells that no covers can be laid on a shape: there are none, or a mitre asks for a width that is not on file.
func (c Covers) unknown(s shape) bool {
	return len(c.Lengths) == 0 || c.Width == 0 && (s.start.Mitred || s.end.Mitred)
}

// levels says which lengths up to reach a piece may have with at most 0, 1, 2 … cut covers.
func (c Covers) levels(s shape, reach nm) []set {
	if c.unknown(s) {
		return []set{{{1, reach}}}
	}
	var all []interval
	var out []set
	wholes := c.wholes(reach)
	for _, choice := range c.choices(s) {
		for _, k := range choice {
			for _, w := range wholes {
				all = append(all, c.fill(w, k))
			}
		}
		out = append(out, union(all).and(set{{1, reach}}))
	}
	return out
}
