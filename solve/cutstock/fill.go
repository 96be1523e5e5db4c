package cutstock

import (
	"cmp"
	"slices"
	"sort"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
)

// filler finds the way to cut one unit that is worth most, exactly: a search over what is taken of each kind, the
// dearest for its size first, cut off where even the best use of what is left could not be worth more than the best
// way found so far.
type filler struct {
	shop   *shop
	unit   *unit
	index  int // of the unit
	joins  *joins
	items  []item // mitred and cast pieces first, then plain ones; each by falling density
	firm   int    // number of the former
	all    peaks  // of all items
	plain  peaks  // of the plain ones
	shapes []shapeItems
	rules  []rule
	bonus  int64 // the most that the rules can add

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

// shapeItems is the mitred and cast items of a shape.
type shapeItems struct {
	items []int // rising
	last  int
	peaks peaks // by length
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

// ranking is values by kind, and the kinds by falling value for their size: mitred and cast ones, plain ones.
type ranking struct {
	value       []int64
	firm, plain []int
	bySize      []int // the same kinds by rising size
}

func (s *shop) rank(value []int64) ranking {
	r := ranking{value: value, bySize: s.bySize}
	density := make([]float64, len(value))
	for i := range s.kinds {
		density[i] = float64(value[i]) / float64(s.kinds[i].size)
		if s.kinds[i].plain {
			r.plain = append(r.plain, i)
		} else {
			r.firm = append(r.firm, i)
		}
	}
	for _, list := range [][]int{r.firm, r.plain} {
		sorting.By(list, func(a, b int) int { return cmp.Or(cmp.Compare(density[b], density[a]), cmp.Compare(a, b)) })
	}
	return r
}

// fill searches ways that are worth more than floor. Each that is worth more than all before it is given to found; done
// is false when limit steps did not finish the search.
func (s *shop) fill(index int, r ranking, most []int, rules []rule, floor, limit int64, found func(int64, []take)) (steps int64, done bool) {
	u := &s.units[index]
	f := &s.filler
	*f = filler{
		shop: s, unit: u, index: index, joins: u.joins, rules: rules, best: floor, found: found, limit: limit,
		items: f.items[:0], all: f.all.empty(), plain: f.plain.empty(), shapes: f.shapes, taken: f.taken[:0],
	}
	for _, rule := range rules {
		f.bonus += max(rule.value, 0)
	}
	if u.table != nil {
		f.pairs(r.value, most)
		return f.steps, true
	}
	f.load(r, most)
	f.choose(0, 0, u.reach)
	return f.steps + int64(len(r.bySize)), !f.stopped
}

// pairs is the search where a unit takes two pieces at most.
func (f *filler) pairs(value []int64, most []int) {
	offer := func(value int64, takes []take) {
		if value += ruleWorth(f.rules, f.index, takes); value > f.best {
			f.best = value
			f.found(value, takes)
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

func (f *filler) load(r ranking, most []int) {
	useful := func(i int) bool {
		return (r.value[i] > 0 || len(f.rules) > 0) && most[i] > 0 && f.shop.kinds[i].length <= f.unit.Length
	}
	add := func(list []int) {
		for _, i := range list {
			if !useful(i) {
				continue
			}
			k := &f.shop.kinds[i]
			f.items = append(f.items, item{
				kind: i, shape: k.shape, length: k.length, size: k.size, value: r.value[i], most: most[i],
				density: float64(r.value[i]) / float64(k.size),
			})
		}
	}
	add(r.firm)
	f.firm = len(f.items)
	for len(f.shapes) < len(f.shop.shapes) {
		f.shapes = append(f.shapes, shapeItems{})
	}
	for i := range f.shapes {
		list := &f.shapes[i]
		list.items, list.peaks = list.items[:0], list.peaks.empty()
	}
	for i, it := range f.items {
		list := &f.shapes[it.shape]
		list.items, list.last = append(list.items, i), i
	}
	add(r.plain)
	for i := len(f.items) - 2; i >= 0; i-- {
		f.items[i].density = max(f.items[i].density, f.items[i+1].density)
	}
	for _, i := range r.bySize {
		if useful(i) {
			f.all.add(f.shop.kinds[i].size, r.value[i])
			if k := &f.shop.kinds[i]; k.plain {
				f.plain.add(k.size, r.value[i])
			} else {
				f.shapes[k.shape].peaks.add(k.length, r.value[i])
			}
		}
	}
}

// peaks says how much one piece up to a size is worth at most.
type peaks struct {
	sizes []measure.Length // rising
	value []int64          // rising
}

func (p *peaks) empty() peaks { return peaks{p.sizes[:0], p.value[:0]} }

// add adds a piece that is not smaller than those before.
func (p *peaks) add(size measure.Length, value int64) {
	if n := len(p.value); n > 0 {
		value = max(value, p.value[n-1])
	}
	p.sizes, p.value = append(p.sizes, size), append(p.value, value)
}

func (p *peaks) at(size measure.Length) int64 {
	i := sort.Search(len(p.sizes), func(i int) bool { return p.sizes[i] > size })
	if i == 0 {
		return 0
	}
	return p.value[i-1]
}

// atMost tells whether pieces of a sum of sizes up to room are worth no more than enough, when that is seen at once
// because there are two of them at most: of two the lesser takes half of the room at most.
func (p *peaks) atMost(room measure.Length, enough int64) bool {
	least := p.sizes[0]
	switch {
	case room < least:
		return enough >= 0
	case room < 2*least:
		return p.at(room) <= enough
	case room < 3*least:
		return p.at(room) <= enough && p.at(room-least)+p.at(room/2) <= enough
	}
	return false
}

// hopeless tells whether items from i on, of sizes up to room in sum, cannot lift value above the best.
func (f *filler) hopeless(i int, value int64, room measure.Length) bool {
	return float64(value)+float64(float64(room)*f.items[i].density)+0.5 < float64(f.best+1-f.bonus)
}

// choose takes mitred and cast pieces from item i on, and fills up with plain ones.
func (f *filler) choose(i int, value int64, room measure.Length) {
	if len(f.items) == 0 || f.all.atMost(room, f.best-f.bonus-value) {
		return
	}
	if f.firm < len(f.items) && !f.hopeless(f.firm, value, room) {
		f.choosePlain(value)
	}
	if len(f.taken) > 0 && room < 2*f.all.sizes[0] {
		f.chooseLast(i, value)
		return
	}
	for ; i < f.firm && !f.stopped; i++ {
		f.steps++
		it := &f.items[i]
		if f.hopeless(i, value, room) {
			return
		}
		if enough := f.best - f.bonus - value - it.value; enough >= 0 && f.all.atMost(room-it.size, enough) {
			continue
		}
		set, sum := f.set, f.sum
		for n := 1; n <= it.most; n++ {
			f.set, f.sum = f.joins.with(f.set, it.shape), f.sum+it.length
			if f.sum+f.joins.least(f.set) > f.unit.Length+f.rounding(n) {
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

// rounding is one nanometre for every piece: wedges are rounded up, and may so break the rule that less takes less.
func (f *filler) rounding(n int) measure.Length { return measure.Length(len(f.taken) + n) }

// chooseLast takes one more mitred or cast piece from item i on, where there is no room for two: by shape, for the
// shape decides what the cuts take.
func (f *filler) chooseLast(i int, value int64) {
	for shape := range f.shapes {
		list := &f.shapes[shape]
		f.steps++
		if len(list.items) == 0 || list.last < i {
			continue
		}
		set := f.joins.with(f.set, shape)
		rest := f.unit.Length - f.sum - f.joins.least(set)
		if rest < 0 || value+list.peaks.at(rest+f.rounding(1)) <= f.best-f.bonus {
			continue
		}
		for _, k := range list.items {
			it := &f.items[k]
			f.steps++
			if k < i || it.length > rest || value+it.value <= f.best-f.bonus {
				continue
			}
			f.taken = append(f.taken, take{it.kind, 1})
			f.offer(value+it.value, set, 0, f.sum+it.length)
			f.taken = f.taken[:len(f.taken)-1]
		}
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
	f.fillPlain(f.firm, 0, value, f.unit.Length-f.sum-least+f.shop.saw.kerf)
}

// fillPlain takes plain pieces from item i on, n of them taken, room for the rest.
func (f *filler) fillPlain(i, n int, value int64, room measure.Length) {
	if f.plain.atMost(room, f.best-f.bonus-value) {
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
			f.fillPlain(i+1, n+c, value+int64(c)*it.value, room-measure.Length(c)*it.size)
			f.sum = sum
			f.taken = f.taken[:len(f.taken)-1]
		}
	}
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
		f.steps += int64(len(f.rules))
		if value += ruleWorth(f.rules, f.index, f.taken); value <= f.best {
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
	sorting.By(out, func(a, b take) int { return cmp.Compare(a.kind, b.kind) })
	return out
}
