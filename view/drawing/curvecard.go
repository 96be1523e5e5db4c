package drawing

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"trenchwright/base/measure"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// How far one string of a curve reaches: as many units as leave rows that are read at arm's length, and no further than a
// builder's line is stretched without sagging (20 m: common practice, no source).
const (
	mostOnString  = mostOnCard - 1
	longestString = 20000.0 // mm
)

// legCurve is one circular part of a leg.
type legCurve struct {
	from, to, radius measure.MM // chainages and radius on the ground
	hand             string     // looking up-chainage
}

// curvesOf are the curves of a leg, along it.
func (d *draft) curvesOf(l planner.Leg) []legCurve {
	var out []legCurve
	for _, part := range l.Axis {
		if part.Radius != 0 {
			out = append(out, legCurve{part.FromChainage, part.ToChainage, groundRadius(part), hand(part.Radius)})
		}
	}
	return out
}

// curveSaid is a curve in words: which way it turns, how sharply, and from where to where.
func (d *draft) curveSaid(c legCurve) string {
	return fmt.Sprintf("curve %s, R %s, from %s to %s", c.hand, d.along(c.radius), d.chainage(c.from), d.chainage(c.to))
}

// stringLine is a straight string beside or along a part of a curve: its two ends, and the joints from the first to the last.
type stringLine struct {
	ends   [2]stringEnd
	long   float64 // on the ground, mm
	joints []stringJoint
}

// stringEnd is what a string is stretched from or to.
type stringEnd struct {
	place string
	peg   bool // else the middle of the joint itself
	at    spot // easting and northing, m
}

// stringJoint is where the middle of a joint lies: along the string from its first end, and square to it, left positive, mm
// on the ground.
type stringJoint struct {
	row        planner.SetOut
	along, off float64
}

// curveStrings are the strings that the curves of a leg are set out from: from the last place before a curve to the first
// behind it, in parts that a string can be stretched over.
func (c *levelCard) curveStrings() []stringLine {
	var out []stringLine
	last := 0 // the place that the string before ended at
	for _, curve := range c.curvesOf(c.leg) {
		from, to := 0, len(c.rows)-1
		for k, r := range c.rows {
			if r.Chainage <= curve.from {
				from = k
			}
			if r.Chainage >= curve.to && k < to {
				to = k
			}
		}
		for from = max(from, last); from < to; from = last {
			last = c.stringReach(from, to)
			out = append(out, c.stringBetween(from, last))
		}
	}
	return out
}

// stringReach is the place that a string from one place reaches, on the way to another: what is left is parted evenly.
func (c *levelCard) stringReach(from, to int) int {
	long := 0.0
	for k := from; k < to; k++ {
		long = max(long, mm(c.rows[k+1].Chainage-c.rows[k].Chainage))
	}
	most := max(1, min(mostOnString, int(longestString/long)))
	return evenly(from, to, most)[0][1]
}

// stringBetween is the string from one place to another: between their pegs where both have one on one side that lasts.
func (c *levelCard) stringBetween(from, to int) stringLine {
	var s stringLine
	pegs := [2]*planner.Peg{}
	for i, k := range []int{from, to} {
		r := c.rows[k]
		s.ends[i] = stringEnd{place: shortPlace(r), at: spot{r.E, r.N}}
		pegs[i] = c.lastingPeg(r.Place)
	}
	if a, b := pegs[0], pegs[1]; a != nil && b != nil && a.Side == b.Side {
		for i, p := range pegs {
			s.ends[i].peg, s.ends[i].at = true, spot{p.E, p.N}
		}
	}
	factor := c.groundFactor()
	chord := s.ends[1].at.sub(s.ends[0].at)
	way := unitVector(chord)
	left := way.left()
	s.long = chord.length() / factor * 1000
	for _, r := range c.rows[from : to+1] {
		v := spot{r.E, r.N}.sub(s.ends[0].at).times(1000 / factor)
		s.joints = append(s.joints, stringJoint{r, float64(v.e*way.e) + float64(v.n*way.n), float64(v.e*left.e) + float64(v.n*left.n)})
	}
	return s
}

// lastingPeg is the peg of a place of the leg; nil where it has none or it does not last.
func (c *levelCard) lastingPeg(place string) *planner.Peg {
	for _, p := range c.pegsOf(c.leg.Name) {
		if p.Place == place && len(p.Lost) == 0 {
			return &p
		}
	}
	return nil
}

// groundFactor is what a length on the ground is multiplied by to be one between coordinates; 1 where no factor is on file,
// and then the cards say that it is not.
func (d *draft) groundFactor() float64 {
	if factor, err := strconv.ParseFloat(d.plan.Job.ScaleFactor, 64); err == nil && factor > 0 {
		return factor
	}
	return 1
}

// curveCards are the strings of the leg's curves, each on a card of its own.
func (c *levelCard) curveCards() []scene.Page {
	all := c.curveStrings()
	var out []scene.Page
	for i, s := range all {
		out = append(out, c.drawCurve(s, i+1, len(all)))
	}
	return out
}

