package drawing

import (
	"fmt"
	"math"
	"slices"

	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
	"trenchwright/view/schedule"
)

// mostOnCard is how many joints one set-out card holds: as many as leave figures that are read at arm's length in the sun.
const mostOnCard = 6

// LevelCards are the set-out cards: small pages (A6, on the long side) that hold up to six joints of a leg, with five
// figures a joint. A gang works along one grade with one setting of its laser, so a card is one setting's; settings of a few
// joints share a card, each under a line of its own. Every place of the set-out stands on a card, a joint where the grade
// changes under the grade that begins there, and once more where it ends a card; a joint that steps is two rows. The first
// card of a leg is what it is set out from, the next how it is dug, its drain and it are laid, the last ones are its pegs. There are none where no
// levels were solved.
func LevelCards(p planner.Plan, j job.Job, style Style) []scene.Page {
	d := newDraft(p, j, style)
	if !d.solvedLevels() {
		return nil
	}
	set := schedule.Of(p, j)
	gaps, lasers, drains := map[string]string{}, set.Lasers(), set.DrainLasers()
	for _, j := range p.Joints {
		gaps[j.Name] = d.gapFigure(j.Gap)
	}
	var pages []scene.Page
	for leg, rows := range d.places() {
		all := d.cardRows(rows)
		start := levelCard{cardSheet: cardSheet{draft: d, size: cardSize}, leg: d.plan.Legs[leg], rows: rows, lasers: lasers, drains: drains, line: mostLine}
		if len(rows) > 0 {
			pages = append(append(pages, start.drawStart()), slices.Concat(start.curveCards(), start.digCards(), start.drainCards(), start.layingCards())...)
		}
		card := func(part [2]int) levelCard {
			return levelCard{cardSheet: cardSheet{draft: d, size: cardSize}, leg: d.plan.Legs[leg], rows: rows, all: all, gaps: gaps, lasers: lasers, show: shownOn(all, part)}
		}
		parts := cardParts(all, func(part [2]int) bool { c := card(part); return c.rowHigh() >= leastRow })
		for i, part := range parts {
			c := card(part)
			pages = append(pages, c.draw(i+1, len(parts)))
		}
		pages = append(pages, start.pegCards()...)
	}
	return pages
}

// levelCard is some rows of a leg's set-out, on one grade or on two short ones.
type levelCard struct {
	cardSheet
	leg    planner.Leg
	rows   []planner.SetOut  // of the leg
	all    []cardRow         // of the leg
	show   []cardRow         // of the card
	gaps   map[string]string // of joints, by name
	lasers []schedule.Laser  // of the whole run
	drains []schedule.DrainLaser
	line   float64 // how large the lines of a block are, mm
}

// cardColumn is one column of a card: its head in two lines, and what it says of a row.
type cardColumn struct {
	head  [2]string
	cells []string
	bold  bool
	below []string // what stands small under the cells; nil: nothing
	under []string // and under that along the row, free of the columns beside it
}

func (c *levelCard) draw(n, of int) scene.Page {
	name := fmt.Sprintf("%s, %d of %d", c.leg.Name, n, of)
	c.page = scene.Page{Width: cardWidth, Height: cardHeight, Title: "Set-out card " + name, Name: fmt.Sprintf("levels-%s-%d", nameOf(c.leg.Name), n), Level: 1,
		Frame: scene.BoxAt(scene.Point{}, cardWidth, cardHeight).Inset(cardEdge - 2)}
	top := c.headOfGrade()
	bottom := c.notes(c.footOfLevels())
	c.table(scene.Box{Left: cardEdge, Top: top, Right: cardWidth - cardEdge, Bottom: bottom})
	return c.page
}

// headOfGrade is the leg, and the grade with where it runs from and to. It returns where it ends.
func (c *levelCard) headOfGrade() float64 {
	base := cardEdge + 8 + cardHead/2
	leg := "Leg " + c.leg.Name
	c.text(cardEdge, base, 6, scene.Bold, leg)
	x := cardEdge + scene.TextWidth(leg, 6, scene.Bold) + 5
	const number = 24 // of the card, at the upper right
	first, last := c.show[0], c.show[len(c.show)-1]
	grade, where := c.gradeSaid(first.grade), c.stretch(first)
	switch {
	case first.grade.Grade == "":
		grade = notChecked + ": no grade on file"
	case len(c.grades()) > 1:
		grade = count(len(c.grades()), "grade", "grades") + ", each over its joints"
		where = fmt.Sprintf("from %s to %s", first.place, last.place)
	}
	line, size, _ := scene.Fit(grade, 4, cardSize, scene.Bold, cardWidth-cardEdge-x-number-codeWide)
	c.text(x, base-3.6, size, scene.Bold, line)
	c.headLines(x, base+0.4, 2.4, where)
	c.cornerCode(c.placeCode(c.leg.Name, first.row.Place, first.row.Chainage))
	c.rule(base+2.3+cardHead/2, scene.Thick)
	return base + 2.3 + cardHead/2
}

