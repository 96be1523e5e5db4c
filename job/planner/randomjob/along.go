package randomjob

import (
	"math"

	"trenchwright/base/measure"
	"trenchwright/job"
)

// along lays a few things along a leg, away from its ends.
func (m *maker) along(l *job.Leg) {
	a, b := m.nodeAt(l.From), m.nodeAt(l.To)
	long := measure.FromMetres(math.Floor(math.Hypot(b[0]-a[0], b[1]-a[1])*1000) / 1000)
	supply := &m.job.Supplies[0]
	made := supply.Unit.Lengths.Value
	margin := 2 * measure.Metre
	if long > 6*measure.Metre {
		for range m.below(4) {
			m.thing(l, m.length(margin, long-margin, m.step), made[0])
		}
	}
	if m.percent(15) {
		l.Supports = append(l.Supports, job.Support{
			ID: m.id("P"), At: m.length(500*measure.Millimetre, 1500*measure.Millimetre, m.step),
			Every: m.length(1200*measure.Millimetre, 2*made[0], m.step), Width: 50 * measure.Millimetre, Clear: m.length(0, 80*measure.Millimetre, m.step),
		})
	}
	if m.percent(12) {
		l.First = []measure.Length{made[m.below(len(made))]}
	}
	l.Hold = m.percent(20)
}

func (m *maker) thing(l *job.Leg, at, unit measure.Length) {
	const mm = measure.Millimetre
	switch m.below(6) {
	case 0:
		side := one(&m.dice, "left", "right", "floor")
		l.Entries = append(l.Entries, job.ConduitEntry{ID: m.id("E"), At: at, Side: side, Diameter: m.length(60*mm, 200*mm, 10*mm), Clear: m.length(50*mm, 250*mm, m.step)})
	case 1:
		s := job.Service{ID: m.id("W"), Name: "service", At: at, Width: m.length(100*mm, 500*mm, 10*mm), Clear: m.length(100*mm, 500*mm, m.step)}
		if m.percent(50) {
			s.Skew = measure.FromDegrees(m.number(40, 90))
		}
		if m.percent(50) {
			depth := m.length(600*mm, 2000*mm, 10*mm)
			s.Depth = &depth
		}
		l.Services = append(l.Services, s)
	case 2, 3:
		m.crossing(l, at, unit)
	case 4:
		l.Zones = append(l.Zones, job.Zone{ID: m.id("Z"), From: at, To: at + m.length(200*mm, unit*3/4, m.step), Why: "kept free"})
	case 5:
		if len(l.Joints) == 0 {
			l.Joints = append(l.Joints, job.ForcedJoint{ID: m.id("J"), At: at, Tol: m.length(0, 30*mm, m.step), Why: "asked for"})
		}
	}
}

// crossing is a path with wheel strips, or a narrow one that is kept free of joints as a whole.
func (m *maker) crossing(l *job.Leg, at, unit measure.Length) {
	const mm = measure.Millimetre
	x := job.Crossing{ID: m.id("X"), Name: "crossing", At: at, MayCut: m.percent(30)}
	if m.percent(50) {
		x.Skew = measure.FromDegrees(m.number(45, 90))
	}
	if m.percent(60) {
		x.Path, x.Margin = m.length(3000*mm, 5500*mm, m.step), m.length(0, 500*mm, m.step)
		in, out := m.length(300*mm, 500*mm, m.step), m.length(900*mm, 1300*mm, m.step)
		x.Strips = []job.Strip{{From: -out, To: -in}, {From: in, To: out}}
		if m.percent(30) {
			x.Strips = append(x.Strips, job.Strip{From: -in, To: in, Detail: "D1"})
		}
	} else {
		x.Path, x.Margin = m.length(400*mm, unit/3, m.step), m.length(0, 150*mm, m.step)
	}
	if len(m.job.Supplies) > 1 && m.percent(60) {
		x.Supply, x.Reach = m.job.Supplies[1].ID, m.length(0, 800*mm, m.step)
	}
	l.Crossings = append(l.Crossings, x)
}
