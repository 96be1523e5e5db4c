package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
	"trenchwright/view/schedule"
)

// mostOnCard is how many joints one set-out card holds: as many as leave figures that are read at arm's length in the sun.
const mostOnCard = 6

// LevelCards are the set-out cards: small pages (A6, on the long side) that hold up to six joints of a leg, with five
// figures a joint. A gang works along one grade with one setting of its laser, so a card is one grade's; grades of a few
// joints share a card, each under a line of its own. Every place of the set-out stands on one card, a joint where the grade
// changes under the grade that begins there. There are none where no levels were solved.
func LevelCards(p planner.Plan, j job.Job, style Style) []scene.Page {
	d := newDraft(p, j, style)
	if !d.solvedLevels() {
		return nil
	}
	gaps, lasers := map[string]string{}, schedule.Of(p, j).Lasers()
	for _, j := range p.Joints {
		gaps[j.Name] = d.gapFigure(j.Gap)
	}
	var pages []scene.Page
	for leg, rows := range d.places() {
		parts := d.cardParts(rows)
		for i, part := range parts {
			c := levelCard{cardSheet: cardSheet{draft: d, size: cardSize}, leg: d.plan.Legs[leg], rows: rows, gaps: gaps, lasers: lasers, from: part[0], to: part[1]}
			pages = append(pages, c.draw(i+1, len(parts)))
		}
	}
	return pages
}

// cardParts are the rows of each card of a leg: grade by grade, long ones parted evenly, short ones put together two by two
// as long as they, the lines of their grades and the settings of the laser find room.
func (d *draft) cardParts(rows []planner.SetOut) [][2]int {
	var parts [][2]int
	weight, alone := 0.0, false // of the last part, in rows; whether it holds one grade
	for from := 0; from < len(rows); {
		to := d.gradeUpTo(rows, from)
		n := float64(to-from) + gradeLine
		if last := len(parts) - 1; last >= 0 && alone && weight+gradeLine+n <= mostOnCard { // the first grade needs its line too
			parts[last][1], alone, from = to, false, to
			continue
		}
		parts = append(parts, evenly(from, to, mostOnCard)...)
		weight = float64(to - parts[len(parts)-1][0])
		alone = parts[len(parts)-1][0] == from // the end of a long grade stays alone
		from = to
	}
	return parts
}

// gradeLine is how much of a row the line of a grade takes.
const gradeLine = 0.5

// gradeUpTo is the row after the last that stands on the grade of a row; the end of a leg stands on the grade before it.
func (d *draft) gradeUpTo(rows []planner.SetOut, from int) int {
	grade, _ := d.gradeBehind(rows[from])
	to := from + 1
	for to < len(rows) {
		if next, _ := d.gradeBehind(rows[to]); next != grade && to < len(rows)-1 {
			break
		}
		to++
	}
	return to
}

// evenly parts a stretch into as few pieces as hold most each, about equal ones.
func evenly(from, to, most int) [][2]int {
	n := (to - from + most - 1) / most
	var out [][2]int
	for i := range n {
		out = append(out, [2]int{from + (to-from)*i/n, from + (to-from)*(i+1)/n})
	}
	return out
}

// levelCard is the joints from one row of a leg's set-out up to another, on one grade.
type levelCard struct {
	cardSheet
	leg      planner.Leg
	rows     []planner.SetOut
	gaps     map[string]string // of joints, by name
	lasers   []schedule.Laser  // of the whole run
	from, to int
}

