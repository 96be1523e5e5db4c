package main

import (
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/solve/check"
	"trenchwright/solve/check/compaction"
)

// compactCommand holds fill against a published method, and tests against what is asked for.
type compactCommand struct {
	Depth      string `help:"Depth of the fill." placeholder:"LENGTH"`
	Layer      string `help:"Thickness of one layer; without it the ways of filling the depth are told." placeholder:"LENGTH"`
	Fill       string `help:"granular or cohesive." placeholder:"WORD"`
	Wholly     bool   `help:"The fill is nothing but cohesive."`
	Machine    string `help:"Class of the machine (plate-1400, twin-drum-600, …), or its kind: plate, single-drum, twin-drum, vibrotamper." placeholder:"WORD"`
	Weighs     string `help:"What says its class: 1500kg/m2 of a plate, 900kg/m of a drum, 60kg of a vibrotamper." placeholder:"MASS"`
	Restricted bool   `help:"Room is restricted."`

	Filled     string `name:"run" help:"Length of run that is filled, for counting tests." placeholder:"LENGTH"`
	Every      string `help:"One test on so much of it." placeholder:"LENGTH"`
	Layers     int    `help:"Layers that are filled." placeholder:"COUNT"`
	EachLayers int    `help:"One test in so many of them; without it in each." placeholder:"COUNT"`
	Least      int    `help:"No fewer than." placeholder:"COUNT"`
	Tested     int    `help:"Tests that were made." default:"-1" placeholder:"COUNT"`
	Last       string `help:"Chainage of the last test: the next one is told." placeholder:"LENGTH"`
	TestsFrom  string `help:"By which specification." placeholder:"TEXT"`

	SandBefore string `help:"Sand cone: mass of sand before," placeholder:"MASS"`
	SandAfter  string `help:"and behind," placeholder:"MASS"`
	Sand       string `help:"its density, for example 1.349g/cc," placeholder:"DENSITY"`
	Cone       string `help:"volume of the cone, for example 2274cc," placeholder:"VOLUME"`
	Soil       string `help:"and the wet mass out of the hole." placeholder:"MASS"`
	Wet        string `help:"Nuclear gauge: wet density." placeholder:"DENSITY"`
	Moisture   string `help:"Moisture of the soil." placeholder:"PER CENT"`
	Greatest   string `help:"Greatest dry density of the laboratory." placeholder:"DENSITY"`
	Asked      string `help:"Share of it that is asked for." placeholder:"PER CENT"`
	AskedFrom  string `help:"By which specification." placeholder:"TEXT"`

	Width      string `help:"Output: width of the machine," placeholder:"LENGTH"`
	Speed      string `help:"its speed," placeholder:"SPEED"`
	Thick      string `help:"thickness of a layer, compacted," placeholder:"LENGTH"`
	Efficiency string `help:"share of the hour that it works," placeholder:"PER CENT"`
	Passes     int    `help:"passes," placeholder:"COUNT"`
	Shrink     string `help:"what a bank volume comes to compacted," placeholder:"PER CENT"`
	Demand     string `help:"and what comes in an hour, for example 400m3/h." placeholder:"VOLUME"`
	OutputFrom string `help:"Where that stands." placeholder:"TEXT"`
	JSON       bool   `name:"json" help:"Answer as JSON."`
}

// compactAnswer is what `trenchwright compact --json` prints.
type compactAnswer struct {
	Ways []string `json:"ways"` // of filling the depth, the fewest passes in all first
	checksAnswer
}

func (c *compactCommand) Run(p program) error {
	a := &asked{command: "compact"}
	q := compaction.Problem{Where: finding.Where{Path: "compact"}}
	c.layers(a, &q)
	c.tested(a, &q)
	if c.Width+c.Speed+c.Thick+c.Demand != "" {
		q.Output = &compaction.Output{Width: a.some("--width", c.Width), Speed: a.quantity("--speed", c.Speed, check.Speed), Layer: a.some("--thick", c.Thick), Efficiency: a.percent("--efficiency", c.Efficiency), Passes: counted(c.Passes),
			Shrink: a.percent("--shrink", c.Shrink), Demand: a.quantity("--demand", c.Demand, check.VolumeRate), From: c.OutputFrom}
	}
	if len(a.faults) == 0 && q.Layers == nil && q.Tests == nil && q.Cone == nil && q.Gauge == nil && q.Output == nil {
		a.fault("--depth", "nothing says what is held; give --depth and --machine, --run and --every, --wet, --sand-before, or --width and --speed")
	}
	if err := a.ends(); err != nil {
		return err
	}
	q.Words.Imperial = a.imperial
	sol := compaction.Check(&q)
	if sol.Findings.Any(finding.Fault) {
		return p.refuse(c.JSON, sol.Findings)
	}
	ans := compactAnswer{Ways: []string{}, checksAnswer: checksAnswer{Checks: heldAll(sol.Answers, q.Words), NotChecked: notOnFile(sol.Findings)}}
	for _, w := range sol.Ways {
		ans.Ways = append(ans.Ways, fmt.Sprintf("%s of %s, %s on each: %d in all", plural(w.Layers, "layer", "layers"), check.Length.Of(w.Thick.Metres()).Both(a.imperial), plural(w.Passes, "pass", "passes"), w.Layers*w.Passes))
	}
	if c.JSON {
		if err := p.json(ans); err != nil {
			return err
		}
		return endsOf(sol.Answers)
	}
	if len(ans.Ways) > 0 {
		fmt.Fprintln(p.out, "Ways of filling the depth by the method, the fewest passes first:")
		for _, w := range ans.Ways {
			fmt.Fprintln(p.out, "  "+w)
		}
		fmt.Fprintln(p.out)
	}
	p.showChecks(ans.Checks, ans.NotChecked)
	return endsOf(sol.Answers)
}

