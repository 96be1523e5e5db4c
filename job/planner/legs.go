package planner

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/place/route"
	"trenchwright/solve/layout"
)

// laid is one leg with its answer, units in the order of the leg's axis.
type laid struct {
	question
	solution layout.Solution
	units    []layout.Unit
	first    int        // index of its first unit in the plan
	order    []int      // place number of each unit, counted in laying order
	again    bool       // its sequence is that of the pass before
	built    *partBuilt // something lies on it already; nil: nothing
}

// name is the place of a unit, counted in the order of the axis.
func (l *laid) name(leg string, i int) string {
	if l.built != nil {
		return l.built.names[l.order[i]-1]
	}
	return place(leg, l.order[i])
}

// solveLegs asks the leg programme for every leg and has the answers checked by the separate checker. Units that were laid
// before are kept where that costs nothing; nil: there are none.
func (b *build) solveLegs(before []laid) []laid {
	out := make([]laid, len(b.net.Legs))
	for i := range b.net.Legs {
		q := b.ask(i)
		out[i] = laid{question: q}
		if b.axes[i].clear <= 0 {
			b.fault("planner.no-length", "legs."+b.leg(i).ID, fmt.Sprintf(
				"leg %s is %s from node to node; its fittings and gaps take %s of that", b.leg(i).ID,
				b.say(b.net.Legs[i].Line.Length()), b.say(b.axes[i].start.setback+b.axes[i].end.setback)), "move a node, or shorter arms")
			continue
		}
		var s layout.Solution
		var err error
		if b.leg(i).Built == nil {
			s, err = b.solveLeg(i, &out[i].question)
		} else {
			err = b.solveBuilt(i, &out[i], before)
			s = out[i].solution
		}
		if err != nil {
			b.add(finding.Finding{ID: "planner.leg-problem", Kind: finding.Fault, Text: fmt.Sprintf("leg %s: %v", b.leg(i).ID, err), Where: finding.Where{Leg: b.leg(i).ID}})
			continue
		}
		if keep := len(b.net.Legs) <= lotSize; !keep {
			b.settle(i, &out[i], s) // a long run is not steered: what has done its work is let go leg by leg
			continue
		}
		out[i].solution = s
	}
	if len(b.net.Legs) <= lotSize {
		b.steerLegs(out)
		for i := range out {
			s := out[i].solution
			if before != nil && s.Verdict == layout.Found && out[i].built == nil {
				s, out[i].again = b.refitted(i, out[i].question, s, &before[i]), true
			}
			if s.Verdict != "" {
				b.settle(i, &out[i], s)
			}
		}
	}
	return out
}

// settle has a leg's final answer checked and keeps it, without its certificate.
func (b *build) settle(i int, l *laid, s layout.Solution) {
	if l.built != nil {
		b.settleBuilt(i, l)
		return
	}
	s, curved := b.curveReason(i, l.question, s)
	if !curved {
		b.curveFindings(i, l.question)
	}
	s = askSaw(s, b.sup, l.supply)
	l.take(s)
	b.proveLeg(i, l.problem, s)
	l.solution.Certificate = nil
}

// lies tells whether a unit lies already, counted in the order of the axis.
func (l *laid) lies(i int) bool {
	return l.built != nil && l.order[i] <= len(l.built.lying) && l.built.lying[l.order[i]-1]
}

// take keeps an answer, turned back into the leg's own direction.
func (l *laid) take(s layout.Solution) {
	l.solution, l.units = s, slices.Clone(s.Units)
	l.order = make([]int, len(s.Units))
	for i := range l.order {
		l.order[i] = i + 1
	}
	if l.back {
		l.units = unmirrored(s.Units, l.problem.Length)
		for i := range l.order {
			l.order[i] = len(l.order) - i
		}
	}
}

// heldSaid is what a leg's solution says of the unit that it holds back, by the unit's mark.
func (b *build) heldSaid(leg string, s layout.Solution) string {
	held := slices.IndexFunc(s.Units, func(u layout.Unit) bool { return u.Hold })
	if held < 0 {
		return s.Held
	}
	_, said, _ := strings.Cut(s.Held, ", ")
	return place(leg, held+1) + ", " + said
}

