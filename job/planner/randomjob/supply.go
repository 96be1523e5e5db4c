package randomjob

import (
	"fmt"

	"trenchwright/base/measure"
	"trenchwright/job"
)

// supplies makes one or two supplies: the second one is what crossings ask for.
func (m *maker) supplies() {
	first := m.supply("std")
	m.job.Supplies = []job.Supply{first}
	if m.percent(45) {
		m.job.Supplies = append(m.job.Supplies, m.heavier(first))
	}
}

func (m *maker) supply(id string) job.Supply {
	pitch, gap := m.pitch()
	s := job.Supply{ID: id, Title: "made up", From: "D1"}
	s.Unit = m.unit(pitch)
	s.Joint = m.joint()
	longest := s.Unit.Lengths.Value[0]
	kerf := one[measure.Length](&m.dice, 3, 5, 6) * measure.Millimetre
	if m.imperial {
		kerf = one[measure.Length](&m.dice, 2, 3, 4) * measure.Sixteenth
	}
	s.Saw = job.SawRule{
		Shortest: job.Known(m.length(longest/6, longest/3, m.step)), Kerf: job.Known(kerf), KeepFactoryEnd: job.Known(m.percent(60)),
	}
	if m.percent(50) {
		s.Saw.LeastSlice = job.Known(kerf + m.length(0, 4*measure.Millimetre, measure.Millimetre))
	}
	if m.percent(4) {
		s.Saw.Kerf = job.Entry[measure.Length]{} // then nothing can be cut
	}
	if m.percent(92) {
		s.Cover = m.cover(pitch, gap, s.Unit.Outer.Value.Width, s.Unit.Inner.Value.Width)
	}
	m.rest(&s)
	return s
}

// pitch is a cover with its gap; every unit is a whole number of them.
func (m *maker) pitch() (pitch, gap measure.Length) {
	if m.imperial {
		return one[measure.Length](&m.dice, 12, 16, 24) * measure.Inch, one[measure.Length](&m.dice, 2, 4) * measure.Sixteenth
	}
	return one[measure.Length](&m.dice, 500, 600, 750, 1000) * measure.Millimetre, one[measure.Length](&m.dice, 3, 4, 6) * measure.Millimetre
}

func (m *maker) unit(pitch measure.Length) job.UnitMake {
	n := measure.Length(2 + m.below(3))
	for n*pitch < 1800*measure.Millimetre {
		n++
	}
	lengths := []measure.Length{n * pitch}
	for k := n - 1; k > 0 && len(lengths) < 3; k-- {
		if k*pitch >= 700*measure.Millimetre && m.percent(35) {
			lengths = append(lengths, k*pitch)
		}
	}
	wall := m.length(50*measure.Millimetre, 100*measure.Millimetre, 5*measure.Millimetre)
	inner := job.Section{Width: m.length(200*measure.Millimetre, 600*measure.Millimetre, 10*measure.Millimetre)}
	inner.Height = m.length(200*measure.Millimetre, 600*measure.Millimetre, 10*measure.Millimetre)
	u := job.UnitMake{
		Lengths: job.Known(lengths), Inner: job.Known(inner),
		Outer: job.Known(job.Section{Width: inner.Width + 2*wall, Height: inner.Height + wall}),
		Ends:  job.Known("plain"), MayTurn: job.Known(true),
	}
	if m.percent(25) {
		u.Ends, u.MayTurn = job.Known("tongue-and-groove"), job.Known(m.percent(30))
	}
	if m.percent(80) {
		u.Mass = job.Known(measure.LinearMass(100_000 + m.below(700_000)))
	}
	if m.percent(60) {
		u.OutOfSquare = job.Known(one[measure.Length](&m.dice, 1, 2) * measure.Millimetre)
	}
	if m.percent(30) {
		m.castIn(&u)
	}
	return u
}

// castIn puts two pairs of inserts into the longest unit and keeps the saw off them.
func (m *maker) castIn(u *job.UnitMake) {
	long := u.Lengths.Value[0]
	at := long / 5
	for _, end := range []string{"A", "B"} {
		for _, side := range []string{"left", "right"} {
			u.CastIn = append(u.CastIn, job.CastIn{Kind: "insert", Name: "insert", Of: long, At: at, End: end, Side: side, Edge: 150 * measure.Millimetre})
		}
	}
	if m.percent(60) {
		half := 40 * measure.Millimetre
		u.NoCut = []job.NoCut{{Of: long, From: at - half, To: at + half, Why: "inserts"}, {Of: long, From: long - at - half, To: long - at + half, Why: "inserts"}}
	}
}

