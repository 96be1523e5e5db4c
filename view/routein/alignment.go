package routein

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/place/route"
	"trenchwright/view/geojson"
	"trenchwright/view/landxml"
)

func fromLandXML(r io.Reader, w Want) (Route, finding.List) {
	f, err := landxml.Read(r, landxml.Options{Spiral: w.Spiral, Unit: w.Unit, File: w.File})
	if err != nil {
		return Route{}, refused(f.Notes, err, w)
	}
	if w.Points != "" {
		return fromGroup(f, w)
	}
	picked, faults := pick(f, w)
	if len(faults) > 0 {
		return Route{}, append(faults, f.Notes...)
	}
	var lines []drawn
	for _, a := range picked {
		lines = append(lines, drawn{a.Name, a.Line, a.Profiles})
	}
	m, faults := together(lines, w)
	if len(faults) > 0 {
		return Route{}, append(faults, f.Notes...)
	}
	s := scaleOf(f.Unit)
	out := Route{Coordinates: coordinates(f), Route: m.route(f.Origin, s)}
	if len(picked) == 1 {
		out.Name = picked[0].Name
	}
	for _, a := range picked {
		out.Length += a.Line.Length()
	}
	what := fmt.Sprintf("%q is", out.Name)
	if len(picked) > 1 {
		what = fmt.Sprintf("%d lines together are", len(picked))
	}
	out.Heard = []string{
		fmt.Sprintf("%s %s long: %s, %s, %s", what, metres(out.Length), plural(len(m.in.Nodes), "node", "nodes"), plural(len(m.in.Legs), "leg", "legs"), curves(m.in)),
		coordinatesSaid(out.Coordinates),
	}
	for _, a := range picked {
		if a.StaStart != 0 {
			out.Heard = append(out.Heard, fmt.Sprintf("chainages of %q count from its start; the file calls that %s", a.Name, metres(a.StaStart)))
		}
	}
	if curves(m.in) != "no curve" {
		out.Heard = append(out.Heard, "radii are those of the file, on its grid; a job with a scale factor has them on the ground: divide them by it")
	}
	if m.off > 0 {
		out.Heard = append(out.Heard, fmt.Sprintf("written as corners and radii, it is off by at most %s", m.off))
	}
	out.Heard = append(out.Heard, levels(out.Route, picked))
	return out, leftOut(f.Notes)
}

func coordinates(f landxml.File) job.Coordinates {
	return job.Coordinates{Unit: scaleOf(f.Unit).unit, System: systemName(f.System), HeightDatum: f.System.Vertical}
}

// refused is why nothing of a file can be used: each reason by itself where the reader gave them.
func refused(notes finding.List, err error, w Want) finding.List {
	var out finding.List
	for _, f := range notes {
		if f.Kind == finding.Fault {
			if f.Try == "" {
				f.Try = tryFor(f)
			}
			out = append(out, f)
		}
	}
	if len(out) > 0 {
		return out
	}
	var xml *landxml.Refusal
	var geo *geojson.Refusal
	switch {
	case errors.As(err, &xml):
		return said(fault(w, "landxml", xml.Text, "an export of the alignment alone, as LandXML 1.2"), xml.Finding)
	case errors.As(err, &geo):
		return said(fault(w, "geojson", geo.Text, "an export of the run alone, as GeoJSON in WGS 84"), geo.Finding)
	}
	return fault(w, "unreadable", err.Error(), "another export of it")
}

// said takes the place of what a reader refused, and what it says to try.
func said(out finding.List, f finding.Finding) finding.List {
	out[0].Where.Line = f.Where.Line
	if f.Try != "" {
		out[0].Try = f.Try
	}
	return out
}

func tryFor(f finding.Finding) string {
	if strings.Contains(f.Text, "Spiral") {
		return "say how far arcs that stand for a spiral may leave it"
	}
	return "another export of this line"
}

