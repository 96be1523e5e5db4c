package planner

import (
	"fmt"
	"slices"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/solve/layout"
)

// A leg on which something lies is laid in two parts: what lies stays where it was measured, and what is to come is a leg of its own
// behind it (layout.Problem.Behind). A person chose how to lay that: as long as it still fits it is what the plan has, and the
// checker looks at it piece by piece. Where the job was changed so that it does not, the rest is laid anew, with the proof that
// every leg has.

// partBuilt is what a leg's built part comes to in a plan.
type partBuilt struct {
	lies   int             // units that lie, one behind the other from where the leg is laid
	beyond []gang          // and those that lie beyond gaps
	lying  []bool          // by unit, in laying order
	rest   layout.Problem  // what is left behind them
	from   measure.Length  // where that starts
	chosen bool            // the rest is as a person chose it
	best   layout.Solution // of that, with its proof
	why    string          // why the rest is not as it was chosen; empty: it is
	names  []string        // of all units, in laying order
	left   []layout.Unit   // what is left, with what lies beyond gaps as single units, from where it starts
}

// brick is one unit of a built leg, in laying order.
type brick struct {
	name string
	unit layout.Unit
	cut  bool
	of   string // mark of the offcut that it is cut from
	with []string
}

// bricks are the units of a job's built part, by a leg's problem; an error says which name cannot be read, or which supply is none of
// the leg's.
func (b *build) bricks(leg int, q *question, made *job.Built) (list []brick, lies int, err error) {
	for _, c := range made.Courses {
		of := 0
		if c.Supply != "" {
			i := slices.IndexFunc(b.sup, func(s supply) bool { return s.ID == c.Supply })
			if i < 0 {
				return nil, 0, fmt.Errorf("there is no supply %s", c.Supply)
			}
			if of = slices.Index(q.supply, i); of < 0 {
				of = len(q.supply)
				q.supply = append(q.supply, i)
				q.problem.Supplies = append(q.problem.Supplies, layoutSupply(&b.sup[i]))
			}
		}
		places, err := c.Places()
		if err != nil {
			return nil, 0, err
		}
		for k, name := range places {
			u := layout.Unit{Supply: of, Start: c.Start + measure.Length(k)*c.Pitch, Length: c.Length, Stock: c.Stock, Cut: c.Stock > 0, Hold: c.Hold}
			list = append(list, brick{name, u, u.Cut, c.Of, c.With})
			if name == made.To {
				lies = len(list)
			}
		}
	}
	return list, lies, nil
}

// asRounded is what a length on a curve or a slope may differ from the chainage it covers by, there and back.
const asRounded = measure.Nanometre

// laidUnits are bricks as units of a problem, at its beginning or its end or between: with what they advance, how they are sawn
// and covered, and the joints between them.
func laidUnits(p *layout.Problem, list []brick, begins, ends bool) []layout.Unit {
	out := make([]layout.Unit, len(list))
	held := -1
	for i, k := range list {
		if ends && p.Hold && k.cut {
			held = i // the last one that is cut closes the leg
		}
		u, _ := p.Piece(k.unit.Start, k.unit.Supply, k.unit.Length, k.cut, begins && i == 0, ends && i == len(list)-1)
		want := k.unit.Advance
		if ends && i == len(list)-1 {
			want = p.Length - u.Start
		}
		if (want - u.Advance).Abs() <= asRounded {
			u.Advance = want
		}
		if out[i] = u; i > 0 {
			before := &out[i-1]
			before.GapAfter = p.Width(u.Start, u.Start-before.Start-before.Advance)
		}
	}
	if held >= 0 && list[held].of == "" { // one that an offcut was chosen for is cut from that
		out[held].Hold = true
	}
	return out
}

// solveBuilt lays a leg of which something lies.
func (b *build) solveBuilt(leg int, l *laid, before []laid) error {
	made := b.leg(leg).Built
	list, lies, err := b.bricks(leg, &l.question, made)
	if err != nil {
		return err
	}
	for turns := 0; turns <= mostTurns; turns++ {
		var s layout.Solution
		if s, err = b.laidBehind(leg, l, list, lies, before); err != nil || s.Verdict != layout.Found {
			l.solution = s
			return err
		}
		l.solution = s
		start, end := b.facings(leg, l.question, s)
		if start == l.problem.Start.Tan && end == l.problem.End.Tan {
			break
		}
		l.problem.Start.Tan, l.problem.End.Tan = start, end
	}
	return nil
}

