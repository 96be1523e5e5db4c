package plancheck

import (
	"math"

	"trenchwright/base/measure"
	"trenchwright/job"
)

// pinReach is how near a joint a pin has to stand to be the joint's own.
const pinReach = nm(measure.Millimetre)

// meets is how far, in nanometres, a level that the job fixes may be off where something lies: levels that lie were rounded.
const meets = float64(10 * measure.Micrometre)

// checkPins: every level that the job fixes is kept, to the nanometre; where something lies, to what nobody could measure, or a finding
// tells of it.
func (c *checker) checkPins() {
	if c.job == nil || len(c.plan.Grades) == 0 {
		return
	}
	metres := c.coordinateUnit()
	for i := range c.job.Levels.Pins {
		p := &c.job.Levels.Pins[i]
		l, stands := c.legs[p.Leg], c.stands[p.Leg]
		if l == nil || len(stands) == 0 {
			continue
		}
		z, u := c.wallAt(l, stands, nm(p.At))
		if end := stands[len(stands)-1]; (end.at - nm(p.At)).abs() <= pinReach {
			z += float64(c.lastStep(l))
		}
		want, ok := c.wallOf(u, metresUp(p.Level*metres), p.Of)
		slack := 1.01
		if c.liesOn() {
			slack = meets
		}
		if ok && math.Abs(z-float64(want)) > slack && !(c.liesOn() && c.anyFinding(func(f finding) bool { return f.ID == "planner.pin-lies" })) {
			c.say("leg %s: pin %s asks for a wall top of %v at %v, it lies %.3f nm off", l.Name, p.ID, want, nm(p.At), z-float64(want))
		}
	}
	for i := range c.plan.Legs {
		l := &c.plan.Legs[i]
		stands := c.stands[l.Name]
		if len(stands) == 0 {
			continue
		}
		c.checkEndLevel(l, l.From, stands[0].wall, metres)
		c.checkEndLevel(l, l.To, stands[len(stands)-1].wall+elevation(c.lastStep(l)), metres)
	}
}

// lastStep is the step from the last unit of a leg to what is behind it.
func (c *checker) lastStep(l *leg) nm {
	runs := c.runs[l.Name]
	return runs[len(runs)-1].step()
}

func (c *checker) checkEndLevel(l *leg, node string, wall elevation, metres float64) {
	z, ok := c.nodeLevel(node, metres)
	if n := c.nodes[node]; ok && n != nil && n.Made == "casting" {
		if off := float64(wall-z) - c.overNode(n, l); math.Abs(off) > 2 {
			c.say("leg %s: its wall top at the casting at %s lies at %v, %.1f nm off the plane that the job fixes at %v", l.Name, node, wall, off, z)
		}
		return
	}
	if ok && z != wall {
		c.say("leg %s: its wall top at %s lies at %v, the job fixes it at %v", l.Name, node, wall, z)
	}
}

// wallAt is the wall top of a leg at a chainage in nanometres, and the unit there. What stands within a millimetre of a
// joint is the joint's.
func (c *checker) wallAt(l *leg, stands []stand, ch nm) (float64, *unit) {
	u := stands[0].unit
	for _, s := range stands {
		if (s.at - ch).abs() <= pinReach {
			return float64(s.wall), s.unit
		}
		if s.at <= ch {
			u = s.unit
		}
	}
	return float64(stands[0].wall) + c.axes[l.Name].slope.rise(ch, 0), u
}

// wallOf is the wall top of a unit that has something else at level z.
func (c *checker) wallOf(u *unit, z elevation, of string) (elevation, bool) {
	m := c.makes[u.Supply]
	switch {
	case of == "wall":
		return z, true
	case m == nil:
		return 0, false
	case of == "invert":
		return z + elevation(m.Unit.Inner.Value.Height), m.Unit.Inner.Known
	}
	return z - elevation(m.Cover.Thickness.Value), m.Cover != nil && m.Cover.Thickness.Known
}

// nodeLevel is the wall top that the job fixes at a node: of the trench that the run goes on from, or of the node.
func (c *checker) nodeLevel(id string, metres float64) (elevation, bool) {
	d := c.declaredNode(id)
	switch {
	case d == nil:
	case d.End != nil && d.End.Level != nil:
		return metresUp(*d.End.Level * metres), true
	case d.Level != nil:
		return metresUp(*d.Level * metres), true
	}
	return 0, false
}

// stretchAt is what the job says of a place on a leg; nil: nothing.
func (c *checker) stretchAt(l *leg, ch nm) *job.LevelStretch {
	for i := range c.job.Levels.Stretches {
		s := &c.job.Levels.Stretches[i]
		if s.Leg == l.Name && nm(s.From) <= ch && (s.To == 0 || ch <= nm(s.To)) {
			return s
		}
	}
	return nil
}

// checkLimits: no unit lies steeper than the job allows, and each falls as much as it asks, the way it asks.
func (c *checker) checkLimits() {
	if c.job == nil {
		return
	}
	for i := range c.plan.Legs {
		l := &c.plan.Legs[i]
		stands := c.stands[l.Name]
		c.checkApart(l, stands)
		for k := range len(stands) - 1 {
			r := c.runAt(l, stands, k)
			if r == nil {
				continue
			}
			if r.Stepped {
				c.checkStep(l, stands[k], stands[k+1], r)
			} else {
				c.checkLimit(l, stands[k], stands[k+1], r, c.steps(l, k-1) || c.steps(l, k+1))
			}
		}
	}
}

