package dossier

import (
	"fmt"
	"math"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/place/route"
	"trenchwright/view/geojson"
	"trenchwright/view/interchange"
	"trenchwright/view/landxml"
)

// landXML are the joints where they lie by the records, and what was shot, as points of a LandXML document.
func (d *Dossier) landXML() (landxml.Document, bool) {
	doc, ok := interchange.LandXML(d.Plan, d.Job)
	if !ok {
		return doc, false
	}
	doc.Alignments, doc.Surfaces = nil, nil
	doc.Note = strings.TrimSpace(doc.Note + " As built by " + fmt.Sprint(d.state.Records) + " records: each joint that was measured stands as planned and as built: moved along the leg by what was measured, with the measured level of the left wall where there is one; what is not measured is not in this file.")
	doc.Points = append(d.builtPoints(), d.shotPoints()...)
	return doc, len(doc.Points) > 0
}

// builtPoints are joints whose place along the leg was measured.
func (d *Dossier) builtPoints() []landxml.Point {
	var out []landxml.Point
	for _, l := range d.state.Legs {
		for i, u := range l.Units {
			end := d.farEnd(l, i)
			if !end.known || u.End == nil || !u.End.Known {
				continue
			}
			r := end.row
			held, by := end.moved(u)
			r.E, r.N = metres(moved(r, held))
			e, n := moved(r, by)
			was := landxml.Point{Name: r.Place + " as planned", Code: "joint as planned", Groups: []string{"as planned", "leg " + l.ID}, Desc: "of the plan " + short(d.Plan.Job.Hash), At: route.Coordinates{E: measure.FromMetres(r.E), N: measure.FromMetres(r.N)}}
			if r.Level != nil {
				was.Level, was.HasLevel = measure.FromMetres(*r.Level), true
			}
			p := landxml.Point{Name: r.Place + " as built", Code: "joint as built", Groups: []string{"as built", "leg " + l.ID},
				Desc: fmt.Sprintf("%s of its planned place; record %s", d.speech.Say("%s", by), d.refs([]string{u.End.Readings[0].By})), At: route.Coordinates{E: e, N: n}}
			for _, v := range u.Levels {
				if v.Of == "wall" && v.Four[end.corner] != nil && v.Four[end.corner].Known {
					p.Level, p.HasLevel = v.Four[end.corner].Value, true
				}
			}
			out = append(out, was, p)
		}
	}
	return out
}

func metres(e, n measure.Length) (float64, float64) { return e.Metres(), n.Metres() }

// moved are the coordinates of a place moved up its leg. Grid and ground differ by less than a hair over so little.
func moved(r planner.SetOut, by measure.Length) (e, n measure.Length) {
	way := r.Bearing * math.Pi / 180
	return measure.FromMetres(r.E + float64(by.Metres()*math.Sin(way))), measure.FromMetres(r.N + float64(by.Metres()*math.Cos(way)))
}

// shotPoints are places that were surveyed.
func (d *Dossier) shotPoints() []landxml.Point {
	var out []landxml.Point
	for _, r := range d.all {
		s, ok := field.SaysOf[field.ShotSays](&r)
		if _, gone := d.book.Correction(r.ID); r.Kind != field.Shot || !ok || gone {
			continue
		}
		out = append(out, landxml.Point{Name: strings.TrimSpace(r.From + " " + s.Of + " " + ref(r)), Code: "shot", Groups: []string{"shots"}, Desc: joined(s.Of, r.Person),
			At: route.Coordinates{E: s.Easting, N: s.Northing}, Level: s.Level, HasLevel: true})
	}
	return out
}

// geoJSON is the run with what the records say of each unit; why says why there is none.
func (d *Dossier) geoJSON() (features []geojson.Feature, why string) {
	all, why := interchange.GeoJSON(d.Plan, d.Job)
	if why != "" {
		return nil, why
	}
	units := map[string]*field.UnitState{}
	for _, l := range d.state.Legs {
		for _, u := range l.Units {
			units[u.Place] = u
		}
	}
	for _, f := range all {
		u := units[f.ID]
		if u == nil {
			if what, _ := f.Text("what"); what == "leg" && len(d.unitsOf(f.ID)) > 0 {
				features = append(features, f)
			}
			continue
		}
		laid := 0
		for _, c := range u.Covers {
			if c.Laid.Is == field.Yes {
				laid++
			}
		}
		f.Properties = append(f.Properties, geojson.Text("set", settled(u)), geojson.Text("batch", u.Batch), geojson.Number("covers_laid", float64(laid)), geojson.Number("covers_planned", float64(len(u.Covers))),
			geojson.Text("proven", map[bool]string{true: "yes", false: "no"}[d.proven(u.Place)]), geojson.Text("records", d.refs(u.Set.By)))
		if u.End != nil && u.End.Known {
			f.Properties = append(f.Properties, geojson.Number("end_ahead_mm", u.End.Value.Millimetres()))
		}
		features = append(features, f)
	}
	return features, ""
}
