package field

import "trenchwright/base/measure"

// listener reads what the commonest kinds say while their text is at hand. What many records say lies side by side, a row of it made at
// a time: made one by one, it would be millions of things to keep track of.
type listener struct {
	scan       scan
	sets       row[SetSays]
	gaps       row[GapSays]
	levels     row[LevelSays]
	layers     row[LayerSays]
	covers     row[CoverSays]
	deliveries row[DeliverySays]
}

// row is what is made beforehand.
type row[T any] struct{ free []T }

// next is one more; where none is left, so many are made.
func (r *row[T]) next(more int) *T {
	if len(r.free) == 0 {
		r.free = make([]T, more)
	}
	next := &r.free[0]
	r.free = r.free[1:]
	return next
}

// inRow is how many are made at a time, at most.
const inRow = 50

// listen reads what a record says, one of so many.
func (l *listener) listen(e *entry, of int) {
	of = min(of, inRow)
	l.scan.many, l.scan.place = of, e.From
	switch e.Kind {
	case Set:
		hearAs(e, l.sets.next(of), &l.scan)
	case Gap:
		hearAs(e, l.gaps.next(of), &l.scan)
	case Level:
		hearAs(e, l.levels.next(of), &l.scan)
	case Layer:
		hearAs(e, l.layers.next(of), &l.scan)
	case Cover:
		hearAs(e, l.covers.next(of), &l.scan)
	case Delivery:
		hearAs(e, l.deliveries.next(of), &l.scan)
	}
}

// kept is a length that a record keeps.
func (s *scan) kept() *measure.Length {
	l := s.length()
	if s.many == 0 {
		return &l
	}
	at := s.lengths.next(s.many)
	*at = l
	return at
}

// name is a text that most records have in common with what is known already: their place, or a word that comes again and again.
func (s *scan) name() string {
	word := s.word()
	switch string(word) {
	case s.place:
		return s.place
	case "both":
		return "both"
	case "left":
		return "left"
	case "right":
		return "right"
	case "laid":
		return "laid"
	case "lifted":
		return "lifted"
	case "wall":
		return "wall"
	case "pad":
		return "pad"
	case "unit":
		return "unit"
	case "cover":
		return "cover"
	}
	return string(word)
}
