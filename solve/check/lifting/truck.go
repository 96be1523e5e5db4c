package lifting

import (
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/solve/check"
)

// Truck is a lift truck.
type Truck struct {
	Rated   *measure.Mass   // by its plate
	RatedAt *measure.Length // with the middle of the load so far from the heel of the forks
	At      *measure.Length // where the middle of this load is
	From    string
}

// Keeps is what a lift truck keeps of its rated mass where the middle of its load is further out: in proportion to the two distances,
// never more than it is rated for.
func Keeps(rated, ratedAt, at float64) float64 { return min(rated, rated*ratedAt/at) }

var truckRule = check.Rule{ID: "lifting.truck", Only: "further out than it is rated: does not, or cannot say", Says: "a lift truck keeps its rated mass x rated distance / distance of the load; an estimate, the plate governs",
	Law: "29 CFR 1910.178, as a federal guide works it", Source: "as read", Status: check.Read, Tests: []string{"lifting.TestTruck"}}

func (t *Truck) sound(p *Problem, out *Solution) bool {
	for _, l := range []*measure.Length{t.RatedAt, t.At} {
		if l != nil && (*l <= 0 || *l > longest) {
			return p.fault(out, fmt.Sprintf("a load %s out on the forks cannot be", l), "the distance from the heel of the forks to the middle of the load")
		}
	}
	if t.Rated != nil && (*t.Rated <= 0 || *t.Rated > heaviest) {
		return p.fault(out, fmt.Sprintf("a truck rated for %s cannot be", t.Rated), "the mass on its plate")
	}
	return true
}

// truck estimates what the truck keeps. That can say no; yes is the plate's to say.
func (p *Problem) truck(out *Solution) {
	t := p.Truck
	a := p.answer("lifting.truck", "the piece on the forks of the lift truck", truckRule, "longer forks by the maker of the truck, another truck, or the piece in two lifts")
	a.Cautions = append([]string{"an estimate: attachments, height and rough ground take more; the plate on the truck governs"}, a.Cautions...)
	rated, one := a.Need("rated mass of the truck", some(t.Rated, mass), t.From, "the plate on the truck")
	by, two := a.Need("distance that it is rated at", some(t.RatedAt, length), t.From, "the plate on the truck")
	at, three := a.Need("distance of the middle of this load", some(t.At, length), "", planner)
	if one && two && three {
		keeps := a.Work("it keeps about", "rated mass x rated distance / distance of this load, no more than rated", check.Mass.Of(Keeps(rated.SI, by.SI, at.SI)))
		verdict := check.AtMost(p.Mass.Kilograms(), 0, keeps.SI)
		if verdict == finding.Meets && at.SI > by.SI {
			verdict = finding.CannotSay
		}
		a.Hold(mass(*p.Mass), keeps, t.From, verdict)
	}
	out.Answers = append(out.Answers, a)
}
