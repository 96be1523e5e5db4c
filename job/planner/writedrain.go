package planner

import (
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// writeDrain lists the grades of the drain on a leg, each from place to place.
func (b *build) writeDrain(leg int, rows []SetOut) {
	if b.pipe == nil {
		return
	}
	l, z := &b.pipe.problem.Legs[leg], b.pipe.solution.Levels[leg]
	wall := b.job.Levels.Drain.Wall
	for _, r := range b.pipe.solution.Runs {
		if r.Leg != leg {
			continue
		}
		g := DrainGrade{Leg: l.Name, From: b.drainPlace(leg, r.From, rows), To: b.drainPlace(leg, r.To, rows),
			FromMM: measure.MM(l.Joints[r.From].At), ToMM: measure.MM(l.Joints[r.To].At), Starts: z[r.From].Metres(), Ends: z[r.To].Metres(), Grade: r.Grade.Percent(4), OnStep: r.OnStep}
		if wall.Known {
			for k, j := range [2]int{r.From, r.To} {
				invert := z[j] + wall.Value
				g.Invert[k] = metresOf(&invert)
			}
		}
		b.plan.Drain.Grades = append(b.plan.Drain.Grades, g)
	}
}

// drainPlace is the set-out's name of a joint of the drain; of an outlet inside a unit the outlet's.
func (b *build) drainPlace(leg, joint int, rows []SetOut) string {
	way := b.heights.legs[leg]
	if k, old := slices.BinarySearch(b.pipe.at[leg], joint); old && way.joint[k] >= 0 {
		return rows[way.joint[k]].Place
	}
	j := &b.pipe.problem.Legs[leg].Joints[joint]
	if j.Outlet != "" {
		return "outlet " + j.Outlet
	}
	return b.tell("%s %s", wording.Chainage, wording.Far(j.At))
}

// writeDrainLows lists the lows of the drain; one without an outlet is a finding. What else the solver says of it is passed on.
func (b *build) writeDrainLows() {
	if b.pipe == nil {
		return
	}
	b.drainBranches()
	for _, low := range b.pipe.solution.Lows {
		l := &b.pipe.problem.Legs[low.Leg]
		from, to := l.Joints[low.From].At, l.Joints[low.To].At
		b.plan.Drain.Lows = append(b.plan.Drain.Lows, DrainLow{Leg: l.Name, FromMM: measure.MM(from), ToMM: measure.MM(to), Level: low.Level.Metres(), Drains: measure.MM(low.Drains), Outlet: low.Outlet})
		if low.Outlet != "" {
			continue
		}
		b.add(finding.Finding{ID: "planner.drain-low", Kind: finding.Attention, Where: at(l.Name, from), Rule: "every low of the drain has a named outlet or sump",
			Text: b.tell("%s of drain run to a low with no outlet named", wording.Far(low.Drains)), Value: b.tell("its underside at level %s", wording.Far(low.Level)),
			Try: "name an outlet or a sump there, or which way the drain runs on"})
	}
	for _, f := range b.pipe.solution.Findings {
		if which, ok := strings.CutPrefix(f.ID, "profile."); ok && which != "low" {
			f.ID, f.Text = "planner.drain-"+which, "the drain: "+f.Text
			b.add(f)
		}
	}
}
