package planner

import (
	"sync"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/place/ground"
	"trenchwright/solve/layout"
)

// Answers is a plan with what it was made from: it answers what somebody asks who stands in the trench. Nothing is planned
// again for an answer, and nothing that is told by it changes, so that several may ask at once.
//
//	answerplace.go    Find: a place by its name or by its chainage
//	answerdepth.go    Depth: levels, dig and rules at a place; answerdig.go: the section there
//	answerrod.go      Rod: what a rod shows; answergrade.go: grades for a laser, answerpeg.go: pegs
//	answerway.go      the shortest way along the run
//	answershort.go    Short: how far each leg can be laid without what has not come
//	answerbetween.go  Between: what lies between two places
type Answers struct {
	b     *build
	legs  []answerLeg
	unit  map[string]int      // of plan.Units
	joint map[string]int      // of plan.Joints
	with  map[string][]string // by place of a cut piece: places of the others from its unit
	of    map[string]string   // by place of a piece that is cut from an offcut: its mark
	cover []int               // by unit: of plan.Covers, where its covers begin; one more for the end

	again   sync.Mutex // over what a replan keeps of its legs, so that only those are worked on that something happened to
	laying  []*ahead
	ways    map[string]knownWays
	costsOf map[string]*layout.Certificate
}

// answerLeg says where a leg stands in the plan.
type answerLeg struct {
	id     string
	length measure.Length // from node to node
	row    int            // of plan.SetOut: the start of its first unit; it has one row more than units
	unit   int            // of plan.Units: its first
	units  int
	joint  int // of plan.Joints: its first; one fewer than units
}

// Ask plans a job as Make does, and keeps what answers need. Without a plan (its findings hold a fault) there are none.
func Ask(j job.Job, surfaces ...*ground.Surface) (Plan, *Answers) {
	return AskIn(viewOf(j), j, surfaces...)
}

// AskIn is Ask with all sentences in a view's system and words. No number of record is another one for it.
func AskIn(v View, j job.Job, surfaces ...*ground.Surface) (Plan, *Answers) {
	b := plannedIn(v, j, surfaces)
	if b.plan.Findings.Any(finding.Fault) || len(b.plan.Legs) == 0 {
		return b.plan, nil
	}
	a := &Answers{b: b, unit: map[string]int{}, joint: map[string]int{}}
	a.index()
	return b.plan, a
}

// index finds the plan's things by their names and legs.
func (a *Answers) index() {
	p := &a.b.plan
	row, unit, joint := 0, 0, 0
	for i, l := range p.Legs {
		at := answerLeg{id: l.Name, length: a.b.net.Legs[i].Line.Length(), row: row, unit: unit, joint: joint}
		for unit < len(p.Units) && p.Units[unit].Leg == l.Name {
			unit++
		}
		if at.units = unit - at.unit; at.units > 0 {
			row, joint = row+at.units+1, joint+at.units-1
		}
		a.legs = append(a.legs, at)
	}
	for i, u := range p.Units {
		a.unit[folded(u.Mark)] = i
	}
	for i, j := range p.Joints {
		a.joint[folded(j.Name)] = i
	}
	k := 0
	for _, u := range p.Units {
		a.cover = append(a.cover, k)
		for k < len(p.Covers) && p.Covers[k].Unit == u.Mark {
			k++
		}
	}
	a.cover = append(a.cover, k)
	a.with, a.of = p.sawnWith(), p.sawnOf()
}

// legOf is a leg by its id; -1: there is none.
func (a *Answers) legOf(id string) int {
	for i := range a.legs {
		if folded(a.legs[i].id) == folded(id) {
			return i
		}
	}
	return -1
}

// unitFrom is the chainage from which unit k of a leg counts: the joint before it, or the leg's from node; of k = its units the
// to node. What a fitting or a free end adds counts with the unit beside it.
func (a *Answers) unitFrom(leg, k int) measure.Length {
	switch l := &a.legs[leg]; k {
	case 0:
		return 0
	case l.units:
		return l.length
	default:
		return measure.Length(a.b.plan.SetOut[l.row+k].Chainage)
	}
}

// unitAt is the unit of a leg, from 0, that counts for a chainage; -1: nothing is laid on the leg.
func (a *Answers) unitAt(leg int, at measure.Length) int {
	n := a.legs[leg].units
	low, high := 0, n-1
	for low < high {
		mid := (low + high + 1) / 2
		if a.unitFrom(leg, mid) <= at {
			low = mid
		} else {
			high = mid - 1
		}
	}
	return high
}
