// Package load holds what comes onto a run against what somebody entered that it bears: a wheel against the rating that the supplier
// declares, a wheel through fill, earth and surcharge beside a wall, what stands on the bed, a steel plate over a crossing. It gives
// nothing a rating: the supplier does, and the engineer says what crosses.
//
// The map of the package:
//
//	load.go     Problem, Check                           vehicle.go  axles, tyres, published design vehicles
//	rating.go   a wheel against a declared rating        fill.go     a wheel through fill
//	wall.go     earth and what stands beside a wall      bed.go      pressure under bed or pads, bearing capacity
//	plate.go    a steel plate over a crossing            soil.go     stresses in the ground, closed forms
package load

import (
	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/solve/check"
)

// Problem is what comes onto a run. What is nil or empty is not on file; of Rated, Fill, Wall, Bed and Plate those that are there are held.
type Problem struct {
	Where finding.Where
	Words wording.Speech

	Vehicles    []Vehicle       // what crosses: each is held, the worst counts
	Dynamic     *check.Quantity // share by which a moving wheel weighs more
	DynamicFrom string

	Rated *Rated
	Fill  *Fill
	Wall  *Wall
	Bed   *Bed
	Plate *Plate
}

// Solution is what comes of it.
type Solution struct {
	Answers  []check.Answer
	Findings finding.List
}

const (
	engineer = "the engineer"
	supplier = "the supplier"
)

// cautions go with every answer.
var cautions = []string{
	"figures are those that were entered; nothing here gives a unit, a cover or a plate a rating",
	"nothing crosses a run, and no plant stands beside it, before the engineer has said where and how heavy",
}

// Check holds what comes onto a run.
func Check(p *Problem) Solution {
	var out Solution
	if !p.sound(&out) {
		return out
	}
	for _, hold := range []func(*Solution){p.rating, p.fill, p.wall, p.bed, p.plate} {
		hold(&out)
	}
	for i := range out.Answers {
		out.Findings = append(out.Findings, out.Answers[i].Findings(p.Words)...)
	}
	return out
}

// answer begins an answer.
func (p *Problem) answer(id, what string, rule check.Rule, decides, try string) check.Answer {
	return check.Answer{ID: id, What: what, Where: p.Where, Rule: rule, Decides: decides, Try: try, Cautions: cautions}
}

// longest keeps slips of the pen out, and so do the bounds below, each of the kind's own SI unit.
const longest = 200 * measure.Metre

func (p *Problem) fault(out *Solution, text, try string) {
	out.Findings = append(out.Findings, finding.Finding{ID: "load.input", Kind: finding.Fault, Text: text, Where: p.Where, Try: try})
}

// sound says in a sentence each what cannot be.
func (p *Problem) sound(out *Solution) bool {
	all := []check.Bound{check.Between("a dynamic allowance", p.Dynamic, 0, 2, "the share by which a moving wheel weighs more, 0 to 200 %")}
	for i := range p.Vehicles {
		all = append(all, p.Vehicles[i].bounds()...)
	}
	if r := p.Rated; r != nil {
		all = append(all, check.Above("a rated wheel", r.Wheel, 5e6), long("a clear opening", r.Opening))
		p.named(out, r)
	}
	if f := p.Fill; f != nil {
		all = append(all, f.bounds()...)
	}
	if w := p.Wall; w != nil {
		all = append(all, w.bounds()...)
	}
	if b := p.Bed; b != nil {
		all = append(all, b.bounds()...)
	}
	if t := p.Plate; t != nil {
		all = append(all, t.bounds()...)
	}
	out.Findings = append(out.Findings, check.Outside(all, "load.input", p.Where, p.Words)...)
	return len(out.Findings) == 0
}

// long is the bound of a length of the job.
func long(name string, l *measure.Length) check.Bound {
	return check.Between(name, check.Long(l), 1e-9, longest.Metres(), "a length above 0")
}

// Rules are those that this check goes by.
func Rules() []check.Rule {
	return []check.Rule{vehicleRule, tyreRule, wheelRule, classRule, openingRule, likeRule, spreadRule, spreadMemory, earthRule, wallRule, restRule, stripRule, trafficRule, bedRule, bearingRule, plateRule, seriesRule, plateEdges, plateSpan, plateTable}
}