// proveLeg keeps what was proven of a leg and what the checker said.
func (b *build) proveLeg(i int, p layout.Problem, s layout.Solution) {
	id := b.leg(i).ID
	proof := LegProof{Leg: id, Verified: true}
	if s.Certificate != nil {
		proof.Intervals = s.Certificate.Len()
	}
	for _, f := range layout.Check(p, s) {
		proof.Verified = false
		proof.CheckerSay = append(proof.CheckerSay, f.Text)
		f.Where.Leg = id
		b.add(f)
	}
	switch s.Verdict {
	case layout.Found:
		proof.Claim = b.tell("%s: no layout has fewer %s, then fewer cuts, then fewer cut covers", countText(s.Count, b.speech()), wording.Units)
		proof.Bound = fmt.Sprintf("at least %s by length alone; for the rest, the least that every start still costs, worked out from the far end", unitsText(s.LeastUnits, b.speech()))
		if s.Why != "" {
			b.add(finding.Finding{ID: "layout.why", Kind: finding.Note, Text: s.Why, Where: finding.Where{Leg: id}})
		}
		if s.Held != "" {
			b.add(finding.Finding{ID: "layout.held", Kind: finding.Note, Text: b.tell("the %s on hold is %s", wording.Closer, b.heldSaid(id, s)), Where: finding.Where{Leg: id}})
		}
		if c := s.Clearance; c.Known && c.Least == 0 {
			b.add(b.touching(i, p, s))
		}
	case layout.Impossible:
		proof.Claim = "impossible: " + s.Why
		proof.Bound = "no start can be finished: nothing reaches the far end from the first one"
		f := finding.Finding{ID: "layout.impossible", Kind: finding.Impossible, Text: "leg " + id + " cannot be laid: " + s.Why, Where: finding.Where{Leg: id}}
		f.Try = remedies(s.Try, b.tell("another node or bend, so that the leg has another length; limits that bind less: a wider joint window, a shorter shortest cut %s, shorter zones; or another supply", wording.Unit))
		b.add(f)
	default:
		proof.Claim, proof.Verified = "undecided: "+s.Why, false
		b.add(finding.Finding{ID: "layout.undecided", Kind: finding.Attention, Text: "leg " + id + ": " + s.Why, Where: finding.Where{Leg: id}})
	}
	b.plan.Proof.Legs = append(b.plan.Proof.Legs, proof)
}

// touching is a joint that stands where a zone begins or ends: to the solver it is outside, on site nothing may run over.
func (b *build) touching(leg int, p layout.Problem, s layout.Solution) finding.Finding {
	c := s.Clearance
	u, z := s.Units[c.Joint], p.Zones[c.Zone]
	begin, end, from, to := u.Start+u.Advance, s.Units[c.Joint+1].Start, z.From, z.To
	if b.leg(leg).LayFrom == b.leg(leg).To && b.leg(leg).LayFrom != "" {
		begin, end, from, to = p.Length-end, p.Length-begin, p.Length-to, p.Length-from
	}
	along := b.axes[leg]
	return finding.Finding{ID: "layout.no-clearance", Kind: finding.Attention,
		Text: b.tell("a joint on leg %s is to stand right at the edge of a stretch without joints, with nothing to spare: as soon as %s or gaps run over a little it stands inside. The stretch is kept free for %s",
			b.leg(leg).ID, wording.Units, z.Why),
		Where: at(b.leg(leg).ID, along.chainage(begin)),
		Limit: b.tell("no joint from %s to %s", wording.Far(along.chainage(from)), wording.Far(along.chainage(to))),
		Value: b.tell("the joint from %s to %s", wording.Far(along.chainage(begin)), wording.Far(along.chainage(end))),
		Try:   b.tell("measure the last joint before it is set; a wider joint window or a shorter %s would keep the joint away from there", wording.Unit)}
}

// remedies are what to try, all in one; where a solver knows none that it tried, otherwise is what can be tried by hand.
func remedies(known []string, otherwise string) string {
	if len(known) == 0 {
		return otherwise
	}
	return strings.Join(known, "; ")
}

func countText(c layout.Count, s wording.Speech) string {
	return fmt.Sprintf("%s, %s, %s", unitsText(c.Units, s), plural(c.Cuts, "cut", "cuts"), plural(c.CutCovers, "cut cover", "cut covers"))
}

