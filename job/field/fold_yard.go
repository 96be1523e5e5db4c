package field

import (
	"cmp"
	"slices"
)

// yard is what lies there, piece by piece.
type yard struct {
	stacks map[Piece]*stack
	order  []*stack // by supply, what, length, mark
	sorted bool
	stale  int // stacks to be worked out again
}

// stack are the records of one kind of piece in the yard.
type stack struct {
	moved   []*entry // deliveries, damages, cuts
	counts  []*entry
	stale   bool
	uses    int     // of what lies in the ground
	stock   Stock   // as worked out; Have where nobody counted
	counted []tally // what it starts from, where somebody did
}

// tally is one count of a stack, and what moved since.
type tally struct {
	by   string
	seen map[string]int
	have int
}

// use is one thing of the run that comes out of the yard: by is the record by which it lies where it lies, nil while it does not.
type use struct {
	stack *stack // nil: of nothing
	by    *entry
}

// of is the stack of a piece; there is none of what has no name.
func (y *yard) of(p Piece) *stack {
	if p == (Piece{}) {
		return nil
	}
	s := y.stacks[p]
	if s == nil {
		s = &stack{stock: Stock{Piece: p}}
		y.stacks[p] = s
		y.order, y.sorted = append(y.order, s), false
		y.stir(s)
	}
	return s
}

func (y *yard) stir(s *stack) {
	if !s.stale {
		s.stale = true
		y.stale++
	}
}

// toYard files a record on the stacks of all pieces that it names.
func (b *Book) toYard(e *entry, do filing) {
	switch e.Kind {
	case Delivery:
		says, ok := hear[DeliverySays](e)
		if !ok || len(says.Lines) == 0 {
			b.toOdd(e, do)
		}
		for i, l := range says.Lines {
			if !slices.ContainsFunc(says.Lines[:i], func(d Delivered) bool { return d.Piece == l.Piece }) {
				b.moves(l.Piece, e, do)
			}
		}
	case Count:
		says, ok := hear[CountSays](e)
		if !ok || len(says.Lines) == 0 {
			b.toOdd(e, do)
		}
		for i, l := range says.Lines {
			if s := b.yard.of(l.Piece); s != nil && !slices.ContainsFunc(says.Lines[:i], func(c Counted) bool { return c.Piece == l.Piece }) {
				do(&s.counts, e)
				b.yard.stir(s)
			}
		}
	case Damage:
		if says, ok := hear[DamageSays](e); ok && says.Supply != "" {
			b.moves(says.Piece, e, do)
		} else {
			b.toOdd(e, do)
		}
	case Cut:
		if says, ok := hear[CutSays](e); ok {
			b.moves(says.From, e, do)
			if off := says.rest(); off != (Piece{}) {
				b.moves(off, e, do)
			}
		}
	}
}

func (b *Book) moves(p Piece, e *entry, do filing) {
	if s := b.yard.of(p); s != nil {
		do(&s.moved, e)
		b.yard.stir(s)
	}
}

// use has something lie by another record than before, or no more.
func (y *yard) use(u *use, by *entry) {
	if u.by == by {
		return
	}
	if u.stack != nil && !u.stack.stale {
		if u.by != nil {
			u.stack.moves(u.by, 0, -1, 0)
			u.stack.uses--
		}
		if by != nil {
			u.stack.moves(by, 0, 1, 0)
			u.stack.uses++
		}
	}
	u.by = by
}

// moves takes a record's move to a stack into what it comes to.
func (s *stack) moves(e *entry, came, used, damaged int) {
	s.stock.Came += came
	s.stock.Used += used
	s.stock.Damaged += damaged
	for i := range s.counted {
		if t := &s.counted[i]; e.Number > t.seen[e.Device] {
			t.have += came - used - damaged
		}
	}
}

// stocks are what lies in the yard: what came, less what cannot be used, what was cut and what was set. Where somebody counted, from
// there on. Every unit has to be worked out before.
func (b *Book) stocks() []Stock {
	y := &b.yard
	if y.stale > 0 {
		for _, s := range y.order {
			if s.stale {
				s.begin(b)
			}
		}
		for l := range b.legs {
			for i := range b.legs[l].piles {
				for _, u := range b.legs[l].piles[i].uses {
					if u.stack != nil && u.stack.stale && u.by != nil {
						u.stack.moves(u.by, 0, 1, 0)
						u.stack.uses++
					}
				}
			}
		}
		for _, s := range y.order {
			s.stale = false
		}
		y.stale = 0
	}
	if !y.sorted {
		slices.SortFunc(y.order, func(a, b *stack) int { return inYard(a.stock.Piece, b.stock.Piece) })
		y.sorted = true
	}
	var list []Stock
	for _, s := range y.order {
		if len(s.moved) > 0 || len(s.counts) > 0 || s.uses > 0 {
			list = append(list, s.told())
		}
	}
	return list
}

// begin works out what a stack comes to without what lies in the ground.
func (s *stack) begin(b *Book) {
	s.stock, s.uses, s.counted = Stock{Piece: s.stock.Piece}, 0, nil
	for _, e := range last(standing(s.counts)) {
		says, _ := hear[CountSays](e)
		t := tally{by: e.ID, seen: says.Seen}
		for _, l := range says.Lines {
			if l.Piece == s.stock.Piece {
				t.have += l.Count
				s.stock.Ends = l.Ends
			}
		}
		s.counted = append(s.counted, t)
	}
	for _, e := range standing(s.moved) {
		came, used, damaged := moved(e, s.stock.Piece)
		s.moves(b.origin(e), came, used, damaged)
	}
}

// moved is what one record does to the stack of a piece.
func moved(e *entry, p Piece) (came, used, damaged int) {
	switch e.Kind {
	case Delivery:
		says, _ := hear[DeliverySays](e)
		for _, l := range says.Lines {
			if l.Piece == p {
				came += l.Came
				damaged += l.Damaged
			}
		}
	case Damage:
		if says, _ := hear[DamageSays](e); !says.Usable {
			damaged = max(1, says.Count)
		}
	case Cut:
		if says, _ := hear[CutSays](e); says.rest() == p {
			return 1, 0, 0
		}
		used = 1 // what it was cut from; the piece itself has a mark, and is where it goes
	}
	return came, used, damaged
}

// told is what lies in a stack. Several counts that did not know of each other and come to different numbers leave the smallest.
func (s *stack) told() Stock {
	stock := s.stock
	stock.Have = stock.Came - stock.Used - stock.Damaged
	for i, t := range s.counted {
		if i == 0 || t.have < stock.Have {
			stock.Have = t.have
		}
		stock.By = append(stock.By, t.by)
	}
	return stock
}

func inYard(a, b Piece) int {
	return cmp.Or(cmp.Compare(a.Supply, b.Supply), cmp.Compare(a.What, b.What), cmp.Compare(a.Length, b.Length), cmp.Compare(a.Mark, b.Mark))
}
