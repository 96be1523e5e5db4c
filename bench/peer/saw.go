package peer

import (
	"fmt"
	"math"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/solve/cutstock"
)

// Sawing is the cutting of a problem as a choice among all ways of sawing one unit: how often to take each, so that every
// piece is had and nothing costs less. It gives up where there are more ways than most.
//
// The ways are found by trying: pieces are added to a unit as long as some order of them, each of them either way round
// where that is allowed, keeps the rule of the saw. Stock with no-cut zones and pieces that ask for a tongue or a groove
// are refused.
func Sawing(p cutstock.Problem, most int) (*Model, error) {
	e := enumeration{problem: p, most: most, layouts: map[string][]layout{}}
	for i, piece := range p.Pieces {
		if piece.Start.Cast != "" || piece.End.Cast != "" || piece.Class != "" {
			return nil, fmt.Errorf("piece %d asks for a cast end or a class", i)
		}
		k := kind{piece.Length, shape{piece.Start.Skew, piece.End.Skew}, piece.Count}
		if at := slices.IndexFunc(e.kinds, func(o kind) bool { return o.length == k.length && o.shape == k.shape }); at >= 0 {
			e.kinds[at].count += k.count
		} else if k.count > 0 {
			e.kinds = append(e.kinds, k)
		}
	}
	slices.SortStableFunc(e.kinds, func(a, b kind) int { return int(b.length - a.length) })
	for _, k := range e.kinds {
		e.model.Row(AtLeast, int64(k.count))
	}
	for i, s := range p.Stocks {
		if len(s.NoCut) > 0 || s.Class != "" {
			return nil, fmt.Errorf("stock %d has a no-cut zone or a class", i)
		}
		e.stock, e.limit = s, -1
		if s.Count >= 0 {
			e.limit = e.model.Row(AtMost, int64(s.Count))
		}
		if !e.extend(0, 0) {
			return nil, fmt.Errorf("more than %d ways of sawing a unit", most)
		}
	}
	return &e.model, nil
}

// shape is the skew of a piece's start and of its end.
type shape [2]measure.Angle

type kind struct {
	length measure.Length
	shape  shape
	count  int
}

// layout is an order of pieces as far as the saw cares: what it takes of the unit beside the pieces, and the least that
// can be taken off somewhere if it does not take the unit up.
type layout struct{ takes, slice measure.Length }

type enumeration struct {
	problem cutstock.Problem
	most    int
	model   Model
	kinds   []kind
	stock   cutstock.Stock
	limit   int   // row of the stock's number, −1: as many as are asked for
	laid    []int // kinds, in rising order
	layouts map[string][]layout
}

// extend adds a piece of kind from or later and writes down each way that can be sawn; false where they are too many.
func (e *enumeration) extend(from int, length measure.Length) bool {
	for k := from; k < len(e.kinds); k++ {
		next := length + e.kinds[k].length
		if next > e.stock.Length || e.times(k) == e.kinds[k].count || e.problem.FactoryEnd && len(e.laid) == 2 {
			continue
		}
		e.laid = append(e.laid, k)
		if e.sawn(e.stock.Length - next) {
			e.way()
		}
		ok := len(e.model.cost) <= e.most && e.extend(k, next)
		e.laid = e.laid[:len(e.laid)-1]
		if !ok {
			return false
		}
	}
	return true
}

func (e *enumeration) way() {
	x := e.model.Column(e.stock.Price)
	for i, k := range e.laid {
		if i > 0 && e.laid[i-1] == k {
			continue
		}
		e.model.Term(k, x, int64(e.times(k)))
	}
	if e.limit >= 0 {
		e.model.Term(e.limit, x, 1)
	}
}

// times is how often a kind is laid.
func (e *enumeration) times(k int) int {
	n := 0
	for _, o := range e.laid {
		if o == k {
			n++
		}
	}
	return n
}

