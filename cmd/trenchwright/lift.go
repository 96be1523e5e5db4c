package main

import (
	"fmt"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/planner"
	"trenchwright/solve/check"
	"trenchwright/solve/check/lifting"
)

// liftCommand holds one lift against what is known of it.
type liftCommand struct {
	Job      string `arg:"" optional:"" help:"A job, as YAML or JSON, whose piece --at is lifted. Without it --mass says what is."`
	At       string `help:"The unit that is lifted, for example A-003." placeholder:"PLACE"`
	Mass     string `help:"Mass of the piece, for example 1184kg." placeholder:"MASS"`
	From     string `help:"Where that mass comes from." placeholder:"TEXT"`
	Tackle   string `help:"Mass of hook block, slings, clutches and beam." placeholder:"MASS"`
	More     string `help:"What the lift planner multiplies the load by for movement, for example 1.25." placeholder:"NUMBER"`
	MoreFrom string `help:"Where that stands." placeholder:"TEXT"`

	Legs      int      `help:"How many legs the sling has." placeholder:"1..4"`
	Equalised bool     `help:"A device shares the load among all legs; without it two of three or four count."`
	Angle     string   `help:"Angle of the legs to the horizontal, for example 60deg." placeholder:"ANGLE"`
	Spread    string   `help:"Instead of the angle: how far the two lifting points of a pair stand apart," placeholder:"LENGTH"`
	Height    string   `help:"the hook above them," placeholder:"LENGTH"`
	Near      string   `help:"and the centre of gravity from the first of them, where it is not half way." placeholder:"LENGTH"`
	Lengths   []string `help:"Lengths of the two legs, as measured: they are held against the others." placeholder:"LENGTH,LENGTH"`
	Limit     string   `help:"Working load limit of one leg, from its tag." placeholder:"MASS"`
	LimitFrom string   `help:"Which tag or certificate." placeholder:"TEXT"`
	Point     string   `help:"What one lifting point carries at this angle, by the supplier." placeholder:"MASS"`
	PointFrom string   `help:"On which drawing." placeholder:"TEXT"`
	Eyebolt   string   `help:"Nominal size of shouldered eyebolts, for example '1/2in'." placeholder:"LENGTH"`
	Strut     string   `help:"What the supplier says of spreader or strut between the walls." placeholder:"TEXT"`

	Chart     []string `help:"Lines of the machine's chart, for example 3m:5000kg,4m:3600kg." placeholder:"RADIUS:MASS"`
	ChartFrom string   `help:"Which machine, chart and configuration." placeholder:"TEXT"`
	Pick      string   `help:"Radius where the piece is picked up." placeholder:"LENGTH"`
	Set       string   `help:"Radius where it is set." placeholder:"LENGTH"`
	Reserve   string   `help:"Share of the chart that is kept free, for example 25." placeholder:"PER CENT"`
	Shared    int      `help:"How many machines lift it together." placeholder:"COUNT"`

	Voltage     string `help:"Of the line overhead, in kilovolts." placeholder:"KV"`
	VoltageFrom string `help:"Who said so." placeholder:"TEXT"`
	Line        string `help:"The nearest that machine, load or tackle can come to it." placeholder:"LENGTH"`

	People   int    `help:"How many people carry it." placeholder:"COUNT"`
	Each     string `help:"What one person may be given, by the assessment on this site." placeholder:"MASS"`
	EachFrom string `help:"Which assessment." placeholder:"TEXT"`

	Truck     string `help:"Rated mass of a lift truck." placeholder:"MASS"`
	TruckAt   string `help:"How far from the heel of its forks it is rated at." placeholder:"LENGTH"`
	LoadAt    string `help:"Where the middle of this load is." placeholder:"LENGTH"`
	TruckFrom string `help:"Which plate." placeholder:"TEXT"`
	JSON      bool   `name:"json" help:"Answer as JSON."`
}

// liftAnswer is what `trenchwright lift --json` prints.
type liftAnswer struct {
	Piece      string       `json:"piece"` // "" where a mass alone was given
	Lift       string       `json:"lift"`  // what a cut piece can be lifted by, as its card has it
	Checks     []check.Said `json:"checks"`
	NotChecked []string     `json:"not_checked"`
}

func (c *liftCommand) Run(p program) error {
	a := &asked{command: "lift"}
	q := lifting.Problem{Where: finding.Where{Path: "lift"}, From: c.From, MoreBy: c.MoreFrom}
	ans := liftAnswer{Checks: []check.Said{}, NotChecked: []string{}}
	if err := c.piece(p, a, &q, &ans); err != nil {
		return err
	}
	c.flags(a, &q)
	if err := a.ends(); err != nil {
		return err
	}
	sol := lifting.Check(&q)
	if sol.Findings.Any(finding.Fault) {
		return p.refuse(c.JSON, sol.Findings)
	}
	ans.Checks, ans.NotChecked = heldAll(sol.Answers, q.Words), notOnFile(sol.Findings)
	if c.JSON {
		if err := p.json(ans); err != nil {
			return err
		}
	} else {
		if ans.Piece != "" {
			fmt.Fprintln(p.out, ans.Piece)
		}
		if ans.Lift != "" {
			fmt.Fprintln(p.out, "lifted by: "+ans.Lift)
		}
		p.showChecks(ans.Checks, ans.NotChecked)
	}
	return endsOf(sol.Answers)
}

