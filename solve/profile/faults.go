package profile

import (
	"fmt"
	"math"
	"strings"

	"trenchwright/base/measure"
)

// Malformed is a Problem that is not complete or not in order: every fault with the field that it is in. Limits that
// contradict each other are no fault; they are answered by Impossible.
type Malformed struct{ Faults []string }

func (m Malformed) Error() string { return "profile: " + strings.Join(m.Faults, "; ") }

type faults []string

func (f *faults) addf(format string, args ...any) {
	if len(*f) < 100 {
		*f = append(*f, fmt.Sprintf(format, args...))
	}
}

const (
	shortestUnit = measure.Millimetre
	longestLeg   = 20_000 * measure.Kilometre
	furthest     = claimReach / 2 // of any level from any other
	dearest      = int64(1) << 40
	steepest     = 10 // rise over run
	longestRun   = 1_000 * measure.Kilometre
)

// faults says what is out of order; nil if nothing.
func (p *Problem) faults() error {
	var f faults
	if len(p.Legs) == 0 {
		f.addf("Legs: none; at least one is needed")
	}
	near := p.origin()
	for i := range p.Legs {
		p.Legs[i].faults(&f, fmt.Sprintf("Legs[%d]", i), near)
	}
	p.nodeFaults(&f)
	if p.Step.Rise != 0 {
		if f.grade("Step", p.Step); p.Step.Rise < 0 || p.Step.Run < 0 || p.Step.Run > longestRun {
			f.addf("Step: %v; a step is above 0 and has a run of at most %s", p.Step, longestRun)
		}
	}
	if p.Apart < 0 {
		f.addf("Apart: %d; below 0", p.Apart)
	}
	if len(f) > 0 {
		return Malformed{f}
	}
	return nil
}

// grade tells what is wrong with one; a limit of a change must not be below 0, which is asked for apart.
func (f *faults) grade(where string, g measure.Grade) {
	if g.Rise != 0 && (g.Run <= 0 || math.Abs(float64(g.Rise)) > steepest*float64(g.Run)) {
		f.addf("%s: %d over %d; a run above 0 and a grade of at most %d00 %% are needed", where, g.Rise, g.Run, steepest)
	}
}

func (f *faults) limit(where string, g *measure.Grade, change bool) {
	if g == nil {
		return
	}
	f.grade(where, *g)
	if change && g.Rise < 0 {
		f.addf("%s: %v; a change is limited by what is not below 0", where, *g)
	}
}

func (l *Leg) faults(f *faults, where string, near measure.Length) {
	if len(l.Joints) < 2 || len(l.Units) != len(l.Joints)-1 {
		f.addf("%s: %d joints and %d units; at least two joints are needed, and a unit between each two", where, len(l.Joints), len(l.Units))
		return
	}
	if first := l.Joints[0].At; first < -longestLeg || l.Joints[len(l.Joints)-1].At > longestLeg {
		f.addf("%s: from %s on; a leg lies within 20 000 km of chainage 0", where, first)
		return
	}
	for j := range l.Joints {
		joint := &l.Joints[j]
		if j > 0 && joint.At-l.Joints[j-1].At < shortestUnit {
			f.addf("%s.Joints[%d].At: %s behind %s; a unit is at least %s long", where, j, joint.At, l.Joints[j-1].At, shortestUnit)
		}
		if min(joint.Above, joint.Below, joint.Break) < 0 || max(joint.Above, joint.Below, joint.Break) > dearest {
			f.addf("%s.Joints[%d]: prices %d, %d and %d; a price is 0 to %d", where, j, joint.Above, joint.Below, joint.Break, dearest)
		}
		for _, level := range []*measure.Length{joint.Wanted, joint.Pin, joint.Low, joint.High} {
			if level != nil && (*level-near < -furthest || *level-near > furthest) {
				f.addf("%s.Joints[%d]: a level of %s and one of %s; all lie within %s", where, j, *level, near, furthest)
			}
		}
		f.limit(fmt.Sprintf("%s.Joints[%d].Change", where, j), joint.Change, true)
	}
	for k := range l.Units {
		u := &l.Units[k]
		f.limit(fmt.Sprintf("%s.Units[%d].Least", where, k), u.Least, false)
		f.limit(fmt.Sprintf("%s.Units[%d].Most", where, k), u.Most, false)
		f.grade(fmt.Sprintf("%s.Units[%d].Cross", where, k), u.Cross)
		if u.Lies != nil {
			f.grade(fmt.Sprintf("%s.Units[%d].Lies", where, k), *u.Lies)
			if from, to := &l.Joints[k], &l.Joints[k+1]; from.Pin == nil || to.Pin == nil || u.Step != nil || u.Lies.Run < 0 || u.Lies.Run == 0 && u.Lies.Rise != 0 || !OnGrade(*u.Lies, *to.Pin-*from.Pin, to.At-from.At) {
				f.addf("%s.Units[%d].Lies: %v; what lies is pinned at both joints, on its grade to the nanometre, and does not step", where, k, *u.Lies)
			}
		}
		if u.Step != nil {
			f.grade(fmt.Sprintf("%s.Units[%d].Step", where, k), u.Step.Grade)
			if u.Step.Most != nil && *u.Step.Most < 0 {
				f.addf("%s.Units[%d].Step.Most: %s; below 0", where, k, *u.Step.Most)
			}
		}
	}
}

func (p *Problem) nodeFaults(f *faults) {
	taken := make([][2]bool, len(p.Legs))
	for n, node := range p.Nodes {
		for ai, a := range node.Arms {
			where := fmt.Sprintf("Nodes[%d].Arms[%d]", n, ai)
			if a.Leg < 0 || a.Leg >= len(p.Legs) {
				f.addf("%s.Leg: %d; there are %d legs", where, a.Leg, len(p.Legs))
				continue
			}
			if taken[a.Leg][side(a)] {
				f.addf("%s: this end of Legs[%d] lies at another node, or here twice", where, a.Leg)
			}
			taken[a.Leg][side(a)] = true
			if l := &p.Legs[a.Leg]; len(l.Units) > 0 && len(l.Joints) == len(l.Units)+1 && l.Units[p.unit(a)].Step != nil && len(node.Arms) > 1 {
				f.addf("%s: the unit there steps; a unit at a node does not, where legs meet", where)
			}
			if a.Rise < -furthest || a.Rise > furthest {
				f.addf("%s.Rise: %s; at most %s", where, a.Rise, furthest)
			}
			if a.Cast != nil {
				f.grade(where+".Cast.Grade", a.Cast.Grade)
				f.grade(where+".Cast.Cross", a.Cast.Cross)
				f.limit(where+".Cast.Change", a.Cast.Change, true)
			}
		}
		for ti, t := range node.Throughs {
			where := fmt.Sprintf("Nodes[%d].Throughs[%d]", n, ti)
			if most := len(node.Arms); min(t.In, t.Out) < 0 || max(t.In, t.Out) >= most || t.In == t.Out {
				f.addf("%s: from arm %d to arm %d; two of %d arms are needed", where, t.In, t.Out, most)
			}
			if t.Break < 0 || t.Break > dearest {
				f.addf("%s.Break: %d; a price is 0 to %d", where, t.Break, dearest)
			}
			f.limit(where+".Change", t.Change, true)
			b := t.Bend
			if b == nil {
				continue
			}
			if !(b.Tan > 0) || b.Tan > 1e6 || b.Width <= 0 || b.Lip != nil && *b.Lip < 0 {
				f.addf("%s.Bend: tan %g and a width of %s; both are above 0, and a lip is not below", where, b.Tan, b.Width)
			}
		}
	}
}