// gradeSaid is a grade in words.
func (c *levelCard) gradeSaid(g planner.GradeRun) string {
	text := fmt.Sprintf("%s %s", slopeOf(g), c.words.upChainage)
	switch {
	case g.Stepped:
		text = "stepped, " + text
	case !g.OnStep:
		text += ", off the laser's step"
	}
	return text
}

// stretch is where the setting that a row belongs to runs from and to.
func (c *levelCard) stretch(of cardRow) string {
	first := slices.IndexFunc(c.all, func(r cardRow) bool { return r.part == of.part })
	last := first
	for last+1 < len(c.all) && c.all[last].k < len(c.rows)-1 && c.all[last+1].part == of.part {
		last++
	}
	end := c.all[last]
	if last+1 < len(c.all) && c.all[last+1].k != end.k { // it ends where the next one begins
		end = c.all[last+1]
	}
	return fmt.Sprintf("from %s at %s to %s at %s", c.all[first].place, c.chainage(c.all[first].row.Chainage), end.place, c.chainage(end.row.Chainage))
}

// grades are the first rows of the settings on the card.
func (c *levelCard) grades() []int {
	var out []int
	for i, r := range c.show {
		if i == 0 || r.part != c.show[i-1].part {
			out = append(out, i)
		}
	}
	return out
}

func (c *levelCard) each(of func(cardRow) string) []string {
	var out []string
	for _, r := range c.show {
		out = append(out, of(r))
	}
	return out
}

// columns are those of the card; what no joint here has is left out.
func (c *levelCard) columns() []cardColumn {
	_, unit, _ := c.coordinateUnit()
	dimensioned := func(name string, unit string) [2]string { return [2]string{name, unit} }
	gap := "[mm]"
	if c.lengthUnit() != "mm" {
		gap = ""
	}
	chainage := "[m]"
	if c.lengthUnit() != "mm" {
		chainage = "[ft]"
	}
	on := c.words.pad
	if !c.onPads() {
		on = c.words.bed
	}
	all := []cardColumn{
		{dimensioned("place", ""), c.each(func(r cardRow) string { return r.place }), true, nil, nil},
		{dimensioned(c.words.chainage, chainage), c.each(func(r cardRow) string { return c.chainageFigure(r.row.Chainage) }), false, nil, nil},
		{dimensioned(c.words.formation, "["+unit+"]"), c.each(func(r cardRow) string { return c.levelFigure(r.formation) }), true, nil, nil},
		{dimensioned(on, "top ["+unit+"]"), c.each(func(r cardRow) string { return c.levelFigure(r.on) }), true, nil, nil},
		{dimensioned("wall top", "["+unit+"]"), c.each(func(r cardRow) string { return c.levelFigure(r.wall) }), false, nil, nil},
	}
	all = append(all, c.gapColumns(gap)...)
	return slices.DeleteFunc(all, func(col cardColumn) bool {
		return !slices.ContainsFunc(col.cells, func(s string) bool { return s != "" })
	})
}

// gapAt is the gap of a joint, of the mitre at an end, or to what else stands there; empty where a leg ends otherwise.
func (c *levelCard) gapAt(rows []planner.SetOut, k int) string {
	if gap, ok := c.gaps[rows[k].Place]; ok {
		return gap
	}
	node := c.node(c.leg.From)
	if k > 0 {
		node = c.node(c.leg.To)
	}
	if node.Bend != nil {
		return c.draft.gapFigure(node.Bend.Gap)
	}
	switch node.Made {
	case "casting", "end plate", "building", "temporary", "existing":
		return c.draft.gapFigure(c.gapAtEnd(c.leg.Name, node))
	}
	return ""
}

func (col cardColumn) width(size, head float64) float64 {
	w := 0.0
	for _, h := range col.head {
		w = math.Max(w, scene.TextWidth(h, head, scene.Bold))
	}
	for _, s := range col.cells {
		w = math.Max(w, scene.TextWidth(s, size, col.weight()))
	}
	for _, s := range col.below {
		w = math.Max(w, scene.TextWidth(s, belowSize, scene.Regular))
	}
	return w
}

func (col cardColumn) weight() scene.Weight {
	if col.bold {
		return scene.Bold
	}
	return scene.Regular
}

// belowSize is how large that is which stands under the cells of a column, mm.
const belowSize = 2.1

// table sets the joints of the card.
func (c *levelCard) table(box scene.Box) { c.grid(box, c.columns(), c.lines) }

