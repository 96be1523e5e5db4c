package cutstock

import (
	"cmp"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
)

// worth looks for a way of cutting one unit that is worth more than most. It goes through what is taken of each sort of
// piece, and leaves out only what cannot be worth enough: by the value for its size of the best sort that is left, and,
// when only plain pieces are left, by the most that plain pieces of any sum of sizes are worth.
type worth struct {
	*bench
	stock  int
	rows   []row
	halves []halfSorts
	most   int64
	bonus  int64 // the most that rows can add
	sorts  []sortWorth
	mitred int // how many of them are not plain; these come first
	front  []frontier
	taken  []int // by sort of the bench
	pieces []int // sorts of what is taken, plain ones beyond the second left out
	beyond int   // plain ones beyond the second
	length measure.Length
	space  measure.Length // what is left for sizes, at most
	value  int64
}

type sortWorth struct {
	sort    int
	size    measure.Length // with its share of the cuts, never too much
	value   int64
	density float64 // of the best from here on
}

// frontier is a sum of sizes of plain pieces that is worth more than any smaller one.
type frontier struct {
	size  measure.Length
	value int64
}

// worthMore tells whether there is a way of cutting the stock that is worth more than most.
func (b *bench) worthMore(stock int, values []int64, rows []row, halves []halfSorts, most int64) bool {
	w := &worth{bench: b, stock: stock, halves: halves, most: most, taken: make([]int, len(b.pieces))}
	for _, r := range rows {
		if r.split.Stock < 0 || r.split.Stock == stock {
			w.rows = append(w.rows, r)
			w.bonus += max(r.value, 0)
		}
	}
	if b.problem.FactoryEnd {
		return w.pairWorthMore(values)
	}
	w.load(values)
	w.space = b.problem.Stocks[stock].Length + w.refund()
	if len(w.rows) == 0 {
		w.loadFront()
	}
	return len(w.sorts) > 0 && w.from(0)
}

// pairWorthMore is worthMore where every piece keeps a cast end.
func (w *worth) pairWorthMore(values []int64) bool {
	for s, i := range w.bench.pieces {
		w.taken[s]++
		if w.total(values[s]) > w.most && w.oneFits(w.stock, i) {
			return true
		}
		for t, j := range w.bench.pieces[:s+1] {
			w.taken[t]++
			if w.taken[t] <= w.wants[t] && w.total(values[s]+values[t]) > w.most && w.twoFit(w.stock, i, j) {
				return true
			}
			w.taken[t]--
		}
		w.taken[s]--
	}
	return false
}

// total adds to a value what the splits add for what is taken, and takes off what halves do.
func (w *worth) total(value int64) int64 {
	for _, r := range w.rows {
		if w.counts(r.split, w.stock, w.taken) {
			value += r.value
		}
	}
	for _, h := range w.halves {
		n := 0
		for sort, taken := range w.taken {
			if h.in[sort] {
				n += taken
			}
		}
		value -= h.value * int64(n/2)
	}
	return value
}

func (w *worth) isPlain(sort int) bool {
	p := w.problem.Pieces[w.bench.pieces[sort]]
	return p.Start == End{} && p.End == End{}
}

func (w *worth) load(values []int64) {
	p := w.problem
	for sort, i := range w.bench.pieces {
		piece := p.Pieces[i]
		if values[sort] == 0 && len(w.rows) == 0 || piece.Length > p.Stocks[w.stock].Length {
			continue
		}
		size := piece.Length + (onAxis(p.Kerf, piece.Start.Skew)+onAxis(p.Kerf, piece.End.Skew))/2
		w.sorts = append(w.sorts, sortWorth{sort, size, values[sort], float64(values[sort]) / float64(size)})
		if !w.isPlain(sort) {
			w.mitred++
		}
	}
	rank := func(s sortWorth) int {
		if w.isPlain(s.sort) {
			return 1
		}
		return 0
	}
	sorting.By(w.sorts, func(a, b sortWorth) int {
		return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(b.density, a.density))
	})
	for i := len(w.sorts) - 2; i >= 0; i-- {
		w.sorts[i].density = max(w.sorts[i].density, w.sorts[i+1].density)
	}
}

// loadFront works out the frontier of plain pieces.
func (w *worth) loadFront() {
	room := w.problem.Stocks[w.stock].Length + w.problem.Kerf
	w.front = []frontier{{}}
	for _, s := range w.sorts[w.mitred:] {
		for range min(w.wants[s.sort], int(room/s.size)) {
			w.front = mergeFront(w.front, s, room)
		}
	}
}

// mergeFront is the frontier with one more piece of a sort.
func mergeFront(front []frontier, s sortWorth, room measure.Length) []frontier {
	out := make([]frontier, 0, len(front)+16)
	i, j := 0, 0
	best := int64(-1)
	for i < len(front) || j < len(front) && front[j].size+s.size <= room {
		var next frontier
		if j >= len(front) || i < len(front) && front[i].size <= front[j].size+s.size {
			next = front[i]
			i++
		} else {
			next = frontier{front[j].size + s.size, front[j].value + s.value}
			j++
		}
		if next.value > best {
			if n := len(out); n > 0 && out[n-1].size == next.size {
				out[n-1] = next
			} else {
				out = append(out, next)
			}
			best = next.value
		}
	}
	return out
}

