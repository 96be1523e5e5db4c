package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// pattern finds the stock that a piece is cut from.
func (d *draft) pattern(p piece) (planner.CutPattern, bool) {
	for _, cut := range d.plan.Cutting {
		if cut.Of != p.of || cut.Supply != p.supply.head.ID {
			continue
		}
		for _, pattern := range cut.Patterns {
			for _, place := range pattern.Pieces {
				if place.Mark == p.mark {
					return pattern, true
				}
			}
		}
	}
	return planner.CutPattern{}, false
}

// sawnEnds tells which ends of a cover the saw makes: those that do not lie at an end of what it is cut from. Where the
// cutting list does not say, it is the slanted ends, and the end of a square one.
func (d *draft) sawnEnds(p piece) (start, end bool) {
	pattern, ok := d.pattern(p)
	if !ok {
		return p.start != 0, p.end != 0 || p.start == 0
	}
	for _, place := range pattern.Pieces {
		if place.Mark != p.mark {
			continue
		}
		low, high := place.From > 0 || place.FromTan != 0, place.To < pattern.Stock || place.ToTan != 0
		if place.Turned {
			return high, low
		}
		return low, high
	}
	return p.start != 0, p.end != 0
}

// stockWords say what a piece is cut from and where it lies on it.
func (d *draft) stockWords(p piece) string {
	if p.hold && p.of == "units" {
		return "a whole " + d.words.unit + ", when it has been measured"
	}
	pattern, ok := d.pattern(p)
	if !ok {
		return joined(", ", p.cutFrom, "the cutting list does not say where on it")
	}
	whole := d.length(pattern.Stock)
	if pattern.Offcut {
		whole = "an offcut in the yard, " + whole
	}
	text := ""
	for _, place := range pattern.Pieces {
		if place.Mark == p.mark {
			text = fmt.Sprintf("%s to %s from end\u00a0A", d.figure(place.From), d.length(place.To))
			if place.FromTan != 0 || place.ToTan != 0 {
				text += ", on the axis"
			}
		}
	}
	return joined(": ", pattern.Name+", "+whole, text)
}

// offcutWords say what comes off the same stock.
func (c *cardSheet) offcutWords() string {
	pattern, ok := c.pattern(c.p)
	if !ok {
		return ""
	}
	text := ""
	for _, l := range pattern.Left {
		word := "too short to use"
		if l.Usable {
			word = "keep"
		}
		text = joined("; ", text, fmt.Sprintf("%s, %s, %s", l.Mark, c.length(l.To-l.From), word))
	}
	if text == "" {
		return "none"
	}
	return text
}

// asLaid is the pattern that the piece is cut by, turned half round where the piece lies turned on its stock, so that its
// start is on the left.
func (c *cardSheet) asLaid() (pattern planner.CutPattern, turned, ok bool) {
	pattern, ok = c.pattern(c.p)
	if i := slices.IndexFunc(pattern.Pieces, c.mine); i >= 0 && pattern.Pieces[i].Turned {
		return halfRound(pattern), true, ok
	}
	return pattern, false, ok
}

func (c *cardSheet) mine(p planner.CutPlace) bool { return p.Mark == c.p.mark }

// halfRound is a pattern with end B on the left. The slope of a cut stays as it is.
func halfRound(p planner.CutPattern) planner.CutPattern {
	q := p
	q.Pieces, q.Left = nil, nil
	for _, k := range slices.Backward(p.Pieces) {
		k.From, k.To, k.FromTan, k.ToTan = p.Stock-k.To, p.Stock-k.From, k.ToTan, k.FromTan
		q.Pieces = append(q.Pieces, k)
	}
	for _, l := range slices.Backward(p.Left) {
		l.From, l.To = p.Stock-l.To, p.Stock-l.From
		q.Left = append(q.Left, l)
	}
	return q
}

// beyond says what lies beyond the start and the end of the piece on its stock.
func (c *cardSheet) beyond() (start, end string) {
	pattern, turned, ok := c.asLaid()
	i := slices.IndexFunc(pattern.Pieces, c.mine)
	if !ok || i < 0 {
		return "", ""
	}
	first, last := "end A of the stock", "end B of the stock"
	if turned {
		first, last = last, first
	}
	start, end = first, last
	if c.p.sawStart {
		start = "comes off: " + nearest(pattern, -1, mm(pattern.Pieces[i].From))
	}
	if c.p.sawEnd {
		end = "comes off: " + nearest(pattern, 1, mm(pattern.Pieces[i].To))
	}
	return start, end
}

// nearest is the piece or offcut that comes next from a station on, along the stock (way 1) or against it (way -1).
func nearest(p planner.CutPattern, way, from float64) string {
	mark, least := "waste", math.Inf(1)
	look := func(name string, low, high measure.MM) {
		if d := way * ((mm(low)+mm(high))/2 - from); d > 0 && d < least {
			mark, least = name, d
		}
	}
	for _, k := range p.Pieces {
		look(k.Mark, k.From, k.To)
	}
	for _, l := range p.Left {
		look(l.Mark, l.From, l.To)
	}
	return mark
}

