package interchange

import (
	"encoding/json"
	"fmt"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/planner"
	"trenchwright/place/route"
	"trenchwright/view/geojson"
	"trenchwright/view/landxml"
)

// surveyed is a list of points that the run is set out from.
type surveyed struct {
	what   string // code of its points
	points []planner.SurveyPoint
}

func (r run) surveyed() [2]surveyed {
	return [2]surveyed{{"benchmark", r.Benchmarks}, {"control point", r.Control}}
}

// nowhere are sentences about points with a level and no coordinates: LandXML has no place for them.
func (r run) nowhere() string {
	text := ""
	for _, list := range r.surveyed() {
		for _, p := range list.points {
			if p.E != nil && p.N != nil {
				continue
			}
			text += fmt.Sprintf(" NOT CHECKED: no coordinates of %s %s on file", list.what, p.ID)
			if p.Where != "" {
				text += ", " + p.Where
			}
			if p.Level != nil {
				text += r.Job.Speech().Say("; its level is %s", wording.Far(measure.FromMetres(*p.Level)))
			}
			text += ". Ask: the surveyor."
		}
	}
	return text
}

// setOutFrom are the benchmarks and control points, each in a group of its kind.
func (r run) setOutFrom() []landxml.Point {
	var out []landxml.Point
	for _, list := range r.surveyed() {
		for _, p := range list.points {
			if p.E == nil || p.N == nil {
				continue
			}
			one := landxml.Point{Name: p.ID, Code: list.what, Groups: []string{list.what + "s"}, Desc: p.Where}
			one.At = route.Coordinates{E: measure.FromMetres(*p.E), N: measure.FromMetres(*p.N)}
			if p.Level != nil {
				one.Level, one.HasLevel = measure.FromMetres(*p.Level), true
			} else {
				one.Desc = strings.TrimPrefix(one.Desc+", no level on file", ", ")
			}
			out = append(out, one)
		}
	}
	return out
}

// pegName is what a peg is called beside the place that it is square to: pegs have no names of their own.
func (r run) pegName(p planner.Peg) string {
	place := p.Place
	if place == "" {
		place = p.Leg + " " + r.station(p.Chainage)
	}
	return r.Job.Speech().Say("%s, %s %s", place, measure.Length(p.Offset), p.Side)
}

// pegs are the pegs beside the run, in a group for each leg, at the level of the ground as it is.
func (r run) pegs() []landxml.Point {
	var out []landxml.Point
	seen := map[string]bool{}
	for _, p := range r.Pegs {
		name := r.pegName(p)
		if seen[name] { // asked for twice, it is one peg all the same
			continue
		}
		seen[name] = true
		one := landxml.Point{Name: name, Code: "peg", Groups: []string{"pegs", "leg " + p.Leg}, Desc: r.pegSays(p)}
		one.At = route.Coordinates{E: measure.FromMetres(p.E), N: measure.FromMetres(p.N)}
		if p.Ground != nil {
			one.Level, one.HasLevel = measure.FromMetres(*p.Ground), true
		}
		out = append(out, one)
	}
	return out
}

// pegSays is what is written on a peg, and what becomes of it.
func (r run) pegSays(p planner.Peg) string {
	speech := r.Job.Speech()
	text := speech.Say("%s %s on leg %s, %s %s of the %s", wording.Chainage, r.station(p.Chainage), p.Leg, measure.Length(p.Offset), p.Side, wording.Centreline)
	if p.Ground != nil {
		text += ", ground as it is"
	} else {
		text += ", no level of the ground on file"
	}
	for _, f := range []struct {
		what   string
		figure *planner.PegFigure
	}{{speech.Word(wording.Formation), p.ToFormation}, {"top of the wall", p.ToWall}} {
		switch {
		case f.figure == nil:
		case f.figure.Amount == 0:
			text += "; level with the " + f.what
		default:
			text += speech.Say("; %s %s to the %s", f.figure.Way, measure.Length(f.figure.Amount), f.what)
		}
	}
	if len(p.Lost) > 0 {
		text += "; does not outlast the dig: " + strings.Join(p.Lost, ", ")
	}
	return text
}

// setOutFrom are the same points as features.
func (m *mapper) setOutFrom() {
	for _, list := range m.surveyed() {
		for _, p := range list.points {
			props := []geojson.Property{geojson.Text("what", list.what), geojson.Text("name", p.ID), geojson.Text("where", p.Where),
				level("easting_m", p.E), level("northing_m", p.N), level("level_m", p.Level), geojson.Text("source", p.Source)}
			id := list.what + " " + p.ID
			if p.E == nil || p.N == nil { // known by words alone: a feature that lies nowhere
				m.features = append(m.features, geojson.Feature{ID: id, Properties: props})
				continue
			}
			m.add(id, geojson.Point, []route.Point{m.pointAt(*p.E, *p.N)}, props...)
		}
	}
}

// pegs are the same as features.
func (m *mapper) pegs() {
	seen := map[string]bool{}
	for _, p := range m.Pegs {
		name := m.pegName(p)
		if seen[name] {
			continue
		}
		seen[name] = true
		lost, _ := json.Marshal(append([]string{}, p.Lost...)) // texts have nothing that JSON could refuse
		props := []geojson.Property{geojson.Text("what", "peg"), geojson.Text("name", name), geojson.Text("leg", p.Leg), geojson.Text("place", p.Place),
			metres("chainage_m", p.Chainage), geojson.Text("side", p.Side), millimetres("offset_mm", p.Offset), geojson.Number("easting_m", p.E), geojson.Number("northing_m", p.N),
			level("ground_m", p.Ground), level("formation_m", p.Formation), level("wall_m", p.Wall)}
		props = append(props, figure("to_formation", p.ToFormation)...)
		props = append(props, figure("to_wall", p.ToWall)...)
		props = append(props, geojson.Property{Name: "lost", Value: lost}, geojson.Text("source", p.Source))
		m.add("peg "+name, geojson.Point, []route.Point{m.pointAt(p.E, p.N)}, props...)
	}
}

// figure is what a peg says: which way, and how far.
func figure(name string, f *planner.PegFigure) []geojson.Property {
	if f == nil {
		return []geojson.Property{{Name: name, Value: json.RawMessage("null")}, {Name: name + "_mm", Value: json.RawMessage("null")}}
	}
	return []geojson.Property{geojson.Text(name, f.Way), millimetres(name+"_mm", f.Amount)}
}

// pointAt is a place of the plan in grid metres.
func (m *mapper) pointAt(e, n float64) route.Point {
	return m.origin.Point(route.Coordinates{E: measure.FromMetres(e), N: measure.FromMetres(n)})
}
