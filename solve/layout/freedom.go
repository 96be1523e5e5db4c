package layout

import (
	"cmp"
	"fmt"
	"slices"

	"trenchwright/base/measure"
)

// Where a leg has two cut units or more, or gaps that may open, its cut lengths have freedom that costs nothing: the cutting
// may ask for other lengths. The sequence of pieces stands, and every joint stays in its own stretch between zones.

// Slack is the lengths that one cut unit may have.
type Slack struct {
	Unit    int // index in the layout
	Lengths []Range
}

// Range is from the least to the most, both included.
type Range struct{ Min, Max measure.Length }

// Freedom says which lengths each cut unit of a solution may have while the others are free, too, or as given: lengths holds
// one for each cut unit in laying order, 0 where it is free; nil leaves all free. With open, gaps may use their windows;
// without, they stay as aimed at. Fixing one length and asking again tells what is left for the others.
func Freedom(p Problem, s Solution, lengths []measure.Length, open bool) ([]Slack, error) {
	f, err := newFrozen(&p, s.Units, lengths, open || s.Opened)
	if err != nil {
		return nil, err
	}
	f.fromStart()
	var out []Slack
	for i := range f.ways {
		if !f.ways[i][0].piece.cut {
			continue
		}
		slack := Slack{Unit: i}
		for _, v := range f.lengths(i) {
			slack.Lengths = append(slack.Lengths, Range{v.lo, v.hi})
		}
		out = append(out, slack)
	}
	return out, nil
}

// Refit lays a sequence of units again with other cut lengths, given as for Freedom; free ones stay as near to what they were
// as may be, a whole number of the steps wished for, and openings are spread evenly. The units may come from another solution, of a problem that has moved a
// little: s, the solution of p, lends its proof, and the sequence is refused if it costs more.
func Refit(p Problem, s Solution, units []Unit, lengths []measure.Length, open bool) (Solution, error) {
	f, err := newFrozen(&p, units, lengths, open || s.Opened)
	if err != nil {
		return Solution{}, err
	}
	r := f.chosen(units)
	r.settle()
	out := s
	out.Units = r.units()
	if out.Count = count(out.Units); out.Count != s.Count {
		return Solution{}, fmt.Errorf("layout: the sequence costs %v, the best %v", out.Count, s.Count)
	}
	out.Opened = r.opened()
	best := out.Clearance.Best
	out.Clearance = p.clearance(out.Units)
	out.Clearance.Best = best && out.Clearance.Least == s.Clearance.Least
	if p.Hold {
		out.Held = r.hold(out.Units)
	}
	return out, nil
}

// opened tells whether a joint is not as aimed at.
func (r *route) opened() bool {
	for i := range len(r.links) - 1 {
		if r.x[i+1]-r.x[i]-r.d[i] != r.joint(i).aim {
			return true
		}
	}
	return false
}

// frozen is a sequence whose cut lengths are open. Cut covers may move from one unit to another, so starts are kept by how
// many of them the pieces before, or behind, have used up at most.
type frozen struct {
	*route
	ways  [][]way
	most  int     // cut covers of the whole leg
	from  [][]set // by piece and cut covers used before it: reached from the start of the leg
	to    [][]set // by piece and cut covers left for it and what follows: leading to the end
	apart bool    // too many to keep account of: every unit keeps to its own number
}

// way is a link that a piece may be, and the cut covers that it takes out of the account.
type way struct {
	link
	covers int
}

// mostAccount is how many cut covers are kept account of.
const mostAccount = 24

