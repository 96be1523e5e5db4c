package planner

import (
	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/place/ground"
	"trenchwright/place/route"
	"trenchwright/solve/earthwork"
	"trenchwright/solve/profile"
)

// build is one plan in the making.
type build struct {
	job        job.Job
	written    job.Job // as it was written: a walk is still a walk
	own        View    // that the job itself asks for; job and written have the one that is spoken in
	sup        []supply
	net        site
	axes       []axis        // by leg
	ground     ground.Ground // surfaces of the job; none: nobody surveyed
	stepped    []reach       // what would lie too steep and steps, once that is known
	stepsKnown bool
	rough      bool       // no levels were solved yet, and will be: lengths of what was chosen say nothing
	heights    *heights   // what was asked of the profile; nil: no levels were solved
	kept       [][]change // by leg, behind the first pass with kept grades: where windows see its changes of grade
	profile    profile.Solution
	branches   []sawnEnd           // ends of legs that are sawn into others, tied to their levels or not
	pipe       *pipe               // the drain in the bed; nil: none, or it has no levels
	asked      *earthwork.Problem  // what was asked of the dig; nil: none was computed
	dug        *earthwork.Solution // what came of it
	nodeAt     map[string]int      // of job.Route.Nodes
	legAt      map[string]int      // of job.Route.Legs
	found      finding.List
	plan       Plan
}

// node is what was declared of a node.
func (b *build) node(id string) job.Node {
	if i, ok := b.nodeAt[id]; ok {
		return b.job.Route.Nodes[i]
	}
	return job.Node{ID: id}
}

// legNamed is what was declared of a leg, by its id.
func (b *build) legNamed(id string) job.Leg {
	if i, ok := b.legAt[id]; ok {
		return b.job.Route.Legs[i]
	}
	return job.Leg{ID: id}
}

// index finds nodes and legs by their ids from here on.
func (b *build) index() {
	b.nodeAt, b.legAt = map[string]int{}, map[string]int{}
	for i, n := range b.job.Route.Nodes {
		b.nodeAt[n.ID] = i
	}
	for i, l := range b.job.Route.Legs {
		b.legAt[l.ID] = i
	}
}

// leg is what was declared of a leg; the network keeps the declared order.
func (b *build) leg(i int) job.Leg { return b.job.Route.Legs[i] }

// legSupply is the supply laid on a leg where nothing asks for another.
func (b *build) legSupply(leg int) *supply { return b.supplyNamed(b.leg(leg).Supply) }

// supplyNamed finds a supply; no name is the job's first.
func (b *build) supplyNamed(id string) *supply {
	for i := range b.sup {
		if b.sup[i].ID == id {
			return &b.sup[i]
		}
	}
	return &b.sup[0]
}

// nodeLie is the straight grade between the levels of a leg's nodes, where both are known.
func (b *build) nodeLie(l route.Leg) lie {
	from, to := b.node(b.net.Nodes[l.From].ID), b.node(b.net.Nodes[l.To].ID)
	if from.Level == nil || to.Level == nil {
		return nil
	}
	return newLie([]knot{
		{level: measure.FromMetres(*from.Level * b.net.unit)},
		{chainage: l.Line.Length(), level: measure.FromMetres(*to.Level * b.net.unit)},
	})
}

// add keeps a finding.
func (b *build) add(f ...finding.Finding) { b.found = append(b.found, f...) }

// at makes the place of a finding on a leg.
func at(leg string, chainage measure.Length) finding.Where {
	return finding.Where{Leg: leg, Chainage: &chainage}
}
