package routein

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/place/ground/local"
	"trenchwright/place/route"
	"trenchwright/view/geojson"
)

// fromGeoJSON takes lines in WGS 84 onto a grid of the job's own: a transverse Mercator with factor 1 at the middle of the
// lines. The job's coordinate system says which one.
func fromGeoJSON(r io.Reader, w Want) (Route, finding.List) {
	f, err := geojson.Read(r, geojson.Options{File: w.File})
	if err != nil {
		return Route{}, refused(f.Notes, err, w)
	}
	lines, faults := pickLines(f, w)
	if len(faults) > 0 {
		return Route{}, append(faults, leftOut(f.Notes)...)
	}
	g, err := gridOf(lines, w)
	if err != nil {
		return Route{}, append(fault(w, "local-grid", err.Error(), "the part of it that is the run"), leftOut(f.Notes)...)
	}
	all, faults := onGrid(lines, g, w)
	m, more := together(all, w)
	if faults = append(faults, more...); len(faults) > 0 {
		return Route{}, append(faults, leftOut(f.Notes)...)
	}
	s := scaleOf(measure.UnitMetre)
	out := Route{Coordinates: job.Coordinates{Unit: s.unit, System: g.Name(), ScaleFactor: "ground"}, Route: m.route(route.Origin{}, s)}
	found := leftOut(f.Notes)
	for i, d := range all {
		out.Length += d.line.Length()
		if one, far := g.Leg(cmp.Or(d.name, fmt.Sprintf("of line %d", i+1)), d.line.Points(0, d.line.Length(), 1), w.Speech); far {
			found = append(found, one)
		}
	}
	if w.Height == nil {
		found = append(found, g.NoHeight(finding.Where{File: w.File}))
	}
	if len(lines) == 1 {
		out.Name = lines[0].name
	}
	out.Heard = []string{
		fmt.Sprintf("%s, %s long: %s, %s, no curve", plural(len(lines), "line", "lines"), metres(out.Length), plural(len(out.Route.Nodes), "node", "nodes"), plural(len(out.Route.Legs), "leg", "legs")),
		"coordinates are metres east and north of the middle of the lines on a grid of the job's own: " + g.Name(),
		fmt.Sprintf("lengths on this grid are ground lengths; a leg across its middle errs by 1 mm from %.1f km on", g.Longest(local.Limit)/1000),
		finest(lines),
		"no levels: heights in GeoJSON are above the ellipsoid and no levels",
	}
	return out, found
}

// geoLine is a line of the file.
type geoLine struct {
	name      string
	positions []geojson.Position
	at        int // line of the file
}

// pickLines finds the lines that are wanted: the only one, the one of a name or id, or all of them together.
func pickLines(f geojson.File, w Want) ([]geoLine, finding.List) {
	var all, wanted []geoLine
	for _, one := range f.Features {
		name, _ := one.Text("name")
		if what, ours := one.Text("what"); ours && what != "leg" {
			continue // of a file of our own only legs are the run
		}
		if leg, ours := one.Text("leg"); ours && name == "" {
			name = leg
		}
		name = cmp.Or(name, one.ID)
		if k := one.Geometry.Kind; k != geojson.LineString && k != geojson.MultiLineString {
			continue
		}
		for _, body := range one.Geometry.Bodies {
			for _, line := range body {
				l := geoLine{name, line, one.Line}
				all = append(all, l)
				if w.Alignment != "" && w.Alignment == name {
					wanted = append(wanted, l)
				}
			}
		}
	}
	var names []string
	for _, l := range all {
		names = append(names, fmt.Sprintf("%q (%s)", l.name, plural(len(l.positions), "point", "points")))
	}
	switch {
	case len(all) == 0:
		return nil, fault(w, "no-line", fmt.Sprintf("it holds %s and no line, so nothing says in which order a run goes through them", plural(len(f.Features), "feature", "features")),
			"a file with the run as a LineString")
	case w.Alignment != "" && len(wanted) == 0:
		return nil, fault(w, "no-such-alignment", fmt.Sprintf("no line in it is called %q; there is %s", w.Alignment, firstFew(names)), "one of these names")
	case w.Alignment != "":
		return wanted, nil
	case len(all) > 1 && !w.Together:
		return nil, fault(w, "which-alignment", fmt.Sprintf("it holds %d lines: %s", len(all), firstFew(names)), "say which one is the run, by its name, or that all of them together are")
	}
	return all, nil
}

// gridOf is the local grid in the middle of some lines. Its middle has as many decimals as its name is to have.
func gridOf(lines []geoLine, w Want) (local.Grid, error) {
	var all []local.Position
	for _, l := range lines {
		for _, p := range l.positions {
			all = append(all, local.Position{Latitude: p.Lat, Longitude: p.Lon})
		}
	}
	middle, err := local.Middle(all)
	if err != nil {
		return local.Grid{}, err
	}
	const places = 1e5 // about a metre
	middle.Latitude, middle.Longitude = math.Round(middle.Latitude*places)/places, math.Round(middle.Longitude*places)/places
	height := 0.0
	if w.Height != nil {
		height = w.Height.Metres()
	}
	return local.New(middle, height)
}

// onGrid are the lines in metres on the grid.
func onGrid(lines []geoLine, g local.Grid, w Want) ([]drawn, finding.List) {
	var out []drawn
	var faults finding.List
	for _, l := range lines {
		var v []route.Vertex
		for i, p := range l.positions {
			at, err := g.To(local.Position{Latitude: p.Lat, Longitude: p.Lon})
			if err != nil {
				return nil, fault(w, "far", err.Error(), "a job of its own for this part of the run")
			}
			if i > 0 && at.Distance(v[i-1].At) < measure.Millimetre.Metres() {
				f := fault(w, "same-place", fmt.Sprintf("position %d of %q is the same place as the one before it", i+1, l.name), "one of the two")
				f[0].Where.Line = l.at
				faults = append(faults, f...)
			}
			v = append(v, route.Vertex{At: at})
		}
		if len(faults) > 0 {
			continue
		}
		line, err := route.Polyline(v)
		if err != nil {
			f := fault(w, "line", fmt.Sprintf("%q cannot be laid out: %v", l.name, err), "another export of it")
			f[0].Where.Line = l.at
			faults = append(faults, f...)
			continue
		}
		out = append(out, drawn{name: l.name, line: line})
	}
	return out, faults
}

// finest says how fine the positions of the file are, by the decimals that they are written with.
func finest(lines []geoLine) string {
	most := 0
	for _, l := range lines {
		for _, p := range l.positions {
			for _, v := range []float64{p.Lon, p.Lat} {
				if _, decimals, ok := strings.Cut(strconv.FormatFloat(v, 'f', -1, 64), "."); ok {
					most = max(most, len(decimals))
				}
			}
		}
	}
	const degree = 111_200 // metres in a degree of latitude, near enough to say how fine a decimal is
	step := float64(degree)
	for range most {
		step /= 10
	}
	if most > 8 {
		return fmt.Sprintf("positions have up to %d decimals, which is below 1 mm", most)
	}
	return fmt.Sprintf("positions have up to %d decimals, steps of %.3f m: the run is known no better", most, step)
}