func (m *maker) joint() job.JointMake {
	const mm = measure.Millimetre
	w := one(&m.dice,
		measure.Window{Nominal: 10 * mm, Min: 8 * mm, Max: 14 * mm}, measure.Window{Nominal: 10 * mm, Min: 6 * mm, Max: 16 * mm},
		measure.Window{Nominal: 12 * mm, Min: 8 * mm, Max: 16 * mm}, measure.Window{Nominal: 10 * mm, Min: 10 * mm, Max: 10 * mm},
		measure.Window{Nominal: 5 * mm, Min: 0, Max: 10 * mm})
	if m.imperial {
		const s = measure.Sixteenth
		w = one(&m.dice, measure.Window{Nominal: 6 * s, Min: 4 * s, Max: 10 * s}, measure.Window{Nominal: 6 * s, Min: 6 * s, Max: 6 * s})
	}
	j := job.JointMake{Gap: job.Known(w)}
	if m.percent(70) {
		j.MitreGap = job.Known(w.Nominal + m.length(0, 5*mm, mm))
	}
	if m.percent(70) {
		j.EndGap = job.Known(w.Nominal)
	}
	return j
}

func (m *maker) cover(pitch, gap, outer, inner measure.Length) *job.CoverMake {
	long := pitch - gap
	c := &job.CoverMake{
		Lengths: job.Known([]measure.Length{long}), Gap: job.Known(measure.Window{Nominal: gap, Min: gap / 2, Max: 2 * gap}),
		Width: job.Known(inner + (outer-inner)*2/3), Shortest: job.Known(m.length(long/5, long/3, measure.Millimetre)),
		Thickness: job.Known(70 * measure.Millimetre), LiftedBy: job.Known("keys"),
	}
	if m.percent(30) {
		c.Gap.Value.Min, c.Gap.Value.Max = gap, gap
	}
	if half := pitch/2 - gap; m.percent(25) && half > c.Shortest.Value {
		c.Lengths.Value = append(c.Lengths.Value, half)
	}
	if m.percent(80) {
		c.Mass = job.Known(measure.LinearMass(20_000 + m.below(150_000)))
	}
	return c
}

// rest are the figures that no layout depends on.
func (m *maker) rest(s *job.Supply) {
	if m.percent(70) {
		s.Bearing.On = job.Known(one(&m.dice, "bed", "pads"))
	}
	if m.percent(70) {
		s.Lifting.By = job.Known(one(&m.dice, "inserts", "clamp", "hand"))
	}
	if m.percent(50) {
		s.Rating = job.Known("as declared in D1")
	}
	arm := m.length(600*measure.Millimetre, 1200*measure.Millimetre, m.step)
	branch := m.length(500*measure.Millimetre, 900*measure.Millimetre, m.step)
	s.Fittings = []job.Fitting{
		{ID: s.ID + "-tee", Kind: "tee", From: "D1", Arms: []job.Arm{{Name: "through", Length: arm}, {Name: "through-2", Length: arm + m.step}, {Name: "branch", Length: branch}}},
		{ID: s.ID + "-cross", Kind: "cross", From: "D1", Arms: []job.Arm{{Name: "through", Length: arm}, {Name: "through-2", Length: arm}, {Name: "branch", Length: branch}, {Name: "branch-2", Length: branch}}},
	}
	for _, angle := range []int{30, 45, 90} {
		s.Fittings = append(s.Fittings, job.Fitting{
			ID: fmt.Sprintf("%s-bend-%d", s.ID, angle), Kind: "bend", From: "D1", Angle: measure.Angle(angle) * measure.Degree,
			Arms: []job.Arm{{Name: "in", Length: branch}, {Name: "out", Length: branch}},
		})
	}
	for i := range s.Fittings {
		if m.percent(50) {
			s.Fittings[i].Mass = job.Known(measure.Mass(300+m.below(2000)) * measure.Kilogram)
		}
		if m.percent(50) {
			s.Fittings[i].Covers = []job.KitCover{{Name: "kit cover", Count: 1 + m.below(3), Mass: job.Known(40 * measure.Kilogram)}}
		}
	}
	if m.percent(60) {
		s.LooseParts = []job.LoosePart{
			{Name: s.ID + " seal strip", Per: "joint", Number: "1.9", Unit: "m", Pack: 25, From: "D1"},
			{Name: s.ID + " mortar", Per: one(&m.dice, "cut-face", "metre", "unit", "cover"), Number: "0.75", Unit: "kg", From: "D1"},
			{Name: s.ID + " bond", Per: one(&m.dice, "end", "bend", "joint"), Number: "2", From: "D1"},
		}
	}
}

// heavier is a supply with thicker walls and the same inside, sometimes with a joint window of its own.
func (m *maker) heavier(s job.Supply) job.Supply {
	h := s
	h.ID, h.Title = "heavy", "made up, heavier"
	out := s.Unit.Outer.Value
	h.Unit.Outer = job.Known(job.Section{Width: out.Width + 40*measure.Millimetre, Height: out.Height + 40*measure.Millimetre})
	h.Unit.CastIn, h.Unit.NoCut = nil, nil
	h.Fittings, h.LooseParts = nil, nil
	if w := s.Joint.Gap.Value; m.percent(40) && w.Min < w.Max {
		w.Max -= measure.Millimetre
		h.Joint.Gap = job.Known(w)
	}
	if s.Unit.Mass.Known {
		h.Unit.Mass = job.Known(s.Unit.Mass.Value * 5 / 4)
	}
	if m.percent(50) {
		h.Rating = job.Known("as declared in D1")
	}
	return h
}
