package main

import (
	"cmp"
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/solve/check"
	"trenchwright/solve/check/flotation"
)

// floatCommand says from which level of water on an empty unit floats.
type floatCommand struct {
	Supply     string `help:"Take sizes and masses from this file: a job (its first supply) or one supply alone." placeholder:"FILE"`
	Outer      string `help:"Outer width and height of the unit, for example '1200mm x 920mm'." placeholder:"WIDTH x HEIGHT"`
	Inner      string `help:"Inner width and height." placeholder:"WIDTH x HEIGHT"`
	Mass       string `help:"Mass of the unit, for example 744kg/m." placeholder:"MASS"`
	Covers     string `help:"Mass of its covers, for example 352kg/m." placeholder:"MASS"`
	From       string `help:"Where sizes and masses come from: the drawing, its revision." placeholder:"TEXT"`
	Water      string `help:"Level of the water above the underside of the unit." placeholder:"LENGTH"`
	WaterPlus  string `help:"What that level is good for, either way." placeholder:"LENGTH"`
	WaterFrom  string `help:"Who read it, when." placeholder:"TEXT"`
	Density    string `help:"Density of the water in kg per cubic metre; without it fresh water." placeholder:"NUMBER"`
	Factor     string `help:"Weight over uplift that the engineer asks for, for example 1.1." placeholder:"NUMBER"`
	FactorFrom string `help:"In which note the engineer says so." placeholder:"TEXT"`
	JSON       bool   `name:"json" help:"Answer as JSON."`
}

// floatAnswer is what `trenchwright float --json` prints.
type floatAnswer struct {
	Marks      []string     `json:"marks"` // the water at which it floats, as a mark on the wall
	Checks     []check.Said `json:"checks"`
	Holds      []string     `json:"holds"` // what would hold it
	NotChecked []string     `json:"not_checked"`
}

func (c *floatCommand) Run(p program) error {
	q, s, err := c.problem(p)
	if err != nil {
		return err
	}
	sol := flotation.Check(&q)
	if sol.Findings.Any(finding.Fault) {
		return p.refuse(c.JSON, sol.Findings)
	}
	ans := floatAnswer{Marks: []string{}, Checks: []check.Said{}, Holds: []string{}, NotChecked: []string{}}
	for _, m := range sol.Marks {
		if m.At == nil {
			ans.Marks = append(ans.Marks, m.State+": water runs in over the wall tops before it floats")
			continue
		}
		ans.Marks = append(ans.Marks, fmt.Sprintf("%s: it floats from water %s above the underside on, %s below the wall top", m.State, mark(*m.At, s), mark(q.Height-*m.At, s)))
	}
	ans.Checks, ans.NotChecked = heldAll(sol.Answers, s), notOnFile(sol.Findings)
	for _, h := range sol.Holds {
		ans.Holds = append(ans.Holds, held(h, s)...)
	}
	if c.JSON {
		if err := p.json(ans); err != nil {
			return err
		}
	} else {
		p.showFloat(ans)
	}
	return endsOf(sol.Answers)
}

// held is what would hold a unit, a line each.
func held(h flotation.Hold, s wording.Speech) []string {
	f := measure.Format{}
	if s.Imperial {
		f.System = measure.Imperial
	}
	list := []string{h.State + ": " + f.LinearMass(h.Mass) + " more on it, evenly"}
	if h.Flooded != nil {
		list = append(list, h.State+": water let in to "+markUp(*h.Flooded, s)+" above its floor")
	} else {
		list = append(list, h.State+": letting water in alone does not hold it")
	}
	return append(list, h.State+": the water kept below "+mark(*h.Below, s)+" above the underside")
}

// mark is a length as it is marked on a wall: no higher than it was worked out.
func mark(l measure.Length, s wording.Speech) string {
	f := measure.Format{}
	if s.Imperial {
		f.System = measure.Imperial
	}
	return f.Length(l / f.Step() * f.Step())
}

