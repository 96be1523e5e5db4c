package planner

import (
	"math"
	"slices"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/place/route"
	"trenchwright/solve/profile"
)

// A branch that is sawn into a wall takes its level from the run that goes on past it, which knows nothing of the branch: the
// top of its walls ends where the top of that wall is. Levels are solved, the branch is fixed to the run as it then lies, and
// they are solved again; what goes on does not move for it, so that this ends with as many more as branches stand one on the
// other. Where the branch cannot lie so it keeps a level of its own, and both are said.

// sawnEnd is the end of a leg that is sawn into another.
type sawnEnd struct {
	node *route.Node
	arm  profile.Arm
	free string // why it is not tied; "": it is
}

// sawnEnds are those of the run.
func (b *build) sawnEnds() (out []sawnEnd) {
	for i := range b.net.Nodes {
		if n := &b.net.Nodes[i]; n.Kind == route.Branch && n.On != nil && len(n.Arms) == 1 {
			out = append(out, sawnEnd{node: n, arm: profile.Arm{Leg: n.Arms[0].Leg, End: !n.Arms[0].Away}})
		}
	}
	return out
}

// end is the joint of the problem at the end of a leg.
func (q heights) end(a profile.Arm) *profile.Joint {
	joints := q.problem.Legs[a.Leg].Joints
	if a.End {
		return &joints[len(joints)-1]
	}
	return &joints[0]
}

// topAt is the wall top at a chainage of a leg, on its axis, the grade and crossfall there, and the supply of the unit.
func (q heights) topAt(sol profile.Solution, leg int, ch measure.Length) (profile.Face, int) {
	joints := q.problem.Legs[leg].Joints
	k := 0
	for k < len(joints)-2 && joints[k+1].At <= ch {
		k++
	}
	_, f := sol.Faces(q.problem, leg, k, nil)
	end, _ := sol.Faces(q.problem, leg, k+1, nil)
	f.Level += portion(ch-joints[k].At, end.Level-f.Level, joints[k+1].At-joints[k].At)
	return f, q.legs[leg].supply[k]
}

// wallBeside is the top of the wall that a branch is sawn into, where the branch's axis meets it.
func (b *build) wallBeside(q heights, sol profile.Solution, e sawnEnd) measure.Length {
	on := e.node.On
	f, supply := q.topAt(sol, on.Leg, on.Chainage)
	if f.Cross.Rise == 0 {
		return f.Level
	}
	across := b.sup[supply].width / 2
	if !on.Right {
		across = -across
	}
	return f.Level - portion(across, f.Cross.Rise, f.Cross.Run)
}

// tieBranches solves again with every sawn branch at the level of the wall that it opens.
func (b *build) tieBranches(q heights, sol profile.Solution, before *profile.Solution) (heights, profile.Solution) {
	ends := b.sawnEnds()
	for i := range ends {
		if j := q.end(ends[i].arm); j.Pin != nil {
			ends[i].free = "it is fixed by " + j.Name
		}
	}
	for range ends {
		for i := range ends {
			e := &ends[i]
			z := b.wallBeside(q, sol, *e)
			pin := q.end(e.arm).Pin
			if e.free != "" || pin != nil && *pin == z {
				continue
			}
			tied := q.pinned(e.arm, z, "leg "+b.leg(e.node.On.Leg).ID+", into which it is sawn")
			said := len(b.found)
			next, ok := b.solved(tied, before)
			if why := b.found[said:]; !ok {
				e.free = "its own limits forbid it"
				for _, f := range why {
					e.free = f.Text
				}
				b.found = b.found[:said]
				continue
			}
			q, sol = tied, next
		}
	}
	b.branches = ends
	return q, sol
}

// pinned is the same question with the end of a leg fixed.
func (q heights) pinned(a profile.Arm, z measure.Length, name string) heights {
	q.problem.Legs = slices.Clone(q.problem.Legs)
	l := &q.problem.Legs[a.Leg]
	l.Joints = slices.Clone(l.Joints)
	j := q.end(a)
	j.Pin, j.Name = &z, name
	return q
}

// sayBranches says where a branch does not lie as the wall that it opens, and what lip its walls make there.
func (b *build) sayBranches() {
	limit := b.job.Rules.LipLimit
	for _, e := range b.branches {
		leg, on, n := b.leg(e.arm.Leg).ID, b.leg(e.node.On.Leg).ID, e.node.ID
		w := finding.Where{Leg: leg, Path: "nodes." + n}
		wall := b.wallBeside(*b.heights, b.profile, e)
		own := b.ownEnd(e.arm)
		if off := own.Level - wall; off.Abs() > measure.Nanometre {
			b.add(finding.Finding{ID: "planner.branch-level", Kind: finding.Attention, Where: w,
				Text:  b.tell("leg %s is sawn into leg %s at %s, and does not meet it in level: its wall top ends there at %s, that of leg %s lies at %s, %s apart; %s", leg, on, n, wording.Far(own.Level), on, wording.Far(wall), off.Abs(), e.free),
				Value: b.tell("%s", off.Abs()), Limit: "one level", Try: "another level for what fixes the branch, or a casting there"})
			continue
		}
		lip := b.branchLip(e, own)
		switch {
		case lip == 0:
		case !limit.Known:
			b.add(finding.Finding{ID: "planner.branch-lip", Kind: finding.NotChecked, Where: w, Ask: "the contract",
				Text: b.tell("NOT CHECKED: no limit for a lip on file; the walls of leg %s stand %s off the wall of leg %s at %s, one up and one down, for their grades differ. Ask: the contract", leg, lip, on, n)})
		case lip > limit.Value:
			b.add(finding.Finding{ID: "planner.branch-lip", Kind: finding.Attention, Where: w, Value: b.tell("%s", lip), Limit: b.tell("%s", limit.Value), Rule: "the contract's limit for a lip",
				Text: b.tell("the walls of leg %s stand %s off the wall of leg %s at %s, one up and one down: the contract allows %s", leg, lip, on, n, limit.Value), Try: "a gentler grade of the run there, or of the branch"})
		}
	}
}

// ownEnd is how the unit at the end of a leg lies.
func (b *build) ownEnd(a profile.Arm) profile.Face {
	last := 0
	if a.End {
		last = len(b.heights.problem.Legs[a.Leg].Joints) - 1
	}
	before, behind := b.profile.Faces(b.heights.problem, a.Leg, last, nil)
	if a.End {
		return before
	}
	return behind
}

// branchLip is how far the walls of a branch stand off the wall that they end at, where its axis does not: the branch spans
// W/2/sin φ of that wall each way, which rises there on the run's own grade, and has its own grade and crossfall.
func (b *build) branchLip(e sawnEnd, own profile.Face) measure.Length {
	on := e.node.On
	φ := on.Angle.Radians()
	grade, cross := ratio(own.Grade), ratio(own.Cross)
	if e.arm.End { // looking away from the node
		grade, cross = -grade, -cross
	}
	main, _ := b.heights.topAt(b.profile, on.Leg, on.Chainage)
	off := ratio(main.Grade) - float64(grade*math.Cos(φ)) - float64(cross*math.Sin(φ))
	half := float64(b.legSupply(e.arm.Leg).width) / 2 / math.Abs(math.Sin(φ))
	return measure.Length(math.Ceil(math.Abs(float64(off * half))))
}
