package edit

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/place/route"
)

// place is where an edit puts something, in the job's coordinates: dragged, to the millimetre or the thousandth of a foot, or
// typed. false: it says nothing of a place, or what it says is wrong, and then there is a fault.
func (w *work) place(e *Edit) ([2]float64, bool) {
	if e.Place != nil {
		return w.dragged(*e.Place, e.Origin)
	}
	var at [2]float64
	if strings.TrimSpace(e.Text) == "" {
		return at, w.fault("no-place", "", "no place was given", "drag it, or type its easting and northing: 1000.0, 2000.5")
	}
	if _, err := w.typist().coordinates(&at, e.Text); err != nil {
		return at, w.misread("route.nodes", err)
	}
	return at, true
}

// dragged is a place of the plan in the job's coordinates.
func (w *work) dragged(place, origin [2]float64) (at [2]float64, ok bool) {
	unit := w.job.Coordinates.Unit.Metres()
	for i := range at {
		at[i] = math.Round((place[i]+origin[i])/unit*1000) / 1000
		if math.IsNaN(at[i]) || math.Abs(at[i]) > furthest {
			return at, w.fault("no-place", "", "this place is nowhere on earth", "a place on the plan")
		}
	}
	return at, true
}

// chainage is where on its leg an edit puts something: dragged, to the millimetre or a sixteenth of an inch, or typed.
func (w *work) chainage(e *Edit) (measure.Length, string, bool) {
	if e.AtMM != nil {
		if math.IsNaN(*e.AtMM) || math.Abs(*e.AtMM) > 1e10 {
			return 0, "", w.fault("no-place", "", "this place is on no leg", "a place on the strip")
		}
		step := choose(w.speech.Imperial, measure.Sixteenth, measure.Millimetre)
		l := measure.Length(math.Round(measure.FromMillimetres(*e.AtMM).Millimetres()/step.Millimetres())) * step
		return l, w.bothFar(l), true
	}
	l, said, err := w.typist().chainage(e.At)
	if err != nil {
		return 0, "", w.misread("", err)
	}
	return l, said, true
}

func (w *work) moveNode(e *Edit) bool {
	if !w.declared() {
		return false
	}
	n, ok := w.node(e.Node)
	if !ok {
		return false
	}
	to, ok := w.place(e)
	if !ok {
		return false
	}
	follow := w.sawnInto(e.Node)
	n.At = &to
	w.net = nil
	w.follow(follow)
	return w.say("node/"+n.ID, "node %s to %s", n.ID, w.typist().pair(to))
}

// rider is a node that is sawn into a leg, with its part of that leg's way.
type rider struct {
	node, leg string
	share     float64
}

// sawnInto are the nodes sawn into legs that end at a node: they go along when it is moved.
func (w *work) sawnInto(node string) []rider {
	var out []rider
	for _, i := range w.meeting(node) {
		l := &w.job.Route.Legs[i]
		a, b := w.at(l.From), w.at(l.To)
		for k := range w.job.Route.Nodes {
			n := &w.job.Route.Nodes[k]
			if n.Sawn == nil || n.Sawn.Into != l.ID || n.At == nil || len(l.Via) > 0 {
				continue
			}
			dx, dy := b[0]-a[0], b[1]-a[1]
			if all := float64(dx*dx) + float64(dy*dy); all > 0 {
				out = append(out, rider{n.ID, l.ID, (float64((n.At[0]-a[0])*dx) + float64((n.At[1]-a[1])*dy)) / all})
			}
		}
	}
	return out
}

// follow puts nodes that are sawn into a leg back onto it.
func (w *work) follow(all []rider) {
	for _, r := range all {
		i := slices.IndexFunc(w.job.Route.Legs, func(l job.Leg) bool { return l.ID == r.leg })
		k := slices.IndexFunc(w.job.Route.Nodes, func(n job.Node) bool { return n.ID == r.node })
		a, b := w.at(w.job.Route.Legs[i].From), w.at(w.job.Route.Legs[i].To)
		w.job.Route.Nodes[k].At = &[2]float64{a[0] + float64((b[0]-a[0])*r.share), a[1] + float64((b[1]-a[1])*r.share)}
	}
}