// counted is a count that may be left out.
func counted(n int) *int {
	if n == 0 {
		return nil
	}
	return &n
}

// layers reads the fill and its machine.
func (c *compactCommand) layers(a *asked, q *compaction.Problem) {
	if c.Depth+c.Layer+c.Machine+c.Fill == "" {
		return
	}
	l := &compaction.Layers{Depth: a.some("--depth", c.Depth), Layer: a.some("--layer", c.Layer), Fill: compaction.Fill(c.Fill), Wholly: c.Wholly}
	switch l.Fill {
	case "", compaction.Granular, compaction.Cohesive:
	default:
		a.fault("--fill", "%q is neither granular nor cohesive", c.Fill)
	}
	l.Machine = compaction.Machine{Restricted: c.Restricted}
	switch kind := compaction.Kind(c.Machine); kind {
	case "":
	case compaction.APlate:
		l.Machine.Kind, l.Machine.Weighs = kind, a.quantity("--weighs", c.Weighs, check.AreaMass)
	case compaction.AVibrotamper:
		l.Machine.Kind, l.Machine.Weighs = kind, a.quantity("--weighs", c.Weighs, check.Mass)
	case compaction.ASingleDrum, compaction.ATwinDrum:
		l.Machine.Kind, l.Machine.Weighs = kind, a.quantity("--weighs", c.Weighs, check.LineMass)
	default:
		l.Machine.Class = compaction.ByWord(c.Machine)
	}
	q.Layers = l
}

// tested reads tests: how many, and what one came to.
func (c *compactCommand) tested(a *asked, q *compaction.Problem) {
	if c.Filled+c.Every+c.Last != "" {
		q.Tests = &compaction.Tests{Run: a.some("--run", c.Filled), Every: a.some("--every", c.Every), Layers: counted(c.Layers), EachLayers: counted(c.EachLayers), Least: counted(c.Least), Last: a.some("--last", c.Last), From: c.TestsFrom}
		if c.Tested >= 0 {
			q.Tests.Done = &c.Tested
		}
	}
	held := compaction.Held{Moisture: a.percent("--moisture", c.Moisture), Most: a.quantity("--greatest", c.Greatest, check.Density), Asked: a.percent("--asked", c.Asked), AskedFrom: c.AskedFrom}
	mass := func(name, text string) *check.Quantity { return a.quantity(name, text, check.Mass) }
	if c.SandBefore+c.SandAfter+c.Sand+c.Cone+c.Soil != "" {
		q.Cone = &compaction.Cone{Before: mass("--sand-before", c.SandBefore), After: mass("--sand-after", c.SandAfter), Sand: a.quantity("--sand", c.Sand, check.Density), Volume: a.quantity("--cone", c.Cone, check.Volume), Soil: mass("--soil", c.Soil), Held: held}
	}
	if c.Wet != "" {
		q.Gauge = &compaction.Gauge{Wet: a.quantity("--wet", c.Wet, check.Density), Held: held}
	}
	if q.Cone == nil && q.Gauge == nil && c.Moisture+c.Greatest+c.Asked != "" {
		a.fault("--wet", "nothing was measured; give --wet of a gauge, or the figures of a sand cone")
	}
}

// Help is shown below the flags.
func (compactCommand) Help() string {
	return `Examples:

    trenchwright compact --depth 900mm --fill granular --machine plate --weighs 1900kg/m2
    trenchwright compact --depth 900mm --layer 150mm --fill cohesive --machine twin-drum-1000
    trenchwright compact --run 120m --every 50m --layers 6 --each-layers 2 --least 2 --tested 9 --last 60m --tests-from "spec 6"
    trenchwright compact --sand-before 16000g --sand-after 4286g --sand 1.349g/cc --cone 2274cc --soil 15632g --moisture 4.5 --greatest 2.382g/cc --asked 95
    trenchwright compact --wet 2050kg/m3 --moisture 8 --greatest 1980kg/m3 --asked 95 --asked-from "spec 6"
    trenchwright compact --width 8ft --speed 3mph --thick 6in --efficiency 83 --passes 4 --demand 450yd3/h

The method has three thicknesses and nothing between them; what it does not permit is a stop. A machine without its weight class is one that
nobody can say of. A share is held as it was worked out, unrounded.`
}
