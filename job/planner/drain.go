package planner

import (
	"cmp"
	"math"
	"slices"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/solve/profile"
)

// pipe is the drain in the bed as it was solved, once the run's levels have settled.
type pipe struct {
	problem  profile.Problem
	solution profile.Solution
	best     bool    // it was not asked to lie deeper than it has to
	at       [][]int // by leg and joint of the run: the drain's joint there. It has more: outlets inside a unit
}

// level is the underside of the pipe at a joint of the run; nil: it has no levels.
func (d *pipe) level(leg, joint int) *measure.Length {
	if d == nil {
		return nil
	}
	return &d.solution.Levels[leg][d.at[leg][joint]]
}

// between is the underside of the pipe at a chainage; nil: it has no level there.
func (d *pipe) between(leg int, ch measure.Length) *measure.Length {
	if d == nil {
		return nil
	}
	j, z := d.problem.Legs[leg].Joints, d.solution.Levels[leg]
	k, hit := slices.BinarySearchFunc(j, ch, func(j profile.Joint, at measure.Length) int { return cmp.Compare(j.At, at) })
	switch {
	case hit:
		return &z[k]
	case k == 0 || k == len(j):
		return nil
	}
	return new(z[k-1] + portion(ch-j[k-1].At, z[k]-z[k-1], j[k].At-j[k-1].At))
}

// solveDrain solves the drain under the levels of record.
func (b *build) solveDrain() {
	d := b.job.Levels.Drain
	if d == nil || b.heights == nil {
		return
	}
	for i := range b.sup {
		if s := &b.sup[i]; !s.Unit.Outer.Known {
			b.add(finding.NoneOnFile("outer section of supply "+s.ID+", and so no levels of the drain", "the supplier", finding.Where{Path: "levels.drain"}))
			return
		}
		b.drainUnderPads(&b.sup[i])
	}
	q, ask, at := b.underRun()
	ask.Ways = b.drainWays(&q, ask.Outlets)
	ask.Rises = b.drainRises(&q, ask.Ways)
	b.plan.Drain = &Drain{Diameter: measure.MM(d.Diameter), Wall: mmOf(entered(d.Wall)), Offset: measure.MM(d.Offset), Grades: []DrainGrade{}, Lows: []DrainLow{}}
	out := b.tryDrain(&q, ask)
	out.at = at
	if b.solvedDrain(&out) {
		b.pipe = &out
	}
}

// passing is how far a straight pipe along straight units may pass their rounded levels. Without it nothing that lies
// along its limit could be written in whole nanometres.
const passing = 2 * measure.Nanometre

// tryDrain solves the drain; where its limits leave no room to round, a pipe that lies a trifle deeper may have it.
func (b *build) tryDrain(q *profile.Problem, ask profile.Pipe) (first pipe) {
	for n, lower := range [...]measure.Length{-passing, 0, measure.Micrometre, 100 * measure.Micrometre, measure.Millimetre} {
		try := ask
		try.Below, try.Least = ask.Below+max(0, lower), new(ask.Below+lower)
		one := pipe{problem: q.Drain(try), best: lower <= 0}
		sol, err := profile.Solve(one.problem)
		if one.solution = sol; err != nil {
			b.add(finding.Finding{ID: "planner.drain-problem", Kind: finding.Fault, Text: "the drain: " + err.Error(), Where: finding.Where{Path: "levels.drain"}})
			one.solution.Verdict, one.solution.Why = profile.Undecided, err.Error()
			return one
		}
		if sol.Verdict == profile.Found || sol.Verdict == profile.Impossible && lower <= 0 {
			return one
		}
		if n == 0 {
			first = one
		}
	}
	return first
}

// solvedDrain has the answer checked and says what it is; it tells whether the drain has levels.
func (b *build) solvedDrain(d *pipe) bool {
	w, into := finding.Where{Path: "levels.drain"}, b.plan.Drain
	sol := d.solution
	into.Verdict, into.Why, into.Try, into.Proven = string(sol.Verdict), sol.Why, sol.Try, sol.Proven && d.best
	if sol.Verdict != profile.Undecided {
		if wrong := profile.Check(d.problem, sol); len(wrong) > 0 {
			into.Verdict = string(profile.Undecided)
			b.add(wrong...)
			return false
		}
	}
	if sol.Verdict == profile.Found {
		return true
	}
	f := finding.Finding{ID: "planner.drain", Kind: finding.Impossible, Where: w, Text: b.tell("the drain in the %s cannot lie as asked: %s", wording.Bed, sol.Why)}
	if sol.Verdict == profile.Undecided {
		f.Kind, f.Text = finding.Attention, "no levels of the drain were found, and none were ruled out: "+sol.Why
	}
	f.Try = remedies(sol.Try, "a lower outlet, a smaller least fall of the drain, or a run that lies higher")
	b.add(f)
	return false
}

// drainUnderPads says where pads reach down to where the pipe may lie.
func (b *build) drainUnderPads(s *supply) {
	d, pad := b.job.Levels.Drain, s.Bearing.PadThick
	if s.Bearing.On.Value == "pads" && pad.Known && d.Below < pad.Value {
		b.add(finding.Finding{ID: "planner.drain-pads", Kind: finding.Attention, Where: finding.Where{Path: "levels.drain.below"},
			Text:  b.tell("the drain may lie %s below the %s, and the %ss of supply %s reach %s below it", d.Below, wording.Unit, wording.Pad, s.ID, pad.Value),
			Value: b.tell("%s", d.Below), Limit: b.tell("%s", pad.Value), Try: b.tell("a drain that lies deeper than the %ss", wording.Pad)})
	}
}