// at is where a node lies; nowhere is the origin.
func (w *work) at(node string) [2]float64 {
	for i := range w.job.Route.Nodes {
		if n := &w.job.Route.Nodes[i]; n.ID == node && n.At != nil {
			return *n.At
		}
	}
	return [2]float64{}
}

// spotOn finds a chainage of a leg on the line that was drawn: the point, and how many of the leg's curves lie before it.
func (w *work) spotOn(leg int, ch measure.Length) (at [2]float64, curves int, ok bool) {
	net, ok := w.network()
	if !ok {
		return at, 0, false
	}
	l := &w.job.Route.Legs[leg]
	whole := net.Legs[leg].Line.Length()
	if ch <= 0 || ch >= whole {
		return at, 0, w.fault("off-leg", "route.legs", w.speech.Say("%s %s is not within leg %s, which is %s long", wording.Chainage, wording.Far(ch), l.ID, wording.Far(whole)), "a place between its two nodes")
	}
	unit := w.job.Coordinates.Unit.Metres()
	near := w.at(l.From) // what lies near is exact enough in metres
	point := func(p [2]float64) route.Point {
		return route.Point{E: (p[0] - near[0]) * unit, N: (p[1] - near[1]) * unit}
	}
	vertices := []route.Vertex{{At: point(w.at(l.From))}}
	for _, v := range l.Via {
		vertices = append(vertices, route.Vertex{At: point(v.At), Radius: v.Radius.Metres() * net.Legs[leg].Line.Scale()})
	}
	line, err := route.Polyline(append(vertices, route.Vertex{At: point(w.at(l.To))}))
	if err != nil {
		return at, 0, w.fault("curves", "route.legs", err.Error(), "its curves have to fit first")
	}
	there := measure.FromMetres(ch.Metres() / whole.Metres() * line.Length().Metres())
	for _, e := range line.Elements() {
		switch {
		case e.End() <= there && e.Radius != 0:
			curves++
		case e.End() > there && e.Radius != 0:
			return at, 0, w.fault("in-curve", "route.legs", w.speech.Say("%s %s of leg %s lies in a curve", wording.Chainage, wording.Far(ch), l.ID), "a place on a straight part")
		}
		if e.End() > there {
			break
		}
	}
	p := line.At(there).At
	round := func(v float64) float64 { return math.Round(v*1e4) / 1e4 }
	return [2]float64{round(near[0] + p.E/unit), round(near[1] + p.N/unit)}, curves, true
}

// insertBend parts a leg in two that meet at a new node. The first keeps the leg's id.
func (w *work) insertBend(e *Edit) bool {
	if !w.declared() {
		return false
	}
	i, ok := w.leg(e.Leg)
	if !ok {
		return false
	}
	if !w.lying(i, "a bend there would part it") {
		return false
	}
	ch, said, ok := w.chainage(e)
	if !ok {
		return false
	}
	for _, n := range w.job.Route.Nodes {
		if n.Sawn != nil && n.Sawn.Into == e.Leg {
			return w.fault("sawn", "route.legs", fmt.Sprintf("the branch at %s is sawn into leg %s, and could not tell into which of the two", n.ID, e.Leg), "take the branch out first")
		}
	}
	at, curves, ok := w.spotOn(i, ch)
	if !ok {
		return false
	}
	if e.Place != nil || strings.TrimSpace(e.Text) != "" {
		if at, ok = w.place(e); !ok {
			return false
		}
	}
	node, leg := orElse(e.ID, w.freshNode()), w.freshLeg()
	old := w.job.Route.Legs[i]
	back := old.LayFrom == old.To && old.LayFrom != ""
	w.job.Route.Nodes = append(w.job.Route.Nodes, job.Node{ID: node, At: &at})
	next := job.Leg{ID: leg, From: node, To: old.To, Via: slices.Clone(old.Via[curves:]), Supply: old.Supply, Hold: old.Hold}
	first := old
	first.To, first.Via = node, slices.Clone(old.Via[:curves])
	if back {
		first.LayFrom, first.First = node, nil
		next.LayFrom, next.First = old.To, old.First
	}
	w.job.Route.Legs[i] = first
	w.job.Route.Legs = slices.Insert(w.job.Route.Legs, i+1, next)
	for k := range w.job.Route.Nodes {
		if n := &w.job.Route.Nodes[k]; n.ID == old.To {
			for t := range n.Through {
				if n.Through[t] == old.ID {
					n.Through[t] = leg
				}
			}
		}
	}
	w.part(i, ch, node)
	w.keys = append(w.keys, "leg/"+leg, "leg/"+old.ID)
	return w.say("node/"+node, "bend %s put into leg %s at %s; what lies behind it is leg %s now", node, old.ID, said, leg)
}

