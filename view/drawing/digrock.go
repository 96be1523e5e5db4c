package drawing

import (
	"fmt"
	"strings"

	"trenchwright/base/measure"
)

// rockLine is rock against the bottom of something dug along a leg: how far it stands above it at both ends of a stretch, m.
type rockLine struct {
	from, to   measure.MM
	start, end float64
}

// rockLines are those of the units of the leg, as levels are on file at the joints and straight between them. What a unit
// stands over is told by bottom at either end of it.
func (c *levelCard) rockLines(bottom func(k int) (from, to float64, ok bool)) []rockLine {
	var out []rockLine
	for k := 0; k+1 < len(c.rows); k++ {
		a, b := c.rows[k], c.rows[k+1]
		from, to, ok := bottom(k)
		if !ok || a.Levels.Rock == nil || b.Levels.Rock == nil {
			continue
		}
		out = append(out, rockLine{a.Chainage, b.Chainage, *a.Levels.Rock - from, *b.Levels.Rock - to})
	}
	return out
}

// over are the stretches of lines in which rock stands above the bottom, joined, and the most by which it does, m.
func over(lines []rockLine) (stretches [][2]measure.MM, most float64) {
	const told = 0.0005 // m
	for _, l := range lines {
		if l.start < told && l.end < told {
			continue
		}
		from, to := l.from, l.to
		cross := func() measure.MM {
			return l.from + length(mm(l.to-l.from)*l.start/(l.start-l.end))
		}
		switch {
		case l.start < 0:
			from = cross()
		case l.end < 0:
			to = cross()
		}
		most = max(most, l.start, l.end)
		if n := len(stretches); n > 0 && from-stretches[n-1][1] < measure.MM(measure.Millimetre) {
			stretches[n-1][1] = to
			continue
		}
		stretches = append(stretches, [2]measure.MM{from, to})
	}
	return stretches, most
}

// rockWords say where the dig and the drain's trench meet rock, by the levels on file.
func (c *levelCard) rockWords() []string {
	var said []string
	add := func(what string, lines []rockLine) {
		where, most := over(lines)
		if len(where) == 0 {
			return
		}
		var parts []string
		for _, s := range where {
			parts = append(parts, c.chainage(s[0])+" to "+c.chainage(s[1]))
		}
		said = append(said, fmt.Sprintf("%s from %s, up to %s", what, strings.Join(parts, ", "), c.depthOf(most)))
	}
	formation := c.rockLines(func(k int) (float64, float64, bool) { return rigid(c.rows, k, formationOf) })
	add("above the "+c.words.formation, formation)
	add("in the drain's trench", c.rockLines(c.trenchBottom))
	switch {
	case len(formation) == 0:
		return []string{notChecked + ": no level of rock on file along this leg. Ask: the engineer who looked at the ground"}
	case len(said) == 0:
		return []string{"ROCK: its level on file lies below all that is dug here; if it is found higher ask the engineer who looked at the ground"}
	}
	return []string{"ROCK " + strings.Join(said, "; ") + ": level on file, on the " + c.words.centreline + "; if it is found otherwise ask the engineer who looked at the ground"}
}

// trenchBottom is the bottom of the drain's trench at the two ends of the unit before which row k stands: false where it has
// none of its own below the formation.
func (c *levelCard) trenchBottom(k int) (from, to float64, ok bool) {
	a, b := c.rows[k].Levels, c.rows[k+1].Levels
	own := c.job.Levels.Drain
	if !c.drained() || own == nil || a == nil || b == nil || a.Drain == nil || b.Drain == nil {
		return 0, 0, false
	}
	from, to = *a.Drain-own.Bedding.Metres(), *b.Drain-own.Bedding.Metres()
	under, end, ok := rigid(c.rows, k, formationOf)
	return from, to, ok && (from < under || to < end)
}

// depthOf is a depth in metres or feet, m.
func (d *draft) depthOf(m float64) string { return d.along(measure.MM(measure.FromMetres(m))) }