func (c *levelCard) drawCurve(s stringLine, n, of int) scene.Page {
	title := fmt.Sprintf("Set-out card %s, curve %d of %d", c.leg.Name, n, of)
	c.page = scene.Page{Width: cardWidth, Height: cardHeight, Title: title, Name: fmt.Sprintf("levels-%s-curve-%d", nameOf(c.leg.Name), n), Level: 1,
		Frame: scene.BoxAt(scene.Point{}, cardWidth, cardHeight).Inset(cardEdge - 2)}
	what := "the middle of the joint at "
	if s.ends[0].peg {
		what = "the peg at "
	}
	top := c.headOf(fmt.Sprintf("curve, string %d of %d", n, of), fmt.Sprintf("from %s%s to %s%s, %s long", what, s.ends[0].place, what, s.ends[1].place, c.along(length(s.long))), c.firstCode())
	_, unit, _ := c.coordinateUnit()
	c.footOfStart(unit)
	lines := c.curveNotes(s)
	y := pegFoot() - 1.2 - float64(scene.LineStep(noteSize)*float64(len(lines)-1))
	bottom := y - noteSize - 1
	for _, line := range lines {
		c.text(cardEdge, y, noteSize, scene.Bold, line)
		y += scene.LineStep(noteSize)
	}
	c.grid(scene.Box{Left: cardEdge, Top: top, Right: cardWidth - cardEdge, Bottom: bottom}, c.curveColumns(s), func(top, bottom float64) ([]float64, float64) {
		return c.ruled(len(s.joints), top, bottom)
	})
	return c.page
}

// ruled rules rows of one height from top down. It returns where they begin and how high one is.
func (c *cardSheet) ruled(rows int, top, bottom float64) (tops []float64, high float64) {
	high = math.Min(13, (bottom-top)/float64(rows))
	for k := range rows {
		y := top + float64(high*float64(k))
		c.rule(y, scene.Thin)
		tops = append(tops, y)
	}
	return tops, high
}

// curveNotes say what the figures of a string are, and which curve it belongs to.
func (c *levelCard) curveNotes(s stringLine) []string {
	first, end := s.joints[0].row.Chainage, s.joints[len(s.joints)-1].row.Chainage
	var said []string
	for _, curve := range c.curvesOf(c.leg) {
		if curve.from < end && curve.to > first {
			said = append(said, capital(c.curveSaid(curve))+", looking "+c.words.upChainage)
		}
	}
	said = append(said, fmt.Sprintf("along: level, on the string from %s; offset: level, square to the string, ← left or → right of it looking %s, to the middle of the joint on the %s", s.ends[0].place, c.words.upChainage, c.words.centreline))
	if !s.ends[0].peg {
		said = append(said, fmt.Sprintf("%s at %s, %s; %s at %s, %s", s.ends[0].place, c.eastNorth(s.ends[0].at.e), c.eastNorth(s.ends[0].at.n), s.ends[1].place, c.eastNorth(s.ends[1].at.e), c.eastNorth(s.ends[1].at.n)))
	}
	if _, err := strconv.ParseFloat(c.plan.Job.ScaleFactor, 64); err != nil && c.plan.Job.ScaleFactor != "ground" {
		said = append(said, notChecked+": no scale factor on file; figures are those between coordinates. Ask: the surveyor")
	}
	var lines []string
	for _, text := range said {
		lines = append(lines, wrappedIn(text, noteSize, scene.Bold, cardWidth-2*cardEdge)...)
	}
	return lines
}

func (c *levelCard) curveColumns(s stringLine) []cardColumn {
	cells := func(of func(j stringJoint) string) []string {
		var out []string
		for _, j := range s.joints {
			out = append(out, of(j))
		}
		return out
	}
	unit := ""
	if c.lengthUnit() == "mm" {
		unit = "[m]"
	}
	return slices.Clip([]cardColumn{
		{[2]string{"place", ""}, cells(func(j stringJoint) string { return shortPlace(j.row) }), true, nil, nil},
		{[2]string{c.chainageHead(c.words.chainage), ""}, cells(func(j stringJoint) string { return c.chainageFigure(j.row.Chainage) }), false, nil, nil},
		{[2]string{"along", unit}, cells(func(j stringJoint) string { return c.depthFigure(length(j.along)) }), true, nil, nil},
		{[2]string{"offset", unit}, cells(func(j stringJoint) string { return c.offsetFigure(j.off) }), true, nil, nil},
	})
}

// offsetFigure is how far something lies to a side, mm, left positive: ← 0.063.
func (d *draft) offsetFigure(off float64) string {
	figure := d.depthFigure(length(math.Abs(off)))
	if figure == d.depthFigure(0) {
		return figure
	}
	if off < 0 {
		return "→ " + figure
	}
	return "← " + figure
}

// curveNote tells of the curves that the joints of a card lie on.
func (c *levelCard) curveNote() []string {
	var out []string
	first, end := c.show[0].row.Chainage, c.show[len(c.show)-1].row.Chainage
	for _, curve := range c.curvesOf(c.leg) {
		if curve.from <= end && curve.to >= first {
			out = append(out, capital(c.curveSaid(curve))+": strings on the curve cards")
		}
	}
	return out
}

// curveWords tell on the first card of a leg which curves it has.
func (c *levelCard) curveWords() []string {
	var out []string
	for _, curve := range c.curvesOf(c.leg) {
		out = append(out, "NOT STRAIGHT: "+c.curveSaid(curve)+"; set out from the strings of the curve cards")
	}
	return out
}
