package planner

import (
	"cmp"
	"slices"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/solve/profile"
)

// What lies keeps the levels that people held as they laid it. Where it came to lie a little off its place it was still laid to the
// level of that place, on the line of the laser: so the profile keeps the line as it was, with the joints of what lies where they were
// planned, and what is to come goes on from there. Levels of what lies are then the same to the nanometre, and what was measured can be
// held against them.

// stood is where a joint of what lies was planned.
type stood struct{ at, top measure.Length }

// bedding is how a leg lies in height as far as it lies, in the order of its axis; the zero value: nothing does.
type bedding struct {
	joints []*stood // before each unit, and behind the last
	lies   []bool   // by unit
}

// joint is where a joint of a leg was planned that lies; nil: it does not.
func (d *bedding) joint(unit int) *stood {
	if unit < 0 || unit >= len(d.joints) {
		return nil
	}
	return d.joints[unit]
}

func (d *bedding) unit(i int) bool { return i < len(d.lies) && d.lies[i] }

// beddingOf reads a leg's built part. Units that are no more of the leg, or in another order, are left out.
func (b *build) beddingOf(leg int, l *laid) (d bedding) {
	made := b.leg(leg).Built
	if made == nil || l.built == nil || len(made.Bedded) == 0 {
		return d
	}
	n := len(l.units)
	if n != len(l.built.names) { // no layout was found for what is to come
		return d
	}
	d.joints, d.lies = make([]*stood, n+1), make([]bool, n)
	of := make(map[string]int, len(l.built.names))
	for k, name := range l.built.names {
		of[name] = k
	}
	for i := range made.Bedded {
		k := &made.Bedded[i]
		from, ok := of[k.From]
		to, also := of[cmp.Or(k.To, k.From)]
		if !ok || !also || to-from+2 != len(k.At) || len(k.At) != len(k.Tops) {
			continue
		}
		for j := range k.At {
			at := from + j
			if l.back {
				at = n - at
			}
			d.joints[at] = &stood{k.At[j], k.Tops[j]}
			if j > 0 {
				d.lies[at-1+back(l.back)] = true
			}
		}
	}
	return d
}

// back is 1 for a leg that is laid from its far end.
func back(is bool) int {
	if is {
		return 1
	}
	return 0
}

// stations puts the joints of what lies where they were planned. What is to come may have come so far back that it would begin before
// one of them: then levels of what lies there cannot be kept apart from it, and all of the leg is planned as it lies now (unkept).
func (d *bedding) stations(list []station) []station {
	if len(d.joints) == 0 {
		return list
	}
	out := slices.Clone(list)
	for k := range out {
		if s := d.joint(out[k].unit); s != nil {
			out[k].at = s.at
		}
		if k > 0 && out[k].at-out[k-1].at < measure.Millimetre {
			*d = bedding{}
			return list
		}
	}
	return out
}

// unkept says that the levels of what lies on a leg are not kept.
func (b *build) unkept(leg int) finding.Finding {
	id := b.leg(leg).ID
	return finding.Finding{ID: "planner.levels-not-kept", Kind: finding.Attention, Where: finding.Where{Leg: id},
		Text: b.tell("what is to come on leg %s begins before the place that a %s which lies was planned for: levels of what lies are planned anew there", id, wording.Unit),
		Try:  "look at where these " + b.speech().Word(wording.Units) + " were measured; what was built lies on the levels that people held then"}
}

// hold pins what lies in a leg of the profile, on the grades that it was laid to. What the job fixes elsewhere meanwhile gives way, and is told.
func (b *build) hold(leg int, l *laid, ask *profile.Leg, way *legHeights) (said finding.List) {
	d, of := &way.bedded, way.unit
	if len(d.joints) == 0 {
		return nil
	}
	for k, unit := range way.joint {
		s := d.joint(unit)
		if s == nil {
			continue
		}
		j := &ask.Joints[k]
		said = append(said, b.pinLies(leg, j, s.top)...)
		j.Pin, j.Name = &s.top, cmp.Or(j.Name, "what lies")
	}
	entry := b.entries(leg, l)
	for from := 0; from < len(of); {
		to := from + 1
		for to < len(of) && d.unit(of[from]) && d.unit(of[to]) && entry(of[to]) == entry(of[from]) {
			to++
		}
		if d.unit(of[from]) {
			said = append(said, b.bed(leg, ask, d, of, from, to, b.heldGrade(leg, entry(of[from])))...)
		}
		from = to
	}
	return said
}

