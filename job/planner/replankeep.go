package planner

import (
	"slices"

	"trenchwright/base/measure"
)

// Whether the pieces that were planned still do, with other gaps: for every unit, from the last to the next, the starts from which
// the rest comes out, exactly, as a few intervals; then one way forward, each start as near to its drawn place as may be.

// starts is an interval of places, both ends with it.
type starts struct{ lo, hi measure.Length }

const far = 1 << 61 // nm: beyond every leg

// kept are starts for the units from the n-th on behind a measured end; false where no gaps within their windows do.
func (h *ahead) kept(n int, end measure.Length) ([]measure.Length, bool) {
	last := len(h.units) - 1
	can := make([][]starts, len(h.units))
	can[last] = meet(h.allowed(last), []starts{{h.length - h.takes[last], h.length - h.takes[last]}})
	for i := last - 1; i >= n; i-- {
		ends := h.reaches(i, can[i+1])
		for k := range ends {
			ends[k].lo, ends[k].hi = ends[k].lo-h.takes[i], ends[k].hi-h.takes[i]
		}
		can[i] = meet(h.allowed(i), ends)
	}
	var way []measure.Length
	for i := n; i <= last; i++ {
		s, ok := h.nearest(i, end, can[i])
		if !ok {
			return nil, false
		}
		way = append(way, s)
		end = s + h.takes[i]
	}
	return way, true
}

// reaches are the ends of the i-th unit from which the next may start in one of these intervals: with a gap within its window, and
// without a zone between: the joint ends before a zone begins, or begins behind it.
func (h *ahead) reaches(i int, next []starts) []starts {
	least, most := h.window(i)
	bounds := []measure.Length{-far}
	for _, z := range h.q.problem.Zones {
		bounds = append(bounds, z.To)
	}
	slices.Sort(bounds)
	bounds = append(slices.Compact(bounds), far)
	var ends []starts
	for _, v := range next {
		for k := range bounds[1:] {
			hi := v.hi
			for _, z := range h.q.problem.Zones {
				if z.To >= bounds[k+1] { // the joint begins before this zone ends
					hi = min(hi, z.From)
				}
			}
			e := starts{max(v.lo-most, bounds[k]), min(hi-least, bounds[k+1]-1)}
			if v.lo <= hi && e.lo <= e.hi {
				ends = append(ends, e)
			}
		}
	}
	return ends
}

// window is how narrow and wide the joint behind the i-th unit may be held: what its turn and its change of grade leave of its one
// window. The reserve for drift is there to be spent now, and what a unit is out of square shows when a gap is measured at both walls.
// A gap may always stay as it was planned.
func (h *ahead) window(i int) (least, most measure.Length) {
	j := &h.joints[i]
	need := j.Budget.Turn + j.Budget.Grade
	least, most = within(measure.Length(j.GapMin+need), measure.Length(j.GapMax-need), h.spare)
	if more := h.longer(i); more != 0 {
		w, _ := lotWindow(measure.Window{Min: least, Max: most}, more)
		return w.Min, w.Max
	}
	return min(least, measure.Length(j.Gap)), max(most, measure.Length(j.Gap))
}

// within is a window with a little spared at either side; one that is too narrow for that is left as it is.
func within(least, most, spare measure.Length) (measure.Length, measure.Length) {
	if most-least > 2*spare {
		return least + spare, most - spare
	}
	return least, most
}

// nearest is the start of the i-th unit that lies nearest to its drawn place.
func (h *ahead) nearest(i int, end measure.Length, can []starts) (measure.Length, bool) {
	least, most := h.window(i - 1)
	lo, hi := end+least, end+most
	for _, z := range h.q.problem.Zones {
		if end < z.To {
			hi = min(hi, z.From)
		}
	}
	best, found := measure.Length(0), false
	for _, v := range can {
		a, b := max(v.lo, lo), min(v.hi, hi)
		if a > b {
			continue
		}
		s := min(max(h.starts[i], a), b)
		if !found || (s-h.starts[i]).Abs() < (best-h.starts[i]).Abs() {
			best, found = s, true
		}
	}
	return best, found
}

// allowed are the starts that a unit may have for its own sake: a cut one meets no stretch without cuts, joints that have to stand
// somewhere do, and what has to lie under a supply does.
func (h *ahead) allowed(i int) []starts {
	p, u := &h.q.problem, &h.units[i]
	is := []starts{{-far, far}}
	if u.Cut {
		for _, z := range p.NoCut {
			is = meet(is, []starts{{-far, z.From - h.takes[i]}, {z.To, far}})
		}
	}
	for _, v := range p.Stretches { // too sharp a curve for so long a unit
		if v.MaxUnit > 0 && measure.Length(u.Length) > v.MaxUnit {
			is = meet(is, []starts{{-far, v.From - h.takes[i]}, {v.To, far}})
		}
	}
	within := slack(p.Joints, -h.spare)
	for k, f := range p.Joints {
		if (f.At - h.starts[i]).Abs() <= f.Tolerance {
			f = within[k]
			is = meet(is, []starts{{f.At - f.Tolerance, f.At + f.Tolerance}})
		}
	}
	for _, d := range p.Demands {
		of := p.Supplies[d.Supply].Name == u.Supply && h.starts[i] < d.To && h.starts[i]+h.takes[i] > d.From
		if !of {
			continue
		}
		if h.starts[i] <= d.From {
			is = meet(is, []starts{{-far, d.From}})
		}
		if h.starts[i]+h.takes[i] >= d.To {
			is = meet(is, []starts{{d.To - h.takes[i], far}})
		}
	}
	return is
}

// meet is what two lists of intervals have in common.
func meet(a, b []starts) []starts {
	var both []starts
	for _, x := range a {
		for _, y := range b {
			if lo, hi := max(x.lo, y.lo), min(x.hi, y.hi); lo <= hi {
				both = append(both, starts{lo, hi})
			}
		}
	}
	return both
}
