package layout

import (
	"slices"
	"sort"

	"trenchwright/base/sorting"
)

// limit bounds where a piece may end and where the next one may start.
type limit struct{ from, to, next nm }

// limited says under which limits a choice may be laid in a field, by range of advance.
func (v *verifier) limited(f *field, o choice, d [2]nm, yield func(d [2]nm, l limit)) {
	if !f.ready {
		v.fill(f)
	}
	l := limit{-1 << 61, 1 << 61, 1 << 61}
	wanted, touch := o.supply == 0, nm(1<<61)
	for _, z := range f.noCut {
		if o.cuts > 0 {
			l.to = min(l.to, z.From)
		}
	}
	for _, q := range f.demands {
		if q.Supply == o.supply {
			wanted, touch = true, min(touch, q.From)
		} else if f.low < q.To {
			l.to, l.next = min(l.to, q.From), min(l.next, q.From)
		}
	}
	for _, j := range f.joints {
		l.next = min(l.next, j.At+j.Tolerance)
	}
	if !wanted {
		return
	}
	if o.supply != 0 {
		l.from = touch
	}
	if m := f.stretch.MaxUnit; m > 0 && m < o.hi {
		if m < o.lo {
			return
		}
		o.hi = m
		d = f.stretch.advances(o.lo, o.hi)
	}
	if !slices.ContainsFunc(f.ahead, func(s Stretch) bool { return s.MaxUnit < o.hi }) {
		yield(d, l)
		return
	}
	var marks []nm
	for _, s := range f.ahead {
		if s.MaxUnit >= o.lo && s.MaxUnit < o.hi {
			marks = append(marks, s.MaxUnit)
		}
	}
	sorting.Ascending(marks)
	marks = append(slices.Compact(marks), o.hi)
	lo := o.lo
	for _, hi := range marks {
		part := l
		for _, s := range f.ahead {
			if lo > s.MaxUnit {
				part.to = min(part.to, s.From)
			}
		}
		yield(f.stretch.advances(lo, hi), part)
		lo = hi + 1
	}
}

// claim verifies that every start of a field between from and to claims at most a price. hint remembers where the last look
// at the certificate ended: looks come in descending order.
func (v *verifier) claim(f *field, from, to nm, price cost, hint *int) {
	from, to = max(from, f.lo), min(to, f.hi)
	if from > to {
		return
	}
	for i, x := v.find(f.part, to, hint), to; ; i++ {
		if i >= v.cert.size {
			v.missing(x, price)
			return
		}
		l := v.cert.at(i)
		if int(l.part) != f.part || l.lo > x || l.hi < x {
			v.missing(x, price)
			return
		}
		if l.cost > price {
			v.say("layout.check.too-dear", l.lo, "from %s the certificate claims %v at least, but a piece leads on for %v", inMM(x), l.cost.count(), price.count())
			return
		}
		if l.lo <= from {
			return
		}
		x = l.lo - 1
		i, x = v.leap(i, x, from, price)
	}
}

// stride is a run of levels that follow each other without a gap in one part: its dearest, and where it ends.
type stride struct {
	dearest cost
	lo      nm
	whole   bool
}

const strideOf = 64

// strides sums up runs of strideOf levels, and runs of as many of those.
func (v *verifier) strides() {
	n := v.cert.size / strideOf
	v.short = make([]stride, n)
	for k := range v.short {
		s := stride{whole: true}
		for i := k * strideOf; i < (k+1)*strideOf; i++ {
			l := v.cert.at(i)
			s.whole = s.whole && (i == k*strideOf || l.hi == s.lo-1 && l.part == v.cert.at(i-1).part)
			s.dearest, s.lo = max(s.dearest, l.cost), l.lo
		}
		v.short[k] = s
	}
	v.long = make([]stride, n/strideOf)
	for k := range v.long {
		s := stride{whole: true}
		for i := k * strideOf; i < (k+1)*strideOf; i++ {
			t, first := v.short[i], v.cert.at(i*strideOf)
			s.whole = s.whole && t.whole && (i == k*strideOf || first.hi == s.lo-1 && first.part == v.cert.at(i*strideOf-1).part)
			s.dearest, s.lo = max(s.dearest, t.dearest), t.lo
		}
		v.long[k] = s
	}
}

