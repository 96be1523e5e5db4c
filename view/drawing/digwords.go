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

// drainWords say how wide the drain's trench is, where the pipe lies in it and how much deeper it is dug.
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
	return slices.Concat([]string{"DRAIN " + joined("; ", append(said, "how it is laid: card of the drain")...)}, out, c.drainOutlets())
}

// drainOutlets are where the drain leaves the leg: into what, and how high its pipe lies there. Of what it runs into nothing
// but a name can be on file.
func (c *levelCard) drainOutlets() []string {
	var out []string
	for _, o := range c.job.Levels.Outlets {
		if o.Leg != c.leg.Name || o.Of == "run" {
			continue
		}
		text := fmt.Sprintf("OUTLET %s at %s", o.ID, c.chainage(measure.MM(o.At))) + prefixed(" into ", o.Into)
		underside, invert := c.drainEnd(measure.MM(o.At))
		text += prefixed(": underside of the pipe ", c.levelFigure(underside)) + prefixed(", its invert ", c.levelFigure(invert))
		if underside == nil {
			text += "; " + notChecked + ": no level of the drain there"
		}
		out = append(out, text+"; "+notChecked+": no level of what it runs into on file. Ask: the engineer")
	}
	return out
}

// drainEnd is the level of the drain at a chainage of the leg where a grade of it begins or ends, m: its underside, and its
// invert where the thickness of its wall is on file; nil: none begins or ends there.
func (c *levelCard) drainEnd(at measure.MM) (underside, invert *float64) {
	const near = measure.MM(20 * measure.Millimetre)
	for _, g := range c.plan.Drain.Grades {
		switch {
		case g.Leg != c.leg.Name:
		case at >= g.ToMM-near && at <= g.ToMM+near:
			return &g.Ends, g.Invert[1]
		case at >= g.FromMM-near && at <= g.FromMM+near:
			return &g.Starts, g.Invert[0]
		}
	}
	return nil, nil
}

// pitWords are the pits for the castings at the ends of the leg: where their middle lies, how far they reach along the leg, how
// wide and how deep they are, and with which legs they are one.
func (c *levelCard) pitWords() []string {
	var out []string
	for _, p := range c.plan.Dig.Pits {
		var with []string
		for _, a := range p.Arms {
			if a.Leg != c.leg.Name {
				with = append(with, a.Leg)
			}
		}
		for _, a := range p.Arms {
			if a.Leg != c.leg.Name {
				continue
			}
			end := shortPlace(c.rows[0])
			middle := a.FromMM
			if a.FromMM > 0 {
				end, middle = shortPlace(c.rows[len(c.rows)-1]), a.ToMM
			}
			text := fmt.Sprintf("PIT for %s, its middle at %s, easting %s, northing %s: dug as the trench beside it, bottom %s wide, from %s to %s; %s %s at the middle, there %s deep, %s at %s",
				c.nodeWords(c.node(p.Node)), c.chainage(middle), c.eastNorth(p.E), c.eastNorth(p.N), c.length(a.Bottom), c.chainage(a.FromMM), c.chainage(a.ToMM),
				c.words.formation, c.levelFigure(&a.Middle), c.length(a.Depth), c.levelFigure(&a.Face), end)
			if len(with) > 0 {
				text += "; one pit with " + joined(" ", map[bool]string{true: "leg", false: "legs"}[len(with) == 1], strings.Join(with, ", "))
			}
			out = append(out, text+". "+strings.Join(p.Missing, ". "))
		}
	}
	return out
}
