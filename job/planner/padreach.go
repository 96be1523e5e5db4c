package planner

import (
	"strings"

	"trenchwright/base/measure"
)

// PadReach is how far the pad under a joint reaches, where its middle lies under the middle of the joint: as the bed is counted. No
// drawing on file says otherwise.
type PadReach struct {
	Before *measure.MM `json:"before_mm"` // under the unit before the joint, from its face; null: none ends here
	Behind *measure.MM `json:"behind_mm"` // under the unit behind it
	Wall   *measure.MM `json:"wall_mm"`   // beyond the outer face of either wall, negative: short of it; null: a width is not on file
}

// padReaches tells it of every place with a pad but those at mitres, which have a width of their own, and at steps.
func (b *build) padReaches() {
	gaps := map[string]measure.MM{}
	for _, j := range b.plan.Joints {
		gaps[j.Name] = j.Gap
	}
	units := map[string]*Unit{}
	for i := range b.plan.Units {
		units[b.plan.Units[i].Mark] = &b.plan.Units[i]
	}
	for i := range b.plan.SetOut {
		r := &b.plan.SetOut[i]
		if r.Pad == "" || r.Levels == nil || r.Levels.Before != nil {
			continue
		}
		before, behind, joint := strings.Cut(r.Place, "/")
		if mark, ok := strings.CutPrefix(r.Place, "start of "); ok {
			before, behind = "", mark
		} else if mark, ok := strings.CutPrefix(r.Place, "end of "); ok {
			before, behind = mark, ""
		}
		own := units[behind]
		if own == nil {
			own = units[before]
		}
		if own == nil || !joint && b.atMitre(r) {
			continue
		}
		r.PadReach = b.padReach(own.Supply, gaps[r.Place], units[before] != nil, units[behind] != nil)
	}
}

// atMitre reports whether a leg meets another in a mitre at an end of its set-out.
func (b *build) atMitre(r *SetOut) bool {
	leg := b.plan.Legs[b.legAt[r.Leg]]
	node := leg.To
	if strings.HasPrefix(r.Place, "start of ") {
		node = leg.From
	}
	for _, n := range b.plan.Nodes {
		if n.ID == node {
			return n.Bend != nil
		}
	}
	return false
}

// padReach is that of a pad of a supply under a joint with a gap, nought at an end.
func (b *build) padReach(name string, gap measure.MM, before, behind bool) *PadReach {
	s := b.supplyNamed(name)
	if s == nil || !s.Bearing.PadAlong.Known {
		return nil
	}
	under := measure.MM(s.Bearing.PadAlong.Value)/2 - gap/2
	var out PadReach
	if before {
		out.Before = &under
	}
	if behind {
		out.Behind = &under
	}
	if s.Bearing.PadAcross.Known && s.width > 0 {
		out.Wall = new(measure.MM(s.Bearing.PadAcross.Value-s.width) / 2)
	}
	return &out
}