func (b *build) laidBehind(leg int, l *laid, list []brick, lies int, before []laid) (layout.Solution, error) {
	made := b.leg(leg).Built
	st := &partBuilt{lies: lies, beyond: lyingOn(&l.problem, made, list)}
	l.built = st
	st.tell(list, nil)
	under := laidUnits(&l.problem, list[:lies], true, lies == len(list))
	out := layout.Solution{Verdict: layout.Found, Units: under}
	if lies == len(list) {
		out.Count = countOf(out.Units)
		return out, nil
	}
	p, first := l.problem, len(l.problem.Supplies)
	if len(st.beyond) > 0 {
		p = closed(p, st.beyond)
	}
	single := asOne(list, st.beyond, first)
	var end measure.Length
	of := 0
	if lies > 0 {
		of = under[lies-1].Supply
		end = under[lies-1].Start + under[lies-1].Advance
	}
	rest, why := chosenRest(&p, st, single[lies:], lies, of, end)
	if b.rough {
		rest, why = asChosen(st, single[lies:]), ""
	}
	if before != nil && before[leg].built != nil && before[leg].built.why != "" { // it did not fit once: what follows comes to rest
		why = before[leg].built.why
	}
	best, err := layout.Solve(st.rest)
	if err != nil {
		return out, err
	}
	st.best = best
	if st.chosen = why == ""; !st.chosen {
		st.why = why
		if best.Verdict != layout.Found {
			best.Units = nil
			return best, nil
		}
		if before != nil && before[leg].built != nil {
			if again, err := layout.Refit(st.rest, best, before[leg].built.left, nil, best.Opened); err == nil && len(layout.Check(st.rest, again)) == 0 {
				best = again
			}
		}
		rest, st.best = best.Units, best
		st.tell(list, append(slices.Clone(single[:lies]), renamed(single[lies:], rest, b.leg(leg), lastOf(list, st.beyond))...))
	}
	st.left = rest
	out.Opened, out.LeastUnits, out.Certificate = best.Opened, lies+best.LeastUnits, best.Certificate
	moved := slices.Clone(rest)
	for i := range moved {
		moved[i].Start += st.from
	}
	out.Units = append(out.Units, inFull(moved, st.beyond, first, func(v *gang) []layout.Unit {
		return laidUnits(&l.problem, list[v.from:v.to], false, v.last)
	})...)
	if last := lies - 1; last >= 0 {
		out.Units[last].GapAfter = l.problem.Width(st.from, st.from-under[last].Start-under[last].Advance)
	}
	out.Count = countOf(out.Units)
	for i, name := range st.names { // its walls differ: no card has it square
		out.Units[i].Hold = out.Units[i].Hold || slices.ContainsFunc(list, func(k brick) bool { return k.name == name && k.unit.Hold && out.Units[i].Cut })
	}
	return out, nil
}

// tell names all units in laying order, and which of them lie: as the job has them, or as what is left was laid anew (single: with what
// lies beyond gaps as one).
func (st *partBuilt) tell(list, single []brick) {
	beyond := map[string]*gang{}
	for i := range st.beyond {
		beyond[st.beyond[i].place] = &st.beyond[i]
	}
	if single == nil {
		single = asOne(list, st.beyond, 0)
	}
	st.names, st.lying = nil, nil
	for i, k := range single {
		if v := beyond[k.name]; v != nil {
			for _, one := range list[v.from:v.to] {
				st.names, st.lying = append(st.names, one.name), append(st.lying, true)
			}
			continue
		}
		st.names, st.lying = append(st.names, k.name), append(st.lying, i < st.lies)
	}
}

// settling is how much a leg may have grown or shrunk since its rest was chosen for a cut unit or a joint of it to take that up: levels
// that are solved again move it by less.
const settling = measure.Millimetre

