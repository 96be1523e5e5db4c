package layout

import (
	"math"
	"slices"

	"trenchwright/base/sorting"
)

// What the proof has to hold against: every piece that anybody could lay, found here afresh by counting covers up.

// choice is a range of lengths that a piece may have, and what it costs.
type choice struct {
	supply       int
	lo, hi       nm
	cuts, covers int
}

func (o choice) price() cost { return Count{1, o.cuts, o.covers}.cost() }

// choices lists what may be laid between a start and an end of the given make (the zero End: a square joint).
func (c *checker) choices(start, finish End) []choice {
	var out []choice
	for i, s := range c.p.Supplies {
		if !start.Mitred && !finish.Mitred {
			for _, k := range s.Stocks {
				out = append(out, choice{i, k.Length, k.Length, 0, 0})
			}
		}
		for _, l := range s.sawable(start, finish) {
			for _, v := range s.Covers.coverable(start, finish, s) {
				if lo, hi := max(l[0], v.lo), min(l[1], v.hi); lo <= hi {
					out = append(out, choice{i, lo, hi, 1, v.covers})
				}
			}
		}
	}
	return dropDearer(out)
}

// dropDearer leaves out what another choice offers as cheaply, so that the proof is read faster.
func dropDearer(all []choice) []choice {
	var out []choice
	for i, a := range all {
		if !slices.ContainsFunc(all, func(b choice) bool {
			wider := b.lo <= a.lo && b.hi >= a.hi && b.price() <= a.price() && b.supply == a.supply
			return wider && (b != a)
		}) && !slices.Contains(all[:i], a) {
			out = append(out, a)
		}
	}
	return out
}

// sawable is the lengths that can be sawn from any stock, either end kept.
func (s Supply) sawable(start, finish End) [][2]nm {
	reach := func(tan float64) nm { return nm(math.Round(math.Abs(tan) * float64(s.Width) / 2)) }
	var out [][2]nm
	for _, k := range s.Stocks {
		lo := s.ShortestCut + reach(finish.Tan-start.Tan)
		hi := k.Length - reach(start.Tan) - reach(finish.Tan)
		if start.Mitred && finish.Mitred {
			if !s.KeepFactoryEnd {
				out = append(out, s.apart(k, lo, hi, start, finish)...)
			}
			continue
		}
		if !start.Mitred && !finish.Mitred {
			hi -= s.LeastSlice
		}
		tan := start.Tan + finish.Tan
		lean, kerf := reach(tan), nm(math.Round(float64(s.Kerf)*math.Sqrt(1+float64(tan*tan))))
		for _, keepA := range []bool{true, false} {
			turned := start.Mitred && keepA || finish.Mitred && !keepA
			if turned && !s.MayTurn {
				continue
			}
			var taken [][2]nm
			for _, n := range k.NoCut {
				if keepA {
					taken = append(taken, [2]nm{n.From - lean - kerf, n.To + lean})
				} else {
					taken = append(taken, [2]nm{k.Length - n.To - lean - kerf, k.Length - n.From + lean})
				}
			}
			out = append(out, outside(lo, hi, taken)...)
		}
	}
	return out
}

// apart is what two saw cuts leave between spans, for a piece between two mitres.
func (s Supply) apart(k Stock, lo, hi nm, start, finish End) [][2]nm {
	reach := func(tan float64) nm { return nm(math.Round(math.Abs(tan) * float64(s.Width) / 2)) }
	kerf := func(tan float64) nm { return nm(math.Round(float64(s.Kerf) * math.Sqrt(1+float64(tan*tan)))) }
	var a, z [][2]nm
	for _, n := range k.NoCut {
		a = append(a, [2]nm{n.From - reach(start.Tan), n.To + reach(start.Tan) + kerf(start.Tan)})
		z = append(z, [2]nm{n.From - reach(finish.Tan) - kerf(finish.Tan), n.To + reach(finish.Tan)})
	}
	var out [][2]nm
	for _, from := range outside(reach(start.Tan), k.Length, a) {
		for _, to := range outside(0, k.Length-reach(finish.Tan), z) {
			if l, h := max(lo, to[0]-from[1]), min(hi, to[1]-from[0]); l <= h {
				out = append(out, [2]nm{l, h})
			}
		}
	}
	return out
}

