package main

import (
	"fmt"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/job"
	"trenchwright/solve/check"
	"trenchwright/solve/check/cable"
)

// cableCommand holds cables against their trench and against what their maker allows.
type cableCommand struct {
	Cable []string `sep:"none" help:"A kind of cable, once for each: 'power: 3 x 42mm, 4.1kg/m, bend 12, pull 8kN, side 7kN/m, heat 20W/m, rated 400A, carries 200A, class power, in 1'; also trefoil, grip and copper 240mm2." placeholder:"TEXT"`
	From  string   `help:"Data sheet that these figures stand in." placeholder:"TEXT"`

	Inner     string   `help:"Inner width and height of the unit." placeholder:"WIDTH x HEIGHT"`
	InnerFrom string   `help:"On which drawing." placeholder:"TEXT"`
	Divider   []string `help:"Dividers from left to right: the middle of each from the left wall, and its thickness, for example 400mm:50mm." placeholder:"LENGTH:LENGTH"`
	Gap       string   `help:"Kept free between cables side by side; without it they touch." placeholder:"LENGTH"`
	Share     string   `help:"Share of the section that cables may fill." placeholder:"PER CENT"`
	ShareFrom string   `help:"By which rule." placeholder:"TEXT"`
	Apart     string   `help:"How far classes of cables are kept apart." placeholder:"LENGTH"`
	ApartFrom string   `help:"By which rule." placeholder:"TEXT"`
	Later     string   `help:"What may still be laid one day, as --cable has it." placeholder:"TEXT"`

	Bend     []string `sep:"none" help:"A mitred corner of the run, once for each, for example 'right 90°'." placeholder:"TURN"`
	Straight string   `help:"The shorter straight beside the corners." placeholder:"LENGTH"`

	Route    string `help:"Route of a pull from its start: '50m, right 90° r 1.2m, 30m up 2%'." placeholder:"TEXT"`
	Pulls    string `help:"Which kind of cable is pulled; without it the first." placeholder:"NAME"`
	Friction string `help:"Friction on straights: rollers, or the trench itself." placeholder:"NUMBER"`
	Corners  string `help:"Friction in bends." placeholder:"NUMBER"`
	MuFrom   string `name:"friction-from" help:"The maker, or a trial pull." placeholder:"TEXT"`
	Drum     string `help:"Pull off the drum." placeholder:"FORCE"`

	Air       string `help:"Air outside, for the heat in a covered trench, for example 30°C." placeholder:"TEMPERATURE"`
	Sun       bool   `help:"The sun shines on the covers."`
	Inside    string `help:"How warm the air inside may get." placeholder:"TEMPERATURE"`
	AirFrom   string `help:"Who says so." placeholder:"TEXT"`
	Conductor string `help:"What a conductor may reach." placeholder:"TEMPERATURE"`
	RatedAt   string `help:"Air that rated currents are told for." placeholder:"TEMPERATURE"`
	Group     string `help:"How circuits lie together: bunched, floor, tray or ladder." placeholder:"WORD"`
	Circuits  int    `help:"How many; without it as many as there are cables." placeholder:"COUNT"`

	Length   string `help:"Length of the route, for what is cut from the drum." placeholder:"LENGTH"`
	Slack    string `help:"Besides it." placeholder:"PER CENT"`
	Ends     string `help:"For both ends together." placeholder:"LENGTH"`
	CutFrom  string `help:"By which rule." placeholder:"TEXT"`
	OnDrum   string `help:"What is on the drum." placeholder:"LENGTH"`
	Supports string `help:"Distance of supports." placeholder:"LENGTH"`
	Bears    string `help:"What one support is declared for." placeholder:"FORCE"`
	BearsBy  string `name:"bears-from" help:"On which drawing." placeholder:"TEXT"`
	JSON     bool   `name:"json" help:"Answer as JSON."`
}

func (c *cableCommand) Run(p program) error {
	a := &asked{command: "cable"}
	q := cable.Problem{Where: finding.Where{Path: "cable"}}
	for _, text := range c.Cable {
		if one, ok := a.cable("--cable", text); ok {
			one.From = c.From
			q.Cables = append(q.Cables, one)
		}
	}
	if len(c.Cable) == 0 {
		a.fault("--cable", "nothing says which cables; write for example --cable 'power: 3 x 42mm, 4.1kg/m'")
	}
	c.section(a, &q)
	c.run(a, &q)
	c.warm(a, &q)
	if c.Length+c.Slack+c.Ends+c.OnDrum != "" {
		q.Cut = &cable.Cut{Route: a.some("--length", c.Length), Slack: a.percent("--slack", c.Slack), Ends: a.some("--ends", c.Ends), From: c.CutFrom, Drum: a.some("--on-drum", c.OnDrum)}
	}
	if c.Supports+c.Bears != "" {
		q.Supports = &cable.Supports{Apart: a.some("--supports", c.Supports), Bears: a.quantity("--bears", c.Bears, check.Force), From: c.BearsBy}
	}
	if len(a.faults) == 0 && q.Section == nil && q.Bends == nil && q.Pull == nil && q.Heat == nil && q.Cut == nil && q.Supports == nil {
		a.fault("--inner", "nothing says what is held; give --inner, --bend, --route, --air, --length or --supports")
	}
	if err := a.ends(); err != nil {
		return err
	}
	q.Words.Imperial = a.imperial
	sol := cable.Check(&q)
	return p.held(c.JSON, sol.Answers, sol.Findings, q.Words)
}

