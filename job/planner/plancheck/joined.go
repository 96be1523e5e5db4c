package plancheck

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job"
)

// arm is the end of a leg at a node.
type arm struct {
	leg   *leg
	wall  elevation // of the last place of its levels
	grade float64   // away from the node, rising positive
	run   float64   // of that grade, in nanometres
	width float64   // of the unit there, in nanometres; 0: not on file
}

// levelled are the ends of legs at a node whose levels are known.
func (c *checker) levelled(n *node) map[string]arm {
	out := map[string]arm{}
	for _, name := range n.Legs {
		l, stands := c.legs[name], c.stands[name]
		if l == nil || len(stands) < 2 {
			continue
		}
		k := len(stands) - 2
		a := arm{leg: l, wall: stands[k+1].before + elevation(c.lastStep(l)), grade: -c.gradeAt(l, stands, k)}
		if l.From == n.ID {
			k = 0
			a.wall, a.grade = stands[0].wall, c.gradeAt(l, stands, 0)
		}
		if r := c.runAt(l, stands, k); r != nil {
			a.run = float64(r.ToMM - r.FromMM)
		}
		if s := c.supplies[stands[k].unit.Supply]; s != nil && s.OuterWidth != nil {
			a.width = float64(*s.OuterWidth)
		}
		out[name] = a
	}
	return out
}

// checkMeetings: legs meet at one level. A casting is rigid, so that its mouths lie on one plane: level, or as its drawing
// has it. A mitred bend turns on one
// grade, and its lip is within what the contract states.
func (c *checker) checkMeetings() {
	for i := range c.plan.Nodes {
		n := &c.plan.Nodes[i]
		arms := c.levelled(n)
		if n.Made == "sawn" {
			c.checkSawnLevel(n, arms)
		}
		if len(arms) < 2 || !c.goesThrough(n.ID) && n.Made != "casting" {
			continue
		}
		first, known := arm{}, false
		for _, name := range n.Legs {
			a, ok := arms[name]
			if !ok {
				continue
			}
			if !known {
				first, known = a, true
			}
			if up := c.overNode(n, a.leg) - c.overNode(n, first.leg); up != 0 {
				if off := float64(a.wall-first.wall) - up; math.Abs(off) > 3 { // each end is rounded, and so is the fall along a slanting arm
					c.say("node %s: leg %s lies there at %v, leg %s at %v: that is %.1f nm off the plane of the casting", n.ID, first.leg.Name, first.wall, a.leg.Name, a.wall, off)
				}
				continue
			}
			if a.wall != first.wall {
				c.say("node %s: leg %s lies there at %v, leg %s at %v", n.ID, first.leg.Name, first.wall, a.leg.Name, a.wall)
			}
		}
		if n.Made == "mitred" && n.Bend != nil {
			c.checkLip(n, arms)
		}
	}
}

// checkSawnLevel: a branch that is sawn into a straight wall starts at the level of that wall, or a finding says that it does not.
func (c *checker) checkSawnLevel(n *node, arms map[string]arm) {
	if c.job == nil || len(arms) != 1 || c.anyFinding(func(f finding) bool { return f.ID == "planner.branch-level" && f.Where.Path == "nodes."+n.ID }) {
		return
	}
	d := c.declaredNode(n.ID)
	if d == nil || d.Sawn == nil {
		return
	}
	main, stands, own := c.legs[d.Sawn.Into], c.stands[d.Sawn.Into], arms[n.Legs[0]]
	axis, ok := c.axes[d.Sawn.Into]
	if !ok || main == nil || c.nodes[main.From] == nil || len(stands) < 2 || axis.curved() {
		return
	}
	ch := at(n.At).minus(at(c.nodes[main.From].At)).length() / axis.grid * 1e9
	k := 0
	for k < len(stands)-2 && float64(stands[k+1].at) <= ch {
		k++
	}
	from, to := stands[k], stands[k+1]
	share := (ch - float64(from.at)) / float64(to.at-from.at)
	level, lean := float64(from.wall)+share*float64(to.before-from.wall), 0.0
	for _, s := range c.job.Levels.Stretches { // which wall it is decides only the sign
		if s.Leg == main.Name && s.From <= measure.Length(ch) && (s.To == 0 || measure.Length(ch) <= s.To) {
			if s.Crossfall.Known && from.unit != nil {
				lean = float64(s.Crossfall.Value.Rise) / float64(s.Crossfall.Value.Run) * c.widthOf(from.unit) / 2
			}
			break
		}
	}
	if off := math.Abs(math.Abs(float64(own.wall)-level) - math.Abs(lean)); off > 1000 { // a micrometre: where a node stands on the leg is rounded in grid metres
		c.say("node %s: leg %s is sawn into leg %s and starts %.0f nm off the wall there, and nothing says so", n.ID, own.leg.Name, main.Name, off)
	}
}

