package planner

import (
	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/place/ground"
	"trenchwright/place/route"
	"trenchwright/solve/profile"
)

// Stepped runs. Where the job says stepped, or where the run would lie steeper than the job lets it, every unit lies at one
// stated grade (level where none is stated) and steps at the joint behind it. Where legs meet no unit steps: the two pieces of
// a mitre are one plane, and so is a casting with the units that it carries. Those units lie at the stated grade; the run
// steps before the last of them and behind the one after the first.

// reach is a stretch of a leg, by chainage.
type reach struct {
	leg      int
	from, to measure.Length
}

// inSteps tells whether a place of a leg is to be stepped.
func (b *build) inSteps(i int, ch measure.Length) bool {
	if b.gradesAt(i, ch) == job.SteppedUnits {
		return true
	}
	for _, r := range b.stepped {
		if r.leg == i && r.from <= ch && ch <= r.to {
			return true
		}
	}
	return false
}

// stepAt is the grade of units that step at a place, and the most of a step there; nil: none on file.
func (b *build) stepAt(i int, ch measure.Length) (measure.Grade, *measure.Length) {
	grade, most := b.job.Levels.StepGrade, b.job.Levels.StepMost
	if s := b.stretchAt(i, ch); s != nil {
		if s.StepGrade.Known {
			grade = s.StepGrade
		}
		if s.StepMost.Known {
			most = s.StepMost
		}
	}
	g := grade.Value
	if g.Run == 0 {
		g = measure.Grade{Run: 1}
	}
	if !most.Known {
		return g, nil
	}
	return g, &most.Value
}

// steps makes the units of a leg step where they have to. of says which unit of the leg each of the profile's is: a pin
// inside a unit parts it in two, and only the last part steps.
func (b *build) steps(i int, l *laid, p *profile.Leg, of []int) {
	ends := b.net.Legs[i]
	for k := range p.Units {
		first, last := k, k
		for first > 0 && of[first-1] == of[k] {
			first--
		}
		for last < len(of)-1 && of[last+1] == of[k] {
			last++
		}
		from, to := p.Joints[first].At, p.Joints[last+1].At
		mid := from + (to-from)/2
		if !b.inSteps(i, mid) {
			continue
		}
		g, most := b.stepAt(i, mid)
		if k == first && k > 0 {
			b.wantMiddle(i, l, &p.Joints[k], of[k], mid, g)
		}
		u := &p.Units[k]
		switch {
		case k < last:
			u.Least, u.Most = &g, &g
		case of[k] == 0 && b.meets(ends.From) || last == len(of)-1 && b.meets(ends.To):
			if b.gradesAt(i, mid) == job.SteppedUnits || b.besideSteps(i, p, first, last) { // a unit by itself there has nothing to step to, and lies on a grade
				u.Least, u.Most = &g, &g
			}
		case last == len(of)-1 && p.Joints[k+1].Pin == nil:
			u.Step = &profile.Step{Grade: g, Most: new(measure.Length)} // nothing is behind it to step to
		default:
			u.Step = &profile.Step{Grade: g, Most: most}
		}
	}
}

// besideSteps tells whether the unit before or behind one, by the joints at its ends, is to be stepped.
func (b *build) besideSteps(i int, p *profile.Leg, first, last int) bool {
	before := first > 0 && b.inSteps(i, p.Joints[first].At-measure.Millimetre)
	return before || last+2 < len(p.Joints) && b.inSteps(i, p.Joints[last+1].At+measure.Millimetre)
}

// meets tells whether legs meet at a node.
func (b *build) meets(node int) bool {
	n := b.net.Nodes[node]
	return n.Kind != route.Branch && len(n.Arms) > 1
}

// wantMiddle aims the middle of a unit that steps at the wanted level, not its start.
func (b *build) wantMiddle(i int, l *laid, j *profile.Joint, unit int, mid measure.Length, g measure.Grade) {
	at, ok := b.ground.Of(ground.Finished).At(b.planAt(i, mid))
	if !ok || j.Wanted == nil {
		return
	}
	down, err := g.Over(mid - j.At)
	if err != nil {
		return
	}
	z := ground.Record(at.Z) + b.job.Levels.Above.Value - b.coverAt(i, l, station{unit: unit}) - down
	j.Wanted = &z
}

// findSteps says once, of the levels as they would lie without steps, what lies steeper than the job lets it. Later passes
// keep it, so that lengths can settle; what does not step is held to that grade.
func (b *build) findSteps(legs []laid) {
	beyond := b.job.Levels.SteppedBeyond
	if !beyond.Known || b.stepsKnown {
		return
	}
	q := b.askLevels(legs, holdLies)
	b.stepsKnown = true
	sol, err := profile.Solve(q.problem)
	if err != nil || sol.Verdict != profile.Found {
		return // the words for it come from the question with all its limits
	}
	for _, s := range profile.Beyond(sol, beyond.Value) {
		joints := q.problem.Legs[s.Leg].Joints
		b.stepped = append(b.stepped, reach{s.Leg, joints[s.From].At, joints[s.To].At})
	}
}

// steepest is how steep a unit may lie that does not step, either way. While it is not known yet what steps, nothing holds it.
func (b *build) steepest(most job.Entry[measure.Grade]) job.Entry[measure.Grade] {
	beyond := b.job.Levels.SteppedBeyond
	switch {
	case !beyond.Known:
		return most
	case !b.stepsKnown:
		return job.Entry[measure.Grade]{}
	case !most.Known || beyond.Value.Cmp(most.Value) < 0:
		return beyond
	}
	return most
}

// sayStepped says where the run steps, and what nobody has said of its joints there.
func (b *build) sayStepped() {
	said := false
	for _, r := range b.stepped {
		b.add(finding.Finding{ID: "planner.stepped", Kind: finding.Note, Where: at(b.leg(r.leg).ID, r.from), Limit: b.job.Levels.SteppedBeyond.Value.String(),
			Text: b.tell("leg %s would lie steeper than %s from %s to %s: its %s step at their joints there", b.leg(r.leg).ID, b.job.Levels.SteppedBeyond.Value.String(), b.say(r.from), b.say(r.to), wording.Units)})
	}
	for _, r := range b.profile.Runs {
		said = said || r.Stepped
	}
	if said {
		b.add(finding.Finding{ID: "planner.step-joint", Kind: finding.NotChecked, Where: finding.Where{Path: "levels"}, Ask: "the supplier",
			Text: "NOT CHECKED: no detail of a joint with a step on file, nor how its gap is closed and its covers end. Ask: the supplier"})
	}
}
