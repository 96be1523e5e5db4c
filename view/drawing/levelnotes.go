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

// footOfLevels says whose the card is and what its figures are. It returns where it begins.
func (c *levelCard) footOfLevels() float64 {
	_, unit, _ := c.coordinateUnit()
	if unit == "ft" {
		unit = "decimal feet"
	}
	lines := []string{
		joined(" · ", c.stated(), c.plan.Job.Name),
		joined(" · ", "levels in "+unit+", "+c.plan.Job.HeightDatum, c.words.chainage+" from "+c.leg.From, c.wallsSaid()),
		joined(" · ", c.toleranceSaid(), "cuts and fills: peg cards"),
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

// wallsSaid tells how the right walls lie against the left ones, of which the rows tell.
func (c *levelCard) wallsSaid() string {
	var cross []float64
	for _, r := range c.show {
		if r.row.Levels != nil && r.row.Levels.Walls[2] != nil && r.row.Levels.Walls[3] != nil {
			cross = append(cross, crossOf(r.row.Levels))
		}
	}
	const told = 0.0005 // m
	switch {
	case len(cross) == 0:
		return "left wall"
	case math.Abs(slices.Max(cross)) < told && math.Abs(slices.Min(cross)) < told:
		return "left wall; the right one lies level with it"
	case slices.Max(cross)-slices.Min(cross) < told:
		return "left wall; the right one lies " + c.alongOff(cross[0])
	}
	return "left wall; the right one see the checking pages"
}

// alongOff is a difference of levels in words.
func (c *levelCard) alongOff(m float64) string {
	word := "higher"
	if m < 0 {
		word = "lower"
	}
	return c.rodFigure(measure.FromMetres(math.Abs(m))) + " " + word
}

// toleranceSaid is by how much each level that is worked to here may be off.
func (c *levelCard) toleranceSaid() string {
	on := c.words.padTop
	if !c.onPads() {
		on = c.words.bedTop
	}
	var said []string
	missing := ""
	for _, one := range []struct {
		what string
		off  job.Entry[measure.Length]
	}{{on, c.job.Rules.BedTol}, {c.words.formation, c.job.Rules.FormationTol}} {
		if one.off.Known {
			said = append(said, one.what+" "+c.fineLength(one.off.Value))
		} else {
			missing = joined(", ", missing, one.what)
		}
	}
	text := prefixed("may be off, either way: ", strings.Join(said, ", "))
	if missing != "" {
		text = joined("; ", text, notChecked+": no tolerance on file for the level of: "+missing)
	}
	return text
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

// notes are the settings of the laser and what else has to be known of the places on the card. It returns where they begin.
func (c *levelCard) notes(bottom float64) float64 {
	const size = 2.1
	var said []noteLine
	for _, n := range c.laserLines() { // what is read once is parted rather than set too small
		if n.size > size {
			said = append(said, n)
			continue
		}
		if line, fitted, whole := scene.Fit(n.text, n.size, cardSize, n.weight, cardWidth-2*cardEdge); whole {
			said = append(said, noteLine{line, fitted, n.weight})
			continue
		}
		for _, line := range wrappedIn(n.text, n.size, n.weight, cardWidth-2*cardEdge) {
			said = append(said, noteLine{line, n.size, n.weight})
		}
	}
	for _, text := range slices.Concat(c.curveNote(), c.otherSupplies(), c.coverTops(), c.padsTooShort(), c.endGaps()) {
		for _, line := range wrappedIn(text, size, scene.Bold, cardWidth-2*cardEdge) {
			said = append(said, noteLine{line, size, scene.Bold})
		}
	}
	if len(said) == 0 {
		return bottom
	}
	y := bottom - 1.2
	drawn := len(c.page.Marks)
	for i := len(said) - 1; i >= 0; i-- {
		n := said[i]
		line, fitted, _ := scene.Fit(n.text, n.size, 1.5, n.weight, cardWidth-2*cardEdge)
		c.text(cardEdge, y, fitted, n.weight, line)
		y -= n.size
		if i > 0 {
			y -= 0.45 * said[i-1].size // what hangs under the line above
		}
	}
	slices.Reverse(c.page.Marks[drawn:]) // whoever reads the page as text reads from the top down
	return y - 1
}

// laserLines are the settings of the laser for the joints of the card, and the one reading of each: what is dialled, which
// way it rises and what is read, as large as the figures of the joints allow; below it how the laser gets its height there, and
// where the reading holds.
func (c *levelCard) laserLines() []noteLine {
	const large, small = 3.6, 2.1
	var said []noteLine
	first, end := c.show[0].row.Chainage, c.show[len(c.show)-1].row.Chainage
	beam, off, settings := true, []noteLine{}, 0
	for _, l := range c.lasers {
		if l.Grade.Leg != c.leg.Name || l.Impossible != "" || l.To.Chainage <= first && !(first == end && l.To.Chainage == end) || l.From.Chainage >= end {
			continue
		}
		low, high := c.laserPlace(l.From, false), c.laserPlace(l.To, true)
		if !l.Setting.Up {
			low, high = high, low
		}
		if text := c.furthest(l); text != "" {
			off = append(off, noteLine{text, small, scene.Bold})
		}
		reading := "________"
		if beam = l.Beam != nil; beam {
			reading = c.rodFigure(l.Setting.Reading)
		}
		settings++
		said = append(said, noteLine{fmt.Sprintf("LASER at %s · dial %s · %s %s", low, dialled(l.Setting.Dial, high), c.words.rod, reading), large, scene.Bold})
		for _, text := range c.heightWords(c.standOf(l)) {
			said = append(said, noteLine{text, small, scene.Bold})
		}
		said = append(said,
			noteLine{fmt.Sprintf("that reading on the %s, left wall, at every joint from %s to %s", l.ReadOn, low, high), small, scene.Regular},
			noteLine{joined("; ", c.lower(c.words.underPad, underPad(l), "lower"), c.lower(c.words.formation, l.Formation, "lower"), c.lower("wall top", l.Wall, "higher"), c.padFall(l)), small, scene.Regular})
	}
	if settings > 2 {
		return []noteLine{{fmt.Sprintf("LASER: %d settings here; see the cards of laying", settings), small, scene.Bold}}
	}
	said = append(said, off...)
	if !beam {
		said = append(said, noteLine{notChecked + ": no height of the beam on file. Read the " + c.words.rod + " where the laser stands, write it on the line", small, scene.Bold})
	}
	return said
}

// dialled is a setting with the way in which the beam goes, seen from the laser.
func dialled(dial measure.Grade, to string) string {
	size := measure.Grade{Rise: dial.Rise.Abs(), Run: dial.Run}.Percent(schedule.GradePlaces)
	switch {
	case dial.Rise > 0:
		return size + " RISING to " + to
	case dial.Rise < 0:
		return size + " FALLING to " + to
	}
	return size + ", LEVEL"
}

func (c *levelCard) lower(what string, l *measure.Length, way string) string {
	if l == nil {
		return ""
	}
	return what + " " + c.rodFigure(*l) + " " + way
}

// underPad is how thick the pads of a part are: so much lower their bed is read; nil: there are none.
func underPad(l schedule.Laser) *measure.Length {
	r := l.From.Levels
	if r == nil || r.PadTop == nil || r.PadBase == nil {
		return nil
	}
	return new(measure.FromMetres(*r.PadTop) - measure.FromMetres(*r.PadBase))
}

// padFall is how much the pads of a part fall or rise over their own length.
func (c *levelCard) padFall(l schedule.Laser) string {
	if l.From.Levels == nil || l.From.Levels.PadFall[1] == nil {
		return ""
	}
	rise := measure.Length(*l.From.Levels.PadFall[1])
	word := "rises"
	if rise < 0 {
		word = "falls"
	}
	return fmt.Sprintf("each %s %s %s", c.words.pad, word, c.gapLength(measure.MM(rise.Abs())))
}

// gapLength is gapFigure with its unit.
func (d *draft) gapLength(l measure.MM) string {
	if d.style.Format.System == measure.Imperial {
		return d.gapFigure(l)
	}
	return d.gapFigure(l) + " mm"
}

// furthest is what the step of the dial leaves at the joint that it leaves most at, where a staff or rod shows it.
func (c *levelCard) furthest(l schedule.Laser) string {
	off := l.Setting.Off[l.Setting.Worst]
	if off.Abs() < measure.Millimetre/2 {
		return ""
	}
	word := "high"
	if off < 0 {
		word = "low"
	}
	return fmt.Sprintf("the dial's step leaves %s %s too %s", l.Joints[l.Setting.Worst].Name, c.fineLength(off.Abs()), word)
}

// laserPlace is where a part of a grade begins or ends; at a step by the unit that the part holds.
func (c *levelCard) laserPlace(r planner.SetOut, end bool) string {
	k := slices.IndexFunc(c.rows, func(o planner.SetOut) bool { return o.Place == r.Place })
	if k >= 0 {
		if _, ok := stepAt(c.rows, k); ok {
			return placeAside(r, end)
		}
	}
	return shortPlace(r)
}

// onPads reports whether any unit of the card stands on pads.
func (c *levelCard) onPads() bool {
	return slices.ContainsFunc(c.show, func(r cardRow) bool { return r.row.Levels != nil && r.row.Levels.PadTop != nil })
}

// otherSupplies name the units of the card that are not of the supply of their leg.
func (c *levelCard) otherSupplies() []string {
	var out []string
	units := c.of[c.legs[c.leg.Name]]
	from, to, supply := "", "", ""
	flush := func() {
		if from == "" {
			return
		}
		if from != to {
			from += " to " + to
		}
		wide := ""
		if w := c.made[supply].width; w > 0 {
			wide = c.rounded(w) + " wide"
		}
		out = append(out, joined(", ", from+": supply "+supply, wide))
		from = ""
	}
	for _, r := range c.show {
		if r.unit >= len(units) {
			continue
		}
		u := c.plan.Units[units[r.unit]]
		if u.Supply == c.legSupply(c.leg.Name) || u.Supply != supply {
			flush()
		}
		if supply = u.Supply; supply == c.legSupply(c.leg.Name) {
			continue
		}
		if from == "" {
			from = u.Mark
		}
		to = u.Mark
	}
	flush()
	return out
}

// coverTops say how far above the wall tops of the card the covers end, by what lies there.
func (c *levelCard) coverTops() []string {
	var said []string
	for _, r := range c.show {
		l := r.row.Levels
		if l == nil || r.wall == nil {
			continue
		}
		top := l.Cover
		if r.before() && l.Before != nil {
			top = l.Before.Cover
		}
		if top == nil {
			continue
		}
		text := c.levelFigure(new(*top - *r.wall))
		units := c.of[c.legs[c.leg.Name]]
		if supply := c.plan.Units[units[min(r.unit, len(units)-1)]].Supply; supply != c.legSupply(c.leg.Name) {
			text += " (" + supply + ")"
		}
		if !slices.Contains(said, text) {
			said = append(said, text)
		}
	}
	if len(said) == 0 {
		return nil
	}
	_, unit, _ := c.coordinateUnit()
	return []string{"top of the " + c.words.cover + " = wall top + " + strings.Join(said, ", + ") + " " + unit}
}

// endGaps say between what the gap at an end of the leg is.
func (c *levelCard) endGaps() []string {
	var out []string
	for _, r := range c.show {
		node, unit, ok := c.node(c.leg.From), strings.TrimPrefix(r.row.Place, "start of "), r.k == 0
		if r.k == len(c.rows)-1 {
			node, unit, ok = c.node(c.leg.To), strings.TrimPrefix(r.row.Place, "end of "), true
		}
		gap := c.gapAt(c.rows, r.k)
		switch {
		case !ok || gap == "":
		case node.Bend != nil && node.Bend.In != "" && node.Bend.Out != "":
			out = append(out, fmt.Sprintf("gap at %s: between the %s faces of %s and %s, square to them", r.place, c.words.mitred, node.Bend.In, node.Bend.Out))
		default:
			what := c.nodeWords(node)
			if name, more, ok := strings.Cut(what, ", "); ok {
				what = name + " (" + more + ")"
			}
			out = append(out, fmt.Sprintf("gap at %s: between %s and %s", r.place, what, unit))
		}
	}
	return out
}

// shortPad is an end of the leg at which the pad on file does not reach along the joint of the mitre.
type shortPad struct {
	k      int    // of the place in the leg
	own    string // how far the pad on file reaches across
	needed string // along the joint
}

// shortPads are the ends of the leg at which the pads on file do not reach along the joint of a mitre.
func (c *levelCard) shortPads() []shortPad {
	made := c.made[c.legSupply(c.leg.Name)]
	own := made.job.Bearing.PadAcross
	if !made.pads || !own.Known || len(c.rows) == 0 {
		return nil
	}
	var out []shortPad
	for _, end := range []struct {
		k    int
		node string
	}{{0, c.leg.From}, {len(c.rows) - 1, c.leg.To}} {
		if b := c.node(end.node).Bend; b != nil && own.Value < measure.Length(b.PadAcross) {
			out = append(out, shortPad{end.k, c.style.Format.Length(own.Value), c.atLeast(b.PadAcross)})
		}
	}
	return out
}

// padsTooShort tells of those that are on the card.
func (c *levelCard) padsTooShort() []string {
	var out []string
	for _, p := range c.shortPads() {
		if slices.ContainsFunc(c.show, func(r cardRow) bool { return r.k == p.k }) {
			out = append(out, fmt.Sprintf("%s at %s: that on file, %s across, does not reach: %s along the joint", c.words.pad, shortPlace(c.rows[p.k]), p.own, p.needed))
		}
	}
	return out
}
