package screen

import (
	"math"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/place/route"
)

// notLaid is the verdict of legs that were only declared.
const notLaid = "not laid out"

// declare puts nodes and legs into a plan that has none because something is wrong: whoever has to mend it has to see them.
// Legs are drawn from corner to corner, for nothing is known of their curves.
func declare(p *planner.Plan, j job.Job) {
	j, faults := planner.Declared(j)
	if len(p.Legs) > 0 || faults.Any(finding.Fault) {
		return
	}
	unit := j.Coordinates.Unit.Metres()
	if p.Job.Origin == [2]float64{} {
		o := planner.Origin(j)
		p.Job.Origin = [2]float64{o.E.Metres(), o.N.Metres()}
	}
	at := map[string]route.Point{}
	place := func(c [2]float64) route.Point {
		return route.Point{E: float64(c[0]*unit) - p.Job.Origin[0], N: float64(c[1]*unit) - p.Job.Origin[1]}
	}
	meeting := map[string][]string{}
	for _, l := range j.Route.Legs {
		meeting[l.From], meeting[l.To] = append(meeting[l.From], l.ID), append(meeting[l.To], l.ID)
	}
	kinds := [...]string{"alone", "end", "bend", "tee", "cross"}
	for _, n := range j.Route.Nodes {
		if n.At == nil {
			continue
		}
		at[n.ID] = place(*n.At)
		kind := kinds[min(len(meeting[n.ID]), len(kinds)-1)]
		p.Nodes = append(p.Nodes, planner.Node{ID: n.ID, Kind: kind, At: [2]float64{at[n.ID].E, at[n.ID].N}, Legs: meeting[n.ID]})
	}
	for _, l := range j.Route.Legs {
		from, ok := at[l.From]
		to, also := at[l.To]
		if !ok || !also {
			continue
		}
		out := planner.Leg{Name: l.ID, From: l.From, To: l.To, Supply: l.Supply, LaidFrom: l.From, Verdict: notLaid}
		corners := []route.Point{from}
		for _, v := range l.Via {
			corners = append(corners, place(v.At))
		}
		for _, c := range append(corners[1:], to) {
			long := measure.MM(measure.FromMetres(math.Min(from.Distance(c), 1e7)))
			out.Axis = append(out.Axis, planner.AxisPart{FromChainage: out.NodeLength, ToChainage: out.NodeLength + long, Start: [2]float64{from.E, from.N}, End: [2]float64{c.E, c.N}})
			out.NodeLength += long
			from = c
		}
		p.Legs = append(p.Legs, out)
	}
}
