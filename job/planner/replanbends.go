package planner

import (
	"fmt"
	"math"
	"slices"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/place/route"
)

// A bend that is not as it was drawn. First it is offered as a swing: joints near it that are still to be made turn by a little each, within
// what the one budget of each leaves. Then as new mitres: another saw angle and other lengths for the pieces that are not cut yet; a
// piece that is cut stays as it is, and the other one takes the difference.

// BendNow is a bend whose angle was measured, or a casting where legs meet otherwise.
type BendNow struct {
	Node     string       `json:"node"`
	Right    bool         `json:"right"`
	Drawn    float64      `json:"drawn_deg"` // as it turns, left or right as drawn
	Measured float64      `json:"measured_deg"`
	Plus     float64      `json:"plus_deg"`
	Answer   string       `json:"answer"`
	Swing    []JointSwing `json:"swing"`  // empty: the joints near it have not budget enough
	Mitres   []MitreNow   `json:"mitres"` // of the pieces at the bend
	Ways     []BendWay    `json:"ways"`   // that a person may take
	Findings finding.List `json:"findings"`
}

// BendWay is one way to make a bend as it was measured.
type BendWay struct {
	Number int        `json:"number"` // from 1: what it is taken by
	Name   string     `json:"name"`
	Moves  []string   `json:"moves"`  // nodes that come to lie elsewhere: what lies beyond the bend turns with it
	Off    measure.MM `json:"off_mm"` // how far the bend lies off the line as drawn, where joints before it turn
	Node   job.Node   `json:"node"`   // as the job has it then
}

// The answers of a bend.
const (
	BendAsDrawn = "as drawn: within what it was read to"
	BendSwings  = "joints near it swing"
	BendMitres  = "new mitres"
	BendStands  = "no answer: both pieces are cut, and the joints near it have not budget enough"
	BendHeld    = "no answer: what lies beyond it does not turn with it"
	BendCast    = "no answer: it is a casting, which turns as it was made"
)

// JointSwing is a joint that turns.
type JointSwing struct {
	Joint string     `json:"joint"`
	Turn  float64    `json:"turn_deg"` // more of the bend above 0, less below
	Opens measure.MM `json:"opens_mm"` // at one wall, and closes at the other, against the gap on the axis
	Left  measure.MM `json:"left_mm"`  // of its budget, once it has turned
}

// MitreNow is the piece on one side of the bend.
type MitreNow struct {
	Place  string     `json:"place"`
	Cut    bool       `json:"cut"`       // it is cut or set already: it stays
	Angle  float64    `json:"angle_deg"` // saw angle: how far its face is from square, with the sign of its hand
	Was    float64    `json:"was_deg"`
	Length measure.MM `json:"length_mm"` // on its axis
	Left   measure.MM `json:"left_mm"`   // along its walls, looking up-chainage
	Right  measure.MM `json:"right_mm"`
	Stock  measure.MM `json:"stock_mm"`
}

// Bends are the bends that were measured, with what to do about them. Readings that differ are left out: a finding of the state says so.
func (a *Answers) Bends(s field.State) []BendNow {
	list := []BendNow{}
	for _, m := range s.Angles {
		i := slices.IndexFunc(a.b.net.Nodes, func(n route.Node) bool { return folded(n.ID) == folded(m.Node) })
		if i < 0 || !m.Known {
			continue
		}
		switch n := &a.b.net.Nodes[i]; {
		case a.b.node(n.ID).Fitting != "":
			if b, ok := a.castNow(n, m); ok {
				list = append(list, b)
			}
		case n.Bend != nil:
			list = append(list, a.bendNow(n, m, s))
		}
	}
	return list
}

func (a *Answers) bendNow(n *route.Node, m field.AngleState, s field.State) BendNow {
	drawn := measure.Angle(math.Abs(float64(n.Bend.Deflection)))
	b := BendNow{Node: n.ID, Right: n.Bend.Right(), Drawn: drawn.Degrees(), Measured: m.Angle.Degrees(), Plus: m.Plus.Degrees(), Swing: []JointSwing{}, Mitres: []MitreNow{}, Ways: []BendWay{}, Findings: finding.List{}}
	more := m.Angle - drawn
	if measure.Angle(math.Abs(float64(more))) <= m.Plus || more == 0 {
		b.Answer = BendAsDrawn
		return b
	}
	done := unitsDone(s)
	b.Swing = a.swing(n, more, done)
	open := a.mitres(&b, n, m.Angle, done)
	moves := a.beyondBend(n)
	held := a.heldBeyond(&b, n, moves, done.set)
	if !held {
		a.bendWays(&b, n, moves, open)
	}
	switch {
	case held:
		b.Answer = BendHeld
	case len(b.Swing) > 0:
		b.Answer = BendSwings
	case open:
		b.Answer = BendMitres
	default:
		b.Answer = BendStands
		b.Findings = append(b.Findings, finding.Finding{ID: "replan.bend", Kind: finding.Impossible, Where: finding.Where{Place: n.ID},
			Text: fmt.Sprintf("The bend at %s turns by %.3f° and was drawn with %.3f°: its pieces are cut, and no joints near it take the difference.", n.ID, b.Measured, b.Drawn),
			Try:  a.b.tell("lift the last %s before it again, so that its joint may turn; or cut one of the two pieces anew", wording.Unit)})
	}
	return b
}

// unitsDone are the units that are set, and the pieces that are cut.
func unitsDone(s field.State) (done struct{ set, cut map[string]bool }) {
	done.set, done.cut = map[string]bool{}, map[string]bool{}
	for _, l := range s.Legs {
		for _, u := range l.Units {
			done.set[u.Place] = u.Set.Is == field.Yes
			done.cut[u.Place] = u.Set.Is == field.Yes || len(u.Evidence[field.Cut]) > 0
		}
	}
	return done
}

