package planner

import (
	"cmp"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/solve/profile"
)

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

// causes are what puts a cover off, the largest part first and what makes it less last; parts under a tenth of the whole stay
// unsaid. nil: the profile wants no level there.
func (w *whyOff) causes(off coversOff) []cause {
	l, q := off.worst, &w.heights.problem
	joints := q.Legs[off.leg].Joints
	last := l.unit + 1
	if l.part == 0 {
		last = l.unit
	}
	if joints[l.unit].Wanted == nil || joints[last].Wanted == nil {
		return nil
	}
	mix := func(of func(joint int) measure.Length) measure.Length {
		a := of(l.unit)
		return a + partOf(of(last)-a, l.part)
	}
	wanted := mix(func(j int) measure.Length { return *joints[j].Wanted })
	record, best, free := mix(levelsOn(w.profile.Levels, off.leg)), mix(levelsOn(w.unrounded.Levels, off.leg)), mix(levelsOn(w.unpriced.Levels, off.leg))
	thick := w.coverOn(off.leg, l.unit) - mix(func(j int) measure.Length { return w.coverOn(off.leg, min(j, len(joints)-2)) })
	limits, try := w.bearing(off)
	all := []cause{
		{free - wanted, limits, try},
		{best - free, w.tell("because one more change of grade is not worth it: by the job a change by 1 %% counts as much as one joint %s off", w.breakPrice()),
			"let a change of grade count for less (levels.break), or grades that follow the ground there"},
		{record - best, "because grades are whole steps of " + q.Step.String(), "a finer step of grades (levels.setting)"},
		{thick, w.tell("because covers are of another thickness behind the next joint, and the tops of the walls go on at one level"), "where the thickness changes, another level of the finished ground"},
		{l.off - (record - wanted) - thick, w.tell("because a %s is straight and the finished ground over it is not", wording.Unit), "another finished ground there"},
	}
	if l.off < 0 {
		for i := range all {
			all[i].by = -all[i].by
		}
	}
	all = slices.DeleteFunc(all, func(c cause) bool { return c.by.Abs() < l.off.Abs()/10 })
	slices.SortStableFunc(all, func(a, b cause) int { return cmp.Compare(b.by, a.by) })
	return all
}

// levelsOn is a level by joint.
func levelsOn(levels [][]measure.Length, leg int) func(joint int) measure.Length {
	return func(joint int) measure.Length { return levels[leg][joint] }
}

// said are the causes in words, and what the first of them leaves to be tried.
func (w *whyOff) said(off coversOff) (text, try string) {
	all := w.causes(off)
	switch len(all) {
	case 0:
		return "", ""
	case 1:
		return ". Where they lie furthest off, " + all[0].text, all[0].try
	}
	var parts []string
	for _, c := range all {
		less := ""
		if c.by < 0 {
			less = "less "
		}
		parts = append(parts, w.tell("%s%s %s", less, w.near(c.by.Abs()), c.text))
	}
	return ". Where they lie furthest off, " + strings.Join(parts, "; "), all[0].try
}

// bearing names the limits that keep the joint nearest to the worst place off where no price does: those that the proof has a price for on the
// stretch on which they do.
func (w *whyOff) bearing(off coversOff) (text, try string) {
	joints, levels := w.limits.Legs[off.leg].Joints, w.unpriced.Levels[off.leg]
	lies := func(j int) bool {
		return joints[j].Wanted == nil || (levels[j]-*joints[j].Wanted).Abs() > measure.Millimetre && (levels[j] < *joints[j].Wanted) == (off.worst.off < 0)
	}
	near := off.worst.unit
	if off.worst.part > 0.5 {
		near++
	}
	from, to := near, near
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
