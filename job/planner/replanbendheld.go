package planner

import (
	"math"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/field"
	"trenchwright/place/route"
)

// What lies beyond a bend that was measured turns with it where it was laid on from the bend. Where it was laid by itself it lies where it
// lies, and so does what was there before: then the run would come to another place, and how far from it is said.

// heldBeyond says what does not turn with a bend; true where units lie so that nothing can turn about it at all.
func (a *Answers) heldBeyond(b *BendNow, n *route.Node, moves []string, set map[string]bool) bool {
	held := false
	for _, leg := range a.apartBeyond(n, moves, set) {
		l, units := &a.b.net.Legs[leg], a.unitsOf(leg)
		first := slices.IndexFunc(units, func(u Unit) bool { return set[u.Mark] })
		last := len(units) - 1
		for !set[units[last].Mark] {
			last--
		}
		there := units[first].Mark
		if last > first {
			there += " to " + units[last].Mark
		}
		near := &a.b.net.Nodes[l.From]
		if other := &a.b.net.Nodes[l.To]; other.At.Distance(n.At) < near.At.Distance(n.At) {
			near = other
		}
		held = true
		b.Findings = append(b.Findings, finding.Finding{ID: "replan.bend-held", Kind: finding.Impossible, Where: finding.Where{Leg: l.ID, Place: units[first].Mark},
			Text: a.b.tell("What lies on leg %s (%s) was not laid on from the bend at %s: it does not turn with it. Turned by %s instead of %s the run would come to %s %s beside it.",
				l.ID, there, n.ID, turns(b.Measured), turns(b.Drawn), near.ID, wording.Tape(a.astray(b, n, near))),
			Try: a.b.tell("measure the bends between as well, and have %s and %s surveyed: record the shots; then draw the run through what lies. Or lift what lies there", n.ID, near.ID)})
	}
	for _, id := range moves {
		i := slices.IndexFunc(a.b.net.Nodes, func(o route.Node) bool { return o.ID == id })
		end := a.b.node(id).End
		if i < 0 || end == nil || end.Kind != "existing" && end.Kind != "building" {
			continue
		}
		what := map[string]string{"existing": "the existing trench", "building": "the building"}[end.Kind]
		b.Findings = append(b.Findings, finding.Finding{ID: "replan.bend-end", Kind: finding.Attention, Where: finding.Where{Place: id},
			Text: a.b.tell("The run ends on %s at %s, which stands where it stands: turned by %s instead of %s at %s it would come %s beside it.", what, id, turns(b.Measured), turns(b.Drawn), n.ID, wording.Tape(a.astray(b, n, &a.b.net.Nodes[i]))),
			Try:  a.b.tell("have %s surveyed before anything is cut, and let another bend take the difference; or turn the joints before %s back", id, n.ID)})
	}
	return held
}

// turns is a turn in degrees as it was drawn or measured.
func turns(deg float64) string { return degrees(measure.FromDegrees(deg)) }

// astray is how far a node beyond a bend comes to lie from its place where everything turns about the bend as it was measured.
func (a *Answers) astray(b *BendNow, n, o *route.Node) measure.Length {
	return measure.FromMetres(2 * o.At.Distance(n.At) * math.Sin(math.Abs(b.Measured-b.Drawn)*math.Pi/360))
}

// unitsOf are the units of a leg in walking order.
func (a *Answers) unitsOf(leg int) []Unit {
	l := a.legs[leg]
	return a.b.plan.Units[l.unit : l.unit+l.units]
}

// apartBeyond are the legs that turn with a bend on which units lie that were not laid on from it: no chain of set units leads there.
func (a *Answers) apartBeyond(n *route.Node, moves []string, set map[string]bool) []int {
	net := &a.b.net
	moved := func(node int) bool { return slices.Contains(moves, net.Nodes[node].ID) }
	at := slices.IndexFunc(net.Nodes, func(o route.Node) bool { return o.ID == n.ID })
	joined := map[int]bool{} // legs whose set units are joined to the bend
	reached := []int{at}
	for k := 0; k < len(reached); k++ {
		for i, l := range net.Legs {
			from, to := l.From == reached[k], l.To == reached[k]
			if units := a.unitsOf(i); joined[i] || i == n.Bend.In || len(units) == 0 || !from && !to {
				continue
			} else if from && set[units[0].Mark] || to && set[units[len(units)-1].Mark] {
				joined[i] = true
				whole := !slices.ContainsFunc(units, func(u Unit) bool { return !set[u.Mark] })
				if other := l.From + l.To - reached[k]; whole && !slices.Contains(reached, other) {
					reached = append(reached, other)
				}
			}
		}
	}
	var out []int
	for i, l := range net.Legs {
		if i != n.Bend.In && !joined[i] && (moved(l.From) || moved(l.To) || i == n.Bend.Out) && slices.ContainsFunc(a.unitsOf(i), func(u Unit) bool { return set[u.Mark] }) {
			out = append(out, i)
		}
	}
	return out
}

// castNow is a casting that was measured: it turns as it was made. false: it is as drawn, or nothing says how it turns.
func (a *Answers) castNow(n *route.Node, m field.AngleState) (BendNow, bool) {
	drawn, right := measure.Angle(0), false
	switch {
	case n.Bend != nil:
		drawn, right = measure.Angle(math.Abs(float64(n.Bend.Deflection))), n.Bend.Right()
	default: // of a branch: the angle between it and the arm that it is nearest to square on
		branch, ok := a.branchAngle(n)
		if !ok {
			return BendNow{}, false
		}
		drawn = branch
	}
	b := BendNow{Node: n.ID, Right: right, Drawn: drawn.Degrees(), Measured: m.Angle.Degrees(), Plus: m.Plus.Degrees(), Swing: []JointSwing{}, Mitres: []MitreNow{}, Ways: []BendWay{}, Findings: finding.List{}}
	if off := m.Angle - drawn; max(off, -off) <= m.Plus || off == 0 {
		b.Answer = BendAsDrawn
		return b, true
	}
	b.Answer = BendCast
	var legs []string
	for _, arm := range n.Arms {
		legs = append(legs, a.b.net.Legs[arm.Leg].ID)
	}
	b.Findings = append(b.Findings, finding.Finding{ID: "replan.bend-cast", Kind: finding.Impossible, Where: finding.Where{Place: n.ID},
		Text: a.b.tell("The casting %s at %s was measured at %s and drawn with %s: it cannot be sawn or turned in itself, and the legs %s come off their lines by that.", a.b.node(n.ID).Fitting, n.ID, turns(b.Measured), turns(b.Drawn), strings.Join(legs, ", ")),
		Try:  "measure it once more, and hold it against its drawing. If it was cast so: ask the supplier for another one, or let joints of the next legs turn by what their budget leaves; if it was set so: set it again before anything is laid on from it"})
	return b, true
}

// branchAngle is how a branch stands to the line that it leaves: 90° where it is square. false: this is no branch.
func (a *Answers) branchAngle(n *route.Node) (measure.Angle, bool) {
	if len(n.Arms) < 3 || len(n.Straight) == 0 {
		return 0, false
	}
	p := n.Straight[0]
	for i, arm := range n.Arms {
		if slices.ContainsFunc(n.Straight, func(q route.Pair) bool { return q.In == i || q.Out == i }) {
			continue
		}
		off := measure.Angle(math.Abs(float64(arm.Bearing - n.Arms[p.In].Bearing)))
		for off > 180*measure.Degree {
			off = 360*measure.Degree - off
		}
		if off > 90*measure.Degree {
			off = 180*measure.Degree - off
		}
		return off, true
	}
	return 0, false
}
