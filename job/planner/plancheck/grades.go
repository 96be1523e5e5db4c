package plancheck

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job"
)

// usualSetting is the step of grades where the job names none: 0.05 %, as lasers are set.
var usualSetting = measure.Grade{Rise: 1, Run: 2000}

// stand is a place of a leg where levels stand: a row of its set-out. At a node that the run goes through, they are the
// levels of the joint there, on the node itself, a set-back away from the row's own chainage.
type stand struct {
	*setOut
	at     nm        // chainage that the levels belong to
	wall   elevation // wall top on the axis, of the unit behind it
	before elevation // and of the unit before it
	unit   *unit     // behind it, at a leg's end the last one: its figures are what stands here
	last   *unit     // before it, at a leg's start the first one
}

// checkGrades: the grades of a leg run on from its first place to its last, each as steep as it says, and every wall top
// lies on them.
func (c *checker) checkGrades() {
	c.stands = map[string][]stand{}
	rows := map[string][]*setOut{}
	for i := range c.plan.SetOut {
		s := &c.plan.SetOut[i]
		rows[s.Leg] = append(rows[s.Leg], s)
		if s.Levels != nil && len(c.runs[s.Leg]) == 0 {
			c.say("set-out %s: it has levels, and leg %s has no grades", s.Place, s.Leg)
		}
	}
	for _, r := range c.plan.Grades {
		if c.legs[r.Leg] == nil {
			c.say("grades of leg %s, which is not in the plan", r.Leg)
		}
	}
	for i := range c.plan.Legs {
		l := &c.plan.Legs[i]
		switch runs := c.runs[l.Name]; {
		case len(runs) == 0 && len(c.plan.Grades) > 0:
			c.say("leg %s has no grades, other legs have", l.Name)
		case len(runs) > 0 && len(rows[l.Name]) < 2:
			c.say("leg %s has grades and no set-out", l.Name)
		case len(runs) > 0:
			c.checkRuns(l, rows[l.Name])
			c.checkWalls(l, rows[l.Name])
		}
	}
}

// checkRuns: grades lie one behind the other, from place to place, and say what their rise makes.
func (c *checker) checkRuns(l *leg, rows []*setOut) {
	runs := c.runs[l.Name]
	first, last := rows[0], rows[len(rows)-1]
	sum := nm(0)
	for i, r := range runs {
		if sum += r.Rise; i < len(runs)-1 {
			sum += r.step()
		}
		fromPlace, fromMM, within := first.Place, c.startOf(l, first), 1+c.rounding(l)
		if i > 0 {
			fromPlace, fromMM, within = runs[i-1].To, runs[i-1].ToMM, 0
		}
		if r.From != fromPlace || (r.FromMM-fromMM).abs() > within {
			c.say("leg %s: a grade starts at %s, %v; it should start at %s, %v", l.Name, r.From, r.FromMM, fromPlace, fromMM)
		}
		if r.ToMM <= r.FromMM {
			c.say("leg %s: the grade from %s runs from %v to %v", l.Name, r.From, r.FromMM, r.ToMM)
			continue
		}
		toPlace, toMM := last.Place, c.endOf(l, last)
		if i < len(runs)-1 {
			toPlace, toMM = r.To, r.ToMM
			if k := slices.IndexFunc(rows, func(s *setOut) bool { return s.Place == r.To }); k >= 0 {
				toMM = rows[k].levelled()
			} else {
				c.say("leg %s: a grade ends at %s, which is no place of its set-out", l.Name, r.To)
			}
		}
		if r.To != toPlace || (r.ToMM-toMM).abs() > 1+c.rounding(l) {
			c.say("leg %s: a grade ends at %s, %v; it should end at %s, %v", l.Name, r.To, r.ToMM, toPlace, toMM)
		}
		c.checkSteepness(r)
	}
	if sum != l.SlopeRise {
		c.say("leg %s: it rises by %v, its grades make %v", l.Name, l.SlopeRise, sum)
	}
}

// startOf is where the levels of a leg begin: at its node where the run goes through there, else at its first unit.
func (c *checker) startOf(l *leg, first *setOut) nm {
	if c.goesThrough(l.From) {
		return 0
	}
	return first.levelled()
}

func (c *checker) endOf(l *leg, last *setOut) nm {
	if c.goesThrough(l.To) {
		return l.NodeLength
	}
	return last.levelled()
}

// goesThrough tells whether the units of two legs meet each other at a node.
func (c *checker) goesThrough(id string) bool {
	n := c.nodes[id]
	return n != nil && (n.Made == "mitred" || n.Made == "joint")
}

// checkSteepness: the printed grade is rise over run as far as it has decimals, and a whole number of the step that lasers
// are set by where it says so. Both ends of a grade are levels in whole nanometres, so its rise is within one.
func (c *checker) checkSteepness(r *gradeRun) {
	run := float64(r.ToMM - r.FromMM)
	text, ok := strings.CutSuffix(r.Grade, " %")
	said, err := strconv.ParseFloat(text, 64)
	if !ok || err != nil {
		c.say("leg %s: the grade from %s is %q", r.Leg, r.From, r.Grade)
		return
	}
	_, decimals, _ := strings.Cut(text, ".")
	half, _ := strconv.ParseFloat(fmt.Sprintf("5e-%d", len(decimals)+3), 64) // half of the last decimal, of 1 in 100
	if math.Abs(said/100*run-float64(r.Rise)) > half*run*(1+1e-9)+1 {
		c.say("leg %s: the grade from %s is said to be %s, it rises by %v in %v", r.Leg, r.From, r.Grade, r.Rise, r.ToMM-r.FromMM)
	}
	if c.job == nil || !r.OnStep {
		return
	}
	step := usualSetting
	if s := c.job.Levels.Setting; s.Known {
		step = s.Value
	}
	one := ratio(step)
	if off := math.Abs(float64(r.Rise) - math.Round(float64(r.Rise)/run/one)*one*run); off > 1.01 {
		c.say("leg %s: the grade from %s is no whole number of %s: it is %.3f nm off in %v", r.Leg, r.From, step, off, r.ToMM-r.FromMM)
	}
}

