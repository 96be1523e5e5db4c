package planner

import (
	"cmp"
	"math"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/solve/layout"
)

// change is where a leg changes its grade, and what that asks of the joint's window on either side.
type change struct{ at, need measure.Length } // at on the axis

// nearby is how far a change of grade may move, once grades are kept, before the windows around it go with it: much less than
// the unit's length that they reach. A joint that stands where its window begins would else push on the change that the
// window is for, and all would creep along the leg, pass after pass.
const nearby = 100 * measure.Millimetre

// changes are the changes of grade of a leg as it lies, by the height of its highest unit.
func (b *build) changes(leg int, laid []int) []change {
	a, h := &b.axes[leg], measure.Length(0)
	for _, i := range laid {
		h = max(h, b.sup[i].Unit.Outer.Value.Height)
	}
	var out []change
	for k := 1; k < len(a.lie)-1; k++ {
		if need := opening(a.lie.turn(k), h); need > 0 {
			out = append(out, change{a.on(a.lie[k].chainage), need})
		}
	}
	if b.kept == nil {
		return out
	}
	if slices.EqualFunc(out, b.kept[leg], func(c, d change) bool { return c.need == d.need && (c.at-d.at).Abs() <= nearby }) {
		return b.kept[leg]
	}
	b.kept[leg] = out
	return out
}

// turn is how much the run turns in height at a knot, in radians, by the grades of record on either side.
func (l lie) turn(k int) float64 {
	if l[k].grade == l[k-1].grade {
		return 0
	}
	return math.Abs(math.Atan(l[k].grade) - math.Atan(l[k-1].grade))
}

// turnNear is turn of the knot at a chainage, nearer than a millimetre; 0 where there is none.
func (l lie) turnNear(ch measure.Length) float64 {
	k, _ := slices.BinarySearchFunc(l, ch-measure.Millimetre, func(n knot, c measure.Length) int { return cmp.Compare(n.chainage, c) })
	if k < 1 || k >= len(l)-1 || l[k].chainage > ch+measure.Millimetre {
		return 0
	}
	return l.turn(k)
}

// graded takes what changes of grade need off the joint window, as far beside each as a unit reaches: the joint itself may
// stand there in the end.
func (b *build) graded(leg int, laid []int, stretches []layout.Stretch) []layout.Stretch {
	h := b.share(b.legSupply(leg), laid)
	list := b.changes(leg, laid)
	if len(list) == 0 || h.window.Min == h.window.Max {
		return stretches
	}
	clear := b.axes[leg].clear
	if len(stretches) == 0 {
		stretches = []layout.Stretch{{From: 0, To: clear}}
	}
	cuts := []measure.Length{0, clear}
	for _, c := range list {
		cuts = append(cuts, min(max(0, c.at-h.longest), clear), min(max(0, c.at+h.longest), clear))
	}
	for _, s := range stretches {
		cuts = append(cuts, s.From, s.To)
	}
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	var out []layout.Stretch
	for i := range len(cuts) - 1 {
		from, to := cuts[i], cuts[i+1]
		k := slices.IndexFunc(stretches, func(s layout.Stretch) bool { return s.From <= from && to <= s.To })
		if k < 0 {
			continue
		}
		st := stretches[k]
		st.From, st.To = from, to
		if need := needOn(list, from-h.longest, to+h.longest); need > 0 {
			if st.Gap == (measure.Window{}) {
				st.Gap = h.window
			}
			st.Gap.Min, st.Gap.Max = min(st.Gap.Min+need, st.Gap.Nominal), max(st.Gap.Max-need, st.Gap.Nominal)
		}
		out = append(out, st)
	}
	return out
}

// needOn is the most that a change of grade between two places asks for; list is in the order of the axis.
func needOn(list []change, from, to measure.Length) (need measure.Length) {
	i, _ := slices.BinarySearchFunc(list, from, func(c change, at measure.Length) int { return cmp.Compare(c.at, at) })
	for ; i < len(list) && list[i].at <= to; i++ {
		need = max(need, list[i].need)
	}
	return need
}