func (c *checker) widthOf(u *unit) float64 {
	if s := c.supplies[u.Supply]; s != nil && s.OuterWidth != nil {
		return float64(*s.OuterWidth)
	}
	return 0
}

// overNode is how far the mouth of a casting that a leg stands at lies over the node, in nanometres. The drawing's text is
// read here by words of its own: "0.5 % towards branch", "1 % away from in".
func (c *checker) overNode(n *node, l *leg) float64 {
	if n.Made != "casting" || c.job == nil {
		return 0
	}
	d := c.declaredNode(n.ID)
	var fit *job.Fitting
	gap := 0.0
	for i := range c.job.Supplies {
		s := &c.job.Supplies[i]
		for k := range s.Fittings {
			if s.Fittings[k].ID == d.Fitting {
				fit = &s.Fittings[k]
			}
		}
	}
	if m := c.makes[l.Supply]; m != nil {
		gap = float64(m.Joint.Gap.Value.Nominal)
		if m.Joint.EndGap.Known {
			gap = float64(m.Joint.EndGap.Value)
		}
	}
	if fit == nil {
		return 0
	}
	words := strings.Fields(fit.Fall.Value)
	var percent float64
	if len(words) < 4 || words[1] != "%" {
		return 0
	}
	if _, err := fmt.Sscan(words[0], &percent); err != nil {
		return 0
	}
	if words[2] == "away" {
		percent = -percent
	}
	to := c.legOfArm(n, d, fit, words[len(words)-1])
	k, own := slices.Index(n.Legs, to), slices.Index(n.Legs, l.Name)
	if k < 0 || own < 0 {
		return 0
	}
	setback := float64(l.StartSetback)
	if l.To == n.ID {
		setback = float64(l.EndSetback)
	}
	return -percent / 100 * (setback - gap) * math.Cos((n.Headings[own]-n.Headings[k])*math.Pi/180)
}

// legOfArm is the leg that stands at an arm of a tee, a cross or a bend: the two that go straight on are through and
// through-2, or in and out, by the order in which the job declares its legs; then the branches by the same order.
func (c *checker) legOfArm(n *node, d *job.Node, fit *job.Fitting, name string) string {
	var straight, branches []string
	for _, l := range c.job.Route.Legs {
		if slices.Contains(n.Legs, l.ID) {
			branches = append(branches, l.ID)
		}
	}
	move := func(id string) {
		if k := slices.Index(branches, id); k >= 0 {
			straight, branches = append(straight, id), slices.Delete(branches, k, k+1)
		}
	}
	var pairs [][2]int // of arms by their bearing
	switch len(n.Legs) {
	case 2:
		pairs = [][2]int{{0, 1}}
	case 4:
		pairs = [][2]int{{0, 2}, {1, 3}}
	default:
		for i := range n.Legs {
			for k := range i {
				if math.Abs(math.Remainder(n.Headings[i]-n.Headings[k]-180, 360)) < 20 {
					pairs = append(pairs, [2]int{k, i})
				}
			}
		}
	}
	before := slices.Clone(branches)
	if len(d.Through) == 2 {
		pairs = [][2]int{{slices.Index(n.Legs, d.Through[0]), slices.Index(n.Legs, d.Through[1])}}
	}
	for _, p := range pairs {
		for _, id := range before { // as the job declares them
			if id == n.Legs[p[0]] || id == n.Legs[p[1]] {
				move(id)
			}
		}
	}
	all := append(straight, branches...)
	if k := slices.IndexFunc(fit.Arms, func(a job.Arm) bool { return a.Name == name }); k >= 0 && k < len(all) {
		return all[k]
	}
	return ""
}

