package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"

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
			text = fmt.Sprintf("%s to %s from its end A", d.figure(place.From), d.length(place.To))
			if place.Turned {
				text += ", end B laid first"
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

// stock is the bar of the stock with every piece, saw cut and offcut on it; this piece is hatched.
func (c *cardSheet) stock(bottom float64) float64 {
	const high = 5.0
	pattern, ok := c.pattern(c.p)
	if !ok || pattern.Stock <= 0 {
		return bottom
	}
	left, right := cardEdge+5.0, cardWidth-cardEdge-5
	k := (right - left) / mm(pattern.Stock)
	top := bottom - high
	lean := math.Min(high/2, c.p.width*k/2) // of a cut at 45°
	c.add(scene.Text{At: scene.Point{X: cardEdge + 1, Y: top + high/2}, String: "A", Size: cardSize, Weight: scene.Bold, VAlign: scene.Middle},
		scene.Text{At: scene.Point{X: cardWidth - cardEdge - 1, Y: top + high/2}, String: "B", Size: cardSize, Weight: scene.Bold, VAlign: scene.Middle, Align: scene.Right})
	b := bar{left: left, top: top, high: high, k: k, lean: lean}
	c.add(scene.Path{Outline: b.whole(pattern), Stroke: scene.Pen(scene.Medium)})
	var labels []pennant
	name := func(from, to float64, text string, w scene.Weight) {
		x := left + float64((from+to)/2*k)
		if scene.TextWidth(text, cardSize, w)+2.5+float64(2*lean) < (to-from)*k {
			c.add(scene.Text{At: scene.Point{X: x, Y: top + high/2}, String: text, Size: cardSize, Weight: w, Align: scene.Centre, VAlign: scene.Middle, Halo: 0.5})
			return
		}
		labels = append(labels, pennant{x: x, text: text, weight: w})
	}
	for _, p := range pattern.Pieces {
		c.stockPiece(p, b)
		weight := scene.Regular
		if p.Mark == c.p.mark {
			weight = scene.Bold
		}
		name(mm(p.From), mm(p.To), joined(" ", p.Mark, c.figure(p.To-p.From)), weight)
	}
	for _, l := range pattern.Left {
		name(mm(l.From), mm(l.To), joined(" ", l.Mark, c.figure(l.To-l.From)), scene.Regular)
	}
	for _, w := range waste(pattern) {
		if scene.TextWidth("waste", cardSize, scene.Regular)+2.5+float64(2*lean) < (w.to-w.from)*k {
			c.add(scene.Text{At: scene.Point{X: left + float64((w.from+w.to)/2*k), Y: top + high/2}, String: "waste", Size: cardSize, Align: scene.Centre, VAlign: scene.Middle})
		}
	}
	set, lanes := fly(labels, cardEdge, cardWidth-cardEdge, cardSize)
	c.add(hoist(set, top-0.6, cardSize, false)...)
	return top - float64(scene.LineStep(cardSize)*float64(lanes)) - 1.5
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
	slices.SortFunc(taken, func(a, b span) int { return cmp.Compare(a.from, b.from) })
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
	if p.Mark == c.p.mark {
		c.add(scene.Hatch{Area: b.piece(p), Pattern: scene.Diagonal, Spacing: 1.4})
	}
	c.add(scene.Path{Outline: b.piece(p), Stroke: scene.Pen(scene.Thick)})
}