// cable reads one kind of cable.
func (a *asked) cable(name, text string) (cable.Cable, bool) {
	c, imperial, err := cable.ReadCable(text)
	if err != nil {
		a.fault(name, "%v", err)
		return c, false
	}
	a.imperial = a.imperial || imperial
	return c, true
}

// section reads the inside of the unit.
func (c *cableCommand) section(a *asked, q *cable.Problem) {
	if c.Inner == "" {
		for _, f := range []struct{ name, text string }{{"--divider", strings.Join(c.Divider, "")}, {"--share", c.Share}, {"--apart", c.Apart}, {"--later", c.Later}, {"--air", c.Air}} {
			if f.text != "" {
				a.fault(f.name, "needs --inner: the inner width and height of the unit")
			}
		}
		return
	}
	var inner job.Section
	if err := inner.UnmarshalText([]byte(c.Inner)); err != nil {
		a.fault("--inner", "%v", err)
	}
	s := &cable.Section{Width: inner.Width, Depth: inner.Height, From: c.InnerFrom, Share: a.percent("--share", c.Share), ShareFrom: c.ShareFrom, Apart: a.some("--apart", c.Apart), ApartFrom: c.ApartFrom}
	if c.Gap != "" {
		s.Gap = a.length("--gap", c.Gap)
	}
	for _, text := range c.Divider {
		at, thick, ok := strings.Cut(text, ":")
		if !ok {
			a.fault("--divider", "%q does not say how thick it is; write for example 400mm:50mm", text)
			continue
		}
		s.Dividers = append(s.Dividers, cable.Divider{At: a.positive("--divider", at, "the distance of a divider"), Thick: a.positive("--divider", thick, "the thickness of a divider")})
	}
	if c.Later != "" {
		if one, ok := a.cable("--later", c.Later); ok {
			s.Later = &one
		}
	}
	q.Section = s
}

// run reads corners and a pull.
func (c *cableCommand) run(a *asked, q *cable.Problem) {
	for i, text := range c.Bend {
		turn := a.bend("--bend", text)
		q.Bends = append(q.Bends, cable.Bend{Name: fmt.Sprintf("corner %d", i+1), Turn: max(turn, -turn), Before: a.some("--straight", c.Straight)})
	}
	if c.Route == "" {
		if c.Friction+c.Corners+c.Drum+c.Pulls != "" {
			a.fault("--route", "a pull needs its route; write for example --route '50m, right 90° r 1.2m'")
		}
		return
	}
	route, err := cable.ReadRoute(c.Route)
	if err != nil {
		a.fault("--route", "%v", err)
	}
	if c.Pulls != "" {
		known := false
		for _, one := range q.Cables {
			known = known || one.Name == c.Pulls
		}
		if !known {
			a.fault("--pulls", "there is no cable %q", c.Pulls)
		}
	}
	q.Pull = &cable.Pull{Cable: c.Pulls, Route: route, Straights: a.share("--friction", c.Friction), Corners: a.share("--corners", c.Corners), MuFrom: c.MuFrom, Back: a.quantity("--drum", c.Drum, check.Force), BackFrom: c.MuFrom}
}

// warm reads what warms a covered trench.
func (c *cableCommand) warm(a *asked, q *cable.Problem) {
	if c.Air+c.Inside+c.Conductor+c.RatedAt+c.Group == "" {
		return
	}
	degrees := func(name, text string) *check.Quantity { return a.quantity(name, text, check.Temperature) }
	switch cable.Group(c.Group) {
	case "", cable.Bunched, cable.Floor, cable.Tray, cable.Ladder:
	default:
		a.fault("--group", "%q is none of bunched, floor, tray and ladder", c.Group)
	}
	q.Heat = &cable.Heat{Sun: c.Sun, Ambient: degrees("--air", c.Air), Conductor: degrees("--conductor", c.Conductor), Reference: degrees("--rated-at", c.RatedAt), From: c.AirFrom, Group: cable.Group(c.Group), Circuits: c.Circuits,
		Allowed: degrees("--inside", c.Inside), AllowedFor: c.AirFrom}
}

// Help is shown below the flags.
func (cableCommand) Help() string {
	return `Examples:

    trenchwright cable --cable "power: 3 x 42mm, 4.1kg/m, bend 12, class power" --cable "control: 6 x 16mm, class control, in 2" --inner "600mm x 300mm" --divider 400mm:50mm --share 40 --apart 50mm
    trenchwright cable --cable "power: 3 x 42mm, bend 12" --inner "400mm x 300mm" --bend "right 90°" --straight 5m
    trenchwright cable --cable "power: 1 x 42mm, 4.1kg/m, pull 8kN, side 7kN/m" --route "50m, right 90° r 1.2m, 30m up 2%" --friction 0.2 --corners 0.3 --drum 200N
    trenchwright cable --cable "power: 3 x 42mm, heat 20W/m, rated 400A, carries 200A" --inner "400mm x 300mm" --air 30°C --sun --inside 55°C --conductor 90°C --rated-at 30°C --group floor
    trenchwright cable --cable "power: 3 x 42mm, 4.1kg/m" --length 80m --slack 3 --ends 6m --on-drum 100m --supports 1m --bears 500N

Cables lie side by side in layers, the thick ones first. A corner is held as it is mitred: from the outer walls to its inner edge. A pull is
worked from both ends. Limits are the maker's and the owner's; without one nothing is said to meet it.`
}
