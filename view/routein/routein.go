// Package routein makes the route of a job from what somebody else drew or measured: an alignment in LandXML, or a list of
// points. It says what it understood, and refuses to guess which line was drawn.
package routein

import (
	"fmt"
	"io"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/place/route"
	"trenchwright/view/landxml"
	"trenchwright/view/points"
)

// Want is what the person who imports has to say.
type Want struct {
	File      string         // its name, for findings
	Line      job.DrawnLine  // which line was drawn; its Kind is required
	Alignment string         // LandXML: which one; needed where there are several
	Columns   string         // points: the order of the columns, for example PENZ; empty: from the heading
	Unit      measure.Unit   // of a file that states none
	Spiral    measure.Length // how far arcs that stand for a spiral may leave it; 0: a spiral is refused
}

// Route is what came in: the part of a job that says where the run goes, and what was understood.
type Route struct {
	Coordinates job.Coordinates
	Route       job.Route
	Heard       []string
	Length      measure.Length // of all legs, as the coordinates have it
}

// Lines that can be drawn, for the sentence that asks.
const lines = "centreline, inner-face, outer-face, trench-edge or offset"

// Read reads a file: LandXML by its first byte, anything else as a list of points.
func Read(r io.Reader, w Want) (Route, finding.List) {
	if w.Line.Kind == "" {
		return Route{}, finding.List{{ID: "routein.which-line", Kind: finding.Fault, Where: finding.Where{File: w.File},
			Text: "which line was drawn? An outer face taken for the centreline costs the unit's width at every square bend",
			Try:  "say it: " + lines}}
	}
	first := make([]byte, 4)
	n, _ := io.ReadFull(r, first)
	all := io.MultiReader(strings.NewReader(string(first[:n])), r)
	if text := strings.TrimLeft(string(first[:n]), "\ufeff \t\r\n\xef\xbb\xbf"); strings.HasPrefix(text, "<") {
		return fromLandXML(all, w)
	}
	return fromPoints(all, w)
}

func fault(w Want, id, text, try string) finding.List {
	return finding.List{{ID: id, Kind: finding.Fault, Where: finding.Where{File: w.File}, Text: text, Try: try}}
}

func fromLandXML(r io.Reader, w Want) (Route, finding.List) {
	f, err := landxml.Read(r, landxml.Options{Spiral: w.Spiral, Unit: w.Unit, File: w.File})
	if err != nil {
		return Route{}, fault(w, "routein.landxml", err.Error(), "an export of the alignment alone, as LandXML 1.2")
	}
	a, faults := pick(f, w)
	if len(faults) > 0 {
		return Route{}, append(faults, f.Notes...)
	}
	in, off, err := route.Declare(a.Line, "N", route.Smooth)
	if err != nil {
		return Route{}, append(fault(w, "routein.line", fmt.Sprintf("alignment %q: %v", a.Name, err), ""), f.Notes...)
	}
	out := Route{Coordinates: coordinates(w, f.Unit), Length: a.Line.Length()}
	out.Coordinates.System = systemName(f.System)
	out.Coordinates.HeightDatum = f.System.Vertical
	unit := metresPer(f.Unit)
	out.Route = routeOf(in, f.Origin, unit)
	if len(a.Profiles) > 0 {
		levels(&out.Route, a, in, unit)
	}
	out.Heard = []string{
		fmt.Sprintf("LandXML %s, lengths in %s", f.Version, f.Unit),
		fmt.Sprintf("alignment %q: %s, %d nodes, %d legs", a.Name, measure.Format{Survey: true, Places: 3}.Length(a.Line.Length()), len(in.Nodes), len(in.Legs)),
	}
	if off > 0 {
		out.Heard = append(out.Heard, fmt.Sprintf("the legs lie within %s mm of the alignment", off.MMString()))
	}
	return out, f.Notes
}

// pick finds the alignment that is wanted; the only one is.
func pick(f landxml.File, w Want) (landxml.Alignment, finding.List) {
	all := append(append([]landxml.Alignment{}, f.Alignments...), f.Features...)
	var names []string
	for _, a := range all {
		if a.Name == w.Alignment && w.Alignment != "" || len(all) == 1 && w.Alignment == "" {
			return a, nil
		}
		names = append(names, fmt.Sprintf("%q", a.Name))
	}
	switch {
	case len(all) == 0:
		return landxml.Alignment{}, fault(w, "routein.no-alignment", "there is no alignment in it that can be a run", "an export that holds the alignment")
	case w.Alignment == "":
		return landxml.Alignment{}, fault(w, "routein.which-alignment", fmt.Sprintf("it holds %d lines: %s", len(all), strings.Join(names, ", ")), "say which one: --alignment NAME")
	}
	return landxml.Alignment{}, fault(w, "routein.no-such-alignment", fmt.Sprintf("no line is called %q; there are %s", w.Alignment, strings.Join(names, ", ")), "one of these names")
}

