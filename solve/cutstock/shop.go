package cutstock

import (
	"cmp"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
)

// shop is one class of a Problem, made ready for the solvers: pieces that are the same to the saw are one kind.
type shop struct {
	problem    Problem // for what is said
	saw        saw
	turn       bool
	factoryEnd bool
	keep       measure.Length
	ends       []End // every different end of a piece; a face is an index into it
	shapes     []shape
	kinds      []kind
	bySize     []int // kinds by rising size
	units      []unit
	asGiven    []shape // by index into Problem.Pieces: start face, end face
	wants      []int   // by index into Problem.Pieces
	allPieces  int
	allStocks  int
	filler     filler // reused, so that a search does not start with new memory
	step       int64  // every cost is a multiple of it
	total      int    // pieces

	between [][]measure.Length // by facing faces: saw.between; never where one of them is to stay cast
	spare   [][]measure.Length // by facing faces: saw.spare
}

type face int

// shape is the two faces of a piece, start and end. Where units may be turned, the lesser face comes first.
type shape [2]face

// kind is all pieces that are the same to the saw.
type kind struct {
	length  measure.Length
	shape   int // index into shop.shapes
	want    int
	pieces  []int          // indices into Problem.Pieces
	plain   bool           // square and free at both ends
	size    measure.Length // never more than what it takes of a unit's reach, its share of the cuts included
	shorter measure.Length // its shortest side
}

// unit is one kind of stock.
type unit struct {
	stock int // index into Problem.Stocks
	Stock
	count int            // copies, at most the number of pieces; below 0: no limit
	reach measure.Length // the sizes on one unit never sum to more
	joins *joins         // of all units with such ends
	table *pairTable     // where pieces keep a cast end
}

// classes parts a Problem by class, in the order of the names.
func classes(p Problem) []string {
	var names []string
	for _, piece := range p.Pieces {
		if piece.Count > 0 {
			names = append(names, piece.Class)
		}
	}
	sorting.Ascending(names)
	return slices.Compact(names)
}

func newShop(p Problem, class string) *shop {
	s := &shop{
		problem: p,
		saw:     saw{width: p.Width, kerf: p.Kerf, slice: p.LeastSlice},
		turn:    p.MayTurn, factoryEnd: p.FactoryEnd, keep: p.KeepFrom,
		allPieces: len(p.Pieces), allStocks: len(p.Stocks),
		asGiven: make([]shape, len(p.Pieces)), wants: make([]int, len(p.Pieces)),
	}
	for i, piece := range p.Pieces {
		if piece.Class == class && piece.Count > 0 {
			s.addPiece(i, piece)
		}
	}
	// Longest first; what is left equal keeps the order of the list.
	sorting.By(s.kinds, func(a, b kind) int {
		return cmp.Or(cmp.Compare(b.length, a.length), cmp.Compare(a.shape, b.shape))
	})
	for i := range s.kinds {
		s.bySize = append(s.bySize, i)
	}
	sorting.By(s.bySize, func(a, b int) int { return cmp.Compare(s.kinds[a].size, s.kinds[b].size) })
	s.tabulate()
	for i, stock := range p.Stocks {
		if stock.Class == class && stock.Count != 0 {
			s.addStock(i, stock)
		}
	}
	for _, u := range s.units {
		s.step = gcd(s.step, u.Price)
	}
	s.step = max(s.step, 1)
	return s
}

// tabulate works out the distances between faces.
func (s *shop) tabulate() {
	for _, f := range s.ends {
		between, spare := make([]measure.Length, len(s.ends)), make([]measure.Length, len(s.ends))
		for i, t := range s.ends {
			between[i], spare[i] = s.saw.between(f.Skew, t.Skew), s.saw.spare(f.Skew, t.Skew)
			if f.Cast != "" || t.Cast != "" {
				between[i] = never
			}
		}
		s.between, s.spare = append(s.between, between), append(s.spare, spare)
	}
}

// parted tells whether what is left between two facing faces is nothing, or enough for the saw.
func (s *shop) parted(room measure.Length, f, g face) bool {
	left := room - s.between[f][g]
	return left == 0 || left > 0 && left >= s.spare[f][g]
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

func (s *shop) face(e End) face {
	i := slices.Index(s.ends, e)
	if i < 0 {
		i = len(s.ends)
		s.ends = append(s.ends, e)
	}
	return face(i)
}

func (s *shop) addPiece(i int, p Piece) {
	sh := shape{s.face(p.Start), s.face(p.End)}
	s.asGiven[i], s.wants[i] = sh, p.Count
	if s.turn && sh[0] > sh[1] {
		sh[0], sh[1] = sh[1], sh[0]
	}
	index := slices.Index(s.shapes, sh)
	if index < 0 {
		index = len(s.shapes)
		s.shapes = append(s.shapes, sh)
	}
	s.total += p.Count
	for j := range s.kinds {
		if k := &s.kinds[j]; k.length == p.Length && k.shape == index {
			k.want += p.Count
			k.pieces = append(k.pieces, i)
			return
		}
	}
	cuts := along(s.saw.kerf, p.Start.Skew) + along(s.saw.kerf, p.End.Skew)
	s.kinds = append(s.kinds, kind{
		length: p.Length, shape: index, want: p.Count, pieces: []int{i},
		plain: p.Start == End{} && p.End == End{}, size: p.Length + cuts/2,
		shorter: p.Length - s.saw.wedge(p.Start.Skew, p.End.Skew),
	})
}

// copiesOf are the pieces of a kind to hand out.
func (s *shop) copiesOf(i int) copies {
	c := copies{pieces: s.kinds[i].pieces}
	for _, piece := range c.pieces {
		c.left = append(c.left, s.wants[piece])
	}
	return c
}

func (s *shop) addStock(i int, stock Stock) {
	u := unit{stock: i, Stock: stock, count: stock.Count}
	if u.count > s.total {
		u.count = s.total
	}
	u.reach = stock.Length + s.refund(stock.A) + s.refund(stock.B)
	if same := slices.IndexFunc(s.units, func(v unit) bool { return v.A == u.A && v.B == u.B }); same >= 0 {
		u.joins = s.units[same].joins
	} else {
		u.joins = s.newJoins(u.A, u.B)
	}
	if s.factoryEnd {
		u.table = s.newPairTable(&u)
	}
	s.units = append(s.units, u)
}

// refund is what a piece's size says too much where the piece lies at an end of the stock: half a cut, less the wedge
// that is lost there.
func (s *shop) refund(stock End) measure.Length {
	most := measure.Length(0)
	for _, e := range s.ends {
		most = max(most, (along(s.saw.kerf, e.Skew)+1)/2-s.saw.atEnd(stock.Skew, e.Skew))
	}
	return most
}

// turned are the ways round in which a shape may be cut: left face, right face.
func (s *shop) turned(sh shape) []shape {
	if !s.turn || sh[0] == sh[1] {
		return []shape{sh}
	}
	return []shape{sh, {sh[1], sh[0]}}
}

// take is a number of pieces of one kind.
type take struct{ kind, n int }

// way is what is cut from one unit, kinds in rising order.
type way struct {
	unit  int
	takes []take
}

func (w way) count(kind int) int {
	for _, t := range w.takes {
		if t.kind == kind {
			return t.n
		}
	}
	return 0
}
