package main

import (
	"errors"
	"fmt"
	"strings"
	"text/tabwriter"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/planner"
)

type rodCommand struct {
	Job        string   `arg:"" help:"The job, as YAML or JSON."`
	Hi         string   `help:"Height of instrument, or of a laser's beam, as a level: 37.250 m, or a bare number in the unit of the job's levels; below nought --hi=-1.2." placeholder:"LEVEL"`
	Of         string   `help:"What the rod is held on: formation, bed, pad, underside, invert, top (of the wall) or cover. Without it pads, or the bed where there are none." placeholder:"LEVEL"`
	Rod        string   `help:"How far the rod can be read: 5 m." placeholder:"LENGTH"`
	Leg        string   `help:"One leg alone." placeholder:"LEG"`
	LaserSlope string   `help:"The laser's plane slopes along the run, rising up-chainage: 0.5 %, 1:200; falling --laser-slope=-0.5%." placeholder:"GRADE"`
	LaserAt    string   `help:"Where that laser stands: a place or a chainage." placeholder:"PLACE"`
	Beam       string   `help:"Laser on grade: how high its beam runs above the level at its joint. Without it the beam is at --hi there." placeholder:"LENGTH"`
	Peg        []string `help:"A peg's level and its place, for example 36.850@A-004/A-005; may be given several times." placeholder:"LEVEL@PLACE" sep:"none"`
	Offset     string   `help:"How far the pegs stand beside the line, for example \"left 1.5 m\"." placeholder:"SIDE LENGTH"`
	JSON       bool     `name:"json" help:"Answer as JSON."`
}

// Run says what the rod shows.
func (c *rodCommand) Run(p program) error {
	if c.Hi == "" && c.Beam == "" && len(c.Peg) == 0 {
		return outcome{exitUsage, "trenchwright rod: nothing is set up: give --hi LEVEL, or --beam LENGTH, or a peg with --peg LEVEL@PLACE\nSee: trenchwright rod -h"}
	}
	t, err := p.ask("rod", c.Job)
	if err != nil {
		return err
	}
	q, err := c.question(t)
	if err != nil {
		return err
	}
	r, err := t.Rod(q)
	if err != nil {
		return outcome{exitUsage, "trenchwright rod: " + err.Error()}
	}
	if c.JSON {
		return p.json(r)
	}
	if q.Height != nil {
		fmt.Fprintf(p.out, "rod on the %s; height of instrument %s\n", t.levelName(r.Of), t.figures().Say(*q.Height))
		p.showReadings(t, r)
	}
	p.showGrades(t, r)
	p.showPegs(t, r)
	for _, text := range r.NotChecked {
		fmt.Fprintln(p.out, text)
	}
	for _, f := range r.Findings {
		fmt.Fprintln(p.out, f.Say(t.job.Speech()))
	}
	return nil
}

// question reads the flags.
func (c *rodCommand) question(t trench) (planner.RodQuestion, error) {
	a := &asked{command: "rod"}
	q := planner.RodQuestion{Of: c.Of, Leg: c.Leg}
	if c.Hi != "" {
		q.Height = t.asLevel(a, "--hi", c.Hi)
	}
	if c.Rod != "" {
		q.Rod = new(a.positive("--rod", c.Rod, "a rod"))
	}
	if c.Beam != "" {
		q.Beam = new(a.positive("--beam", c.Beam, "the height of a beam"))
	}
	c.laser(t, a, &q)
	for _, text := range c.Peg {
		level, place, ok := strings.Cut(text, "@")
		if !ok {
			a.fault("--peg", "%q is not of the form LEVEL@PLACE; write for example 36.850@A-004/A-005", text)
			continue
		}
		z := t.asLevel(a, "--peg", level)
		s, err := t.Find(place, c.Leg)
		if err != nil {
			a.fault("--peg", "%v", err)
		} else if z != nil {
			q.Pegs = append(q.Pegs, planner.PegAt{Spot: s, Level: *z})
		}
	}
	if c.Offset != "" {
		side, length, _ := strings.Cut(strings.TrimSpace(strings.ToLower(c.Offset)), " ")
		if side != "left" && side != "right" {
			a.fault("--offset", "%q does not begin with left or right; write for example \"left 1.5 m\"", c.Offset)
		} else if q.Offset = a.positive("--offset", length, "an offset"); side == "left" {
			q.Offset = -q.Offset
		}
	}
	return q, a.ends()
}

// laser reads the slope of a laser's plane and where it stands; one without the other says nothing.
func (c *rodCommand) laser(t trench, a *asked, q *planner.RodQuestion) {
	switch {
	case c.LaserSlope == "" && c.LaserAt == "":
		return
	case c.LaserSlope == "" || c.LaserAt == "" || c.Hi == "":
		a.fault("--laser-slope", "a sloping plane takes its slope, --laser-at (where the laser stands) and --hi (the beam's level there)")
		return
	}
	g, err := measure.ParseGrade(c.LaserSlope)
	if err != nil {
		a.fault("--laser-slope", "%v", err)
	}
	s, err := t.Find(c.LaserAt, c.Leg)
	if err != nil {
		a.fault("--laser-at", "%v", err)
	}
	q.Slope, q.At = &g.Value, s
}

