package cutstock

import (
	"slices"

	"trenchwright/base/measure"
)

// laid is one piece of a kind at its place on a unit. Its left face is the one nearer end A.
type laid struct {
	kind   int
	shape  shape // left face, right face
	at     measure.Length
	length measure.Length
}

// arrange lays out a way on its unit: nil when the saw cannot cut it. What is left over lies where it serves best: at
// end B, else at end A, else between two pieces. On stock with no-cut zones see arrangeClear.
func (s *shop) arrange(u *unit, takes []take) []laid {
	if len(u.NoCut) > 0 {
		return s.arrangeClear(u, takes)
	}
	id, morePlain, sum := s.setOf(u, takes)
	rest := u.Length - sum - measure.Length(morePlain)*s.saw.kerf
	for _, o := range u.joins.sets[id].total {
		if left := rest - o.join; left == 0 || left > 0 && left >= o.spare {
			return s.spread(u, u.joins.order(id, o), takes, left)
		}
	}
	return nil
}

// setOf is the set of what is taken, the plain pieces beyond it, and the sum of all lengths.
func (s *shop) setOf(u *unit, takes []take) (id setID, morePlain int, sum measure.Length) {
	plain := 0
	for _, t := range takes {
		k := &s.kinds[t.kind]
		sum += measure.Length(t.n) * k.length
		for n := range t.n {
			if k.plain && plain+n >= 2 {
				break
			}
			id = u.joins.with(id, k.shape)
		}
		if k.plain {
			plain += t.n
		}
	}
	return id, max(plain-2, 0), sum
}

// canCut tells whether a way can be cut from its unit.
func (s *shop) canCut(u *unit, takes []take) bool {
	if s.factoryEnd || len(u.NoCut) > 0 {
		return s.layOut(u, takes) != nil
	}
	id, morePlain, sum := s.setOf(u, takes)
	return u.joins.fits(id, morePlain, sum, u.Length)
}

// order is the shapes, left face first, of an order of the set that has the option.
func (j *joins) order(id setID, want option) []shape {
	set := &j.sets[id]
	for _, o := range set.open {
		join, spare := j.end(j.b, o.face)
		for _, option := range o.options {
			if option.join+join == want.join && min(option.spare, spare) == want.spare {
				return j.orderOpen(id, o.face, option)
			}
		}
	}
	panic("cutstock: an option of a set of pieces has no order")
}

func (j *joins) orderOpen(id setID, right face, want option) []shape {
	shapes := j.sets[id].shapes
	for i, last := range shapes {
		for _, way := range j.shop.turned(j.shop.shapes[last]) {
			if way[1] != right {
				continue
			}
			rest := j.of(slices.Delete(slices.Clone(shapes), i, i+1))
			if rest == empty {
				if join, spare := j.end(j.a, way[0]); join == want.join && spare == want.spare {
					return []shape{way}
				}
				continue
			}
			for _, o := range j.sets[rest].open {
				for _, before := range o.options {
					join := j.shop.between[o.face][way[0]]
					if join != never && before.join+join == want.join && min(before.spare, j.shop.spare[o.face][way[0]]) == want.spare {
						return append(j.orderOpen(rest, o.face, before), way)
					}
				}
			}
		}
	}
	panic("cutstock: an opening of a set of pieces has no order")
}

// spread gives the pieces of the takes their stations in an order of shapes, with what is left at the best place.
func (s *shop) spread(u *unit, order []shape, takes []take, left measure.Length) []laid {
	line := s.inOrder(order, takes)
	gaps := make([]measure.Length, len(line)+1) // before each piece, and after the last
	place, worth := -1, 0
	for i := range gaps {
		var spare measure.Length
		gaps[i], spare = s.gap(u, line, i)
		better := 1 // between two pieces
		switch i {
		case len(line):
			better = 3
		case 0:
			better = 2
		}
		if left >= spare && better > worth {
			place, worth = i, better
		}
	}
	if left > 0 {
		gaps[place] += left
	}
	at := measure.Length(0)
	for i := range line {
		at += gaps[i]
		line[i].at = at
		at += line[i].length
	}
	return line
}

// gap is the least distance at a place of a line of pieces, and the least that may be left over there.
func (s *shop) gap(u *unit, line []laid, i int) (least, spare measure.Length) {
	stock, f := u.A, face(0)
	switch i {
	case 0:
		f = line[0].shape[0]
	case len(line):
		stock, f = u.B, line[i-1].shape[1]
	default:
		a, b := line[i-1].shape[1], line[i].shape[0]
		return s.between[a][b], s.spare[a][b]
	}
	e := s.ends[f]
	if e.Cast != "" {
		return 0, never
	}
	return s.saw.atEnd(stock.Skew, e.Skew), s.saw.spare(stock.Skew, e.Skew)
}

// inOrder puts kinds to shapes, longer ones first; plain kinds for which the order has no more room lie beside its
// last plain one.
func (s *shop) inOrder(order []shape, takes []take) []laid {
	byShape := make([][]laid, len(s.shapes))
	for _, t := range takes {
		k := &s.kinds[t.kind]
		for range t.n {
			byShape[k.shape] = append(byShape[k.shape], laid{kind: t.kind, length: k.length})
		}
	}
	var line []laid
	lastPlain := -1
	for _, sh := range order {
		index := slices.IndexFunc(s.shapes, func(o shape) bool { return o == sh || s.turn && o == shape{sh[1], sh[0]} })
		piece := byShape[index][0]
		byShape[index] = byShape[index][1:]
		piece.shape = sh
		if s.isPlain(sh) {
			lastPlain = len(line)
		}
		line = append(line, piece)
	}
	if lastPlain < 0 {
		return line
	}
	plain := line[lastPlain].shape
	index := slices.Index(s.shapes, plain)
	for i := range byShape[index] {
		byShape[index][i].shape = plain
	}
	return slices.Insert(line, lastPlain+1, byShape[index]...)
}
