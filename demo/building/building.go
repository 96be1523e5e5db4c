// Package building builds a job as gangs would, day by day, from a seed: what really lies in the ground is kept apart from what is
// recorded of it, and whoever works sees the records alone, with the errors of tape and rod. It is there to test the whole way from a
// plan to a run that is handed over, and to count what surprises cost.
//
//	building.go  what is built, and what comes out
//	site.go      the site, day by day          stage.go    the stages of a stretch, one a day
//	leg.go       a leg as it really lies       lot.go      units and covers as they come: lots, loads, the yard
//	gang.go      who asks, and follows what the program answers
//	bed.go       bed and levels                setting.go  units set, gaps held, pieces cut
//	fill.go      fill in layers, bonds, fabric lid.go      covers laid, lifted and laid again
//	stuck.go     units lifted and laid again, where nothing comes out from where they end
//	point.go     notices, inspections, releases, weather
//	taking.go    an answer that is taken: another plan from then on
//	bend.go      a bend that is not as drawn
//	found.go     buried services; bench.go: a benchmark that was bumped; twice.go: two people, and mistakes
//	device.go    devices: numbers, clocks, what they know and have not sent
//	wanted.go    what the contract wants on record, and what is forgotten
//	told.go      what happened, in sentences   count.go    counts of it
//	agree.go     whether what was recorded agrees with what lies there
//	dice.go      the generator: the same seed makes the same build everywhere
package building

import (
	"fmt"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/place/ground"
)

// Planned is a job with its plan, which many builds may share: nothing in it changes.
type Planned struct {
	Job      job.Job
	Plan     planner.Plan
	Answers  *planner.Answers
	Surfaces []*ground.Surface // that it was planned on
}

// Options say what a build is to be like.
type Options struct {
	Seed uint64
	Days int  // at the most; 0: as many as it takes
	Calm bool // nothing goes wrong but what hands and tapes do
}

// Result is a build from its first record to its last.
type Result struct {
	Records []field.Record // as the server holds them, in the order in which they came in
	Devices []DeviceFile   // as each device sends them, in its order
	Told    []string       // what happened, in sentences
	Count   Count          // what it came to
	State   field.State    // what all the records come to
	Job     job.Job        // with the answers that were taken
	Plan    planner.Plan   // of that job: the places are its own
	Lies    map[string]Lie // what really lies, by place
	Open    []string       // what is not finished: empty where the run was handed over
}

// Lie is a unit as it really lies.
type Lie struct {
	Off         measure.Length // its far end, as it is laid, ahead of the place that whoever set it held
	Joined      bool           // there is a joint after it on the leg's axis
	Left, Right measure.Length // the gap there, at both walls
	Covers      int
}

// DeviceFile is what one device wrote.
type DeviceFile struct {
	Name    string
	Records []field.Record
}

// Build builds a job. An error says why it cannot be built at all: no leg was laid out.
func Build(p Planned, o Options) (*Result, error) {
	if p.Answers == nil || len(p.Plan.Units) == 0 {
		return nil, fmt.Errorf("the plan of %s has nothing to lay", p.Job.ID)
	}
	s, err := newSite(p, o)
	if err != nil {
		return nil, err
	}
	for !s.done() && (o.Days == 0 || s.day < o.Days) && s.day < longest {
		s.oneDay()
	}
	return s.result(), nil
}

// longest is how many days a build may take before it is given up: far more than any needs.
const longest = 500
