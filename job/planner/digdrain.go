package planner

import (
	"trenchwright/base/measure"
	"trenchwright/solve/earthwork"
	"trenchwright/solve/profile"
)

// parted is the span of unit k of a leg, parted where the drain has a joint of its own inside the unit.
func (d *pipe) parted(leg, k int, span earthwork.Span) []earthwork.Span {
	if d == nil {
		return []earthwork.Span{span}
	}
	var out []earthwork.Span
	for j := d.at[leg][k] + 1; j < d.at[leg][k+1]; j++ {
		at := d.problem.Legs[leg].Joints[j].At
		here := earthwork.Levels{Drain: &d.solution.Levels[leg][j]}
		on := func(from, to measure.Length) measure.Length {
			return from + portion(at-span.From, to-from, span.To-span.From)
		}
		here.Top, here.Underside, here.Formation = on(span.Start.Top, span.End.Top), on(span.Start.Underside, span.End.Underside), on(span.Start.Formation, span.End.Formation)
		first := span
		first.To, first.End = at, here
		out, span.From, span.Start = append(out, first), at, here
	}
	return append(out, span)
}

// atNode is the level of the pipe where an end of a leg meets its node; nil: it has none.
func (d *pipe) atNode(end profile.Arm) *measure.Length {
	if d == nil {
		return nil
	}
	z := d.solution.Levels[end.Leg][0]
	if end.End {
		z = d.solution.Levels[end.Leg][len(d.solution.Levels[end.Leg])-1]
	}
	if n := nodeOf(&d.problem, end); n >= 0 {
		for _, a := range d.problem.Nodes[n].Arms {
			if a.Leg == end.Leg && a.End == end.End {
				z -= a.Rise
			}
		}
	}
	return &z
}
