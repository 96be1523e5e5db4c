package interchange

import (
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/place/ground/local"
	"trenchwright/place/route"
	"trenchwright/view/geojson"
	"trenchwright/view/landxml"
)

// unit is the unit of the job's coordinates.
func (r run) unit() measure.Unit {
	switch r.job.Coordinates.Unit {
	case job.CoordFeet:
		return measure.UnitFoot
	case job.CoordUSSurvey:
		return measure.UnitSurveyFoot
	}
	return measure.UnitMetre
}

// coded is a coordinate system with the number that the EPSG register gives it: a name and (EPSG 25832), or EPSG 25832 alone.
func coded(system string) (name, number string, ok bool) {
	if i := strings.LastIndex(system, " (EPSG"); i >= 0 && strings.HasSuffix(system, ")") {
		name, system = system[:i], system[i+len(" ("):len(system)-1]
	}
	number, ok = strings.CutPrefix(system, "EPSG")
	number = strings.TrimPrefix(strings.TrimPrefix(number, ":"), " ")
	return name, number, ok && number != "" && strings.Trim(number, "0123456789") == ""
}

func (r run) system() landxml.System {
	c := r.job.Coordinates
	s := landxml.System{Name: c.System, Vertical: c.HeightDatum}
	if name, number, ok := coded(c.System); ok {
		s.Name, s.EPSG = name, number
	}
	return s
}

// notes are what whoever reads the coordinates has to know: what nobody entered, and what the figures are.
func (r run) notes() string {
	var out []string
	for _, text := range []string{r.Job.Grid, r.Job.HeightDatum, r.Job.ScaleFactor, r.Job.DrawnLine} {
		if strings.HasPrefix(text, "NOT CHECKED") {
			out = append(out, strings.TrimRight(text, ".")+".")
		}
	}
	if r.Job.On != "" {
		out = append(out, "The job states a day and no time of day.")
	}
	return strings.Join(out, " ")
}

// earth is the way from the plan to WGS 84. why: there is none, in a sentence.
func (r run) earth() (to geojson.FromPlan, why string) {
	const only = "GeoJSON is longitude and latitude in WGS 84 and nothing else (RFC 7946), so no GeoJSON is written"
	name := r.job.Coordinates.System
	if name == "" {
		return nil, "NOT CHECKED: no coordinate system on file, so nothing says where on earth this run lies. " + only + ". Ask: the surveyor"
	}
	g, ok := local.Named(name)
	if !ok {
		return nil, "The coordinates of this job are in " + name + ", and nothing on file leads from there to WGS 84; " + only + ". The LandXML beside this file holds the same run in the job's own coordinates"
	}
	return func(p route.Point) (lon, lat float64, err error) {
		at := r.origin.Coordinates(p)
		on, err := g.From(route.Point{E: at.E.Metres(), N: at.N.Metres()})
		return on.Longitude, on.Latitude, err
	}, ""
}
