package planner

import (
	"fmt"
	"reflect"
	"slices"

	"trenchwright/base/finding"
	"trenchwright/job"
	"trenchwright/place/route"
	"trenchwright/solve/layout"
)

// Declared is a job whose route is told by nodes and legs, also where it was told as a walk.
func Declared(j job.Job) (job.Job, finding.List) { return walked(j) }

// Sketch lays legs anew while somebody drags a part of the run: only those whose problem is another than in the job that it
// was opened with, or that lie elsewhere. It plans no levels, so that legs are laid along the straight grade between their nodes,
// steers no cut lengths, cuts nothing and proves nothing: that is for the plan, once the hand lets go. The same job always
// gives the same answer, whatever was sketched before; what is kept here only saves time. The zero value has opened nothing:
// then every leg is laid.
type Sketch struct {
	open map[string]outlined // legs of the opened job
	laid map[string][]sketched
}

// outlined is a leg before it is laid.
type outlined struct {
	problem  layout.Problem
	zones    []zone
	elements []route.Element
}

// sketched is a problem of a leg with its answer.
type sketched struct {
	problem  layout.Problem
	solution layout.Solution
}

// kept is how many answers of one leg are kept: a hand goes to and fro.
const kept = 4

// Open makes a job the one that others are held against.
func (s *Sketch) Open(j job.Job) {
	s.open, s.laid = map[string]outlined{}, map[string][]sketched{}
	b, ok := drafted(j)
	if !ok {
		return
	}
	for i := range b.net.Legs {
		q := b.ask(i)
		s.open[b.leg(i).ID] = b.outline(i, &q)
	}
}

// outline is leg i with what it is asked.
func (b *build) outline(i int, q *question) outlined {
	return outlined{q.problem, q.zones, b.net.Legs[i].Line.Elements()}
}

// drafted is a plan up to where its legs would be laid; false: it has faults before that.
func drafted(j job.Job) (*build, bool) {
	b := &build{written: j, own: viewOf(j), plan: empty()}
	j, faults := walked(j)
	b.job, b.sup = j, supplies(j)
	b.index()
	b.add(faults...)
	if len(j.Supplies) == 0 || b.found.Any(finding.Fault) {
		return b, false
	}
	g, faults := lay(j, b.sup)
	b.net = g
	b.add(faults...)
	if faults.Any(finding.Fault) {
		return b, false
	}
	b.axes = make([]axis, len(g.Legs))
	for i, l := range g.Legs {
		b.axes[i] = newAxis(l.Line, b.nodeLie(l), b.face(i, true), b.face(i, false))
	}
	return b, !b.found.Any(finding.Fault)
}

// Lay is the plan of a job as far as it is sketched: all legs and nodes, and the units of the legs that were touched, which are
// told by their numbers among the plan's legs. With nothing opened their covers, joints and set-out and the totals are there,
// too: while something is dragged nobody draws those. With faults there is nothing but those.
func (s *Sketch) Lay(j job.Job) (p Plan, touched []int) {
	b, ok := drafted(j)
	if !ok {
		return b.sketchDone(), nil
	}
	legs := make([]laid, len(b.net.Legs))
	for i := range legs {
		legs[i] = laid{question: b.ask(i)}
		now := b.outline(i, &legs[i].question)
		if was, ok := s.open[b.leg(i).ID]; ok && reflect.DeepEqual(was, now) {
			continue
		}
		touched = append(touched, i)
		if b.axes[i].clear <= 0 {
			legs[i].solution = layout.Solution{Verdict: layout.Impossible, Why: fmt.Sprintf("it is %s from node to node; its fittings and gaps take %s of that",
				b.say(b.net.Legs[i].Line.Length()), b.say(b.axes[i].start.setback+b.axes[i].end.setback)), Try: []string{"move a node, or shorter arms"}}
			continue
		}
		solution, err := s.answer(b, i, &legs[i].question)
		if err != nil {
			b.add(finding.Finding{ID: "planner.leg-problem", Kind: finding.Fault, Text: fmt.Sprintf("leg %s: %v", b.leg(i).ID, err), Where: finding.Where{Leg: b.leg(i).ID}})
			continue
		}
		legs[i].take(solution)
	}
	units := 0
	for _, i := range touched {
		units += len(legs[i].units)
	}
	b.plan.Units = slices.Grow(b.plan.Units, units)
	for _, i := range touched {
		if s.open != nil {
			b.placeBare(i, &legs[i])
		} else {
			b.placeUnits(i, &legs[i])
		}
	}
	b.legHeads(legs)
	if s.open == nil {
		b.setOut(legs)
		b.totals()
	}
	b.nodes(legs)
	b.plan.Supplies = b.supplyHeads()
	return b.sketchDone(), touched
}

// Possible tells whether every leg that a job changes could be laid, in a small part of the time of laying it. That is not
// the last word where a mitred end reaches into a curve: Lay has it.
func (s *Sketch) Possible(j job.Job) bool {
	b, ok := drafted(j)
	if !ok {
		return false
	}
	for i := range b.net.Legs {
		q := b.ask(i)
		if was, ok := s.open[b.leg(i).ID]; ok && reflect.DeepEqual(was, b.outline(i, &q)) {
			continue
		}
		if b.axes[i].clear <= 0 {
			return false
		}
		if _, ok := layout.Possible(q.problem); !ok {
			return false
		}
	}
	return !b.found.Any(finding.Fault)
}

// answer is the answer to a leg's problem, from what is kept or fresh.
func (s *Sketch) answer(b *build, i int, q *question) (layout.Solution, error) {
	id := b.leg(i).ID
	for _, k := range s.laid[id] {
		if reflect.DeepEqual(k.problem, q.problem) {
			return k.solution, nil
		}
	}
	asked := q.problem
	solution, err := b.solveLeg(i, q)
	if err != nil {
		return solution, err
	}
	solution = askSaw(solution, b.sup, q.supply)
	solution.Certificate = nil
	if s.laid == nil {
		s.laid = map[string][]sketched{}
	}
	all := append(s.laid[id], sketched{asked, solution})
	s.laid[id] = slices.Clone(all[max(0, len(all)-kept):])
	return solution, nil
}

// sketchDone closes a sketch. Its job has no hash: it is not one that anybody keeps.
func (b *build) sketchDone() Plan {
	h := &b.plan.Job
	h.ID, h.Name, h.Origin = b.job.ID, b.job.Name, [2]float64{b.net.origin.E.Metres(), b.net.origin.N.Metres()}
	h.System, h.Words = string(b.job.System), string(b.job.Words)
	if h.System == "" {
		h.System = string(job.Metric)
	}
	if h.Words == "" {
		h.Words = string(job.UK)
	}
	b.found.Sort()
	b.plan.Findings = append(b.plan.Findings, b.found...)
	return b.plan
}