func newFrozen(p *Problem, units []Unit, lengths []measure.Length, open bool) (*frozen, error) {
	if err := p.faults(); err != nil {
		return nil, err
	}
	n := count(units)
	if n.Units == 0 || lengths != nil && len(lengths) != n.Cuts {
		return nil, fmt.Errorf("layout: %d lengths are given for %d cut units of %d", len(lengths), n.Cuts, n.Units)
	}
	g := newGround(p, !open)
	f := &frozen{route: &route{g: g, parts: g.parts}, most: n.CutCovers}
	if f.apart = n.CutCovers > mostAccount; f.apart {
		f.most = 0
	}
	before := -1
	for i, u := range units {
		part := -1
		if i < len(units)-1 {
			part = g.nearestPart(interval{u.Start + u.Advance, units[i+1].Start})
		}
		want := u.Length
		if u.Cut && i >= len(p.First) {
			want = 0
			if lengths != nil {
				want = lengths[0]
			}
		}
		if u.Cut && lengths != nil {
			lengths = lengths[1:]
		}
		ways := f.alike(u, i == 0, before, part, want)
		if len(ways) == 0 {
			return nil, fmt.Errorf("layout: unit %d, %s long at %s, cannot lie there at no more cost", i+1, cmp.Or(want, u.Length), u.Start)
		}
		f.ways, f.links = append(f.ways, ways), append(f.links, ways[0].link)
		before = part
	}
	return f, f.toEnd()
}

// nearestPart is the part of the axis that a joint lies in, or nearest to; the later of two that share an edge.
func (g *ground) nearestPart(joint interval) int {
	best, least := 0, forever
	for i, v := range g.parts {
		if off := max(v.lo-joint.lo, joint.hi-v.hi, 0); off <= least {
			best, least = i, off
		}
	}
	return best
}

// alike lists the ways that a unit may be: its own first.
func (f *frozen) alike(u Unit, first bool, before, part int, want nm) []way {
	at := place{x: interval{u.Start, u.Start}, part: before, kind: f.g.kindAt(u.Start)}
	if at.x = f.g.around(at); first { // all that its start may move to: rules that only a unit further on meets count too
		at = f.g.startPlace()
	}
	own := count([]Unit{u}).CutCovers
	var out []way
	f.g.each(at, func(e *entry, lim limits, last bool) bool {
		k := way{covers: e.cost.count().CutCovers}
		switch {
		case last != (part < 0), e.supply != u.Supply, e.cut != u.Cut, !u.Cut && e.length.lo != u.Length:
			return true
		case f.apart && k.covers > own, !f.apart && k.covers > f.most, want > 0 && !e.length.holds(want):
			return true
		case f.apart:
			k.covers = 0
		}
		if want > 0 {
			a := at.kind.geometry.advance(want)
			e = &entry{interval{a, a}, interval{want, want}, e.cost, e.supply, e.cut}
		}
		k.link = link{e, f.g.around(at), lim.end, lim.next, part}
		if e.length.holds(u.Length) {
			out = slices.Insert(out, 0, k)
		} else {
			out = append(out, k)
		}
		return true
	})
	return out
}

// toEnd finds, from the end of the leg back, the starts of every piece that lead there.
func (f *frozen) toEnd() error {
	n := len(f.links)
	f.to = make([][]set, n)
	for i := n - 1; i >= 0; i-- {
		f.to[i] = make([]set, f.most+1)
		for m := range f.to[i] {
			var all []interval
			for _, k := range f.ways[i] {
				for _, e := range f.endings(i, k, m) {
					s := interval{e.lo - k.piece.advance.hi, e.hi - k.piece.advance.lo}.and(k.start)
					if i > 0 {
						s = s.and(f.room(i - 1))
					}
					all = append(all, s)
				}
			}
			f.to[i][m] = union(all)
		}
		if len(f.to[i][f.most]) == 0 {
			return fmt.Errorf("layout: with these lengths the sequence does not fit from unit %d to its end", i+1)
		}
	}
	return nil
}

// fromStart finds the starts that can be reached.
func (f *frozen) fromStart() {
	n := len(f.links)
	f.from = make([][]set, n)
	f.from[0] = slices.Repeat([]set{f.to[0][f.most]}, f.most+1)
	for i := range n - 1 {
		w := f.joint(i)
		f.from[i+1] = make([]set, f.most+1)
		for m := range f.from[i+1] {
			var all []interval
			for _, k := range f.ways[i] {
				if k.covers > m {
					continue
				}
				for _, x := range f.from[i][m-k.covers] {
					e := interval{max(x.lo+k.piece.advance.lo, f.room(i).lo), x.hi + k.piece.advance.hi}.and(k.end)
					if !e.empty() {
						all = append(all, interval{e.lo + w.min, min(e.hi+w.max, f.room(i).hi, k.next)})
					}
				}
			}
			f.from[i+1][m] = union(all).and(f.to[i+1][f.most])
		}
	}
}

