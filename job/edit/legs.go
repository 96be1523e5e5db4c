package edit

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"trenchwright/job"
)

// extend lets the run go on from a node by a new leg. How the run ended there is how it ends at the new node.
func (w *work) extend(e *Edit) bool {
	if !w.declared() {
		return false
	}
	n, ok := w.node(e.Node)
	if !ok {
		return false
	}
	at, ok := w.place(e)
	if !ok {
		return false
	}
	next := job.Node{ID: orElse(e.ID, w.freshNode()), At: &at, End: n.End}
	leg := job.Leg{ID: w.freshLeg(), From: n.ID, To: next.ID}
	if legs := w.meeting(n.ID); len(legs) > 0 {
		leg.Supply = w.job.Route.Legs[legs[0]].Supply
	}
	n.End = nil
	if next.End == nil {
		next.End = &job.End{Kind: "open"}
	}
	w.job.Route.Nodes, w.job.Route.Legs = append(w.job.Route.Nodes, next), append(w.job.Route.Legs, leg)
	w.keys = append(w.keys, "leg/"+leg.ID)
	return w.say("node/"+next.ID, "leg %s from %s to %s at %s", leg.ID, leg.From, next.ID, w.typist().pair(at))
}

// draw lays legs from place to place. A place that is a node already is that node; what ended there goes on.
func (w *work) draw(e *Edit) bool {
	if !w.declared() {
		return false
	}
	places, ok := w.places(e)
	if !ok {
		return false
	}
	if len(places) < 2 {
		return w.fault("no-place", "route.nodes", "a line needs two places", "two places or more: 1000.0, 2000.5; 1024.3, 2000.5")
	}
	var ids []string
	for i, at := range places {
		id := w.nodeAt(at)
		if id == "" {
			n := job.Node{ID: w.freshNode(), At: &at}
			if i == 0 || i == len(places)-1 {
				n.End = &job.End{Kind: "open"}
			}
			w.job.Route.Nodes = append(w.job.Route.Nodes, n)
			id = n.ID
		}
		ids = append(ids, id)
	}
	for i := 1; i < len(ids); i++ {
		if ids[i] == ids[i-1] {
			return w.fault("twice", "route.nodes", fmt.Sprintf("two places of the line, one after the other, are node %s", ids[i]), "places that are a millimetre apart or more")
		}
		leg := job.Leg{ID: w.freshLeg(), From: ids[i-1], To: ids[i]}
		w.job.Route.Legs = append(w.job.Route.Legs, leg)
		w.keys = append(w.keys, "leg/"+leg.ID)
	}
	for _, id := range ids {
		if n, ok := w.node(id); ok && len(w.meeting(id)) > 1 {
			n.End = nil
		}
		w.keys = append(w.keys, "node/"+id)
	}
	return w.say("", "%d legs drawn from node %s to node %s", len(ids)-1, ids[0], ids[len(ids)-1])
}

// places are those of a line, drawn or typed.
func (w *work) places(e *Edit) ([][2]float64, bool) {
	var out [][2]float64
	for _, p := range e.Places {
		at, ok := w.dragged(p, e.Origin)
		if !ok {
			return nil, false
		}
		out = append(out, at)
	}
	if len(out) > 0 {
		return out, true
	}
	for part := range strings.FieldsFuncSeq(e.Text, func(r rune) bool { return r == ';' || r == '\n' }) {
		var at [2]float64
		if _, err := w.typist().coordinates(&at, part); err != nil {
			return nil, w.misread("route.nodes", err)
		}
		out = append(out, at)
	}
	return out, true
}

// nodeAt is the node within a millimetre of a place; empty: there is none.
func (w *work) nodeAt(at [2]float64) string {
	within := 0.001 / w.job.Coordinates.Unit.Metres()
	for _, n := range w.job.Route.Nodes {
		if n.At != nil && apart(*n.At, at) <= within {
			return n.ID
		}
	}
	return ""
}