// piece is what is lifted: a unit of a job, or a mass.
func (c *liftCommand) piece(p program, a *asked, q *lifting.Problem, ans *liftAnswer) error {
	if c.Job == "" {
		if q.Mass = a.mass("--mass", c.Mass); q.Mass == nil && c.Mass == "" {
			a.fault("--mass", "nothing says what is lifted; give --mass, or a job and --at")
		}
		q.Words.Imperial = strings.Contains(c.Mass, "lb")
		return nil
	}
	if c.Mass != "" || c.At == "" {
		a.fault("--at", "a job needs --at, and says the mass itself")
		return a.ends()
	}
	t, err := p.ask("lift", c.Job)
	if err != nil {
		return err
	}
	q.Words, q.Where = t.job.Speech(), finding.Where{Place: c.At}
	for i := range t.plan.Units {
		if u := &t.plan.Units[i]; u.Mark == c.At {
			ans.Piece = fmt.Sprintf("%s, %s", u.Mark, t.size(u.Length))
			q.From = "the plan: length x mass per length of supply " + u.Supply
			c.unit(q, ans, u)
			return nil
		}
	}
	a.fault("--at", "there is no unit %s in this plan", c.At)
	return nil
}

// unit is a unit of the plan as a load.
func (c *liftCommand) unit(q *lifting.Problem, ans *liftAnswer, u *planner.Unit) {
	if u.Mass != nil {
		q.Mass = new(measure.Mass(float64(*u.Mass*1000) + 0.5))
	}
	if u.Piece != nil {
		ans.Lift = u.Piece.Lift
	}
}

// flags are what the command line says of the lift.
func (c *liftCommand) flags(a *asked, q *lifting.Problem) {
	q.Tackle, q.More = a.mass("--tackle", c.Tackle), a.share("--more", c.More)
	byHand, byTruck := c.People > 0 || c.Each != "", c.Truck+c.TruckAt+c.LoadAt != ""
	if byHand {
		q.Hand = &lifting.Hand{People: c.People, Each: a.mass("--each", c.Each), From: c.EachFrom}
	}
	if byTruck {
		q.Truck = &lifting.Truck{Rated: a.mass("--truck", c.Truck), RatedAt: a.some("--truck-at", c.TruckAt), At: a.some("--load-at", c.LoadAt), From: c.TruckFrom}
	}
	if c.Legs > 0 || !byHand && !byTruck {
		s := &lifting.Sling{Legs: max(1, c.Legs), Equalised: c.Equalised, Spread: a.some("--spread", c.Spread), Height: a.some("--height", c.Height), Near: a.some("--near", c.Near),
			Limit: a.mass("--limit", c.Limit), LimitFrom: c.LimitFrom, Point: a.mass("--point", c.Point), PointFrom: c.PointFrom, Eyebolt: a.some("--eyebolt", c.Eyebolt), Strut: c.Strut}
		if c.Angle != "" {
			if said, err := measure.ParseDegrees(c.Angle); err != nil {
				a.fault("--angle", "%v", err)
			} else {
				s.Angle = &said.Value
			}
		}
		if len(c.Lengths) > 2 {
			a.fault("--lengths", "two legs have two lengths")
		}
		for i, text := range c.Lengths[:min(2, len(c.Lengths))] {
			s.Lengths[i] = a.positive("--lengths", text, "a leg of the sling")
		}
		q.Sling = s
	}
	if len(c.Chart) > 0 || c.Pick+c.Set != "" || !byHand && !byTruck {
		m := &lifting.Machine{From: c.ChartFrom, Shared: c.Shared, Pick: a.some("--pick", c.Pick), Set: a.some("--set", c.Set)}
		for _, line := range c.Chart {
			radius, lifts, ok := strings.Cut(line, ":")
			if !ok {
				a.fault("--chart", "%q is no line of a chart; write for example 4m:3600kg", line)
				continue
			}
			if kg := a.mass("--chart", lifts); kg != nil {
				m.Chart = append(m.Chart, lifting.Row{Radius: a.positive("--chart", radius, "a radius"), Lifts: *kg})
			}
		}
		if share := a.share("--reserve", strings.TrimSuffix(c.Reserve, "%")); share != nil {
			m.Reserve = new(*share / 100)
		}
		q.Machine = m
	}
	if c.Voltage+c.Line != "" {
		q.Overhead = &lifting.Overhead{Kilovolts: a.share("--voltage", strings.TrimSuffix(strings.TrimSpace(c.Voltage), "kV")), Distance: a.some("--line", c.Line), Known: c.VoltageFrom}
	}
}

// some is a length that may be left out.
func (a *asked) some(name, text string) *measure.Length {
	if text == "" {
		return nil
	}
	return new(a.length(name, text))
}

// mass is a mass that may be left out.
func (a *asked) mass(name, text string) *measure.Mass {
	if text == "" {
		return nil
	}
	said, err := measure.ParseMass(text)
	if err != nil {
		a.fault(name, "%v", err)
		return nil
	}
	return &said.Value
}

func heldAll(of []check.Answer, s wording.Speech) []check.Said {
	list := make([]check.Said, len(of))
	for i, a := range of {
		list[i] = a.Said(s)
	}
	return list
}

// Help is shown below the flags.
func (liftCommand) Help() string {
	return `Examples:

    trenchwright lift yard/job.yaml --at A-003 --tackle 60kg --legs 4 --angle 60 --limit 1t --limit-from "tag 17"
    trenchwright lift --mass 1184kg --tackle 60kg --legs 2 --spread 1.6m --height 1.6m --chart 3m:5t,4m:3600kg --pick 3m --set 3.5m
    trenchwright lift --mass 96kg --people 4 --each 25kg --each-from "assessment 3"

Of four legs on a rigid piece two are counted. A chart is read between its lines in proportion and never beyond them; where the next
line outwards would not do, the chart itself has to say. Whoever plans lifts decides.`
}