func systemName(s landxml.System) string {
	name := s.Name
	if name == "" && s.EPSG != "" {
		name = "EPSG " + s.EPSG
	}
	return name
}

func fromPoints(r io.Reader, w Want) (Route, finding.List) {
	t, faults := points.Read(r, points.Options{Columns: w.Columns, Unit: w.Unit, File: w.File})
	if faults.Any(finding.Fault) {
		return Route{}, faults
	}
	if len(t.Points) < 2 {
		return Route{}, fault(w, "routein.few-points", fmt.Sprintf("it holds %d points; a run has two at least", len(t.Points)), "")
	}
	unit := metresPer(t.Unit)
	out := Route{Coordinates: coordinates(w, t.Unit), Heard: []string{t.Understood}}
	origin := route.OriginNear(t.Points[0].At)
	for i, p := range t.Points {
		id := fmt.Sprintf("N%d", i+1)
		n := job.Node{ID: id, At: written(p.At, unit), Note: p.Name}
		if p.HasLevel {
			z := p.Level.Metres() / unit
			n.Level = &z
		}
		if i == 0 || i == len(t.Points)-1 {
			n.End = &job.End{Kind: "open"}
		}
		out.Route.Nodes = append(out.Route.Nodes, n)
		if i > 0 {
			out.Route.Legs = append(out.Route.Legs, job.Leg{ID: letters(i - 1), From: fmt.Sprintf("N%d", i), To: id})
			out.Length += measure.FromMetres(origin.Point(p.At).Distance(origin.Point(t.Points[i-1].At)))
		}
	}
	out.Heard = append(out.Heard, fmt.Sprintf("%d points in the order of the file, %s", len(t.Points), measure.Format{Survey: true, Places: 3}.Length(out.Length)))
	return out, faults
}

// routeOf writes a network's input as the route of a job, in the file's own unit.
func routeOf(in route.Input, origin route.Origin, unit float64) job.Route {
	var out job.Route
	meets := map[string]int{}
	for _, l := range in.Legs {
		leg := job.Leg{ID: l.ID, From: l.From, To: l.To}
		for _, v := range l.Via {
			leg.Via = append(leg.Via, job.Vertex{At: *written(origin.Coordinates(v.At), unit), Radius: measure.FromMetres(v.Radius)})
		}
		meets[l.From]++
		meets[l.To]++
		out.Legs = append(out.Legs, leg)
	}
	for _, n := range in.Nodes {
		node := job.Node{ID: n.ID, At: written(origin.Coordinates(n.At), unit)}
		if meets[n.ID] == 1 {
			node.End = &job.End{Kind: "open"}
		}
		out.Nodes = append(out.Nodes, node)
	}
	return out
}

// levels takes the levels of the nodes from the alignment's first profile.
func levels(r *job.Route, a landxml.Alignment, in route.Input, unit float64) {
	at := measure.Length(0)
	set := func(id string, ch measure.Length) {
		for i := range r.Nodes {
			if z, ok := a.Profiles[0].Level(ch); ok && r.Nodes[i].ID == id && r.Nodes[i].Level == nil {
				m := z.Metres() / unit
				r.Nodes[i].Level = &m
			}
		}
	}
	parts := a.Line.Split(route.Smooth)
	for i, l := range in.Legs {
		set(l.From, at)
		if i < len(parts) {
			at += parts[i].Length()
		}
		set(l.To, at)
	}
}

func coordinates(w Want, u measure.Unit) job.Coordinates {
	c := job.Coordinates{Unit: job.CoordMetres, Line: w.Line}
	switch u {
	case measure.UnitFoot:
		c.Unit = job.CoordFeet
	case measure.UnitSurveyFoot:
		c.Unit = job.CoordUSSurvey
	}
	return c
}

// metresPer is the size of the unit that a job's coordinates are written in; a file in any other unit is written in metres.
func metresPer(u measure.Unit) float64 {
	switch u {
	case measure.UnitFoot:
		return 0.3048
	case measure.UnitSurveyFoot:
		return 1200.0 / 3937
	}
	return 1
}

func written(c route.Coordinates, unit float64) *[2]float64 {
	return &[2]float64{c.E.Metres() / unit, c.N.Metres() / unit}
}

// letters is A to Z, then AA, AB, …
func letters(n int) string {
	if n >= 26 {
		return letters(n/26-1) + letters(n%26)
	}
	return string(rune('A' + n))
}
