package planner

import (
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job/field"
)

// GapMeasured is a joint whose measured gap is not within what the joint may have, or may not be.
type GapMeasured struct {
	Joint   string     `json:"joint"`
	Leg     string     `json:"leg"`
	Gap     measure.MM `json:"gap_mm"` // on the axis: half way between both walls
	Plus    measure.MM `json:"plus_mm"`
	Min     measure.MM `json:"min_mm"`
	Max     measure.MM `json:"max_mm"`
	Verdict string     `json:"verdict"`
	By      []string   `json:"by"`
}

const doesNotMeet = "does not meet the stated figure"

// GapsOut are the joints whose gap was measured and does not lie within what they may have; a gap that lies within its own
// uncertainty of a limit is one of which it cannot be said.
func (p Plan) GapsOut(s field.State) []GapMeasured {
	units := map[string]*field.UnitState{}
	for l := range s.Legs {
		for u := range s.Legs[l].Units {
			units[s.Legs[l].Units[u].Place] = s.Legs[l].Units[u]
		}
	}
	out := []GapMeasured{}
	for _, j := range p.Joints {
		before, _, _ := strings.Cut(j.Name, "/")
		u := units[before]
		if u == nil || u.Left == nil || u.Right == nil || !u.Left.Known || !u.Right.Known {
			continue
		}
		g := GapMeasured{Joint: j.Name, Leg: j.Leg, Gap: measure.MM((u.Left.Value + u.Right.Value) / 2), Plus: measure.MM(max(u.Left.Plus, u.Right.Plus)), Min: j.GapMin, Max: j.GapMax, By: []string{u.Left.Readings[0].By}}
		switch {
		case g.Gap < g.Min-g.Plus || g.Gap > g.Max+g.Plus:
			g.Verdict = doesNotMeet
		case g.Plus > 0 && (g.Gap < g.Min+g.Plus || g.Gap > g.Max-g.Plus):
			g.Verdict = CannotSay
		case g.Gap < g.Min || g.Gap > g.Max:
			g.Verdict = doesNotMeet
		default:
			continue
		}
		out = append(out, g)
	}
	return out
}

// Say is the joint in words; size writes lengths.
func (g GapMeasured) Say(size func(measure.MM) string) string {
	text := "gap " + size(g.Gap)
	if g.Plus > 0 {
		text += " (± " + size(g.Plus) + ")"
	}
	return text + ", it may be " + size(g.Min) + " to " + size(g.Max) + ": " + g.Verdict
}