// underRun is the run's profile with a joint more wherever an outlet of the drain lies inside a unit, and what is asked of the
// drain under it.
func (b *build) underRun() (profile.Problem, profile.Pipe, [][]int) {
	d, v := b.job.Levels.Drain, &b.job.Levels
	least := d.Below + d.Diameter
	ask := profile.Pipe{Below: least, Fall: sound(d.Least), Steep: sound(d.Most), Step: b.heights.problem.Step, Price: pricePerMetre}
	if d.Deepest.Known {
		ask.Most = new(d.Deepest.Value + d.Diameter + passing)
	}
	if d.Setting.Known {
		ask.Step = d.Setting.Value
	}
	price := looseBreak
	for _, e := range []job.Entry[measure.Length]{v.Break, d.Break} {
		if e.Known {
			price = e.Value
		}
	}
	ask.Break = int64(math.Round(price.Metres() * 100 * pricePerMetre))
	q := b.heights.problem
	q.Legs = slices.Clone(q.Legs)
	at := make([][]int, len(q.Legs))
	ask.Over = make([][]profile.Over, len(q.Legs))
	for i := range q.Legs {
		l := &q.Legs[i]
		l.Joints, l.Units = slices.Clone(l.Joints), slices.Clone(l.Units)
		for k := range l.Joints {
			at[i] = append(at[i], k)
			ask.Over[i] = append(ask.Over[i], b.over(i, k))
		}
		for k := range v.Outlets {
			if o := &v.Outlets[k]; o.Leg == b.leg(i).ID && o.Of != "run" {
				had := len(l.Joints)
				place := b.outletJoint(i, o.At, l, at[i], &ask.Over[i])
				for n := range ask.Outlets {
					if p := &ask.Outlets[n]; p.Leg == i && p.Joint >= place {
						p.Joint += len(l.Joints) - had
					}
				}
				ask.Outlets = append(ask.Outlets, b.drainOutlet(o, profile.Place{Leg: i, Joint: place}))
			}
		}
	}
	return q, ask, at
}

// sound is a grade that somebody entered, or nil.
func sound(e job.Entry[measure.Grade]) *measure.Grade {
	if !e.Known {
		return nil
	}
	g := e.Value
	if g.Run == 0 {
		g.Run = 1
	}
	return &g
}

// over is the underside of the units that meet at a joint of the run, over the pipe.
func (b *build) over(leg, joint int) profile.Over {
	before, behind := b.underside(leg, joint)
	return profile.Over{Lowest: min(before, behind), Highest: max(before, behind)}
}

// underside is that of the unit before a joint and of the unit behind it, where the pipe lies.
func (b *build) underside(leg, joint int) (before, behind measure.Length) {
	way := b.heights.legs[leg]
	last := len(way.supply) - 1
	faces := [2]profile.Face{}
	faces[0], faces[1] = b.profile.Faces(b.heights.problem, leg, joint, nil)
	var out [2]measure.Length
	for k, unit := range [2]int{max(joint-1, 0), min(joint, last)} {
		f := faces[k]
		out[k] = f.Level - b.sup[way.supply[unit]].Unit.Outer.Value.Height
		if f.Cross.Run != 0 {
			out[k] -= portion(b.job.Levels.Drain.Offset, f.Cross.Rise, f.Cross.Run)
		}
	}
	return out[0], out[1]
}

// outletJoint is the drain's joint at a chainage of a leg: one that is there within a millimetre, or a new one.
func (b *build) outletJoint(leg int, ch measure.Length, l *profile.Leg, at []int, over *[]profile.Over) int {
	k := 0
	for k < len(l.Joints)-1 && l.Joints[k+1].At <= ch {
		k++
	}
	next := min(k+1, len(l.Joints)-1)
	switch {
	case (l.Joints[next].At - ch).Abs() <= measure.Millimetre:
		return next
	case ch-l.Joints[k].At <= measure.Millimetre || next == k:
		return k
	}
	run, _ := slices.BinarySearch(at, k)
	if run == len(at) || at[run] > k {
		run-- // beside another outlet in the same unit
	}
	from, to := at[run], at[run+1]
	_, start := b.underside(leg, run)
	end, _ := b.underside(leg, run+1)
	z := start + portion(ch-l.Joints[from].At, end-start, l.Joints[to].At-l.Joints[from].At)
	l.Joints = slices.Insert(l.Joints, next, profile.Joint{At: ch})
	l.Units = slices.Insert(l.Units, next, l.Units[k])
	*over = slices.Insert(*over, next, profile.Over{Lowest: z, Highest: z})
	for j := range at {
		if at[j] >= next {
			at[j]++
		}
	}
	return next
}

// drainOutlet is an outlet with the level of the pipe's underside there, where invert and wall are on file.
func (b *build) drainOutlet(o *job.Outlet, at profile.Place) profile.PipeOutlet {
	out := profile.PipeOutlet{Place: at, Name: cmp.Or(o.Into, o.ID)}
	wall := b.job.Levels.Drain.Wall
	switch {
	case o.Drain == nil:
	case wall.Known:
		out.Level = new(measure.FromMetres(*o.Drain*b.net.unit) - wall.Value)
	default:
		b.add(finding.Finding{ID: "planner.drain-outlet", Kind: finding.NotChecked, Where: finding.Where{Path: "levels.outlets." + o.ID}, Ask: "the supplier",
			Text: "NOT CHECKED: no thickness of the drain's wall on file, so its invert at outlet " + o.ID + " is not held. Ask: the supplier"})
	}
	return out
}
