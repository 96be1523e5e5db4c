package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// drawStart is the first card of a leg: what it is set out from. Benchmarks, two control points, where the leg begins and
// ends with its bearing there, and which pegs outlast the dig. What is not on file stands there in bold.
func (c *levelCard) drawStart() scene.Page {
	c.page = scene.Page{Width: cardWidth, Height: cardHeight, Title: "Set-out card " + c.leg.Name + ", start", Name: "levels-" + nameOf(c.leg.Name) + "-start", Level: 1,
		Frame: scene.BoxAt(scene.Point{}, cardWidth, cardHeight).Inset(cardEdge - 2)}
	y := c.headOf("set out from here", fmt.Sprintf("from %s to %s; level two %ss against each other before any level is used", c.leg.From, c.leg.To, c.words.benchmark))
	_, unit, _ := c.coordinateUnit()
	c.footOfStart(unit)
	y = c.block(y, c.words.benchmark, []string{"", "level", "where"}, c.benchmarkRows())
	y = c.block(y, "control point", []string{"", "easting", "northing", "level", "where"}, c.controlRows())
	first, last := c.rows[0], c.rows[len(c.rows)-1]
	var ends [][]string
	for _, r := range []planner.SetOut{first, last} {
		ends = append(ends, []string{shortPlace(r), c.eastNorth(r.E), c.eastNorth(r.N), c.bearing(r.Bearing), c.chainage(r.Chainage)})
	}
	y = c.block(y, c.words.centreline, []string{"", "easting", "northing", "bearing " + c.words.upChainage, c.words.chainage}, ends)
	if rows := c.polarRows(); len(rows) > 0 {
		y = c.block(y, "from a control point", []string{"", "from", "bearing", "on the grid [" + unit + "]", "on the ground [" + unit + "]"}, rows)
	}
	c.sentences(y, cardHeight-cardEdge-scene.LineStep(cardSize)-cardSize-1, append(c.pegWords(), c.digWords()...))
	return c.page
}

// headOf is the leg and what the card is for, in two lines. It returns where it ends.
func (c *levelCard) headOf(what, where string) float64 {
	base := cardEdge + 8
	leg := "Leg " + c.leg.Name
	c.text(cardEdge, base, 6, scene.Bold, leg)
	x := cardEdge + scene.TextWidth(leg, 6, scene.Bold) + 5
	const number = 24 // of the card, at the upper right
	line, size, _ := scene.Fit(what, 4, cardSize, scene.Bold, cardWidth-cardEdge-x-number)
	c.text(x, base-3.6, size, scene.Bold, line)
	line, size, _ = scene.Fit(where, 2.4, 1.5, scene.Regular, cardWidth-cardEdge-x)
	c.text(x, base+0.4, size, scene.Regular, line)
	c.rule(base+2.3, scene.Thick)
	return base + 2.3
}

func (c *levelCard) footOfStart(unit string) {
	h := c.plan.Job
	lines := []string{
		joined(" · ", h.Name, prefixed("revision ", h.Revision), h.On, "job "+short(h.Hash)),
		joined(" · ", "coordinates and levels in "+unit, h.Grid, h.HeightDatum, "scale factor "+h.ScaleFactor),
	}
	y := cardHeight - cardEdge - scene.LineStep(cardSize)
	c.rule(y-cardSize-1, scene.Thin)
	for _, text := range lines {
		line, size, _ := scene.Fit(text, cardSize, 1.3, scene.Regular, cardWidth-2*cardEdge)
		c.text(cardEdge, y, size, scene.Regular, line)
		y += scene.LineStep(cardSize)
	}
}

