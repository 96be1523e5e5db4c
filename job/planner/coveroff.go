package planner

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/solve/profile"
)

// coversOff is joints of one leg beside each other at which covers end off the finished ground the same way.
type coversOff struct {
	leg, from, to int
	worst         int            // joint
	by            measure.Length // there; above the wanted level positive
}

// sayCoversOff says where covers end lower or higher than the finished ground asks by more than the job lets them lie off their
// level, the worst stretch of each leg, and what makes it so. Where the job states no such figure, it says the largest alone.
func (b *build) sayCoversOff() {
	tol, least := b.job.Rules.CoverTol, b.nearest()
	if tol.Known {
		least = tol.Value
	}
	var worst []coversOff
	for i := range b.heights.problem.Legs {
		if off, ok := b.worstOff(i, least); ok {
			worst = append(worst, off)
		}
	}
	if len(worst) == 0 {
		return
	}
	if !tol.Known {
		worst = []coversOff{slices.MaxFunc(worst, func(a, b coversOff) int { return cmp.Compare(a.by.Abs(), b.by.Abs()) })}
	}
	why := b.whyOff()
	for _, off := range worst {
		q := &b.heights.problem
		f := finding.Finding{ID: "planner.cover-off", Kind: finding.Note, Where: at(q.Legs[off.leg].Name, q.Legs[off.leg].Joints[off.worst].At), Value: b.tell("%s %s", b.near(off.by.Abs()), way(off.by))}
		f.Text = b.tell("leg %s: covers end %s %ser than the finished ground asks at %s", q.Legs[off.leg].Name, b.near(off.by.Abs()), way(off.by), q.SaysAt(off.leg, off.worst))
		if off.from < off.to {
			f.Text += ", and lie " + way(off.by) + " " + q.SaysSpan(off.leg, off.from, off.to)
		}
		if tol.Known {
			f.Kind, f.Limit = finding.Attention, b.tell("%s either way", tol.Value)
			f.Rule = "tolerance for the level of covers, " + job.SourceFrom(b.job, b.job.Rules.From, tol)
		}
		if why != nil {
			f.Text, f.Try = f.Text+why.said(off), why.try(off)
		}
		b.add(f)
	}
}

// way is which way a level is off.
func way(by measure.Length) string {
	if by < 0 {
		return "low"
	}
	return "high"
}

// nearest is as near as a level is read.
func (b *build) nearest() measure.Length {
	if b.imperial() {
		return measure.Sixteenth
	}
	return measure.Millimetre
}

// near is a length to the nearest of these.
func (b *build) near(l measure.Length) measure.Length {
	step := b.nearest()
	return measure.Length(math.Round(float64(l)/float64(step))) * step
}

// worstOff is the stretch of a leg on which covers end furthest off, beyond a tolerance.
func (b *build) worstOff(leg int, tol measure.Length) (worst coversOff, ok bool) {
	joints, levels := b.heights.problem.Legs[leg].Joints, b.profile.Levels[leg]
	off := func(j int) measure.Length {
		if w := joints[j].Wanted; w != nil {
			return levels[j] - *w
		}
		return 0
	}
	for j := range joints {
		if d := off(j); d.Abs() > max(tol, worst.by.Abs()) {
			worst, ok = coversOff{leg: leg, worst: j, by: d}, true
		}
	}
	same := func(j int) bool { d := off(j); return d.Abs() > tol && (d < 0) == (worst.by < 0) }
	for worst.from = worst.worst; worst.from > 0 && same(worst.from-1); {
		worst.from--
	}
	for worst.to = worst.worst; worst.to < len(joints)-1 && same(worst.to+1); {
		worst.to++
	}
	return worst, ok
}

// whyOff is the levels once more without what each cause asks for: what they would be if grades had no step, and if changes of
// grade had no price either. What is left then is for limits, and the proof names them.
type whyOff struct {
	*build
	unrounded, unpriced profile.Solution
	limits              profile.Problem
	bears               *profile.Bearings
}

// whyOff solves for the causes; nil: they cannot be told apart.
func (b *build) whyOff() *whyOff {
	w := &whyOff{build: b, limits: b.heights.problem.Unpriced()}
	var err error
	if w.unrounded, err = profile.Best(b.heights.problem); err != nil || w.unrounded.Verdict != profile.Found {
		return nil
	}
	if w.unpriced, err = profile.Best(w.limits); err != nil || w.unpriced.Verdict != profile.Found {
		return nil
	}
	w.bears = w.limits.Bearings(w.unpriced)
	return w
}

// cause is what puts a level off, and by how much of it; below nought: it makes it less.
type cause struct {
	by        measure.Length
	text, try string
}

// causes are what puts the worst joint of a stretch off, the largest part first and what makes it less last; parts under a
// tenth of the whole stay unsaid.
func (w *whyOff) causes(off coversOff) []cause {
	wanted := *w.heights.problem.Legs[off.leg].Joints[off.worst].Wanted
	record, best, free := w.profile.Levels[off.leg][off.worst], w.unrounded.Levels[off.leg][off.worst], w.unpriced.Levels[off.leg][off.worst]
	limits, try := w.bearing(off)
	all := []cause{
		{free - wanted, limits, try},
		{best - free, w.tell("because another change of grade costs more than it saves, at the price of one joint %s off for each 1 %%", w.breakPrice()),
			"a lower price of a change of grade in levels.break, or grades that follow the ground there"},
		{record - best, "because grades are whole steps of " + w.heights.problem.Step.String(), "a finer step in levels.setting"},
	}
	if off.by < 0 {
		for i := range all {
			all[i].by = -all[i].by
		}
	}
	all = slices.DeleteFunc(all, func(c cause) bool { return c.by.Abs() < off.by.Abs()/10 })
	slices.SortStableFunc(all, func(a, b cause) int { return cmp.Compare(b.by, a.by) })
	return all
}

// said are the causes in words.
func (w *whyOff) said(off coversOff) string {
	all := w.causes(off)
	if len(all) == 1 {
		return ": " + all[0].text
	}
	var parts []string
	for _, c := range all {
		less := ""
		if c.by < 0 {
			less = "less "
		}
		parts = append(parts, w.tell("%s%s %s", less, w.near(c.by.Abs()), c.text))
	}
	return ": " + strings.Join(parts, "; ")
}

// try is what the first cause leaves to be tried.
func (w *whyOff) try(off coversOff) string {
	if all := w.causes(off); len(all) > 0 {
		return all[0].try
	}
	return ""
}

// bearing names the limits that keep the worst joint off where no price does: those that the proof has a price for on the
// stretch on which they do.
func (w *whyOff) bearing(off coversOff) (text, try string) {
	joints, levels := w.limits.Legs[off.leg].Joints, w.unpriced.Levels[off.leg]
	lies := func(j int) bool {
		return joints[j].Wanted == nil || (levels[j]-*joints[j].Wanted).Abs() > measure.Millimetre && (levels[j] < *joints[j].Wanted) == (off.by < 0)
	}
	from, to := off.worst, off.worst
	for from > 0 && lies(from) {
		from--
	}
	for to < len(joints)-1 && lies(to) {
		to++
	}
	const most = 2 // limits that are named
	var names []string
	for _, l := range w.bears.Along(off.leg, from, to) {
		if len(names) < most {
			names = append(names, w.limits.Says(l.Limit))
		}
	}
	if len(names) == 0 {
		return "because limits leave no other levels", "wider limits there"
	}
	return "held by " + strings.Join(names, " and by "), "a wider limit there, or another level of the finished ground"
}
