package cutstock

import "slices"

// cutting is ways with the times that each is used.
type cutting struct {
	ways  []way
	times []int
	cost  int64 // in steps
}

func (c *cutter) use(k *cutting, w way, times int) {
	k.cost += c.costs[w.unit] * int64(times)
	for i := range k.ways {
		if k.ways[i].key() == w.key() {
			k.times[i] += times
			return
		}
	}
	k.ways, k.times = append(k.ways, w), append(k.times, times)
}

func (k cutting) clone() cutting {
	return cutting{slices.Clone(k.ways), slices.Clone(k.times), k.cost}
}

// stock is what is wanted and what is there when nothing is cut yet.
func (c *cutter) stock() (want, have []int) {
	for i := range c.kinds {
		want = append(want, c.kinds[i].want)
	}
	for i := range c.units {
		have = append(have, c.units[i].count)
	}
	return want, have
}

// spare takes off a way what is not wanted.
func trim(w way, want []int) way {
	out := way{unit: w.unit}
	for _, t := range w.takes {
		if n := min(t.n, want[t.kind]); n > 0 {
			out.takes = append(out.takes, take{t.kind, n})
		}
	}
	return out
}

// timesOf is how often a way can be used in full.
func timesOf(w way, want, have []int) int {
	times := have[w.unit]
	if times < 0 {
		times = 1 << 30
	}
	for _, t := range w.takes {
		times = min(times, want[t.kind]/t.n)
	}
	return times
}

func subtract(w way, times int, want, have []int) {
	for _, t := range w.takes {
		want[t.kind] -= t.n * times
	}
	if have[w.unit] > 0 {
		have[w.unit] -= times
	}
}

// oneByOne fills unit after unit with what is worth most for its price, by given values. ok is false when pieces are
// left that nothing is there to be cut from. steps bounds the search of each unit.
func (c *cutter) oneByOne(value []int64, want, have []int, steps int64) (k cutting, ok bool) {
	want, have = slices.Clone(want), slices.Clone(have)
	r := c.rank(value)
	left := 0
	for _, n := range want {
		left += n
	}
	for left > 0 {
		w := c.worthMost(r, want, have, steps)
		if w.takes == nil {
			return k, false
		}
		times := timesOf(w, want, have)
		c.use(&k, w, times)
		subtract(w, times, want, have)
		for _, t := range w.takes {
			left -= times * t.n
		}
	}
	return k, left == 0
}

// worthMost is the way that is worth most for its price.
func (c *cutter) worthMost(r ranking, want, have []int, steps int64) way {
	var best way
	var bestValue, bestCost int64
	for i := range c.units {
		if have[i] == 0 {
			continue
		}
		var takes []take
		var worth int64
		spent, _ := c.fill(i, r, want, nil, 0, steps, func(v int64, t []take) { worth, takes = v, t })
		c.effort.spend(spent)
		if takes != nil && (best.takes == nil || mulCmp(bestCost, worth, c.costs[i], bestValue) > 0) {
			best, bestValue, bestCost = way{i, takes}, worth, c.costs[i]
		}
	}
	return best
}

// sizeValues values pieces by their size, the longer ones a little more: tilt in thousandths for a piece as long as the
// longest unit.
func (c *cutter) sizeValues(tilt int64) []int64 {
	longest := c.units[0].reach
	for i := range c.units {
		longest = max(longest, c.units[i].reach)
	}
	value := make([]int64, len(c.kinds))
	for i, k := range c.kinds {
		part := float64(k.size) / float64(longest)
		value[i] = int64(part*(1+float64(part*float64(tilt))/1000)*(1<<30)) + 1
	}
	return value
}
