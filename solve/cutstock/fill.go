package cutstock

import (
	"cmp"
	"slices"
	"sort"

	"trenchwright/base/measure"
)

// filler finds the way to cut one unit that is worth most, exactly: a search over what is taken of each kind, the
// dearest for its size first, cut off where even the best use of what is left could not be worth more than the best
// way found so far.
type filler struct {
	shop  *shop
	unit  *unit
	joins *joins
	items []item // mitred and cast pieces first, then plain ones; each by falling density
	firm  int    // number of the former
	rules []rule
	bonus int64 // the most that the rules can add

	sizes []measure.Length // of the plain items, rising
	peaks []int64          // the most that one plain item up to that size is worth

	best    int64
	found   func(value int64, takes []take)
	taken   []take
	set     setID // of the mitred and cast pieces that are taken
	one     setID // with one plain piece
	two     setID // with two
	sum     measure.Length
	steps   int64
	limit   int64
	stopped bool
}

// item is a kind that is worth something.
type item struct {
	kind    int
	shape   int
	length  measure.Length
	size    measure.Length
	value   int64
	most    int
	density float64 // value for size of the best item from here on
}

// rule adds to the value of a way that has at least so many of some kinds.
type rule struct {
	atLeast []take
	value   int64
}

func (r rule) counts(takes []take) bool {
	for _, need := range r.atLeast {
		if (way{takes: takes}).count(need.kind) < need.n {
			return false
		}
	}
	return true
}

// fill searches ways that are worth more than floor. Each that is worth more than all before it is given to found; done
// is false when limit steps did not finish the search.
func (s *shop) fill(u *unit, j *joins, value []int64, most []int, rules []rule, floor, limit int64, found func(int64, []take)) (steps int64, done bool) {
	f := filler{shop: s, unit: u, joins: j, rules: rules, best: floor, found: found, limit: limit}
	for _, r := range rules {
		f.bonus += max(r.value, 0)
	}
	if u.table != nil {
		f.pairs(value, most)
		return f.steps, true
	}
	f.load(value, most)
	f.choose(0, 0, u.reach)
	return f.steps, !f.stopped
}

// pairs is the search where a unit takes two pieces at most.
func (f *filler) pairs(value []int64, most []int) {
	offer := func(worth int64, takes []take) {
		for _, r := range f.rules {
			if r.counts(takes) {
				worth += r.value
			}
		}
		if worth > f.best {
			f.best = worth
			f.found(worth, takes)
		}
	}
	t := f.unit.table
	f.steps += int64(t.kinds * t.kinds / 2)
	for i, v := range value {
		if most[i] <= 0 {
			continue
		}
		if t.alone[i] && v+f.bonus > f.best {
			offer(v, []take{{i, 1}})
		}
		for j := i; j < t.kinds; j++ {
			if v+value[j]+f.bonus > f.best && t.two[i*t.kinds+j] && most[j] > 0 && (i != j || most[i] > 1) {
				offer(v+value[j], twoTakes(i, j))
			}
		}
	}
}

func (f *filler) load(value []int64, most []int) {
	for i := range f.shop.kinds {
		k := &f.shop.kinds[i]
		if value[i] <= 0 && len(f.rules) == 0 || most[i] <= 0 || k.length > f.unit.Length {
			continue
		}
		f.items = append(f.items, item{
			kind: i, shape: k.shape, length: k.length, size: k.size, value: value[i], most: most[i],
			density: float64(value[i]) / float64(k.size),
		})
		if !k.plain {
			f.firm++
		}
	}
	kinds := f.shop.kinds
	slices.SortStableFunc(f.items, func(a, b item) int {
		if pa, pb := kinds[a.kind].plain, kinds[b.kind].plain; pa != pb {
			if pb {
				return -1
			}
			return 1
		}
		return cmp.Compare(b.density, a.density)
	})
	f.loadPeaks()
	for i := len(f.items) - 2; i >= 0; i-- {
		f.items[i].density = max(f.items[i].density, f.items[i+1].density)
	}
}

// loadPeaks prepares peak.
func (f *filler) loadPeaks() {
	plain := slices.Clone(f.items[f.firm:])
	slices.SortStableFunc(plain, func(a, b item) int { return cmp.Compare(a.size, b.size) })
	peak := int64(0)
	for _, it := range plain {
		peak = max(peak, it.value)
		f.sizes, f.peaks = append(f.sizes, it.size), append(f.peaks, peak)
	}
}

