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
			said += prefixed(", ", c.padPlaces(id))
			if id == c.legSupply(c.leg.Name) {
				said = joined("; ", said, c.notThere())
			}
			out = append(out, name+" "+said)
		}
		if len(missing) > 0 {
			out = append(out, fmt.Sprintf("%s: no size of the %s of supply %s %s on file. Ask: the supplier", notChecked, c.words.pad, id, strings.Join(missing, ", ")))
		}
	}
	return slices.Concat(out, c.padsAtEnds(), c.betweenPads())
}

// padPlaces says where the pads of a supply lie under its joints: how far they reach under the units, and beyond their walls. The
// plan takes their middle for that of the joint.
func (c *levelCard) padPlaces(supply string) string {
	var least, most, wall *measure.MM
	units := c.of[c.legs[c.leg.Name]]
	for k, r := range c.rows {
		p := r.PadReach
		if p == nil || p.Before == nil || p.Behind == nil || k >= len(units) || c.plan.Units[units[k]].Supply != supply {
			continue
		}
		if least == nil || *p.Behind < *least {
			least = p.Behind
		}
		if most == nil || *p.Behind > *most {
			most = p.Behind
		}
		wall = p.Wall
	}
	if least == nil {
		return ""
	}
	under := c.length(*least)
	if most := c.length(*most); most != under {
		under += " to " + most
	}
	text := fmt.Sprintf("ASSUMED with their middle under the middle of the joint: %s under either %s", under, c.words.unit)
	switch {
	case wall == nil:
	case *wall < 0:
		text += ", to " + c.length(-*wall) + " inside the face of either wall"
	default:
		text += ", " + c.length(*wall) + " beyond either wall"
	}
	return text
}

// padsAtEnds says what of the pads at the ends of the leg is not on file: beyond the only unit there stands a wall, a casting or
// nothing.
func (c *levelCard) padsAtEnds() []string {
	var said []string
	for _, end := range []struct {
		k    int
		node string
	}{{0, c.leg.From}, {len(c.rows) - 1, c.leg.To}} {
		r := c.rows[end.k]
		p := r.PadReach
		if p == nil || (p.Before == nil) == (p.Behind == nil) {
			continue
		}
		reach := p.Behind
		if reach == nil {
			reach = p.Before
		}
		said = append(said, fmt.Sprintf("%s at %s: counted %s under the %s and as far beyond its end", shortPlace(r), c.nodeWords(c.node(end.node)), c.length(*reach), c.words.unit))
	}
	if said == nil {
		return nil
	}
	return []string{fmt.Sprintf("%s at %s; %s: how a %s ends there is not on file. Ask: the supplier", capital(c.words.pad), strings.Join(said, ", "), notChecked, c.words.pad)}
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
