package cutstock

import (
	"cmp"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
)

// Stock with no-cut zones: where a piece lies decides whether it can be cut. For a line of pieces from end A, the
// stations where the last face can lie are kept exactly, as closed stretches, through every order of the pieces.

// stretch is a closed stretch of stations.
type stretch struct{ from, to measure.Length }

// clearing lays out one way on one unit.
type clearing struct {
	shop  *shop
	unit  *unit
	takes []take
	line  []laid
	reach [][]stretch // of the left face of every piece in line
}

// arrangeClear lays out a way so that no saw enters a no-cut zone: nil when there is no such order.
func (s *shop) arrangeClear(u *unit, takes []take) []laid {
	c := clearing{shop: s, unit: u, takes: slices.Clone(takes)}
	if c.extend(nil) {
		return c.line
	}
	return nil
}

// extend lays a further piece after the line, whose last face can lie at ends, and tells whether all find a place.
func (c *clearing) extend(ends []stretch) bool {
	done := true
	for i := range c.takes {
		if c.takes[i].n == 0 {
			continue
		}
		done = false
		c.takes[i].n--
		k := &c.shop.kinds[c.takes[i].kind]
		for _, sh := range c.shop.turned(c.shop.shapes[k.shape]) {
			left := c.place(sh[0], ends)
			if right := c.cutRight(sh[1], shift(left, k.length)); len(right) > 0 {
				c.line = append(c.line, laid{kind: c.takes[i].kind, shape: sh, length: k.length})
				c.reach = append(c.reach, left)
				if c.extend(right) {
					c.takes[i].n++
					return true
				}
				c.line, c.reach = c.line[:len(c.line)-1], c.reach[:len(c.reach)-1]
			}
		}
		c.takes[i].n++
	}
	return done && len(c.line) > 0 && c.settle(ends)
}

// place is where the left face of the next piece can lie.
func (c *clearing) place(f face, ends []stretch) []stretch {
	e, s := c.shop.ends[f], &c.shop.saw
	var out []stretch
	if len(c.line) == 0 {
		if e.Skew == c.unit.A.Skew && (e.Cast == "" || e.Cast == c.unit.A.Cast) {
			out = append(out, stretch{0, 0}) // the end of the stock itself
		}
		if e.Cast != "" {
			return out
		}
		from := s.atEnd(c.unit.A.Skew, e.Skew) + s.spare(c.unit.A.Skew, e.Skew)
		return append(out, c.clear([]stretch{{from, c.unit.Length}}, e.Skew, -1)...)
	}
	before := c.shop.ends[c.line[len(c.line)-1].shape[1]]
	if e.Cast != "" || before.Cast != "" {
		return nil
	}
	gap, spare := s.between(before.Skew, e.Skew), s.spare(before.Skew, e.Skew)
	for _, end := range ends {
		if spare > 0 {
			out = append(out, stretch{end.from + gap, end.to + gap})
		}
		out = append(out, stretch{end.from + gap + spare, c.unit.Length})
	}
	return c.clear(tidy(out), e.Skew, -1)
}

// cutRight is where the right face of the next piece can lie.
func (c *clearing) cutRight(f face, at []stretch) []stretch {
	e, length := c.shop.ends[f], c.unit.Length
	var out []stretch
	if e.Cast == "" {
		out = c.clear(clip(at, 0, length), e.Skew, 1)
	}
	parallel := e.Skew == c.unit.B.Skew && (e.Cast == "" || e.Cast == c.unit.B.Cast)
	if parallel && len(clip(at, length, length)) > 0 {
		out = append(out, stretch{length, length})
	}
	return tidy(out)
}

// settle gives every piece its station, from the last to the first, when the last face can be cut from end B.
func (c *clearing) settle(ends []stretch) bool {
	s, u := &c.shop.saw, c.unit
	e := c.shop.ends[c.line[len(c.line)-1].shape[1]]
	last := u.Length - s.atEnd(u.B.Skew, e.Skew) - s.spare(u.B.Skew, e.Skew)
	fit := clip(ends, 0, last)
	if e.Cast != "" {
		fit = nil
	}
	if e.Skew == u.B.Skew {
		fit = append(fit, clip(ends, u.Length, u.Length)...)
	}
	if len(fit) == 0 {
		return false
	}
	right := fit[0].from
	for i := len(c.line) - 1; i >= 0; i-- {
		p := &c.line[i]
		p.at = right - p.length
		if i == 0 {
			break
		}
		right = c.before(i)
	}
	return true
}

// before is a station of the right face of piece i−1 from which piece i can lie where it does.
func (c *clearing) before(i int) measure.Length {
	prev, p := &c.line[i-1], &c.line[i]
	a, b := c.shop.ends[prev.shape[1]], c.shop.ends[p.shape[0]]
	gap, spare := c.shop.saw.between(a.Skew, b.Skew), c.shop.saw.spare(a.Skew, b.Skew)
	ends := c.cutRight(prev.shape[1], shift(c.reach[i-1], prev.length))
	if at := clip(ends, p.at-gap, p.at-gap); len(at) > 0 {
		return at[0].from
	}
	return clip(ends, 0, p.at-gap-spare)[0].from
}

// clear is the part of the stations of a face where its cut, to the right of it (1) or to the left (−1), meets no
// no-cut zone.
func (c *clearing) clear(at []stretch, skew measure.Angle, side int) []stretch {
	half := nearest(float64(c.shop.saw.width) / 2 * abs(slope(skew)))
	left, right := half, half
	if side > 0 {
		right += along(c.shop.saw.kerf, skew)
	} else {
		left += along(c.shop.saw.kerf, skew)
	}
	for _, zone := range c.unit.NoCut {
		from, to := zone.From-right, zone.To+left // no face strictly between them
		if zone.From == zone.To || from >= to {
			continue
		}
		var out []stretch
		for _, s := range at {
			out = append(out, clip([]stretch{s}, 0, from)...)
			out = append(out, clip([]stretch{s}, to, c.unit.Length)...)
		}
		at = out
	}
	return at
}

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}

func shift(at []stretch, by measure.Length) []stretch {
	out := make([]stretch, len(at))
	for i, s := range at {
		out[i] = stretch{s.from + by, s.to + by}
	}
	return out
}

func clip(at []stretch, from, to measure.Length) []stretch {
	var out []stretch
	for _, s := range at {
		if a, b := max(s.from, from), min(s.to, to); a <= b {
			out = append(out, stretch{a, b})
		}
	}
	return out
}

// tidy sorts stretches and joins those that meet.
func tidy(at []stretch) []stretch {
	sorting.By(at, func(a, b stretch) int {
		return cmp.Or(cmp.Compare(a.from, b.from), cmp.Compare(a.to, b.to))
	})
	var out []stretch
	for _, s := range at {
		if n := len(out); n > 0 && s.from <= out[n-1].to {
			out[n-1].to = max(out[n-1].to, s.to)
			continue
		}
		out = append(out, s)
	}
	return out
}
