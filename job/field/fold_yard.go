package field

import (
	"cmp"
	"slices"

	"trenchwright/base/sorting"
)

// stack are the records of one kind of piece in the yard.
type stack struct {
	moved  []*Record // deliveries, damages, cuts
	counts []*Record
}

func (b *Book) stackOf(p Piece) *stack {
	s := b.yard[p]
	if s == nil {
		s = &stack{}
		b.yard[p] = s
	}
	return s
}

// toYard puts a record on the stacks of all pieces that it names.
func (b *Book) toYard(r *Record) {
	switch r.Kind {
	case Delivery:
		says, ok := heard[DeliverySays](*r)
		if !ok || len(says.Lines) == 0 {
			b.odd = append(b.odd, r)
		}
		for _, l := range says.Lines {
			b.moves(l.Piece, r)
		}
	case Count:
		says, ok := heard[CountSays](*r)
		if !ok || len(says.Lines) == 0 {
			b.odd = append(b.odd, r)
		}
		for _, l := range says.Lines {
			if s := b.stackOf(l.Piece); !slices.Contains(s.counts, r) {
				s.counts = append(s.counts, r)
			}
		}
	case Damage:
		if says, ok := heard[DamageSays](*r); ok && says.Supply != "" {
			b.moves(says.Piece, r)
		} else {
			b.odd = append(b.odd, r)
		}
	case Cut:
		if says, ok := heard[CutSays](*r); ok {
			b.moves(says.From, r)
		}
	}
}

func (b *Book) moves(p Piece, r *Record) {
	if s := b.stackOf(p); !slices.Contains(s.moved, r) {
		s.moved = append(s.moved, r)
	}
}

// move is what one record does to a stack.
type move struct {
	r                   *Record
	came, used, damaged int
}

// stocks are what lies in the yard: what came, less what cannot be used, what was cut and what was set. Where somebody counted, from
// there on.
func (b *Book) stocks(legs []LegState) []Stock {
	moves := map[Piece][]move{}
	for p, s := range b.yard {
		moves[p] = b.movesOf(p, s)
	}
	b.laidFrom(legs, moves)
	var list []Stock
	for p, of := range moves {
		s := Stock{Piece: p}
		for _, m := range of {
			s.Came += m.came
			s.Used += m.used
			s.Damaged += m.damaged
		}
		s.Have = s.Came - s.Used - s.Damaged
		if y := b.yard[p]; y != nil {
			b.counted(&s, last(b.standing(y.counts)), of)
		}
		list = append(list, s)
	}
	sorting.By(list, func(x, y Stock) int { return inYard(x.Piece, y.Piece) })
	return list
}

func (b *Book) movesOf(p Piece, s *stack) []move {
	var list []move
	for _, r := range b.standing(s.moved) {
		m := move{r: r}
		switch r.Kind {
		case Delivery:
			says, _ := heard[DeliverySays](*r)
			for _, l := range says.Lines {
				if l.Piece == p {
					m.came += l.Came
					m.damaged += l.Damaged
				}
			}
		case Damage:
			if says, _ := heard[DamageSays](*r); !says.Usable {
				m.damaged += max(1, says.Count)
			}
		case Cut:
			m.used++ // what it was cut from; the piece itself has a mark, and is where it goes
		}
		list = append(list, m)
	}
	return list
}

// laidFrom takes what is set and laid out of the yard. A piece that was cut on site is not in the yard under its own mark: the cut
// took its stock.
func (b *Book) laidFrom(legs []LegState, moves map[Piece][]move) {
	use := func(p Piece, f Fact) {
		if p == (Piece{}) || f.Is != Yes {
			return
		}
		moves[p] = append(moves[p], move{r: b.records[f.By[0]], used: 1})
	}
	for l, leg := range legs {
		for u, s := range leg.Units {
			unit := &b.run.Legs[l].Units[u]
			if len(b.standing(b.places[l][u].cut)) == 0 {
				use(unit.Piece, s.Set)
			}
			for c, lid := range unit.Lids {
				use(lid, s.Covers[c].Laid)
			}
		}
	}
}

// counted starts from what people counted: nothing that they knew of moves it. Several counts that did not know of each other and come
// to different numbers leave the smallest, and a finding says so.
func (b *Book) counted(s *Stock, counts []*Record, of []move) {
	for i, r := range counts {
		says, _ := heard[CountSays](*r)
		have := 0
		for _, l := range says.Lines {
			if l.Piece == s.Piece {
				have += l.Count
			}
		}
		for _, m := range of {
			if m.r.Number > says.Seen[m.r.Device] {
				have += m.came - m.used - m.damaged
			}
		}
		if i == 0 || have < s.Have {
			s.Have = have
		}
		s.By = append(s.By, r.ID)
	}
}

func inYard(a, b Piece) int {
	return cmp.Or(cmp.Compare(a.Supply, b.Supply), cmp.Compare(a.What, b.What), cmp.Compare(a.Length, b.Length), cmp.Compare(a.Mark, b.Mark))
}