// block sets a few lines under their heads, the last column as long as there is room. A line of one cell is a sentence. It
// returns where it ends.
func (c *levelCard) block(y float64, title string, heads []string, rows [][]string) float64 {
	const size, head, between = 2.6, 1.9, 3.0
	heads = append([]string{title}, heads[1:]...)
	widths := make([]float64, len(heads))
	for i, h := range heads {
		widths[i] = scene.TextWidth(h, head, scene.Bold)
		for _, r := range rows {
			if i < len(r) && len(r) > 1 {
				widths[i] = math.Max(widths[i], scene.TextWidth(r[i], size, scene.Bold))
			}
		}
	}
	y += 1.2 + scene.LineStep(head)
	x := cardEdge
	for i, h := range heads {
		if len(rows[0]) > 1 || i == 0 {
			line, fitted, _ := scene.Fit(h, head, 1.4, scene.Bold, cardWidth-cardEdge-x)
			c.text(x, y, fitted, scene.Bold, line)
		}
		x += widths[i] + between
	}
	for _, r := range rows {
		y += scene.LineStep(size)
		x = cardEdge
		for i, text := range r {
			weight := scene.Bold
			if len(r) > 1 && i == len(heads)-1 {
				weight = scene.Regular
			}
			line, fitted, _ := scene.Fit(text, size, 1.5, weight, cardWidth-cardEdge-x)
			c.text(x, y, fitted, weight, line)
			if len(r) > 1 {
				x += widths[i] + between
			}
		}
	}
	y += 1.4
	c.rule(y, scene.Thin)
	return y
}

// eastNorth is an easting or northing in the job's unit, without it.
func (d *draft) eastNorth(m float64) string { return d.levelFigure(&m) }

// orNone is a figure, or a stroke where there is none.
func (d *draft) orNone(m *float64) string {
	if m == nil {
		return "–"
	}
	return d.levelFigure(m)
}

// mostPoints is how many benchmarks, and control points, a card names: those nearest to its leg.
const mostPoints = 3

// nearest are the points nearest to where the leg begins; those without coordinates last.
func (c *levelCard) nearest(all []planner.SurveyPoint, most int) []planner.SurveyPoint {
	far := func(p planner.SurveyPoint) float64 {
		if p.E == nil || p.N == nil {
			return math.Inf(1)
		}
		return math.Hypot(*p.E-c.rows[0].E, *p.N-c.rows[0].N)
	}
	out := slices.Clone(all)
	slices.SortStableFunc(out, func(a, b planner.SurveyPoint) int { return cmp.Compare(far(a), far(b)) })
	return out[:min(most, len(out))]
}

func (c *levelCard) benchmarkRows() [][]string {
	if len(c.plan.Benchmarks) == 0 {
		return [][]string{{notChecked + ": no " + c.words.benchmark + " on file. Ask: the surveyor"}}
	}
	var out [][]string
	for _, p := range c.nearest(c.plan.Benchmarks, mostPoints) {
		at := ""
		if p.E != nil && p.N != nil {
			at = "E " + c.eastNorth(*p.E) + " N " + c.eastNorth(*p.N)
		}
		out = append(out, []string{p.ID, c.orNone(p.Level), joined("; ", p.Where, at)})
	}
	if len(out) == 1 {
		out = append(out, []string{notChecked + ": no second " + c.words.benchmark + " to check it against on file. Ask: the surveyor"})
	}
	return out
}

func (c *levelCard) controlRows() [][]string {
	if len(c.plan.Control) == 0 {
		return [][]string{{notChecked + ": no control point on file. Ask: the surveyor"}}
	}
	var out [][]string
	for _, p := range c.nearest(c.plan.Control, 2) {
		out = append(out, []string{p.ID, c.orNone(p.E), c.orNone(p.N), c.orNone(p.Level), p.Where})
	}
	if len(out) == 1 {
		out = append(out, []string{notChecked + ": no second control point to look back to on file. Ask: the surveyor"})
	}
	return out
}

// sentences sets sentences from y down, as large as they fit above a foot.
func (c *levelCard) sentences(y, foot float64, said []string) {
	var lines []string
	size := 2.6
	for ; size > 1.4; size -= 0.1 {
		lines = nil
		for _, text := range said {
			lines = append(lines, wrappedIn(text, size, scene.Bold, cardWidth-2*cardEdge)...)
		}
		if y+float64(scene.LineStep(size)*float64(len(lines)))+1 <= foot {
			break
		}
	}
	for _, line := range lines {
		y += scene.LineStep(size)
		c.text(cardEdge, y, size, scene.Bold, line)
	}
}

// polarRows are how the two ends of the leg are found from the control point nearest to each: bearing and distance, on the
// grid and as a tape on the ground has it.
func (c *levelCard) polarRows() [][]string {
	var out [][]string
	for _, to := range []planner.SetOut{c.rows[0], c.rows[len(c.rows)-1]} {
		best, far := -1, math.Inf(1)
		for i, p := range c.plan.Control {
			if p.E == nil || p.N == nil {
				continue
			}
			if d := math.Hypot(to.E-*p.E, to.N-*p.N); d < far {
				best, far = i, d
			}
		}
		if best < 0 {
			return nil
		}
		p := c.plan.Control[best]
		bearing := math.Mod(math.Atan2(to.E-*p.E, to.N-*p.N)*180/math.Pi+360, 360)
		out = append(out, []string{shortPlace(to), p.ID, c.bearing(bearing), c.eastNorth(far), c.groundFigure(far)})
	}
	return out
}

