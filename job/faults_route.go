package job

import (
	"fmt"
	"slices"

	"trenchwright/base/measure"
)

// route checks what holds between nodes, legs and the things along them, without their places on the ground.
func (c *checker) route(p *place) {
	r := &c.job.Route
	network := len(r.Nodes) > 0 || len(r.Legs) > 0
	switch {
	case len(r.Walk) > 0 && network:
		c.say("walk", p.field("walk"), "the route is told twice, as a walk and as nodes and legs.", "Keep one of the two.")
		return
	case len(r.Walk) > 0:
		return
	case !c.sound(p, "walk", "nodes", "legs"):
	case len(r.Legs) == 0:
		c.say("missing-field", p, "the route has no legs.", "Write nodes and legs, or a walk: [24.3 m, right 90°, 12 m].")
		return
	}
	c.met = !c.names["leg"].unsure && c.legEndsRead()
	meeting := map[string][]string{} // node id → legs that meet there
	for i := range r.Legs {
		l := &r.Legs[i]
		c.leg(l, p.field("legs").item(i, l.ID))
		meeting[l.From] = append(meeting[l.From], l.ID)
		if l.To != l.From {
			meeting[l.To] = append(meeting[l.To], l.ID)
		}
	}
	for i := range r.Nodes {
		n := &r.Nodes[i]
		c.node(n, meeting[n.ID], p.field("nodes").item(i, n.ID))
	}
}

func (c *checker) leg(l *Leg, p *place) {
	if l.From != "" && l.From == l.To {
		c.say("loop", p.field("to"), fmt.Sprintf("it starts and ends at node %s.", l.From), "A run that comes back to its start takes two legs or more.")
	}
	if l.LayFrom != "" && l.LayFrom != l.From && l.LayFrom != l.To && c.names["node"].has[l.LayFrom] && c.sound(p, "from", "to") {
		c.say("lay-from", p.field("lay_from"), fmt.Sprintf("laying starts at node %s, which is no end of this leg.", l.LayFrom), fmt.Sprintf("Write %s or %s.", l.From, l.To))
	}
	if s := c.laid(l); s != nil {
		c.first(l, s, p.field("first"))
		for i := range l.Entries {
			c.conduit(&l.Entries[i], s, p.field("entries").item(i, l.Entries[i].ID))
		}
	}
	for i := range l.Crossings {
		c.crossing(&l.Crossings[i], p.field("crossings").item(i, l.Crossings[i].ID))
	}
	for i := range l.Services {
		if s := &l.Services[i]; s.Depth != nil && s.Level != nil {
			c.say("depth-and-level", p.field("services").item(i, s.ID).field("level"), fmt.Sprintf("service %s has a depth and a level.", s.ID), "Keep the one that was surveyed.")
		}
	}
	c.built(l, p.field("built"))
	for i, z := range l.Zones {
		c.forward(z.From, z.To, p.field("zones").item(i, z.ID))
	}
}

// laid is the supply that is laid on l; nil where it is not known.
func (c *checker) laid(l *Leg) *Supply {
	supplies := c.job.Supplies
	if l.Supply == "" && len(supplies) > 0 {
		return &supplies[0]
	}
	i := slices.IndexFunc(supplies, func(s Supply) bool { return s.ID == l.Supply })
	if i < 0 || l.Supply == "" {
		return nil
	}
	return &supplies[i]
}

// first checks that forced first units can be made.
func (c *checker) first(l *Leg, s *Supply, p *place) {
	most := longest(s.Unit.Lengths.Value)
	for i, length := range l.First {
		at := p.item(i, "")
		switch {
		case length <= 0 || most == 0 || slices.Contains(s.Unit.Lengths.Value, length):
		case length > most:
			one := c.say("first", at, fmt.Sprintf("a first unit of %s is longer than the longest that supply %s makes, %s.", c.length(length), s.ID, c.length(most)), "Made: "+c.lengths(s.Unit.Lengths.Value)+".")
			one.Value, one.Limit = c.length(length), c.length(most)
		case s.Saw.NoCuts:
			c.say("first", at, fmt.Sprintf("a first unit of %s would be cut, and supply %s may not be cut.", c.length(length), s.ID), "Made: "+c.lengths(s.Unit.Lengths.Value)+".")
		case s.Saw.Shortest.Known && length < s.Saw.Shortest.Value:
			one := c.say("first", at, fmt.Sprintf("a first unit of %s is shorter than the shortest cut unit of supply %s, %s.", c.length(length), s.ID, c.length(s.Saw.Shortest.Value)), "Made: "+c.lengths(s.Unit.Lengths.Value)+".")
			one.Value, one.Limit = c.length(length), c.length(s.Saw.Shortest.Value)
		}
	}
}

