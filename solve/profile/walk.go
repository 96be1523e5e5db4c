package profile

import (
	"math"

	"trenchwright/base/measure"
)

// walk lays runs on whole steps of grade from marks[0], whose level is settled, along marks, which may run either way. Each
// run aims at the best level of its far end, so that rounding does not add up, and gives way by one step where that keeps its
// levels within their limits: what takes more begins too high or too low, and is solved again. Where limits leave one grade
// alone, it is that. False: a run has no step within its limits.
func (g *grader) walk(q *path, marks []int, before slope) ([]Run, bool) {
	if g.exact && len(marks) > 1 {
		return nil, false
	}
	var out []Run
	for k := range len(marks) - 1 {
		here, there := marks[k], marks[k+1]
		run := Run{From: min(here, there), To: max(here, there), OnStep: true}
		if s := q.units[run.From].step; s != nil {
			g.step(q, here, there)
			run.Grade, run.Stepped, run.OnStep = s.Grade, true, false
			out, before = append(out, run), slope{}
			continue
		}
		room := g.room(q, here, there, before)
		aim := (q.best[there] - (q.level[here] - g.origin).Metres()) / (q.at[there] - q.at[here]).Metres()
		if only := room.only(); only != nil {
			run.Grade, run.OnStep = *only, g.p.onStep(*only)
		} else {
			n, ok := wholeSteps(aim, room.low, room.high, ratio(g.p.Step))
			if !ok {
				return nil, false
			}
			q.atLevels(here, there, room)
			if near, ok := wholeSteps(aim, room.low, room.high, ratio(g.p.Step)); ok && near-n >= -1 && near-n <= 1 {
				n = near
			}
			run.Grade = g.p.steps(n)
		}
		q.level[there] = q.level[here] + climb(run.Grade, q.at[there]-q.at[here])
		out, before = append(out, run), slopeOf(run)
	}
	return out, true
}

// wholeSteps is the number of steps nearest to aim within low and high.
func wholeSteps(aim, low, high, step float64) (int64, bool) {
	const near = 1e-9 // of a step: limits that are whole steps count as such
	least, most := math.Ceil(low/step-near), math.Floor(high/step+near)
	n := min(max(math.Round(aim/step), least), most)
	return int64(n), least <= most && math.Abs(n) < 1e15
}

// onStep tells whether a grade is a whole number of steps.
func (p *Problem) onStep(g measure.Grade) bool {
	if p.Step.Rise == 0 {
		return false
	}
	n := math.Round(ratio(g) / ratio(p.Step))
	return math.Abs(n) < 1e15 && g.Cmp(p.steps(int64(n))) == 0
}

// steps is n steps of grade.
func (p *Problem) steps(n int64) measure.Grade {
	return between(measure.Length(n)*p.Step.Rise, p.Step.Run)
}

// step settles the level behind a unit that steps, as near to the best as its step may be.
func (g *grader) step(q *path, here, there int) {
	s := q.units[min(here, there)].step
	even := q.level[here] + climb(s.Grade, q.at[there]-q.at[here])
	aim := settle(q.best[there], g.origin)
	if s.Most != nil {
		aim = min(max(aim, even-*s.Most), even+*s.Most)
	}
	q.level[there] = aim
}

// room is between what grades a run may lie. one is the exact grade where low and high are the same.
type room struct {
	low, high float64
	one       *measure.Grade
}

// only is the one grade that is left; nil: there are more.
func (r *room) only() *measure.Grade {
	if r.high-r.low < 1e-12 {
		return r.one
	}
	return nil
}

func (r *room) narrow(mid measure.Grade, most float64) {
	r.above(ratio(mid)-most, nil)
	r.below(ratio(mid)+most, nil)
	if most == 0 {
		r.one = &mid
	}
}

func (r *room) above(v float64, g *measure.Grade) {
	if v > r.low {
		r.low = v
		if g != nil {
			r.one = g
		}
	}
}

func (r *room) below(v float64, g *measure.Grade) {
	if v < r.high {
		r.high = v
		if g != nil {
			r.one = g
		}
	}
}

// room is that of the run from here to there, behind a run with a slope.
func (g *grader) room(q *path, here, there int, before slope) *room {
	from, to := min(here, there), max(here, there)
	r := &room{low: math.Inf(-1), high: math.Inf(1)}
	for k := from; k < to; k++ {
		u := &q.units[k]
		if u.step != nil {
			continue
		}
		if u.least != nil {
			r.above(ratio(*u.least), u.least)
		}
		if u.most != nil {
			r.below(ratio(*u.most), u.most)
		}
		for _, most := range u.lips {
			r.narrow(measure.Grade{}, most)
		}
	}
	if most := q.change[here]; before.set && most != nil {
		r.narrow(before.is, ratio(*most))
	}
	if from == 0 {
		g.atNode(q.parts[0], false, r)
	}
	if to == len(q.units) {
		g.atNode(q.parts[len(q.parts)-1], true, r)
	}
	return r
}