func unitsText(n int, s wording.Speech) string {
	return plural(n, s.Word(wording.Unit), s.Word(wording.Units))
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// placeUnits writes the units, covers and joints of a leg into the plan.
func (b *build) placeUnits(leg int, l *laid) {
	b.placeBare(leg, l)
	covers := 0
	for _, u := range l.units {
		covers += len(u.Covers)
	}
	b.plan.Covers, b.plan.Joints = slices.Grow(b.plan.Covers, covers), slices.Grow(b.plan.Joints, len(l.units))
	for i, u := range l.units {
		s, mark := &b.sup[l.supply[u.Supply]], b.plan.Units[l.first+i].Mark
		for k, c := range u.Covers {
			b.plan.Covers = append(b.plan.Covers, b.placeCover(mark, s, k, c))
		}
	}
	for i := range len(l.units) - 1 {
		b.placeJoint(leg, l, i)
	}
}

// placeBare writes the units of a leg into the plan, without their covers and joints.
func (b *build) placeBare(leg int, l *laid) {
	l.first = len(b.plan.Units)
	b.plan.Units = slices.Grow(b.plan.Units, len(l.units))
	for i := range l.units {
		b.placeUnit(leg, l, i)
	}
}

func (b *build) placeUnit(leg int, l *laid, i int) {
	u, a := l.units[i], &b.axes[leg]
	s := &b.sup[l.supply[u.Supply]]
	start := a.point(u.Start)
	along := a.point(u.Start + u.Advance).Minus(start).Unit()
	grid := u.Length.Metres() / a.lie.stretch(a.chainage(u.Start)) * a.line.Scale()
	end := start.Plus(along.Times(grid))
	out := Unit{
		Mark: l.name(b.leg(leg).ID, i), Leg: b.leg(leg).ID, Supply: s.ID,
		Start: measure.MM(u.Start), Length: measure.MM(u.Length), Stock: measure.MM(u.Stock),
		Cut: u.Cut, Hold: u.Hold, Lies: l.lies(i), StartAngle: sawAngle(u.StartTan).Degrees(), EndAngle: sawAngle(u.EndTan).Degrees(),
		Mass: massOf(s.Unit.Mass.Known, s.Unit.Mass.Value, u.Length),
		Axis: [2][2]float64{{start.E, start.N}, {end.E, end.N}}, Bearing: along.Bearing().Degrees(),
		Chainage: measure.MM(a.chainage(u.Start)),
	}
	for _, z := range l.zones {
		if z.supply == s.index && u.Start < z.to && z.from < u.Start+u.Advance {
			out.Demands = z.why
		}
	}
	b.plan.Units = append(b.plan.Units, out)
	if i == len(l.units)-1 && a.end.mitred {
		b.overTangent(out.Mark, leg, end.Minus(a.point(u.Start+u.Advance)).Length()/a.line.Scale())
	}
}

// mitreMiss is how far a mitred face may stand off its line without a word: what a saw's setting moves its corner by.
const mitreMiss = 10 * measure.Micrometre

// overTangent says how far the face of a leg's last unit stands off the mitre's line in plan, in metres, where that unit
// reaches over a tangent point: its advance is counted by one curvature, and it lies on two.
func (b *build) overTangent(mark string, leg int, off float64) {
	if miss := measure.FromMetres(off); miss > mitreMiss {
		l := b.leg(leg)
		b.add(finding.Finding{ID: "planner.mitre-over-tangent", Kind: finding.Note, Where: finding.Where{Leg: l.ID, Place: l.To},
			Text: b.tell("%s reaches over a tangent point: laid as a chord its %s face stands %s mm from where the joint at %s has it", mark, wording.Mitred, (miss / measure.Micrometre * measure.Micrometre).MMString(), l.To)})
	}
}

func massOf(known bool, per measure.LinearMass, l measure.Length) *float64 {
	if !known {
		return nil
	}
	kg := per.Over(l).Kilograms()
	return &kg
}

func (b *build) placeCover(unit string, s *supply, k int, c layout.Cover) Cover {
	left, right := sides(c.Length, c.StartTan, c.EndTan, s.Cover.Width.Value)
	return Cover{
		Mark: coverMark(unit, k+1), Unit: unit, Start: measure.MM(c.Start), Length: measure.MM(c.Length), Stock: measure.MM(c.Stock),
		Cut: c.Cut || c.Mitred, StartAngle: sawAngle(c.StartTan).Degrees(), EndAngle: sawAngle(c.EndTan).Degrees(),
		Mass:     massOf(s.Cover.Mass.Known, s.Cover.Mass.Value, c.Length),
		LeftSide: measure.MM(left), RightSide: measure.MM(right),
	}
}

// sides are the lengths of a piece along its two faces: its cut lines are x = a + s·y, y to the left.
func sides(l measure.Length, startTan, endTan float64, width measure.Length) (left, right measure.Length) {
	d := measure.FromMetres((endTan - startTan) * width.Metres() / 2)
	return l + d, l - d
}

// owner is the unit that the joint behind unit i belongs to: the one that was laid before it.
func (l *laid) owner(i int) layout.Unit {
	if l.back {
		return l.units[i+1]
	}
	return l.units[i]
}

func (b *build) placeJoint(leg int, l *laid, i int) {
	u, next := l.units[i], l.units[i+1]
	s := &b.sup[l.supply[l.owner(i).Supply]]
	w := s.Joint.Gap.Value
	from, to := b.plan.Units[l.first+i], b.plan.Units[l.first+i+1]
	turns := b.axes[leg].lie.turnNear(b.standsAt(leg, l, i+1))
	j := Joint{
		Name: from.Mark + "/" + to.Mark, Leg: from.Leg,
		At: measure.MM(next.Start), Gap: measure.MM(u.GapAfter),
		GapMin: measure.MM(w.Min), GapMax: measure.MM(w.Max),
		Budget: b.budget(s, u.GapAfter, turnBetween(from, to), turns),
	}
	if swing := b.swung(j.Name); swing != 0 {
		j.Budget = b.budget(s, u.GapAfter, math.Abs(turnBetween(from, to))+math.Abs(swing), turns)
	}
	for k, f := range l.problem.Joints {
		x := next.Start
		if l.back {
			x = l.problem.Length - (u.Start + u.Advance)
		}
		if (x - f.At).Abs() <= f.Tolerance { // the gap is held at nominal there: see pinned
			j.Forced = l.forced[k]
		}
	}
	b.plan.Joints = append(b.plan.Joints, j)
	if j.Budget.Left < 0 && w.Min < w.Max {
		b.add(finding.Finding{ID: "planner.budget", Kind: finding.Attention,
			Text:  fmt.Sprintf("joint %s: turn %s, change of grade %s, squareness %s and reserve %s spend more than the %s that its gap of %s has", j.Name, b.say(measure.Length(j.Budget.Turn)), b.say(measure.Length(j.Budget.Grade)), b.say(measure.Length(j.Budget.Square)), b.say(measure.Length(j.Budget.Reserve)), b.say(measure.Length(j.Budget.Room)), b.say(u.GapAfter)),
			Where: at(j.Leg, b.axes[leg].chainage(next.Start)), Limit: b.say(measure.Length(j.Budget.Room)), Value: b.say(measure.Length(j.Budget.Room - j.Budget.Left)),
			Try: b.tell("shorter %s on the curve, a %s bend, or a wider window from the supplier", wording.Units, wording.Mitred)})
	}
}

// turnBetween is the turn in plan between two units in radians.
func turnBetween(a, c Unit) float64 {
	v := route.Vector{E: a.Axis[1][0] - a.Axis[0][0], N: a.Axis[1][1] - a.Axis[0][1]}
	w := route.Vector{E: c.Axis[1][0] - c.Axis[0][0], N: c.Axis[1][1] - c.Axis[0][1]}
	cross := float64(v.N*w.E) - float64(v.E*w.N)
	θ := math.Atan2(cross, v.Dot(w))
	if math.Abs(θ) < 1e-7 { // a tenth of a micrometre at the wall of a 2 m unit: rounding of positions, no turn
		return 0
	}
	return θ
}

// budget says who spends what of a joint's window. Where no window was entered there is none to spend.
func (b *build) budget(s *supply, gap measure.Length, turn, grade float64) Budget {
	w := s.Joint.Gap.Value
	sh := b.shares(s)
	if w.Min == w.Max {
		return Budget{Turn: measure.MM(opening(turn, s.width)), Left: -measure.MM(opening(turn, s.width)), Missing: append(sh.missing, "joint window")}
	}
	out := Budget{Room: measure.MM(room(gap, w)), Turn: measure.MM(opening(turn, s.width)), Grade: measure.MM(opening(grade, s.Unit.Outer.Value.Height)), Square: measure.MM(sh.square), Reserve: measure.MM(sh.reserve), Missing: sh.missing}
	out.Left = out.Room - out.Turn - out.Grade - out.Square - out.Reserve
	return out
}