// pick finds the line that is wanted, or all of them; the only one is.
func pick(f landxml.File, w Want) ([]landxml.Alignment, finding.List) {
	all := slices.Concat(f.Alignments, f.Features)
	switch {
	case w.Together && len(f.Alignments) > 0:
		return f.Alignments, nil
	case w.Together && len(all) > 0:
		return all, nil
	}
	var names []string
	for _, a := range all {
		if a.Name == w.Alignment && w.Alignment != "" || len(all) == 1 && w.Alignment == "" {
			return []landxml.Alignment{a}, nil
		}
		names = append(names, fmt.Sprintf("%q (%s)", a.Name, metres(a.Line.Length())))
	}
	switch {
	case len(all) == 0:
		return nil, fault(w, "no-alignment", fmt.Sprintf("it holds %s and no alignment, so nothing says in which order a run goes through them", plural(len(f.Points), "point", "points")),
			"an export with the alignment, or say that the run goes through the points of one group in the order of the file")
	case w.Alignment == "":
		return nil, fault(w, "which-alignment", fmt.Sprintf("it holds %d lines: %s", len(all), firstFew(names)), "say which one is the run, by its name, or that all alignments together are")
	}
	return nil, fault(w, "no-such-alignment", fmt.Sprintf("no line in it is called %q; there is %s", w.Alignment, firstFew(names)), "one of these names")
}

// leftOut is the reader's notes, where what is wrong with another line is no more than a note: it keeps nobody from using this one.
func leftOut(notes finding.List) finding.List {
	var out finding.List
	for _, f := range notes {
		if f.Kind == finding.Fault {
			f.Kind, f.Text = finding.Note, "left out: "+f.Text
		}
		out = append(out, f)
	}
	return out
}

func systemName(s landxml.System) string {
	switch {
	case s.Name != "" && s.EPSG != "" && !strings.Contains(s.Name, s.EPSG):
		return s.Name + " (EPSG " + s.EPSG + ")"
	case s.Name == "" && s.EPSG != "":
		return "EPSG " + s.EPSG
	}
	return s.Name
}

func coordinatesSaid(c job.Coordinates) string {
	system, datum := "coordinate system not named", "height datum not named"
	if c.System != "" {
		system = "coordinate system " + c.System
	}
	if c.HeightDatum != "" {
		datum = "height datum " + c.HeightDatum
	}
	return fmt.Sprintf("coordinates are written in %s; %s, %s", c.Unit, system, datum)
}

func curves(in route.Input) string {
	n := 0
	for _, l := range in.Legs {
		n += len(l.Via)
	}
	if n == 0 {
		return "no curve"
	}
	return plural(n, "curve", "curves")
}

// routeOf writes a network's input as the route of a job.
func routeOf(in route.Input, origin route.Origin, s scale) job.Route {
	var out job.Route
	meets := map[string]int{}
	for _, l := range in.Legs {
		leg := job.Leg{ID: l.ID, From: l.From, To: l.To}
		for _, v := range l.Via {
			leg.Via = append(leg.Via, job.Vertex{At: *s.point(origin.Coordinates(v.At)), Radius: measure.FromMetres(v.Radius)})
		}
		meets[l.From]++
		meets[l.To]++
		out.Legs = append(out.Legs, leg)
	}
	for _, n := range in.Nodes {
		node := job.Node{ID: n.ID, At: s.point(origin.Coordinates(n.At))}
		if meets[n.ID] == 1 {
			node.End = &job.End{Kind: "open"}
		}
		out.Nodes = append(out.Nodes, node)
	}
	return out
}

// wallTop is what a job takes levels for.
const wallTop = "a job takes them for the top of the wall: see that this is what was levelled"

// levels says that the levels of the nodes come from the first profile of each alignment.
func levels(r job.Route, picked []landxml.Alignment) string {
	more := 0
	var names []string
	for _, a := range picked {
		more += max(0, len(a.Profiles)-1)
		if len(a.Profiles) > 0 && !slices.Contains(names, strconv.Quote(a.Profiles[0].Name)) {
			names = append(names, strconv.Quote(a.Profiles[0].Name))
		}
	}
	if len(names) == 0 {
		return "no profile, so no levels"
	}
	text := fmt.Sprintf("levels of %s from the profile %s; %s", levelled(r), firstFew(names), wallTop)
	if more > 0 {
		text += fmt.Sprintf("; %s not used", plural(more, "other profile", "other profiles"))
	}
	return text
}

// levelled counts the nodes that have a level.
func levelled(r job.Route) string {
	n := 0
	for _, node := range r.Nodes {
		if node.Level != nil {
			n++
		}
	}
	return fmt.Sprintf("%d of %s", n, plural(len(r.Nodes), "node", "nodes"))
}
