package cutstock

// free cuts without a factory end to keep: column generation, rounding, diving.
func (c *cutter) free() (best cutting, ok bool, low bound) {
	want, have := c.stock()
	for _, tilt := range []int64{0, 20, 100, 400} {
		if k, found := c.oneByOne(c.bySize(tilt), want, have, 2000); found && (!ok || k.cost < best.cost) {
			best, ok = k, true
		}
	}
	m := c.newMaster(want, have, nil, false)
	for _, w := range best.ways {
		m.add(w)
	}
	m.solve(1 << 62)
	low = m.bound
	if ok && best.cost <= low.cost {
		return best, ok, low
	}
	root := m.save()
	for deviate := -1; deviate < 40 && !c.effort.spent(); deviate++ {
		bans := make([]int, max(deviate+1, 0))
		if deviate >= 0 {
			bans[deviate] = 1
		}
		target := int64(1) << 60
		if ok {
			target = best.cost - 1
		}
		if deviate >= 0 {
			m.restore(root)
			m.bound = bound{}
			m.solve(1 << 62)
		}
		d := dive{m: m, target: target}
		if k, found := d.run(bans); found {
			best, ok = k, true
		}
		if ok && best.cost <= low.cost {
			break
		}
	}
	return best, ok, low
}
