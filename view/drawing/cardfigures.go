package drawing

import (
	"math"
	"strings"

	"trenchwright/view/scene"
)

// figureCell is one figure of the row to measure by.
type figureCell struct {
	name, text string
	width      float64 // mm of paper
	diagonal   diagonal
}

// diagonal is the one that a figure measures.
type diagonal int

const (
	noDiagonal    diagonal = iota
	fromLeftStart          // to the right end
	fromRightStart
)

// figures are the row of what is measured on the piece, between two rules. It returns where it begins.
func (c *cardSheet) figures(bottom float64) float64 {
	const high = 8.2
	top, x := bottom-high, cardEdge
	c.rule(top, scene.Thin)
	c.rule(bottom, scene.Thin)
	for i, cell := range []figureCell{
		{name: "axis", text: c.length(length(c.p.length)), width: 25},
		{name: "left start to right end", text: brief(c.p.diagonalA), width: 37, diagonal: fromLeftStart},
		{name: "right start to left end", text: brief(c.p.diagonalB), width: 37, diagonal: fromRightStart},
		{name: "mass", text: brief(c.p.mass), width: 20},
		{name: "saw tolerance", text: brief(c.tolerance()), width: 19},
	} {
		if i > 0 {
			c.add(scene.Line(scene.Point{X: x, Y: top}, scene.Point{X: x, Y: bottom}, scene.Pen(scene.Thin)))
		}
		c.figure(cell, scene.Box{Left: x, Top: top, Right: x + cell.width, Bottom: bottom})
		x += cell.width
	}
	return top
}

// brief is the figure that a text begins with; the words on the card tell the rest.
func brief(text string) string {
	if strings.HasPrefix(text, notChecked) || text == "" {
		return notChecked
	}
	figure, _, _ := strings.Cut(text, " (")
	figure, _, _ = strings.Cut(figure, ", ")
	return figure
}

func (c *cardSheet) figure(cell figureCell, box scene.Box) {
	inner := scene.Box{Left: box.Left + 1.5, Top: box.Top + 1.2, Right: box.Right - 1, Bottom: box.Bottom - 1.3}
	if box.Left == cardEdge {
		inner.Left = cardEdge
	}
	if cell.diagonal != noDiagonal {
		const icon = 9.0
		c.icon(cell.diagonal, scene.Box{Left: inner.Left, Top: inner.Top, Right: inner.Left + icon, Bottom: inner.Bottom})
		inner.Left += icon + 1.5
	}
	name, size, _ := scene.Fit(cell.name, cardSize, 1.4, scene.Regular, inner.Width())
	c.add(scene.Text{At: inner.Corner(), String: name, Size: size, VAlign: scene.Top})
	text, size, _ := scene.Fit(cell.text, cardFigure, 1.4, scene.Bold, inner.Width())
	c.add(scene.Text{At: scene.Point{X: inner.Left, Y: inner.Bottom}, String: text, Size: size, Weight: scene.Bold})
}

// icon is the piece with one of its diagonals.
func (c *cardSheet) icon(which diagonal, box scene.Box) {
	q := c.p.corners()
	k := math.Min(box.Width()/(q.high-q.low), box.Height()/c.p.width)
	at := func(p scene.Point) scene.Point {
		return scene.Point{X: box.Centre().X + float64((p.X-(q.low+q.high)/2)*k), Y: box.Centre().Y - float64(p.Y*k)}
	}
	ls, le, re, rs := at(q.leftStart), at(q.leftEnd), at(q.rightEnd), at(q.rightStart)
	from, to := ls, re
	if which == fromRightStart {
		from, to = rs, le
	}
	c.add(scene.Path{Outline: scene.Polygon(ls, le, re, rs), Stroke: scene.Pen(scene.Thin)}, scene.Line(from, to, scene.Pen(scene.Thick)))
}
