package routein

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/place/route"
	"trenchwright/view/landxml"
)

func fromLandXML(r io.Reader, w Want) (Route, finding.List) {
	f, err := landxml.Read(r, landxml.Options{Spiral: w.Spiral, Unit: w.Unit, File: w.File})
	if err != nil {
		return Route{}, refused(f.Notes, err, w)
	}
	a, faults := pick(f, w)
	if len(faults) > 0 {
		return Route{}, append(faults, f.Notes...)
	}
	in, off, err := route.Declare(a.Line, "N", route.Smooth)
	if err != nil {
		return Route{}, append(fault(w, "line", fmt.Sprintf("%q cannot be laid out: %v", a.Name, err), "another export of it"), f.Notes...)
	}
	s := scaleOf(f.Unit)
	out := Route{Name: a.Name, Length: a.Line.Length(), Coordinates: job.Coordinates{Unit: s.unit, System: systemName(f.System), HeightDatum: f.System.Vertical}}
	out.Route = routeOf(in, f.Origin, s)
	out.Heard = []string{
		fmt.Sprintf("%q is %s long: %s, %s, %s", a.Name, metres(a.Line.Length()), plural(len(in.Nodes), "node", "nodes"), plural(len(in.Legs), "leg", "legs"), curves(in)),
		coordinatesSaid(out.Coordinates),
	}
	if a.StaStart != 0 {
		out.Heard = append(out.Heard, fmt.Sprintf("chainages count from its start; the file calls that %s", metres(a.StaStart)))
	}
	if off > 0 {
		out.Heard = append(out.Heard, fmt.Sprintf("written as corners and radii, it is off by at most %s", off))
	}
	out.Heard = append(out.Heard, levels(&out.Route, a, in, s))
	return out, leftOut(f.Notes)
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
	out = fault(w, "landxml", err.Error(), "an export of the alignment alone, as LandXML 1.2")
	if r, ok := err.(*landxml.Refusal); ok {
		out[0].Text, out[0].Where.Line = r.Text, r.Where.Line
		if r.Try != "" {
			out[0].Try = r.Try
		}
	}
	return out
}

func tryFor(f finding.Finding) string {
	if strings.Contains(f.Text, "Spiral") {
		return "say how far arcs that stand for a spiral may leave it"
	}
	return "another export of this line"
}

// pick finds the line that is wanted; the only one is.
func pick(f landxml.File, w Want) (landxml.Alignment, finding.List) {
	all := slices.Concat(f.Alignments, f.Features)
	var names []string
	for _, a := range all {
		if a.Name == w.Alignment && w.Alignment != "" || len(all) == 1 && w.Alignment == "" {
			return a, nil
		}
		names = append(names, fmt.Sprintf("%q (%s)", a.Name, metres(a.Line.Length())))
	}
	switch {
	case len(all) == 0:
		return landxml.Alignment{}, fault(w, "no-alignment", fmt.Sprintf("it holds %s and no alignment, so nothing says in which order a run goes through them", plural(len(f.Points), "point", "points")),
			"an export with the alignment, or the points of the run as a list, in their order")
	case w.Alignment == "":
		return landxml.Alignment{}, fault(w, "which-alignment", fmt.Sprintf("it holds %d lines: %s", len(all), firstFew(names)), "say which one is the run, by its name")
	}
	return landxml.Alignment{}, fault(w, "no-such-alignment", fmt.Sprintf("no line in it is called %q; there is %s", w.Alignment, firstFew(names)), "one of these names")
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

// levels takes the levels of the nodes from the alignment's first profile, and says so.
func levels(r *job.Route, a landxml.Alignment, in route.Input, s scale) string {
	if len(a.Profiles) == 0 {
		return "no profile, so no levels"
	}
	set := func(id string, ch measure.Length) {
		for i := range r.Nodes {
			if z, ok := a.Profiles[0].Level(ch); ok && r.Nodes[i].ID == id && r.Nodes[i].Level == nil {
				r.Nodes[i].Level = s.level(z)
			}
		}
	}
	at := measure.Length(0)
	for i, part := range a.Line.Split(route.Smooth) {
		set(in.Legs[i].From, at)
		at += part.Length()
		set(in.Legs[i].To, at)
	}
	text := fmt.Sprintf("levels of %s from the profile %q; %s", levelled(*r), a.Profiles[0].Name, wallTop)
	if more := len(a.Profiles) - 1; more > 0 {
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
