package planner

import (
	"fmt"

	"trenchwright/base/finding"
)

// Open is how much stands open in a plan: whoever issues it is told before, and whoever holds it reads the same. None of it keeps a
// plan from being issued, and nothing of it says that a plan is right.
type Open struct {
	Faults, Impossible, Attention, NotChecked, Assumed int // findings of each kind
	Hold                                               int // pieces that are cut from measurement on site
}

// Open counts what stands open.
func (p Plan) Open() Open {
	var o Open
	kinds := map[finding.Kind]*int{finding.Fault: &o.Faults, finding.Impossible: &o.Impossible, finding.Attention: &o.Attention,
		finding.NotChecked: &o.NotChecked, finding.Assumed: &o.Assumed}
	for i := range p.Findings {
		if n := kinds[p.Findings[i].Kind]; n != nil {
			*n++
		}
	}
	for i := range p.Units {
		if p.Units[i].Hold {
			o.Hold++
		}
	}
	return o
}

// Said are the counts in words, the gravest first. That there are none of a kind is told as well; faults alone are told only where
// there are some, for then there is no plan to hold.
func (o Open) Said() []string {
	var out []string
	if o.Faults > 0 {
		out = append(out, fmt.Sprintf("%d faults", o.Faults))
	}
	return append(out, fmt.Sprintf("%d impossible", o.Impossible), fmt.Sprintf("%d for attention", o.Attention),
		fmt.Sprintf("%d NOT CHECKED", o.NotChecked), fmt.Sprintf("%d assumed", o.Assumed), fmt.Sprintf("%d on HOLD, cut from measurement", o.Hold))
}
