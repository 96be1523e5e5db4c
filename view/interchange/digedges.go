package interchange

import (
	"fmt"

	"trenchwright/base/measure"
	"trenchwright/job/planner"
	"trenchwright/place/route"
	"trenchwright/view/geojson"
	"trenchwright/view/landxml"
)

// edge is one side of a leg's dig.
type edge struct {
	side   string
	offset func(planner.DigMark) measure.MM // from the centreline, right positive
}

var edges = [2]edge{
	{"left", func(m planner.DigMark) measure.MM { return m.EdgeLeft }},
	{"right", func(m planner.DigMark) measure.MM { return m.EdgeRight }},
}

// marked are the places of one edge of a leg's dig, where the plan marks it out on the ground.
func (r run) marked(leg planner.LegDig, e edge) []route.Point {
	line, ok := r.line(leg.Leg)
	if !ok {
		return nil
	}
	var out []route.Point
	for _, m := range leg.Marks {
		out = append(out, line.Beside(measure.Length(m.At), measure.Length(e.offset(m))))
	}
	return out
}

// digPoints are the edges of the dig as points to be set out: where its sides meet the ground as it is.
func (r run) digPoints() []landxml.Point {
	if r.Dig == nil {
		return nil
	}
	var out []landxml.Point
	for _, l := range r.Dig.Legs {
		for _, e := range edges {
			seen := map[string]bool{}
			for i, at := range r.marked(l, e) {
				m := l.Marks[i]
				name := fmt.Sprintf("%s %s %s", l.Leg, r.station(m.At), e.side)
				if seen[name] { // at a step the section before and behind it
					continue
				}
				seen[name] = true
				out = append(out, landxml.Point{Name: name, Code: "dig edge", Groups: []string{"dig", "leg " + l.Leg}, At: r.origin.Coordinates(at),
					Desc: r.Job.Speech().Say("%s edge of the dig, no level on file; depth %s", e.side, measure.Length(m.Depth))})
			}
		}
	}
	return out
}

// digEdges are the same as lines, straight from mark to mark.
func (m *mapper) digEdges() {
	if m.Dig == nil {
		return
	}
	for _, l := range m.Dig.Legs {
		for _, e := range edges {
			line := m.marked(l, e)
			if len(line) < 2 {
				continue
			}
			m.add("dig "+l.Leg+" "+e.side, geojson.LineString, line, geojson.Text("what", "dig edge"), geojson.Text("leg", l.Leg), geojson.Text("side", e.side),
				geojson.Number("marks", float64(len(line))), geojson.Number("dug_m3", l.Volumes.Dug), millimetres("deepest_mm", l.Deepest))
		}
	}
}
