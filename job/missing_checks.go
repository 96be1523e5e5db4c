package job

import (
	"fmt"
	"slices"
)

// liftPlanner is who answers for lifts.
const liftPlanner = "the lift planner"

// machineOwner has the machine's papers.
const machineOwner = "the owner of the machine"

// checks says what nobody entered for the checks: in one line where there is nothing, else group by group. What a group lacks is said by
// its check.
func (m *missing) checks() {
	k, p := &m.job.Checks, (*place)(nil).field("checks")
	if k.None() {
		m.say("checks", p, "vehicle that crosses, lift, cable or bearing of the ground on file for the checks of what the run must bear", engineer)
		return
	}
	for i := range m.job.Supplies {
		s := &m.job.Supplies[i]
		for _, of := range []string{"units", "covers"} {
			if of == "covers" && s.Cover == nil || slices.ContainsFunc(k.Lifts, func(l Lift) bool { return l.Of == of && (l.Supply == "" || l.Supply == s.ID) }) {
				continue
			}
			m.say("lift-"+of, p.field("lifts"), fmt.Sprintf("lift of %s of supply %s", of, s.ID), liftPlanner)
		}
	}
	for i := range k.Lifts {
		l, at := &k.Lifts[i], p.field("lifts").item(i, k.Lifts[i].ID)
		if l.People > 0 || l.Each.Known { // carried by hand
			continue
		}
		if !l.More.Known {
			m.say("lift-more", at.field("more"), "factor for movement of lift "+l.ID, liftPlanner)
		}
		if !l.Wind.Known {
			m.say("lift-wind", at.field("wind"), "greatest wind for the machine of lift "+l.ID, machineOwner)
		}
	}
	if e := &k.Earth; (e.Phi.Known || e.K.Known) && !e.Weight.Known {
		m.say("earth-weight", p.fields("earth", "weight"), "weight of the ground beside the walls", engineer)
	}
	if f := &k.Footing; f.Weight.Known || f.Cohesion.Known || f.Phi.Known { // what it bears before it gives way
		m.contract("footing", p.field("footing"), []contract{
			{f.Weight.Known, "weight", "weight of the ground that the run stands on", engineer},
			{f.Cohesion.Known, "cohesion", "cohesion of the ground that the run stands on (0 where there is none)", engineer},
			{f.Phi.Known, "phi", "angle of friction of the ground that the run stands on", engineer},
		})
	}
	if !k.Tests.Every.Known {
		m.say("tests", p.fields("tests", "every"), "distance from one test of the fill to the next", engineer)
	}
	if len(k.Cables.Laid) == 0 {
		m.say("cables", p.fields("cables", "laid"), "cable schedule", owner)
	}
}