func ratio(g measure.Grade) float64 {
	if g.Rise == 0 {
		return 0
	}
	return float64(g.Rise) / float64(g.Run)
}

// checkWalls: the wall tops of every row lie on the grades; the level of a row is that of its own chainage.
func (c *checker) checkWalls(l *leg, rows []*setOut) {
	units := c.row[l.Name]
	if len(rows) != len(units)+1 {
		return // spoken of by the set-out
	}
	var out []stand
	for k, s := range rows {
		st := stand{setOut: s, at: s.levelled(), unit: units[min(k, len(units)-1)], last: units[max(k-1, 0)]}
		switch k {
		case 0:
			st.at = c.startOf(l, s)
		case len(rows) - 1:
			st.at = c.endOf(l, s)
		}
		var ok, okBefore bool
		if s.Levels == nil || s.Level == nil {
			c.say("set-out %s has no levels, though leg %s has grades", s.Place, l.Name)
			return
		}
		st.wall, ok = middle(s.Levels.Walls[2], s.Levels.Walls[3])
		st.before, okBefore = middle(s.Levels.Walls[0], s.Levels.Walls[1])
		if !ok || !okBefore {
			c.say("set-out %s: its wall tops are not known", s.Place)
			return
		}
		out = append(out, st)
	}
	c.stands[l.Name] = out
	lie, base := c.axes[l.Name].slope, float64(out[0].wall)
	on := func(what string, place string, z elevation, ch nm, allowed float64) {
		if off := float64(z) - base - lie.rise(ch, 1+c.rounding(l)); math.Abs(off) > allowed {
			c.say("set-out %s: %s at %v lies %.3f nm off the grades", place, what, z, off)
		}
	}
	again := 0.0 // what is to come was planned from levels that lie, and were rounded before
	if c.liesOn() {
		again = 1
	}
	for k, st := range out {
		on("its wall top", st.Place, st.wall, st.at, 1.01+again)
		on("its level", st.Place, *st.Level, st.levelled(), 2.01+again) // between two levels that are rounded, rounded itself
		step := nm(0)
		if r := c.runAt(l, out, k-1); r != nil && k < len(out)-1 {
			step = r.step()
		}
		if nm(st.wall-st.before) != step {
			c.say("set-out %s: the unit before it ends at %v, the one behind starts at %v, and the step there is said to be %v", st.Place, st.before, st.wall, step)
		}
	}
}

// liesOn tells whether the job says that units lie on levels of their own, which all others meet.
func (c *checker) liesOn() bool {
	return c.job != nil && slices.ContainsFunc(c.job.Route.Legs, func(d job.Leg) bool { return d.Built != nil && len(d.Built.Bedded) > 0 })
}

// middle is the wall top on the axis of a unit whose walls lie at two levels.
func middle(left, right *elevation) (elevation, bool) {
	if left == nil || right == nil {
		return 0, false
	}
	return (*left + *right) / 2, true
}

// runAt is the grade that unit k of a leg lies on; nil beyond its ends.
func (c *checker) runAt(l *leg, stands []stand, k int) *gradeRun {
	if k < 0 || k+1 >= len(stands) {
		return nil
	}
	mid := stands[k].at + (stands[k+1].at-stands[k].at)/2
	for _, r := range c.runs[l.Name] {
		if r.FromMM <= mid && mid <= r.ToMM {
			return r
		}
	}
	return nil
}

// gradeAt is the grade of unit k as rise over run, up-chainage.
func (c *checker) gradeAt(l *leg, stands []stand, k int) float64 {
	if r := c.runAt(l, stands, k); r != nil && r.ToMM > r.FromMM {
		return float64(r.Rise) / float64(r.ToMM-r.FromMM)
	}
	return 0
}

// checkLevel: on a leg without grades of its own a wall top lies on the straight line between the levels of its two nodes.
func (c *checker) checkLevel(l *leg, s setOut, a axis) {
	from, to := c.nodes[l.From], c.nodes[l.To]
	if from == nil || to == nil {
		return
	}
	if from.Level == nil || to.Level == nil {
		if s.Level != nil {
			c.say("set-out %s has a level, and a node of leg %s has none", s.Place, l.Name)
		}
		return
	}
	if s.Level == nil {
		c.say("set-out %s has no level, though both nodes of leg %s have one", s.Place, l.Name)
		return
	}
	rise := nm(*to.Level - *from.Level)
	if want := *from.Level + elevation(math.Round(float64(rise)*float64(s.Chainage)/float64(l.NodeLength))); apart(want, *s.Level) > 2 {
		c.say("set-out %s: level %v, between its nodes it is %v", s.Place, *s.Level, want)
	}
	if rise != l.SlopeRise {
		c.say("leg %s: it rises by %v, its nodes make %v", l.Name, l.SlopeRise, rise)
	}
}
