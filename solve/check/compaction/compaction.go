// Package compaction holds fill against a published method: how thick its layers may be for a machine, how often it goes over them, where
// tests are due, what a test comes to, and what a machine puts in place in an hour.
//
// The map of the package:
//
//	compaction.go  Problem, Check                    passes.go  the method's table
//	layers.go      layers from depth and machine     tests.go   how many, where the next is due; what one comes to
//	output.go      what a machine puts in place
package compaction

import (
	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/solve/check"
)

// Problem is fill that is compacted. What is nil or empty is not on file; of the rest what is there is held.
type Problem struct {
	Where finding.Where
	Words wording.Speech

	Layers *Layers
	Tests  *Tests
	Cone   *Cone
	Gauge  *Gauge
	Output *Output
}

// Solution is what comes of it.
type Solution struct {
	Answers  []check.Answer
	Ways     []Way // in which the depth can be filled with the machine, the fewest passes in all first
	Findings finding.List
}

const engineer = "the engineer"

// cautions go with every answer.
var cautions = []string{
	"whether the owner takes this method, and what is compacted near walls, is the owner's and the supplier's word",
	"both sides rise alike; nobody is between a machine and a wall, and nobody in a dig that is not supported",
}

// Check holds fill.
func Check(p *Problem) Solution {
	var out Solution
	if !p.sound(&out) {
		return out
	}
	for _, hold := range []func(*Solution){p.layers, p.tests, p.cone, p.gauge, p.output} {
		hold(&out)
	}
	for i := range out.Answers {
		out.Findings = append(out.Findings, out.Answers[i].Findings(p.Words)...)
	}
	return out
}

func (p *Problem) answer(id, what string, rule check.Rule, try string) check.Answer {
	return check.Answer{ID: id, What: what, Where: p.Where, Rule: rule, Decides: engineer, Try: try, Cautions: cautions}
}

func long(name string, l *measure.Length) check.Bound {
	return check.Between(name, check.Long(l), 1e-9, 1e6, "a length above 0")
}

func (p *Problem) sound(out *Solution) bool {
	var all []check.Bound
	if l := p.Layers; l != nil {
		all = append(all, long("a depth of fill", l.Depth), long("a thickness of a layer", l.Layer), check.Above("a weight of the machine", l.Machine.Weighs, 1e5))
	}
	if t := p.Tests; t != nil {
		all = append(all, long("a length of run", t.Run), long("a distance of tests", t.Every), check.Between("a chainage of the last test", check.Long(t.Last), 0, 1e6, "0 and more"), check.Between("a number of layers", count(t.Layers), 1, 1e4, "1 and more"),
			check.Between("a number of layers to a test", count(t.EachLayers), 1, 1e4, "1 and more"), check.Between("a number of tests", count(t.Done), 0, 1e6, "0 and more"), check.Between("a least number of tests", count(t.Least), 0, 1e6, "0 and more"))
	}
	if c := p.Cone; c != nil {
		all = append(all, check.Above("a mass of sand before", c.Before, 1e3), check.Between("a mass of sand behind", c.After, 0, upTo(c.Before), "no more than before"), check.Above("a density of sand", c.Sand, 5e3), check.Above("a volume of the cone", c.Volume, 1),
			check.Above("a mass of soil", c.Soil, 1e3))
		all = append(all, c.Held.bounds()...)
	}
	if g := p.Gauge; g != nil {
		all = append(all, check.Above("a wet density", g.Wet, 5e3))
		all = append(all, g.Held.bounds()...)
	}
	if o := p.Output; o != nil {
		all = append(all, check.Above("a width of the machine", check.Long(o.Width), 50), check.Above("a speed", o.Speed, 20), check.Above("a thickness of a layer", check.Long(o.Layer), 5), check.Between("an efficiency", o.Efficiency, 1e-6, 1, "above 0 and no more than 100 %"),
			check.Between("a number of passes", count(o.Passes), 1, 100, "1 and more"), check.Above("a demand", o.Demand, 10), check.Between("a share of the bank volume", o.Shrink, 0.1, 2, "what a bank volume comes to compacted, for example 83 %"))
	}
	out.Findings = append(out.Findings, check.Outside(all, "compaction.input", p.Where, p.Words)...)
	return len(out.Findings) == 0
}

func count(n *int) *check.Quantity {
	if n == nil {
		return nil
	}
	return new(check.Count.Of(float64(*n)))
}

func upTo(q *check.Quantity) float64 {
	if q == nil {
		return 1e3
	}
	return q.SI
}

// Rules are those that this check goes by.
func Rules() []check.Rule {
	return []check.Rule{methodRule, testsRule, coneRule, gaugeRule, outputRule}
}
