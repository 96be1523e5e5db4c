package routein

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/place/route"
	"trenchwright/view/landxml"
	"trenchwright/view/points"
)

func fromPoints(r io.Reader, w Want) (Route, finding.List) {
	columns := strings.NewReplacer(",", "", " ", "", ";", "").Replace(w.Columns)
	t, found := points.Read(r, points.Options{Columns: columns, Unit: w.Unit, File: w.File})
	if found.Any(finding.Fault) {
		return Route{}, found
	}
	out, faults := through(t.Points, t.Unit, strings.ContainsRune(t.Columns, rune(points.Level)), job.Coordinates{}, w)
	if len(faults) > 0 {
		return Route{}, faults
	}
	return out, found
}

// AllPoints is the group that every point is in.
const AllPoints = "all"

// fromGroup takes the points of a group of a LandXML file in their order.
func fromGroup(f landxml.File, w Want) (Route, finding.List) {
	var list []points.Point
	var groups []string
	levels := false
	for _, p := range f.Points {
		for _, g := range p.Groups {
			if !slices.Contains(groups, strconv.Quote(g)) {
				groups = append(groups, strconv.Quote(g))
			}
		}
		if w.Points == AllPoints || slices.Contains(p.Groups, w.Points) {
			list = append(list, points.Point{Name: p.Name, At: p.At, Level: p.Level, HasLevel: p.HasLevel, Line: p.Line})
			levels = levels || p.HasLevel
		}
	}
	if len(list) == 0 && len(f.Points) > 0 {
		return Route{}, fault(w, "no-such-group", fmt.Sprintf("no group of points in it is called %q; there is %s", w.Points, firstFew(groups)), "one of these names, or "+AllPoints)
	}
	out, faults := through(list, f.Unit, levels, coordinates(f), w)
	return out, append(faults, leftOut(f.Notes)...)
}

// through is a run through points in their order.
func through(list []points.Point, unit measure.Unit, levels bool, system job.Coordinates, w Want) (Route, finding.List) {
	if len(list) < 2 {
		return Route{}, fault(w, "few-points", fmt.Sprintf("it holds %s; a run goes through two at least", plural(len(list), "point", "points")), "the points of the run, in their order")
	}
	if faults := samePlaces(list, w); len(faults) > 0 {
		return Route{}, faults
	}
	s, all := scaleOf(unit), list
	closed := len(list) > 3 && apart(list[0], list[len(list)-1]) < measure.Millimetre
	if closed {
		list = list[:len(list)-1]
	}
	system.Unit = s.unit
	out := Route{Coordinates: system, Route: nodesOf(list, s, closed)}
	for i := 1; i < len(all); i++ {
		out.Length += apart(all[i-1], all[i])
	}
	out.Heard = []string{fmt.Sprintf("%s in the order of the file, %s from the first to the last: %s, %s", plural(len(all), "point", "points"), metres(out.Length),
		plural(len(out.Route.Nodes), "node", "nodes"), plural(len(out.Route.Legs), "leg", "legs")), coordinatesSaid(out.Coordinates)}
	if closed {
		out.Heard = append(out.Heard, "the last point is the first: the run ends where it began")
	}
	if levels {
		out.Heard = append(out.Heard, fmt.Sprintf("levels of %s from the list; %s", levelled(out.Route), wallTop))
	} else {
		out.Heard = append(out.Heard, "no levels in the list")
	}
	return out, nil
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
