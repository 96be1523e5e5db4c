package layout

import (
	"cmp"
	"slices"
)

// On site people hold a plan, and every place that gets another piece is one more that somebody is told of. Stay lays what is left with
// as few such places as can be, whatever else that costs: forward over the planned pieces, by how many of them changed so far, the
// starts from which the leg goes on are kept as exact intervals; the first count with which the end of the leg is reached is the least.

// Placed is what a place gets, as far as people tell pieces apart.
type Placed struct {
	Supply int
	Length nm
	Cut    bool
}

// Stay lays what is left of a leg behind a unit of a supply whose end was measured, with as few changes of what was planned as can be: a
// place that gets another piece is one, one that is inserted or withdrawn is one too. False where there is no way with up to most.
func (p Problem) Stay(end nm, supply int, planned []Placed, most int) (units []Unit, changes int, ok bool) {
	p.First = nil
	if p.faults() != nil || len(planned) == 0 {
		return nil, 0, false
	}
	s := &stay{g: newGround(&p, false), old: planned, most: most, end: end, supply: supply}
	s.sets = make([][][]reached, most+1)
	for j := range s.sets {
		s.sets[j] = make([][]reached, len(planned)+1)
	}
	s.g.onto(place{x: interval{end, end}}, entry{supply: supply}, free, func(next place) { s.add(0, 0, next) })
	done := s.sweep()
	if done == nil {
		return nil, 0, false
	}
	units, ok = s.lay(done)
	return units, done.total, ok
}

// reached are starts with their joint in one part of the free axis.
type reached struct {
	interval
	part int
}

type stay struct {
	g      *ground
	old    []Placed
	most   int
	end    nm
	supply int
	sets   [][][]reached // by changes, and by planned pieces that are done with
}

// finish is a way to end the leg: its last piece, laid from starts of one set.
type finish struct {
	total, j, k int
	at          place
	link        link
}

func (s *stay) add(j, k int, at place) {
	s.sets[j][k] = append(s.sets[j][k], reached{at.x, at.part})
}

// sweep goes over all sets, and answers with the finish that changes least; nil: there is none.
func (s *stay) sweep() *finish {
	var best *finish
	for j := 0; j <= s.most && (best == nil || best.total > j); j++ {
		for k := 0; k <= len(s.old); k++ {
			s.sets[j][k] = s.fresh(j, k)
			for _, v := range s.sets[j][k] {
				if j < s.most && k < len(s.old) { // this one is laid no more
					s.sets[j+1][k+1] = append(s.sets[j+1][k+1], v)
				}
				s.g.alike(v, func(at place) { s.from(j, k, at, &best) })
			}
		}
	}
	return best
}

// fresh are the starts of a set in order, without those that fewer changes lead to.
func (s *stay) fresh(j, k int) []reached {
	var out []reached
	all := s.sets[j][k]
	slices.SortFunc(all, func(a, b reached) int { return cmp.Or(a.part-b.part, cmp.Compare(a.lo, b.lo)) })
	for i := 0; i < len(all); {
		var of []interval
		part := all[i].part
		for ; i < len(all) && all[i].part == part; i++ {
			of = append(of, all[i].interval)
		}
		left := union(of)
		for fewer := range j {
			for _, v := range s.sets[fewer][k] {
				if v.part == part {
					left = left.without(v.lo-1, v.hi+1)
				}
			}
		}
		for _, v := range left {
			out = append(out, reached{v, part})
		}
	}
	return out
}

// alike visits a reached by ranges that the rules treat alike.
func (g *ground) alike(v reached, visit func(place)) {
	for x := v.lo; x <= v.hi; {
		at := place{x: interval{x, x}, part: v.part, kind: g.kindAt(x)}
		at.x = g.around(at).and(interval{x, v.hi})
		visit(at)
		x = at.x.hi + 1
	}
}

// from lays every piece from a place: the planned one, or another one, or one more.
func (s *stay) from(j, k int, at place, best **finish) {
	s.g.each(at, func(e *entry, lim limits, last bool) bool {
		kept, stays := s.planned(k, e)
		switch {
		case last:
			s.ends(j, k, at, e, lim, best)
		default:
			if stays {
				s.g.onto(at, kept, lim, func(next place) { s.add(j, k+1, next) })
			}
			if j < s.most {
				s.g.onto(at, *e, lim, func(next place) {
					s.add(j+1, k, next)
					if k < len(s.old) {
						s.add(j+1, k+1, next)
					}
				})
			}
		}
		return true
	})
}

// planned is an entry narrowed to the k-th planned piece; false where it is none of its kind.
func (s *stay) planned(k int, e *entry) (entry, bool) {
	if k >= len(s.old) {
		return *e, false
	}
	return s.narrowed(s.old[k], e)
}

func (s *stay) narrowed(o Placed, e *entry) (entry, bool) {
	if e.supply != o.Supply || e.cut != o.Cut || !e.length.holds(o.Length) {
		return *e, false
	}
	kept := *e
	kept.length = interval{o.Length, o.Length}
	return kept, true
}

