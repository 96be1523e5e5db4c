package drawing

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job/planner"
)

// digWords say how wide the bottom of the dig is on this leg and how its sides stand, stretch by stretch: what the driver
// needs beside the cut of each joint.
func (c *levelCard) digWords() []string {
	if c.plan.Dig == nil {
		return nil
	}
	var wide []string
	last := ""
	for _, s := range c.plan.Dig.Sections {
		if s.Leg != c.leg.Name || s.Bottom == nil {
			continue
		}
		said := fmt.Sprintf("bottom %s wide, %s left and %s right, %s", c.length(s.Bottom.Width), c.length(-s.Bottom.Left[0]), c.length(s.Bottom.Right[0]), s.Sides)
		if said != last {
			wide = append(wide, "from "+c.chainage(s.At)+" "+said)
			last = said
		}
	}
	if wide == nil {
		return nil
	}
	return []string{"DIG " + strings.Join(wide, "; ")}
}

// mostDrainGrades is how many grades of the drain a card tells; of more the long section does.
const mostDrainGrades = 2

// drainWords say how wide the drain's trench is, where the pipe lies in it, how much deeper it is dug, and the grade that a
// laser for pipes is set to.
func (c *levelCard) drainWords() []string {
	deep := 0 // places at which the pipe lies below the formation
	over := slices.ContainsFunc(c.rows, func(r planner.SetOut) bool { return r.Levels != nil && r.Levels.Drain != nil })
	if !c.drained() || !over {
		return nil
	}
	pipe, own := c.plan.Drain, c.job.Levels.Drain
	bedding := 0.0
	if own != nil {
		bedding = own.Bedding.Metres()
	}
	for _, r := range c.rows {
		if l := r.Levels; l != nil && l.Drain != nil && l.Formation != nil && *l.Drain-bedding < *l.Formation-0.0005 {
			deep++
		}
	}
	side := "on the " + c.words.centreline
	if pipe.Offset != 0 {
		word := "right"
		if pipe.Offset < 0 {
			word = "left"
		}
		side = c.length(measure.MM(measure.Length(pipe.Offset).Abs())) + " " + word + " of the " + c.words.centreline
	}
	var said, out []string
	switch {
	case deep == 0:
	case own != nil && own.Trench.Known:
		said = append(said, "trench "+c.style.Format.Length(own.Trench.Value)+" wide")
	default:
		out = append(out, notChecked+": no width of the drain's trench on file. Ask: the engineer")
	}
	said = append(said, fmt.Sprintf("pipe %s, its middle %s, levels those of its underside (peg cards, long section)", c.length(pipe.Diameter), side))
	if bedding > 0 {
		said = append(said, c.style.Format.Length(own.Bedding)+" of stone below it: dig so much deeper")
	}
	return append([]string{"DRAIN " + joined("; ", append(said, c.drainGrades())...)}, out...)
}

// drainGrades are the grades of the drain below the leg, looking up-chainage.
func (c *levelCard) drainGrades() string {
	var said []string
	for _, g := range c.plan.Drain.Grades {
		if g.Leg == c.leg.Name {
			s := slopeOf(planner.GradeRun{Grade: g.Grade})
			said = append(said, joined(" ", s.word, s.size, "from", c.chainage(g.FromMM), "to", c.chainage(g.ToMM)))
		}
	}
	if n := len(said); n > mostDrainGrades {
		return fmt.Sprintf("it has %d grades here: see the long section", n)
	}
	return strings.Join(said, ", ")
}
