// Package interchange is a plan for other people's programs: LandXML 1.2 in the job's own coordinates, and GeoJSON in
// WGS 84 where the job's coordinates lead there. What nobody entered stands in both as NOT CHECKED.
//
//	interchange.go  which run a plan is of
//	system.go       the job's unit, coordinate system and what is not on file of them; the way to WGS 84, or why there is none
//	landxml.go      alignments by leg, set-out points, the whole document
//	profiles.go     grades of wall, invert, formation: points where the grade changes
//	surfaces.go     the ground as faces, and as it lies along a leg
//	pegs.go         what the run is set out from: pegs beside it, benchmarks, control points
//	digedges.go     where the dig meets the ground, as it is marked out
//	geojson.go      legs, units, joints, services and zones as features
package interchange

import (
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/place/route"
)

// run is a plan with the geometry of its job.
type run struct {
	planner.Plan
	job    job.Job
	net    route.Network
	origin route.Origin
	rows   map[string][]planner.SetOut // by leg, in their order
	gaps   map[string]planner.Joint    // by name
}

func of(p planner.Plan, j job.Job) run {
	r := run{Plan: p, job: j, rows: map[string][]planner.SetOut{}, gaps: map[string]planner.Joint{}}
	r.net, r.origin, _ = planner.Run(j) // what is wrong with it stands in the plan
	for _, s := range p.SetOut {
		r.rows[s.Leg] = append(r.rows[s.Leg], s)
	}
	for _, g := range p.Joints {
		r.gaps[g.Name] = g
	}
	return r
}

// line is the centreline of a leg of the plan.
func (r run) line(leg string) (route.Line, bool) {
	l, ok := r.net.Leg(leg)
	return l.Line, ok && l.Line.Length() > 0
}
