package main

import (
	"fmt"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/view/jobtext"
)

// spot are the figures that a leg on the spot is laid with, and which of them nobody gave.
type spot struct {
	make       job.Supply
	assumed    []string
	notChecked []string
	understood string
	ends       []string
	system     measure.System
	bent       bool // some of it may be sawn askew
}

// said writes a length exactly, in the system that the leg was given in.
func (s *spot) said(l measure.Length) string { return exactly(l, s.system) }

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

// assume says that a figure was assumed, and gives it.
func (s *spot) assume(what string, l measure.Length) measure.Length {
	s.assumed = append(s.assumed, fmt.Sprintf("%s %s: assumed, no supplier's figure", what, s.said(l)))
	return l
}

// supply reads a supply from a file.
func (p program) supply(command, file string) (job.Supply, error) {
	f, err := p.open(command, file)
	if err != nil {
		return job.Supply{}, err
	}
	defer f.Close()
	made, faults := jobtext.ReadSupply(file, f)
	if len(faults) > 0 {
		fmt.Fprint(p.err, faults.Render(measure.Metric))
		return job.Supply{}, outcome{exitFaults, plural(len(faults), "fault", "faults") + "; nothing was worked out."}
	}
	return made, nil
}

// fromFile takes the supply of a file; flags that say the same are at odds with it.
func (c *supplyFlags) fromFile(p program, a *asked, s *spot) error {
	for _, f := range []struct{ name, text string }{
		{"--stock", c.Stock}, {"--gap", c.Gap}, {"--gap-window", c.GapWindow}, {"--shortest-cut", c.ShortestCut}, {"--kerf", c.Kerf}, {"--least-slice", c.LeastSlice},
		{"--cover-pitch", c.CoverPitch}, {"--cover-gap", c.CoverGap}, {"--shortest-cover", c.ShortestCover}, {"--width", c.Width}, {"--cover-width", c.CoverWidth},
	} {
		if f.text != "" {
			a.fault(f.name, "--supply says this too; give one of them")
		}
	}
	made, err := p.supply(a.command, c.Supply)
	if err != nil {
		return err
	}
	s.make = made
	alone := job.Job{Supplies: []job.Supply{made}}
	for _, f := range job.Assumptions(alone) {
		s.assumed = append(s.assumed, f.Text)
	}
	for _, f := range job.Missing(alone) {
		if matters(f.Where.Path) {
			s.notChecked = append(s.notChecked, f.Sentence())
		}
	}
	return nil
}

// matters tells whether a missing figure has a part in laying out one leg.
func matters(path string) bool {
	path = strings.TrimPrefix(path, "supplies[0].")
	for _, part := range []string{"saw", "unit.lengths", "unit.may_turn", "joint.gap", "cover", "cover.shortest", "cover.width", "cover.gap", "cover.lengths"} {
		if path == part || part == "saw" && strings.HasPrefix(path, "saw.") {
			return true
		}
	}
	return false
}

// fromFlags makes a supply of the flags and of what is assumed in their place.
func (c *supplyFlags) fromFlags(a *asked, s *spot) {
	m := &s.make
	m.ID = "on the spot"
	stocks := a.lengths("--stock", c.Stock, "a unit")
	if c.Stock == "" {
		stocks = []measure.Length{s.assume("unit length", assumedStock)}
	}
	m.Unit.Lengths = job.Known(stocks)
	m.Joint.Gap = job.Known(c.gap(a, s))
	or := func(name, text, what string, instead measure.Length) measure.Length {
		if text == "" {
			return s.assume(what, instead)
		}
		return a.positive(name, text, "the "+what)
	}
	m.Saw.Shortest = job.Known(or("--shortest-cut", c.ShortestCut, "shortest cut unit", assumedShortest))
	c.saw(a, s)
	m.Saw.KeepFactoryEnd, m.Unit.MayTurn = job.Known(true), job.Known(true)
	s.assumed = append(s.assumed, "every placed piece keeps one factory end: assumed, no supplier's word", "plain ends, units may be turned end for end: assumed, no supplier's word")
	if c.Width != "" {
		m.Unit.Outer = job.Known(job.Section{Width: a.positive("--width", c.Width, "a unit")})
	}
	if c.CoverPitch == "" && c.CoverGap == "" && c.ShortestCover == "" && !whole(stocks, assumedPitch) {
		s.assumed = append(s.assumed, fmt.Sprintf("covers left out: none were stated, and the pitch of %s that is assumed otherwise fills these units with no whole number", s.said(assumedPitch)))
		return
	}
	pitch := or("--cover-pitch", c.CoverPitch, "cover pitch", assumedPitch)
	gap := measure.Length(0)
	if c.CoverGap == "" {
		gap = s.assume("cover gap", assumedCoverGap)
	} else {
		gap = a.length("--cover-gap", c.CoverGap)
	}
	shortest := or("--shortest-cover", c.ShortestCover, "shortest cut cover", assumedCover)
	c.covers(a, s, stocks, pitch, gap, shortest)
}