// asLevel reads a level; a bare number is in the unit of the job's levels.
func (t trench) asLevel(a *asked, name, text string) *measure.Length {
	r, err := measure.ParseIn(strings.TrimSpace(text), t.figures().Unit)
	if err == nil && r.Length.Abs() > 10*measure.Kilometre {
		err = errors.New(r.Length.MString() + " m is no level on this earth")
	}
	if err != nil {
		a.fault(name, "%v", err)
		return nil
	}
	return &r.Length
}

// levelName is what a rod is held on, in the job's words.
func (t trench) levelName(of string) string {
	switch of {
	case "formation":
		return t.word(wording.Formation)
	case "bed":
		return t.word(wording.Bed)
	case "pad":
		return t.word(wording.Pad)
	case "top":
		return "top of the wall"
	case "finished":
		return "finished ground"
	}
	return of
}

// reading is what is read on a rod, left and right where they differ.
func (t trench) reading(left, right measure.Length) string {
	a, b := t.figures().Say(left), t.figures().Say(right)
	if a == b {
		return a
	}
	return a + " left, " + b + " right"
}

func (p program) showReadings(t trench, r planner.RodAnswer) {
	w := tabwriter.NewWriter(p.out, 0, 0, 2, ' ', 0)
	leg := ""
	for _, x := range r.Readings {
		if x.Leg != leg {
			leg = x.Leg
			fmt.Fprintf(w, "leg %s\trod\tlevel\t%s\n", leg, t.word(wording.Chainage))
		}
		why := ""
		if !x.Seen {
			why = "\tNOT READ: " + x.Why
		}
		rod := "-"
		if min(x.Readings[0], x.Readings[1]) >= 0 {
			rod = t.reading(measure.Length(x.Readings[0]), measure.Length(x.Readings[1]))
		}
		if x.Before != nil && x.Seen {
			why = "\tunder the " + t.word(wording.Unit) + " before: " + t.figures().Say(measure.Length(*x.Before))
		}
		fmt.Fprintf(w, "  %s\t%s\t%s\t%s%s\n", x.Place, rod,
			t.reading(measure.FromMetres(x.Levels[0]), measure.FromMetres(x.Levels[1])), t.Chainage(measure.Length(x.Chainage)), why)
	}
	w.Flush()
	if len(r.Setups) > 0 {
		fmt.Fprintln(p.out, "move the instrument:")
	}
	for _, s := range r.Setups {
		height := "height of instrument above " + t.level(&s.Lowest)
		if s.Highest != nil {
			height = "height of instrument from " + t.level(&s.Lowest) + " to " + t.level(s.Highest)
		}
		fmt.Fprintf(p.out, "  %s to %s: %s\n", s.From, s.To, height)
	}
}

// showGrades shows one line for every grade: what is set, and the one reading.
func (p program) showGrades(t trench, r planner.RodAnswer) {
	if len(r.Grades) == 0 {
		return
	}
	fmt.Fprintf(p.out, "a laser on grade: one reading on the %s serves every joint\n", t.levelName(r.Of))
	w := tabwriter.NewWriter(p.out, 0, 0, 2, ' ', 0)
	fmt.Fprintf(w, "  rod\tdial\tlaser at\tlooks\tfrom\tto\tbeam there\n")
	for _, g := range r.Grades {
		looks := t.word(wording.UpChainage)
		if !g.Up {
			looks = strings.Replace(looks, "up-", "down-", 1)
		}
		rod, note := "-", ""
		if g.Dial != "" {
			right := g.Reading
			if g.Right != nil {
				right = *g.Right
			} else {
				note = "left wall only: the crossfall changes"
			}
			rod = t.reading(measure.Length(g.Reading), measure.Length(right)) + ", " + g.Wall + " wall"
		}
		if g.Right != nil && *g.Right == g.Reading {
			rod = strings.TrimSuffix(rod, ", left wall") + ", both walls"
		}
		if g.Why != "" {
			note = "NOT READ: " + g.Why
		}
		if g.Worst != 0 && measure.Length(g.Worst).Abs() >= measure.Millimetre/2 {
			note = strung("; ", note, "at "+g.WorstAt+" it gives "+t.job.Speech().Length(measure.Length(g.Worst))+" off")
		}
		if note != "" {
			note = "\t" + note
		}
		fmt.Fprintf(w, "  %s\t%s\t%s\t%s\t%s\t%s\t%s%s\n", rod, g.Dial, g.Laser, looks, g.From, g.To, t.level(g.Beam), note)
	}
	w.Flush()
}

// showPegs shows each peg as it is marked.
func (p program) showPegs(t trench, r planner.RodAnswer) {
	for _, g := range r.Pegs {
		beside := g.Side
		if g.Offset != 0 {
			beside = t.size(g.Offset) + " " + g.Side
		}
		fmt.Fprintf(p.out, "peg at %s: top %s, %s of the line\n", t.spot(g.Place), t.level(&g.Level), strings.TrimSuffix(beside, " of the line"))
		l := p.lines()
		for _, m := range g.Marks {
			text := m.Arrow + " " + m.Way
			if m.Amount != 0 {
				text += " " + t.figures().Say(measure.Length(m.Amount))
			}
			l.row(t.levelName(m.What), text+"\t"+t.level(&m.Level))
		}
		f := t.figures().AtLeast(3)
		l.row("peg", fmt.Sprintf("E %s\tN %s", f.Say(measure.FromMetres(g.E)), f.Say(measure.FromMetres(g.N))))
		l.w.Flush()
	}
}
