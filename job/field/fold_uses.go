package field

import "slices"

// What of the run is out of the yard: what lies where it belongs, and what was lifted and cannot be used. What else was lifted is back.

// use is one place of the run that a thing out of the yard goes to.
type use struct {
	stack *stack // nil: of nothing
	lies  int
	spent int   // lifted, and cannot be used
	then  []int // by count of the stack: how many were out by what was known to whoever counted
}

// takes has a unit and its covers be out of the yard as they now are.
func (b *Book) takes(at spot, p *pile, u *UnitState) {
	for k := range p.uses {
		is := use{stack: b.outOf(at, p, k)}
		if k == 0 && u.Set.Is == Yes || k > 0 && u.Covers[k-1].Laid.Is == Yes {
			is.lies = 1
		}
		is.spent = b.spent(at, p, k, nil)
		was := &p.uses[k]
		if was.stack == is.stack && was.lies == is.lies && was.spent == is.spent && (is.stack == nil || len(is.stack.counted) == 0) {
			continue
		}
		if was.stack != nil && !was.stack.stale {
			was.stack.take(was, -1)
		}
		if is.stack != nil && !is.stack.stale {
			is.then = b.then(at, p, k, &is)
			is.stack.take(&is, 1)
		} else if is.stack != nil {
			is.stack.anew = true
		}
		*was = is
	}
}

// take takes what is out of the yard at one place into what a stack comes to, or out of it (-1).
func (s *stack) take(u *use, by int) {
	s.stock.Used += by * u.lies
	s.stock.Damaged += by * u.spent
	s.uses += by * (u.lies + u.spent)
	for i := range s.counted {
		s.counted[i].have += by * (u.then[i] - u.lies - u.spent)
	}
}

// outOf is the stack that a unit (0) or one of its covers (from 1) comes from. A unit that was cut on site comes from what was cut.
func (b *Book) outOf(at spot, p *pile, k int) *stack {
	unit := &b.run.Legs[at.leg].Units[at.unit]
	if k > 0 {
		return b.yard.of(unit.Lids[k-1])
	}
	for _, e := range p.standing(Cut) {
		if made := b.cutPiece(e); made != (Piece{}) {
			return b.yard.of(made)
		}
	}
	return b.yard.of(unit.Piece)
}

// cutPiece is what a record of a cut made for its place; nothing: it was spoiled, has no place, or does not say what was cut.
func (b *Book) cutPiece(e *entry) Piece {
	says, ok := hear[CutSays](e)
	if !ok || says.Spoiled || !e.placed || says.From == (Piece{}) {
		return Piece{}
	}
	return Piece{Supply: says.From.Supply, What: "unit", Mark: b.run.Legs[e.from.leg].Units[e.from.unit].Place}
}

// then is how many of a place were out of the yard, count by count, by the records that were known to whoever counted. Where they
// differed on whether it lay, it lay as it turned out: who looked since moved nothing.
func (b *Book) then(at spot, p *pile, k int, u *use) []int {
	if len(u.stack.counted) == 0 {
		return nil
	}
	list := make([]int, len(u.stack.counted))
	for i, t := range u.stack.counted {
		known := func(e *entry) bool { e = b.origin(e); return e.Number <= t.seen[e.Device] }
		list[i] = b.spent(at, p, k, known)
		all, of, lies := b.laying(at, p, k, known)
		switch factOf(lastThat(all, of, func(*entry) bool { return true }), lies).Is {
		case Yes:
			list[i]++
		case CantSay:
			list[i] += u.lies
		}
	}
	return list
}

// laying are the records that a unit or cover was laid and lifted by: all, and those that stand and are known (nil: all are).
func (b *Book) laying(at spot, p *pile, k int, known func(*entry) bool) (all, of []*entry, lies func(*entry) bool) {
	kind, lies := Set, sets
	if k > 0 {
		place := b.run.Legs[at.leg].Units[at.unit].Covers[k-1]
		kind, lies = Cover, func(e *entry) bool { return lays(e, place) }
	}
	all = p.of(kind)
	for _, e := range p.standing(kind) {
		if (k == 0 || e.means(at, k-1)) && (known == nil || known(e)) {
			of = append(of, e)
		}
	}
	return all, of, lies
}

// spent is how many units or covers of a place were lifted and cannot be used. One that is broken went with the first lifting that is
// known to be later; where none is, with one of those that nobody knows to be older.
func (b *Book) spent(at spot, p *pile, k int, known func(*entry) bool) int {
	broken := p.standing(Damage)
	if len(broken) == 0 {
		return 0
	}
	_, of, lies := b.laying(at, p, k, known)
	lifts := slices.DeleteFunc(slices.Clone(of), lies)
	var gone []*entry
	unknown := 0
	for _, d := range broken {
		says, ok := hear[DamageSays](d)
		if !ok || !d.breaks(at, k) || known != nil && !known(d) {
			continue
		}
		first := slices.IndexFunc(lifts, func(l *entry) bool {
			return comesAfter(of, l, d) && !slices.ContainsFunc(lifts, func(o *entry) bool { return o != l && comesAfter(of, o, d) && comesAfter(of, l, o) })
		})
		switch {
		case says.Usable:
		case first >= 0 && !slices.Contains(gone, lifts[first]):
			gone = append(gone, lifts[first])
		case first < 0 && slices.ContainsFunc(lifts, func(l *entry) bool { return !comesAfter(of, d, l) }):
			unknown = 1
		}
	}
	return min(len(gone)+unknown, len(lifts))
}

// breaks tells whether a record of damage is about a unit (0) or one of its covers (from 1).
func (e *entry) breaks(at spot, k int) bool {
	if k == 0 {
		return e.from.cover < 0
	}
	return e.from.cover >= 0 && e.means(at, k-1)
}