// mostSwing is how many joints a swing is shared over: a bend that is spread further is no bend any more.
const mostSwing = 6

// swing shares a difference over as few joints as will do, those nearest to the bend first, each by what its budget leaves.
func (a *Answers) swing(n *route.Node, more measure.Angle, done struct{ set, cut map[string]bool }) []JointSwing {
	type hinge struct {
		joint *Joint
		most  float64 // rad
		width measure.Length
	}
	var near [2][]hinge
	for side, leg := range []int{n.Bend.In, n.Bend.Out} {
		l := a.legs[leg]
		joints := a.b.plan.Joints[l.joint : l.joint+max(l.units-1, 0)]
		units := a.b.plan.Units[l.unit : l.unit+l.units]
		width := a.b.legSupply(leg).width
		for k := range joints {
			i := k
			if side == 0 {
				i = len(joints) - 1 - k
			}
			j := &joints[i]
			if done.set[units[i].Mark] && done.set[units[i+1].Mark] || j.Budget.Left <= 0 || width <= 0 || len(near[side]) == mostSwing {
				continue
			}
			near[side] = append(near[side], hinge{j, 2 * measure.Length(j.Budget.Left).Metres() / width.Metres(), width})
		}
	}
	var taken []hinge
	sum, need := 0.0, math.Abs(more.Radians())
	for k := 0; k < mostSwing && sum < need; k++ {
		for side := range near {
			if k < len(near[side]) && sum < need && len(taken) < mostSwing {
				taken, sum = append(taken, near[side][k]), sum+near[side][k].most
			}
		}
	}
	if sum < need {
		return []JointSwing{}
	}
	out := make([]JointSwing, len(taken))
	for i, h := range taken {
		turn := need * h.most / sum
		opens := opening(turn, h.width)
		out[i] = JointSwing{Joint: h.joint.Name, Turn: math.Copysign(turn*180/math.Pi, float64(more)), Opens: measure.MM(opens), Left: h.joint.Budget.Left - measure.MM(opens)}
	}
	return out
}

// mitres are the pieces at a bend for its angle as it is; false where both are cut.
func (a *Answers) mitres(b *BendNow, n *route.Node, angle measure.Angle, done struct{ set, cut map[string]bool }) bool {
	type side struct {
		unit  *Unit
		end   bool
		fixed bool
	}
	var at []side
	for k, leg := range []int{n.Bend.In, n.Bend.Out} {
		l := a.legs[leg]
		if l.units == 0 {
			return false
		}
		end := a.b.net.Nodes[a.b.net.Legs[leg].To].ID == n.ID && (k == 0 || n.Bend.In != n.Bend.Out)
		u := &a.b.plan.Units[l.unit]
		if end {
			u = &a.b.plan.Units[l.unit+l.units-1]
		}
		at = append(at, side{u, end, done.cut[u.Mark]})
	}
	if at[0].fixed && at[1].fixed {
		return false
	}
	was := func(s side) float64 {
		if s.end {
			return s.unit.EndAngle
		}
		return s.unit.StartAngle
	}
	for i, s := range at {
		other := at[1-i]
		saw := angle.Degrees() / 2
		switch {
		case s.fixed:
			saw = math.Abs(was(s))
		case other.fixed:
			saw = angle.Degrees() - math.Abs(was(other))
		}
		if !s.fixed {
			saw = turned(saw).Degrees()
		}
		b.Mitres = append(b.Mitres, a.mitreNow(b, s.unit, s.end, s.fixed, saw))
	}
	return true
}

// mitreNow is a piece with another saw angle at one of its ends. What stands back at the node changes with it, and its length by that.
func (a *Answers) mitreNow(b *BendNow, u *Unit, end, fixed bool, saw float64) MitreNow {
	made := a.b.supplyNamed(u.Supply)
	was := u.StartAngle
	if end {
		was = u.EndAngle
	}
	m := MitreNow{Place: u.Mark, Cut: fixed, Was: was, Angle: math.Copysign(saw, was), Length: u.Length, Stock: u.Stock}
	if !fixed {
		back := func(deg float64) measure.Length {
			return route.Corner{Deflection: turned(2 * math.Abs(deg)), Width: made.width}.SetBack(made.mitreGap())
		}
		m.Length += measure.MM(back(was) - back(saw))
	}
	start, finish := slope(turned(u.StartAngle)), slope(turned(m.Angle))
	if !end {
		start, finish = slope(turned(m.Angle)), slope(turned(u.EndAngle))
	}
	left, right := sides(measure.Length(m.Length), start, finish, made.width)
	m.Left, m.Right = measure.MM(left), measure.MM(right)
	if short, long := min(left, right), max(left, right); !fixed && made.Saw.Shortest.Known && short < made.Saw.Shortest.Value || !fixed && long > made.longest() {
		b.Findings = append(b.Findings, finding.Finding{ID: "replan.bend-piece", Kind: finding.Attention, Where: finding.Where{Place: u.Mark},
			Text:  a.b.tell("%s would be %s on one wall and %s on the other", u.Mark, left, right),
			Limit: a.b.tell("%s to %s", made.Saw.Shortest.Value, made.longest()), Value: a.b.tell("%s to %s", short, long),
			Try: "the swing, if there is one; or plan the leg again with the bend as it is"})
	}
	return m
}

// turned is an angle in degrees as the saw is set to it.
func turned(deg float64) measure.Angle {
	return sawSetting(measure.Angle(math.Round(deg * float64(measure.Degree))))
}