func (c *checker) checkLimit(l *leg, from, to stand, r *gradeRun, besideStep bool) {
	least, most, toward, lies := c.job.Levels.Least, c.job.Levels.Most, "", c.job.Levels.Grades
	if s := c.stretchAt(l, from.at+(to.at-from.at)/2); s != nil {
		if s.Least.Known {
			least = s.Least
		}
		if s.Most.Known {
			most = s.Most
		}
		if s.Grades != "" {
			lies = s.Grades
		}
		toward = s.Toward
	}
	run := float64(r.ToMM - r.FromMM)
	fall := -float64(r.Rise) // up-chainage
	if toward == l.From {
		fall = -fall
	}
	told := func(g measure.Grade) float64 { return ratio(g) * run }
	if most.Known && math.Abs(fall) > told(most.Value)+1.01 {
		c.say("%s: the grade %s is steeper than %s", from.unit.Mark, r.Grade, most.Value)
	}
	if g := c.stepGrade(l, from, to); (lies == job.SteppedUnits || besideStep && c.job.Levels.SteppedBeyond.Known) && math.Abs(float64(r.Rise)-g*run) <= 1.01 {
		return // the unit beside a node, where none steps
	}
	if lies == job.SteppedUnits {
		c.say("%s: it lies on the grade %s, the job asks for level units and steps", from.unit.Mark, r.Grade)
		return
	}
	if beyond := c.job.Levels.SteppedBeyond; beyond.Known && math.Abs(fall) > told(beyond.Value)+1.01 {
		c.say("%s: the grade %s is steeper than %s, where the job asks for steps", from.unit.Mark, r.Grade, beyond.Value)
	}
	switch {
	case !least.Known:
	case toward != "" && fall < told(least.Value)-1.01:
		c.say("%s: the grade is %s, it has to fall by %s towards %s", from.unit.Mark, r.Grade, least.Value, toward)
	case toward == "" && math.Abs(fall) < told(least.Value)-1.01 && !c.flatIsSaid(l):
		c.say("%s: the grade %s is flatter than the least fall %s, and no finding says so", from.unit.Mark, r.Grade, least.Value)
	}
}

// stepGrade is the grade of units that step between two places: level where the job states none.
func (c *checker) stepGrade(l *leg, from, to stand) float64 {
	g := c.job.Levels.StepGrade
	if s := c.stretchAt(l, from.at+(to.at-from.at)/2); s != nil && s.StepGrade.Known {
		g = s.StepGrade
	}
	return ratio(g.Value)
}

// checkStep: a unit steps where the job asks for it or lets nothing lie so steep, at the grade stated, by no more than stated.
func (c *checker) checkStep(l *leg, from, to stand, r *gradeRun) {
	asked, most := c.job.Levels.Grades, c.job.Levels.StepMost
	if s := c.stretchAt(l, from.at+(to.at-from.at)/2); s != nil {
		if s.Grades != "" {
			asked = s.Grades
		}
		if s.StepMost.Known {
			most = s.StepMost
		}
	}
	if asked != job.SteppedUnits && !c.job.Levels.SteppedBeyond.Known {
		c.say("%s: it steps, and the job does not ask for steps", from.unit.Mark)
	}
	if run := float64(r.ToMM - r.FromMM); math.Abs(float64(r.Rise)-c.stepGrade(l, from, to)*run) > 1.01 {
		c.say("%s: it steps and rises by %v in %v, its grade makes %v", from.unit.Mark, r.Rise, r.ToMM-r.FromMM, nm(math.Round(c.stepGrade(l, from, to)*run)))
	}
	switch {
	case r.Step == nil:
		c.say("%s: it steps, and nothing says by how much", from.unit.Mark)
	case most.Known && r.Step.abs() > nm(most.Value)+1:
		c.say("%s: a step of %v behind it, at most %v is allowed", from.unit.Mark, *r.Step, nm(most.Value))
	case !most.Known && !c.anyFinding(func(f finding) bool { return f.Kind == "not checked" && mentions([]string{f.Text}, "limit of steps") }):
		c.say("%s: a step of %v behind it, no limit of steps is known and no finding says NOT CHECKED", from.unit.Mark, *r.Step)
	}
	if !c.anyFinding(func(f finding) bool { return f.ID == "planner.step-joint" }) {
		c.say("%s: it steps, and no finding says that no detail of such a joint is known", from.unit.Mark)
	}
}

// checkApart: breaks of grade in straight stretches stand as many units apart as the job asks, or a finding says that they
// do not.
func (c *checker) checkApart(l *leg, stands []stand) {
	last := -1
	for k := 1; k < len(stands)-1; k++ {
		a, b := c.runAt(l, stands, k-1), c.runAt(l, stands, k)
		lies := c.job.Levels.Grades
		if s := c.stretchAt(l, stands[k].at); s != nil && s.Grades != "" {
			lies = s.Grades
		}
		if a == nil || b == nil || a == b || a.Grade == b.Grade || a.Stepped || b.Stepped || lies == job.FollowGround {
			continue
		}
		if last >= 0 && k-last < c.job.Levels.Apart && !c.anyFinding(func(f finding) bool { return f.ID == "profile.apart" && f.Where.Leg == l.Name }) {
			c.say("set-out %s: the grade breaks %d units behind the break before, %d are asked for and no finding says so", stands[k].Place, k-last, c.job.Levels.Apart)
		}
		last = k
	}
}

// flatIsSaid tells whether a finding speaks of the fall of a leg.
func (c *checker) flatIsSaid(l *leg) bool {
	return c.anyFinding(func(f finding) bool {
		return (f.Where.Leg == l.Name || f.Where.Leg == "") && f.Kind != "note" && mentions([]string{f.Text}, "least fall", "direction of fall", "which way")
	})
}
