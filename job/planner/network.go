package planner

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/place/route"
)

// site is the job's route with its geometry: the network, and the way from its points to coordinates of record.
type site struct {
	route.Network
	origin route.Origin
	unit   float64 // metres per coordinate unit
}

// lay turns the declared route into a network.
func lay(j job.Job, sup []supply) (site, finding.List) {
	g := site{unit: j.Coordinates.Unit.Metres()}
	g.origin = route.OriginNear(g.record(firstPoint(j)))
	if o := j.Coordinates.Origin; o != [2]float64{} {
		g.origin = route.Origin(g.record(o))
	}
	in, faults := g.input(j, sup)
	net, more := route.Build(in)
	g.Network = net
	return g, append(faults, more...)
}

func firstPoint(j job.Job) [2]float64 {
	for _, n := range j.Route.Nodes {
		if n.At != nil {
			return *n.At
		}
	}
	return [2]float64{}
}

// record rounds a pair of coordinates in the job's unit to the nanometre.
func (g site) record(at [2]float64) route.Coordinates {
	return route.Coordinates{E: measure.FromMetres(at[0] * g.unit), N: measure.FromMetres(at[1] * g.unit)}
}

func (g site) point(at [2]float64) route.Point { return g.origin.Point(g.record(at)) }

// input translates what people declared. A walk becomes nodes and legs first.
func (g site) input(j job.Job, sup []supply) (route.Input, finding.List) {
	var faults finding.List
	in := route.Input{Speech: j.Speech()}
	if len(sup) > 0 {
		in.Width = sup[0].width
	}
	factor, stated, err := scaleFactor(j.Coordinates.ScaleFactor)
	if err != nil {
		faults = append(faults, finding.Finding{
			ID: "job.scale-factor", Kind: finding.Fault, Text: err.Error(),
			Where: finding.Where{Path: "coordinates.scale_factor"},
			Try:   "the combined factor grid/ground, for example 0.99963, or ground",
		})
	}
	in.Scale = route.Scale{Factor: factor, Stated: stated}
	in.Drawn, err = drawn(j.Coordinates.Line, sup)
	if err != nil {
		faults = append(faults, finding.Finding{
			ID: "job.drawn-line", Kind: finding.Fault, Text: err.Error(),
			Where: finding.Where{Path: "coordinates.line"}, Try: "the line that was drawn, and the width or distance that goes with it",
		})
	}
	for _, n := range j.Route.Nodes {
		v := route.NodeInput{ID: n.ID}
		if n.At != nil {
			v.At = g.point(*n.At)
		}
		if n.Sawn != nil {
			v.OnLeg = n.Sawn.Into
		}
		in.Nodes = append(in.Nodes, v)
	}
	grid := factor
	if !stated {
		grid = 1
	}
	for _, l := range j.Route.Legs {
		leg := route.LegInput{ID: l.ID, From: l.From, To: l.To}
		for _, v := range l.Via {
			// a radius is a ground length, a vertex grid: the arc is drawn on the grid
			leg.Via = append(leg.Via, route.Vertex{At: g.point(v.At), Radius: v.Radius.Metres() * grid})
		}
		in.Legs = append(in.Legs, leg)
	}
	return in, faults
}

// scaleFactor reads the combined scale factor: a number, or "ground" for 1.
func scaleFactor(text string) (factor float64, stated bool, err error) {
	switch s := strings.TrimSpace(strings.ToLower(text)); s {
	case "":
		return 1, false, nil
	case "ground":
		return 1, true, nil
	default:
		f, err := strconv.ParseFloat(s, 64)
		if err != nil || f < 0.9 || f > 1.1 {
			return 1, false, fmt.Errorf("the combined scale factor %q is not a number near 1", text)
		}
		return f, true, nil
	}
}

// drawn says which line the coordinates describe, with its distance from the centreline. It is told by the first supply.
func drawn(l job.DrawnLine, sup []supply) (route.Drawn, error) {
	d := route.Drawn{Right: l.Side == "right", Of: l.From}
	var outer, inner measure.Length
	var speech wording.Speech
	if len(sup) > 0 {
		outer, inner, speech = sup[0].width, sup[0].Unit.Inner.Value.Width, sup[0].speech
	}
	need := func(w measure.Length, what string) error {
		if w <= 0 {
			return fmt.Errorf("the %s was drawn, but the first supply has no %s width on file", l.Kind, what)
		}
		d.Apart = w / 2
		return nil
	}
	switch l.Kind {
	case "", "centreline":
		return route.Drawn{}, nil
	case "outer-face":
		d.As = route.OuterFace
		return d, need(outer, "outer")
	case "inner-face":
		d.As = route.InnerFace
		return d, need(inner, "inner")
	case "trench-edge":
		d.As, d.Apart = route.TrenchEdge, l.Offset
	case "offset":
		d.As, d.Apart = route.BesideOf, l.Offset
	default:
		return d, fmt.Errorf("%q is no line that can be drawn: centreline, inner-face, outer-face, trench-edge or offset", l.Kind)
	}
	if d.Apart <= 0 {
		return d, errors.New(speech.Say("the %s was drawn, but its distance to the %s is missing", l.Kind, wording.Centreline))
	}
	return d, nil
}
