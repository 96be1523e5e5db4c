package planner

import (
	"slices"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/solve/profile"
)

// drainWays is which way the drain's water runs under every unit: as the job states it for the drain; else to the only
// outlet that it can reach, where there are no loops; else as the run's own water does. Where none of these says it, the
// least fall is not held, and that is said.
func (b *build) drainWays(q *profile.Problem, outlets []profile.PipeOutlet) [][]profile.Way {
	only := toOnlyOutlet(q, outlets)
	out := make([][]profile.Way, len(q.Legs))
	for i := range q.Legs {
		l, unsaid := &q.Legs[i], false
		out[i] = make([]profile.Way, len(l.Units))
		for k := range l.Units {
			middle := (l.Joints[k].At + l.Joints[k+1].At) / 2
			way := b.wayToward(i, b.drainToward(i, middle))
			if way == profile.Unsaid {
				way = only[i][k]
			}
			if s := b.stretchAt(i, middle); way == profile.Unsaid && s != nil {
				way = b.wayToward(i, s.Toward)
			}
			out[i][k] = way
			unsaid = unsaid || way == profile.Unsaid
		}
		if id := b.leg(i).ID; unsaid && b.job.Levels.Drain.Least.Known {
			b.add(finding.Finding{ID: "planner.drain-direction", Kind: finding.NotChecked, Where: finding.Where{Leg: id}, Ask: "whoever designed the drainage",
				Text: "NOT CHECKED: no word on file about which way the drain runs on leg " + id + ", so its least fall is not held there. Ask: whoever designed the drainage",
				Try:  "levels.drain.ways: the leg, and toward which of its nodes; or one outlet that all of it runs to"})
		}
	}
	return out
}

// drainToward is the node that the job has the drain run to at a chainage of a leg; "" where it does not say.
func (b *build) drainToward(leg int, ch measure.Length) string {
	for _, w := range b.job.Levels.Drain.Ways {
		if w.Leg == b.leg(leg).ID && w.From <= ch && (w.To == 0 || ch <= w.To) {
			return w.Toward
		}
	}
	return ""
}

func (b *build) wayToward(leg int, node string) profile.Way {
	switch node {
	case "":
		return profile.Unsaid
	case b.leg(leg).To:
		return profile.Onward
	case b.leg(leg).From:
		return profile.Back
	}
	return profile.Unsaid
}

// toOnlyOutlet is, by leg and unit, the way that water has to run where it reaches exactly one outlet without passing
// another, and by one way; Unsaid where it does not.
func toOnlyOutlet(q *profile.Problem, outlets []profile.PipeOutlet) [][]profile.Way {
	f := flow{q: q, ways: make([][]profile.Way, len(q.Legs)), reached: make([][]int, len(q.Legs)), stops: map[profile.Place]bool{}}
	for i := range q.Legs {
		f.ways[i], f.reached[i] = make([]profile.Way, len(q.Legs[i].Units)), make([]int, len(q.Legs[i].Units))
	}
	for _, o := range outlets {
		f.stops[o.Place] = true
	}
	for i, o := range outlets {
		if !slices.ContainsFunc(outlets[:i], func(p profile.PipeOutlet) bool { return p.Place == o.Place }) {
			f.walk(o.Place, profile.Onward)
			f.walk(o.Place, profile.Back)
		}
	}
	for i := range f.ways {
		for k, n := range f.reached[i] {
			if n != 1 {
				f.ways[i][k] = profile.Unsaid
			}
		}
	}
	return f.ways
}

// flow finds how water runs to outlets.
type flow struct {
	q       *profile.Problem
	ways    [][]profile.Way
	reached [][]int // by how many outlets, or ways to them
	stops   map[profile.Place]bool
}

