package main

import (
	"fmt"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/solve/layout"
)

// legCommand lays out one leg on the spot. What nobody states is assumed and said to be assumed.
type legCommand struct {
	Length        string   `arg:"" help:"Clear length of the leg, from the outer face of its first unit to that of its last, for example 9020mm or \"29'-7 1/8\\\"\"."`
	Supply        string   `help:"Take everything from the first supply of this job file." type:"existingfile" placeholder:"FILE" xor:"supply"`
	Stock         string   `help:"Unit lengths that are made, for example 3000mm,2000mm." placeholder:"LENGTH,…"`
	Gap           string   `help:"Fixed joint gap, for example 10mm." placeholder:"LENGTH" xor:"gap"`
	GapWindow     string   `help:"Joint gap from least to greatest, for example 8mm..14mm; aimed at the assumed gap, or the middle." placeholder:"LEAST..MOST" xor:"gap"`
	ShortestCut   string   `help:"Shortest cut unit." placeholder:"LENGTH"`
	Kerf          string   `help:"What the saw takes." placeholder:"LENGTH"`
	LeastSlice    string   `help:"Least slice that the saw can take off an end." placeholder:"LENGTH"`
	CoverPitch    string   `help:"Cover and one gap." placeholder:"LENGTH"`
	CoverGap      string   `help:"Gap between covers." placeholder:"LENGTH"`
	ShortestCover string   `help:"Shortest cut cover." placeholder:"LENGTH"`
	Zone          []string `help:"Stretch where no joint may stand, for example 3010mm..6010mm. May be given several times." placeholder:"A..B" sep:"none"`
	JSON          bool     `name:"json" help:"Answer as JSON."`
}

// spot are the figures that a leg on the spot is laid with, and which of them were assumed.
type spot struct {
	make    job.Supply
	assumed []string
	heard   []string
}

// The figures that are assumed where the command line states none. They are printed as assumed, wherever they go.
const (
	assumedStock    = 3000 * measure.Millimetre
	assumedGap      = 10 * measure.Millimetre
	assumedShortest = 600 * measure.Millimetre
	assumedKerf     = 5 * measure.Millimetre
	assumedSlice    = 5 * measure.Millimetre
	assumedPitch    = 1000 * measure.Millimetre
	assumedCoverGap = 4 * measure.Millimetre
	assumedCover    = 300 * measure.Millimetre
)

func (c *legCommand) Run(p program) error {
	q, s, err := c.problem(p)
	if err != nil {
		return outcome{exitUsage, "trenchwright leg: " + err.Error()}
	}
	answer, err := planner.OneLeg(q, s.make)
	if err != nil {
		return outcome{exitFaults, "trenchwright leg: " + err.Error()}
	}
	answer.Assumed = append([]string{}, s.assumed...)
	if c.JSON {
		if err := p.json(answer); err != nil {
			return err
		}
	} else {
		p.showLeg(answer, q, s)
	}
	switch layout.Verdict(answer.Verdict) {
	case layout.Found:
		return nil
	case layout.Impossible:
		return outcome{code: exitImpossible}
	}
	return outcome{code: exitUndecided}
}

// problem reads the flags.
func (c *legCommand) problem(p program) (layout.Problem, spot, error) {
	var q layout.Problem
	l, err := length("LENGTH", c.Length)
	if err != nil {
		return q, spot{}, err
	}
	var s spot
	if c.Supply != "" {
		s, err = c.fromFile(p)
	} else {
		s, err = c.fromFlags()
	}
	if err != nil {
		return q, s, err
	}
	q.Length = l.Length
	s.heard = append(s.heard, "length "+l.As)
	for _, z := range c.Zone {
		from, to, err := stretch("--zone", z)
		if err != nil {
			return q, s, err
		}
		q.Zones = append(q.Zones, layout.Zone{From: from, To: to, Why: fmt.Sprintf("the zone from %s to %s", from, to)})
	}
	return q, s, nil
}

func (c *legCommand) fromFile(p program) (spot, error) {
	for name, v := range map[string]string{"--stock": c.Stock, "--gap": c.Gap, "--gap-window": c.GapWindow, "--shortest-cut": c.ShortestCut, "--kerf": c.Kerf,
		"--least-slice": c.LeastSlice, "--cover-pitch": c.CoverPitch, "--cover-gap": c.CoverGap, "--shortest-cover": c.ShortestCover} {
		if v != "" {
			return spot{}, fmt.Errorf("%s and --supply both say what is made: give one of them", name)
		}
	}
	j, err := p.readJob(c.Supply, false)
	if err != nil {
		return spot{}, err
	}
	s := spot{make: j.Supplies[0]}
	for _, f := range job.Assumptions(j) {
		s.assumed = append(s.assumed, f.Text)
	}
	return s, nil
}

