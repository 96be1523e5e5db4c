package drawing

import (
	goqr "github.com/piglig/go-qr"

	"trenchwright/base/measure"
	"trenchwright/view/scene"
)

// The measures of a code in mm, with the quiet round it. Its dark part begins where a printer still prints.
const (
	codeSide    = 16.0 // on a card of A6
	codeSideDay = 20.0 // on a day card, held at arm's length
	codeTop     = 2.4  // on a card of A6: its dark part begins 4 mm down
	codeQuiet   = 4    // modules left white all round (ISO/IEC 18004)
	cardHead    = 3.4  // that the head of a card is higher for it
	codeWide    = 17.0 // that lettering at the upper right keeps free of it
)

// code names the job, its state and a place: what a machine reads off a card is what people type for it.
func (d *draft) code(place string) string {
	return d.plan.Job.ID + " / " + d.style.Stamp.Code(d.plan.Job.Hash) + " / " + place
}

// placeCode is a place of the set-out as it is found by name: a joint, or a chainage on its leg.
func (d *draft) placeCode(leg, place string, chainage measure.MM) string {
	for _, j := range d.plan.Joints {
		if j.Name == place {
			return place
		}
	}
	return leg + " " + d.chainageFigure(chainage)
}

// cornerCode is the code of a small card in its upper right corner.
func (c *cardSheet) cornerCode(place string) {
	c.add(codeMarks(c.code(place), func(module float64) scene.Point {
		return scene.Point{X: cardWidth - cardEdge + float64(codeQuiet*module) - codeSide, Y: codeTop}
	}, codeSide)...)
}

// headLines sets what stands under the first line of a card's head, left of the code: in one line, or in two smaller ones.
func (c *cardSheet) headLines(x, y, size float64, text string) {
	wide := cardWidth - cardEdge - codeWide - x
	if scene.TextWidth(text, cardSize, scene.Regular) > wide {
		if lines := wrappedIn(text, cardSize, scene.Regular, wide); len(lines) == 2 {
			c.text(x, y-0.7, cardSize, scene.Regular, lines[0])
			c.text(x, y-0.7+scene.LineStep(cardSize), cardSize, scene.Regular, lines[1])
			return
		}
	}
	line, size, _ := scene.Fit(text, size, 1.5, scene.Regular, wide)
	c.text(x, y, size, scene.Regular, line)
}

// codeMarks are a QR code (ISO/IEC 18004) of a text as one filled outline, with the quiet round it as wide as side; at is its corner,
// by the size of a module. There are none where a text is longer than a code holds.
func codeMarks(text string, at func(module float64) scene.Point, side float64) []scene.Mark {
	code, err := goqr.EncodeText(text, goqr.Medium)
	if err != nil {
		return nil
	}
	n := code.Size()
	module := side / float64(n+2*codeQuiet)
	corner := at(module)
	dark := func(x, y int) bool { return x >= 0 && y >= 0 && x < n && y < n && code.Module(x, y) }
	return []scene.Mark{scene.Group{Name: "code", Marks: []scene.Mark{scene.Path{Outline: edges(n, dark, func(x, y int) scene.Point {
		return scene.Point{X: corner.X + float64(float64(x+codeQuiet)*module), Y: corner.Y + float64(float64(y+codeQuiet)*module)}
	}), Fill: scene.Black}}}}
}

// edges is the outline round what is dark on a grid of n by n: whole areas, so that no hairline shows between modules. What is dark
// lies to the right of each contour as it runs, a hole runs the other way round.
func edges(n int, dark func(x, y int) bool, at func(x, y int) scene.Point) scene.Outline {
	type step struct{ x, y, way int } // from a corner of the grid, to the right, down, left, up
	moves := [4][2]int{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}
	open := func(s step) bool { // an edge runs there: dark on its right, light on its left
		right := [4][2]int{{0, 0}, {-1, 0}, {-1, -1}, {0, -1}}[s.way]
		left := [4][2]int{{0, -1}, {0, 0}, {-1, 0}, {-1, -1}}[s.way]
		return dark(s.x+right[0], s.y+right[1]) && !dark(s.x+left[0], s.y+left[1])
	}
	var out scene.Outline
	done := map[step]bool{}
	for y := range n {
		for x := range n {
			from := step{x, y, 0}
			if done[from] || !open(from) {
				continue
			}
			out.Move(at(x, y))
			for s := from; !done[s]; {
				done[s] = true
				next := step{s.x + moves[s.way][0], s.y + moves[s.way][1], (s.way + 1) % 4}
				for !open(next) { // right, straight on, left
					next.way = (next.way + 3) % 4
				}
				if next.way != s.way && next != from {
					out.Line(at(next.x, next.y))
				}
				s = next
			}
			out.Close()
		}
	}
	return out
}

// firstCode is where the set-out of the leg begins, as it is found by name.
func (c *levelCard) firstCode() string {
	return c.placeCode(c.leg.Name, c.rows[0].Place, c.rows[0].Chainage)
}