// ends notes the ways to end the leg with an entry.
func (s *stay) ends(j, k int, at place, e *entry, lim limits, best **finish) {
	if !lim.end.holds(s.g.end) || lim.next < s.g.end {
		return
	}
	left := len(s.old) - k
	note := func(e entry, total int) {
		if *best != nil && (*best).total <= total || total > s.most {
			return
		}
		v := at.x.and(interval{s.g.end - e.advance.hi, s.g.end - e.advance.lo})
		if v.empty() {
			return
		}
		one := at
		one.x = v
		*best = &finish{total, j, k, one, link{&e, s.g.around(at), lim.end, lim.next, -1}}
	}
	if kept, ok := s.planned(k, e); ok {
		a := at.kind.geometry.advance(kept.length.lo)
		kept.advance = interval{a, a}
		note(kept, j+left-1)
	}
	note(*e, j+max(left, 1))
}

// onto visits every range of starts that a piece laid from a range of starts leads to, alike to the rules.
func (g *ground) onto(at place, e entry, lim limits, visit func(place)) {
	if e.length.lo == e.length.hi && e.length.lo > 0 {
		a := at.kind.geometry.advance(e.length.lo)
		e.advance = interval{a, a}
	}
	ends := interval{at.x.lo + e.advance.lo, at.x.hi + e.advance.hi}.and(lim.end)
	if ends.empty() {
		return
	}
	i, _ := slices.BinarySearchFunc(g.parts, ends.lo, func(p interval, x nm) int { return cmp.Compare(p.hi, x) })
	wide := g.widest()
	for ; i < len(g.parts) && g.parts[i].lo <= ends.hi; i++ {
		part := g.parts[i]
		e2 := ends.and(part)
		if e2.empty() {
			continue
		}
		for x := max(e2.lo, 1); x <= min(part.hi, g.end-1, e2.hi+wide, lim.next); {
			next := place{x: interval{x, x}, part: i, kind: g.kindAt(x)}
			same := g.around(next)
			w := next.kind.windows[e.supply]
			next.x = interval{e2.lo + w.min, min(e2.hi+w.max, part.hi, lim.next, g.end-1)}.and(same)
			if next.x.lo = max(next.x.lo, 1); !next.x.empty() {
				visit(next)
			}
			x = same.hi + 1
		}
	}
}

// lay follows an finish back to the measured end, and places its pieces.
func (s *stay) lay(done *finish) ([]Unit, bool) {
	links := []link{done.link}
	x := reached{done.at.x, done.at.part}
	for j, k := done.j, done.k; ; {
		if j == 0 && k == 0 {
			break
		}
		l, before, j2, k2, laid, ok := s.before(j, k, x)
		if !ok {
			return nil, false
		}
		if laid {
			links = append(links, l)
		}
		x, j, k = before, j2, k2
	}
	slices.Reverse(links)
	r := &route{g: s.g, parts: s.g.parts, links: links}
	links[0].start = x.interval
	off, ok := r.leastOpening()
	if !ok {
		return nil, false
	}
	starts, _ := r.starts(off, nil)
	aim := s.end + s.g.kindAt(starts[0].lo).windows[s.supply].aim
	at := min(max(aim, starts[0].lo), starts[0].hi)
	links[0].start = interval{at, at}
	r.settle()
	return r.units(), true
}

// before is one step back from starts of a set: to starts from which a piece leads there, or where one was given up.
func (s *stay) before(j, k int, x reached) (l link, from reached, j2, k2 int, laid, ok bool) {
	try := func(jb, kb int, keep bool) bool {
		for _, v := range s.sets[jb][kb] {
			s.g.alike(v, func(at place) {
				if ok {
					return
				}
				s.g.each(at, func(e *entry, lim limits, last bool) bool {
					one := *e
					if last {
						return true
					}
					if keep {
						var stays bool
						if one, stays = s.planned(kb, e); !stays {
							return true
						}
					}
					if one.length.lo == one.length.hi {
						a := at.kind.geometry.advance(one.length.lo)
						one.advance = interval{a, a}
					}
					s.g.onto(at, one, lim, func(next place) {
						if y := next.x.and(x.interval); !ok && next.part == x.part && !y.empty() {
							w, part := next.kind.windows[one.supply], s.g.parts[next.part]
							ends := interval{max(part.lo, lim.end.lo, y.lo-w.max), min(part.hi, lim.end.hi, y.hi-w.min)}
							if pre := at.x.and(interval{ends.lo - one.advance.hi, ends.hi - one.advance.lo}); !pre.empty() {
								l = link{&one, s.g.around(at), lim.end, lim.next, next.part}
								from, j2, k2, laid, ok = reached{pre, at.part}, jb, kb, true, true
							}
						}
					})
					return !ok
				})
			})
			if ok {
				return true
			}
		}
		return false
	}
	if k > 0 && try(j, k-1, true) {
		return
	}
	if j == 0 {
		return
	}
	if k > 0 {
		for _, v := range s.sets[j-1][k-1] { // withdrawn
			if y := v.and(x.interval); v.part == x.part && !y.empty() {
				return link{}, reached{y, v.part}, j - 1, k - 1, false, true
			}
		}
		if try(j-1, k-1, false) {
			return
		}
	}
	try(j-1, k, false)
	return
}
