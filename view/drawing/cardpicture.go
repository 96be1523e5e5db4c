package drawing

import (
	"math"

	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// Room round the piece, in mm.
const (
	sideGap   = 1.5 // from an edge to the figure of its length
	endGap    = 2.2 // from an end to its words
	stubReach = 5.0 // how far the stock goes on beyond a saw cut
	descent   = 1.2 // of letters under the line of the lowest figure
)

// picture draws the piece face up, looking up-chainage to the right, as large as the box allows; a little lower where the
// way of looking finds no room beside it.
func (c *cardSheet) picture(box scene.Box) {
	before, low := len(c.page.Marks), box
	if !c.pictureIn(box, box) {
		c.page.Marks = c.page.Marks[:before]
		low.Top += 3.6
		c.pictureIn(low, box)
	}
}

// pictureIn draws the piece in one box and the way of looking in another, and tells whether that found room.
func (c *cardSheet) pictureIn(box, all scene.Box) bool {
	start, end := c.endBlock(true), c.endBlock(false)
	const side = cardSide + sideGap
	q := c.p.corners()
	wide := math.Max(start.width(), end.width()) + endGap
	k := math.Min((box.Width()-float64(2*wide))/(q.high-q.low), (box.Height()-2*side-descent)/c.p.width)
	origin := scene.Point{X: box.Centre().X - float64((q.low+q.high)/2*k), Y: box.Centre().Y - descent/2}
	at := func(p scene.Point) scene.Point {
		return scene.Point{X: origin.X + float64(p.X*k), Y: origin.Y - float64(p.Y*k)}
	}
	r := room{within: all}
	ls, le, re, rs := at(q.leftStart), at(q.leftEnd), at(q.rightEnd), at(q.rightStart)
	start.edge, end.edge = [2]scene.Point{ls, rs}, [2]scene.Point{le, re}
	c.end(&r, start)
	c.end(&r, end)
	c.add(scene.Path{Outline: scene.Polygon(ls, le, re, rs), Stroke: scene.Pen(scene.Medium)},
		scene.Line(at(scene.Point{}), at(scene.Point{X: c.p.length}), scene.Pen(scene.Thin).Dashed(5, 1, 1, 1)))
	c.side(&r, ls, le, -1, "left "+c.length(c.p.left))
	c.side(&r, rs, re, 1, "right "+c.length(c.p.right))
	c.balance(at)
	r.things = append(r.things, convex(ls, le, re, rs))
	return c.arrow(&r, all)
}

// endBlock is one end of the piece: whether the saw makes it, and the words beside it.
type endBlock struct {
	saw  bool
	out  float64 // the way out of the piece along the page: -1 at the start
	edge [2]scene.Point
	text [3]string // its name, what is done there, what lies beyond
	size float64   // of the middle line
}

func (c *cardSheet) endBlock(start bool) endBlock {
	beyondStart, beyondEnd := c.beyond()
	b := endBlock{saw: c.p.sawEnd, out: 1, text: [3]string{"end", "SAW", beyondEnd}, size: cardSaw}
	degrees := c.p.end
	if start {
		b.saw, b.out, degrees, b.text[0], b.text[2] = c.p.sawStart, -1, c.p.start, "start", beyondStart
	}
	switch {
	case !b.saw:
		b.text[1], b.size = "AS CAST", 2.4
	case degrees != 0:
		b.text[1] += " " + angle(degrees)
	}
	return b
}

func (b endBlock) sizes() [3]float64 { return [3]float64{cardSize, b.size, cardSize} }

func (b endBlock) weight(line int) scene.Weight {
	if line == 1 {
		return scene.Bold
	}
	return scene.Regular
}

func (b endBlock) width() float64 {
	w := 0.0
	for i, size := range b.sizes() {
		w = math.Max(w, scene.TextWidth(b.text[i], size, b.weight(i)))
	}
	return w
}

const endLead = 1.1 // between the words at an end

func (b endBlock) height() float64 { return b.size + 2*(cardSize+endLead) }

// end draws one end: hatched where it stays as cast; a broad line where the saw goes, and beyond it the stock going on.
func (c *cardSheet) end(r *room, b endBlock) {
	up, down := b.edge[0], b.edge[1]
	high := down.Y - up.Y
	if b.saw {
		c.add(scene.Line(up, down, scene.Pen(1)))
		far := math.Max(b.out*up.X, b.out*down.X) + stubReach
		for _, p := range b.edge {
			if high > b.height()+1 {
				c.add(scene.Line(p, scene.Point{X: float64(b.out * far), Y: p.Y}, scene.Pen(scene.Thin).Dashed(1.2, 0.8)))
			}
		}
	} else {
		deep := scene.Point{X: float64(-b.out * 2)}
		strip := scene.Polygon(up, down, down.Add(deep), up.Add(deep))
		c.add(scene.Hatch{Area: strip, Pattern: scene.CrossHatch, Spacing: 1}, scene.Path{Outline: strip, Stroke: scene.Pen(scene.Thin)})
	}
	lean := math.Abs(up.X-down.X) / math.Max(high, 1) * math.Min(b.height(), high) / 2
	at := up.Add(down).Times(0.5).Add(scene.Point{X: float64(b.out * (endGap + lean)), Y: -b.height() / 2})
	align := scene.Left
	if b.out < 0 {
		align = scene.Right
	}
	for i, size := range b.sizes() {
		t := scene.Text{At: at, String: b.text[i], Size: size, Weight: b.weight(i), Align: align, VAlign: scene.Top}
		if b.text[i] != "" {
			r.words = append(r.words, lettered(0.4, t)...)
			c.add(t)
		}
		at.Y += size + endLead
	}
}

// side writes the length of an edge beside it, away from the piece, and where there is room between arrows.
func (c *cardSheet) side(r *room, from, to scene.Point, away float64, text string) {
	y := from.Y + float64(away*(sideGap+cardSide/2))
	t := scene.Text{At: scene.Point{X: (from.X + to.X) / 2, Y: y}, String: text, Size: cardSide, Weight: scene.Bold, Align: scene.Centre, VAlign: scene.Middle}
	r.words = append(r.words, lettered(0.4, t)...)
	c.add(t)
	half := scene.TextWidth(text, cardSide, scene.Bold)/2 + 1
	const arrow = 4 // the shortest line that carries one
	if t.At.X-half-arrow < from.X {
		return
	}
	for _, p := range []scene.Point{from, to} {
		tip := scene.Point{X: p.X, Y: y}
		tail := scene.Point{X: t.At.X + math.Copysign(half, p.X-t.At.X), Y: y}
		c.add(scene.Path{Outline: scene.Polyline(tail, tip), Stroke: scene.Pen(scene.Thin), End: scene.Arrow},
			scene.Line(scene.Point{X: p.X, Y: p.Y + float64(away*0.8)}, scene.Point{X: p.X, Y: y + float64(away*0.8)}, scene.Pen(scene.Fine)))
		r.words = append(r.words, boxShape(scene.Box{Left: math.Min(tail.X, tip.X) - 0.5, Top: y - 1, Right: math.Max(tail.X, tip.X) + 0.5, Bottom: y + 1}))
	}
}

// balance is the centre of gravity and the inserts that are left to use; those not to be used are crossed out.
func (c *cardSheet) balance(at func(scene.Point) scene.Point) {
	if c.p.centre != nil {
		const radius = 1.7
		g := at(*c.p.centre)
		c.add(scene.Path{Outline: scene.Circle(g, radius), Fill: scene.White, Stroke: scene.Pen(scene.Thin)})
		for _, from := range []float64{0, 180} {
			var quarter scene.Outline
			quarter.Move(g)
			quarter.Arc(g, radius, from, 90)
			quarter.Close()
			c.add(scene.Path{Outline: quarter, Fill: scene.Black})
		}
	}
	for _, i := range c.p.insertsLeft {
		p := at(c.p.insert(i))
		c.add(scene.Path{Outline: scene.Circle(p, insertRadius), Fill: scene.White, Stroke: scene.Pen(scene.Medium)},
			scene.Path{Outline: scene.Circle(p, 0.4), Fill: scene.Black})
	}
	for _, i := range c.p.spent {
		p, arm := at(c.p.insert(i)), scene.Point{X: insertRadius, Y: insertRadius}
		c.add(scene.Path{Outline: scene.Circle(p, insertRadius), Fill: scene.White, Stroke: scene.Pen(scene.Medium)},
			scene.Line(p.Sub(arm), p.Add(arm), scene.Pen(scene.Medium)),
			scene.Line(p.Add(scene.Point{X: -arm.X, Y: arm.Y}), p.Add(scene.Point{X: arm.X, Y: -arm.Y}), scene.Pen(scene.Medium)))
	}
}

const insertRadius = 1.1 // mm of paper

// insert is where an insert is drawn: those of a side in its wall.
func (p piece) insert(i planner.InsertLeft) scene.Point {
	at := scene.Point{X: mm(i.X)}
	switch i.Side {
	case "left":
		at.Y = p.width * 0.43
	case "right":
		at.Y = -p.width * 0.43
	}
	return at
}

// arrow is the way of looking, in the first corner of the drawing that has room for it. It tells whether one had.
func (c *cardSheet) arrow(r *room, box scene.Box) bool {
	const size, long = 2.0, 7.0
	text := "face up, looking " + c.words.upChainage
	wide := scene.TextWidth(text, size, scene.Regular) + 1.2
	r.within = box.Inset(-0.5)
	var all []candidate
	for _, y := range []float64{box.Top + size + 0.4, box.Bottom - 0.8} {
		for _, x := range []float64{box.Left, box.Right - wide - long} {
			base := scene.Point{X: x, Y: y}
			from := base.Add(scene.Point{X: wide, Y: -size / 2})
			to := from.Add(scene.Point{X: long})
			all = append(all, candidate{
				marks: []scene.Mark{scene.Text{At: base, String: text, Size: size},
					scene.Path{Outline: scene.Polyline(from, to), Stroke: scene.Pen(scene.Thick), End: scene.Arrow}},
				lines: []shape{boxShape(scene.Box{Left: from.X, Top: from.Y - size/2, Right: to.X + 1, Bottom: from.Y + size/2})},
			})
		}
	}
	marks, ok := r.putWithin(touchesNothing+1, all...)
	c.add(marks...)
	return ok
}