// walk goes up against the water that runs to an outlet by one way, to the ends of the run or to other outlets. Where it comes
// back to a leg that it was on, everything that it met has two ways.
func (f *flow) walk(from profile.Place, way profile.Way) {
	type entry struct {
		at  profile.Place
		way profile.Way // of the water
	}
	seen, loop := map[int]bool{from.Leg: true}, false
	var met []profile.Place
	for list := []entry{{from, way}}; len(list) > 0; list = list[1:] {
		e := list[0]
		end, open := f.up(e.at, e.way, &met)
		if !open {
			continue
		}
		node := nodeOf(f.q, end)
		if node < 0 {
			continue
		}
		for _, a := range f.q.Nodes[node].Arms {
			switch {
			case a.Leg == end.Leg && a.End == end.End:
			case seen[a.Leg]:
				loop = true
			default:
				seen[a.Leg] = true
				next := entry{profile.Place{Leg: a.Leg}, profile.Back}
				if a.End {
					next = entry{profile.Place{Leg: a.Leg, Joint: len(f.q.Legs[a.Leg].Units)}, profile.Onward}
				}
				if !f.stops[next.at] {
					list = append(list, next)
				}
			}
		}
	}
	for _, u := range met {
		if f.reached[u.Leg][u.Joint]++; loop {
			f.reached[u.Leg][u.Joint]++
		}
	}
}

// up follows one leg up against the water, until an outlet or its end; open: it came to the end.
func (f *flow) up(at profile.Place, way profile.Way, met *[]profile.Place) (end profile.Arm, open bool) {
	last := len(f.q.Legs[at.Leg].Units)
	for start := at; at == start || !f.stops[at]; {
		unit := at
		switch {
		case way == profile.Onward && at.Joint == 0:
			return profile.Arm{Leg: at.Leg}, true
		case way == profile.Back && at.Joint == last:
			return profile.Arm{Leg: at.Leg, End: true}, true
		case way == profile.Onward:
			at.Joint--
			unit = at
		default:
			at.Joint++
		}
		f.ways[unit.Leg][unit.Joint] = way
		*met = append(*met, unit)
	}
	return end, false
}

// nodeOf is the node that an end of a leg lies at; −1: none.
func nodeOf(q *profile.Problem, end profile.Arm) int {
	for n := range q.Nodes {
		for _, a := range q.Nodes[n].Arms {
			if a.Leg == end.Leg && a.End == end.End {
				return n
			}
		}
	}
	return -1
}

// drainRises is how far the pipe lies above its level at a node, at each of its arms: units end short of a casting, and the
// pipe falls under it as it does at the least.
func (b *build) drainRises(q *profile.Problem, ways [][]profile.Way) [][]measure.Length {
	fall := b.job.Levels.Drain.Least
	out := make([][]measure.Length, len(q.Nodes))
	for n := range q.Nodes {
		for _, a := range q.Nodes[n].Arms {
			out[n] = append(out[n], b.drainRise(q, a, ways, fall))
		}
	}
	return out
}

func (b *build) drainRise(q *profile.Problem, a profile.Arm, ways [][]profile.Way, fall job.Entry[measure.Grade]) measure.Length {
	l := &q.Legs[a.Leg]
	far, way, in := l.Joints[0].At, ways[a.Leg][0], profile.Back
	if a.End {
		far, way, in = b.axes[a.Leg].line.Length()-l.Joints[len(l.Joints)-1].At, ways[a.Leg][len(l.Units)-1], profile.Onward
	}
	if !fall.Known || far <= 0 || way == profile.Unsaid || fall.Value.Run == 0 {
		return 0
	}
	rise := portion(far, fall.Value.Rise, fall.Value.Run) + 1 // rounding takes nothing off the least
	if way != in {
		return -rise
	}
	return rise
}

// drainBranches says where a branch is sawn in, and how far its drain lies off the other there: how it joins that is nobody's
// to guess.
func (b *build) drainBranches() {
	for _, e := range b.branches {
		on := e.node.On
		last := 0
		if e.arm.End {
			last = len(b.heights.problem.Legs[e.arm.Leg].Joints) - 1
		}
		own, other := b.pipe.level(e.arm.Leg, last), b.pipe.between(on.Leg, on.Chainage)
		leg, into := b.leg(e.arm.Leg).ID, b.leg(on.Leg).ID
		levels := "its levels are its own"
		if own != nil && other != nil {
			levels += b.tell(", and its underside ends at %s where that of leg %s lies at %s", wording.Far(*own), into, wording.Far(*other))
		}
		b.add(finding.Finding{ID: "planner.drain-branch", Kind: finding.NotChecked, Where: finding.Where{Leg: leg}, Ask: "whoever designed the drainage",
			Text: b.tell("NOT CHECKED: no word on file about how the drain in the %s of leg %s joins that of leg %s at %s: %s. Ask: whoever designed the drainage", wording.Bed, leg, into, e.node.ID, levels)})
	}
}
