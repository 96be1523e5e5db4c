package routein

import (
	"fmt"
	"io"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/place/route"
	"trenchwright/view/points"
)

func fromPoints(r io.Reader, w Want) (Route, finding.List) {
	columns := strings.NewReplacer(",", "", " ", "", ";", "").Replace(w.Columns)
	t, found := points.Read(r, points.Options{Columns: columns, Unit: w.Unit, File: w.File})
	if found.Any(finding.Fault) {
		return Route{}, found
	}
	if len(t.Points) < 2 {
		return Route{}, fault(w, "few-points", fmt.Sprintf("it holds %s; a run goes through two at least", plural(len(t.Points), "point", "points")), "the points of the run, in their order")
	}
	if faults := samePlaces(t.Points, w); len(faults) > 0 {
		return Route{}, faults
	}
	s := scaleOf(t.Unit)
	list := t.Points
	closed := len(list) > 3 && apart(list[0], list[len(list)-1]) < measure.Millimetre
	if closed {
		list = list[:len(list)-1]
	}
	out := Route{Coordinates: job.Coordinates{Unit: s.unit}, Route: nodesOf(list, s, closed)}
	for i := 1; i < len(t.Points); i++ {
		out.Length += apart(t.Points[i-1], t.Points[i])
	}
	out.Heard = []string{fmt.Sprintf("%s in the order of the file, %s from the first to the last: %s, %s", plural(len(t.Points), "point", "points"), metres(out.Length),
		plural(len(out.Route.Nodes), "node", "nodes"), plural(len(out.Route.Legs), "leg", "legs")), coordinatesSaid(out.Coordinates)}
	if closed {
		out.Heard = append(out.Heard, "the last point is the first: the run ends where it began")
	}
	if strings.ContainsRune(t.Columns, rune(points.Level)) {
		out.Heard = append(out.Heard, fmt.Sprintf("levels of %s from the list; %s", levelled(out.Route), wallTop))
	} else {
		out.Heard = append(out.Heard, "no levels in the list")
	}
	return out, found
}

// samePlaces finds points that follow each other within a millimetre.
func samePlaces(list []points.Point, w Want) finding.List {
	var out finding.List
	for i := 1; i < len(list); i++ {
		if a, b := list[i-1], list[i]; apart(a, b) < measure.Millimetre {
			out = append(out, finding.Finding{ID: "routein.same-place", Kind: finding.Fault, Where: finding.Where{File: w.File, Line: b.Line},
				Text: fmt.Sprintf("%s is the same place as %s before it", named(b), named(a)), Try: "one of the two"})
		}
	}
	return out
}

func named(p points.Point) string {
	if p.Name == "" {
		return fmt.Sprintf("the point of line %d", p.Line)
	}
	return fmt.Sprintf("point %q of line %d", p.Name, p.Line)
}

// apart is the distance in plan, as the coordinates have it.
func apart(a, b points.Point) measure.Length {
	origin := route.OriginNear(a.At)
	return measure.FromMetres(origin.Point(a.At).Distance(origin.Point(b.At)))
}

// nodesOf makes a node of every point and a leg from each to the next.
func nodesOf(list []points.Point, s scale, closed bool) job.Route {
	var out job.Route
	for i, p := range list {
		n := job.Node{ID: fmt.Sprintf("N%d", i+1), At: s.point(p.At), Note: p.Name}
		if p.HasLevel {
			n.Level = s.level(p.Level)
		}
		if !closed && (i == 0 || i == len(list)-1) {
			n.End = &job.End{Kind: "open"}
		}
		out.Nodes = append(out.Nodes, n)
		if i > 0 {
			out.Legs = append(out.Legs, job.Leg{ID: route.LegName(i - 1), From: out.Nodes[i-1].ID, To: n.ID})
		}
	}
	if closed {
		last := len(list) - 1
		out.Legs = append(out.Legs, job.Leg{ID: route.LegName(last), From: out.Nodes[last].ID, To: out.Nodes[0].ID})
	}
	return out
}