// sawn tells whether the pieces that are laid can be sawn from the unit, of which so much is left beside them.
func (e *enumeration) sawn(left measure.Length) bool {
	var shapes []shape
	for _, k := range e.laid {
		shapes = append(shapes, e.kinds[k].shape)
	}
	slices.SortFunc(shapes, func(a, b shape) int { return slices.Compare(a[:], b[:]) })
	key := fmt.Sprint(e.stock.A, e.stock.B, shapes)
	all, known := e.layouts[key]
	if !known {
		all = e.orders(shapes, nil, nil)
		slices.SortFunc(all, func(a, b layout) int {
			return slices.Compare([]measure.Length{a.takes, a.slice}, []measure.Length{b.takes, b.slice})
		})
		all = slices.Compact(all)
		e.layouts[key] = all
	}
	return slices.ContainsFunc(all, func(l layout) bool { return left == l.takes || left >= l.takes+l.slice })
}

// orders adds every order of the shapes that are left, either way round, behind those that are in order.
func (e *enumeration) orders(left, in []shape, out []layout) []layout {
	if len(left) == 0 {
		if e.problem.FactoryEnd {
			return append(out, e.betweenCastEnds(in)...)
		}
		return append(out, e.anywhere(in))
	}
	for i, s := range left {
		if i > 0 && left[i-1] == s {
			continue
		}
		rest := slices.Delete(slices.Clone(left), i, i+1)
		out = e.orders(rest, append(slices.Clone(in), s), out)
		if e.problem.MayTurn && s[0] != s[1] {
			out = e.orders(rest, append(slices.Clone(in), shape{s[1], s[0]}), out)
		}
	}
	return out
}

// anywhere is an order of pieces none of which need keep a cast end.
func (e *enumeration) anywhere(in []shape) layout {
	w := e.problem.Width
	first, last := in[0][0], in[len(in)-1][1]
	l := layout{takes: wedge(w, e.stock.A.Skew, first) + wedge(w, last, e.stock.B.Skew)}
	l.slice = min(e.slice(e.stock.A.Skew, first), e.slice(last, e.stock.B.Skew))
	for i := range in[1:] {
		a, b := in[i][1], in[i+1][0]
		l.takes += e.parting(a, b)
		l.slice = min(l.slice, e.slice(a, b))
	}
	return l
}

// betweenCastEnds is one piece that keeps one cast end, or two that keep one each.
func (e *enumeration) betweenCastEnds(in []shape) []layout {
	a := e.stock.A.Cast != "" && in[0][0] == e.stock.A.Skew
	b := e.stock.B.Cast != "" && in[len(in)-1][1] == e.stock.B.Skew
	switch {
	case len(in) == 2 && a && b:
		return []layout{{e.parting(in[0][1], in[1][0]), e.slice(in[0][1], in[1][0])}}
	case len(in) == 1:
		var out []layout
		if a {
			out = append(out, layout{wedge(e.problem.Width, in[0][1], e.stock.B.Skew), e.slice(in[0][1], e.stock.B.Skew)})
		}
		if b {
			out = append(out, layout{wedge(e.problem.Width, e.stock.A.Skew, in[0][0]), e.slice(e.stock.A.Skew, in[0][0])})
		}
		return out
	}
	return nil
}

// parting is what one cut takes between parallel faces, or two between others with the wedge that falls out.
func (e *enumeration) parting(a, b measure.Angle) measure.Length {
	if a == b {
		return square(e.problem.Kerf, a)
	}
	return square(e.problem.Kerf, a) + square(e.problem.Kerf, b) + wedge(e.problem.Width, a, b)
}

// slice is the least that can be taken off between two faces: nothing more where a wedge falls out anyhow.
func (e *enumeration) slice(a, b measure.Angle) measure.Length {
	if a == b {
		return square(e.problem.LeastSlice, a)
	}
	return 0
}

// square is a thickness square to a skew cut, measured along the unit.
func square(t measure.Length, skew measure.Angle) measure.Length {
	return measure.Length(math.Round(float64(t) / math.Cos(radians(skew))))
}

// wedge is what two cut lines of different skew lie apart on the axis where they meet at a side of the unit.
func wedge(width measure.Length, a, b measure.Angle) measure.Length {
	return measure.Length(math.Round(float64(width) / 2 * math.Abs(math.Tan(radians(a))-math.Tan(radians(b)))))
}

func radians(a measure.Angle) float64 { return float64(a) / float64(measure.Degree) * math.Pi / 180 }
