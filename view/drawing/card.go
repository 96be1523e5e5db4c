package drawing

import (
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// CutCards are one small page (A6, on its long side) for every unit and every cover that is cut, in laying order: units
// first, then covers. Impose puts four on one A4.
func CutCards(p planner.Plan, j job.Job, style Style) []scene.Page {
	d := newDraft(p, j, style)
	var pages []scene.Page
	for _, u := range p.Units {
		if u.Piece != nil && u.Cut {
			pages = append(pages, d.card(d.unitPiece(u)))
		}
	}
	for _, c := range p.Covers {
		if c.Cut {
			pages = append(pages, d.card(d.coverPiece(c)))
		}
	}
	return pages
}

// A6 on its long side, in mm, and the lettering of a card. What is measured off for the saw is read at arm's length, with
// the card beside the saw: about a two-hundredth of 0.7 m (common practice, no source).
const (
	cardWidth  = 148.0
	cardHeight = 105.0
	cardEdge   = 5.0
	cardSize   = 1.8 // what is read once
	cardSide   = 3.6 // the two sides
	cardSaw    = 3.0 // the saw's angle
	cardFigure = 2.8 // axis, diagonals, mass, tolerance
)

// piece is a thing to be cut, as its card shows it: a unit or a cover.
type piece struct {
	mark, kind   string
	of           string // units or covers: where its pattern stands
	supply       maker
	leg          string
	hold         bool
	held         *held      // of a unit on hold: what it is measured between
	length       float64    // on the axis, mm
	width        float64    // mm; 0: not on file, drawn as if it were a third of the length
	known        bool       // the width is on file
	start, end   float64    // saw angles with the sign of their hand
	left, right  measure.MM // sides
	diagonalA    string     // left start to right end; empty: the width is not on file
	diagonalB    string     // right start to left end
	sawStart     bool       // the saw makes this end; otherwise it stays as cast
	sawEnd       bool
	mass         string
	massKG       *float64 // nil: not on file
	lift         string
	rating       string
	insertsLeft  []planner.InsertLeft
	spent        []planner.InsertLeft // in the piece and not to be used
	centre       *scene.Point         // from the start of the axis, up is left, mm
	centreNote   string
	cutThings    []string
	cutFrom      string
	turned       bool
	keepsRating  bool
	where        string // unit of a cover, chainage of a unit
	placeOnStock string
}

// card draws one piece. Where a lot is to be said, the words are set smaller before the picture becomes too low to be read.
func (d *draft) card(p piece) scene.Page {
	leastPicture := 25.0 // mm
	if p.held != nil {
		leastPicture = 19 // of what is planned; the saw goes by the table
	}
	var c cardSheet
	for _, size := range []float64{cardSize, 1.7, 1.6, 1.5, 1.4} {
		c = cardSheet{draft: d, p: p, size: size}
		box := c.around()
		if box.Height() >= leastPicture || size == 1.4 {
			c.picture(box)
			break
		}
	}
	return c.page
}

// around sets everything but the picture: how the piece is painted, what stops the saw; at the lower edge how it lies on
// its stock, the figures to measure by, everything else in words. It returns what is left between.
func (c *cardSheet) around() scene.Box {
	c.page = scene.Page{Width: cardWidth, Height: cardHeight, Title: "Cut card " + c.p.mark, Name: "card-" + nameOf(c.p.mark), Level: 1,
		Frame: scene.BoxAt(scene.Point{}, cardWidth, cardHeight).Inset(cardEdge - 2)}
	top := c.banner(c.head())
	if c.p.held != nil {
		bottom := c.heldForm(c.inWords(c.foot()) - 0.8)
		return scene.Box{Left: cardEdge, Top: top + 1.2, Right: cardWidth - cardEdge, Bottom: bottom - 1.8}
	}
	bottom := c.figures(c.inWords(c.foot()) - 0.8)
	return scene.Box{Left: cardEdge, Top: top + 1.2, Right: cardWidth - cardEdge, Bottom: c.stock(bottom-1.2) - 0.6}
}

// nameOf is a mark as part of a page's name.
func nameOf(mark string) string { return strings.NewReplacer("/", "_", " ", "_").Replace(mark) }

type cardSheet struct {
	*draft
	p    piece
	size float64 // of the words
	page scene.Page
}

func (c *cardSheet) add(marks ...scene.Mark) { c.page.Marks = append(c.page.Marks, marks...) }

func (c *cardSheet) text(x, y, size float64, w scene.Weight, text string) {
	c.add(scene.Text{At: scene.Point{X: x, Y: y}, String: text, Size: size, Weight: w})
}

// rule is a level line across the card.
func (c *cardSheet) rule(y, pen float64) {
	c.add(scene.Line(scene.Point{X: cardEdge, Y: y}, scene.Point{X: cardWidth - cardEdge, Y: y}, scene.Pen(pen)))
}

// head is the mark, as it is painted, and what the piece is. It returns where it ends.
func (c *cardSheet) head() float64 {
	base := cardEdge + 8 + cardHead/2
	c.text(cardEdge, base, 6, scene.Bold, c.p.mark)
	x := cardEdge + scene.TextWidth(c.p.mark, 6, scene.Bold) + 5
	const number = 24 // of the card, at the upper right
	kind, size, _ := scene.Fit(c.p.kind, 3, cardSize, scene.Bold, cardWidth-cardEdge-x-number-codeWide)
	c.text(x, base-4, size, scene.Bold, kind)
	c.headLines(x, base, cardSize, joined(" · ", c.p.where, c.plan.Job.Name))
	c.cornerCode(c.p.mark)
	c.rule(base+2.3+cardHead/2, scene.Thick)
	return base + 2.3 + cardHead/2
}

// banner is what must be known before anything is cut: white on black under the head.
func (c *cardSheet) banner(top float64) float64 {
	text := ""
	switch {
	case c.p.hold:
		text = "HOLD, CUT FROM MEASUREMENT: lengths here are planned, not for the saw"
	case len(c.p.cutThings) > 0:
		text = "STOP: do not cut before the engineer has answered, see LOOK AT"
	default:
		return top
	}
	const high, size = 4.6, 2.3
	band := scene.Box{Left: cardEdge, Top: top, Right: cardWidth - cardEdge, Bottom: top + high}
	c.add(scene.Path{Outline: scene.Rectangle(band), Fill: scene.Black},
		scene.Text{At: band.Centre(), String: text, Size: size, Weight: scene.Bold, Align: scene.Centre, VAlign: scene.Middle, Colour: scene.White})
	return band.Bottom
}

// foot says which state of the job the card belongs to and how its figures are rounded. It returns where it begins.
func (c *cardSheet) foot() float64 {
	text := joined(" · ", c.stated(), "lengths "+c.style.Format.Rounding())
	line, size, _ := scene.Fit(text, cardSize, 1.5, scene.Regular, cardWidth-2*cardEdge)
	c.text(cardEdge, cardHeight-cardEdge, size, scene.Regular, line)
	top := cardHeight - cardEdge - cardSize - 1
	c.rule(top, scene.Thin)
	return top
}