// atLevels narrows the grade of a run from here to there to what keeps its levels within their limits.
func (q *path) atLevels(here, there int, r *room) {
	for v := min(here, there); v <= max(here, there); v++ {
		low, high := q.limit[v].low, q.limit[v].high
		if q.at[v] < q.at[here] { // what keeps a level low asks for a steeper rise towards here
			low, high = high, low
		}
		along := (q.at[v] - q.at[here]).Metres()
		if v != here && low != nil {
			r.above((*low-q.level[here]).Metres()/along, nil)
		}
		if v != here && high != nil {
			r.below((*high-q.level[here]).Metres()/along, nil)
		}
	}
}

// lips limits grades inside a path for the lips at its bends: the grade counts twice, once in and once out.
func (g *grader) lips(q *path) {
	for k := 1; k < len(q.parts); k++ {
		v := q.parts[k].first
		end := 0
		if q.parts[k].back {
			end = 1
		}
		for _, node := range g.p.Nodes {
			for _, t := range node.Throughs {
				for _, ai := range []int{t.In, t.Out} {
					if a := node.Arms[ai]; a.Leg == q.parts[k].leg && side(a) == end && t.Bend != nil && t.Bend.Lip != nil && t.Change != nil && nought(*t.Change) {
						q.units[v-1].lips = append(q.units[v-1].lips, t.Bend.most()/2)
						q.units[v].lips = append(q.units[v].lips, t.Bend.most()/2)
					}
				}
			}
		}
	}
}

// atNode narrows what a run at an end of a path may lie at, by what castings, bends and runs across the node that are
// settled ask for.
func (g *grader) atNode(part pathLeg, last bool, r *room) {
	end := 0
	if last != part.back {
		end = 1
	}
	for _, node := range g.p.Nodes {
		for ai, a := range node.Arms {
			if a.Leg != part.leg || side(a) != end {
				continue
			}
			as := func(away measure.Grade) measure.Grade { // as the path runs
				if last {
					return negated(away)
				}
				return away
			}
			if a.Cast != nil && a.Cast.Change != nil {
				r.narrow(as(a.Cast.Grade), ratio(*a.Cast.Change))
			}
			for _, t := range node.Throughs {
				if t.In != ai && t.Out != ai {
					continue
				}
				other, ok := g.outwards(node.Arms[t.In+t.Out-ai])
				if !ok {
					continue
				}
				if t.Change != nil {
					r.narrow(as(negated(other)), ratio(*t.Change))
				}
				if t.Bend != nil && t.Bend.Lip != nil {
					r.narrow(as(other), t.Bend.most())
				}
			}
		}
	}
}

// most is the sum of grades in and out that the lip allows.
func (b *Bend) most() float64 { return float64(*b.Lip) / (float64(b.Width) / 2 * b.Tan) }

// outwards is the grade of an arm away from its node, where it is settled.
func (g *grader) outwards(a Arm) (measure.Grade, bool) {
	runs := g.runs[a.Leg]
	switch {
	case len(runs) == 0:
		return measure.Grade{}, false
	case a.End:
		return negated(runs[len(runs)-1].Grade), true
	}
	return runs[0].Grade, true
}

// fits tells whether a closing run holds its limits, nearly: what is exact is said by misses.
func (g *grader) fits(q *path, run Run, before, after slope) bool {
	const near = 1e-12
	if run.Stepped {
		s := q.units[run.From].step
		step := q.level[run.To] - q.level[run.From] - climb(s.Grade, q.at[run.To]-q.at[run.From])
		return s.Most == nil || step.Abs() <= *s.Most
	}
	r := g.room(q, run.From, run.To, before)
	if most := q.change[run.To]; after.set && most != nil {
		r.narrow(after.is, ratio(*most))
	}
	v := ratio(run.Grade)
	return v >= r.low-near && v <= r.high+near && q.within(run)
}

// within tells whether the levels of a run are within their limits.
func (q *path) within(run Run) bool {
	for v := run.From + 1; v < run.To; v++ {
		level := q.level[run.From] + climb(run.Grade, q.at[v]-q.at[run.From])
		if l := q.limit[v]; l.low != nil && level < *l.low || l.high != nil && level > *l.high {
			return false
		}
	}
	return true
}
