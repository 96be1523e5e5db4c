package drawing

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
)

// stepWords say where else pads are levelled: where the leg steps, the unit on either side of the joint stands on one of its own.
func (c *levelCard) stepWords() []string {
	var said []string
	what := c.words.padTop
	for k, r := range c.rows {
		s, ok := stepAt(c.rows, k)
		if !ok {
			continue
		}
		before, behind := s.padTop, padTopOf(r.Levels)
		if behind == nil {
			what = c.words.bedTop
			behind = r.Levels.Underside
			if _, on, ok := rigid(c.rows, k-1, standsOn); ok {
				before = &on
			}
		}
		if before == nil || behind == nil {
			continue
		}
		said = append(said, fmt.Sprintf("%s %s, %s %s", placeAside(r, true), c.levelFigure(before), placeAside(r, false), c.levelFigure(behind)))
	}
	if len(said) == 0 {
		return nil
	}
	side := "start"
	if c.laidBack() {
		side = "end"
	}
	out := []string{fmt.Sprintf("STEPS: also under the %s of the first %s after each step, %s: %s", side, c.words.unit, what, strings.Join(said, "; "))}
	if what == c.words.padTop {
		out = append(out, notChecked+": how two "+c.words.pads+" at one joint are made at a step is not on file. Ask: the engineer")
	}
	return out
}

// padWords say how large the pads of the leg's supplies are, and how high the bed goes up between them.
func (c *levelCard) padWords() []string {
	var ids, out []string
	for _, i := range c.of[c.legs[c.leg.Name]] {
		if id := c.plan.Units[i].Supply; c.made[id].pads && !slices.Contains(ids, id) {
			ids = append(ids, id)
		}
	}
	for _, id := range ids {
		b := c.made[id].job.Bearing
		name := strings.ToUpper(c.words.pads)
		if len(ids) > 1 {
			name += " of " + id
		}
		missing := []string{}
		figure := func(what string, e job.Entry[measure.Length]) string {
			if !e.Known {
				missing = append(missing, what)
				return ""
			}
			return c.style.Format.Length(e.Value) + " " + what
		}
		said := joined(", ", figure("along", b.PadAlong), figure("across", b.PadAcross), figure("thick", b.PadThick))
		if said != "" {
			if id == c.legSupply(c.leg.Name) {
				said = joined("; ", said, c.notThere())
			}
			out = append(out, name+" "+said)
		}
		if len(missing) > 0 {
			out = append(out, fmt.Sprintf("%s: no size of the %s of supply %s %s on file. Ask: the supplier", notChecked, c.words.pad, id, strings.Join(missing, ", ")))
		}
	}
	return append(out, c.betweenPads()...)
}

// notThere says at which ends of the leg the pads on file do not reach along the joint, and what does there.
func (c *levelCard) notThere() string {
	var said []string
	for _, p := range c.shortPads() {
		said = append(said, fmt.Sprintf("not at %s: %s there %s along the joint", shortPlace(c.rows[p.k]), c.words.pad, p.needed))
	}
	if len(said) == 0 {
		return ""
	}
	return fmt.Sprintf("%s, %s: no such %s on file. Ask: the supplier", strings.Join(said, ", "), notChecked, c.words.pad)
}

// betweenPads says how high the bed lies between the pads: as the stone of it is counted, up to the underside of the units.
func (c *levelCard) betweenPads() []string {
	for _, r := range c.rows {
		l := r.Levels
		if l == nil || l.PadTop == nil || l.Underside == nil || l.Formation == nil || l.UnderPad == nil || l.PadBase == nil {
			continue
		}
		between, under := measure.FromMetres(*l.Underside-*l.Formation), measure.FromMetres(*l.PadBase-*l.UnderPad)
		return []string{fmt.Sprintf("%s %s above the %s under the %s; between them up to the underside of the %s, %s above it",
			strings.ToUpper(c.words.bed), c.style.Format.Length(under), c.words.formation, c.words.pads, c.words.unit, c.style.Format.Length(between))}
	}
	return nil
}

// coversOff says where the covers of the leg end furthest off the finished ground, where the plan found that they do.
func (c *levelCard) coversOff() []string {
	var out []string
	for _, f := range c.concerns(func(f finding.Finding) bool {
		return f.ID == "planner.cover-off" && f.Where.Leg == c.leg.Name && f.Where.Chainage != nil
	}) {
		out = append(out, fmt.Sprintf("%s against the finished ground %s, limit %s: see %s. Ask: the engineer", strings.ToUpper(c.words.covers), f.Value, f.Limit, f.name))
	}
	return out
}
