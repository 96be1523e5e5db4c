package drawing

import (
	"fmt"
	"strings"

	"trenchwright/base/finding"
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

// A6 on its long side, in mm, and the lettering of a card.
const (
	cardWidth  = 148.0
	cardHeight = 105.0
	cardEdge   = 5.0
	cardSize   = 1.8
)

// piece is a thing to be cut, as its card shows it: a unit or a cover.
type piece struct {
	mark, kind   string
	of           string // units or covers: where its pattern stands
	supply       maker
	leg          string
	hold         bool
	length       float64    // on the axis, mm
	width        float64    // mm; 0: not on file, drawn as if it were a third of the length
	known        bool       // the width is on file
	start, end   float64    // saw angles with the sign of their hand
	left, right  measure.MM // sides
	diagonalA    string     // left start to right end
	diagonalB    string
	sawStart     bool // the saw makes this end; otherwise it stays as cast
	sawEnd       bool
	mass         string
	massKG       *float64 // nil: not on file
	lift         string
	rating       string
	insertsLeft  []planner.InsertLeft
	centre       *scene.Point // from the start of the axis, up is left, mm
	centreNote   string
	cutThings    []string
	cutFrom      string
	turned       bool
	keepsRating  bool
	where        string // unit of a cover, chainage of a unit
	placeOnStock string
}

// card draws one piece. Axis and diagonals stand in the drawing; where they find no room there, the words say them.
func (d *draft) card(p piece) scene.Page {
	page, told := d.cardWith(p, false)
	if !told {
		page, _ = d.cardWith(p, true)
	}
	return page
}

func (d *draft) cardWith(p piece, inWords bool) (page scene.Page, told bool) {
	c := cardSheet{draft: d, p: p, inWords: inWords}
	c.page = scene.Page{Width: cardWidth, Height: cardHeight, Title: fmt.Sprintf("Cut card %s", p.mark), Name: "card-" + nameOf(p.mark), Level: 1,
		Frame: scene.BoxAt(scene.Point{}, cardWidth, cardHeight).Inset(cardEdge - 2)}
	c.head()
	bottom := c.cautions(cardHeight - cardEdge)
	bottom = c.facts(bottom - 1.5)
	bottom = c.stock(bottom - 1)
	told = c.picture(scene.Box{Left: cardEdge, Top: cardEdge + 12.4, Right: cardWidth - cardEdge, Bottom: bottom - 1})
	return c.page, told
}

// nameOf is a mark as part of a page's name.
func nameOf(mark string) string { return strings.NewReplacer("/", "_", " ", "_").Replace(mark) }

type cardSheet struct {
	*draft
	p    piece
	page scene.Page

	inWords bool // axis and diagonals are to be told in words
}

func (c *cardSheet) add(marks ...scene.Mark) { c.page.Marks = append(c.page.Marks, marks...) }

func (c *cardSheet) text(x, y, size float64, w scene.Weight, text string) {
	c.add(scene.Text{At: scene.Point{X: x, Y: y}, String: text, Size: size, Weight: w})
}

// head is the mark, as it is painted, and what the piece is.
func (c *cardSheet) head() {
	base := cardEdge + 8
	c.text(cardEdge, base, 6, scene.Bold, c.p.mark)
	x := cardEdge + scene.TextWidth(c.p.mark, 6, scene.Bold) + 5
	room := cardWidth - cardEdge - x - 24
	kind, size, _ := scene.Fit(c.p.kind, 2.6, 1.8, scene.Bold, room)
	c.text(x, base-3.8, size, scene.Bold, kind)
	line := joined(" · ", c.p.where, c.plan.Job.Name)
	line, size, _ = scene.Fit(line, cardSize, 1.6, scene.Regular, cardWidth-cardEdge-x)
	c.text(x, base, size, scene.Regular, line)
	c.add(scene.Line(scene.Point{X: cardEdge, Y: base + 2.5}, scene.Point{X: cardWidth - cardEdge, Y: base + 2.5}, scene.Pen(scene.Thick)))
	if c.p.hold {
		text := "HOLD, CUT FROM MEASUREMENT: lengths here are planned, not for the saw"
		c.add(scene.Text{At: scene.Point{X: cardWidth / 2, Y: base + 5.6}, String: text, Size: 2.2, Weight: scene.Bold, Align: scene.Centre})
	}
}

// cautions stand along the lower edge of every card.
func (c *cardSheet) cautions(bottom float64) float64 {
	text := "Cut wet. Silica dust: follow the local rule, for example OSHA 1926.1153 Table 1."
	if len(c.p.cutThings) > 0 {
		text += " LOOK AT: " + strings.Join(c.p.cutThings, "; ") + ". Do not cut before the engineer has answered."
	} else {
		text += " Where the saw meets an insert or a bar: stop, ask the engineer."
	}
	if c.p.keepsRating {
		text += " The supplier says that cut pieces keep their rating: " + suffixed(c.p.rating, ".")
	} else {
		text += " A cut piece does not inherit a rating. NOT CHECKED: no rating of cut pieces on file. Ask: the supplier."
	}
	rest := joined(" · ", prefixed("revision ", c.plan.Job.Revision), c.plan.Job.On, "job "+short(c.plan.Job.Hash), "lengths "+c.style.Format.Rounding())
	lines := wrapped(text, cardSize, cardWidth-2*cardEdge)
	lines = append(lines, wrapped(rest, cardSize, cardWidth-2*cardEdge)...)
	step := scene.LineStep(cardSize)
	top := bottom - float64(step*float64(len(lines))) + (step - cardSize)
	c.add(scene.Line(scene.Point{X: cardEdge, Y: top - 1.6}, scene.Point{X: cardWidth - cardEdge, Y: top - 1.6}, scene.Pen(scene.Thin)),
		scene.Text{At: scene.Point{X: cardEdge, Y: top}, String: strings.Join(lines, "\n"), Size: cardSize, VAlign: scene.Top})
	return top - 1.6
}

// facts are everything in words: short facts in two columns, and below them the long ones across the card.
func (c *cardSheet) facts(bottom float64) float64 {
	const columns, gap, word, short = 2, 4.0, 14.5, 2 // lines of a short fact
	width := (cardWidth - 2*cardEdge - gap*(columns-1)) / columns
	var brief, long []bandRow
	for _, f := range c.said() {
		if lines := wrapped(f.text, cardSize, width-word); len(lines) <= short {
			brief = append(brief, bandRow{f.name, lines})
			continue
		}
		long = append(long, bandRow{f.name, wrapped(f.text, cardSize, cardWidth-2*cardEdge-word)})
	}
	const all = 1000
	cells, depth := flow(brief, columns, all)
	below, more := flow(long, 1, all)
	step := scene.LineStep(cardSize)
	top := bottom - float64(step*float64(depth+more))
	set := func(cells []bandCell, line int) {
		for _, cell := range cells {
			at := scene.Point{X: cardEdge + float64((width+gap)*float64(cell.column)), Y: top + float64(step*float64(cell.line+line))}
			c.add(scene.Text{At: at, String: cell.word, Size: cardSize, Weight: scene.Bold, VAlign: scene.Top},
				scene.Text{At: at.Add(scene.Point{X: word}), String: strings.Join(cell.lines, "\n"), Size: cardSize, VAlign: scene.Top})
		}
	}
	set(cells, 0)
	set(below, depth)
	return top - 1
}

// said are the facts of a card, the ones for the saw first.
func (c *cardSheet) said() []fact {
	var out []fact
	add := func(name, text string) {
		if text != "" {
			out = append(out, fact{name, text})
		}
	}
	add("saw", c.sawWords())
	if c.inWords || !c.p.known {
		add("axis", c.length(length(c.p.length)))
		add("diagonals", c.diagonalWords())
	}
	add("tolerance", c.tolerance())
	add("from", c.p.placeOnStock)
	add("offcut", c.offcutWords())
	add("mass", c.p.mass)
	add("lift", c.p.lift)
	add("inserts", c.insertWords())
	add("balance", c.balanceWords())
	add("findings", c.findingWords())
	return out
}

func (c *cardSheet) diagonalWords() string {
	if !c.p.known {
		return notChecked + ": no width on file. Ask: the supplier"
	}
	return fmt.Sprintf("left start to right end %s, right start to left end %s", c.p.diagonalA, c.p.diagonalB)
}

func (c *cardSheet) balanceWords() string {
	if c.p.centre == nil {
		return ""
	}
	side := "on the axis"
	if y := c.p.centre.Y; y > 0.5 {
		side = c.rounded(y) + " left of the axis"
	} else if y < -0.5 {
		side = c.rounded(-y) + " right of the axis"
	}
	return joined("; ", fmt.Sprintf("%s of gravity %s from the start, %s", c.words.centre, c.rounded(c.p.centre.X), side), c.p.centreNote)
}

// findingWords name the findings of the piece; those that forbid something are told in full.
func (c *cardSheet) findingWords() string {
	text := ""
	for _, f := range c.concerns(func(f finding.Finding) bool { return f.Where.Place == c.p.mark }) {
		switch f.Kind {
		case finding.NotChecked, finding.Assumed:
			text = joined("; ", text, f.name+" "+kindWord(f.Kind))
		default:
			text = joined("; ", text, f.sentence())
		}
	}
	return text
}

// sawWords are the cuts at both ends: how far from square, and which side comes out long there.
func (c *cardSheet) sawWords() string {
	end := func(name string, a float64, sawn bool) string {
		switch {
		case a != 0:
			return fmt.Sprintf("%s %s from square, %s side long", name, angle(a), longSide(a, name == "start"))
		case sawn:
			return name + " square"
		}
		return ""
	}
	return joined("; ", end("start", c.p.start, c.p.sawStart), end("end", c.p.end, c.p.sawEnd))
}

func (c *cardSheet) tolerance() string {
	if t := c.job.Rules.SawTolerance; t.Known {
		text := c.style.Format.Length(t.Value)
		if t.Assumed {
			text += ", assumed"
		}
		return text
	}
	if t := c.p.supply.head.SawTol; t != "" {
		return t
	}
	return notChecked + ": no saw tolerance on file. Ask: the engineer"
}

func (c *cardSheet) insertWords() string {
	if c.p.of != "units" || c.p.hold { // on hold: the cut will say
		return ""
	}
	if len(c.p.insertsLeft) == 0 {
		return "none remain"
	}
	var all []string
	for _, i := range c.p.insertsLeft {
		all = append(all, fmt.Sprintf("%s %s", i.Side, c.length(i.X)))
	}
	return fmt.Sprintf("%d remain, from the start: %s", len(c.p.insertsLeft), strings.Join(all, ", "))
}
