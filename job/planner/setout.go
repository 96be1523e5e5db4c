package planner

import (
	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// setOut is one row for every joint's middle and for both ends of every leg, in the order of each leg's axis.
func (b *build) setOut(legs []laid) {
	for li := range legs {
		l := &legs[li]
		if len(l.units) == 0 {
			continue
		}
		pads := b.sup[l.supply[0]].Bearing.On.Value == "pads"
		first, last := b.plan.Units[l.first].Mark, b.plan.Units[l.first+len(l.units)-1].Mark
		b.setOutRow(li, -1, 0, "start of "+first, pads)
		for i := range len(l.units) - 1 {
			u := l.units[i]
			name := b.plan.Units[l.first+i].Mark + "/" + b.plan.Units[l.first+i+1].Mark
			b.setOutRow(li, i+1, l.units[i+1].Start-u.GapAfter/2, name, pads)
		}
		b.setOutRow(li, -1, b.axes[li].clear, "end of "+last, pads)
	}
}

// setOutRow is a row at a place on the axis, of the joint before a unit; −1: of an end of the leg.
func (b *build) setOutRow(leg, joint int, at measure.Length, place string, pads bool) {
	a := &b.axes[leg]
	ch := a.chainage(at)
	pose := a.line.At(ch)
	c := b.net.origin.Coordinates(pose.At)
	row := SetOut{
		Leg: b.leg(leg).ID, Place: place, Chainage: measure.MM(ch), At: measure.MM(at),
		E: c.E.Metres(), N: c.N.Metres(), Bearing: pose.Bearing().Degrees(), Level: b.levelAt(leg, ch),
	}
	if b.heights != nil {
		if s := b.heights.legs[leg].bedded.joint(joint); s != nil && s.at != ch {
			row.Planned = new(measure.MM(s.at))
		}
	}
	if pads {
		row.Pad = b.tell("%s under %s", wording.Pad, place)
	}
	b.plan.SetOut = append(b.plan.SetOut, row)
}

// levelAt is the wall top at a chainage, in metres, where it is known.
func (b *build) levelAt(leg int, ch measure.Length) *float64 {
	z, ok := b.axes[leg].lie.level(ch)
	if !ok {
		return nil
	}
	m := z.Metres()
	return &m
}
