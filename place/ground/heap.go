package ground

import (
	"cmp"
	"slices"
)

// heaped are the stretches of ground along a straight where faces may lie over each other or not know their neighbours:
// every face along it is asked, and where several lie over each other the first one given holds.
func (s *Surface) heaped(l *straight) [][]cut {
	type span struct {
		from, to cut
		face     int32
	}
	var spans []span
	ends := []float64{0, 1}
	for f := range s.along(l) {
		p, passes := s.pass(l, f)
		if !passes {
			continue
		}
		a, b := p.entry(), p.exit()
		if b.along <= 0 || a.along >= 1 || b.along <= a.along {
			continue
		}
		a, b = within01(a, b)
		spans = append(spans, span{a, b, f})
		ends = append(ends, a.along, b.along)
	}
	slices.SortFunc(spans, func(a, b span) int { return cmp.Compare(a.face, b.face) })
	spans = slices.CompactFunc(spans, func(a, b span) bool { return a.face == b.face })
	slices.Sort(ends)
	ends = slices.Compact(ends)
	top := make([]int32, len(ends)) // of what lies between an end and the next the span, and behind it
	for i := range top {
		top[i] = none
	}
	for i, sp := range spans { // the first face takes what it covers, later ones what is left
		k, _ := slices.BinarySearch(ends, sp.from.along)
		for ; ends[k] < sp.to.along; k++ {
			if top[k] == none {
				top[k] = int32(i)
			}
		}
	}
	var out [][]cut
	open := false
	for k := 0; k+1 < len(ends); k++ {
		if top[k] == none {
			open = false
			continue
		}
		sp := spans[top[k]]
		a, b := between(sp.from, sp.to, ends[k]), between(sp.from, sp.to, ends[k+1])
		if !open {
			out = append(out, nil)
			open = true
		}
		out[len(out)-1] = append(out[len(out)-1], a, b)
	}
	return out
}

// within01 is the part of the way from a to b that lies on the straight.
func within01(a, b cut) (cut, cut) {
	from, to := a, b
	if a.along < 0 {
		from = between(a, b, 0)
	}
	if b.along > 1 {
		to = between(a, b, 1)
	}
	return from, to
}

// between is the point of the way from a to b that lies so far along.
func between(a, b cut, along float64) cut {
	switch {
	case along <= a.along:
		return a
	case along >= b.along:
		return b
	}
	return cut{along, a.z + float64((b.z-a.z)*((along-a.along)/(b.along-a.along)))}
}
