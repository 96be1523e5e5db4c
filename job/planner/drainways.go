package planner

import (
	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/solve/profile"
)

// drainWays is which way the drain's water runs under every unit: as the job states it for the drain; else to the only
// outlet that a leg can reach, where there are no loops; else as the run's own water does. Where none of these says it, the
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
			if way == profile.Unsaid && only[i] != nil {
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

// toOnlyOutlet is, by leg, the ways that its units have to run where it reaches exactly one outlet, and by one way; nil
// where it does not.
func toOnlyOutlet(q *profile.Problem, outlets []profile.PipeOutlet) [][]profile.Way {
	out, reached := make([][]profile.Way, len(q.Legs)), make([]int, len(q.Legs))
	for _, o := range outlets {
		ways, tree := flow(q, o)
		for i := range ways {
			if ways[i] != nil {
				out[i] = ways[i]
				if reached[i]++; !tree {
					reached[i]++
				}
			}
		}
	}
	for i, n := range reached {
		if n != 1 {
			out[i] = nil
		}
	}
	return out
}

// flow is how water runs to an outlet from everywhere that is joined to it; tree is false where there is more than one way.
func flow(q *profile.Problem, o profile.PipeOutlet) (ways [][]profile.Way, tree bool) {
	ways, tree = make([][]profile.Way, len(q.Legs)), true
	fill := func(leg, turn int) { // onward up to a joint, back behind it
		for k := range q.Legs[leg].Units {
			way := profile.Back
			if k < turn {
				way = profile.Onward
			}
			ways[leg] = append(ways[leg], way)
		}
	}
	fill(o.Leg, o.Joint)
	ends := []profile.Arm{{Leg: o.Leg}, {Leg: o.Leg, End: true}}
	for ; len(ends) > 0; ends = ends[1:] {
		node := nodeOf(q, ends[0])
		if node < 0 {
			continue
		}
		for _, a := range q.Nodes[node].Arms {
			switch {
			case a.Leg == ends[0].Leg && a.End == ends[0].End:
			case ways[a.Leg] != nil:
				tree = false
			case a.End:
				fill(a.Leg, len(q.Legs[a.Leg].Units))
				ends = append(ends, profile.Arm{Leg: a.Leg})
			default:
				fill(a.Leg, 0)
				ends = append(ends, profile.Arm{Leg: a.Leg, End: true})
			}
		}
	}
	return ways, tree
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

// drainBranches says where a branch is sawn in: how its drain joins the other is nobody's to guess.
func (b *build) drainBranches() {
	for i := range b.net.Legs {
		for _, id := range []string{b.leg(i).From, b.leg(i).To} {
			if s := b.node(id).Sawn; s != nil {
				b.add(finding.Finding{ID: "planner.drain-branch", Kind: finding.NotChecked, Where: finding.Where{Leg: b.leg(i).ID}, Ask: "whoever designed the drainage",
					Text: b.tell("NOT CHECKED: no word on file about how the drain in the %s of leg %s joins that of leg %s at %s: its levels are its own. Ask: whoever designed the drainage", wording.Bed, b.leg(i).ID, s.Into, id)})
			}
		}
	}
}
