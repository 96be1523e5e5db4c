package lifting

import (
	"trenchwright/base/measure"
	"trenchwright/solve/check"
)

// Overhead is the nearest line overhead.
type Overhead struct {
	Kilovolts *float64
	Owner     string
	Distance  *measure.Length // nearest that any part of machine, load or tackle can come to it
	Plus      measure.Length  // what that is good for
	Known     string          // who said the voltage
}

// lines are how near a machine may come to a line, by its voltage: up to and with so many kilovolts. 29 CFR 1926.1408 Table A, as read
// from a copy of the text. Above 1,000 kV the owner or a registered engineer says it.
var lines = []struct {
	upTo float64
	feet int64
}{{50, 10}, {200, 15}, {350, 20}, {500, 25}, {750, 35}, {1000, 45}}

// Clearance is the least distance to a line of so many kilovolts; false: the owner has to say it.
func Clearance(kilovolts float64) (measure.Length, bool) {
	for _, l := range lines {
		if kilovolts <= l.upTo {
			return measure.Length(l.feet) * measure.Foot, true
		}
	}
	return 0, false
}

var overheadRule = check.Rule{ID: "lifting.overhead", Says: "nothing of machine, load or tackle comes nearer to a line than its voltage allows", Law: "29 CFR 1926.1408(a), Table A",
	Source: "a copy of the text, as read", Status: check.Read, Tests: []string{"lifting.TestOverhead"}}

func (p *Problem) overhead(out *Solution) {
	o := p.Overhead
	a := p.answer("lifting.overhead", "the nearest that machine or load comes to the line overhead", overheadRule, "another stand, a shorter boom, the line switched off and earthed by its owner")
	a.Stop, a.Decides = true, "the owner of the line with the lift planner"
	a.Cautions = append([]string{"rules of the United States; where others hold, they go first. A line is live until its owner says otherwise in writing"}, a.Cautions...)
	near, has := a.Need("nearest distance to the line", some(o.Distance, length), "", planner)
	kv, known := a.Need("voltage of the line", some(o.Kilovolts, check.Volts), o.Known, "the owner of the line")
	if known {
		least, listed := Clearance(*o.Kilovolts)
		if !listed {
			a.Missing = append(a.Missing, check.Missing{What: "distance for a line of " + kv.In(false), Ask: "the owner of the line, or a registered engineer"})
		} else if has {
			a.Hold(near, length(least), overheadRule.Law, check.AtLeast(near.SI, o.Plus.Metres(), least.Metres()))
		}
	}
	out.Answers = append(out.Answers, a)
}