// bed has units of the profile lie, all on one grade: the one that is held, else what their levels make from end to end. A unit whose
// joints do not bear that lies on its own.
func (b *build) bed(leg int, ask *profile.Leg, d *bedding, of []int, from, to int, held *measure.Grade) (said finding.List) {
	level := func(k int) (at, top measure.Length) { return ask.Joints[k].At, *ask.Joints[k].Pin }
	between := func(from, to int) measure.Grade {
		a, y := level(from)
		c, z := level(to)
		return measure.Grade{Rise: z - y, Run: c - a}
	}
	for k := from; k < to; k++ { // a place inside a unit that was fixed since
		first, last := d.joint(of[k]), d.joint(of[k]+1)
		if j := &ask.Joints[k+1]; k+1 < to && of[k+1] == of[k] {
			z := first.top + portion(j.At-first.at, last.top-first.top, last.at-first.at)
			said = append(said, b.pinLies(leg, j, z)...)
			j.Change, j.Pin = nil, &z
		}
	}
	all := between(from, to)
	if held != nil {
		all = *held
	}
	if all.Run == 0 {
		all.Run = 1
	}
	for k := from; k < to; k++ {
		if ask.Units[k].Step != nil {
			continue
		}
		g := all
		if one := between(k, k+1); !profile.OnGrade(g, one.Rise, one.Run) {
			g = one
		}
		ask.Units[k].Lies = &g
	}
	return said
}

// between has what is to come meet what lies: a node at which something lies has its level, and a unit with both its joints known so
// lies as it has to, whatever that passes.
func (b *build) between(q *heights) {
	known := make([][]bool, len(q.legs))
	some := false
	for i := range q.legs {
		known[i] = make([]bool, len(q.legs[i].joint))
		for k, unit := range q.legs[i].joint {
			known[i][k] = q.legs[i].bedded.joint(unit) != nil
			some = some || known[i][k]
		}
	}
	if !some {
		return
	}
	end := func(a profile.Arm) int {
		if a.End {
			return len(known[a.Leg]) - 1
		}
		return 0
	}
	for _, n := range q.problem.Nodes {
		i := slices.IndexFunc(n.Arms, func(a profile.Arm) bool { return known[a.Leg][end(a)] })
		for _, a := range n.Arms {
			if j := q.end(a); i >= 0 && j.Pin == nil {
				known[a.Leg][end(a)] = true
				j.Pin, j.Name = new(*q.end(n.Arms[i]).Pin-n.Arms[i].Rise+a.Rise), "what lies"
			}
		}
	}
	for i := range known {
		l, of := &q.problem.Legs[i], q.legs[i].unit
		for k, to := 0, 0; k < len(of); k = to {
			for to = k + 1; to < len(of) && of[to] == of[k]; to++ { // a level inside a unit is fixed
			}
			if l.Units[k].Lies == nil && l.Units[k].Step == nil && known[i][k] != known[i][to] {
				leaned(l, k, to, known[i][to])
			}
			if from, end := l.Joints[k], l.Joints[to]; known[i][k] && known[i][to] && l.Units[k].Lies == nil && l.Units[k].Step == nil {
				for n := k; n < to; n++ {
					if j := &l.Joints[n]; n > k {
						z := *from.Pin + portion(j.At-from.At, *end.Pin-*from.Pin, end.At-from.At)
						q.said = append(q.said, b.pinLies(i, j, z)...)
						j.Change, j.Pin = nil, &z
					}
					l.Units[n].Lies = &measure.Grade{Rise: *end.Pin - *from.Pin, Run: end.At - from.At}
				}
			}
		}
	}
}