// leap passes over strides behind level i that hold nothing to look at: they go on from x without a gap, are cheap enough and
// do not reach down to from.
func (v *verifier) leap(i int, x, from nm, price cost) (int, nm) {
	for (i+1)%strideOf == 0 {
		k := (i + 1) / strideOf
		size := strideOf
		var s stride
		switch {
		case k%strideOf == 0 && k/strideOf < len(v.long) && v.long[k/strideOf].skips(from, price):
			s, size = v.long[k/strideOf], strideOf*strideOf
		case k < len(v.short) && v.short[k].skips(from, price):
			s = v.short[k]
		default:
			return i, x
		}
		if l := v.cert.at(i + 1); l.hi != x || l.part != v.cert.at(i).part {
			return i, x
		}
		i, x = i+size, s.lo-1
	}
	return i, x
}

func (s stride) skips(from nm, price cost) bool { return s.whole && s.dearest <= price && s.lo > from }

func (v *verifier) missing(x nm, price cost) {
	v.say("layout.check.not-dead", x, "from %s the certificate knows no way on, but a piece leads on for %v", inMM(x), price.count())
}

// find is the first level of a part that begins at or before x.
func (v *verifier) find(part int, x nm, hint *int) int {
	past := func(l level) bool { return int(l.part) < part || int(l.part) == part && l.lo <= x }
	i := 0
	if hint != nil {
		i = *hint
	}
	if i >= v.cert.size || past(v.cert.at(i)) && (i > 0 && past(v.cert.at(i-1))) || hint == nil {
		i = sort.Search(v.cert.size, func(i int) bool { return past(v.cert.at(i)) })
	}
	for i < v.cert.size && !past(v.cert.at(i)) {
		i++
	}
	if hint != nil {
		*hint = i
	}
	return i
}

// fromStart is the least that the certificate leaves open for the whole leg.
func (v *verifier) fromStart() cost {
	f := &field{part: -1, low: -1 << 60, stretch: v.on(0)}
	return v.forcedFirst(f, 0, 0)
}

// forcedFirst lays the given first units one after the other, over every place that they may take; then one free piece.
func (v *verifier) forcedFirst(f *field, done int, spent cost) cost {
	least := noCost
	var start, finish End
	if done == 0 {
		start = onlyMitre(v.p.Start)
	}
	finish = onlyMitre(v.p.End)
	given := nm(-1)
	if done < len(v.p.First) {
		given = v.p.First[done]
	}
	ways := func(all []choice, use func(choice)) {
		for _, o := range all {
			if given >= 0 {
				if given < o.lo || given > o.hi {
					continue
				}
				o.lo, o.hi = given, given
			}
			use(o)
		}
	}
	if done >= len(v.p.First)-1 {
		ways(v.choices(start, finish), func(o choice) {
			v.limited(f, o, f.stretch.advances(o.lo, o.hi), func(d [2]nm, l limit) {
				rest := [2]nm{v.p.Length - f.hi, v.p.Length - f.lo}
				if d[0] <= rest[1] && d[1] >= rest[0] && l.from <= v.p.Length && l.to >= v.p.Length && l.next >= v.p.Length {
					least = min(least, spent+o.price())
				}
			})
		})
	}
	ways(v.choices(start, End{}), func(o choice) {
		v.limited(f, o, f.stretch.advances(o.lo, o.hi), func(d [2]nm, l limit) {
			ends := [2]nm{max(f.lo+d[0], l.from), min(f.hi+d[1], l.to)}
			least = min(least, v.onward(o, ends, l.next, done, spent+o.price()))
		})
	})
	return least
}

// onward looks where a piece that ends in a range leads: to the next given unit, or to the levels of the certificate.
func (v *verifier) onward(o choice, ends [2]nm, next nm, done int, spent cost) cost {
	least := noCost
	if ends[0] > ends[1] {
		return least
	}
	for i := range v.fields {
		f := v.fields[i]
		if f.lo > ends[1]+v.reach {
			break
		}
		narrow, wide := v.opening(o.supply, f.stretch)
		from := max(f.lo, max(ends[0], f.low)+narrow)
		to := min(f.hi, ends[1]+wide, next, v.parts[f.part][1])
		if from > to || ends[1] < f.low {
			continue
		}
		if done+1 < len(v.p.First) {
			f.lo, f.hi, f.ready = from, to, false
			f.noCut, f.demands, f.joints, f.ahead, f.covers = nil, nil, nil, nil, nil
			least = min(least, v.forcedFirst(&f, done+1, spent))
			continue
		}
		for k := v.cert.size - 1; k >= 0 && v.cert.at(k).lo <= to; k-- {
			if l := v.cert.at(k); int(l.part) == f.part && l.hi >= from {
				least = min(least, spent+l.cost)
			}
		}
	}
	return least
}
