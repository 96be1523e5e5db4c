package drawing

import (
	"math"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// cutPaper puts offsets and levels of a section on the paper.
type cutPaper struct {
	frame scene.Box
	c     *cut
	below float64 // mm of paper kept for dimensions under it
}

func (p cutPaper) at(offset, level float64) scene.Point {
	return scene.Point{X: p.frame.Left + (offset-p.c.left)/p.c.scale, Y: p.frame.Bottom - p.below - (level-p.c.low)/p.c.scale}
}

func (p cutPaper) of(k [2]measure.MM) scene.Point { return p.at(mm(k[0]), mm(k[1])) }

func (p cutPaper) outline(line [][2]measure.MM) []scene.Point {
	out := make([]scene.Point, len(line))
	for i, k := range line {
		out[i] = p.of(k)
	}
	return out
}

// draw draws one section with its upper left corner at a point.
func (v *across) draw(s *sheet, c cut, at scene.Point) {
	leg := "Leg " + c.Leg + ", " + v.words.chainage + " " + v.chainage(c.At)
	switch {
	case c.Place != "":
		leg += ", " + c.Place
	case slices.ContainsFunc(c.Areas, func(a planner.SectionArea) bool { return a.Of == "unit" }):
		leg += ", arm of a casting"
	default:
		leg += ", inside a casting"
	}
	s.add(scene.Text{At: scene.Point{X: at.X, Y: at.Y + 1.5*s.size}, String: leg, Size: 1.25 * s.size, Weight: scene.Bold})
	why, size, _ := scene.Fit(joined("; ", append([]string{v.scaleWords(c.scale)}, c.Why...)...), s.size, 1.8, scene.Regular, v.width-scene.TextWidth(leg, 1.25*s.size, scene.Bold)-4)
	s.add(scene.Text{At: scene.Point{X: at.X + scene.TextWidth(leg, 1.25*s.size, scene.Bold) + 4, Y: at.Y + 1.5*s.size}, String: why, Size: size})
	top := at.Y + float64(2.4*v.step())
	left := at.X + float64(v.k()*cutAxis)
	frame := scene.Box{Left: left, Top: top, Right: left + (c.right-c.left)/c.scale, Bottom: top + c.picture}
	p := cutPaper{frame, &c, float64(v.k() * cutUnder)}
	clip := scene.Box{Left: frame.Left, Top: frame.Top + float64(v.k()*(cutAbove-0.3)), Right: frame.Right, Bottom: frame.Bottom - p.below + float64(0.3*v.k())} // dimensions stand beyond it
	if c.Top != nil && c.Depth != nil {
		clip.Left = p.at(mm(c.Top.Left[0]), 0).X - float64(2.6*v.k())
	}
	s.add(scene.Group{Clip: scene.Rectangle(clip), Marks: v.body(p)})
	s.add(v.cutMeasures(s, p)...)
	s.add(v.cutAxes(s, p)...)
	s.add(v.cutLabels(s, p)...)
	y := frame.Bottom + float64(v.k()*cutFigure)
	for i, text := range c.lines {
		s.add(scene.Text{At: scene.Point{X: at.X, Y: y + float64(v.step()*float64(i))}, String: text, Size: s.size, VAlign: scene.Top})
	}
	if c.wayScale > 0 {
		s.add(v.wayMarks(s, &c, scene.Point{X: at.X + v.width - v.wayWide(&c), Y: y})...)
	}
}

// body is everything that is cut, and the lines of the ground.
func (v *across) body(p cutPaper) []scene.Mark {
	var marks []scene.Mark
	fill := func(of string, pattern scene.Pattern, spacing float64, pen scene.Stroke, ink scene.Colour) {
		for _, a := range p.c.Areas {
			if a.Of != of {
				continue
			}
			for _, part := range a.Parts {
				o := scene.Polygon(p.outline(part)...)
				if pattern != scene.NoHatch {
					marks = append(marks, scene.Hatch{Area: o, Pattern: pattern, Spacing: spacing})
				}
				if pen.Width > 0 || ink.Said() {
					marks = append(marks, scene.Path{Outline: o, Stroke: pen, Fill: ink})
				}
			}
		}
	}
	fill("fill", scene.Soil, 2.6, scene.Stroke{}, 0)
	fill("topsoil back", scene.Levels, 1.6, scene.Stroke{}, 0)
	fill("bed", scene.Stone, 1.5, scene.Stroke{}, 0)
	marks = append(marks, v.layerLines(p)...)
	fill("dig", scene.NoHatch, 0, scene.Pen(scene.Thick), 0)
	fill("pad", scene.NoHatch, 0, scene.Pen(scene.Thin), scene.Black)
	fill("unit", scene.NoHatch, 0, scene.Pen(scene.Medium), scene.White)
	fill("unit", scene.Diagonal, 1, scene.Pen(scene.Medium), 0)
	fill("cover", scene.NoHatch, 0, scene.Pen(scene.Medium), scene.White)
	fill("cover", scene.Backward, 0.8, scene.Pen(scene.Medium), 0)
	if d := p.c.Pipe; d != nil {
		marks = append(marks, scene.Path{Outline: scene.Circle(p.at(mm(d.Offset), mm(d.Level)), mm(d.Diameter)/2/p.c.scale), Stroke: scene.Pen(scene.Medium), Fill: scene.White})
	}
	if f := p.c.Levels.Formation; p.c.Bottom == nil && f != nil { // without sides only the level is known
		half := math.Min(-p.c.left, p.c.right) - 300
		marks = append(marks, scene.Line(p.at(-half, mm(*f)), p.at(half, mm(*f)), formationPen()))
	}
	for _, l := range p.c.Lines {
		pen := map[string]scene.Stroke{"existing": existingPen(), "finished": finishedPen(), "rock": rockPen(), "water": waterPen()}[l.Of]
		for _, part := range l.Parts {
			marks = append(marks, scene.Path{Outline: scene.Polyline(p.outline(part)...), Stroke: pen})
		}
	}
	for _, s := range p.c.Services {
		marks = append(marks, v.serviceMarks(p, s)...)
	}
	zero := p.at(0, 0).X
	return append(marks, scene.Line(scene.Point{X: zero, Y: p.frame.Top + float64(v.k()*cutAbove)}, scene.Point{X: zero, Y: p.frame.Bottom - p.below}, axisPen()))
}

// layerLines are the tops of the layers of fill, beside the unit.
func (v *across) layerLines(p cutPaper) []scene.Mark {
	var marks []scene.Mark
	for _, a := range p.c.Areas {
		if a.Of != "fill" {
			continue
		}
		var inside scene.Outline
		for _, part := range a.Parts {
			inside = append(inside, scene.Polygon(p.outline(part)...)...)
		}
		g := scene.Group{Clip: inside}
		for _, z := range p.c.Layers {
			y := p.at(0, mm(z)).Y
			g.Marks = append(g.Marks, scene.Line(scene.Point{X: p.frame.Left, Y: y}, scene.Point{X: p.frame.Right, Y: y}, scene.Pen(scene.Thin).Dashed(1.6, 1)))
		}
		marks = append(marks, g)
	}
	return marks
}

// serviceMarks are a service and its zone; one of unknown depth is only told.
func (v *across) serviceMarks(p cutPaper, s planner.SectionService) []scene.Mark {
	if s.Top == nil || s.Bottom == nil {
		return nil
	}
	half, zone := p.c.right-p.c.left, 0.0
	if s.Half != nil {
		half = mm(*s.Half)
	}
	if s.Zone != nil {
		zone = mm(*s.Zone)
	}
	box := func(more float64) scene.Outline {
		a, b := p.at(-half-more, mm(*s.Top)+more), p.at(half+more, mm(*s.Bottom)-more)
		return scene.Rectangle(scene.Box{Left: a.X, Top: a.Y, Right: b.X, Bottom: b.Y})
	}
	marks := []scene.Mark{scene.Path{Outline: box(0), Stroke: scene.Pen(scene.Medium)}}
	if zone > 0 {
		marks = append(marks, scene.Path{Outline: box(zone), Stroke: zonePen()})
	}
	return marks
}

// cutMeasures are the dimensions: the widths of top and bottom, the room beside the unit, the depth, the slopes.
func (v *across) cutMeasures(s *sheet, p cutPaper) []scene.Mark {
	c := p.c
	if c.Bottom == nil || c.Top == nil || c.Depth == nil {
		return nil
	}
	k := v.k()
	low := p.frame.Bottom - p.below
	under := func(offset float64) scene.Point { return scene.Point{X: p.at(offset, 0).X, Y: low} }
	var marks []scene.Mark
	if half := v.halfUnit(c); half > 0 {
		chain := scene.Chain{Points: []scene.Point{under(mm(c.Bottom.Left[0])), under(-half), under(half), under(mm(c.Bottom.Right[0]))},
			Texts: []string{v.figure(length(-half) - c.Bottom.Left[0]), v.figure(length(2 * half)), v.figure(c.Bottom.Right[0] - length(half))}, Offset: -3.8 * k, Size: s.size}
		fits := true
		for i, text := range chain.Texts {
			fits = fits && chain.Points[i+1].X-chain.Points[i].X > scene.TextWidth(text, s.size, scene.Regular)+float64(3.2*k)
		}
		if fits { // where they do not, room and unit are written below
			marks = append(marks, chain)
		}
	}
	marks = append(marks, scene.Dimension{From: under(mm(c.Bottom.Left[0])), To: under(mm(c.Bottom.Right[0])), Offset: -7.8 * k, Text: v.figure(c.Bottom.Width), Size: s.size})
	above := p.frame.Top + float64(cutAbove*k)
	edge := func(offset float64) scene.Point { return scene.Point{X: p.at(offset, 0).X, Y: above} }
	marks = append(marks, scene.Dimension{From: edge(mm(c.Top.Left[0])), To: edge(mm(c.Top.Right[0])), Offset: 3.4 * k, Text: v.figure(c.Top.Width), Size: s.size})
	high := math.Max(mm(c.Top.Left[1]), mm(c.Top.Right[1]))
	x := p.at(mm(c.Top.Left[0]), 0).X
	if text := v.figure(*c.Depth); mm(*c.Depth)/c.scale > scene.TextWidth(text, s.size, scene.Regular)+float64(3.5*k) { // else it stands below
		marks = append(marks, scene.Dimension{From: scene.Point{X: x, Y: p.at(0, high).Y}, To: scene.Point{X: x, Y: p.at(0, high-mm(*c.Depth)).Y}, Offset: -4.4 * k, Text: text, Size: s.size})
	}
	return append(marks, v.slopeMarks(s, p)...)
}

// slopeMarks say beside each sloped side how steep it is.
func (v *across) slopeMarks(s *sheet, p cutPaper) []scene.Mark {
	slope, ok := strings.CutPrefix(p.c.Sides, "sloped ")
	if !ok {
		return nil
	}
	slope, _, _ = strings.Cut(slope, ",")
	var marks []scene.Mark
	for _, one := range []struct {
		foot, edge [2]measure.MM
		away       float64
		align      scene.Align
	}{{p.c.Bottom.Left, p.c.Top.Left, -1, scene.Right}, {p.c.Bottom.Right, p.c.Top.Right, 1, scene.Left}} {
		a, b := p.of(one.foot), p.of(one.edge)
		at := scene.Point{X: a.X + (b.X-a.X)*0.45 + float64(one.away*2.2*v.k()), Y: a.Y + (b.Y-a.Y)*0.4}
		marks = append(marks, scene.Text{At: at, String: slope, Size: s.size, Align: one.align, VAlign: scene.Middle, Halo: 0.5})
	}
	return marks
}

// halfUnit is half the width of the unit that is cut, 0 where none is.
func (v *across) halfUnit(c *cut) float64 {
	i, ok := v.units[c.Place]
	if !ok {
		return 0
	}
	return v.made[v.plan.Units[i].Supply].width / 2
}

// cutAxes are the axes of level and offset with their figures, and which side is which.
func (v *across) cutAxes(s *sheet, p cutPaper) []scene.Mark {
	pen := scene.Pen(scene.Thin)
	f := p.frame
	marks := []scene.Mark{scene.Line(scene.Point{X: f.Left, Y: f.Top}, scene.Point{X: f.Left, Y: f.Bottom}, pen), scene.Line(scene.Point{X: f.Left, Y: f.Bottom}, scene.Point{X: f.Right, Y: f.Bottom}, pen)}
	per, name, _ := v.coordinateUnit()
	unit := float64(per * 1000)
	step := axisStep(float64(7*v.k()) * p.c.scale / unit)
	for n := math.Ceil(p.c.low / unit / step); float64(n*step)*unit <= p.c.high; n++ {
		y := p.at(0, float64(n*step)*unit).Y
		marks = append(marks, scene.Line(scene.Point{X: f.Left - 1.2, Y: y}, scene.Point{X: f.Left, Y: y}, pen),
			scene.Text{At: scene.Point{X: f.Left - 1.8, Y: y}, String: axisFigure(float64(n*step), step), Size: s.size, Align: scene.Right, VAlign: scene.Middle})
	}
	marks = append(marks, scene.Text{At: scene.Point{X: f.Left - 1.8, Y: f.Top}, String: name, Size: s.size, Align: scene.Right, VAlign: scene.Middle})
	unit, name = 1000, "m"
	if v.style.Format.System == measure.Imperial {
		unit, name = 304.8, "ft"
	}
	step = axisStep(float64(11*v.k()) * p.c.scale / unit)
	y := f.Bottom + 1.2 + 0.7
	wide := math.Max(scene.TextWidth("left", s.size, scene.Bold), scene.TextWidth("right, "+name, s.size, scene.Bold)) + 3
	for n := math.Ceil(p.c.left / unit / step); float64(n*step)*unit <= p.c.right; n++ {
		x := p.at(float64(n*step)*unit, 0).X
		marks = append(marks, scene.Line(scene.Point{X: x, Y: f.Bottom}, scene.Point{X: x, Y: f.Bottom + 1.2}, pen))
		if x < f.Left+wide || x > f.Right-wide {
			continue
		}
		marks = append(marks, scene.Text{At: scene.Point{X: x, Y: y}, String: axisFigure(math.Abs(float64(n*step)), step), Size: s.size, Align: scene.Centre, VAlign: scene.Top})
	}
	return append(marks, scene.Text{At: scene.Point{X: f.Left, Y: y}, String: "left", Size: s.size, Weight: scene.Bold, VAlign: scene.Top},
		scene.Text{At: scene.Point{X: f.Right, Y: y}, String: "right, " + name, Size: s.size, Weight: scene.Bold, Align: scene.Right, VAlign: scene.Top})
}

// axisStep is the smallest of 0.05, 0.1, 0.2, 0.5, 1, … that is not below x.
func axisStep(x float64) float64 {
	for _, s := range []float64{0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20} {
		if s >= x {
			return s
		}
	}
	return 50
}

// cutLabels are the levels in words on the right, each led to where it lies.
func (v *across) cutLabels(s *sheet, p cutPaper) []scene.Mark {
	wanted := make([]float64, len(p.c.labels))
	for i, l := range p.c.labels {
		wanted[i] = p.at(0, l.level).Y
	}
	at := spreadOut(wanted, v.step(), p.frame.Top+s.size, p.frame.Bottom-s.size/2)
	var marks []scene.Mark
	x := p.frame.Right
	for i, l := range p.c.labels {
		marks = append(marks, scene.Path{Outline: scene.Polyline(scene.Point{X: x - 1.5, Y: wanted[i]}, scene.Point{X: x, Y: wanted[i]}, scene.Point{X: x + 2.6, Y: at[i]}, scene.Point{X: x + 3.4, Y: at[i]}), Stroke: scene.Pen(scene.Fine)},
			scene.Text{At: scene.Point{X: x + 4, Y: at[i]}, String: l.text, Size: s.size, VAlign: scene.Middle})
	}
	return marks
}