// cardColumn is one column of a card: its head in two lines, and what it says of a row.
type cardColumn struct {
	head  [2]string
	cells []string
	bold  bool
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
	base := cardEdge + 8
	leg := "Leg " + c.leg.Name
	c.text(cardEdge, base, 6, scene.Bold, leg)
	x := cardEdge + scene.TextWidth(leg, 6, scene.Bold) + 5
	const number = 24 // of the card, at the upper right
	g, ok := c.gradeBehind(c.rows[c.from])
	grade, where := c.gradeSaid(g), ""
	switch {
	case !ok:
		grade = notChecked + ": no grade on file"
	case len(c.grades()) > 1:
		grade = count(len(c.grades()), "grade", "grades") + ", each over its joints"
		where = fmt.Sprintf("from %s to %s", c.rows[c.from].Place, c.rows[c.to-1].Place)
	default:
		where = c.stretch(g)
	}
	line, size, _ := scene.Fit(grade, 4, cardSize, scene.Bold, cardWidth-cardEdge-x-number)
	c.text(x, base-3.6, size, scene.Bold, line)
	line, size, _ = scene.Fit(where, 2.4, 1.5, scene.Regular, cardWidth-cardEdge-x)
	c.text(x, base+0.4, size, scene.Regular, line)
	c.rule(base+2.3, scene.Thick)
	return base + 2.3
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

// stretch is where a grade runs from and to; an end of a leg is told where its row has it, not where its node stands.
func (c *levelCard) stretch(g planner.GradeRun) string {
	at := func(place string, or measure.MM) string {
		if k := slices.IndexFunc(c.rows, func(r planner.SetOut) bool { return r.Place == place }); k >= 0 {
			or = c.rows[k].Chainage
		}
		return c.chainage(or)
	}
	return fmt.Sprintf("from %s at %s to %s at %s", g.From, at(g.From, g.FromMM), g.To, at(g.To, g.ToMM))
}

// grades are the first rows of the grades on the card.
func (c *levelCard) grades() []int {
	var out []int
	for k := c.from; k < c.to; k = c.gradeUpTo(c.rows, k) {
		out = append(out, k)
	}
	return out
}

// footOfLevels says whose the card is and what its figures are. It returns where it begins.
func (c *levelCard) footOfLevels() float64 {
	_, unit, _ := c.coordinateUnit()
	lines := []string{
		joined(" · ", c.plan.Job.Name, prefixed("revision ", c.plan.Job.Revision), c.plan.Job.On, "job "+short(c.plan.Job.Hash)),
		joined(" · ", "levels in "+unit+", "+c.plan.Job.HeightDatum, c.words.chainage+" from "+c.leg.From, "cut and fill from the ground as it is to the "+c.words.formation),
	}
	y := cardHeight - cardEdge
	for i := len(lines) - 1; i >= 0; i-- {
		line, size, _ := scene.Fit(lines[i], cardSize, 1.4, scene.Regular, cardWidth-2*cardEdge)
		c.text(cardEdge, y, size, scene.Regular, line)
		y -= scene.LineStep(cardSize)
	}
	top := y + scene.LineStep(cardSize) - cardSize - 1
	c.rule(top, scene.Thin)
	return top
}

// gapFigure is a gap finer than the sheets round: the gaps of a leg add up.
func (d *draft) gapFigure(l measure.MM) string {
	if d.style.Format.System == measure.Imperial {
		return measure.Format{System: measure.Imperial, Fraction: 32}.Figure(measure.Length(l))
	}
	return measure.Format{Places: 1}.Figure(measure.Length(l))
}

// noteLine is one line above the foot of a card.
type noteLine struct {
	text   string
	size   float64
	weight scene.Weight
}

// notes are the settings of the laser, and the places at which the unit before stands otherwise than the row says. It returns where they begin.
func (c *levelCard) notes(bottom float64) float64 {
	const size = 2.3
	said := c.laserLines()
	for k := c.from; k < c.to; k++ {
		s, ok := stepAt(c.rows, k)
		if !ok {
			continue
		}
		before, _, _ := strings.Cut(c.rows[k].Place, "/")
		text := joined(", ", prefixed(c.words.pad+" top ", c.levelFigure(s.padTop)), prefixed(c.words.formation+" ", c.levelFigure(s.formation)))
		said = append(said, noteLine{fmt.Sprintf("STEP at %s, under %s: %s", shortPlace(c.rows[k]), before, text), size, scene.Bold})
	}
	if slices.Contains(c.digCells(), noGround) {
		said = append(said, noteLine{noGround + ": " + notChecked + ": no ground on file here. Ask: the surveyor", size, scene.Bold})
	}
	if len(said) == 0 {
		return bottom
	}
	y := bottom - 1.2
	for i := len(said) - 1; i >= 0; i-- {
		n := said[i]
		line, fitted, _ := scene.Fit(n.text, n.size, 1.5, n.weight, cardWidth-2*cardEdge)
		c.text(cardEdge, y, fitted, n.weight, line)
		y -= n.size
		if i > 0 {
			y -= 0.45 * said[i-1].size // what hangs under the line above
		}
	}
	return y - 1
}

// laserLines are the settings of the laser for the joints of the card, and the one reading of each: what is dialled and read
// as large as the figures of the joints allow, below it where it holds. Of more than two the list of grades tells.
func (c *levelCard) laserLines() []noteLine {
	const large, small = 3.6, 2.1
	var said []noteLine
	first, end := c.rows[c.from].Chainage, c.rows[min(c.to, len(c.rows)-1)].Chainage
	for _, l := range c.lasers {
		if l.Grade.Leg != c.leg.Name || l.Impossible != "" || l.To.Chainage <= first && !(first == end && l.To.Chainage == end) || l.From.Chainage >= end {
			continue
		}
		reading, low := "________", l.From
		if l.Beam != nil {
			reading = c.rodFigure(l.Setting.Reading)
		}
		if !l.Setting.Up {
			low = l.To
		}
		said = append(said,
			noteLine{fmt.Sprintf("LASER at %s · dial %s · %s %s", shortPlace(low), l.Setting.Dial.Percent(schedule.GradePlaces), c.words.rodReading, reading), large, scene.Bold},
			noteLine{fmt.Sprintf("that reading on %s, left wall, at every joint from %s to %s", l.ReadOn, shortPlace(l.From), shortPlace(l.To)), small, scene.Regular})
	}
	if n := len(said) / 2; n > 2 {
		return []noteLine{{fmt.Sprintf("LASER: %d settings here; see the list of grades", n), small, scene.Bold}}
	}
	return said
}

// noGround stands where nobody surveyed the ground.
const noGround = "–"

func (c *levelCard) each(of func(k int) string) []string {
	var out []string
	for k := c.from; k < c.to; k++ {
		out = append(out, of(k))
	}
	return out
}

func (c *levelCard) digCells() []string {
	all := true // of them are cut: the head says so
	for k := c.from; k < c.to; k++ {
		g, ok := digAt(c.rows[k].Levels)
		all = all && ok && !g.fill
	}
	return c.each(func(k int) string {
		g, ok := digAt(c.rows[k].Levels)
		switch {
		case !ok:
			return noGround
		case all:
			return c.depthFigure(g.depth)
		}
		return g.word() + " " + c.depthFigure(g.depth)
	})
}

// columns are those of the card; what no joint here has is left out.
func (c *levelCard) columns() []cardColumn {
	_, unit, _ := c.coordinateUnit()
	dimensioned := func(name string, unit string) [2]string { return [2]string{name, unit} }
	depth, gap := "[m]", "[mm]"
	if c.lengthUnit() != "mm" {
		depth, gap = "", ""
	}
	digs := c.digCells()
	name := "cut ↓"
	if slices.ContainsFunc(digs, func(s string) bool { return strings.ContainsAny(s, "↑↓"+noGround) }) {
		name = "cut ↓ fill ↑"
	}
	level := func(of func(*planner.Levels) *float64) []string {
		return c.each(func(k int) string {
			if l := c.rows[k].Levels; l != nil {
				return c.levelFigure(of(l))
			}
			return ""
		})
	}
	chainage := "[m]"
	if c.lengthUnit() != "mm" {
		chainage = "[ft]"
	}
	all := []cardColumn{
		{dimensioned("place", ""), c.each(func(k int) string { return shortPlace(c.rows[k]) }), true},
		{dimensioned(c.words.chainage, chainage), c.each(func(k int) string { return c.chainageFigure(c.rows[k].Chainage) }), false},
		{dimensioned(name, depth), digs, true},
		{dimensioned(c.words.pad+" top", "["+unit+"]"), level(padTopOf), true},
		{dimensioned("wall top", "["+unit+"]"), level(func(l *planner.Levels) *float64 { return l.Wall }), false},
		{dimensioned("gap", gap), c.each(func(k int) string { return c.gapAt(c.rows, k) }), false},
	}
	return slices.DeleteFunc(all, func(col cardColumn) bool {
		return !slices.ContainsFunc(col.cells, func(s string) bool { return s != "" })
	})
}

// gapAt is the gap of a joint, or of the mitre at an end; empty where a leg ends otherwise.
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
	return w
}

