package schedule

import (
	"slices"

	"trenchwright/base/measure"
	"trenchwright/job/planner"
	"trenchwright/solve/levelling"
)

// DrainLaser is a grade of the drain as one setting of the laser lays it. The laser stands at the low end of the grade, where
// one for the bed can stand too, and its beam runs as high there: Beam above what a rod is read on for the bed.
type DrainLaser struct {
	Laser          // Formation: how much more a rod reads on the bottom of the drain's trench; From and To: the one place that there is, where its other end is none
	Bed   *float64 // level of what a rod is read on there for the bed, m; nil: not on file
}

// DrainLasers are the settings for the drain, leg by leg, up-chainage. One that neither begins nor ends at a place of the set-out
// cannot be set from there, and says so.
func (s Set) DrainLasers() []DrainLaser {
	if s.plan.Drain == nil || s.levels.Drain == nil {
		return nil
	}
	byLeg := map[string][]planner.SetOut{}
	for _, r := range s.plan.SetOut {
		byLeg[r.Leg] = append(byLeg[r.Leg], r)
	}
	var out []DrainLaser
	for _, g := range s.plan.Drain.Grades {
		out = append(out, s.drainLaser(g, byLeg[g.Leg]))
	}
	return out
}

// underDrain is what a rod is read on: what the pipe lies on, and so its underside.
const underDrain = "underside of the drain"

// drainLaser sets one grade out.
func (s Set) drainLaser(g planner.DrainGrade, rows []planner.SetOut) DrainLaser {
	out := DrainLaser{Laser: Laser{Grade: planner.GradeRun{Leg: g.Leg, From: g.From, To: g.To, FromMM: g.FromMM, ToMM: g.ToMM, Grade: g.Grade, OnStep: g.OnStep}, ReadOn: underDrain}}
	from := slices.IndexFunc(rows, func(r planner.SetOut) bool { return r.Place == g.From })
	to := slices.IndexFunc(rows, func(r planner.SetOut) bool { return r.Place == g.To })
	joint := func(name string, at measure.MM, level float64) {
		out.Joints = append(out.Joints, levelling.GradeJoint{Name: name, Chainage: measure.Length(at), Level: measure.FromMetres(level)})
	}
	joint(g.From, g.FromMM, g.Starts)
	for _, r := range rows {
		if r.Place != g.From && r.Place != g.To && r.Chainage > g.FromMM && r.Chainage < g.ToMM && r.Levels != nil && r.Levels.Drain != nil {
			joint(r.Place, r.Chainage, *r.Levels.Drain)
		}
	}
	joint(g.To, g.ToMM, g.Ends)
	last := g.Ends < g.Starts // the laser stands at the end: that is the low one
	if last && to < 0 || !last && from < 0 {
		last = !last
	}
	at, low := from, 0
	if last {
		at, low = to, len(out.Joints)-1
	}
	if at < 0 {
		out.Impossible = "it neither begins nor ends at a place of the set-out"
		return out
	}
	if out.From, out.To = rows[at], rows[at]; from >= 0 && to >= 0 {
		out.From, out.To = rows[from], rows[to]
	}
	out.Bed = bedAt(rows[at], last)
	out.Formation = &s.levels.Drain.Bedding
	line := levelling.GradeLine{Joints: out.Joints, Wall: levelling.LeftWall, AtLast: last, Beam: measure.Metre, DialStep: s.drainStep(), Tolerance: nil}
	if s.levels.Beam.Known && out.Bed != nil {
		out.Beam = new(s.levels.Beam.Value + measure.FromMetres(*out.Bed) - out.Joints[low].Level)
		line.Beam = *out.Beam
	}
	if set, said := line.Set(); len(said) > 0 {
		out.Impossible = said[0].Text
	} else {
		out.Setting = set
	}
	return out
}

// bedAt is what a rod is read on for the bed at a place: under the unit that ends there, or that begins there; m.
func bedAt(r planner.SetOut, ends bool) *float64 {
	l := r.Levels
	switch {
	case l == nil:
		return nil
	case ends && l.Before != nil && l.Before.PadTop != nil:
		return l.Before.PadTop
	case ends && l.Before != nil && l.PadTop == nil && l.Before.Underside != nil:
		return l.Before.Underside
	case l.PadTop != nil:
		return l.PadTop
	}
	return l.Underside
}

// drainStep is what the drain's grades are whole numbers of.
func (s Set) drainStep() measure.Grade {
	if e := s.levels.Drain.Setting; e.Known {
		return e.Value
	}
	return planner.DialStep(s.levels)
}
