package cutstock

import (
	"cmp"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
)

// thrift makes a cutting waste less at the same cost: each way goes to the unit on which it wastes least, and two units
// share out their pieces anew where that leaves one of them an offcut worth keeping. It proves nothing; it only takes
// what is better.
type thrift struct {
	*cutter
	ways  []way // one for each unit that is cut
	waste []measure.Length
	rank  ranking // of sizes
	most  []int   // scratch
}

// thriftPart is the part of what is left of the effort that thrift may spend.
const thriftPart = 4

func (c *cutter) thrifty(k cutting) cutting {
	if c.keep <= 0 && len(c.units) == 1 || c.effort.spent() {
		return k
	}
	t := thrift{cutter: c, rank: c.shop.rank(c.sizeValues(0)), most: make([]int, len(c.kinds))}
	for i, w := range k.ways {
		for range k.times[i] {
			t.ways, t.waste = append(t.ways, w), append(t.waste, t.wasteOf(w))
		}
	}
	t.moveAll()
	until := c.effort.left - c.effort.left/thriftPart
	for better := true; better && c.effort.left > until; {
		better = false
		for i := range t.ways {
			for j := range t.ways {
				better = i != j && t.shareOut(i, j) || better
			}
			if c.effort.left <= until {
				break
			}
		}
	}
	var out cutting
	for _, w := range t.ways {
		c.use(&out, w, 1)
	}
	return out
}

func (t *thrift) wasteOf(w way) measure.Length {
	u := &t.units[w.unit]
	_, waste := t.rests(u, t.layOut(u, w.takes))
	t.effort.spend(int64(len(w.takes)) * 8)
	return waste
}

// moveAll moves each way to the unit of the same price on which it wastes least, of those without limit.
func (t *thrift) moveAll() {
	for i, w := range t.ways {
		for u := range t.units {
			if t.units[u].count >= 0 || t.costs[u] != t.costs[w.unit] || u == w.unit || !t.canCut(&t.units[u], w.takes) {
				continue
			}
			if moved := (way{u, w.takes}); t.wasteOf(moved) < t.waste[i] {
				t.ways[i], t.waste[i] = moved, t.wasteOf(moved)
			}
		}
	}
}

// shareOut fills unit i as full as the pieces of i and j can make it, and leaves the rest to j. It keeps that if the two
// waste less.
func (t *thrift) shareOut(i, j int) bool {
	a, b := t.ways[i], t.ways[j]
	if t.waste[i]+t.waste[j] < t.keep || t.waste[i]+t.waste[j] == 0 {
		return false // the rests of both together are no offcut
	}
	for _, w := range []way{a, b} {
		for _, take := range w.takes {
			t.most[take.kind] += take.n
		}
	}
	defer func() {
		for _, w := range []way{a, b} {
			for _, take := range w.takes {
				t.most[take.kind] = 0
			}
		}
	}()
	full := way{unit: a.unit}
	steps, _ := t.fill(a.unit, t.among(a, b), t.most, nil, 0, 500, func(_ int64, takes []take) { full.takes = takes })
	t.effort.spend(steps)
	rest := way{unit: b.unit}
	for _, kind := range t.kindsOf(a, b) {
		if n := t.most[kind] - full.count(kind); n > 0 {
			rest.takes = append(rest.takes, take{kind, n})
		}
	}
	if full.takes == nil || rest.takes == nil || !t.canCut(&t.units[b.unit], rest.takes) {
		return false
	}
	wasteA, wasteB := t.wasteOf(full), t.wasteOf(rest)
	if wasteA+wasteB >= t.waste[i]+t.waste[j] {
		return false
	}
	t.ways[i], t.ways[j], t.waste[i], t.waste[j] = full, rest, wasteA, wasteB
	return true
}

// kindsOf is the kinds of two ways, rising.
func (t *thrift) kindsOf(a, b way) []int {
	var kinds []int
	for _, w := range []way{a, b} {
		for _, take := range w.takes {
			kinds = append(kinds, take.kind)
		}
	}
	sorting.Ascending(kinds)
	return slices.Compact(kinds)
}

// among is the ranking of the kinds of two ways.
func (t *thrift) among(a, b way) ranking {
	r := ranking{value: t.rank.value, bySize: t.kindsOf(a, b)}
	sorting.By(r.bySize, func(i, j int) int {
		return cmp.Or(cmp.Compare(t.kinds[i].size, t.kinds[j].size), cmp.Compare(i, j))
	})
	for _, i := range slices.Backward(r.bySize) {
		if t.kinds[i].plain {
			r.plain = append(r.plain, i)
		} else {
			r.firm = append(r.firm, i)
		}
	}
	return r
}