// branch saws a new leg into the wall of another. How wide the opening is and how far joints keep from it is the drawing's to
// say, not ours: fields opening and clear.
func (w *work) branch(e *Edit) bool {
	if !w.declared() {
		return false
	}
	i, ok := w.leg(e.Leg)
	if !ok {
		return false
	}
	ch, said, ok := w.chainage(e)
	if !ok {
		return false
	}
	from, _, ok := w.spotOn(i, ch)
	if !ok {
		return false
	}
	to, ok := w.place(e)
	if !ok {
		return false
	}
	sawn := job.SawnTee{Into: e.Leg}
	if !w.fill(reflect.ValueOf(&sawn).Elem(), "route.nodes.sawn", e) {
		return false
	}
	if sawn.Opening == 0 {
		return w.fault("no-opening", "route.nodes.sawn.opening", "the width of the opening in the wall is missing", "opening and clear, as the drawing of the branch has them")
	}
	root := job.Node{ID: w.freshNode(), At: &from, Sawn: &sawn}
	w.job.Route.Nodes = append(w.job.Route.Nodes, root)
	end := job.Node{ID: orElse(e.ID, w.freshNode()), At: &to, End: &job.End{Kind: "open"}}
	leg := job.Leg{ID: w.freshLeg(), From: root.ID, To: end.ID, Supply: w.job.Route.Legs[i].Supply}
	w.job.Route.Nodes, w.job.Route.Legs = append(w.job.Route.Nodes, end), append(w.job.Route.Legs, leg)
	w.keys = append(w.keys, "leg/"+leg.ID, "node/"+root.ID)
	return w.say("node/"+end.ID, "leg %s branches off leg %s at %s and ends at %s", leg.ID, e.Leg, said, w.typist().pair(to))
}

// removeLeg takes out a leg, what lies along it, and nodes where nothing is left.
func (w *work) removeLeg(e *Edit) bool {
	if !w.declared() {
		return false
	}
	i, ok := w.leg(e.Leg)
	if !ok {
		return false
	}
	if !w.lying(i, "what lies is no design any more that could be taken out") {
		return false
	}
	if len(w.job.Route.Legs) == 1 {
		return w.fault("last-leg", "route.legs", fmt.Sprintf("%s is the only leg of the run", e.Leg), "draw another one first")
	}
	for _, n := range w.job.Route.Nodes {
		if n.Sawn != nil && n.Sawn.Into == e.Leg {
			return w.fault("sawn", "route.legs", fmt.Sprintf("the branch at %s is sawn into leg %s", n.ID, e.Leg), "take the branch out first")
		}
	}
	l := w.job.Route.Legs[i]
	w.job.Route.Legs = slices.Delete(w.job.Route.Legs, i, i+1)
	everyID(reflect.ValueOf(&l).Elem(), func(id string) { w.withdraw("thing of leg "+l.ID, id) })
	w.elsewhere(func(list reflect.Value) {
		kept := reflect.MakeSlice(list.Type(), 0, list.Len())
		for k := range list.Len() {
			one := list.Index(k)
			if one.FieldByName("Leg").String() != l.ID {
				kept = reflect.Append(kept, one)
				continue
			}
			if _, ok := named(one.Type(), "id"); ok {
				w.withdraw("thing of leg "+l.ID, idOf(one))
			}
		}
		list.Set(kept)
	})
	gone := ""
	for _, id := range []string{l.From, l.To} {
		n, ok := w.node(id)
		if !ok {
			return false
		}
		switch left := w.meeting(id); len(left) {
		case 0:
			w.job.Route.Nodes = slices.DeleteFunc(w.job.Route.Nodes, func(n job.Node) bool { return n.ID == id })
			w.withdraw("node", id)
			gone = join(" and ", gone, id)
		case 1:
			n.Fitting, n.Through = "", nil
			if n.End == nil && n.Sawn == nil {
				n.End = &job.End{Kind: "open"}
			}
		case 2:
			n.Fitting, n.Through = "", nil
		}
	}
	w.withdraw("leg", l.ID)
	if gone != "" {
		gone = ", and nodes " + gone
	}
	return w.say("leg/"+l.ID, "leg %s taken out%s", l.ID, gone)
}