// fromFlags makes a supply of the flags and of what is assumed in their place.
func (c *legCommand) fromFlags() (spot, error) {
	s := spot{}
	take := func(flag, text string, instead measure.Length) measure.Length { return instead }
	var fail error
	take = func(flag, text string, instead measure.Length) measure.Length {
		if text == "" {
			s.assumed = append(s.assumed, fmt.Sprintf("%s %s: assumed, no supplier's figure", strings.TrimPrefix(flag, "--"), instead))
			return instead
		}
		r, err := length(flag, text)
		if err != nil && fail == nil {
			fail = err
		}
		return r.Length
	}
	var stocks []measure.Length
	for _, t := range strings.FieldsFunc(c.Stock, func(r rune) bool { return r == ',' }) {
		stocks = append(stocks, take("--stock", strings.TrimSpace(t), 0))
	}
	if len(stocks) == 0 {
		stocks = []measure.Length{take("--stock", "", assumedStock)}
	}
	m := &s.make
	m.ID = "on the spot"
	m.Unit.Lengths = job.Known(stocks)
	m.Unit.MayTurn = job.Known(true)
	gap, err := c.gap(take)
	if err != nil && fail == nil {
		fail = err
	}
	m.Joint.Gap = job.Known(gap)
	m.Saw.Shortest = job.Known(take("--shortest-cut", c.ShortestCut, assumedShortest))
	m.Saw.Kerf = job.Known(take("--kerf", c.Kerf, assumedKerf))
	m.Saw.LeastSlice = job.Known(take("--least-slice", c.LeastSlice, assumedSlice))
	m.Saw.KeepFactoryEnd = job.Known(true)
	s.assumed = append(s.assumed, "every placed piece keeps one factory end: assumed, no supplier's word", "plain ends, may be turned end for end: assumed, no supplier's word")
	if c.CoverPitch == "" && c.CoverGap == "" && c.ShortestCover == "" && !whole(stocks, assumedPitch) {
		s.assumed = append(s.assumed, fmt.Sprintf("covers left out: none were stated, and the pitch of %s that is assumed otherwise fills these units with no whole number", measure.Length(assumedPitch)))
		return s, fail
	}
	pitch, coverGap := take("--cover-pitch", c.CoverPitch, assumedPitch), take("--cover-gap", c.CoverGap, assumedCoverGap)
	shortest := take("--shortest-cover", c.ShortestCover, assumedCover)
	if fail != nil {
		return s, fail
	}
	if !whole(stocks, pitch) {
		return s, fmt.Errorf("--cover-pitch %s: no whole number of covers fills a unit of each length in --stock", pitch)
	}
	if pitch <= coverGap {
		return s, fmt.Errorf("--cover-pitch %s is not more than --cover-gap %s: the pitch is one cover and one gap", pitch, coverGap)
	}
	m.Cover = &job.CoverMake{
		Lengths: job.Known([]measure.Length{pitch - coverGap}), Gap: job.Known(measure.Window{Nominal: coverGap, Min: coverGap, Max: coverGap}),
		Width: job.Known(measure.Length(1)), Shortest: job.Known(shortest),
	}
	return s, nil
}

// whole tells whether a whole number of pitches fills every stock length.
func whole(stocks []measure.Length, pitch measure.Length) bool {
	for _, l := range stocks {
		if pitch <= 0 || l%pitch != 0 {
			return false
		}
	}
	return true
}

func (c *legCommand) gap(take func(flag, text string, instead measure.Length) measure.Length) (measure.Window, error) {
	if c.GapWindow == "" {
		g := take("--gap", c.Gap, assumedGap)
		return measure.Window{Nominal: g, Min: g, Max: g}, nil
	}
	from, to, err := stretch("--gap-window", c.GapWindow)
	if err != nil {
		return measure.Window{}, err
	}
	aim := measure.Length(assumedGap)
	if aim < from || aim > to {
		aim = from + (to-from)/2
	}
	return measure.Window{Nominal: aim, Min: from, Max: to}, nil
}

// length reads one length from the command line; a bare number is millimetres.
func length(flag, text string) (measure.Reading, error) {
	r, err := measure.ParseIn(text, measure.UnitMillimetre)
	if err != nil {
		return r, fmt.Errorf("%s: %w", flag, err)
	}
	if r.Length < 0 {
		return r, fmt.Errorf("%s: %s is negative", flag, r.Length)
	}
	return r, nil
}

// stretch reads A..B. A bare number takes the unit of the other one, or is millimetres.
func stretch(flag, text string) (from, to measure.Length, err error) {
	a, b, ok := strings.Cut(text, "..")
	if !ok {
		return 0, 0, fmt.Errorf("%s: %q is not A..B, for example 3010mm..6010mm", flag, text)
	}
	x, err := length(flag, a)
	if err != nil {
		return 0, 0, err
	}
	y, err := length(flag, b)
	if err != nil {
		return 0, 0, err
	}
	if x.Length >= y.Length {
		return 0, 0, fmt.Errorf("%s: %s is not less than %s", flag, x.Length, y.Length)
	}
	return x.Length, y.Length, nil
}