// stock is the bar of the stock as the picture above it lies, with every piece, saw cut and offcut on it; this piece is
// hatched. It returns where it begins.
func (c *cardSheet) stock(bottom float64) float64 {
	const high = 5.0
	pattern, turned, ok := c.asLaid()
	if !ok || pattern.Stock <= 0 {
		return bottom
	}
	first, last := "A", "B"
	if turned {
		first, last = last, first
	}
	left, right := cardEdge+6.0, cardWidth-cardEdge-6
	k := (right - left) / mm(pattern.Stock)
	top := bottom - high
	for _, letter := range []scene.Text{{At: scene.Point{X: cardEdge}, String: first}, {At: scene.Point{X: cardWidth - cardEdge}, String: last, Align: scene.Right}} {
		letter.At.Y, letter.Size, letter.Weight, letter.VAlign = top+high/2, 2.2, scene.Bold, scene.Middle
		c.add(letter)
	}
	b := bar{left: left, top: top, high: high, k: k, lean: math.Min(high/2, c.p.width*k/2)} // of a cut at 45°
	c.add(scene.Path{Outline: b.whole(pattern), Stroke: scene.Pen(scene.Medium)})
	for _, p := range pattern.Pieces {
		c.stockPiece(p, b)
	}
	set, lanes := fly(c.stockNames(pattern, b), cardEdge, cardWidth-cardEdge, cardSize)
	c.add(hoist(set, top-0.6, cardSize, false)...)
	return top - float64(scene.LineStep(cardSize)*float64(lanes))
}

// stockNames write what is on the bar into it; what has no room there is handed back to fly over it.
func (c *cardSheet) stockNames(pattern planner.CutPattern, b bar) (over []pennant) {
	name := func(from, to float64, text string, w scene.Weight, must bool) {
		x := b.x((from + to) / 2)
		if scene.TextWidth(text, cardSize, w)+2.5+float64(2*b.lean) < (to-from)*b.k {
			c.add(scene.Text{At: scene.Point{X: x, Y: b.top + b.high/2}, String: text, Size: cardSize, Weight: w, Align: scene.Centre, VAlign: scene.Middle, Halo: 0.5})
		} else if must {
			over = append(over, pennant{x: x, text: text, weight: w})
		}
	}
	for _, p := range pattern.Pieces {
		weight := scene.Regular
		if c.mine(p) {
			weight = scene.Bold
		}
		name(mm(p.From), mm(p.To), joined(" ", p.Mark, c.length(p.To-p.From)), weight, true)
	}
	for _, l := range pattern.Left {
		name(mm(l.From), mm(l.To), joined(" ", l.Mark, c.length(l.To-l.From)), scene.Regular, true)
	}
	for _, w := range waste(pattern) {
		name(w.from, w.to, "waste", scene.Regular, false)
	}
	return over
}

// spentInserts are the inserts that are in the piece and not to be used: too near a saw cut, or cut through.
func (d *draft) spentInserts(p piece) []planner.InsertLeft {
	pattern, _ := d.pattern(p)
	i := slices.IndexFunc(pattern.Pieces, func(k planner.CutPlace) bool { return k.Mark == p.mark })
	if i < 0 || pattern.Offcut {
		return nil
	}
	place, q := pattern.Pieces[i], p.corners()
	var out []planner.InsertLeft
	for _, c := range p.supply.job.Unit.CastIn {
		if c.Kind != "insert" || measure.MM(c.Of) != pattern.Stock {
			continue
		}
		at := planner.InsertLeft{Name: c.Name, Side: insertSide(c.Side, place.Turned), X: measure.MM(c.At) - place.From}
		if c.End == "B" {
			at.X = pattern.Stock - measure.MM(c.At) - place.From
		}
		if place.Turned {
			at.X = place.To - place.From - at.X
		}
		from, to := 0.0, p.length
		switch at.Side {
		case "left":
			from, to = q.leftStart.X, q.leftEnd.X
		case "right":
			from, to = q.rightStart.X, q.rightEnd.X
		}
		reach := mm(measure.MM(c.Diameter)) / 2
		if mm(at.X) > from-reach && mm(at.X) < to+reach && !slices.ContainsFunc(p.insertsLeft, func(l planner.InsertLeft) bool { return l.X == at.X && l.Side == at.Side }) {
			out = append(out, at)
		}
	}
	return out
}

// insertSide is the side of a cast-in thing as the piece lies.
func insertSide(side string, turned bool) string {
	switch {
	case side != "left" && side != "right":
		return "middle"
	case (side == "left") == turned:
		return "right"
	}
	return "left"
}

// waste are the stretches of a stock unit that are neither a piece nor an offcut with a mark.
func waste(p planner.CutPattern) []span {
	var taken []span
	for _, piece := range p.Pieces {
		taken = append(taken, span{mm(piece.From), mm(piece.To)})
	}
	for _, l := range p.Left {
		taken = append(taken, span{mm(l.From), mm(l.To)})
	}
	sorting.By(taken, func(a, b span) int { return cmp.Compare(a.from, b.from) })
	var out []span
	at := 0.0
	for _, t := range append(taken, span{mm(p.Stock), mm(p.Stock)}) {
		if t.from > at {
			out = append(out, span{at, t.from})
		}
		at = math.Max(at, t.to)
	}
	return out
}

// stockPiece is one piece on the bar, this card's own one hatched.
func (c *cardSheet) stockPiece(p planner.CutPlace, b bar) {
	if c.mine(p) {
		c.add(scene.Hatch{Area: b.piece(p), Pattern: scene.Diagonal, Spacing: 1.4})
	}
	c.add(scene.Path{Outline: b.piece(p), Stroke: scene.Pen(scene.Thick)})
}
