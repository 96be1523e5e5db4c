package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"trenchwright/base/sorting"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// drawStart is the first card of a leg: what it is set out from. Benchmarks, the nearest first, the control points that the
// leg is found from, where it begins and ends, and which pegs outlast the dig. What is not on file stands there in bold.
func (c *levelCard) drawStart() scene.Page {
	c.page = scene.Page{Width: cardWidth, Height: cardHeight, Title: "Set-out card " + c.leg.Name + ", start", Name: "levels-" + nameOf(c.leg.Name) + "-start", Level: 1,
		Frame: scene.BoxAt(scene.Point{}, cardWidth, cardHeight).Inset(cardEdge - 2)}
	top := c.headOf("set out from here", fmt.Sprintf("from %s to %s; level two %ss against each other before any level is used", c.leg.From, c.leg.To, c.words.benchmark), c.firstCode())
	_, unit, _ := c.coordinateUnit()
	c.footOfStart(unit)
	foot, said, drawn := cardHeight-cardEdge-scene.LineStep(cardSize)-cardSize-1, append(c.curveWords(), c.pegWords()...), len(c.page.Marks)
	for c.line = mostLine; ; c.line -= 0.1 { // as large as leaves room for what is said of the pegs
		c.page.Marks = c.page.Marks[:drawn]
		y := c.startBlocks(top, unit)
		if _, high := c.wrappedSentences(said, leastSaid); y+high <= foot || c.line < leastSaid {
			c.sentences(y, foot, said)
			return c.page
		}
	}
}

// startBlocks are the points and the ends of the leg. It returns where they end.
func (c *levelCard) startBlocks(y float64, unit string) float64 {
	y = c.block(y, c.words.benchmark, []string{"", "level", "easting", "northing", "from " + shortPlace(c.rows[0]) + " [" + unit + "]"}, c.benchmarkRows())
	y = c.block(y, "control point", []string{"", "easting", "northing", "level", "where"}, c.controlRows())
	var ends [][]string
	for _, r := range []planner.SetOut{c.rows[0], c.rows[len(c.rows)-1]} {
		ends = append(ends, []string{shortPlace(r), c.eastNorth(r.E), c.eastNorth(r.N), c.bearing(r.Bearing), c.chainage(r.Chainage)})
	}
	y = c.block(y, c.words.centreline, []string{"", "easting", "northing", "bearing " + c.words.upChainage, c.words.chainage}, ends)
	if rows := c.polarRows(); len(rows) > 0 {
		y = c.block(y, "to", []string{"", "from", "bearing", "on the grid [" + unit + "]", "on the ground [" + unit + "]", "back to", "bearing"}, rows)
	}
	return y
}

// headOf is the leg and what the card is for, in two lines, and the code of its first place. It returns where it ends.
func (c *levelCard) headOf(what, where, place string) float64 {
	base := cardEdge + 8 + cardHead/2
	leg := "Leg " + c.leg.Name
	c.text(cardEdge, base, 6, scene.Bold, leg)
	x := cardEdge + scene.TextWidth(leg, 6, scene.Bold) + 5
	const number = 24 // of the card, at the upper right
	line, size, _ := scene.Fit(what, 4, cardSize, scene.Bold, cardWidth-cardEdge-x-number-codeWide)
	c.text(x, base-3.6, size, scene.Bold, line)
	c.headLines(x, base+0.4, 2.4, where)
	c.cornerCode(place)
	c.rule(base+2.3+cardHead/2, scene.Thick)
	return base + 2.3 + cardHead/2
}

