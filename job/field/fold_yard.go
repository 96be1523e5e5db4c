package field

import (
	"cmp"
	"maps"
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
	anew    bool    // it starts from other counts than before
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
		if !ok || len(says.Lines)+len(says.Goods) == 0 {
			b.toOdd(e, do)
		}
		if len(says.Goods) > 0 {
			b.worked.goods.fresh = false
			into(b.others, Delivery, e, do)
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
			for _, made := range [2]Piece{says.rest(), b.cutPiece(e)} {
				if made != says.From {
					b.moves(made, e, do)
				}
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
				p := &b.legs[l].piles[i]
				for k := range p.uses {
					u := &p.uses[k]
					if u.stack == nil || !u.stack.stale {
						continue
					}
					if u.stack.anew {
						u.then = b.then(spot{l, i}, p, k, u)
					}
					u.stack.take(u, 1)
				}
			}
		}
		for _, s := range y.order {
			s.stale, s.anew = false, false
		}
		y.stale = 0
	}
	if !y.sorted {
		slices.SortFunc(y.order, func(a, b *stack) int { return inYard(a.stock.Piece, b.stock.Piece) })
		y.sorted = true
	}
	var list []Stock
	for _, s := range y.order {
		made := s.stock.Cut > 0 && s.stock.Came == s.stock.Cut && s.stock.Used == s.stock.Cut // on site, and all of it lies where it belongs
		if !made && (len(s.moved) > 0 || len(s.counts) > 0 || s.uses > 0) {
			list = append(list, s.told())
		}
	}
	return list
}

// begin works out what a stack comes to without what lies in the ground.
func (s *stack) begin(b *Book) {
	was := s.counted
	s.stock, s.uses, s.counted = Stock{Piece: s.stock.Piece}, 0, nil
	for _, e := range b.lastCounts(s.counts) {
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
	s.anew = s.anew || !slices.EqualFunc(was, s.counted, func(a, b tally) bool { return a.by == b.by && maps.Equal(a.seen, b.seen) })
	for _, e := range standing(s.moved) {
		came, used, damaged := b.moved(e, s.stock.Piece)
		if e.Kind == Cut {
			s.stock.Cut += came
		}
		s.moves(b.origin(e), came, used, damaged)
	}
}

// lastCounts are the counts that nobody who counted later knew of.
func (b *Book) lastCounts(counts []*entry) []*entry {
	open := last(standing(counts))
	saw := func(c, of *entry) bool {
		says, _ := hear[CountSays](c)
		of = b.origin(of)
		return of.Number <= says.Seen[of.Device]
	}
	var left []*entry
	for _, e := range open {
		if !slices.ContainsFunc(open, func(c *entry) bool { return c != e && saw(c, e) && !saw(e, c) }) {
			left = append(left, e)
		}
	}
	if len(left) == 0 {
		return open // each says that it knew of another: nobody can have
	}
	return left
}

// moved is what one record does to the stack of a piece.
func (b *Book) moved(e *entry, p Piece) (came, used, damaged int) {
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
		says, _ := hear[CutSays](e)
		for _, made := range [2]Piece{says.rest(), b.cutPiece(e)} {
			if made == p {
				came++
			}
		}
		if says.From == p {
			used++
		}
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
