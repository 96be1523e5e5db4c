package planner

import (
	"slices"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/solve/earthwork"
)

// digBorders are the chainages of a leg at which its dig may change, both ends of every stretch that the job states, rising.
func (b *build) digBorders(leg int) []measure.Length {
	var out []measure.Length
	for _, s := range b.job.Dig.Stretches {
		if s.Leg != b.leg(leg).ID {
			continue
		}
		out = append(out, s.From)
		if s.To > 0 {
			out = append(out, s.To)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// stretched parts spans where a stretch of the dig begins or ends, a millimetre and more from a span's own ends, and gives every
// span the sides that hold in its middle.
func (b *build) stretched(leg int, spans []earthwork.Span) []earthwork.Span {
	borders := b.digBorders(leg)
	if len(borders) == 0 {
		return spans
	}
	var out []earthwork.Span
	for _, s := range spans {
		for _, at := range borders {
			if at-s.From < measure.Millimetre || s.To-at < measure.Millimetre {
				continue
			}
			here := between(&s, at)
			first := s
			first.To, first.End = at, here
			out, s.From, s.Start = append(out, first), at, here
		}
		out = append(out, s)
	}
	id := b.leg(leg).ID
	for i := range out {
		d := b.job.Dig.At(id, (out[i].From+out[i].To)/2)
		out[i].Section.Sides = digSides(&d)
	}
	return out
}

// digStretchAt is why a leg is dug otherwise from a chainage on; "" where nothing begins there or nobody said.
func (b *build) digStretchAt(leg int, at measure.Length) string {
	for _, s := range b.job.Dig.Stretches {
		if s.Leg == b.leg(leg).ID && (s.From-at).Abs() < measure.Millimetre {
			return s.Why
		}
	}
	return ""
}

// digPart is a part of a leg that is dug in one way: its spans, from one number up to another.
type digPart struct{ from, to int }

// digParts parts a leg's spans where another stretch of the dig begins; one part where the job states none on the leg.
func (b *build) digParts(leg string, spans []earthwork.Span) []digPart {
	of := func(s *earthwork.Span) int {
		return slices.IndexFunc(b.job.Dig.Stretches, func(d job.DigStretch) bool { return d.Holds(leg, (s.From+s.To)/2) })
	}
	var out []digPart
	for i := range spans {
		if i == 0 || of(&spans[i]) != of(&spans[i-1]) {
			out = append(out, digPart{i, i})
		}
		out[len(out)-1].to = i + 1
	}
	return out
}
