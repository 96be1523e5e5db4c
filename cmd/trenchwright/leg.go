package main

import (
	"fmt"
	"math"

	"trenchwright/base/measure"
	"trenchwright/job/planner"
	"trenchwright/place/route"
	"trenchwright/solve/layout"
)

// legCommand lays out one leg on the spot. What nobody states is assumed and said to be assumed.
type legCommand struct {
	Length string `arg:"" help:"Length of the leg on its axis, from the outer face of its first unit to that of its last: 9020mm, 9.02m or \"29'-7 1/8\\\"\"."`
	supplyFlags
	Zone      []string `help:"Stretch where no joint may stand, for example 3010mm..6010mm; may be given several times." placeholder:"A..B" sep:"none"`
	StartBend string   `help:"The leg starts in the mitre of a bend, for example \"right 90°\"." placeholder:"TURN"`
	EndBend   string   `help:"The leg ends in the mitre of a bend." placeholder:"TURN"`
	Hold      bool     `help:"Both ends are fixed: keep one closer on hold, to be cut from a measurement."`
	JSON      bool     `name:"json" help:"Answer as JSON."`
}

// supplyFlags are a supply as a command line states it.
type supplyFlags struct {
	Supply        string `help:"Take everything from this file: a job (its first supply) or one supply alone." placeholder:"FILE"`
	Stock         string `help:"Unit lengths that are made, for example 3000mm,2000mm." placeholder:"LENGTH,…"`
	Gap           string `help:"Joint gap, for example 10mm; fixed unless there is a window." placeholder:"LENGTH"`
	GapWindow     string `help:"Least and greatest joint gap, for example 8mm..14mm." placeholder:"LEAST..MOST"`
	ShortestCut   string `help:"Shortest cut unit." placeholder:"LENGTH"`
	Kerf          string `help:"What the saw takes." placeholder:"LENGTH"`
	LeastSlice    string `help:"Least slice that the saw can take off an end; the kerf where only that is given." placeholder:"LENGTH"`
	CoverPitch    string `help:"One cover and one gap." placeholder:"LENGTH"`
	CoverGap      string `help:"Gap between two covers." placeholder:"LENGTH"`
	ShortestCover string `help:"Shortest cut cover." placeholder:"LENGTH"`
	Width         string `help:"Outer width of the unit; needed where there is a bend." placeholder:"LENGTH"`
	CoverWidth    string `help:"Width of a cover; without it no covers are laid at a bend." placeholder:"LENGTH"`
}

// legAnswer is what `trenchwright leg --json` prints.
type legAnswer struct {
	planner.OneLegAnswer
	Understood string   `json:"understood"` // the length, as it was read
	Ends       []string `json:"ends"`       // what a mitre at its ends means
	NotChecked []string `json:"not_checked"`
}

func (c *legCommand) Run(p program) error {
	q, s, err := c.problem(p)
	if err != nil {
		return err
	}
	answer, err := planner.OneLeg(q, s.make)
	if err != nil {
		return outcome{exitFaults, "trenchwright leg: " + err.Error()}
	}
	a := legAnswer{OneLegAnswer: answer, Understood: s.understood, Ends: append([]string{}, s.ends...), NotChecked: append([]string{}, s.notChecked...)}
	a.Assumed = append([]string{}, s.assumed...)
	if c.JSON {
		if err := p.json(a); err != nil {
			return err
		}
	} else {
		p.showLeg(a, s.system)
	}
	return verdictEnds(a.Verdict)
}

// problem reads the flags.
func (c *legCommand) problem(p program) (layout.Problem, spot, error) {
	a := &asked{command: "leg"}
	s := spot{bent: c.StartBend+c.EndBend != ""}
	if r, err := measure.Parse(c.Length); err == nil && (r.Unit == measure.UnitFoot || r.Unit == measure.UnitInch) {
		s.system = measure.Imperial // what is assumed is said in feet and inches too
	}
	if c.Supply != "" {
		if err := c.fromFile(p, a, &s); err != nil {
			return layout.Problem{}, s, err
		}
	} else {
		c.fromFlags(a, &s)
	}
	l, ok := a.reading("LENGTH", c.Length)
	if ok && l.Length == 0 {
		a.fault("LENGTH", "a leg is longer than 0 mm")
	}
	s.understood = l.As
	q := layout.Problem{Length: l.Length, Hold: c.Hold, Prefer: layout.Prefer{Step: measure.Format{System: s.system}.Step()}}
	if s.system == measure.Imperial {
		q.Show = &measure.Format{System: s.system}
	}
	for _, z := range c.Zone {
		from, to := a.stretch("--zone", z, "3010mm..6010mm")
		q.Zones = append(q.Zones, layout.Zone{From: from, To: to, Why: "the zone from " + s.said(from) + " to " + s.said(to)})
	}
	q.Start = c.mitre(a, &s, "--start-bend", c.StartBend, "starts", -1)
	q.End = c.mitre(a, &s, "--end-bend", c.EndBend, "ends", +1)
	return q, s, a.ends()
}

// mitre is an end of the leg in a bend. Into a right bend the cut line has the slope +tan, out of it -tan (layout.md §5).
func (c *legCommand) mitre(a *asked, s *spot, name, text, does string, sign float64) layout.End {
	if text == "" {
		return layout.End{}
	}
	turn := a.bend(name, text)
	width := s.make.Unit.Outer.Value.Width
	if width <= 0 {
		a.fault(name, "a mitre needs the outer width of the unit; give --width, or a supply that has it")
		return layout.End{}
	}
	corner := route.Corner{Deflection: turn, Width: width}
	if turn != 0 {
		s.ends = append(s.ends, fmt.Sprintf("it %s in a bend, %s: sawn %g° from square there, one side %s longer than the other",
			does, text, math.Abs(turn.Degrees())/2, s.said(corner.SidesDiffer())))
		if turn < 0 {
			sign = -sign
		}
	}
	return layout.End{Mitred: turn != 0, Tan: sign * corner.Tan()}
}
