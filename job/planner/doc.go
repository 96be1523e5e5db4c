// Package planner asks the solvers in order and answers with a Plan: Plan(job) → route → a leg programme for each leg →
// cutting across the job → places, marks, set-out, bill and findings. It translates between what people declare and the
// solvers' narrow problems, and shares out each joint's one budget. It computes no layout itself.
//
// How what is ordered comes: delivery.go, from what deliverywhat.go gathers; answershort.go: what can be laid without what has not come.
//
// When the site differs from the plan:
//
//	replan.go         Replan: what is left of every leg, from where its last unit came to lie; replankeep.go: the same pieces with other gaps
//	replanoffers.go   the ways on that a person may take, each checked; take.go: Take, the job once one is taken
//	replanyard.go     what an answer spends of the yard; replanknown.go: what is kept, so that only legs are worked on that something happened to
//	built.go          a leg of which something lies: what lies, and the rest behind it; builtnames.go: places keep their names
//	heldgrades.go     the grades that what lies keeps
//	replandrift.go    Drift: how legs creep, from their records; what to hold, when to cut the closer, what of lots and covers
//	replanbends.go    Bends: a bend that is not as drawn, as a swing or as new mitres; replanbendheld.go: what does not turn with it
//	closing.go        the piece that closes what is left between two faces
package planner