func (c *levelCard) footOfStart(unit string) {
	h := c.plan.Job
	lines := []string{
		joined(" · ", c.stated(), h.Name),
		joined(" · ", "coordinates and levels in "+unit, h.Grid, h.HeightDatum, "scale factor "+h.ScaleFactor),
	}
	if strings.HasPrefix(h.ScaleFactor, notChecked) && scene.TextWidth(lines[1], cardSize, scene.Regular) > cardWidth-2*cardEdge { // what to do about it stands in the findings
		lines[1] = joined(" · ", "levels in "+unit, h.Grid, h.HeightDatum, "scale factor "+notChecked+": none on file")
	}
	y := cardHeight - cardEdge - scene.LineStep(cardSize)
	c.rule(y-cardSize-1, scene.Thin)
	for _, text := range lines {
		line, size, _ := scene.Fit(text, cardSize, 1.3, scene.Regular, cardWidth-2*cardEdge)
		c.text(cardEdge, y, size, scene.Regular, line)
		y += scene.LineStep(cardSize)
	}
}

// block sets a few lines under their heads. A line of one cell is a sentence; a cell more than there are heads stands on a
// line of its own below. It returns where it ends.
func (c *levelCard) block(y float64, title string, heads []string, rows [][]string) float64 {
	size, head, below := c.line, blockHead(c.line), math.Min(2, c.line)
	const between = betweenColumns
	heads = append([]string{title}, heads[1:]...)
	widths := blockWidths(heads, rows, size, head)
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
			weight, most := scene.Bold, size
			switch {
			case len(r) > 1 && i == len(heads)-1:
				weight = scene.Regular
			case i == len(heads):
				weight, most, x = scene.Regular, below, cardEdge+widths[0]+between
				y += scene.LineStep(below)
			}
			line, fitted, _ := scene.Fit(text, most, 1.5, weight, cardWidth-cardEdge-x)
			c.text(x, y, fitted, weight, line)
			if len(r) > 1 && i < len(heads) {
				x += widths[i] + between
			}
		}
	}
	y += 1.4
	c.rule(y, scene.Thin)
	return y
}

// betweenColumns is what stands free between the columns of a block, mm.
const betweenColumns = 3.0

// blockHead is how large the heads are over lines of one size.
func blockHead(line float64) float64 { return math.Min(1.9, line) }

// blockWidths are how wide the columns of a block are.
func blockWidths(heads []string, rows [][]string, size, head float64) []float64 {
	widths := make([]float64, len(heads))
	for i, h := range heads {
		widths[i] = scene.TextWidth(h, head, scene.Bold)
		for _, r := range rows {
			if i < len(r) && len(r) > 1 {
				widths[i] = math.Max(widths[i], scene.TextWidth(r[i], size, scene.Bold))
			}
		}
	}
	return widths
}

// blockWide is how wide a block is.
func blockWide(heads []string, rows [][]string, size float64) float64 {
	wide := float64(betweenColumns * float64(len(heads)-1))
	for _, w := range blockWidths(heads, rows, size, blockHead(size)) {
		wide += w
	}
	return wide
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

// How large the lines of a block and the sentences below them are, mm.
const (
	mostLine  = 2.6
	leastSaid = 1.9 // what is said never goes below this for the sake of the lines above it
)

// wrappedSentences are sentences in lines of one size, and how high these are.
func (c *levelCard) wrappedSentences(said []string, size float64) (lines []string, high float64) {
	for _, text := range said {
		lines = append(lines, wrappedIn(text, size, scene.Bold, cardWidth-2*cardEdge)...)
	}
	return lines, float64(scene.LineStep(size)*float64(len(lines))) + 1
}

// sentences sets sentences from y down, as large as they fit above a foot.
func (c *levelCard) sentences(y, foot float64, said []string) {
	size := mostLine
	lines, high := c.wrappedSentences(said, size)
	for y+high > foot && size > 1.4 {
		size -= 0.1
		lines, high = c.wrappedSentences(said, size)
	}
	for _, line := range lines {
		y += scene.LineStep(size)
		c.text(cardEdge, y, size, scene.Bold, line)
	}
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

// pegsOf are the pegs of a leg, along it.
func (d *draft) pegsOf(leg string) []planner.Peg {
	var out []planner.Peg
	for _, p := range d.plan.Pegs {
		if p.Leg == leg {
			out = append(out, p)
		}
	}
	sorting.By(out, func(a, b planner.Peg) int { return cmp.Compare(a.Chainage, b.Chainage) })
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