// chosenRest are the units that a person chose, behind what lies; where the leg has settled by a little since, a cut unit of it takes
// that up, or a joint; and a limit by place that was met to the last nanometre may be passed by as much. Why says what speaks against
// them.
func chosenRest(p *layout.Problem, st *partBuilt, list []brick, lies, before int, end measure.Length) ([]layout.Unit, string) {
	behind := func(p *layout.Problem, from measure.Length) layout.Problem {
		if lies == 0 {
			return *p // nothing lies: it begins as the leg does
		}
		q := p.Behind(from)
		if lies < len(p.First) {
			q.First = p.First[lies:]
		}
		return q
	}
	from := list[0].unit.Start
	shifted := slices.Clone(list)
	for i := range shifted {
		shifted[i].unit.Start -= from
	}
	st.from, st.rest = from, behind(p, from)
	why := ""
	for _, by := range [2]measure.Length{0, settled} {
		loose := eased(*p, by)
		rest := wholeWindows(behind(&loose, from))
		units, said := fitting(&rest, shifted)
		if said == "" {
			return units, ""
		}
		if why == "" {
			why = said
		}
		last := units[len(units)-1]
		off := rest.Length - last.Start - last.Advance
		if open := wholeWindows(loose); lies > 0 && off.Abs() <= settling && open.MayOpen(end, from+off, before) { // the joint behind what lies
			further := wholeWindows(behind(&loose, from+off))
			if units := laidUnits(&further, shifted, true, true); len(layout.CheckLaid(further, units)) == 0 {
				st.from, st.rest = from+off, behind(p, from+off)
				return units, ""
			}
		}
	}
	return nil, why
}

// fitting are units as they fit a rest: as they are, or with what is left over taken up; else why they do not, as they are.
func fitting(rest *layout.Problem, list []brick) ([]layout.Unit, string) {
	units := laidUnits(rest, list, true, true)
	bad := layout.CheckLaid(*rest, units)
	if len(bad) == 0 {
		return units, ""
	}
	last := units[len(units)-1]
	off := rest.Length - last.Start - last.Advance
	if off == 0 || off.Abs() > settling {
		return units, bad[0].Text
	}
	for i := len(list) - 1; i >= 0; i-- {
		if list[i].cut {
			if units := takenUp(rest, list, i+1, off, i); len(layout.CheckLaid(*rest, units)) == 0 {
				return units, ""
			}
		}
	}
	for i := len(list) - 1; i > 0; i-- {
		if units := takenUp(rest, list, i, off, -1); len(layout.CheckLaid(*rest, units)) == 0 {
			return units, ""
		}
	}
	return units, bad[0].Text
}

// eased is a problem whose limits by place are wider by so much on either side, where they have a width; what lies has none.
func eased(p layout.Problem, by measure.Length) layout.Problem {
	zones := func(zones []layout.Zone) []layout.Zone {
		out := slices.Clone(zones)
		for i := range out {
			if z := &out[i]; z.To-z.From > 2*by {
				z.From, z.To = z.From+by, z.To-by
			}
		}
		return out
	}
	p.Zones, p.NoCut = zones(p.Zones), zones(p.NoCut)
	p.Demands = slices.Clone(p.Demands)
	for i := range p.Demands {
		if d := &p.Demands[i]; d.To-d.From > 2*by {
			d.From, d.To = d.From+by, d.To-by
		}
	}
	p.Joints = slack(p.Joints, by)
	return p
}

// slack are joints that have to stand somewhere with so much more room on either side, or less, where they have any.
func slack(joints []layout.ForcedJoint, by measure.Length) []layout.ForcedJoint {
	out := slices.Clone(joints)
	for i := range out {
		if j := &out[i]; j.Tolerance > 0 && j.Tolerance+by > 0 {
			j.Tolerance += by
		}
	}
	return out
}

// asChosen are the units that a person chose, whatever speaks against them.
func asChosen(st *partBuilt, list []brick) []layout.Unit {
	rest, shifted := wholeWindows(st.rest), slices.Clone(list)
	for i := range shifted {
		shifted[i].unit.Start -= st.from
	}
	return laidUnits(&rest, shifted, true, true)
}

// wholeWindows is a leg whose joints have all of their windows: what of one its turn and its change of grade need is told where it is
// overspent (budget), for a gap that a person chose.
func wholeWindows(p layout.Problem) layout.Problem {
	p.Stretches = slices.Clone(p.Stretches)
	for i := range p.Stretches {
		p.Stretches[i].Gap = measure.Window{}
	}
	return p
}

