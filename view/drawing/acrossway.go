package drawing

import (
	"cmp"
	"math"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// What stands beside the dig is drawn small beside the words of a section, to a scale of its own: the ground as it is, the
// dig, heaps, the edges of the land. A thing whose height nobody entered is a line on the ground.

// wayRoom is how wide such a picture may be on paper, mm for lettering of 1.8 mm.
const wayRoom = 74.0

// wayReach is what a picture shows, in mm: offsets from the centreline and levels.
type wayReach struct{ left, right, low, high float64 }

// wayOf is the reach of the picture of a section; ok: something stands there, or the land has an edge.
func wayOf(c *cut) (r wayReach, ok bool) {
	r = wayReach{left: c.left, right: c.right, low: c.low, high: c.high}
	for _, n := range c.Beside {
		far := math.Max(mm(n.Need), mm(n.Edge))
		if n.Land != nil {
			far = math.Max(far, mm(*n.Land))
		}
		ok = ok || len(n.Uses) > 0 || n.Land != nil
		if n.Side == "left" {
			r.left = math.Min(r.left, -far)
		} else {
			r.right = math.Max(r.right, far)
		}
	}
	for _, a := range c.Areas {
		for _, p := range a.Parts {
			for _, k := range p {
				if a.Of == "heap" {
					r.high = math.Max(r.high, mm(k[1]))
				}
			}
		}
	}
	for _, line := range linesOf(c, "existing") {
		for _, k := range clipped(line, r.left, r.right) {
			r.low, r.high = math.Min(r.low, mm(k[1])), math.Max(r.high, mm(k[1]))
		}
	}
	return r, ok
}

func linesOf(c *cut, of string) [][][2]measure.MM {
	for _, l := range c.Lines {
		if l.Of == of {
			return l.Parts
		}
	}
	return nil
}

// wayScaleOf is the scale of the picture of a section, 0: there is none.
func (v *across) wayScaleOf(c *cut) float64 {
	r, ok := wayOf(c)
	if !ok {
		return 0
	}
	return v.scaleFor(r.right-r.left, float64(wayRoom*v.k()))
}

func (v *across) wayWide(c *cut) float64 {
	r, _ := wayOf(c)
	return (r.right - r.left) / c.wayScale
}

// wayHigh is the height of the picture with its title, the names of what stands there and the land below it.
func (v *across) wayHigh(c *cut) float64 {
	if c.wayScale == 0 {
		return 0
	}
	r, _ := wayOf(c)
	return (r.high-r.low)/c.wayScale + float64(v.step()*3.8)
}

// wayMarks draws the picture with its upper left corner at a point.
func (v *across) wayMarks(s *sheet, c *cut, at scene.Point) []scene.Mark {
	r, _ := wayOf(c)
	top := at.Y + float64(v.step()*2.2)
	put := func(x, z float64) scene.Point {
		return scene.Point{X: at.X + (x-r.left)/c.wayScale, Y: top + (r.high-z)/c.wayScale}
	}
	points := func(line [][2]measure.MM) []scene.Point {
		out := make([]scene.Point, len(line))
		for i, k := range line {
			out[i] = put(mm(k[0]), mm(k[1]))
		}
		return out
	}
	marks := []scene.Mark{scene.Text{At: at, String: "beside the dig, " + v.scaleWords(c.wayScale), Size: s.size, VAlign: scene.Top}}
	for _, line := range linesOf(c, "existing") {
		if part := clipped(line, r.left, r.right); len(part) > 1 {
			marks = append(marks, scene.Path{Outline: scene.Polyline(points(part)...), Stroke: existingPen()})
		}
	}
	for _, a := range c.Areas {
		for _, part := range a.Parts {
			o := scene.Polygon(points(part)...)
			switch a.Of {
			case "heap":
				marks = append(marks, scene.Path{Outline: o, Fill: scene.White}, scene.Hatch{Area: o, Pattern: scene.Soil, Spacing: 2}, scene.Path{Outline: o, Stroke: scene.Pen(scene.Medium)})
			case "dig":
				marks = append(marks, scene.Path{Outline: o, Fill: scene.White, Stroke: scene.Pen(scene.Medium)})
			case "unit", "cover":
				marks = append(marks, scene.Path{Outline: o, Fill: scene.Black})
			}
		}
	}
	marks = append(marks, v.wayNames(s, c, at, put)...)
	foot := put(0, r.low).Y + float64(0.2*v.step())
	for _, n := range c.Beside {
		way, align := 1.0, scene.Right
		if n.Side == "left" {
			way, align = -1, scene.Left
		}
		for _, u := range n.Uses {
			marks = append(marks, v.wayUse(c, u, way, put)...)
		}
		if n.Land != nil {
			x := put(way*mm(*n.Land), 0).X
			marks = append(marks, scene.Line(scene.Point{X: x, Y: top}, scene.Point{X: x, Y: foot}, landPen()),
				scene.Text{At: scene.Point{X: x, Y: foot + float64(0.4*v.step())}, String: "land " + v.along(*n.Land), Size: s.size, Align: align, VAlign: scene.Top})
		}
	}
	return marks
}

func landPen() scene.Stroke { return scene.Pen(scene.Broad) }

// wayNames are the names of what stands beside the dig, over it, moved aside where they would lie on each other.
func (v *across) wayNames(s *sheet, c *cut, at scene.Point, put func(x, z float64) scene.Point) []scene.Mark {
	type name struct {
		text string
		x    float64
	}
	var all []name
	wide := 0.0
	for _, n := range c.Beside {
		way := 1.0
		if n.Side == "left" {
			way = -1
		}
		for _, u := range n.Uses {
			all = append(all, name{u.What, put(way*mm(u.From+u.Width/2), 0).X})
			wide = math.Max(wide, scene.TextWidth(u.What, s.size, scene.Regular)+float64(1.2*v.k()))
		}
	}
	sorting.By(all, func(a, b name) int { return cmp.Compare(a.x, b.x) })
	wanted := make([]float64, len(all))
	for i, n := range all {
		wanted[i] = n.x
	}
	var marks []scene.Mark
	for i, x := range spreadOut(wanted, wide, at.X+wide/2, at.X+v.wayWide(c)-wide/2) {
		marks = append(marks, scene.Text{At: scene.Point{X: x, Y: at.Y + float64(1.1*v.step())}, String: all[i].text, Size: s.size, Align: scene.Centre, VAlign: scene.Top})
	}
	return marks
}

// wayUse is one thing beside the dig: a line on the ground where no heap is known.
func (v *across) wayUse(c *cut, u planner.StripPlace, way float64, put func(x, z float64) scene.Point) []scene.Mark {
	from, to := way*mm(u.From), way*mm(u.From+u.Width)
	a, b := put(from, c.groundAt(from)), put(to, c.groundAt(to))
	if c.heaped(from, to) {
		return nil
	}
	tick := float64(1.4 * v.k())
	return []scene.Mark{scene.Path{Outline: scene.Polyline(scene.Point{X: a.X, Y: a.Y - tick}, a, b, scene.Point{X: b.X, Y: b.Y - tick}), Stroke: scene.Pen(scene.Thick)}}
}

// heaped reports whether a heap stands between two offsets.
func (c *cut) heaped(from, to float64) bool {
	middle := (from + to) / 2
	for _, a := range c.Areas {
		for _, p := range a.Parts {
			low, high := math.Inf(1), math.Inf(-1)
			for _, k := range p {
				low, high = math.Min(low, mm(k[0])), math.Max(high, mm(k[0]))
			}
			if a.Of == "heap" && low <= middle && middle <= high {
				return true
			}
		}
	}
	return false
}

// groundAt is the level of the ground as it is at an offset, in mm; where nobody knows it, that on the centreline or of an edge.
func (c *cut) groundAt(x float64) float64 {
	for _, line := range linesOf(c, "existing") {
		for i := 1; i < len(line); i++ {
			a, b := line[i-1], line[i]
			if low, high := math.Min(mm(a[0]), mm(b[0])), math.Max(mm(a[0]), mm(b[0])); low <= x && x <= high && high > low {
				return mm(a[1]) + float64((mm(b[1])-mm(a[1]))*((x-mm(a[0]))/(mm(b[0])-mm(a[0]))))
			}
		}
	}
	switch {
	case c.Levels.Existing != nil:
		return mm(*c.Levels.Existing)
	case c.Top != nil:
		return mm(c.Top.Left[1])
	}
	return c.high
}