// conduit checks that a conduit whose height is known goes through the unit and not over it.
func (c *checker) conduit(e *ConduitEntry, s *Supply, p *place) {
	if outer := s.Unit.Outer; outer.Known && outer.Value.Height > 0 && e.Level > 0 && e.Side != "floor" && e.Level > outer.Value.Height-e.Diameter/2 {
		one := c.say("entry-level", p.field("level"), fmt.Sprintf("a conduit of %s with its middle %s above the underside comes out over the wall of a unit %s high.",
			c.length(e.Diameter), c.length(e.Level), c.length(outer.Value.Height)), "The level counts from the underside of the unit.")
		one.Value, one.Limit = c.length(e.Level), c.length(outer.Value.Height-e.Diameter/2)
	}
	if e.Side == "floor" && e.Level > 0 {
		c.say("entry-level", p.field("level"), "a conduit through the floor has no level.", "Leave level out.")
	}
}

func (c *checker) crossing(x *Crossing, p *place) {
	if x.Reach > 0 && x.Supply == "" && c.sound(p, "supply") {
		c.say("reach", p.field("reach"), "reach says how far another supply goes beyond the path, and no supply is named.", "Name the supply that has to lie under the crossing, or leave reach out.")
	}
	for i, s := range x.Strips {
		c.forward(s.From, s.To, p.field("strips").item(i, ""))
	}
}

// node checks a node against the legs that meet there.
func (c *checker) node(n *Node, legs []string, p *place) {
	if n.At == nil {
		c.say("missing-field", p.field("at"), `"at" is missing.`, "Write at: [easting, northing].")
	}
	switch {
	case !c.met || n.ID == "":
	case len(legs) == 0:
		c.say("alone", p, "no leg starts or ends here.", "Take the node out, or name it in a leg's from or to.")
	case len(legs) > 4:
		one := c.say("legs", p, fmt.Sprintf("%d legs meet here (%s).", len(legs), listed(legs)), "At most four meet at one node: a cross.")
		one.Value, one.Limit = fmt.Sprint(len(legs)), "4"
	}
	if n.End != nil {
		c.end(n, legs, p.field("end"))
	}
	if n.Sawn != nil {
		c.sawn(n, legs, p.field("sawn"))
	}
	if c.met && len(n.Through) > 0 {
		c.through(n, legs, p.field("through"))
	}
	if c.met && n.Fitting != "" && len(legs) > 0 && c.sound(p, "fitting") {
		c.cast(n, legs, p.field("fitting"))
	}
}

// legEndsRead tells whether every leg's from and to were read, so that what meets at a node is known.
func (c *checker) legEndsRead() bool {
	for path, itself := range c.broken {
		if up := parent(path); itself && (path == up+".from" || path == up+".to") && parent(up) == "route.legs" {
			return false
		}
	}
	return true
}

func (c *checker) end(n *Node, legs []string, p *place) {
	e := n.End
	if c.met && len(legs) > 1 {
		c.say("end", p, fmt.Sprintf("an end stands where nothing follows, and legs %s meet here.", listed(legs)), "Take end out, or end the leg at a node of its own.")
	}
	if missing := e.Thickness == 0 && c.sound(p, "thickness", "face"); missing && e.Kind == "plate" {
		c.say("thickness", p.field("thickness"), "the thickness of the end plate is missing: it is taken off the leg.", "Write thickness: 120 mm.")
	} else if missing && e.Kind == "building" && e.Face == "inner" {
		c.say("thickness", p.field("thickness"), "the thickness of the building's wall is missing: it is taken off the leg, for the node stands on the inner face.",
			"Write thickness: 250 mm, or face: outer where the node stands on the face towards the trench.")
	}
	if e.Kind == "existing" || e.Kind == "" || !c.sound(p, "kind") {
		return
	}
	for _, one := range []struct {
		name  string
		given bool
	}{{"level", e.Level != nil}, {"skew", e.Skew != 0}, {"section", e.Section != nil}} {
		if one.given {
			c.say("end", p.field(one.name), fmt.Sprintf("%s belongs to an existing trench end, and this one is %q.", one.name, e.Kind), "Write kind: existing, or leave it out.")
		}
	}
}

