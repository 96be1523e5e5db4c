package job

import (
	"fmt"
	"strings"

	"trenchwright/base/wording"
)

// documents says what is not known of a document, and how many figures have none.
func (m *missing) documents() {
	for i, d := range m.job.Documents {
		var lacks []string
		for _, one := range []struct{ value, what string }{
			{d.Revision, "revision"}, {d.EnteredBy, "name of who entered it"}, {d.EnteredOn, "date of entry"},
		} {
			if one.value == "" {
				lacks = append(lacks, one.what)
			}
		}
		if len(lacks) > 0 {
			m.say("document", (*place)(nil).field("documents").item(i, d.ID), strings.Join(lacks, ", no ")+" of document "+d.ID, "whoever entered its figures")
		}
	}
	m.undocumented()
}

// undocumented counts the figures of each supply, and of the rules, that come from no document.
func (m *missing) undocumented() {
	j := m.job
	counts := make([]int, len(j.Supplies)+1) // the rules' last
	eachEntry(*j, func(figure pedigree, p *place) {
		if *figure.assumed || *figure.texts[0] != "" {
			return
		}
		chain := p.chain()
		switch chain[0].name {
		case "rules":
			counts[len(j.Supplies)] += choose(j.Rules.From == "", 1, 0)
		case "supplies":
			s := &j.Supplies[chain[1].index]
			from := s.From
			if chain[2].name == "fittings" && s.Fittings[chain[3].index].From != "" {
				from = s.Fittings[chain[3].index].From
			}
			counts[chain[1].index] += choose(from == "", 1, 0)
		}
	})
	for i, n := range counts {
		switch {
		case n == 0:
		case i < len(j.Supplies):
			m.say("from", (*place)(nil).field("supplies").item(i, j.Supplies[i].ID).field("from"),
				fmt.Sprintf("document for %s of supply %s", plural(n, "figure", "figures"), j.Supplies[i].ID), supplier)
		default:
			m.say("from", (*place)(nil).fields("rules", "from"), fmt.Sprintf("document for %s of the rules", plural(n, "figure", "figures")), owner)
		}
	}
}

// coordinates says what is not known of the numbers of the route. A walk has none: it is taped on the ground.
func (m *missing) coordinates() {
	c := &m.job.Coordinates
	p := (*place)(nil).field("coordinates")
	if c.Line.Kind == "" {
		m.say("drawn-line", p.field("line"), "word on file about which line of the run was drawn", "whoever drew it")
	}
	if len(m.job.Route.Nodes) == 0 {
		return
	}
	if c.System == "" {
		m.say("coordinate-system", p.field("system"), "coordinate system", surveyor)
	}
	if c.ScaleFactor == "" {
		m.say("scale-factor", p.field("scale_factor"), "combined scale factor", surveyor)
	}
	var low []string
	for _, n := range m.job.Route.Nodes {
		if n.Level == nil {
			low = append(low, n.ID)
		}
	}
	if all := len(m.job.Route.Nodes); len(low) > 0 && !m.finished() {
		what := fmt.Sprintf("level of %d of %s (%s)", len(low), plural(all, "node", "nodes"), listed(low))
		if len(low) == all {
			what = "level of any node"
		}
		m.say("node-levels", (*place)(nil).fields("route", "nodes"), what, surveyor)
	}
	if c.HeightDatum == "" && (m.finished() || len(low) < len(m.job.Route.Nodes)) {
		m.say("height-datum", p.field("height_datum"), "height datum", surveyor)
	}
}

func (m *missing) route() {
	root := (*place)(nil).field("route")
	for i := range m.job.Route.Nodes {
		n := &m.job.Route.Nodes[i]
		if n.End == nil || n.End.Kind != "existing" {
			continue
		}
		p := root.field("nodes").item(i, n.ID).field("end")
		if n.End.Level == nil && n.Level == nil {
			m.say("end-level", p.field("level"), "level of the existing trench at node "+n.ID, surveyor)
		}
		if n.End.Section == nil {
			m.say("end-section", p.field("section"), "section of the existing trench at node "+n.ID, surveyor)
		}
	}
	for i := range m.job.Route.Legs {
		m.leg(&m.job.Route.Legs[i], root.field("legs").item(i, m.job.Route.Legs[i].ID))
	}
}

func (m *missing) leg(l *Leg, p *place) {
	for i, x := range l.Crossings {
		if x.Vehicle == "" {
			m.say("crossing-vehicle", p.field("crossings").item(i, x.ID).field("vehicle"), "vehicle for crossing "+x.ID+" on leg "+l.ID, owner)
		}
	}
	for i, e := range l.Entries {
		if e.Level == 0 && e.Side != "floor" {
			m.say("entry-level", p.field("entries").item(i, e.ID).field("level"), "height of conduit entry "+e.ID+" on leg "+l.ID, "whoever designed the conduits")
		}
	}
	for i := range l.Services {
		m.service(l, &l.Services[i], p.field("services").item(i, l.Services[i].ID))
	}
}

func (m *missing) service(l *Leg, s *Service, p *place) {
	name := m.word(wording.Service) + " " + s.ID + " (" + s.Name + ") on leg " + l.ID
	if s.Depth == nil && s.Level == nil {
		m.say("service-depth", p.field("depth"), "depth of "+name+" on file; it counts as lying in the way until somebody has measured it", "its owner; expose it by hand before any machine digs")
		where, at := &m.list[len(m.list)-1].Where, s.At
		where.Leg, where.Chainage = l.ID, &at
	}
	if s.Quality == "" {
		m.say("service-quality", p.field("quality"), "word on file about how the position of "+name+" is known", "its owner")
	}
}
