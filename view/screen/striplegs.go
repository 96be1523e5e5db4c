package screen

import (
	"fmt"
	"math"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// count is a number with its noun: 1 cut, 2 cuts.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

func (d *draft) stripLegs() []Leg {
	out := []Leg{}
	for _, i := range d.order {
		l := &d.plan.Legs[i]
		n := d.first[i+1] - d.first[i]
		s := Leg{Key: "leg/" + l.Name, ID: l.Name, From: d.begins[i], To: d.begins[i] + mm(l.NodeLength), Start: l.From, End: l.To, Units: n,
			FromEnd: l.LaidFrom == l.To && l.LaidFrom != l.From, Supply: l.Supply, Verdict: l.Verdict, Why: l.Why, Try: filled(l.Try)}
		if k := len(out); k > 0 {
			s.Follows = out[k-1].End == l.From
			s.First = out[k-1].First + out[k-1].Units
		}
		s.Said = strings.Join([]string{d.unitsText(n), count(l.Count.Cuts, "cut", "cuts"), d.far(l.NodeLength)}, ", ")
		if l.Verdict != "found" {
			s.Said = l.Verdict + ", " + d.far(l.NodeLength)
		}
		out = append(out, s)
	}
	return out
}

// filled is a list that is empty, not null, where there is nothing.
func filled[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}

func (u *Units) fill() {
	u.Mark, u.Leg, u.Supply, u.Flags = filled(u.Mark), filled(u.Leg), filled(u.Supply), filled(u.Flags)
}
func (c *Covers) fill() {
	c.Unit, c.Number, c.Flags = filled(c.Unit), filled(c.Number), filled(c.Flags)
}
func (j *Joints) fill() { j.Before, j.Flags = filled(j.Before), filled(j.Flags) }

// addUnits adds a leg's units, and their covers unless nobody wants them.
func (d *draft) addUnits(leg int, units *Units, covers *Covers) {
	base := len(units.Mark)
	for u := d.first[leg]; u < d.first[leg+1]; u++ {
		one := &d.plan.Units[u]
		from, to := d.ends(u)
		flags := bit(one.Cut, UnitCut) | bit(one.Hold, UnitHold) | bit(one.StartAngle != 0, UnitMitredStart) | bit(one.EndAngle != 0, UnitMitredEnd) |
			bit(one.Demands != "", UnitDemanded) | bit(d.found[one.Mark], UnitFound)
		units.Mark, units.Leg, units.Supply, units.Flags = append(units.Mark, one.Mark), append(units.Leg, d.rank[leg]), append(units.Supply, d.supply[one.Supply]), append(units.Flags, flags)
		units.From, units.To = append(units.From, from), append(units.To, to)
		if covers == nil {
			continue
		}
		for k := d.covers[u]; k < d.covers[u+1]; k++ {
			c := &d.plan.Covers[k]
			at := from + float64(mm(c.Start)*d.scales[u])
			covers.Unit, covers.Number = append(covers.Unit, base+u-d.first[leg]), append(covers.Number, k-d.covers[u]+1)
			covers.From, covers.To = append(covers.From, at), append(covers.To, at+float64(mm(c.Length)*d.scales[u]))
			covers.Flags = append(covers.Flags, bit(c.Cut, UnitCut)|bit(c.StartAngle != 0, UnitMitredStart)|bit(c.EndAngle != 0, UnitMitredEnd))
		}
	}
}

// addJoints adds a leg's joints; base is where its units begin on the screen.
func (d *draft) addJoints(leg, base int, joints *Joints) {
	breaks := d.breaks(leg)
	for k := d.joints[leg]; k < d.joints[leg+1]; k++ {
		j := &d.plan.Joints[k]
		n := k - d.joints[leg]
		next := d.first[leg] + n + 1
		flags := bit(j.Forced != "", JointForced) | bit(j.Budget.Left < 0 && j.GapMin < j.GapMax, JointOver) | breaks[n]
		if r := d.rows[leg] + n + 1; r < len(d.plan.SetOut) {
			flags |= bit(d.plan.SetOut[r].Pad != "", JointPad)
		}
		joints.Before, joints.Flags = append(joints.Before, base+n), append(joints.Flags, flags)
		joints.At = append(joints.At, d.strip(leg, d.plan.Units[next].Chainage)-float64(mm(j.Gap)/2*d.scales[next]))
		joints.Gap, joints.Left = append(joints.Gap, mm(j.Gap)), append(joints.Left, mm(j.Budget.Left))
	}
}

func bit(is bool, b int) int {
	if is {
		return b
	}
	return 0
}

// breaks are the flags of a leg's joints that its levels give: changes of grade, and steps.
func (d *draft) breaks(leg int) []int {
	out := make([]int, max(0, d.first[leg+1]-d.first[leg]-1))
	rows := d.plan.SetOut[d.rows[leg]:d.rows[leg+1]]
	for k := range out {
		if k+1 >= len(rows) || rows[k+1].Levels == nil {
			continue
		}
		before, behind := rows[k+1].Levels.Walls[0], rows[k+1].Levels.Walls[2]
		if before != nil && behind != nil && math.Abs(*before-*behind) > toldStep {
			out[k] |= JointStep
		}
	}
	k := 0
	for _, g := range d.plan.Grades { // leg by leg, along the leg
		if g.Leg != d.plan.Legs[leg].Name {
			continue
		}
		for k < len(out) && k+1 < len(rows) && rows[k+1].Chainage+nearBreak < g.FromMM {
			k++
		}
		if k < len(out) && k+1 < len(rows) && (rows[k+1].Chainage-g.FromMM) <= nearBreak {
			out[k] |= JointBreak
		}
	}
	return out
}

const (
	toldStep  = 0.0005                               // m: less is no step that anybody could set
	nearBreak = measure.MM(100 * measure.Millimetre) // a grade begins within a gap of its joint
)

func (d *draft) zones() []Zone {
	out := []Zone{}
	add := func(z zoneAt) {
		leg, ok := d.legs[z.leg]
		if !ok {
			return
		}
		out = append(out, Zone{Key: thingKey(z.kind, z.leg, z.id), Leg: d.rank[leg], From: d.onStrip(leg, z.from), To: d.onStrip(leg, z.to), Kind: z.kind, Joint: z.joint, Cut: z.cut, Label: z.why})
	}
	for _, z := range d.plan.Zones {
		add(zoneAt{z.Leg, z.Kind, z.ID, z.Why, z.From, z.To, true, z.NoCut})
	}
	for _, z := range d.plan.NoCuts {
		add(zoneAt{z.Leg, z.Kind, z.ID, z.Why, z.From, z.To, false, true})
	}
	return out
}

type zoneAt struct {
	leg, kind, id, why string
	from, to           measure.MM
	joint, cut         bool
}

// thingKey is what the card of something along a leg is asked for by.
func thingKey(kind, leg, id string) string {
	if kind == "tee" {
		return "node/" + id
	}
	return kind + "/" + leg + "/" + id
}

func (d *draft) nodes() []Node {
	out := []Node{}
	strip, legs := map[string]Numbers{}, map[string][]int{}
	at := func(node string, where float64, leg int) {
		s := strip[node]
		if len(s) == 0 || s[len(s)-1] != where {
			strip[node] = append(s, where)
		}
		if l := legs[node]; len(l) == 0 || l[len(l)-1] != leg {
			legs[node] = append(l, leg)
		}
	}
	for _, i := range d.order {
		l := &d.plan.Legs[i]
		at(l.From, d.begins[i], d.rank[i])
		at(l.To, d.begins[i]+mm(l.NodeLength), d.rank[i])
	}
	moves := map[string]bool{}
	for _, n := range d.job.Route.Nodes {
		moves[n.ID] = n.At != nil
	}
	for _, n := range d.plan.Nodes {
		s := Node{Key: "node/" + n.ID, ID: n.ID, Kind: n.Kind, Made: n.Made, Strip: strip[n.ID], Legs: filled(legs[n.ID]), At: n.At, Turn: n.Deflection, Moves: moves[n.ID]}
		switch {
		case n.Deflection > 0:
			s.Hand = "right"
		case n.Deflection < 0:
			s.Hand = "left"
		}
		if s.Hand != "" {
			s.Angle = degrees(math.Abs(n.Deflection))
		}
		s.Label = d.nodeLabel(s)
		out = append(out, s)
	}
	return out
}

// nodeLabel is a node in one line: N2 bend, 45° to the right, mitred.
func (d *draft) nodeLabel(n Node) string {
	kind := n.Kind
	if kind == "transition" {
		kind = d.speech.Word(wording.Transition)
	}
	out := n.ID + " " + kind
	if n.Hand != "" {
		out += ", " + n.Angle + " to the " + n.Hand
	}
	made := n.Made
	switch made {
	case "mitred":
		made = d.speech.Word(wording.Mitred)
	case "end plate":
		made = d.speech.Word(wording.EndPlate)
	}
	if made != "" && made != kind {
		out += ", " + made
	}
	return out
}

func (d *draft) findings() []Finding {
	out := []Finding{}
	for i, f := range d.plan.Findings {
		out = append(out, d.finding(finding.Number(i), f))
	}
	return out
}

// finding is one thing that was found, with its place on the strip.
func (d *draft) finding(name string, f finding.Finding) Finding {
	s := Finding{Name: name, ID: f.ID, Kind: string(f.Kind), Text: f.Text, Leg: -1, Path: f.Where.Path, Limit: f.Limit, Value: f.Value, Rule: f.Rule, Ask: f.Ask, Try: f.Try, Stage: stageOf(f)}
	if leg, ok := d.legs[f.Where.Leg]; ok {
		s.Leg, s.Key, s.Where = d.rank[leg], "leg/"+f.Where.Leg, "leg "+f.Where.Leg
		if f.Where.Chainage != nil {
			s.At = new(d.strip(leg, measure.MM(*f.Where.Chainage)))
			s.Where += ", " + d.speech.Word(wording.Chainage) + " " + d.chainage(measure.MM(*f.Where.Chainage))
		}
	}
	if u, ok := d.unitAt[f.Where.Place]; ok {
		from, to := d.ends(u)
		s.Leg, s.Key, s.At = d.rank[d.legs[d.plan.Units[u].Leg]], "unit/"+f.Where.Place, new((from+to)/2)
		s.Where = f.Where.Place
		d.found[f.Where.Place] = true
	}
	if key := d.keyOf(f.Where.Path); key != "" {
		s.Key = key
	}
	return s
}