func (col cardColumn) weight() scene.Weight {
	if col.bold {
		return scene.Bold
	}
	return scene.Regular
}

// table sets the columns over the width of the box, as large as they fit.
func (c *levelCard) table(box scene.Box) {
	const most, least, between = 5.2, 2.0, 3.2
	head, columns := 2.3, c.columns()
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
	headHigh := 2*scene.LineStep(head) + 1
	tops, high := c.lines(box.Top+headHigh, box.Bottom)
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
			c.add(scene.Text{At: scene.Point{X: at, Y: tops[k] + float64(high/2)}, String: text, Size: size, Weight: col.weight(), Align: align, VAlign: scene.Middle})
		}
		x += w + between + spare
	}
}

// lines rules a row for every joint and, where there are several grades, half a row before each with what it is. It returns
// where the rows begin and how high one is.
func (c *levelCard) lines(top, bottom float64) (tops []float64, high float64) {
	grades := c.grades()
	if len(grades) == 1 {
		grades = nil
	}
	rows := float64(c.to-c.from) + float64(gradeLine*float64(len(grades)))
	high = math.Min(13, (bottom-top)/rows)
	y := top
	for k := c.from; k < c.to; k++ {
		c.rule(y, scene.Thin)
		if slices.Contains(grades, k) {
			g, _ := c.gradeBehind(c.rows[k])
			half := float64(gradeLine * high)
			text := c.gradeSaid(g) + ", " + c.stretch(g)
			line, size, _ := scene.Fit(text, math.Min(2.6, half-1.4), 1.5, scene.Bold, cardWidth-2*cardEdge)
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