// takenUp are units with all from one on moved, and one of them cut longer, or shorter, by as much; below 0: the joint opens.
func takenUp(p *layout.Problem, list []brick, from int, off measure.Length, longer int) []layout.Unit {
	list = slices.Clone(list)
	for i := from; i < len(list); i++ {
		list[i].unit.Start += off
	}
	if longer >= 0 {
		list[longer].unit.Length += off
	}
	return laidUnits(p, list, true, true)
}

// countOf counts units.
func countOf(units []layout.Unit) layout.Count {
	c := layout.Count{Units: len(units)}
	for _, u := range units {
		if u.Cut {
			c.Cuts++
		}
		for _, k := range u.Covers {
			if k.Cut {
				c.CutCovers++
			}
		}
	}
	return c
}

// settleBuilt keeps the answer of a leg of which something lies, and says what was proven of it.
func (b *build) settleBuilt(leg int, l *laid) {
	st, id := l.built, b.leg(leg).ID
	l.take(l.solution)
	proof := LegProof{Leg: id, Verified: true}
	lie := b.tell("%s to %s lie as they were measured", st.names[0], st.names[max(st.lies-1, 0)])
	if st.lies == 0 {
		lie = "nothing lies yet"
	}
	for _, v := range st.beyond {
		lie += "; beyond a gap " + v.place + " and what follows it lies"
	}
	switch {
	case l.solution.Verdict == layout.Undecided:
		proof.Verified, proof.Claim = false, "undecided: "+l.solution.Why
		b.add(finding.Finding{ID: "layout.undecided", Kind: finding.Attention, Text: "leg " + id + ": " + l.solution.Why, Where: finding.Where{Leg: id}})
	case l.solution.Verdict != layout.Found:
		b.restChecked(&proof, st)
		proof.Claim = "impossible: " + lie + ", and " + l.solution.Why
		b.add(finding.Finding{ID: "layout.impossible", Kind: finding.Impossible, Text: "the rest of leg " + id + " cannot be laid: " + l.solution.Why, Where: finding.Where{Leg: id},
			Try: remedies(l.solution.Try, b.tell("lift the last %s again, and lay from the one before", wording.Unit))})
	case st.best.Certificate == nil:
		proof.Claim, proof.Bound = lie+"; nothing is left to lay", "the leg is built"
	default:
		b.restChecked(&proof, st)
		count, least := countOf(st.left), st.best.Count
		count.Units, least.Units = count.Units-len(st.beyond), least.Units-len(st.beyond)
		if count == least {
			proof.Claim = b.tell("%s; of what is to come, %s: no layout from there has fewer %s, then fewer cuts, then fewer cut covers", lie, countText(count, b.speech()), wording.Units)
		} else {
			proof.Claim = b.tell("%s; what is to come was chosen for the few changes: %s, where the fewest from there are %s", lie, countText(count, b.speech()), countText(least, b.speech()))
		}
		proof.Bound = "the least that every start behind what lies still costs, worked out from the far end; what lies is taken as it was measured, and not held against any limit"
		if st.why != "" {
			b.add(finding.Finding{ID: "planner.built-rest", Kind: finding.Attention, Where: finding.Where{Leg: id},
				Text: fmt.Sprintf("what was chosen for the rest of leg %s does not fit any more (%s): it is laid anew from %s on", id, st.why, st.names[st.lies]),
				Try:  "look at what changed in the job since; or plan again from the records and take an answer"})
		}
	}
	if st.best.Certificate != nil {
		proof.Intervals = st.best.Certificate.Len()
	}
	b.plan.Proof.Legs = append(b.plan.Proof.Legs, proof)
	l.solution.Certificate, st.best = nil, layout.Solution{}
}

// restChecked has the checker look at the best rest with its proof.
func (b *build) restChecked(proof *LegProof, st *partBuilt) {
	for _, f := range layout.Check(st.rest, st.best) {
		proof.Verified = false
		proof.CheckerSay = append(proof.CheckerSay, f.Text)
		f.Where.Leg = proof.Leg
		b.add(f)
	}
}
