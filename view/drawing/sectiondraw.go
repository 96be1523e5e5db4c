package drawing

import (
	"math"

	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// The pens of the section: each line is told by its dashes, on a copy too.
func finishedPen() scene.Stroke  { return scene.Pen(scene.Broad).Dashed(3.4, 0.9, 0.6, 0.9) }
func existingPen() scene.Stroke  { return scene.Pen(scene.Medium).Dashed(2, 1) }
func rockPen() scene.Stroke      { return scene.Pen(scene.Thick).Dashed(1.4, 1.4) }
func waterPen() scene.Stroke     { return scene.Pen(scene.Medium).Dashed(2.6, 0.8, 0.5, 0.8, 0.5, 0.8) }
func invertPen() scene.Stroke    { return scene.Pen(scene.Thin).Dashed(2, 0.8) }
func drainPen() scene.Stroke     { return scene.Pen(scene.Broad).Dashed(0.5, 0.9) }
func formationPen() scene.Stroke { return scene.Pen(scene.Thick) }

// scaled puts levels on the paper.
type scaled struct {
	r      sectionRow
	top    float64 // of the drawing of levels
	per    float64 // mm of paper a metre
	bottom float64
}

func (c scaled) y(z float64) float64 { return c.top + float64((c.r.high-z)*c.per) }

// draw draws one row with the top of its flags at y.
func (v *section) draw(s *sheet, r sectionRow, y float64) {
	z := v.style.strip()
	base := y + float64(v.lineHigh()*float64(r.ups))
	top := base + z.above()
	c := scaled{r: r, top: top + z.unit + float64(v.k()*sectionGap), per: 1000 / v.upright}
	c.bottom = c.top + v.profile(r)
	through := s.crossLines(r.row)
	var marks []scene.Mark
	for _, l := range through {
		marks = append(marks, scene.Line(scene.Point{X: l.x, Y: base + 0.6}, scene.Point{X: l.x, Y: top + z.unit + 0.6}, l.pen))
	}
	for _, one := range r.cells {
		switch {
		case one.unit >= 0:
			marks = append(marks, s.unitCell(one, top, through)...)
		case s.mitredNode(one.node): // the slanted units leave the notch open
		case one.node != "":
			marks = append(marks, s.nodeSign(one, top)...)
		default:
			marks = append(marks, s.emptyLeg(one, top)...)
		}
	}
	marks = append(marks, hoist(r.up, base, s.size, false)...)
	if r.goesOn {
		marks = append(marks, goesOnSign(scene.Point{X: r.width + 0.8, Y: top + float64(z.unit/2)}))
	}
	marks = append(marks, v.levelAxis(s, c)...)
	clip := scene.Rectangle(scene.Box{Left: -1, Top: c.top - 0.5, Right: r.width + 6, Bottom: c.bottom + 0.5})
	marks = append(marks, scene.Group{Clip: clip, Marks: v.profileMarks(c)})
	marks = append(marks, v.band(s, r, c.bottom)...)
	s.add(scene.Group{Transform: scene.Shift(v.free.Left+v.label, 0), Marks: marks})
}

// levelAxis are the level lines behind a row with their figures at its left.
func (v *section) levelAxis(s *sheet, c scaled) []scene.Mark {
	metres, _, _ := v.coordinateUnit()
	least := 4 * s.size / c.per / metres // one figure's room, in the unit of the levels
	step := niceStep(least)
	for step < least {
		step = nextNice(step)
	}
	var marks []scene.Mark
	head := c.top - 0.4*s.size
	marks = append(marks, scene.Text{At: scene.Point{X: -2, Y: head - 0.6*s.size}, String: v.levelHead("level"), Size: s.size, Align: scene.Right})
	for n := math.Ceil(c.r.low / metres / step); n*step*metres <= c.r.high; n++ {
		y := c.y(n * step * metres)
		if y-s.size/2 < head {
			continue
		}
		marks = append(marks, scene.Line(scene.Point{X: -1.2, Y: y}, scene.Point{X: c.r.width, Y: y}, scene.Pen(scene.Fine)),
			scene.Text{At: scene.Point{X: -2, Y: y}, String: axisFigure(n*step, step), Size: s.size, Align: scene.Right, VAlign: scene.Middle})
	}
	return append(marks, scene.Line(scene.Point{X: 0, Y: c.top}, scene.Point{X: 0, Y: c.bottom}, scene.Pen(scene.Thin)),
		scene.Line(scene.Point{X: 0, Y: c.bottom}, scene.Point{X: c.r.width, Y: c.bottom}, scene.Pen(scene.Thin)))
}

// profileMarks is everything of a row between its highest and its lowest level.
func (v *section) profileMarks(c scaled) []scene.Mark {
	var marks []scene.Mark
	for _, p := range v.printed(&c.r) {
		from := c.top
		if l := p.Levels; l != nil && l.Formation != nil {
			from = c.y(*l.Formation)
		}
		marks = append(marks, scene.Line(scene.Point{X: p.x, Y: from}, scene.Point{X: p.x, Y: c.bottom}, scene.Pen(scene.Fine)))
	}
	for _, one := range c.r.cells {
		switch {
		case one.unit >= 0:
			marks = append(marks, v.unitSide(c, one)...)
		case one.node != "" && v.node(one.node).Made == "casting":
			marks = append(marks, v.castSide(c, one)...)
		}
	}
	for _, line := range []struct {
		of  func(*planner.Levels) *float64
		pen scene.Stroke
	}{
		{func(l *planner.Levels) *float64 { return l.Rock }, rockPen()}, {func(l *planner.Levels) *float64 { return l.Water }, waterPen()},
		{func(l *planner.Levels) *float64 { return l.Drain }, drainPen()}, {func(l *planner.Levels) *float64 { return l.Existing }, existingPen()},
		{func(l *planner.Levels) *float64 { return l.Finished }, finishedPen()},
	} {
		marks = append(marks, v.levelLine(c, line.of, line.pen)...)
	}
	for _, s := range v.servicesOn(&c.r) {
		marks = append(marks, v.serviceSign(c, s)...)
	}
	return append(marks, v.levelSigns(c)...)
}

// unitSide is one unit with its cover, the bed under it and the pads at its joints.
func (v *section) unitSide(c scaled, one cell) []scene.Mark {
	rows, k := v.rowsOf[one.leg], v.ordinal[one.unit]
	line := func(of func(*planner.Levels) *float64) ([2]scene.Point, bool) {
		a, b, ok := rigid(rows, k, of)
		return [2]scene.Point{{X: one.x, Y: c.y(a)}, {X: one.x + one.width, Y: c.y(b)}}, ok
	}
	area := func(a, b [2]scene.Point) scene.Outline { return scene.Polygon(a[0], a[1], b[1], b[0]) }
	wall, okWall := line(func(l *planner.Levels) *float64 { return l.Wall })
	if !okWall {
		return nil
	}
	cover, okCover := line(func(l *planner.Levels) *float64 { return l.Cover })
	under, okUnder := line(func(l *planner.Levels) *float64 { return l.Underside })
	formation, okFormation := line(formationOf)
	invert, okInvert := line(func(l *planner.Levels) *float64 { return l.Invert })
	var marks []scene.Mark
	if okUnder && okFormation {
		marks = append(marks, scene.Hatch{Area: area(under, formation), Pattern: scene.Stone, Spacing: 1.3})
	}
	if okFormation {
		marks = append(marks, scene.Line(formation[0], formation[1], formationPen()))
	}
	if okUnder {
		marks = append(marks, scene.Path{Outline: area(wall, under), Fill: scene.White, Stroke: scene.Pen(scene.Medium)})
	} else {
		marks = append(marks, scene.Line(wall[0], wall[1], scene.Pen(scene.Medium)))
	}
	if okCover {
		marks = append(marks, scene.Path{Outline: area(cover, wall), Fill: scene.White}, scene.Hatch{Area: area(cover, wall), Pattern: scene.Diagonal, Spacing: 0.9},
			scene.Path{Outline: area(cover, wall), Stroke: scene.Pen(scene.Medium)})
	}
	if okInvert {
		marks = append(marks, scene.Line(invert[0], invert[1], invertPen()))
	}
	return append(marks, v.padSides(c, one, line)...)
}

// castSide is a casting between the walls beside it: one rigid plane, wide as its sign.
func (v *section) castSide(c scaled, one cell) []scene.Mark {
	var ends []scene.Point // wall top and underside where each leg meets it
	var under []scene.Point
	for _, p := range c.r.places {
		for _, x := range [2]float64{one.x, one.x + one.width} {
			if math.Abs(p.x-x) < 0.01 && p.Levels != nil && p.Levels.Wall != nil && p.Levels.Underside != nil {
				ends = append(ends, scene.Point{X: x, Y: c.y(*p.Levels.Wall)})
				under = append(under, scene.Point{X: x, Y: c.y(*p.Levels.Underside)})
			}
		}
	}
	if len(ends) == 1 {
		far := one.x + one.width - (ends[0].X - one.x)
		ends, under = append(ends, scene.Point{X: far, Y: ends[0].Y}), append(under, scene.Point{X: far, Y: under[0].Y})
	}
	if len(ends) < 2 {
		return nil
	}
	return []scene.Mark{scene.Path{Outline: scene.Polygon(ends[0], ends[1], under[1], under[0]), Fill: scene.White, Stroke: scene.Pen(scene.Thick).Dashed(1.2, 0.7)}}
}

// padSides are the halves of the pads that carry a unit: as long as the supply says, to scale, and never so short that
// nobody sees them.
func (v *section) padSides(c scaled, one cell, line func(func(*planner.Levels) *float64) ([2]scene.Point, bool)) []scene.Mark {
	top, okTop := line(padTopOf)
	base, okBase := line(func(l *planner.Levels) *float64 { return l.PadBase })
	if !okTop || !okBase {
		return nil
	}
	half := 0.6 * v.k()
	if along := v.made[v.plan.Units[one.unit].Supply].job.Bearing.PadAlong; along.Known {
		half = math.Max(half, along.Value.Millimetres()/2/v.scale)
	}
	half = math.Min(half, one.width/2)
	slopeTop, slopeBase := (top[1].Y-top[0].Y)/one.width, (base[1].Y-base[0].Y)/one.width
	at := func(x float64) scene.Outline {
		y := func(p [2]scene.Point, slope, x float64) float64 { return p[0].Y + float64((x-one.x)*slope) }
		return scene.Polygon(scene.Point{X: x, Y: y(top, slopeTop, x)}, scene.Point{X: x + half, Y: y(top, slopeTop, x+half)},
			scene.Point{X: x + half, Y: y(base, slopeBase, x+half)}, scene.Point{X: x, Y: y(base, slopeBase, x)})
	}
	return []scene.Mark{scene.Path{Outline: at(one.x), Fill: scene.Black}, scene.Path{Outline: at(one.x + one.width - half), Fill: scene.Black}}
}

// levelLine is a level from place to place, broken where nobody knows it and where another chain begins.
func (v *section) levelLine(c scaled, of func(*planner.Levels) *float64, pen scene.Stroke) []scene.Mark {
	var marks []scene.Mark
	var part []scene.Point
	flush := func() {
		if len(part) > 1 {
			marks = append(marks, scene.Path{Outline: scene.Polyline(part...), Stroke: pen})
		}
		part = nil
	}
	for i, p := range c.r.places {
		if i > 0 && p.leg != c.r.places[i-1].leg && v.plan.Legs[p.leg].From != v.plan.Legs[c.r.places[i-1].leg].To {
			flush()
		}
		if p.Levels == nil || of(p.Levels) == nil {
			flush()
			continue
		}
		part = append(part, scene.Point{X: p.x, Y: c.y(*of(p.Levels))})
	}
	flush()
	return marks
}

// serviceSign is the top of a service over its width with its sides going down; one of unknown depth is a line through all.
func (v *section) serviceSign(c scaled, s service) []scene.Mark {
	if !s.known {
		return []scene.Mark{scene.Line(scene.Point{X: s.x, Y: c.top}, scene.Point{X: s.x, Y: c.bottom}, servicePen())}
	}
	half := math.Max(0.8*v.k(), s.Width.Millimetres()/2/math.Max(0.2, math.Sin(square(s.Skew)*math.Pi/180))/v.scale)
	y, foot := c.y(s.top), math.Min(c.y(s.top)+3*v.k(), c.bottom)
	return []scene.Mark{
		scene.Line(scene.Point{X: s.x, Y: c.top}, scene.Point{X: s.x, Y: y}, servicePen()),
		scene.Path{Outline: scene.Polyline(scene.Point{X: s.x - half, Y: foot}, scene.Point{X: s.x - half, Y: y}, scene.Point{X: s.x + half, Y: y}, scene.Point{X: s.x + half, Y: foot}), Stroke: scene.Pen(scene.Broad)},
	}
}

// levelSigns are changes of grade on the wall top, low points and outlets at the invert, pins at their level.
func (v *section) levelSigns(c scaled) []scene.Mark {
	var marks []scene.Mark
	for _, p := range c.r.places {
		if p.Levels == nil || p.Levels.Wall == nil {
			continue
		}
		if v.gradeBegins(p) {
			marks = append(marks, changeSign(scene.Point{X: p.x, Y: c.y(*p.Levels.Wall)})...)
		}
		if z := invertOf(p.SetOut); z != nil && v.lowAt(p) {
			marks = append(marks, lowSign(scene.Point{X: p.x, Y: c.y(*z)})...)
		}
	}
	for _, o := range v.outletsOn(&c.r) {
		if !math.IsNaN(o.level) {
			marks = append(marks, outletSign(scene.Point{X: o.x, Y: c.y(o.level)})...)
		}
	}
	for _, p := range v.pinsOn(&c.r) {
		marks = append(marks, pinSign(scene.Point{X: p.x, Y: c.y(p.level)})...)
	}
	return marks
}

// changeSign is a ring; lowSign a triangle that stands on its tip; outletSign an arrow out of the run; pinSign a filled triangle.
func changeSign(at scene.Point) []scene.Mark {
	return []scene.Mark{scene.Path{Outline: scene.Circle(at, 1), Fill: scene.White, Stroke: scene.Pen(scene.Thick)}}
}

func lowSign(at scene.Point) []scene.Mark {
	return []scene.Mark{scene.Path{Outline: scene.Polygon(at, at.Add(scene.Point{X: -1.4, Y: -2.2}), at.Add(scene.Point{X: 1.4, Y: -2.2})), Fill: scene.White, Stroke: scene.Pen(scene.Medium)}}
}

func outletSign(at scene.Point) []scene.Mark {
	return []scene.Mark{scene.Path{Outline: scene.Polyline(at, at.Add(scene.Point{X: 3.2, Y: 3.2})), Stroke: scene.Pen(scene.Thick), End: scene.Arrow}}
}

func pinSign(at scene.Point) []scene.Mark {
	return []scene.Mark{scene.Path{Outline: scene.Polygon(at, at.Add(scene.Point{X: -1.3, Y: -2}), at.Add(scene.Point{X: 1.3, Y: -2})), Fill: scene.Black}}
}