func (c *checker) sawn(n *Node, legs []string, p *place) {
	switch {
	case c.met && len(legs) > 1:
		c.say("sawn", p, fmt.Sprintf("a sawn branch is the end of one leg, and legs %s meet here.", listed(legs)), "Give the branch a node of its own on the wall.")
	case slices.Contains(legs, n.Sawn.Into):
		c.say("sawn", p.field("into"), fmt.Sprintf("leg %s is the branch itself.", n.Sawn.Into), "Name the leg whose wall is opened.")
	case !c.names["leg"].has[n.Sawn.Into] && n.Sawn.Into != "" && !c.names["leg"].unsure:
		c.reference(n.Sawn.Into, "leg", p.field("into"))
	}
	if n.Fitting != "" {
		c.say("sawn", p, fmt.Sprintf("a branch is either sawn or a casting, and fitting %s is named too.", n.Fitting), "Keep one of the two.")
	}
}

func (c *checker) through(n *Node, legs []string, p *place) {
	switch {
	case len(n.Through) != 2 || n.Through[0] == n.Through[1]:
		c.say("through", p, "two different legs go straight through a tee.", "Write through: [A, B].")
	case len(legs) < 3 && len(legs) > 0:
		c.say("through", p, fmt.Sprintf("through belongs to a tee or a cross, and only %s here.", plural(len(legs), "leg meets", "legs meet")), "Leave through out.")
	default:
		for i, id := range n.Through {
			if !slices.Contains(legs, id) && c.names["leg"].has[id] {
				c.say("through", p.item(i, ""), fmt.Sprintf("leg %s does not meet this node.", id), "Meeting here: "+listed(legs)+".")
			}
		}
	}
}

// cast checks that a casting has as many arms as legs meet.
func (c *checker) cast(n *Node, legs []string, p *place) {
	for i := range c.job.Supplies {
		for _, f := range c.job.Supplies[i].Fittings {
			if f.ID != n.Fitting {
				continue
			}
			if want := arms(f.Kind); want > 0 && want != len(legs) {
				one := c.say("fitting-legs", p, fmt.Sprintf("fitting %s is a %s with %s, and %s here.", f.ID, f.Kind, plural(want, "arm", "arms"), plural(len(legs), "leg meets", "legs meet")), "Name a fitting that fits, or look at the legs' from and to.")
				one.Value, one.Limit = fmt.Sprint(len(legs)), fmt.Sprint(want)
			}
			return
		}
	}
}

// yard checks what is said to lie there already.
func (c *checker) yard(p *place) {
	marks := map[string]bool{}
	for i := range c.job.Yard {
		y := &c.job.Yard[i]
		at := p.item(i, y.Mark)
		if y.Mark != "" && marks[y.Mark] {
			c.say("mark-twice", at.field("mark"), fmt.Sprintf("two offcuts carry the mark %s.", y.Mark), "Every offcut has a mark of its own.")
		}
		marks[y.Mark] = true
		if y.Mark != "" && y.Count > 1 {
			c.say("mark", at.field("count"), fmt.Sprintf("%d pieces carry one mark.", y.Count), "Write one item for each offcut.")
		}
		for k, end := range y.Ends {
			if end.Factory && end.Angle != 0 {
				c.say("yard-end", at.field("ends").item(k, ""), "an end as cast is square and has no saw angle.", "Write factory: true or an angle, not both.")
			}
		}
		if s := c.laid(&Leg{Supply: y.Supply}); s != nil && y.Supply != "" && y.Length > 0 {
			c.yardLength(y.Length, y.Mark, s, at.field("length"))
		}
	}
}

func (c *checker) yardLength(l measure.Length, mark string, s *Supply, p *place) {
	made := s.Unit.Lengths.Value
	if i := slices.IndexFunc(c.job.Supplies, func(one Supply) bool { return one.ID == s.ID }); !c.sound((*place)(nil).field("supplies").item(i, "").field("unit"), "lengths") {
		return
	}
	switch most := longest(made); {
	case most == 0:
	case l > most:
		one := c.say("yard-length", p, fmt.Sprintf("%s is longer than any unit of supply %s, %s.", c.length(l), s.ID, c.length(most)), "Look at the length, and at the supply that is named.")
		one.Value, one.Limit = c.length(l), c.length(most)
	case mark == "" && !slices.Contains(made, l):
		c.say("yard-length", p, fmt.Sprintf("supply %s makes no unit of %s.", s.ID, c.length(l)), "Made: "+c.lengths(made)+". An offcut has a mark.")
	}
}