// lengths is every length that piece i may have.
func (f *frozen) lengths(i int) set {
	var all []interval
	for _, k := range f.ways[i] {
		for used := 0; used+k.covers <= f.most; used++ {
			for _, e := range f.endings(i, k, f.most-used) {
				for _, x := range f.from[i][used] {
					if d := (interval{e.lo - x.hi, e.hi - x.lo}).and(k.piece.advance); !d.empty() {
						all = append(all, f.lengthOf(k, d))
					}
				}
			}
		}
	}
	return union(all)
}

// endings is where piece i may end as one of its ways, with m cut covers left for it and what follows.
func (f *frozen) endings(i int, k way, m int) []interval {
	if k.covers > m {
		return nil
	}
	if i == len(f.links)-1 {
		return []interval{{f.g.end, f.g.end}}
	}
	var out []interval
	for _, s := range f.to[i+1][m-k.covers] {
		if v := f.ends(i, &k.link, s, forever/4); !v.empty() {
			out = append(out, v)
		}
	}
	return out
}

// lengthOf is the range of lengths over a range of advances.
func (f *frozen) lengthOf(k way, d interval) interval {
	geo, l := f.g.kindAt(k.start.lo).geometry, k.piece.length
	return interval{min(max(geo.length(d.lo), l.lo), l.hi), min(max(geo.length(d.hi), l.lo), l.hi)}
}

// chosen takes a way and an advance for every piece, each as near to what it was as may be.
func (f *frozen) chosen(units []Unit) *route {
	r := &route{g: f.g, parts: f.parts}
	x, left := f.to[0][f.most][0].lo, f.most
	for i := range f.ways {
		k, d := f.nearest(i, left, x, units[i].Advance)
		left -= k.covers
		k.piece = &entry{interval{d, d}, f.lengthOf(k, interval{d, d}), k.piece.cost, k.piece.supply, k.piece.cut}
		r.links = append(r.links, k.link)
		if i == len(f.ways)-1 {
			break
		}
		w, e, least := f.joint(i), x+d, forever
		for _, s := range f.to[i+1][left] {
			v := interval{e + w.min, min(e+w.max, f.room(i).hi, k.next)}.and(s)
			if near := min(max(e+w.aim, v.lo), v.hi); !v.empty() && (near-e-w.aim).Abs() < least {
				x, least = near, (near - e - w.aim).Abs()
			}
		}
	}
	return r
}

// nearest is the way and the advance of piece i from x that are nearest to an advance: among those of a whole number of
// steps, where some are.
func (f *frozen) nearest(i, left int, x, was nm) (way, nm) {
	best, d, least := f.ways[i][0], nm(0), forever
	geo, rough := f.g.kindAt(f.ways[i][0].start.lo).geometry, true
	for _, k := range f.ways[i] {
		for _, e := range f.endings(i, k, left) {
			v := interval{e.lo - x, e.hi - x}.and(k.piece.advance)
			if v.empty() {
				continue
			}
			near := min(max(was, v.lo), v.hi)
			if !f.g.p.wished(geo.length(near)) {
				near = geo.rounded(near, v, f.g.p.Prefer.Step)
			}
			uneven := !f.g.p.stepped(geo.length(near))
			if off := (near - was).Abs(); rough && !uneven || rough == uneven && off < least {
				best, d, least, rough = k, near, off, uneven
			}
		}
	}
	return best, d
}

// wished tells whether a cut length is one of those wished for.
func (p *Problem) wished(l nm) bool { return slices.Contains(p.Prefer.Cuts, l) }

// stepped tells whether a length is a whole number of the steps wished for, if any are.
func (p *Problem) stepped(l nm) bool {
	return p.Prefer.Step <= 0 || l%p.Prefer.Step == 0 || p.wished(l)
}
