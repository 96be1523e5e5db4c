package drawing

import (
	"fmt"
	"math"

	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// unitPiece is a cut unit as its card shows it.
func (d *draft) unitPiece(u planner.Unit) piece {
	m := d.made[u.Supply]
	q := u.Piece
	p := piece{mark: u.Mark, kind: "cut " + d.words.unit, of: "units", supply: m, leg: u.Leg, hold: u.Hold,
		length: mm(u.Length), width: m.width, known: m.width > 0, start: u.StartAngle, end: u.EndAngle,
		left: q.LeftSide, right: q.RightSide, diagonalA: d.length(q.DiagonalA), diagonalB: d.length(q.DiagonalB),
		sawStart: u.StartAngle != 0 || q.KeptEnd != "start", sawEnd: u.EndAngle != 0 || q.KeptEnd != "end", mass: d.mass(u.Mass, "the supplier"), massKG: u.Mass, lift: q.Lift, insertsLeft: q.Inserts,
		centre: &scene.Point{X: mm(q.CentreX), Y: mm(q.CentreY)}, centreNote: q.CentreNote, cutThings: q.CutThings,
		cutFrom: q.CutFrom, turned: q.Turned, keepsRating: m.job.CutRating.Known && m.job.CutRating.Value}
	switch {
	case u.Hold:
		p.kind = d.words.closer + " on hold"
	case u.StartAngle != 0 || u.EndAngle != 0:
		p.kind = d.words.mitred + " " + d.words.unit
	}
	p.where = joined(", ", "leg "+u.Leg, d.words.chainage+" "+d.chainage(u.Chainage), title(m))
	p.rating = m.head.Rating
	p.placeOnStock = d.stockWords(p)
	d.drawnWidth(&p)
	return p
}

// drawnWidth keeps a piece drawable where its width is not on file.
func (d *draft) drawnWidth(p *piece) {
	if p.known {
		return
	}
	p.width = p.length / 3
	p.diagonalA = notChecked + ": no width on file. Ask: the supplier"
	p.diagonalB = ""
}

// coverPiece is a cut cover as its card shows it. Its diagonals follow from its length, its width and its two cuts.
func (d *draft) coverPiece(c planner.Cover) piece {
	u, _ := d.place(c.Unit)
	m := d.made[u.Supply]
	p := piece{mark: c.Mark, kind: "cut " + d.words.cover, of: "covers", supply: m, leg: u.Leg, length: mm(c.Length), width: m.cover, known: m.cover > 0,
		start: c.StartAngle, end: c.EndAngle, left: c.LeftSide, right: c.RightSide,
		mass: d.mass(c.Mass, "the supplier"), massKG: c.Mass, lift: m.head.CoverLift, cutFrom: c.CutFrom}
	if p.lift == "" {
		p.lift = notChecked + ": nothing on file about lifting covers. Ask: the supplier"
	}
	if m.job.Cover != nil {
		p.keepsRating = m.job.Cover.CutRating.Known && m.job.Cover.CutRating.Value
	}
	p.sawStart, p.sawEnd = d.sawnEnds(p)
	if c.StartAngle != 0 || c.EndAngle != 0 {
		p.kind = d.words.mitred + " " + d.words.cover
	}
	if u.Hold {
		p.hold = true
		p.kind += ", on hold with its " + d.words.unit
	}
	a, b := diagonals(p)
	p.diagonalA, p.diagonalB = d.rounded(a), d.rounded(b)
	p.where = joined(", ", "on "+c.Unit, fmt.Sprintf("from %s of its axis", d.length(c.Start)), title(m))
	p.rating = m.head.CoverRating
	p.placeOnStock = d.stockWords(p)
	d.drawnWidth(&p)
	return p
}

func title(m maker) string {
	if m.head.Title != "" {
		return m.head.Title
	}
	return m.head.ID
}

// diagonals of a piece: from its left start corner to its right end corner, and the other one.
func diagonals(p piece) (a, b float64) {
	half := p.width / 2
	s, e := float64(half*math.Tan(p.start*math.Pi/180)), float64(half*math.Tan(p.end*math.Pi/180))
	across := func(along float64) float64 { return math.Sqrt(float64(along*along) + float64(p.width*p.width)) }
	return across(p.length - s - e), across(p.length + s + e)
}

// picture draws the piece face up, looking up-chainage to the right, as large as the box allows, and tells whether axis and
// diagonals found room.
func (c *cardSheet) picture(box scene.Box) bool {
	if c.p.hold {
		box.Top += 3.5
	}
	r := room{within: box}
	const side, ends = 8.0, 17.0 // room for dimensions and for the words at the ends
	half := c.p.width / 2
	s, e := float64(half*math.Tan(c.p.start*math.Pi/180)), float64(half*math.Tan(c.p.end*math.Pi/180))
	low, high := math.Min(math.Min(s, -s), 0), math.Max(math.Max(c.p.length+e, c.p.length-e), c.p.length)
	k := math.Min((box.Width()-2*ends)/(high-low), (box.Height()-2*side)/c.p.width)
	origin := scene.Point{X: box.Centre().X - float64((low+high)/2*k), Y: box.Centre().Y + 0.7}
	at := func(x, y float64) scene.Point {
		return scene.Point{X: origin.X + float64(x*k), Y: origin.Y - float64(y*k)}
	}
	ls, le, re, rs := at(s, half), at(c.p.length+e, half), at(c.p.length-e, -half), at(-s, -half)
	o := scene.Polygon(ls, le, re, rs)
	c.ends(&r, at, half, s, e, k)
	c.add(scene.Path{Outline: o, Stroke: scene.Pen(scene.Medium)})
	c.sides(&r, ls, le, rs, re)
	c.balance(&r, at)
	told := c.inside(&r, at, ls, le, re, rs)
	r.things = append(r.things, convex(ls, le, re, rs))
	c.arrow(&r, box)
	return told
}

// ends mark each end of the piece: a hatched strip along the one that stays as cast, a broad line where the saw goes.
func (c *cardSheet) ends(r *room, at func(x, y float64) scene.Point, half, s, e, k float64) {
	for _, end := range []struct {
		saw    bool
		x, t   float64
		inward float64
		word   float64 // outward
		align  scene.Align
	}{{c.p.sawStart, 0, s, 1, -1, scene.Right}, {c.p.sawEnd, c.p.length, e, -1, 1, scene.Left}} {
		a, b := at(end.x+end.t, half), at(end.x-end.t, -half)
		middle := a.Add(b).Times(0.5).Add(scene.Point{X: float64(end.word * (2.2 + float64(math.Abs(a.X-b.X)/math.Max(b.Y-a.Y, 1)*1.4)))})
		text := "as cast"
		if end.saw {
			text = "SAW"
			if end.t != 0 {
				text += " " + angle(math.Atan2(end.t, half)*180/math.Pi)
			}
			c.add(scene.Line(a, b, scene.Pen(1)))
		} else {
			deep := scene.Point{X: float64(end.inward * math.Min(3, c.p.length*k/4))}
			strip := scene.Polygon(a, b, b.Add(deep), a.Add(deep))
			c.add(scene.Hatch{Area: strip, Pattern: scene.CrossHatch, Spacing: 1}, scene.Path{Outline: strip, Stroke: scene.Pen(scene.Thin)})
		}
		t := scene.Text{At: middle, String: text, Size: 2, Weight: scene.Bold, Align: end.align, VAlign: scene.Middle}
		r.words = append(r.words, lettered(0.4, t)...)
		c.add(t)
	}
}

// sides dimension the left side above and the right side below.
func (c *cardSheet) sides(r *room, ls, le, rs, re scene.Point) {
	for _, d := range []struct {
		from, to scene.Point
		off      float64
		text     string
	}{{ls, le, 4.2, "left " + c.length(c.p.left)}, {rs, re, -6.2, "right " + c.length(c.p.right)}} {
		m := scene.Dimension{From: d.from, To: d.to, Offset: d.off, Text: d.text, Size: 2.4, Weight: scene.Bold}
		n := noted(0.4, m)
		r.words, r.lines = append(r.words, n.lines...), append(r.lines, n.strokes...)
		c.add(m)
	}
}

// balance is the centre of gravity and the inserts that are left.
func (c *cardSheet) balance(r *room, at func(x, y float64) scene.Point) {
	if c.p.centre != nil {
		g := at(c.p.centre.X, c.p.centre.Y)
		var quarter scene.Outline
		quarter.Move(g)
		quarter.Arc(g, 1.7, 0, 90)
		quarter.Close()
		var other scene.Outline
		other.Move(g)
		other.Arc(g, 1.7, 180, 90)
		other.Close()
		c.add(scene.Path{Outline: scene.Circle(g, 1.7), Fill: scene.White, Stroke: scene.Pen(scene.Thin)},
			scene.Path{Outline: quarter, Fill: scene.Black}, scene.Path{Outline: other, Fill: scene.Black})
		r.things = append(r.things, boxShape(scene.Box{Left: g.X - 2.2, Top: g.Y - 2.2, Right: g.X + 2.2, Bottom: g.Y + 2.2}))
	}
	for _, i := range c.p.insertsLeft {
		y := c.p.width * 0.43
		if i.Side == "right" {
			y = -y
		}
		if i.Side == "floor" {
			y = 0
		}
		p := at(mm(i.X), y)
		c.add(scene.Path{Outline: scene.Circle(p, 1.1), Fill: scene.White, Stroke: scene.Pen(scene.Medium)},
			scene.Path{Outline: scene.Circle(p, 0.4), Fill: scene.Black})
		r.things = append(r.things, boxShape(scene.Box{Left: p.X - 1.4, Top: p.Y - 1.4, Right: p.X + 1.4, Bottom: p.Y + 1.4}))
	}
}

// inside writes axis and diagonals into the piece where they have room, and tells whether all had.
func (c *cardSheet) inside(r *room, at func(x, y float64) scene.Point, ls, le, re, rs scene.Point) bool {
	a, b := at(0, 0), at(c.p.length, 0)
	thin := scene.Pen(scene.Fine)
	c.add(scene.Line(a, b, scene.Pen(scene.Thin).Dashed(5, 1, 1, 1)), scene.Line(ls, re, thin.Dashed(2, 1.5)), scene.Line(rs, le, thin.Dashed(2, 1.5)))
	r.within = scene.Box{Left: math.Max(ls.X, rs.X) + 3.4, Right: math.Min(le.X, re.X) - 3.4, Top: ls.Y + 0.5, Bottom: rs.Y - 0.5}
	on := func(from, to scene.Point, text string, size float64, weight scene.Weight, places ...float64) bool {
		var all []candidate
		along := scene.Upright(to.Sub(from).Angle())
		for _, up := range []float64{0, -size - 0.6, size + 0.6} {
			for _, k := range places {
				p := from.Add(to.Sub(from).Times(k)).Add(scene.Direction(along + 90).Times(up))
				all = append(all, candidate{marks: []scene.Mark{scene.Text{At: p, String: text, Size: size, Weight: weight,
					Align: scene.Centre, VAlign: scene.Middle, Angle: along, Halo: 0.4}}})
			}
		}
		marks, ok := r.putWithin(touchesNothing+1, all...)
		c.add(marks...)
		return ok
	}
	axis := on(a, b, "axis "+c.length(length(c.p.length)), 2.2, scene.Bold, 0.5, 0.66, 0.34, 0.78, 0.22)
	if !c.p.known {
		return axis
	}
	one := on(ls, re, c.p.diagonalA, cardSize, scene.Regular, 0.22, 0.28, 0.78, 0.72, 0.35, 0.65)
	other := on(rs, le, c.p.diagonalB, cardSize, scene.Regular, 0.78, 0.72, 0.22, 0.28, 0.65, 0.35)
	return axis && one && other
}

// arrow is the way of looking, in the first corner of the drawing that has room for it.
func (c *cardSheet) arrow(r *room, box scene.Box) {
	text := "face up, looking " + c.words.upChainage
	wide := scene.TextWidth(text, cardSize, scene.Regular) + 1.5
	const long = 9.0
	r.within = box.Inset(-0.5)
	var all []candidate
	for _, y := range []float64{box.Top + 1.9, box.Bottom - 0.8, box.Top + 6, box.Bottom - 5} {
		for _, x := range []float64{box.Left, box.Right - wide - long} {
			base := scene.Point{X: x, Y: y}
			from := base.Add(scene.Point{X: wide, Y: -cardSize / 2})
			to := from.Add(scene.Point{X: long})
			all = append(all, candidate{
				marks: []scene.Mark{scene.Text{At: base, String: text, Size: cardSize},
					scene.Path{Outline: scene.Polyline(from, to), Stroke: scene.Pen(scene.Thick), End: scene.Arrow}},
				lines: []shape{convex(from, to), convex(from.Add(scene.Point{Y: 0.5}), to.Add(scene.Point{Y: 0.5}))},
			})
		}
	}
	marks, ok := r.putWithin(touchesNothing+1, all...)
	if !ok { // the head has room for the words alone
		marks = []scene.Mark{scene.Text{At: scene.Point{X: box.Right, Y: cardEdge + 8}, String: text + " to the right", Size: cardSize, Align: scene.Right}}
	}
	c.add(marks...)
}
