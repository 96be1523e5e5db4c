package planner

import (
	"fmt"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/place/route"
)

// walked turns a route that was told as a walk into nodes N0, N1, … and legs A, B, … from bend to bend. The walk starts
// at the origin and faces grid north; its coordinates are a drawing of it, not a survey.
func walked(j job.Job) (job.Job, finding.List) {
	if len(j.Route.Walk) == 0 {
		return j, nil
	}
	w, faults := route.Walk(strings.Join(j.Route.Walk, "\n"), route.WalkStart{})
	if len(faults) > 0 {
		return j, faults
	}
	j.Coordinates.Unit = job.CoordMetres
	if j.Coordinates.System == "" {
		j.Coordinates.System = "local, from the walk: 0, 0 at its start, facing north"
	}
	if j.Coordinates.ScaleFactor == "" {
		j.Coordinates.ScaleFactor = "ground"
	}
	from := addNode(&j, w.Vertices[0])
	leg := job.Leg{ID: route.LegName(0), From: from}
	for i, v := range w.Vertices[1:] {
		if v.Radius != 0 {
			leg.Via = append(leg.Via, job.Vertex{At: [2]float64{v.At.E, v.At.N}, Radius: measure.FromMetres(v.Radius)})
			continue
		}
		leg.To = addNode(&j, v)
		j.Route.Legs = append(j.Route.Legs, leg)
		if i < len(w.Vertices)-2 {
			leg = job.Leg{ID: route.LegName(len(j.Route.Legs)), From: leg.To}
		}
	}
	j.Route.Walk = nil
	return j, nil
}

func addNode(j *job.Job, v route.Vertex) string {
	id := fmt.Sprintf("N%d", len(j.Route.Nodes))
	j.Route.Nodes = append(j.Route.Nodes, job.Node{ID: id, At: &[2]float64{v.At.E, v.At.N}})
	return id
}
