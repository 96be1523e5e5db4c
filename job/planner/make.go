package planner

import (
	"trenchwright/base/finding"
	"trenchwright/job"
	"trenchwright/place/ground"
)

// Core is the version of the planning core. It changes whenever the same job may give other bytes.
const Core = "1"

// Make plans a job. The job has no faults of its own (see job.Faults); what the geometry and the solvers find is in the
// plan's findings. Surfaces of the ground come by their roles, with the origin that Origin gives. The same job on the same
// ground gives the same plan.
func Make(j job.Job, surfaces ...*ground.Surface) Plan { return planned(j, surfaces).plan }

// planned is a plan with what it was made from.
func planned(j job.Job, surfaces []*ground.Surface) *build { return plannedIn(viewOf(j), j, surfaces) }

// plannedIn is planned with its sentences as a view has them.
func plannedIn(v View, j job.Job, surfaces []*ground.Surface) *build {
	b := &build{own: viewOf(j), ground: surfaces}
	j.System, j.Words = v.System, v.Words
	b.written = j
	j, faults := walked(j)
	b.job, b.sup = j, supplies(j)
	b.index()
	b.add(faults...)
	b.plan = empty()
	if len(j.Supplies) == 0 || b.found.Any(finding.Fault) {
		return b.done()
	}
	g, faults := lay(j, b.sup)
	b.net = g
	b.add(faults...)
	if faults.Any(finding.Fault) {
		return b.done()
	}
	b.axes = make([]axis, len(g.Legs))
	for i, l := range g.Legs {
		b.axes[i] = newAxis(l.Line, b.nodeLie(l), b.face(i, true), b.face(i, false))
	}
	b.strayed()
	if b.found.Any(finding.Fault) {
		return b.done()
	}
	b.lay(b.settled())
	return b.done()
}

// lay writes everything that follows from the legs' answers.
func (b *build) lay(legs []laid) {
	for i := range legs {
		b.placeUnits(i, &legs[i])
	}
	b.legHeads(legs)
	b.cutUnits(legs)
	b.cutFaces(legs)
	b.cutCovers()
	b.setOut(legs)
	b.coverLevels()
	b.solveDrain()
	b.writeLevels(legs)
	b.dig(legs)
	b.services()
	b.pegs()
	b.nodes(legs)
	b.padReaches()
	b.check()
	b.notChecked()
	b.bill()
	b.deliver()
	b.totals()
	b.plan.Supplies = b.supplyHeads()
}

// done closes the plan.
func (b *build) done() *build {
	b.plan.Job = b.head()
	b.found.Sort()
	b.plan.Findings = append(b.plan.Findings, b.found...)
	b.numbered()
	return b
}

// Look says what a plan would find wrong with a job's geometry and what it lacks, without laying anything out.
func Look(j job.Job, surfaces ...*ground.Surface) finding.List {
	b := &build{written: j, own: viewOf(j), ground: surfaces}
	j, faults := walked(j)
	b.job, b.sup = j, supplies(j)
	b.index()
	b.add(faults...)
	if len(j.Supplies) == 0 || b.found.Any(finding.Fault) {
		return b.found
	}
	g, faults := lay(j, b.sup)
	b.net = g
	b.add(faults...)
	if !faults.Any(finding.Fault) {
		b.axes = make([]axis, len(g.Legs))
		for i, l := range g.Legs {
			b.axes[i] = newAxis(l.Line, b.nodeLie(l), b.face(i, true), b.face(i, false))
		}
		for i := range g.Legs {
			b.zones(i)
		}
	}
	b.notChecked()
	b.found.Sort()
	return b.found
}