// leaned has a unit to come, from one joint of the profile to another, that meets what lies at one end (back: its far one) and in which
// the job fixes a level: both leave it one grade, which is written to its other end, for levels in whole nanometres have no room for a
// unit that has to be straight through three of them. A grade that the unit may not have is left to the solver to speak of.
func leaned(l *profile.Leg, from, to int, back bool) {
	near, far, pin := from, to, from+1
	if back {
		near, far = to, from
	}
	if to != from+2 || l.Joints[far].Pin != nil {
		return
	}
	a, b := &l.Joints[near], &l.Joints[pin]
	g := measure.Grade{Rise: *b.Pin - *a.Pin, Run: b.At - a.At}
	if g.Run < 0 {
		g = measure.Grade{Rise: -g.Rise, Run: -g.Run}
	}
	for k := from; k < to; k++ {
		if u := &l.Units[k]; u.Least != nil && g.Cmp(*u.Least) < 0 || u.Most != nil && g.Cmp(*u.Most) > 0 {
			return
		}
	}
	z := *a.Pin + portion(l.Joints[far].At-a.At, g.Rise, g.Run)
	l.Joints[far].Pin, l.Joints[far].Name = &z, "what lies"
	l.Joints[pin].Change = nil
}

// aside is how far what lies may be off a level that the job fixes before that is told: nobody lays or measures so finely, and levels that
// lie were rounded.
const aside = 10 * measure.Micrometre

// pinLies says that a level which the job fixes is not where a unit lies.
func (b *build) pinLies(leg int, j *profile.Joint, top measure.Length) finding.List {
	if j.Pin == nil || (*j.Pin-top).Abs() <= aside {
		return nil
	}
	off := *j.Pin - top
	return finding.List{{ID: "planner.pin-lies", Kind: finding.Attention, Where: at(b.leg(leg).ID, j.At), Value: b.tell("%s", off.Abs()), Limit: "one level",
		Text: b.tell("%s fixes a level on leg %s %s off what lies there: what lies stays", j.Name, b.leg(leg).ID, off.Abs()),
		Try:  "the level as it was planned; or lift what lies there, and lay it anew"}}
}

// entries tells on which of a built leg's grades a unit is kept, from 1; 0: on none.
func (b *build) entries(leg int, l *laid) func(unit int) int {
	made, run, at := b.leg(leg).Built, map[string]int{}, 0
	for _, name := range l.built.names {
		if at == len(made.Grades) {
			break
		}
		run[name] = at + 1
		if name == made.Grades[at].To {
			at++
		}
	}
	return func(unit int) int { return run[l.name(b.leg(leg).ID, unit)] }
}

// heldGrade is the grade of an entry; nil: there is none, or what closes.
func (b *build) heldGrade(leg, entry int) *measure.Grade {
	if entry == 0 {
		return nil
	}
	g := b.leg(leg).Built.Grades[entry-1].Grade
	if g == nil {
		return nil
	}
	held := *g
	if held.Run == 0 {
		held.Run = 1
	}
	return &held
}

// bedded is what lies on a leg with its levels, as a job has it; none where no levels were solved.
func (h *ahead) bedded(lies func(int) bool) (out []job.Bedded) {
	q := h.b.heights
	if q == nil {
		if was := h.leg.Built; was != nil {
			return was.Bedded
		}
		return nil
	}
	n := len(h.units)
	joint := make([]int, n+1) // of the profile, by joint in laying order
	for k, unit := range q.legs[h.i].joint {
		switch {
		case unit >= 0 && h.q.back:
			joint[n-unit] = k
		case unit >= 0:
			joint[unit] = k
		}
	}
	for from := 0; from < n; from++ {
		if !lies(from) {
			continue
		}
		to := from
		for to+1 < n && lies(to+1) {
			to++
		}
		one := job.Bedded{From: h.units[from].Mark}
		if to > from {
			one.To = h.units[to].Mark
		}
		for _, k := range joint[from : to+2] {
			one.At, one.Tops = append(one.At, q.problem.Legs[h.i].Joints[k].At), append(one.Tops, h.b.profile.Levels[h.i][k])
		}
		out = append(out, one)
		from = to
	}
	return out
}

// standsAt is the chainage of the joint before a unit, as the profile has it: where it lies, as it was planned.
func (b *build) standsAt(leg int, l *laid, unit int) measure.Length {
	if b.heights != nil {
		if s := b.heights.legs[leg].bedded.joint(unit); s != nil {
			return s.at
		}
	}
	return b.axes[leg].chainage(l.middle(unit))
}