// saw takes kerf and least slice; either of the two may be 0.
func (c *supplyFlags) saw(a *asked, s *spot) {
	m := &s.make
	switch {
	case c.Kerf == "":
		m.Saw.Kerf = job.Known(s.assume("kerf", assumedKerf))
	default:
		m.Saw.Kerf = job.Known(a.length("--kerf", c.Kerf))
	}
	switch {
	case c.LeastSlice != "":
		m.Saw.LeastSlice = job.Known(a.length("--least-slice", c.LeastSlice))
	case c.Kerf != "":
		m.Saw.LeastSlice = m.Saw.Kerf
		s.assumed = append(s.assumed, fmt.Sprintf("least slice %s, the kerf: assumed, no supplier's figure", s.said(m.Saw.Kerf.Value)))
	default:
		m.Saw.LeastSlice = job.Known(s.assume("least slice", assumedSlice))
	}
}

func (c *supplyFlags) covers(a *asked, s *spot, stocks []measure.Length, pitch, gap, shortest measure.Length) {
	if len(a.faults) > 0 {
		return // pitch and gap are held against each other once both are known
	}
	if pitch <= gap {
		a.fault("--cover-pitch", "%s is not more than the cover gap of %s; the pitch is one cover and one gap", pitch, gap)
		return
	}
	if !whole(stocks, pitch) {
		a.fault("--cover-pitch", "no whole number of covers fills each unit length at a pitch of %s", pitch)
		return
	}
	width := measure.Length(0)
	switch {
	case c.CoverWidth != "":
		width = a.positive("--cover-width", c.CoverWidth, "a cover")
	case s.bent:
		s.notChecked = append(s.notChecked, "NOT CHECKED: no width of the cover on file: no covers are laid on the units at a bend. Ask: the supplier.")
	}
	s.make.Cover = &job.CoverMake{
		Lengths: job.Known([]measure.Length{pitch - gap}), Gap: job.Known(measure.Window{Nominal: gap, Min: gap, Max: gap}),
		Width: job.Known(width), Shortest: job.Known(shortest),
	}
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

// gap is the joint's window, and what is aimed at in it.
func (c *supplyFlags) gap(a *asked, s *spot) measure.Window {
	if c.GapWindow == "" {
		g := measure.Length(0)
		if c.Gap == "" {
			g = s.assume("joint gap", assumedGap)
		} else {
			g = a.length("--gap", c.Gap)
		}
		return measure.Window{Nominal: g, Min: g, Max: g}
	}
	from, to := a.stretch("--gap-window", c.GapWindow, "8mm..14mm")
	w := measure.Window{Nominal: assumedGap, Min: from, Max: to}
	switch {
	case c.Gap != "":
		w.Nominal = a.length("--gap", c.Gap)
		if w.Nominal < from || w.Nominal > to {
			a.fault("--gap", "%s does not lie in the window from %s to %s", w.Nominal, from, to)
		}
		return w
	case w.Nominal < from || w.Nominal > to:
		w.Nominal = from + (to-from)/2
	}
	s.assume("joint gap that is aimed at", w.Nominal)
	return w
}