// removeBend makes one leg of the two that meet at a node. The one that runs to the node keeps its id.
func (w *work) removeBend(e *Edit) bool {
	if !w.declared() {
		return false
	}
	i, k, ok := w.through(e.Node)
	if !ok {
		return false
	}
	if !w.lying(i, "it would be joined with another leg") || !w.lying(k, "it would be joined with another leg") {
		return false
	}
	a, b := &w.job.Route.Legs[i], &w.job.Route.Legs[k]
	net, ok := w.network()
	if !ok {
		return false
	}
	gone := *b
	lengthB := net.Legs[k].Line.Length()
	layBack := gone.LayFrom == gone.To && gone.LayFrom != ""
	a.To, a.Via = gone.To, append(a.Via, gone.Via...)
	if a.LayFrom == e.Node {
		a.LayFrom, a.First = choose(layBack, gone.To, ""), gone.First
	}
	a.Hold = a.Hold || gone.Hold
	id := a.ID
	for n := range w.job.Route.Nodes {
		for t, through := range w.job.Route.Nodes[n].Through {
			if through == gone.ID {
				w.job.Route.Nodes[n].Through[t] = id
			}
		}
	}
	kept := w.job.Route.Legs[i]
	w.job.Route.Legs = slices.Delete(w.job.Route.Legs, k, k+1)
	w.job.Route.Nodes = slices.DeleteFunc(w.job.Route.Nodes, func(n job.Node) bool { return n.ID == e.Node })
	w.net = nil
	if net, ok = w.network(); !ok {
		return false
	}
	at := slices.IndexFunc(w.job.Route.Legs, func(l job.Leg) bool { return l.ID == kept.ID })
	w.joinLegs(&w.job.Route.Legs[at], &gone, lengthB, net.Legs[at].Line.Length(), e.Node)
	w.withdraw("node", e.Node)
	w.withdraw("leg", gone.ID)
	return w.say("leg/"+kept.ID, "bend %s taken out; legs %s and %s are one, %s", e.Node, kept.ID, gone.ID, kept.ID)
}

// through are the two legs that run through a bend, the one that runs to it first, if they can be one.
func (w *work) through(node string) (i, k int, ok bool) {
	if _, ok := w.node(node); !ok {
		return 0, 0, false
	}
	legs := w.meeting(node)
	if len(legs) != 2 {
		return 0, 0, w.fault("no-bend", "route.nodes", fmt.Sprintf("%d legs meet at %s; at a bend there are two", len(legs), node), "take legs out until two are left")
	}
	i, k = legs[0], legs[1]
	if w.job.Route.Legs[i].To != node {
		i, k = k, i
	}
	a, b := &w.job.Route.Legs[i], &w.job.Route.Legs[k]
	switch {
	case a.To != node || b.From != node:
		return 0, 0, w.fault("against", "route.legs", fmt.Sprintf("legs %s and %s do not run the same way through %s", a.ID, b.ID, node), "a bend where one leg runs to the node and the other from it")
	case a.From == b.To:
		return 0, 0, w.fault("loop", "route.legs", fmt.Sprintf("without %s the run would come back to %s by one leg", node, a.From), "keep this bend")
	case w.supplyOf(a) != w.supplyOf(b):
		return 0, 0, w.fault("two-supplies", "route.legs", fmt.Sprintf("legs %s and %s have different supplies, %s and %s", a.ID, b.ID, w.supplyOf(a), w.supplyOf(b)), "one supply for both first")
	}
	for _, n := range w.job.Route.Nodes {
		if n.Sawn != nil && n.Sawn.Into == b.ID {
			return 0, 0, w.fault("sawn", "route.legs", fmt.Sprintf("the branch at %s is sawn into leg %s", n.ID, b.ID), "take the branch out first")
		}
	}
	return i, k, true
}

func (w *work) supplyOf(l *job.Leg) string {
	if l.Supply == "" && len(w.job.Supplies) > 0 {
		return w.job.Supplies[0].ID
	}
	return l.Supply
}