// hopeless tells whether items from i on, of sizes up to room in sum, cannot lift value above the best.
func (f *filler) hopeless(i int, value int64, room measure.Length) bool {
	return float64(value)+float64(room)*f.items[i].density+0.5 < float64(f.best+1-f.bonus)
}

// choose takes mitred and cast pieces from item i on, and fills up with plain ones.
func (f *filler) choose(i int, value int64, room measure.Length) {
	if f.firm < len(f.items) && !f.hopeless(f.firm, value, room) {
		f.choosePlain(value)
	}
	for ; i < f.firm && !f.stopped; i++ {
		it := f.items[i]
		if f.hopeless(i, value, room) {
			return
		}
		set, sum := f.set, f.sum
		for n := 1; n <= it.most; n++ {
			f.set, f.sum = f.joins.with(f.set, it.shape), f.sum+it.length
			// One nanometre for every piece: rounded wedges may break the rule that less takes less.
			if f.sum+f.joins.least(f.set) > f.unit.Length+measure.Length(len(f.taken)+n) {
				break
			}
			f.taken = append(f.taken, take{it.kind, n})
			f.offer(value+int64(n)*it.value, f.set, 0, f.sum)
			f.choose(i+1, value+int64(n)*it.value, room-measure.Length(n)*it.size)
			f.taken = f.taken[:len(f.taken)-1]
		}
		f.set, f.sum = set, sum
	}
}

// choosePlain fills up with plain pieces what the taken ones leave.
func (f *filler) choosePlain(value int64) {
	f.one = f.joins.with(f.set, f.joins.plain)
	f.two = f.joins.with(f.one, f.joins.plain)
	least := f.joins.least(f.one)
	if least == never {
		return
	}
	f.plain(f.firm, 0, value, f.unit.Length-f.sum-least+f.shop.saw.kerf)
}

// plain takes plain pieces from item i on, n of them taken, room for the rest.
func (f *filler) plain(i, n int, value int64, room measure.Length) {
	if len(f.rules) == 0 && (room < f.sizes[0] || room < 2*f.sizes[0] && value+f.peak(room) <= f.best) {
		return
	}
	for ; i < len(f.items); i++ {
		f.steps++
		if f.steps > f.limit {
			f.stopped = true
		}
		it := &f.items[i]
		if f.stopped || f.hopeless(i, value, room) {
			return
		}
		if it.size > room {
			continue
		}
		for c := min(it.most, int(room/it.size)); c > 0; c-- {
			f.taken = append(f.taken, take{it.kind, c})
			sum := f.sum
			f.sum += measure.Length(c) * it.length
			if n+c == 1 {
				f.offer(value+it.value, f.one, 0, f.sum)
			} else {
				f.offer(value+int64(c)*it.value, f.two, n+c-2, f.sum)
			}
			f.plain(i+1, n+c, value+int64(c)*it.value, room-measure.Length(c)*it.size)
			f.sum = sum
			f.taken = f.taken[:len(f.taken)-1]
		}
	}
}

// peak is the most that one plain item is worth that fits into room.
func (f *filler) peak(room measure.Length) int64 {
	i := sort.Search(len(f.sizes), func(i int) bool { return f.sizes[i] > room })
	if i == 0 {
		return 0
	}
	return f.peaks[i-1]
}

// offer keeps what is taken if it is worth more than the best and the saw can cut it.
func (f *filler) offer(value int64, set setID, morePlain int, sum measure.Length) {
	f.steps++
	if f.steps > f.limit {
		f.stopped = true
	}
	if value+f.bonus <= f.best || f.stopped {
		return
	}
	if len(f.rules) > 0 {
		takes := byKind(f.taken)
		for _, r := range f.rules {
			if r.counts(takes) {
				value += r.value
			}
		}
		if value <= f.best {
			return
		}
	}
	if !f.joins.fits(set, morePlain, sum, f.unit.Length) {
		return
	}
	takes := byKind(f.taken)
	if len(f.unit.NoCut) > 0 && f.shop.arrange(f.unit, takes) == nil {
		return
	}
	f.best = value
	f.found(value, takes)
}

func byKind(takes []take) []take {
	out := slices.Clone(takes)
	slices.SortFunc(out, func(a, b take) int { return cmp.Compare(a.kind, b.kind) })
	return out
}