// frontAt is the most that plain pieces of a sum of sizes up to room are worth.
func (w *worth) frontAt(room measure.Length) int64 {
	i, _ := slices.BinarySearchFunc(w.front, room+1, func(f frontier, size measure.Length) int { return cmp.Compare(f.size, size) })
	if i == 0 {
		return 0
	}
	return w.front[i-1].value
}

// from goes on with the sorts from i on.
func (w *worth) from(i int) bool {
	if i >= w.mitred && len(w.rows) == 0 && w.plainHopeless() {
		return false
	}
	for ; i < len(w.sorts); i++ {
		s := w.sorts[i]
		if w.hopeless(s.density) {
			return false
		}
		if i == w.mitred && len(w.rows) == 0 && w.plainHopeless() {
			return false
		}
		if w.takeOf(i) {
			return true
		}
	}
	return false
}

// takeOf takes one, two … of sort i and goes on with the next.
func (w *worth) takeOf(i int) (found bool) {
	s := w.sorts[i]
	pieces, beyond, length, space, value := w.pieces, w.beyond, w.length, w.space, w.value
	for n := 1; n <= w.wants[s.sort]; n++ {
		w.add(s)
		if !w.mayFit() {
			break
		}
		if w.value+w.bonus > w.most && w.total(w.value) > w.most && w.fits() || w.from(i+1) {
			found = true
			break
		}
	}
	w.pieces, w.beyond, w.length, w.space, w.value = pieces, beyond, length, space, value
	w.taken[s.sort] = 0
	return found
}

func (w *worth) add(s sortWorth) {
	w.taken[s.sort]++
	w.length += w.problem.Pieces[w.bench.pieces[s.sort]].Length
	w.value += s.value
	w.space -= s.size
	plain := 0
	for _, p := range w.pieces {
		if w.isPlain(p) {
			plain++
		}
	}
	if w.isPlain(s.sort) && plain >= 2 {
		w.beyond++
		return
	}
	w.pieces = append(slices.Clone(w.pieces), s.sort)
}

// room is what is left of the unit's length when the cuts take as little as they can.
func (w *worth) room(pieces []int) (measure.Length, bool) {
	p := w.problem
	least := measure.Length(-1)
	for _, o := range w.orders(w.stock, pieces) {
		if least < 0 || o.cuts < least {
			least = o.cuts
		}
	}
	return p.Stocks[w.stock].Length - w.length - measure.Length(w.beyond)*p.Kerf - least, least >= 0
}

// mayFit is false when what is taken, and anything with it, cannot lie on the unit. The few nanometres are for wedges
// that are rounded up.
func (w *worth) mayFit() bool {
	room, ok := w.room(w.pieces)
	return ok && room >= -measure.Length(len(w.pieces))
}

// hopeless tells whether nothing that is added, of a value for its size of at most density, makes what is taken worth
// enough.
func (w *worth) hopeless(density float64) bool {
	return float64(w.value+w.bonus)+float64(float64(w.space)*density)+1 < float64(w.most)
}

// refund is the share of cuts in the sizes that pieces at the ends of the unit do not take.
func (w *worth) refund() measure.Length {
	p := w.problem
	sum := measure.Length(0)
	for _, stock := range []End{p.Stocks[w.stock].A, p.Stocks[w.stock].B} {
		most := measure.Length(0)
		for _, i := range w.bench.pieces {
			for _, e := range []End{p.Pieces[i].Start, p.Pieces[i].End} {
				most = max(most, onAxis(p.Kerf, e.Skew)/2+1-apart(p.Width, stock.Skew, e.Skew))
			}
		}
		sum += most
	}
	return sum
}

// plainHopeless tells whether no plain pieces make what is taken worth enough.
func (w *worth) plainHopeless() bool {
	plain := slices.IndexFunc(w.bench.pieces, func(i int) bool {
		return w.problem.Pieces[i].Start == End{} && w.problem.Pieces[i].End == End{}
	})
	if plain < 0 || slices.ContainsFunc(w.pieces, w.isPlain) {
		return plain < 0
	}
	room, ok := w.room(append(slices.Clone(w.pieces), plain))
	return !ok || w.value+w.frontAt(room+w.problem.Kerf) <= w.most
}

// fits tells whether what is taken can be cut from the unit.
func (w *worth) fits() bool {
	stock := w.problem.Stocks[w.stock]
	if len(stock.NoCut) > 0 {
		return w.fitsClear(w.stock, w.taken)
	}
	rest := stock.Length - w.length - measure.Length(w.beyond)*w.problem.Kerf
	for _, o := range w.orders(w.stock, w.pieces) {
		if left := rest - o.cuts; left == 0 || left > 0 && left >= o.slice {
			return true
		}
	}
	return false
}
