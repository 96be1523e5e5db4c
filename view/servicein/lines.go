package servicein

import (
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/place/ground/local"
	"trenchwright/place/route"
	"trenchwright/view/geojson"
	"trenchwright/view/landxml"
	"trenchwright/view/points"
)

// line is one recorded service.
type line struct {
	name    string
	at      []route.Point
	tops    []measure.Length // levels of its top, by point; nil: none on file
	width   measure.Length   // 0: none on file
	depth   *measure.Length
	quality string
	row     int // of the file
}

func (s site) points(r io.Reader) ([]line, finding.List) {
	columns := strings.NewReplacer(",", "", " ", "", ";", "").Replace(s.Columns)
	unit := s.Unit
	if unit == measure.NoUnit {
		unit = unitOf(s.job.Coordinates.Unit)
	}
	t, found := points.Read(r, points.Options{Columns: columns, Unit: unit, File: s.File, Levels: s.Tops})
	if found.Any(finding.Fault) {
		return nil, found
	}
	lines := append(t.Breaklines(), t.ByCode(s.Lines...)...)
	if len(lines) == 0 {
		return nil, append(fault(s.Want, "no-lines", fmt.Sprintf("it holds %s and nothing says which of them are one service", plural(len(t.Points), "point", "points")),
			"a column with the name of the line that a point is on, or the codes that are lines"), found...)
	}
	var out []line
	for _, b := range lines {
		l := line{name: b.Name, row: t.Points[b.Points[0]].Line}
		for _, i := range b.Points {
			l.at = append(l.at, s.origin.Point(t.Points[i].At))
			if s.Tops {
				l.tops = append(l.tops, t.Points[i].Level)
			}
		}
		out = append(out, l)
	}
	return out, found
}

func unitOf(u job.CoordUnit) measure.Unit {
	switch u {
	case job.CoordFeet:
		return measure.UnitFoot
	case job.CoordUSSurvey:
		return measure.UnitSurveyFoot
	}
	return measure.UnitMetre
}

// landxml takes pipes, whose top follows from their invert, height and wall, and plan features, which have no levels.
func (s site) landxml(r io.Reader) ([]line, finding.List) {
	f, err := landxml.Read(r, landxml.Options{Pipes: true, Unit: s.Unit, Origin: &s.origin, File: s.File, Spiral: measure.Millimetre})
	if err != nil {
		return nil, refused(s.Want, err, f.Notes)
	}
	var out []line
	for _, p := range f.Pipes {
		l := line{name: strings.TrimSpace(cmp.Or(p.Desc, p.Kind+" pipe "+p.Name)), at: []route.Point{s.origin.Point(p.From), s.origin.Point(p.To)}, row: p.Line}
		if p.Width > 0 && p.Wall > 0 {
			l.width = p.Width + 2*p.Wall
		}
		if p.HasInvert && p.Height > 0 && p.Wall > 0 {
			up := p.Height + p.Wall
			l.tops = []measure.Length{p.Invert[0] + up, p.Invert[1] + up}
		}
		out = append(out, l)
	}
	for _, a := range f.Features {
		out = append(out, line{name: cmp.Or(a.Desc, a.Name), at: a.Line.Points(0, a.Line.Length(), measure.Millimetre.Metres()), row: a.At})
	}
	if len(out) == 0 {
		return nil, append(fault(s.Want, "no-lines", "it holds no pipe and no plan feature", "an export of the services as pipe networks or plan features"), leftOut(f.Notes)...)
	}
	return out, leftOut(f.Notes)
}

