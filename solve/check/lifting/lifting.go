// Package lifting holds a lift against what was entered of the sling, the lifting points, the machine and the lines overhead, or against
// what people may carry. It designs no lift: whoever plans lifts does.
//
// The map of the package:
//
//	lifting.go  Problem, Check                     sling.go    legs, angles, which of them carry
//	machine.go  charts, radii, reserves            overhead.go lines overhead, by voltage
//	hand.go     pieces that people carry           eyebolt.go  what an eyebolt keeps under an angle
//	truck.go    a lift truck with its load further out
//	ground.go   what the machine presses on the ground with
package lifting

import (
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/solve/check"
)

// Problem is one lift. What is nil or empty is not on file.
type Problem struct {
	Where finding.Where
	Words wording.Speech

	Mass   *measure.Mass // of the piece
	From   string        // where that comes from
	Tackle *measure.Mass // hook block, slings, clutches, beam
	More   *float64      // what the lift planner multiplies the load by for movement; nil: none stated
	MoreBy string

	Sling    *Sling
	Machine  *Machine
	Ground   *Ground
	Overhead *Overhead
	Hand     *Hand
	Truck    *Truck
}

// Solution is what comes of it.
type Solution struct {
	Answers  []check.Answer
	Findings finding.List
}

// planner is who decides about lifts.
const planner = "the lift planner"

// cautions go with every lift.
var cautions = []string{
	"nobody stands under the load or between it and the trench; the ground beside a trench carries less than the same ground elsewhere",
	"figures are those that were entered; charts, plates and certificates themselves go first, and the lift planner before all of them",
}

// Check holds a lift against what was entered.
func Check(p *Problem) Solution {
	var out Solution
	if !p.sound(&out) {
		return out
	}
	if p.Mass == nil {
		out.Findings = append(out.Findings, finding.NoneOnFile("mass of the piece", "the supplier", p.Where))
		out.Findings = append(out.Findings, finding.Finding{ID: "lifting.stop", Kind: finding.Attention, Text: "Hard stop: no lift without the mass of the piece", Where: p.Where,
			Ask: planner, Try: "enter the mass from the supplier's drawing, or weigh the piece"})
		return out
	}
	if p.Sling != nil {
		p.sling(&out)
	}
	if p.Machine != nil {
		p.machine(&out)
	}
	if p.Ground != nil {
		p.ground(&out)
	}
	if p.Overhead != nil {
		p.overhead(&out)
	}
	if p.Hand != nil {
		p.hand(&out)
	}
	if p.Truck != nil {
		p.truck(&out)
	}
	for i := range out.Answers {
		out.Findings = append(out.Findings, out.Answers[i].Findings(p.Words)...)
	}
	return out
}

// answer begins an answer.
func (p *Problem) answer(id, what string, rule check.Rule, try string) check.Answer {
	a := check.Answer{ID: id, What: what, Where: p.Where, Rule: rule, Decides: planner, Try: try, Cautions: cautions}
	a.Give("mass of the piece", mass(*p.Mass), p.From)
	return a
}

func mass(m measure.Mass) check.Quantity { return check.Mass.Of(m.Kilograms()) }

func length(l measure.Length) check.Quantity { return check.Length.Of(l.Metres()) }

// some is a quantity of what may not be on file.
func some[T any](of *T, as func(T) check.Quantity) *check.Quantity {
	if of == nil {
		return nil
	}
	return new(as(*of))
}

// heaviest and longest keep slips of the pen out.
const (
	heaviest = 1000 * measure.Tonne
	longest  = 200 * measure.Metre
)

func (p *Problem) fault(out *Solution, text, try string) bool {
	out.Findings = append(out.Findings, finding.Finding{ID: "lifting.input", Kind: finding.Fault, Text: text, Where: p.Where, Try: try})
	return false
}

func (p *Problem) sound(out *Solution) bool {
	ok := true
	above := func(name string, m *measure.Mass) {
		if m != nil && (*m <= 0 || *m > heaviest) {
			ok = p.fault(out, fmt.Sprintf("%s of %s cannot be", name, m), "a mass above 0 kg, as the drawing or the plate has it")
		}
	}
	above("a mass of the piece", p.Mass)
	if s := p.Sling; s != nil {
		above("a working load limit of a leg", s.Limit)
		above("a capacity of a lifting point", s.Point)
	}
	if p.Tackle != nil && (*p.Tackle < 0 || *p.Tackle > heaviest) {
		ok = p.fault(out, fmt.Sprintf("tackle of %s cannot be", p.Tackle), "its mass, 0 kg and more")
	}
	if p.More != nil && !(*p.More >= 1 && *p.More <= 5) {
		ok = p.fault(out, "a factor for movement below 1 or above 5 cannot be", "the lift planner's factor, for example 1.25")
	}
	if p.Sling != nil {
		ok = p.Sling.sound(p, out) && ok
	}
	if p.Machine != nil {
		ok = p.Machine.sound(p, out) && ok
	}
	if p.Ground != nil {
		ok = p.Ground.sound(p, out) && ok
	}
	if p.Truck != nil {
		ok = p.Truck.sound(p, out) && ok
	}
	if o := p.Overhead; o != nil && (o.Kilovolts != nil && !(*o.Kilovolts >= 0 && *o.Kilovolts <= 2000) || o.Distance != nil && *o.Distance < 0) {
		ok = p.fault(out, "a line overhead with that voltage or at that distance cannot be", "kilovolts from the owner of the line, and the nearest that any part can come to it")
	}
	if h := p.Hand; h != nil && (h.People < 1 || h.People > 12) {
		ok = p.fault(out, fmt.Sprintf("%d people for one piece cannot be", h.People), "1 to 12 people")
	}
	return ok
}

// Rules are those that this check goes by.
func Rules() []check.Rule {
	return []check.Rule{legs, unequal, eyeboltRule, chart, reserveRule, groundRule, overheadRule, handRule, truckRule}
}