// markUp is the same, no lower.
func markUp(l measure.Length, s wording.Speech) string {
	step := measure.Millimetre
	if s.Imperial {
		step = measure.Sixteenth
	}
	return mark(l+step-1, s)
}

func (p program) showFloat(a floatAnswer) {
	fmt.Fprintln(p.out, "Mark on the wall, from the underside up:")
	for _, m := range a.Marks {
		fmt.Fprintln(p.out, "  "+m)
	}
	if len(a.Holds) > 0 {
		fmt.Fprintln(p.out, "What would hold it, one of:")
		for _, h := range a.Holds {
			fmt.Fprintln(p.out, "  "+h)
		}
	}
	fmt.Fprintln(p.out)
	p.showChecks(a.Checks, a.NotChecked)
	fmt.Fprintln(p.out, "The engineer decides what holds it.")
}

// problem reads the flags.
func (c *floatCommand) problem(p program) (flotation.Problem, wording.Speech, error) {
	a := &asked{command: "float"}
	q := flotation.Problem{Where: finding.Where{Path: "float"}, From: c.From, WaterFrom: c.WaterFrom, FactorFrom: c.FactorFrom}
	var s wording.Speech
	if c.Supply != "" {
		if err := c.fromSupply(p, a, &q); err != nil {
			return q, s, err
		}
	}
	section := func(name, text string) (of job.Section) {
		if text != "" {
			if err := of.UnmarshalText([]byte(text)); err != nil {
				a.fault(name, "%v", err)
			}
		}
		return of
	}
	if outer := section("--outer", c.Outer); outer.Width > 0 {
		q.Width, q.Height = outer.Width, outer.Height
	} else if q.Width == 0 {
		a.fault("--outer", "nothing says how wide and high the unit is outside; give --outer, or a supply that has it")
	}
	if inner := section("--inner", c.Inner); inner.Width > 0 {
		q.Inside, q.Deep = inner.Width, inner.Height
	}
	q.Mass, q.Covers = cmp.Or(a.lineMass("--mass", c.Mass), q.Mass), cmp.Or(a.lineMass("--covers", c.Covers), q.Covers)
	if c.Water != "" {
		r, _ := a.reading("--water", c.Water)
		q.Water = &r.Length
		s.Imperial = r.Unit == measure.UnitFoot || r.Unit == measure.UnitInch
	}
	if c.WaterPlus != "" {
		q.WaterPlus = a.length("--water-plus", c.WaterPlus)
	}
	q.Factor = a.share("--factor", c.Factor)
	if d := a.share("--density", c.Density); d != nil {
		q.Density = *d
	}
	return q, s, a.ends()
}

// fromSupply takes sizes and masses of a supply.
func (c *floatCommand) fromSupply(p program, a *asked, q *flotation.Problem) error {
	made, err := p.supply(a.command, c.Supply)
	if err != nil {
		return err
	}
	u := made.Unit
	q.Width, q.Height, q.Inside, q.Deep = u.Outer.Value.Width, u.Outer.Value.Height, u.Inner.Value.Width, u.Inner.Value.Height
	if u.Mass.Value > 0 {
		q.Mass = &u.Mass.Value
	}
	if made.Cover != nil && made.Cover.Mass.Value > 0 {
		q.Covers = &made.Cover.Mass.Value
	}
	q.From = cmp.Or(q.From, made.From, c.Supply)
	return nil
}

// Help is shown below the flags.
func (floatCommand) Help() string {
	return `Examples:

    trenchwright float --supply yard/job.yaml --water 300mm --factor 1.1 --factor-from "note 12"
    trenchwright float --outer "1200mm x 920mm" --inner "1000mm x 800mm" --mass 744kg/m --covers 352kg/m

The mark on the wall is the water at which an empty unit floats, without and with its covers. What would hold it is told beside it:
water let in, mass laid on it, or the water kept lower. The factor is the engineer's; without one nothing is said to hold.`
}