func (s site) geojson(r io.Reader) ([]line, finding.List) {
	grid, ok := local.Named(s.job.Coordinates.System)
	if !ok {
		named := cmp.Or(s.job.Coordinates.System, "a system that nobody named")
		return nil, fault(s.Want, "no-way", fmt.Sprintf("GeoJSON is in WGS 84, and the coordinates of the job are in %s: nothing on file leads from one to the other", named),
			"the services in the job's own coordinates, as LandXML or as points")
	}
	f, err := geojson.Read(r, geojson.Options{File: s.File})
	if err != nil {
		return nil, refused(s.Want, err, f.Notes)
	}
	found := leftOut(f.Notes)
	var out []line
	for i, one := range f.Features {
		if k := one.Geometry.Kind; k != geojson.LineString && k != geojson.MultiLineString {
			continue
		}
		shape, err := one.Geometry.InPlan(func(lon, lat float64) (route.Point, error) {
			return grid.To(local.Position{Latitude: lat, Longitude: lon})
		})
		if err != nil {
			found = append(found, s.finding(finding.Attention, one.Line, "far", "service %d is left out: %s", i+1, err.Error()))
			continue
		}
		l := line{row: one.Line}
		found = append(found, s.described(&l, one)...)
		for _, body := range shape.Bodies {
			for _, part := range body {
				part = s.relative(part)
				l := l
				l.at = part
				out = append(out, l)
			}
		}
	}
	if len(out) == 0 {
		return nil, append(fault(s.Want, "no-lines", fmt.Sprintf("it holds %s and no line", plural(len(f.Features), "feature", "features")), "the services as lines"), found...)
	}
	return out, found
}

// relative are grid coordinates relative to the job's origin.
func (s site) relative(line []route.Point) []route.Point {
	out := make([]route.Point, len(line))
	for i, p := range line {
		out[i] = s.origin.Point(route.Coordinates{E: measure.FromMetres(p.E), N: measure.FromMetres(p.N)})
	}
	return out
}

// described takes what a feature says of itself. Figures count only with their unit in their name.
func (s site) described(l *line, f geojson.Feature) finding.List {
	var found finding.List
	for _, name := range []string{"name", "what", "type"} {
		if text, ok := f.Text(name); ok && l.name == "" {
			l.name = text
		}
	}
	l.name = cmp.Or(l.name, f.ID)
	l.quality, _ = f.Text("quality")
	for _, p := range f.Properties {
		switch p.Name {
		case "depth", "diameter", "width", "level":
			found = append(found, s.finding(finding.Attention, f.Line, "no-unit", "%q of %q is not used: its name does not say in which unit it is", p.Name, l.name))
			continue
		}
		base, unit, _ := strings.Cut(p.Name, "_")
		per, ok := map[string]float64{"m": 1, "mm": 1e-3}[unit]
		var v float64
		if !ok || json.Unmarshal(p.Value, &v) != nil || string(p.Value) == "null" {
			continue
		}
		if v *= per; !(v > -1e4 && v < 1e4) {
			found = append(found, s.finding(finding.Attention, f.Line, "figure", "%q of %q is not used: it is no figure of a service", p.Name, l.name))
			continue
		}
		at := measure.FromMetres(v)
		switch base {
		case "width", "diameter":
			l.width = max(at, 0)
		case "depth":
			l.depth = &at
		case "level":
			l.tops = []measure.Length{at}
		}
	}
	if l.depth != nil && *l.depth < 0 {
		l.depth = nil
		found = append(found, s.finding(finding.Attention, f.Line, "figure", "the depth of %q is not used: it is negative", l.name))
	}
	if l.depth != nil && l.tops != nil {
		l.depth = nil
		found = append(found, s.finding(finding.Attention, f.Line, "depth-and-level", "%q has a depth and a level; the level is used", l.name))
	}
	return found
}

// refused is why nothing of a file can be used.
func refused(w Want, err error, notes finding.List) finding.List {
	out := fault(w, "unreadable", err.Error(), "another export of the services")
	return append(out, leftOut(notes)...)
}

// leftOut is a reader's notes, where what is wrong with one line keeps nobody from using the others.
func leftOut(notes finding.List) finding.List {
	var out finding.List
	for _, f := range notes {
		if f.Kind == finding.Fault {
			f.Kind, f.Text = finding.Attention, "left out: "+f.Text
		}
		out = append(out, f)
	}
	return out
}
