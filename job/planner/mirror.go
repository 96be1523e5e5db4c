package planner

import (
	"slices"

	"trenchwright/base/measure"
	"trenchwright/solve/layout"
)

// mirrored is a problem followed from its other end. The slope s of a cut line stays what it is when both the axis and
// the left are turned round.
func mirrored(p layout.Problem) layout.Problem {
	L := p.Length
	p.Start, p.End = p.End, p.Start
	flip := func(from, to measure.Length) (measure.Length, measure.Length) { return L - to, L - from }
	p.Stretches = slices.Clone(p.Stretches)
	for i := range p.Stretches {
		s := &p.Stretches[i]
		s.From, s.To = flip(s.From, s.To)
	}
	slices.Reverse(p.Stretches)
	p.Zones, p.NoCut = flipZones(p.Zones, L), flipZones(p.NoCut, L)
	p.Demands = slices.Clone(p.Demands)
	for i := range p.Demands {
		d := &p.Demands[i]
		d.From, d.To = flip(d.From, d.To)
	}
	slices.Reverse(p.Demands)
	p.Joints = slices.Clone(p.Joints) // by their middles: see ask
	for i := range p.Joints {
		p.Joints[i].At = L - p.Joints[i].At
	}
	slices.Reverse(p.Joints)
	return p
}

func flipZones(zs []layout.Zone, l measure.Length) []layout.Zone {
	out := slices.Clone(zs)
	for i := range out {
		out[i].From, out[i].To = l-zs[i].To, l-zs[i].From
	}
	slices.Reverse(out)
	return out
}

// unmirrored turns units that were laid from the other end back into the leg's own direction, still in laying order of
// the axis: first at 0.
func unmirrored(us []layout.Unit, l measure.Length) []layout.Unit {
	out := make([]layout.Unit, 0, len(us))
	for i := len(us) - 1; i >= 0; i-- {
		u := us[i]
		u.Start = l - u.Start - u.Advance
		u.GapAfter = 0
		if i > 0 {
			u.GapAfter = us[i-1].GapAfter
		}
		u.Turned = !u.Turned
		u.StartTan, u.EndTan = u.EndTan, u.StartTan
		covers := make([]layout.Cover, 0, len(u.Covers))
		for k := len(u.Covers) - 1; k >= 0; k-- {
			c := u.Covers[k]
			c.Start = u.Length - c.Start - c.Length
			c.StartTan, c.EndTan = c.EndTan, c.StartTan
			covers = append(covers, c)
		}
		u.Covers = covers
		out = append(out, u)
	}
	return out
}
