package screen

import (
	"math"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/planner"
)

// forThing is the card of a thing that the job declares along a leg.
func (m *maker) forThing(id string) bool {
	name, one, ok := strings.Cut(id, "/")
	leg, known := m.legs[name]
	if !ok || !known {
		return false
	}
	l := m.asked[name]
	path := "route.legs[" + name + "]."
	switch m.card.Kind {
	case "crossing":
		return each(l.Crossings, func(c *job.Crossing) bool { return c.ID == one }, func(c *job.Crossing) {
			m.thingCard(leg, "Crossing "+c.ID, m.crossingLabel(*c), c.At)
			m.card.Fields = m.fields(c, path+"crossings["+c.ID+"]", "")
		})
	case "service":
		return each(l.Services, func(v *job.Service) bool { return v.ID == one }, func(v *job.Service) {
			m.thingCard(leg, capital(m.speech.Word(wording.Service))+" "+v.ID, m.serviceLabel(*v), v.At)
			m.card.Fields = m.fields(v, path+"services["+v.ID+"]", "")
			m.overService(*v)
		})
	case "entry":
		return each(l.Entries, func(e *job.ConduitEntry) bool { return e.ID == one }, func(e *job.ConduitEntry) {
			m.thingCard(leg, "Entry "+e.ID, m.entryLabel(*e), e.At)
			m.card.Fields = m.fields(e, path+"entries["+e.ID+"]", "")
		})
	case "support":
		return each(l.Supports, func(s *job.Support) bool { return s.ID == one }, func(s *job.Support) {
			m.thingCard(leg, "Support "+s.ID, m.supportLabel(*s, 1), s.At)
			m.card.Fields = m.fields(s, path+"supports["+s.ID+"]", "")
		})
	case "zone":
		return each(l.Zones, func(z *job.Zone) bool { return z.ID == one }, func(z *job.Zone) {
			m.thingCard(leg, "Zone "+z.ID, z.Why, (z.From+z.To)/2)
			m.card.Strip = [2]float64{m.strip(leg, measure.MM(z.From)), m.strip(leg, measure.MM(z.To))}
			m.card.Fields = m.fields(z, path+"zones["+z.ID+"]", "")
		})
	}
	return each(l.Joints, func(f *job.ForcedJoint) bool { return f.ID == one }, func(f *job.ForcedJoint) {
		m.thingCard(leg, "Joint asked for, "+f.ID, f.Why, f.At)
		m.card.Fields = m.fields(f, path+"joints["+f.ID+"]", "")
	})
}

// each does something with the one item that is wanted; false: there is none.
func each[T any](list []T, wanted func(*T) bool, do func(*T)) bool {
	for i := range list {
		if wanted(&list[i]) {
			do(&list[i])
			return true
		}
	}
	return false
}

// thingCard is what all things along a leg have: their place, what they keep free, what stands and is dug there.
func (m *maker) thingCard(leg int, title, lead string, at measure.Length) {
	m.card.Title, m.card.Lead = title, lead
	m.whereOn(leg, measure.MM(at))
	kind, id, _ := strings.Cut(m.card.Key, "/")
	_, id, _ = strings.Cut(id, "/")
	m.group("what it keeps free")
	l := m.plan.Legs[leg].Name
	from, to := math.Inf(1), math.Inf(-1)
	tell := func(what string, z planner.Zone) {
		a, b := m.onStrip(leg, z.From), m.onStrip(leg, z.To)
		from, to = math.Min(from, a), math.Max(to, b)
		at := func(x float64) measure.MM { return measure.MM(measure.FromMillimetres(x - m.begins[leg])) }
		m.row(what, m.chainage(at(a))+" to "+m.chainage(at(b)), "")
	}
	for _, z := range m.plan.Zones {
		if z.Leg == l && z.Kind == kind && z.ID == id {
			tell("no joint", z)
		}
	}
	for _, z := range m.plan.NoCuts {
		if z.Leg == l && z.Kind == kind && z.ID == id {
			tell("no cut piece", z)
		}
	}
	if from < to {
		m.card.Strip = [2]float64{from, to}
	}
	m.group("what lies under or beside it")
	for u := m.first[leg]; u < m.first[leg+1]; u++ {
		if a, b := m.ends(u); a <= m.card.Strip[1] && b >= m.card.Strip[0] {
			m.linked(m.speech.Word(wording.Unit), m.plan.Units[u].Mark+", "+m.size(m.plan.Units[u].Length), "unit/"+m.plan.Units[u].Mark)
		}
	}
	m.levelsAt(leg, measure.MM(at))
	m.concerns(func(f finding.Finding) bool {
		return m.within(f, leg, m.card.Strip[0]-1, m.card.Strip[1]+1) || f.Where.Path == kind+"s."+id
	})
}

// overService is how the dig and what is set pass a service.
func (m *maker) overService(v job.Service) {
	m.group("the service")
	if v.Depth == nil && v.Level == nil {
		m.row("depth", "NOT CHECKED: no depth of "+v.Name+" on file. Ask: whoever owns it", "")
	}
	m.row("position known by", v.Quality, "")
	if v.Quality == "" {
		m.row("position known by", "NOT CHECKED: no word on file about how the place of "+v.Name+" is known. Ask: whoever recorded it", "")
	}
}

func (m *maker) forPin(id string) bool {
	for _, p := range m.job.Levels.Pins {
		leg, ok := m.legs[p.Leg]
		if p.ID == id && ok {
			m.card.Title, m.card.Lead = "Pin "+p.ID, m.pinLabel(p)
			m.whereOn(leg, measure.MM(p.At))
			m.levelsAt(leg, measure.MM(p.At))
			m.card.Fields = m.fields(&p, "levels.pins["+p.ID+"]", "")
			return true
		}
	}
	return false
}