// outside is [lo, hi] without the insides of the taken intervals.
func outside(lo, hi nm, taken [][2]nm) [][2]nm {
	sorting.By(taken, func(a, b [2]nm) int { return int(min(1, max(-1, a[0]-b[0]))) })
	var out [][2]nm
	for _, t := range taken {
		if t[1] <= lo || t[0] >= t[1] {
			continue
		}
		if t[0] >= hi {
			break
		}
		if t[0] >= lo {
			out = append(out, [2]nm{lo, t[0]})
		}
		lo = t[1]
	}
	if lo <= hi {
		out = append(out, [2]nm{lo, hi})
	}
	return out
}

// lids is a range of lengths that a number of cut covers can fill.
type lids struct {
	lo, hi nm
	covers int
}

// coverable counts up every number of uncut covers of every length, and every number of cut ones that is allowed.
func (v Covers) coverable(start, finish End, s Supply) []lids {
	if len(v.Lengths) == 0 || v.Width == 0 && (start.Mitred || finish.Mitred) {
		return []lids{{0, 1 << 60, 0}}
	}
	var most nm
	for _, k := range s.Stocks {
		most = max(most, k.Length)
	}
	var out []lids
	var count func(i int, n, sum nm)
	count = func(i int, n, sum nm) {
		if i == len(v.Lengths) {
			out = append(out, v.with(start, finish, n, sum)...)
			return
		}
		for k := nm(0); sum+k*v.Lengths[i]+(n+k-1)*v.Gap.Min <= most; k++ {
			count(i+1, n+k, sum+k*v.Lengths[i])
		}
	}
	count(0, 0, 0)
	return out
}

// with adds cut covers to n whole ones of a given sum.
func (v Covers) with(start, finish End, n, sum nm) []lids {
	longest := slices.Max(v.Lengths)
	lean := func(tan float64) nm { return nm(math.Round(math.Abs(tan) * float64(v.Width) / 2)) }
	back := func(e End) nm {
		seam := v.Gap.Nominal
		if e.Seam != 0 {
			seam = e.Seam
		}
		return nm(math.Round(float64(seam)*math.Sqrt(1+float64(e.Tan*e.Tan)))) / 2
	}
	var out []lids
	add := func(covers int, gaps, fixed, lo, hi nm) {
		out = append(out, lids{sum + fixed + lo + gaps*v.Gap.Min, sum + fixed + hi + gaps*v.Gap.Max, covers})
	}
	lo, hi := v.ShortestCut, longest-v.LeastSlice
	square := lo <= hi
	switch {
	case !start.Mitred && !finish.Mitred:
		add(0, n, 0, 0, 0)
		if square {
			add(1, n+1, 0, lo, hi)
			add(2, n+2, 0, 2*lo, 2*hi)
		}
	case start.Mitred && finish.Mitred:
		fixed := back(start) + back(finish)
		a, z := lean(start.Tan), lean(finish.Tan)
		if n == 0 {
			add(1, 0, fixed, lo+lean(finish.Tan-start.Tan), longest-a-z)
		}
		if lo+a <= longest-a && lo+z <= longest-z {
			add(2, n+1, fixed, 2*lo+a+z, 2*longest-a-z)
			if square {
				add(3, n+2, fixed, 3*lo+a+z, 2*longest-a-z+hi)
			}
		}
	default:
		e := start
		if finish.Mitred {
			e = finish
		}
		fixed, h := back(e)+v.Gap.Nominal/2, lean(e.Tan)
		if lo+h <= longest-h {
			add(1, n, fixed, lo+h, longest-h)
			if square {
				add(2, n+1, fixed, 2*lo+h, longest-h+hi)
			}
		}
	}
	return slices.DeleteFunc(out, func(l lids) bool { return l.lo > l.hi })
}
