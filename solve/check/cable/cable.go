// Package cable holds cables against the trench that they are laid in and against what their maker allows: whether they fit, whether they
// bend round its mitres, how hard they are pulled, how warm a covered trench gets, how long they are cut, what hangs on supports.
//
// The map of the package:
//
//	cable.go    Problem, Check                        section.go  layers, fill, dividers, a later cable
//	bend.go     the arc that a mitred corner leaves   pull.go     tension and sidewall pressure, both ways
//	heat.go     a covered trench, grouping            along.go    lengths, supports
//	read.go     cables and routes as people write them
package cable

import (
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/solve/check"
)

// Problem is the cables of one run. What is nil or empty is not on file.
type Problem struct {
	Where finding.Where
	Words wording.Speech

	Cables   []Cable
	Section  *Section
	Bends    []Bend
	Pull     *Pull
	Heat     *Heat
	Cut      *Cut
	Supports *Supports
}

// Cable is one kind of cable, as often as it is laid.
type Cable struct {
	Name    string
	Count   int // of cables; of bundles where three lie in trefoil
	Trefoil bool
	OD      measure.Length // over its sheath
	Class   string         // power, control, …: what is kept apart; "" one class
	In      int            // compartment, from 1; 0: the first
	Mass    *measure.LinearMass
	Bend    *float64        // least radius, in outer diameters
	Tension *check.Quantity // force it may be pulled with
	Copper  *check.Quantity // area of its copper, where the pull is on the conductor
	Grip    bool            // a basket grip pulls it
	Side    *check.Quantity // force per length that a bend may press on it
	Loss    *check.Quantity // heat that one cable, or one bundle, gives off on a length
	Rated   *check.Quantity // current in air
	Carries *check.Quantity // current that it carries
	From    string
}

// Solution is what comes of it.
type Solution struct {
	Answers  []check.Answer
	Findings finding.List
}

const (
	maker    = "the maker of the cable"
	supplier = "the supplier"
	owner    = "the owner"
	engineer = "the electrical engineer"
)

// cautions go with every answer.
var cautions = []string{
	"figures are those that were entered; data sheets, the owner's rules and the electrical engineer go first",
	"cables that lie there already are dead and earthed before people work beside them; who says so is not this program",
}

// Check holds the cables.
func Check(p *Problem) Solution {
	var out Solution
	if !p.sound(&out) {
		return out
	}
	for _, hold := range []func(*Solution){p.section, p.bends, p.pull, p.heat, p.lengths, p.supports} {
		hold(&out)
	}
	for i := range out.Answers {
		out.Findings = append(out.Findings, out.Answers[i].Findings(p.Words)...)
	}
	return out
}

func (p *Problem) answer(id, what string, rule check.Rule, decides, try string) check.Answer {
	return check.Answer{ID: id, What: what, Where: p.Where, Rule: rule, Decides: decides, Try: try, Cautions: cautions}
}

func (p *Problem) fault(out *Solution, text, try string) {
	out.Findings = append(out.Findings, finding.Finding{ID: "cable.input", Kind: finding.Fault, Text: text, Where: p.Where, Try: try})
}

func long(name string, l *measure.Length) check.Bound {
	return check.Between(name, check.Long(l), 1e-9, 1e6, "a length above 0")
}

func ratio(x *float64) *check.Quantity {
	if x == nil {
		return nil
	}
	return new(check.Ratio.Of(*x))
}

func lineMass(m *measure.LinearMass) *check.Quantity {
	if m == nil {
		return nil
	}
	return new(check.LineMass.Of(float64(*m) / 1000))
}

// mostCables keeps slips of the pen out.
const mostCables = 1000

// sound says in a sentence each what cannot be.
func (p *Problem) sound(out *Solution) bool {
	var all []check.Bound
	if len(p.Cables) == 0 {
		p.fault(out, "there is no cable", "a name, how many, and the outer diameter of each kind")
	}
	total := 0
	for i := range p.Cables {
		c := &p.Cables[i]
		total += max(1, c.Count)
		if c.Count < 1 || total > mostCables {
			p.fault(out, fmt.Sprintf("%d cables %s cannot be", c.Count, c.Name), fmt.Sprintf("1 to %d in all", mostCables))
		}
		all = append(all, check.Between("an outer diameter of "+c.Name, check.Long(&c.OD), 1e-4, 1, "the diameter over the sheath, above 0 and below 1 m"),
			check.Above("a mass of "+c.Name, lineMass(c.Mass), 1e3), check.Between("a least bend of "+c.Name, ratio(c.Bend), 1, 100, "outer diameters, as the maker has it, for example 12"), check.Above("a greatest pull on "+c.Name, c.Tension, 1e7),
			check.Above("an area of copper of "+c.Name, c.Copper, 0.1), check.Above("a sidewall pressure of "+c.Name, c.Side, 1e7), check.Between("heat of "+c.Name, c.Loss, 0, 1e4, "watts on a metre, 0 and more"), check.Above("a rated current of "+c.Name, c.Rated, 1e5),
			check.Between("a current of "+c.Name, c.Carries, 0, 1e5, "amperes, 0 and more"))
	}
	all = append(all, p.Section.bounds()...)
	for i := range p.Bends {
		all = append(all, p.Bends[i].bounds()...)
	}
	all = append(append(append(append(all, p.Pull.bounds()...), p.Heat.bounds()...), p.Cut.bounds()...), p.Supports.bounds()...)
	out.Findings = append(out.Findings, check.Outside(all, "cable.input", p.Where, p.Words)...)
	if len(out.Findings) == 0 && p.Section != nil {
		p.larger(out)
	}
	return len(out.Findings) == 0
}

// Rules are those that this check goes by.
func Rules() []check.Rule {
	return []check.Rule{fitsRule, shareRule, apartRule, laterRule, mitreRule, guideRule, pullRule, copperRule, sideRule, heatRule, groupRule, cutRule, supportRule}
}
