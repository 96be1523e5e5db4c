// Package plancheck checks a plan from outside: it reads the bytes of plan.json with structs and arithmetic of its own
// and recomputes what they claim. It shares no code with the planner, the solvers or the route's geometry, and only
// tests import it.
//
//	check.go     Check: the rules in order; the report          plan.go      plan.json as it is read here
//	axis.go      a leg's centreline from its parts              rows.go      units, joints and gaps along a leg
//	budget.go    what each joint's window is spent on           lids.go      covers: wholly on one unit, in order
//	mitres.go    both faces of a bend, from coordinates         saw.go       cutting: what lies on which stock
//	sums.go      totals, masses, set-out, bill                  silence.go   a figure that is missing is said to be
//	slope.go     how a leg lies in height: straight grades
//	grades.go    grades and levels of every place           under.go     what stands under a place
//	held.go      pins, least and steepest grades            joined.go    levels, lips and castings where legs meet
//	lows.go      low points of the invert and their outlets drain.go      the pipe in the bed
//	across.go    sections of the dig, its marks, what runs up along a leg
//	coverlevels.go  tolerances of the level of covers, added up
//	pegs.go      pegs beside the run, benchmarks and control points
//	peaks.go     deepest and widest: nothing shown is more
//	volumes.go   what is dug, goes back, is brought in and leaves
//	declared.go  against the job: zones, forced supplies, entries, lengths, yard
//
// Lengths are compared in whole nanometres where they are sums, within a micrometre where a sine or a root stands
// between them.
package plancheck

import (
	"encoding/json"
	"fmt"

	"trenchwright/job"
)

// slack is what a length that comes out of trigonometry may be off by, in nanometres.
const slack = 1000

// Check lists, in words, everything in plan.json that does not hold. jobJSON is the job that it was made from; without
// it, only what plan.json says by itself is checked. An empty answer means that every rule held.
func Check(planJSON, jobJSON []byte) []string {
	r := &report{}
	checkContract(planJSON, r)
	c := &checker{report: r}
	if err := json.Unmarshal(planJSON, &c.plan); err != nil {
		r.say("plan.json cannot be read: %v", err)
		return r.lines
	}
	if len(jobJSON) > 0 {
		c.job = &job.Job{}
		if err := json.Unmarshal(jobJSON, c.job); err != nil {
			r.say("the job cannot be read: %v", err)
			return r.lines
		}
	}
	c.index()
	for _, rule := range []func(){
		c.checkHead, c.checkGrades, c.checkLegs, c.checkUnits, c.checkJoints, c.checkZones, c.checkBudgets, c.checkCovers, c.checkBends,
		c.checkCutting, c.checkTotals, c.checkMasses, c.checkSetOut, c.checkPegs, c.checkBill, c.checkSilence, c.checkDeclared,
		c.checkUnder, c.checkPins, c.checkLimits, c.checkMeetings, c.checkLows, c.checkDrain, c.checkCoverLevels, c.checkCoversOff, c.checkSections, func() { c.checkVolumes(planJSON) },
	} {
		rule()
	}
	return r.lines
}

// report gathers what does not hold.
type report struct{ lines []string }

func (r *report) say(format string, args ...any) {
	r.lines = append(r.lines, fmt.Sprintf(format, args...))
}

// checker is one plan with what has to be found in it again and again.
type checker struct {
	*report
	plan plan
	job  *job.Job // nil: none given

	legs     map[string]*leg
	nodes    map[string]*node
	units    map[string]*unit
	supplies map[string]*supplyHead
	makes    map[string]*job.Supply // of the job
	row      map[string][]*unit     // units by leg, as listed
	joints   map[string][]*joint    // by leg, as listed
	runs     map[string][]*gradeRun // by leg, as listed
	zones    map[string][]zone      // by leg
	lids     map[string][]*cover    // by unit, as listed
	declared map[string]*job.Leg    // of the job, by id; empty for a walk
	axes     map[string]axis
	stands   map[string][]stand // by leg, where its levels stand: one for each row of its set-out
}

func (c *checker) index() {
	c.legs, c.nodes, c.units = map[string]*leg{}, map[string]*node{}, map[string]*unit{}
	c.supplies, c.makes = map[string]*supplyHead{}, map[string]*job.Supply{}
	c.row, c.joints, c.zones = map[string][]*unit{}, map[string][]*joint{}, map[string][]zone{}
	c.lids, c.declared, c.axes = map[string][]*cover{}, map[string]*job.Leg{}, map[string]axis{}
	c.runs = map[string][]*gradeRun{}
	p := &c.plan
	for i := range p.Grades {
		c.runs[p.Grades[i].Leg] = append(c.runs[p.Grades[i].Leg], &p.Grades[i])
	}
	for i := range p.Supplies {
		c.supplies[p.Supplies[i].ID] = &p.Supplies[i]
	}
	for i := range p.Nodes {
		c.nodes[p.Nodes[i].ID] = &p.Nodes[i]
	}
	for i := range p.Legs {
		l := &p.Legs[i]
		if c.legs[l.Name] != nil {
			c.say("leg %s stands twice in the plan", l.Name)
		}
		c.legs[l.Name] = l
		c.axes[l.Name] = axisOf(l, slopeOf(l, c.runs[l.Name]), c.scale())
	}
	for i := range p.Units {
		u := &p.Units[i]
		if c.units[u.Mark] != nil {
			c.say("mark %s stands twice among the units", u.Mark)
		}
		c.units[u.Mark] = u
		c.row[u.Leg] = append(c.row[u.Leg], u)
	}
	for i := range p.Joints {
		c.joints[p.Joints[i].Leg] = append(c.joints[p.Joints[i].Leg], &p.Joints[i])
	}
	for _, z := range p.Zones {
		c.zones[z.Leg] = append(c.zones[z.Leg], z)
	}
	for i := range p.Covers {
		c.lids[p.Covers[i].Unit] = append(c.lids[p.Covers[i].Unit], &p.Covers[i])
	}
	c.indexJob()
}

func (c *checker) indexJob() {
	if c.job == nil {
		return
	}
	for i := range c.job.Supplies {
		c.makes[c.job.Supplies[i].ID] = &c.job.Supplies[i]
	}
	for i := range c.job.Route.Legs {
		c.declared[c.job.Route.Legs[i].ID] = &c.job.Route.Legs[i]
	}
}

func (c *checker) checkHead() {
	if c.plan.Format != 1 {
		c.say("plan.json has format %d, this checker reads 1", c.plan.Format)
	}
}
