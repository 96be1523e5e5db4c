package papers

import "trenchwright/job"

// Bound are all papers of one kind in one document of a pack: those that need no choice.
type Bound struct {
	File  string
	About string
	Kind  string
}

// BoundOf are the documents of a job's pack in the order of the stages.
func BoundOf(j job.Job) []Bound {
	out := []Bound{
		{"method-statement.pdf", "method statement, a skeleton: the works in the job's order with their quantities and rules, blank where a person decides", Method},
		{"delivery-checks.pdf", "delivery checks, a paper a load: what is counted and looked at before anything is unloaded", Delivery},
		{"permit-to-dig.pdf", "permits to dig, one a leg: services, tickets, where is dug by hand, who issues and takes over", Permit},
		{"excavation-inspection.pdf", "excavation inspection, stretch by stretch, and what asks for another look", Excavation},
	}
	if len(j.Checks.Lifts) > 0 {
		out = append(out, Bound{"lift-plans.pdf", "lift plans, one for each kind of lift, with both figures of every check", Lift})
	}
	return append(out, Bound{"inspection-plan.pdf", "inspection and test plan with hold and witness points and notices", Inspection})
}