func (m *maker) forOutlet(id string) bool {
	for _, o := range m.job.Levels.Outlets {
		leg, ok := m.legs[o.Leg]
		if o.ID == id && ok {
			m.card.Title, m.card.Lead = "Outlet "+o.ID, m.outletLabel(o)
			m.whereOn(leg, measure.MM(o.At))
			m.levelsAt(leg, measure.MM(o.At))
			m.card.Fields = m.fields(&o, "levels.outlets["+o.ID+"]", "")
			return true
		}
	}
	return false
}

// forNode is the card of a bend, a tee, an end.
func (m *maker) forNode(id string) bool {
	for _, n := range m.nodes() {
		if n.ID == id {
			return m.nodeCard(n)
		}
	}
	return false
}

func (m *maker) nodeCard(s Node) bool {
	var n planner.Node
	for _, one := range m.plan.Nodes {
		if one.ID == s.ID {
			n = one
		}
	}
	m.card.Title, m.card.Lead = "Node "+s.ID, s.Label
	if len(s.Strip) > 0 {
		m.card.Strip = [2]float64{s.Strip[0], s.Strip[0]}
	}
	m.group("where it is")
	m.levelRow("level of the wall top, as entered", n.Level)
	for i, l := range n.Legs {
		if i < len(n.Headings) {
			m.linked("leg "+l+" leaves at", degrees(n.Headings[i]), "leg/"+l)
		}
	}
	if s.Hand != "" {
		m.group("the bend")
		m.row("turns", s.Angle+" to the "+s.Hand, "")
	}
	if b := n.Bend; b != nil {
		m.angle("saw angle, from square", b.SawAngle)
		m.measured("long side less short side", b.LongShort)
		m.held("gap, square to it", b.Gap)
		m.measured("faces set back on the axis", b.Setback)
		m.row(m.speech.Word(wording.Pad)+" across, to carry both faces", m.atLeast(b.PadAcross), roundedUp(m.other, b.PadAcross))
		m.linked("coming in", b.In, "unit/"+b.In)
		m.linked("leaving", b.Out, "unit/"+b.Out)
		m.row("covers", b.Seams, "")
	}
	m.row("note", n.Note, "")
	for _, d := range m.job.Route.Nodes {
		if d.ID == s.ID {
			m.card.Fields = m.fields(&d, "route.nodes["+d.ID+"]", "")
		}
	}
	if len(s.Legs) > 0 {
		leg := m.order[s.Legs[0]]
		at := measure.MM(0)
		if m.plan.Legs[leg].To == s.ID {
			at = m.plan.Legs[leg].NodeLength
		}
		m.levelsAt(leg, at)
	}
	m.card.Figure = m.nodeFigure(s)
	m.concerns(func(f finding.Finding) bool {
		return f.Where.Path == "nodes."+s.ID || strings.HasPrefix(f.Where.Path, "nodes."+s.ID+".")
	})
	return true
}

// forLeg is the card of a leg, with its verdict, its proof and, where it cannot be laid, what would make it possible.
func (m *maker) forLeg(id string) bool {
	i, ok := m.legs[id]
	if !ok {
		return false
	}
	l := &m.plan.Legs[i]
	s := m.stripLegs()[m.rank[i]]
	m.card.Title, m.card.Lead = "Leg "+id, s.Said
	m.card.Strip = [2]float64{s.From, s.To}
	m.group("what it is")
	m.linked("from", l.From, "node/"+l.From)
	m.linked("to", l.To, "node/"+l.To)
	m.linked("supply", l.Supply, "supply/"+l.Supply)
	m.distance("from node to node", l.NodeLength)
	m.distance("clear, from face to face", l.ClearLength)
	m.measured("set back at its start", l.StartSetback)
	m.measured("set back at its end", l.EndSetback)
	switch {
	case l.SlopeRise > 0:
		m.measured("rises", l.SlopeRise)
	case l.SlopeRise < 0:
		m.measured("falls", -l.SlopeRise)
	}
	m.row("laid from", "node "+l.LaidFrom, "")
	for _, c := range m.lines[i].Curves {
		m.linked("curve", c.Label+" to the "+c.Hand, c.Key)
	}
	m.row("comes out as", m.countText(l.Count), "")
	if l.Verdict != "found" {
		m.row("verdict", l.Verdict+": "+l.Why, "")
		for _, t := range l.Try {
			m.row("try", t, "")
		}
	} else {
		m.row("why", l.Why, "")
	}
	m.group("grades")
	for _, g := range m.plan.Grades {
		if g.Leg == id {
			m.row(m.chainage(g.FromMM)+" to "+m.chainage(g.ToMM), gradeLabel(g.Grade), "")
		}
	}
	m.provenLeg(id)
	for _, d := range m.job.Route.Legs {
		if d.ID == id {
			m.card.Fields = m.fields(&d, "route.legs["+id+"]", "")
		}
	}
	if h, ok := m.supply[l.Supply]; ok {
		m.source(m.plan.Supplies[h].Source)
	}
	m.concerns(func(f finding.Finding) bool { return f.Where.Leg == id })
	if l.Verdict == "impossible" {
		m.card.Tries = m.tries(id)
	}
	return true
}

func (m *maker) countText(c planner.Count) string {
	return m.unitsText(c.Units) + ", " + count(c.Cuts, "cut", "cuts") + ", " + count(c.CutCovers, "cut cover", "cut covers")
}
