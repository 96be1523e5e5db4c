package groundin

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/place/ground"
	"trenchwright/place/ground/local"
	"trenchwright/place/route"
	"trenchwright/view/geojson"
)

// fromGeoJSON triangulates points and lines in WGS 84. A level is the property level_m of a feature: a line that has it is a
// contour. The third number of a position is one above the ellipsoid, and a level only in a job whose heights are.
func fromGeoJSON(r io.Reader, w Want) (Ground, finding.List) {
	f, err := geojson.Read(r, geojson.Options{File: w.File})
	if err != nil {
		var why *geojson.Refusal
		out := fault(w, "geojson", err.Error(), "an export of the survey as GeoJSON in WGS 84")
		if errors.As(err, &why) {
			out[0].Text, out[0].Where.Line = why.Text, why.Where.Line
			if why.Try != "" {
				out[0].Try = why.Try
			}
		}
		return Ground{}, append(out, f.Notes...)
	}
	g, faults := w.grid(f)
	if len(faults) > 0 {
		return Ground{}, append(faults, f.Notes...)
	}
	out := Ground{Unit: measure.UnitMetre}
	if w.Origin != nil {
		out.Origin = *w.Origin
	}
	s := ground.Survey{LongestEdge: w.Edge.Metres(), Source: ground.Source{Name: named(w.File), Origin: out.Origin, Speech: w.Speech, Where: finding.Where{File: w.File}}}
	left, faults := surveyed(&s, f, g, w)
	if len(faults) > 0 {
		return Ground{}, append(faults, f.Notes...)
	}
	if len(s.Points) == 0 {
		return Ground{}, append(fault(w, "no-levels", fmt.Sprintf("none of its %s has a level: heights in GeoJSON are above the ellipsoid, and levels are above a height datum", plural(len(f.Features), "feature", "features")),
			"a property level_m, in metres above the height datum"), f.Notes...)
	}
	surface, found := ground.Triangulate(s)
	found = append(found, f.Notes...)
	if left > 0 {
		found = append(found, finding.Finding{ID: "groundin.passed-over", Kind: finding.Attention, Where: finding.Where{File: w.File},
			Text: fmt.Sprintf("passed over: %s without a level, or neither points nor lines", plural(left, "feature", "features"))})
	}
	if surface == nil {
		return Ground{}, found
	}
	out.Surfaces = []*ground.Surface{surface}
	out.Heard = []string{"on the grid " + g.Name(), heard(surface, fmt.Sprintf(" triangulated with %s", plural(len(s.Lines), "breakline", "breaklines")))}
	return out, found
}

// grid is that of the job; where there is no job, one in the middle of the file.
func (w Want) grid(f geojson.File) (local.Grid, finding.List) {
	if w.System != "" || w.Origin != nil {
		if g, ok := local.Named(w.System); ok {
			return g, nil
		}
		system := w.System
		if system == "" {
			system = "a system that nobody named"
		}
		return local.Grid{}, fault(w, "no-way", "GeoJSON is in WGS 84, and the coordinates of the job are in "+system+": nothing on file leads from one to the other",
			"the survey in the job's own coordinates, as LandXML or as points")
	}
	var all []local.Position
	for _, one := range f.Features {
		for _, body := range one.Geometry.Bodies {
			for _, line := range body {
				for _, p := range line {
					all = append(all, local.Position{Latitude: p.Lat, Longitude: p.Lon})
				}
			}
		}
	}
	middle, err := local.Middle(all)
	if err != nil {
		return local.Grid{}, fault(w, "no-points", "it holds no position", "the points of the survey, with their levels")
	}
	g, err := local.New(middle, 0)
	if err != nil {
		return local.Grid{}, fault(w, "local-grid", err.Error(), "the part of it along the run")
	}
	return g, nil
}

// surveyed takes the points and lines that have levels, and counts what has none.
func surveyed(s *ground.Survey, f geojson.File, g local.Grid, w Want) (left int, faults finding.List) {
	for _, one := range f.Features {
		level, given := levelOf(one)
		k := one.Geometry.Kind
		lines := k == geojson.LineString || k == geojson.MultiLineString
		if !lines && k != geojson.Point && k != geojson.MultiPoint {
			left++
			continue
		}
		for _, body := range one.Geometry.Bodies {
			for _, line := range body {
				points, err := placed(line, g, s.Origin, level, given, w.Ellipsoid)
				if err != nil {
					out := fault(w, "far", err.Error(), "the part of it along the run")
					out[0].Where.Line = one.Line
					return left, append(faults, out...)
				}
				if points == nil {
					left++
					continue
				}
				s.Points = append(s.Points, points...)
				if lines {
					s.Lines = append(s.Lines, ground.Line{Name: one.ID, Points: points})
				}
			}
		}
	}
	return left, faults
}

// levelOf is the property level_m.
func levelOf(f geojson.Feature) (measure.Length, bool) {
	for _, p := range f.Properties {
		var v float64
		if p.Name == "level_m" && string(p.Value) != "null" && json.Unmarshal(p.Value, &v) == nil && v > -ground.Highest && v < ground.Highest {
			return measure.FromMetres(v), true
		}
	}
	return 0, false
}

// placed are positions on the grid with their levels; nil where one has none.
func placed(line []geojson.Position, g local.Grid, o route.Origin, level measure.Length, given, ellipsoid bool) ([]ground.Point, error) {
	out := make([]ground.Point, 0, len(line))
	for _, p := range line {
		z := level
		if !given {
			if !ellipsoid || !p.HasHeight || !(p.Height > -ground.Highest && p.Height < ground.Highest) {
				return nil, nil
			}
			z = measure.FromMetres(p.Height)
		}
		at, err := g.To(local.Position{Latitude: p.Lat, Longitude: p.Lon})
		if err != nil {
			return nil, err
		}
		out = append(out, ground.Recorded(o, route.Coordinates{E: measure.FromMetres(at.E), N: measure.FromMetres(at.N)}, z))
	}
	return out, nil
}
