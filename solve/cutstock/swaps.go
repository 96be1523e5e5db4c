package cutstock

import "slices"

// Swaps speed up the first solution of a master: columns that say that where a longer plain piece is cut a shorter one
// or two can be cut instead. They keep the prices in the order of the sizes, and the ways come sooner. The least slice
// may make a swap untrue, so they are taken away again and the programme is solved without them.

// solveFirst solves a new master.
func (m *master) solveFirst() {
	m.priceBy(m.volumePrices())
	m.addSwaps()
	m.solve(above)
	m.swapsOver = true
	for j := m.swapsFrom; j < m.swapsTo; j++ {
		m.lp.cols[j].barred = true
	}
	if m.lp.dual() {
		m.solve(above)
	}
}

// volumePrices are what every piece costs by its size on the unit that is cheapest for its length: a bound at once.
func (m *master) volumePrices() []float64 {
	prices := make([]float64, m.lp.rows)
	for i, u := range m.units {
		for k := range m.kinds {
			if price := float64(m.costs[i]) * float64(m.kinds[k].size) / float64(u.reach); i == 0 || price < prices[k] {
				prices[k] = price
			}
		}
	}
	return prices
}

func (m *master) addSwaps() {
	m.swapsFrom = len(m.ways)
	var plain []int // by rising size
	for _, i := range m.bySize {
		if m.kinds[i].plain {
			plain = append(plain, i)
		}
	}
	largest := func(room int64) int { // of plain, up to a size; −1: none
		n, _ := slices.BinarySearchFunc(plain, room+1, func(i int, size int64) int {
			return int(min(max(int64(m.kinds[i].size)-size, -1), 1))
		})
		return n - 1
	}
	for at, i := range plain {
		if at > 0 {
			m.addSwap(i, plain[at-1])
		}
		size := int64(m.kinds[i].size)
		for _, first := range []int{largest(size / 2), largest(size - int64(m.kinds[plain[0]].size)), largest(size * 2 / 3)} {
			if first < 0 {
				continue
			}
			if second := largest(size - int64(m.kinds[plain[first]].size)); second >= 0 {
				m.addSwap(i, plain[first], plain[second])
			}
		}
	}
	m.swapsTo = len(m.ways)
}

// addSwap adds a column that takes one piece of a kind off and puts others on.
func (m *master) addSwap(off int, on ...int) {
	c := column{rows: []int32{int32(off)}, vals: []float64{-1}}
	for _, i := range on {
		if at := slices.Index(c.rows, int32(i)); at > 0 {
			c.vals[at]++
			continue
		}
		c.rows, c.vals = append(c.rows, int32(i)), append(c.vals, 1)
	}
	m.lp.add(c)
	m.ways = append(m.ways, way{})
}
