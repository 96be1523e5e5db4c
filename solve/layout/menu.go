package layout

import (
	"slices"

	"trenchwright/base/sorting"
)

// entry is one choice of a piece: any advance from lo to hi, at one cost.
type entry struct {
	advance interval
	length  interval // of the unit itself
	cost    cost
	supply  int
	cut     bool
}

// menu is what may be laid at one kind of place, supplies in order; plain counts the entries of Supplies[0], which come first.
type menu struct {
	entries []entry
	plain   int
}

// sawn is one way to cut a piece from a stock length.
type sawn struct {
	stock  nm
	turned bool
	kept   Kept
	fits   set // lengths
}

// sawnFrom lists the ways to cut a piece of a shape: the shortest stock first, unturned first, end A kept first.
func (s Supply) sawnFrom(f shape) []sawn {
	stocks := slices.Clone(s.Stocks)
	sorting.By(stocks, func(a, b Stock) int { return int(min(1, max(-1, a.Length-b.Length))) })
	var out []sawn
	for _, k := range stocks {
		switch {
		case !f.start.Mitred && !f.end.Mitred:
			fits := set{{s.ShortestCut, k.Length - s.LeastSlice}}
			out = append(out,
				sawn{k.Length, false, KeptA, k.sawFromA(fits, s.Kerf, 0)},
				sawn{k.Length, false, KeptB, k.sawFromB(fits, s.Kerf, 0)})
		case f.start.Mitred && f.end.Mitred:
			if fits := s.bothMitred(k, f); !s.KeepFactoryEnd && len(fits) > 0 {
				out = append(out, sawn{k.Length, false, KeptNone, fits})
			}
		default:
			out = append(out, s.oneMitred(k, f)...)
		}
	}
	return slices.DeleteFunc(out, func(w sawn) bool { return len(w.fits) == 0 })
}

// oneMitred: the piece keeps the factory end opposite the mitre. Unturned, end A looks to the start of the leg.
func (s Supply) oneMitred(k Stock, f shape) []sawn {
	tan := f.start.Tan
	if f.end.Mitred {
		tan = f.end.Tan
	}
	h := half(s.Width, tan)
	kerf := secant(s.Kerf, tan)
	fits := set{{s.ShortestCut + h, k.Length - h}}
	a := sawn{k.Length, f.start.Mitred, KeptA, k.sawFromA(fits, kerf, h)}
	b := sawn{k.Length, f.end.Mitred, KeptB, k.sawFromB(fits, kerf, h)}
	var out []sawn
	for _, w := range []sawn{a, b} {
		if !w.turned || s.MayTurn {
			out = append(out, w)
		}
	}
	sorting.By(out, func(a, b sawn) int {
		if a.turned == b.turned {
			return 0
		} else if b.turned {
			return -1
		}
		return 1
	})
	return out
}

// bothMitred: one piece between two mitres has no factory end; it is cut out of the stock where no span is in the way.
func (s Supply) bothMitred(k Stock, f shape) set {
	ha, hz := half(s.Width, f.start.Tan), half(s.Width, f.end.Tan)
	fits := set{{s.ShortestCut + half(s.Width, f.end.Tan-f.start.Tan), k.Length - ha - hz}}
	if len(k.NoCut) == 0 {
		return union(fits)
	}
	// The axis of the first cut may lie where its saw path misses every span; that of the second likewise.
	ka, kz := secant(s.Kerf, f.start.Tan), secant(s.Kerf, f.end.Tan)
	first := set{{ha, k.Length}}
	second := set{{0, k.Length - hz}}
	for _, n := range k.NoCut {
		first = first.without(n.From-ha, n.To+ha+ka)
		second = second.without(n.From-hz-kz, n.To+hz)
	}
	var reach []interval
	for _, a := range first {
		for _, z := range second {
			reach = append(reach, interval{z.lo - a.hi, z.hi - a.lo})
		}
	}
	return union(reach).and(union(fits))
}

// sawFromA leaves the lengths whose saw path misses every span when end A is kept: the path reaches from h before the axis
// station l to h and the kerf behind it.
func (k Stock) sawFromA(fits set, kerf, h nm) set {
	fits = union(fits)
	for _, n := range k.NoCut {
		fits = fits.without(n.From-h-kerf, n.To+h)
	}
	return fits
}

func (k Stock) sawFromB(fits set, kerf, h nm) set {
	fits = union(fits)
	for _, n := range k.NoCut {
		fits = fits.without(k.Length-n.To-h-kerf, k.Length-n.From+h)
	}
	return fits
}

// longest is the longest stock.
func (s Supply) longest() nm {
	var l nm
	for _, k := range s.Stocks {
		l = max(l, k.Length)
	}
	return l
}

// lengths is what one supply offers for a shape, as lengths at a cost: whole units, then cut ones by cut covers.
func (s Supply) lengths(f shape) []entry {
	var out []entry
	square := !f.start.Mitred && !f.end.Mitred
	if square {
		for _, k := range s.Stocks {
			out = append(out, entry{length: interval{k.Length, k.Length}, cost: oneUnit})
		}
		sorting.By(out, func(a, b entry) int { return int(min(1, max(-1, b.length.lo-a.length.lo))) })
		out = slices.Compact(out)
	}
	var all []interval
	for _, w := range s.sawnFrom(f) {
		all = append(all, w.fits...)
	}
	cuttable := union(all)
	var before set
	for m, level := range s.Covers.levels(f, s.longest()) {
		now := level.and(cuttable)
		for _, v := range now {
			if slices.Contains(before, v) { // nothing new: already to be had with fewer cut covers
				continue
			}
			out = append(out, entry{length: v, cost: oneUnit + oneCut + cost(m)*oneCover, cut: true})
		}
		before = now
	}
	return out
}

// menuOn is what may be laid on a stretch for a shape.
func (p *Problem) menuOn(g geometry, longest nm, f shape) menu {
	var m menu
	for i, s := range p.Supplies {
		for _, e := range s.lengths(f) {
			e.supply = i
			if longest > 0 {
				e.length.hi = min(e.length.hi, longest)
			}
			if e.length.empty() {
				continue
			}
			e.advance = interval{g.advance(e.length.lo), g.advance(e.length.hi)}
			m.entries = append(m.entries, e)
		}
		if i == 0 {
			m.plain = len(m.entries)
		}
	}
	return m
}
