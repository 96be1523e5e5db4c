package planner

import "trenchwright/place/route"

// castNode is the node whose casting a section lies in.
func (c *cross) castNode() *route.Node {
	l := c.net.Legs[c.place.leg]
	if joints := c.heights.problem.Legs[c.place.leg].Joints; c.place.at > joints[0].At {
		return &c.net.Nodes[l.To]
	}
	return &c.net.Nodes[l.From]
}

func (c *cross) castName() string { return c.castNode().ID }

// armOfCast is the supply whose section the arm of a casting has that lies along the leg; nil where that is another one than the
// unit beside it has, for the dig and its levels are those of that unit.
func (c *cross) armOfCast(end bool) *supply {
	n := c.castNode()
	d := c.node(n.ID)
	f, own, ok := c.fittingOf(d.Fitting)
	if !ok {
		return nil
	}
	units := c.laid.supply
	if len(c.laid.units) == 0 {
		return nil
	}
	beside := &c.sup[units[c.laid.units[0].Supply]]
	if end {
		beside = &c.sup[units[c.laid.units[len(c.laid.units)-1].Supply]]
	}
	for k, i := range armOrder(*n, c.net.Network, d.Through) {
		if a := n.Arms[i]; a.Leg != c.place.leg || a.Away == end || k >= len(f.Arms) {
			continue
		}
		if name := f.Arms[k].Supply; name != "" {
			own = c.supplyNamed(name)
		}
		if own == beside {
			return own
		}
	}
	return nil
}