// mostHead is how large the heads of columns are, mm, where they need not be smaller.
const mostHead = 2.3

// headsHigh is how high the heads of columns of one size are.
func headsHigh(head float64) float64 { return 2*scene.LineStep(head) + 1 }

// grid sets columns over the width of a box, as large as they fit; lines rules the rows and says where they begin and how
// high one is.
func (c *cardSheet) grid(box scene.Box, columns []cardColumn, lines func(top, bottom float64) ([]float64, float64)) {
	const most, least, between = 5.2, 2.0, 3.2
	head := mostHead
	size, sum := most, 0.0
	for {
		sum = float64(between * float64(len(columns)-1))
		for _, col := range columns {
			sum += col.width(size, head)
		}
		if sum <= box.Width() || size <= least {
			break
		}
		size -= 0.1
		head = math.Min(head, size)
	}
	tops, high := lines(box.Top+headsHigh(head), box.Bottom)
	size = math.Min(size, high-2.3)
	below := slices.ContainsFunc(columns, func(col cardColumn) bool { return col.below != nil })
	lift := 0.0 // what stands side by side stays on one line, over what stands below it
	if below {
		size, lift = math.Min(size, high-2.6-belowSize), belowSize/2+0.2
	}
	if slices.ContainsFunc(columns, func(col cardColumn) bool { return col.under != nil }) {
		size, lift = math.Min(size, high-2.6-belowSize-scene.LineStep(belowSize)), (belowSize+scene.LineStep(belowSize))/2+0.2
	}
	spare := (box.Width() - sum) / float64(max(1, len(columns)-1))
	x := box.Left
	for i, col := range columns {
		w := col.width(size, head)
		at, align := x, scene.Left
		if i > 0 {
			at, align = x+w, scene.Right
		}
		for line, text := range col.head {
			c.add(scene.Text{At: scene.Point{X: at, Y: box.Top + 1.2 + head + float64(scene.LineStep(head)*float64(line))}, String: text, Size: head, Weight: scene.Bold, Align: align})
		}
		for k, text := range col.cells {
			y := tops[k] + float64(high/2)
			y -= lift
			if col.below != nil && col.below[k] != "" {
				c.add(scene.Text{At: scene.Point{X: at, Y: y + float64(size/2) + 0.6 + belowSize/2}, String: col.below[k], Size: belowSize, Align: align, VAlign: scene.Middle})
			}
			if col.under != nil && col.under[k] != "" {
				line, fitted, _ := scene.Fit(col.under[k], belowSize, 1.5, scene.Regular, box.Right-at)
				c.add(scene.Text{At: scene.Point{X: at, Y: y + float64(size/2) + 0.6 + belowSize/2 + scene.LineStep(belowSize)}, String: line, Size: fitted, Align: align, VAlign: scene.Middle})
			}
			c.add(scene.Text{At: scene.Point{X: at, Y: y}, String: text, Size: size, Weight: col.weight(), Align: align, VAlign: scene.Middle})
		}
		x += w + between + spare
	}
}

// leastRow is how high a row is at least, mm: its figures are then read at arm's length, and the line of a grade without
// glasses.
const leastRow = 5.8

// rowHigh is how high the rows of the card are, mm.
func (c *levelCard) rowHigh() float64 {
	top := c.headOfGrade()
	bottom := c.notes(c.footOfLevels())
	rows := float64(len(c.show))
	if n := len(c.grades()); n > 1 {
		rows += gradeLine * float64(n)
	}
	c.page = scene.Page{} // nothing of it was drawn
	return (bottom - top - headsHigh(mostHead)) / rows
}

// lines rules a row for every joint and, where there are several grades, half a row before each with what it is. It returns
// where the rows begin and how high one is.
func (c *levelCard) lines(top, bottom float64) (tops []float64, high float64) {
	grades := c.grades()
	if len(grades) == 1 {
		grades = nil
	}
	rows := float64(len(c.show)) + float64(gradeLine*float64(len(grades)))
	high = math.Min(13, (bottom-top)/rows)
	y := top
	for i, r := range c.show {
		c.rule(y, scene.Thin)
		if slices.Contains(grades, i) {
			half := float64(gradeLine * high)
			text := c.gradeSaid(r.grade) + ", " + c.stretch(r)
			line, size, _ := scene.Fit(text, math.Min(2.6, half-0.9), 1.5, scene.Bold, cardWidth-2*cardEdge)
			c.add(scene.Text{At: scene.Point{X: cardEdge, Y: y + half/2 + 0.3}, String: line, Size: size, Weight: scene.Bold, VAlign: scene.Middle})
			y += half
		}
		tops = append(tops, y)
		y += high
	}
	if y < bottom-1 {
		c.rule(y, scene.Thin)
	}
	return tops, high
}
