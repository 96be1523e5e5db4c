package profile

import (
	"math"

	"trenchwright/base/measure"
)

// path is legs one behind the other through nodes where the grade may not change (a mitre, as a rule): to whoever puts grades
// on their step they are one leg. Its levels are counted without the offsets at nodes.
type path struct {
	parts  []pathLeg
	at     []measure.Length // along the path
	best   []float64        // best level, metres above the origin
	level  []measure.Length
	known  []bool
	limit  []levelLimits    // between what levels each joint may lie
	change []*measure.Grade // at inner joints
	mark   []bool           // a unit steps here, on one side or on both
	units  []pathUnit
}

// levelLimits are the lowest and the highest that one joint may lie; nil: none.
type levelLimits struct{ low, high *measure.Length }

// narrow takes in the limits of another joint that lies lift above the path.
func (l *levelLimits) narrow(joint *Joint, lift measure.Length) {
	if joint.Low != nil && (l.low == nil || *joint.Low-lift > *l.low) {
		l.low = new(*joint.Low - lift)
	}
	if joint.High != nil && (l.high == nil || *joint.High-lift < *l.high) {
		l.high = new(*joint.High - lift)
	}
}

// pathLeg is one leg of a path.
type pathLeg struct {
	leg   int
	back  bool           // the path runs down its chainage
	first int            // joint of the path where it begins
	lift  measure.Length // its levels above those of the path
}

// pathUnit is a unit as the path runs.
type pathUnit struct {
	least, most *measure.Grade
	step        *Step
	lies        *measure.Grade
	lips        []float64 // the most that the grade may be either way, for lips inside the path
}

// joint is the leg's joint at a joint of the path.
func (q pathLeg) joint(l *Leg, v int) int {
	if q.back {
		return len(l.Units) - (v - q.first)
	}
	return v - q.first
}

// reversed is g as seen from the other end.
func reversed(g *measure.Grade) *measure.Grade {
	if g == nil {
		return nil
	}
	v := negated(*g)
	return &v
}

// join is the leg and the side of it that go on from an end of another; leg −1: none.
type join struct {
	leg, side int
	change    *measure.Grade // nought, or as little as is rounded
}

// joins are the throughs at which two arms become one path: no change of grade, and no casting. By leg and side.
func (p *Problem) joins() [][2]join {
	out := make([][2]join, len(p.Legs))
	for i := range out {
		out[i] = [2]join{{leg: -1}, {leg: -1}}
	}
	for _, node := range p.Nodes {
		used := make([]bool, len(node.Arms))
		for _, t := range node.Throughs {
			in, out1 := node.Arms[t.In], node.Arms[t.Out]
			if t.Change == nil || !nought(*t.Change) || used[t.In] || used[t.Out] || in.Cast != nil || out1.Cast != nil {
				continue
			}
			used[t.In], used[t.Out] = true, true
			out[in.Leg][side(in)] = join{out1.Leg, side(out1), t.Change}
			out[out1.Leg][side(out1)] = join{in.Leg, side(in), t.Change}
		}
	}
	return out
}

// paths are all legs, in paths. A ring is opened at its first leg.
func (p *Problem) paths(z [][]float64) []*path {
	joins := p.joins()
	done := make([]bool, len(p.Legs))
	var out []*path
	start := func(i, from int) {
		q := &path{}
		var lift measure.Length
		leg, in := i, from
		var change *measure.Grade
		for leg >= 0 && !done[leg] {
			done[leg] = true
			p.append(q, z, pathLeg{leg: leg, back: in == 1, lift: lift}, change)
			next := joins[leg][1-in]
			if next.leg >= 0 {
				lift += p.riseOf(next.leg, next.side) - p.riseOf(leg, 1-in)
			}
			leg, in, change = next.leg, next.side, next.change
		}
		out = append(out, q)
	}
	for i := range p.Legs { // from legs that go on at one end at most
		for from := range 2 {
			if !done[i] && joins[i][from].leg < 0 {
				start(i, from)
			}
		}
	}
	for i := range p.Legs {
		if !done[i] {
			start(i, 0)
		}
	}
	return out
}

// riseOf is how far an end of a leg lies above its node.
func (p *Problem) riseOf(leg, end int) measure.Length {
	for _, node := range p.Nodes {
		for _, a := range node.Arms {
			if a.Leg == leg && side(a) == end {
				return a.Rise
			}
		}
	}
	return 0
}