// checkLip: with the grades in and out of a mitre, both in the direction of travel, one wall's faces are off by
// |in + out|·W/2·tan α, the other's by as much the other way.
func (c *checker) checkLip(n *node, arms map[string]arm) {
	var in, out arm
	var okIn, okOut bool
	if u := c.units[n.Bend.In]; u != nil {
		in, okIn = arms[u.Leg]
	}
	if u := c.units[n.Bend.Out]; u != nil {
		out, okOut = arms[u.Leg]
	}
	if !okIn || !okOut {
		return
	}
	if math.Abs(in.grade+out.grade) > 1/in.run+1/out.run { // levels are whole nanometres
		c.say("node %s: the run comes in at %.6f %% and goes out at %.6f %%; a bend does not change the grade", n.ID, -100*in.grade, 100*out.grade)
	}
	if c.job == nil || in.width == 0 {
		return
	}
	lip := math.Abs(out.grade-in.grade) * in.width / 2 * tangent(n.Bend.SawAngle)
	switch limit := c.job.Rules.LipLimit; {
	case limit.Known && lip > float64(limit.Value)+2:
		c.say("node %s: a lip of %v, the contract allows %v", n.ID, nm(math.Ceil(lip)), nm(limit.Value))
	case !limit.Known && !c.anyFinding(func(f finding) bool { return f.Kind == "not checked" && mentions([]string{f.Text}, "lip") }):
		c.say("node %s: a lip of %v, no limit for it is known and no finding says NOT CHECKED", n.ID, nm(math.Ceil(lip)))
	}
}

// checkBent: the window of a joint gives θ·H/2 for a change of grade, rounded up; θ from the grades that meet there.
func (c *checker) checkBent(l *leg, k int, j *joint, before, after *unit) {
	stands := c.stands[l.Name]
	if len(c.runs[l.Name]) == 0 {
		if j.Budget.Grade != 0 {
			c.say("%s: %v are set aside for a change of grade on a leg of one grade", j.Name, j.Budget.Grade)
		}
		return
	}
	low, high := c.heights(before, after)
	if len(stands) < k+3 || high == 0 || j.GapMin == j.GapMax {
		return
	}
	θ := math.Abs(math.Atan(c.gradeAt(l, stands, k+1)) - math.Atan(c.gradeAt(l, stands, k)))
	// Levels are whole nanometres, which turns a short unit by as much.
	round := high / 2 * (1/float64(stands[k+1].at-stands[k].at) + 1/float64(stands[k+2].at-stands[k+1].at))
	if set := float64(j.Budget.Grade); set < math.Ceil(θ*low/2)-math.Max(1, round) || set > math.Ceil(θ*high/2)+math.Max(1, round) {
		c.say("%s: a change of grade of %.6f %% takes %v of the window, %v are set aside", j.Name, 100*θ, nm(math.Ceil(θ*high/2)), j.Budget.Grade)
	}
}

// heights are the outer heights of two neighbours in nm, the lower first; noughts where one is unknown.
func (c *checker) heights(a, b *unit) (low, high float64) {
	s, t := c.supplies[a.Supply], c.supplies[b.Supply]
	if s == nil || t == nil || s.OuterHeight == nil || t.OuterHeight == nil {
		return 0, 0
	}
	return float64(min(*s.OuterHeight, *t.OuterHeight)), float64(max(*s.OuterHeight, *t.OuterHeight))
}
