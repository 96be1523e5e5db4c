package cutstock

// free cuts without a factory end to keep: column generation, diving from its solution, odd sets, diving again.
func (c *cutter) free() (best cutting, ok bool, low bound) {
	want, have := c.stock()
	for _, tilt := range []int64{0, 20, 100, 400} {
		if k, found := c.oneByOne(c.sizeValues(tilt), want, have, 2000); found && (!ok || k.cost < best.cost) {
			best, ok = k, true
		}
	}
	m := c.newMaster(want, have, nil, false)
	for _, w := range best.ways {
		m.add(w)
	}
	m.solveFirst()
	low = m.bound
	s := search{m: m, best: best, ok: ok}
	s.dives(&low, 4)
	for rounds := 0; rounds < 3 && !s.closed(low) && !c.effort.spent(); rounds++ {
		rows := len(m.extras)
		m.tighten(s.enough())
		if m.bound.greater(low) {
			low = m.bound
		}
		if len(m.extras) == rows {
			break
		}
		s.dives(&low, 4)
	}
	// With one kind of unit a cutting is off by a whole unit, and to find that one is worth more dives; where prices
	// differ the cases that follow close small gaps sooner.
	last := 12
	if len(c.units) == 1 {
		last = 40
	}
	s.dives(&low, last)
	return s.best, s.ok, low
}

// above is above every cost.
const above = int64(1) << 60

// search dives from a solved programme.
type search struct {
	m    *master
	best cutting
	ok   bool
}

func (s *search) closed(low bound) bool { return s.ok && s.best.cost <= low.cost }

// enough is the greatest cost that is better than the best.
func (s *search) enough() int64 {
	if s.ok {
		return s.best.cost - 1
	}
	return above
}

// dives dives from the programme as it is solved, each time with another step that does not take the best, and comes
// back to it solved with the ways that were found.
func (s *search) dives(low *bound, times int) {
	root := s.m.save()
	for i := 0; i < times && !s.closed(*low) && !s.m.effort.spent(); i++ {
		bans := make([]int, i)
		if i > 0 {
			bans[i-1] = 1
		}
		d := dive{m: s.m, target: s.enough()}
		if k, found := d.run(bans); found {
			s.best, s.ok = k, true
		}
		s.m.restore(root)
		s.m.bound = *low
		s.m.solve(above)
		if s.m.bound.greater(*low) {
			*low = s.m.bound
		}
		root = s.m.save()
	}
}