// append adds a leg to the end of a path, with a change of grade where it begins.
func (p *Problem) append(q *path, z [][]float64, part pathLeg, change *measure.Grade) {
	l := &p.Legs[part.leg]
	part.first = max(len(q.at)-1, 0)
	for k := range l.Joints {
		j := k
		if part.back {
			j = len(l.Units) - k
		}
		inner := j > 0 && j < len(l.Units)
		if k == 0 && len(q.at) > 0 { // the node
			q.change[part.first] = change
			q.limit[part.first].narrow(&l.Joints[j], part.lift)
			continue
		}
		var along measure.Length
		if k > 0 {
			along = q.at[len(q.at)-1] + (l.Joints[j].At - l.Joints[j-1+2*back(part)].At).Abs()
		}
		q.at = append(q.at, along)
		q.best = append(q.best, z[part.leg][j]-part.lift.Metres())
		q.level, q.known = append(q.level, 0), append(q.known, false)
		q.limit = append(q.limit, levelLimits{})
		q.limit[len(q.limit)-1].narrow(&l.Joints[j], part.lift)
		most := (*measure.Grade)(nil)
		if inner && l.bends(j) {
			most = l.Joints[j].Change
		}
		q.change = append(q.change, most)
		q.mark = append(q.mark, inner && !l.bends(j))
	}
	for k := range l.Units {
		u := pathUnit{l.Units[k].Least, l.Units[k].Most, l.Units[k].Step, l.Units[k].Lies, nil}
		if part.back {
			n := &l.Units[len(l.Units)-1-k]
			u = pathUnit{reversed(n.Most), reversed(n.Least), n.Step, reversed(n.Lies), nil}
			if n.Step != nil {
				u.step = &Step{Grade: negated(n.Step.Grade), Most: n.Step.Most}
			}
		}
		q.units = append(q.units, u)
	}
	q.parts = append(q.parts, part)
}

// back is 1 for a part that runs down its leg's chainage.
func back(q pathLeg) int {
	if q.back {
		return 1
	}
	return 0
}

// marks are the joints where runs meet: both ends, known levels, units that step, and between them as few as it takes for
// straight lines from mark to mark to pass every best level within a slack, less of it where grades are on no step. Seen from a mark, the lines that pass all
// levels so far are a wedge; where a level leaves the wedge, the joint before it is the next mark, if its grade may change there (on a step).
func (q *path) marks(exact bool) []int {
	out, slack := []int{0}, stepSlack
	if exact {
		slack = exactSlack
	}
	low, high := math.Inf(-1), math.Inf(1)
	for v := 1; v < len(q.at); v++ {
		here := out[len(out)-1]
		run := (q.at[v] - q.at[here]).Metres()
		up := q.best[v] - q.best[here]
		if s := up / run; (s < low || s > high) && (exact || !q.rigid(v-1)) {
			here = v - 1
			out = append(out, here)
			low, high = math.Inf(-1), math.Inf(1)
			run, up = (q.at[v] - q.at[here]).Metres(), q.best[v]-q.best[here]
		}
		low, high = max(low, (up-slack)/run), min(high, (up+slack)/run)
		if v == len(q.at)-1 || q.known[v] || q.mark[v] {
			out = append(out, v)
			low, high = math.Inf(-1), math.Inf(1)
		}
	}
	return out
}

// rigid tells whether a joint lets no grade change but by what levels in whole nanometres need: no run ends there.
func (q *path) rigid(v int) bool { return v > 0 && q.change[v] != nil && nought(*q.change[v]) }

// runs are runs of the path as runs of its legs.
func (q *path) runs(p *Problem, along []Run, out [][]Run) {
	for _, part := range q.parts {
		l := &p.Legs[part.leg]
		end := part.first + len(l.Units)
		var mine []Run
		for _, r := range along {
			from, to := max(r.From, part.first), min(r.To, end)
			if from >= to {
				continue
			}
			a, b := part.joint(l, from), part.joint(l, to)
			run := Run{Leg: part.leg, From: min(a, b), To: max(a, b), Grade: r.Grade, OnStep: r.OnStep, Stepped: r.Stepped}
			if part.back {
				run.Grade = negated(r.Grade)
			}
			mine = append(mine, run)
		}
		if part.back {
			for i, j := 0, len(mine)-1; i < j; i, j = i+1, j-1 {
				mine[i], mine[j] = mine[j], mine[i]
			}
		}
		out[part.leg] = mine
	}
}