// groundFigure is a grid distance as it is on the ground; a stroke where no factor is on file.
func (d *draft) groundFigure(m float64) string {
	factor, err := strconv.ParseFloat(d.plan.Job.ScaleFactor, 64)
	switch {
	case d.plan.Job.ScaleFactor == "ground":
		factor = 1
	case err != nil || factor <= 0:
		return "–, no scale factor on file"
	}
	return d.eastNorth(m / factor)
}

// pegWords say which pegs stand beside the leg, and which of them do not last.
func (c *levelCard) pegWords() []string {
	pegs := c.pegsOf(c.leg.Name)
	if len(pegs) == 0 {
		return []string{notChecked + ": no offset peg on file, and those on the " + c.words.centreline + " are dug away. Ask: the surveyor"}
	}
	var sets, lost []string
	for _, p := range pegs {
		if s := c.pegSide(p); !slices.Contains(sets, s) {
			sets = append(sets, s)
		}
		if len(p.Lost) > 0 {
			lost = append(lost, c.pegPlace(p))
		}
	}
	out := []string{fmt.Sprintf("PEGS %s of the %s, looking %s; measured level, square to it; %s", strings.Join(sets, " and "), c.words.centreline, c.words.upChainage, count(len(pegs), "peg", "pegs"))}
	if len(lost) > 0 {
		out = append(out, "DO NOT LAST: "+strings.Join(lost, ", ")+"; see the peg cards")
	}
	return out
}

// digWords say how wide the bottom of the dig is on this leg and how its sides stand, stretch by stretch, and where the drain's
// trench lies in it: what the driver needs beside the cut of each joint.
func (c *levelCard) digWords() []string {
	if c.plan.Dig == nil {
		return nil
	}
	var wide, pipes []string
	last, pipe := "", ""
	for _, s := range c.plan.Dig.Sections {
		if s.Leg != c.leg.Name || s.Bottom == nil {
			continue
		}
		said := fmt.Sprintf("bottom %s wide, %s left and %s right, %s", c.length(s.Bottom.Width), c.length(-s.Bottom.Left[0]), c.length(s.Bottom.Right[0]), s.Sides)
		if said != last {
			wide = append(wide, "from "+c.chainage(s.At)+" "+said)
			last = said
		}
		if s.Pipe == nil {
			continue
		}
		side, off := "on the "+c.words.centreline, s.Pipe.Offset
		if off < 0 {
			side, off = "left", -off
		} else if off > 0 {
			side = "right"
		}
		if off > 0 {
			side = c.length(off) + " " + side + " of the " + c.words.centreline
		}
		if said := fmt.Sprintf("pipe %s, its middle %s", c.length(s.Pipe.Diameter), side); said != pipe {
			pipes = append(pipes, said)
			pipe = said
		}
	}
	var out []string
	if len(wide) > 0 {
		out = append(out, "DIG "+strings.Join(wide, "; "))
	}
	if len(pipes) > 0 {
		out = append(out, "DRAIN "+strings.Join(pipes, "; ")+"; its levels on the long section and the peg cards")
	}
	return out
}

// pegsOf are the pegs of a leg, along it.
func (d *draft) pegsOf(leg string) []planner.Peg {
	var out []planner.Peg
	for _, p := range d.plan.Pegs {
		if p.Leg == leg {
			out = append(out, p)
		}
	}
	slices.SortStableFunc(out, func(a, b planner.Peg) int { return cmp.Compare(a.Chainage, b.Chainage) })
	return out
}

// pegSide is how far and on which side a peg stands: 2.000 m → right.
func (d *draft) pegSide(p planner.Peg) string {
	return joined(" ", d.along(p.Offset), p.Arrow, p.Side)
}

// pegPlace is a peg by its place within its leg, or by its chainage.
func (d *draft) pegPlace(p planner.Peg) string {
	if p.Place == "" {
		return d.chainage(p.Chainage)
	}
	return shortPlace(planner.SetOut{Leg: p.Leg, Place: p.Place})
}
