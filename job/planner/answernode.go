package planner

import (
	"slices"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// NodePassed is a node on the way.
type NodePassed struct {
	ID         string  `json:"id"`
	Kind       string  `json:"kind"`
	Made       string  `json:"made"`
	Fitting    string  `json:"fitting"`
	Deflection float64 `json:"deflection_deg"` // right positive, as in the plan
}

// CastPassed is a casting on the way, or at one of its ends.
type CastPassed struct {
	Node    string   `json:"node"`
	Fitting string   `json:"fitting"`
	Mass    *float64 `json:"mass_kg"` // of the casting without covers; null: none on file
	Kit     *float64 `json:"kit_kg"`  // of its cover kit; null: one of them is not on file, or there is no kit
	AtEnd   bool     `json:"at_end"`  // the way begins or ends at it: a neighbour has it too
}

// passed are the nodes at which one stretch of the way goes over into the next, and those at its ends.
func (a *Answers) passed(way []wayPart) []NodePassed {
	out := []NodePassed{}
	add := func(leg int, at measure.Length) {
		for i := range a.b.plan.Nodes {
			v := a.b.plan.Nodes[i]
			if a.standsAt(i, leg, at) && !slices.ContainsFunc(out, func(p NodePassed) bool { return p.ID == v.ID }) {
				out = append(out, NodePassed{v.ID, v.Kind, v.Made, v.Fitting, v.Deflection})
			}
		}
	}
	for _, p := range way {
		first, last := p.ends()
		add(p.leg, first)
		add(p.leg, last)
	}
	return out
}

// standsAt tells whether a node stands at a chainage of a leg.
func (a *Answers) standsAt(node, leg int, at measure.Length) bool {
	n := &a.b.net.Nodes[node]
	on := n.On != nil && n.On.Leg == leg && n.On.Chainage == at
	for _, arm := range n.Arms {
		on = on || arm.Leg == leg && (arm.Away && at == 0 || !arm.Away && at == a.legs[leg].length)
	}
	return on
}

// castings are those of the nodes passed, with their masses.
func (a *Answers) castings(way []wayPart, out *BetweenAnswer) {
	begins, _ := way[0].ends()
	_, ends := way[len(way)-1].ends()
	for i := range a.b.plan.Nodes {
		n := &a.b.plan.Nodes[i]
		k := slices.IndexFunc(out.Nodes, func(p NodePassed) bool { return p.ID == n.ID })
		f, s, ok := a.b.fittingOf(n.Fitting)
		if k < 0 || n.Fitting == "" || !ok {
			continue
		}
		c := CastPassed{Node: n.ID, Fitting: n.Fitting, AtEnd: a.standsAt(i, way[0].leg, begins) || a.standsAt(i, way[len(way)-1].leg, ends)}
		if f.Mass.Known {
			c.Mass = new(f.Mass.Value.Kilograms())
		} else if !c.AtEnd {
			out.Missing = append(out.Missing, finding.NoneOnFile("mass of fitting "+f.ID+" of "+s.ID, "the supplier", finding.Where{}).Sentence())
		}
		kit := 0.0
		for _, cover := range f.Covers {
			if !cover.Mass.Known {
				kit = 0
				break
			}
			kit += float64(float64(cover.Count) * cover.Mass.Value.Kilograms())
		}
		if kit > 0 {
			c.Kit = &kit
		}
		out.Castings = append(out.Castings, c)
	}
}
