package drawing

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
)

// sideWords say how the sides of the leg's dig stand, stretch by stretch: in what soil by whose word, what supports them, and
// what the rules of the place say of them.
func (c *levelCard) sideWords() []string {
	var out []string
	last := ""
	for _, x := range c.sideStretches() {
		at := measure.Length(x.From+x.To) / 2
		dig := c.job.Dig.At(c.leg.Name, at)
		text := c.sideSaid(x, dig)
		if r := c.sideResult(x); r != "" {
			text += "; " + r
		}
		if dig.Sides == "vertical" || dig.Sides == "supported" {
			text += "; support: " + c.supportSaid(dig)
		}
		if text != last {
			out = append(out, fmt.Sprintf("SIDES from %s to %s %s", c.chainage(x.From), c.chainage(x.To), text))
		}
		last = text
	}
	return out
}

// sideStretch is a stretch of leg that is dug in one way.
type sideStretch struct {
	From, To measure.MM
	held     *planner.Excavation // against the rules of the place; nil: no rules on file
}

// sideStretches are those of the leg: as they were held against the rules, else as the job parts it.
func (c *levelCard) sideStretches() []sideStretch {
	end := c.rows[len(c.rows)-1].Chainage
	var out []sideStretch
	for i, x := range c.plan.Excavation {
		if x.Leg != c.leg.Name {
			continue
		}
		s := sideStretch{0, end, &c.plan.Excavation[i]}
		if x.From != nil && x.To != nil {
			s.From, s.To = *x.From, min(*x.To, end)
		}
		out = append(out, s)
	}
	if out != nil {
		return out
	}
	at := measure.MM(0)
	for _, s := range c.job.Dig.Stretches { // in the order of the job, which goes along
		from, to := measure.MM(s.From), min(measure.MM(s.To), end)
		if s.To == 0 {
			to = end
		}
		if s.Leg != c.leg.Name || from < at {
			continue
		}
		if from > at {
			out = append(out, sideStretch{at, from, nil})
		}
		out, at = append(out, sideStretch{from, to, nil}), to
	}
	if at < end {
		out = append(out, sideStretch{at, end, nil})
	}
	return out
}

// sideSaid is how sides stand and in what soil, as entered.
func (c *levelCard) sideSaid(x sideStretch, d job.Dig) string {
	form := d.Sides
	for _, one := range c.plan.Dig.Sections { // with the slope, in the plan's words
		if one.Leg == c.leg.Name && one.At >= x.From && one.At < x.To && one.Sides != "" {
			form = one.Sides
			break
		}
	}
	if form == "" {
		form = notChecked + ": how they stand is not on file. Ask: the competent person"
	}
	if !d.Soil.Known {
		return form + ", soil " + notChecked + ": no class on file. Ask: the competent person"
	}
	soil := fmt.Sprintf(", soil classed %q", d.Soil.Value)
	if d.Soil.Assumed {
		soil += ", assumed"
	}
	if d.Soil.By != "" {
		soil += " by " + d.Soil.By
	}
	return form + soil
}

// sideResult is what the rules of the place say of a stretch's sides, in the plan's words.
func (c *levelCard) sideResult(x sideStretch) string {
	if x.held == nil {
		return notChecked + ": no rules of the place on file. Ask: the competent person"
	}
	var said []string
	if x.held.Stopped {
		said = append(said, "STOP: nothing goes on here before the person named has answered")
	}
	for _, r := range x.held.Results {
		if r.Stop || slices.Contains(ofSides, r.ID) {
			said = append(said, resultSaid(r))
		}
	}
	return strings.Join(said, "; ")
}

// ofSides are the checks of the rules that tell of the sides themselves.
var ofSides = []string{"excavation.sides", "excavation.slope", "excavation.upright-part", "excavation.engineer"}

// supportSaid is the document that answers for the sides' support, or whom to ask before anybody goes in.
func (c *levelCard) supportSaid(d job.Dig) string {
	if d.Support == nil {
		return notChecked + ": none on file. Ask: the temporary works engineer, before anybody goes in"
	}
	text := "document " + d.Support.Document + " by " + d.Support.By
	if d.Support.Until > 0 {
		text += ", to " + c.along(measure.MM(d.Support.Until)) + " deep"
	}
	return text + "; nobody goes in before it stands"
}
