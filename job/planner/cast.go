package planner

import (
	"math"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/place/route"
	"trenchwright/solve/profile"
)

// A casting is one rigid plane (layout.md §7). Its drawing gives one fall, towards or away from one of its arms; square to
// that arm it is level. Along every other arm it falls by the cosine of the angle between them, and across it by the sine.

// plane is how a casting lies.
type plane struct {
	fall   measure.Grade
	toward measure.Angle // bearing of the arm that it falls to
}

// castPlane is the plane of the casting at a node; why it cannot be told, else "".
func (b *build) castPlane(n *route.Node) (plane, string) {
	d := b.node(n.ID)
	f, ok := b.fitting(d.Fitting)
	level := plane{fall: measure.Grade{Run: 1}}
	if !ok || !f.Fall.Known || f.Fall.Value == "level" {
		return level, ""
	}
	text, name, away := f.Fall.Value, "", false
	for _, word := range []string{" towards ", " toward ", " away from "} {
		if before, after, found := strings.Cut(text, word); found {
			text, name, away = before, strings.TrimPrefix(strings.TrimSpace(after), "the "), word == " away from "
			break
		}
	}
	said, err := measure.ParseGrade(strings.TrimSpace(text))
	if err != nil || said.Value.Run == 0 {
		return level, "it is no grade"
	}
	if said.Value.Rise == 0 {
		return level, ""
	}
	if name == "" {
		return level, "it says towards none of its arms"
	}
	arm := slices.IndexFunc(f.Arms, func(a job.Arm) bool { return a.Name == name })
	order := armOrder(*n, b.net.Network, d.Through)
	if arm < 0 || arm >= len(order) {
		return level, "no arm of it is named " + name
	}
	p := plane{fall: said.Value, toward: n.Arms[order[arm]].Bearing}
	if p.fall.Rise < 0 {
		p.fall.Rise, away = -p.fall.Rise, !away
	}
	if away {
		p.toward += 180 * measure.Degree
	}
	return p, ""
}

// along is the grade of the plane along a bearing, rising positive, and its fall to the right, looking that way. Grades
// along and square to the fall are exact; others are rounded to 1e-9.
func (p plane) along(bearing measure.Angle) (grade, cross measure.Grade) {
	turn := (bearing - p.toward).Radians()
	return p.times(-math.Cos(turn)), p.times(-math.Sin(turn))
}

func (p plane) times(share float64) measure.Grade {
	const exact = 1e-9
	g := p.fall
	switch {
	case g.Rise == 0 || math.Abs(share) < exact:
		return measure.Grade{Run: 1}
	case math.Abs(share) > 1-exact:
		g.Rise *= measure.Length(math.Copysign(1, share))
		return g
	}
	return measure.Grade{Rise: measure.Length(math.Round(share * ratio(g) * 1e9)), Run: 1_000_000_000}
}

// mouth is one arm of the casting at a node: how it lies there, and how high over the node the unit at its face does.
func (b *build) mouth(p plane, arm route.Arm) profile.Arm {
	grade, cross := p.along(arm.Bearing)
	face := b.axes[arm.Leg].end
	if arm.Away {
		face = b.axes[arm.Leg].start
	}
	return profile.Arm{
		Leg: arm.Leg, End: !arm.Away, Rise: portion(face.setback-face.gap, grade.Rise, grade.Run),
		Cast: &profile.Cast{Grade: grade, Cross: cross, Change: b.mouthChange(arm.Leg)},
	}
}

// mouthChange is the most that the grade of a leg may differ from that of the casting at its end: what the joint's one budget
// leaves at the gap to the casting. nil: no window that this gap lies in is on file.
func (b *build) mouthChange(leg int) *measure.Grade {
	s := b.legSupply(leg)
	w, g, h := s.Joint.Gap.Value, s.endGap(), s.Unit.Outer.Value.Height
	if w.Min == w.Max || h == 0 || g < w.Min || g > w.Max {
		return nil
	}
	sh := b.shares(s)
	return &measure.Grade{Rise: 2 * max(0, room(g, w)-sh.square-sh.reserve), Run: h}
}

// rise is how high the end of a leg lies over its node.
func (q heights) rise(leg int, end bool) measure.Length {
	for _, n := range q.problem.Nodes {
		for _, a := range n.Arms {
			if a.Leg == leg && a.End == end {
				return a.Rise
			}
		}
	}
	return 0
}

// sayCasts says of every casting what of its fall nobody can read, and where nothing on file limits the grade beside it.
func (b *build) sayCasts() {
	for i := range b.net.Nodes {
		n := &b.net.Nodes[i]
		d := b.node(n.ID)
		f, ok := b.fitting(d.Fitting)
		if !ok {
			continue
		}
		w := finding.Where{Path: "nodes." + n.ID}
		if _, why := b.castPlane(n); why != "" {
			b.add(finding.Finding{ID: "planner.cast-fall", Kind: finding.NotChecked, Where: w, Ask: "the supplier",
				Text: "NOT CHECKED: the fall of fitting " + f.ID + " at " + n.ID + " (" + f.Fall.Value + ") is not held, for " + why + ": it is laid level. Ask: the supplier",
				Try:  "a grade and the name of an arm, as in 0.5 % towards branch"})
		}
		for _, a := range n.Arms {
			if s := b.legSupply(a.Leg); b.mouthChange(a.Leg) == nil {
				b.add(finding.Finding{ID: "planner.cast-window", Kind: finding.NotChecked, Where: w, Ask: "the supplier",
					Text: b.tell("NOT CHECKED: no window of the gap of %s between the last %s of leg %s and fitting %s on file, so nothing limits the change of grade there. Ask: the supplier", s.endGap(), wording.Unit, b.leg(a.Leg).ID, f.ID)})
			}
		}
	}
}
