package drawing

import (
	"math"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

func anyFinding(finding.Finding) bool { return true }

// stripRow draws one row with the top of its flags at y.
func (s *sheet) stripRow(r row, y, scale float64) {
	step := scene.LineStep(s.size)
	z := s.style.strip()
	base := y + float64(step*float64(r.ups)) // where pennants above begin
	top := base + z.above()
	through := s.crossLines(r)
	var marks []scene.Mark
	for _, l := range through {
		marks = append(marks, scene.Line(scene.Point{X: l.x, Y: base + 0.6}, scene.Point{X: l.x, Y: top + z.unit + z.laneDrop + z.lane + 0.6}, l.pen))
	}
	for _, c := range r.cells {
		switch {
		case c.unit >= 0:
			marks = append(marks, s.unitCell(c, top, through)...)
		case c.node != "":
			marks = append(marks, s.nodeSign(c, top)...)
		default:
			marks = append(marks, s.emptyLeg(c, top)...)
		}
	}
	marks = append(marks, s.jointLane(r, top)...)
	marks = append(marks, s.entrySigns(r, top)...)
	marks = append(marks, s.chainageRule(r, top+z.unit+z.rule, scale)...)
	marks = append(marks, hoist(r.up, base, s.size, false)...)
	marks = append(marks, hoist(r.down, top+z.unit+z.flags, s.size, true)...)
	if r.goesOn {
		marks = append(marks, goesOnSign(scene.Point{X: r.width + 0.8, Y: top + float64(z.unit/2)}))
	}
	s.add(scene.Group{Transform: scene.Shift(s.free.Left+z.margin, 0), Marks: marks})
}

// slanted is a cell from x to x+width whose ends lean by the tangents a and b: left of the run is up.
func slanted(x, y, width, high, a, b float64) scene.Outline {
	h := high / 2
	return scene.Polygon(scene.Point{X: x + float64(a*h), Y: y}, scene.Point{X: x + width + float64(b*h), Y: y},
		scene.Point{X: x + width - float64(b*h), Y: y + high}, scene.Point{X: x - float64(a*h), Y: y + high})
}

// unitCell is one unit with its covers and, where it fits, its place.
func (s *sheet) unitCell(c cell, top float64, through []crossLine) []scene.Mark {
	u := s.plan.Units[c.unit]
	a, b := slant(u.StartAngle), slant(u.EndAngle)
	z := s.style.strip()
	o := slanted(c.x, top, c.width, z.unit, a, b)
	var marks []scene.Mark
	if p := unitHatch(u); p != scene.NoHatch {
		marks = append(marks, scene.Hatch{Area: o, Pattern: p, Spacing: 1.3})
	}
	pen := scene.Pen(scene.Medium)
	if u.Supply != s.legSupply(u.Leg) {
		pen = scene.Pen(scene.Broad)
	}
	marks = append(marks, scene.Path{Outline: o, Stroke: pen})
	marks = append(marks, s.coverCells(c, u, top, a, b)...)
	return append(marks, s.placeName(c, u, top, float64((math.Abs(a)+math.Abs(b))*s.size/2), through)...)
}

// unitHatch is the pattern of a cut unit, and of one that waits for a measurement.
func unitHatch(u planner.Unit) scene.Pattern {
	switch {
	case u.Hold:
		return scene.Stone
	case u.Cut:
		return scene.Diagonal
	}
	return scene.NoHatch
}

func (s *sheet) coverCells(c cell, u planner.Unit, top, a, b float64) []scene.Mark {
	covers := s.covers[u.Mark]
	z := s.style.strip()
	y := top - z.coverLift - z.cover
	long := math.Max(mm(u.Length), 1)
	var marks []scene.Mark
	for i, k := range covers {
		v := s.plan.Covers[k]
		x := c.x + c.width*mm(v.Start)/long
		w := c.width * mm(v.Length) / long
		at, bt := 0.0, 0.0
		if i == 0 && v.StartAngle != 0 {
			at = a
		}
		if i == len(covers)-1 && v.EndAngle != 0 {
			bt = b
		}
		o := slanted(x, y, w, z.cover, at, bt)
		if v.Cut {
			marks = append(marks, scene.Hatch{Area: o, Pattern: scene.Diagonal, Spacing: 0.8})
		}
		marks = append(marks, scene.Path{Outline: o, Stroke: scene.Pen(scene.Thin)})
	}
	return marks
}

// placeName writes the place into a cell: whole, without its leg, or not at all; in the middle, or beside it where a line
// runs through. lean is what slanted ends take of the cell. A special unit that has no room keeps its flag below.
func (s *sheet) placeName(c cell, u planner.Unit, top, lean float64, through []crossLine) []scene.Mark {
	_, number, found := strings.Cut(u.Mark, u.Leg+"-")
	weight := scene.Regular
	if s.special(u) {
		weight = scene.Bold
	}
	for _, text := range []string{u.Mark, number} {
		if text == "" || !found && text == number {
			continue
		}
		width := scene.TextWidth(text, s.size, weight) + 1.4
		if width+lean > c.width {
			continue
		}
		middle := scene.Point{X: c.x + float64(c.width/2), Y: top + float64(s.style.strip().unit/2)}
		aside := (c.width - lean - width) / 2
		for _, part := range []float64{0, -1, 1, -0.5, 0.5} {
			if x := middle.X + float64(part*aside); clearOfLines(x, width/2, through) {
				middle.X = x
				break
			}
		}
		return []scene.Mark{scene.Text{At: middle, String: text, Size: s.size, Weight: weight, Align: scene.Centre, VAlign: scene.Middle, Halo: 0.5}}
	}
	return nil
}

func clearOfLines(x, half float64, through []crossLine) bool {
	for _, l := range through {
		if math.Abs(l.x-x) < half {
			return false
		}
	}
	return true
}

// nodeSign is what stands between two legs, or at the end of one.
func (s *sheet) nodeSign(c cell, top float64) []scene.Mark {
	n := s.node(c.node)
	box := scene.BoxAt(scene.Point{X: c.x + 0.5, Y: top}, c.width-1, s.style.strip().unit)
	thick := scene.Pen(scene.Thick)
	middle := box.Centre()
	switch {
	case n.Made == "mitred": // the slanted units leave the notch open; each face has its pad
		z := s.style.strip()
		if !s.made[s.plan.Legs[c.leg].Supply].pads {
			return nil
		}
		y, wide := top+z.unit+z.laneDrop, 0.75*z.lane
		return []scene.Mark{padSign(middle.X-float64(0.6*wide), y, wide), padSign(middle.X+float64(0.6*wide), y, wide)}
	case n.Kind == "bend":
		tip, foot := scene.Point{X: middle.X, Y: box.Top + 1.2}, box.Bottom
		if n.Deflection < 0 {
			tip.Y, foot = box.Bottom-1.2, box.Top
		}
		v := scene.Polyline(scene.Point{X: box.Left + 1.2, Y: foot}, tip, scene.Point{X: box.Right - 1.2, Y: foot})
		return []scene.Mark{scene.Path{Outline: scene.Rectangle(box), Stroke: thick}, scene.Path{Outline: v, Stroke: scene.Pen(scene.Medium)}}
	case n.Kind == "tee" || n.Kind == "cross":
		return s.teeSign(c, n, box)
	case n.Kind == "transition":
		return []scene.Mark{scene.Path{Outline: scene.Polygon(box.Corner(), scene.Point{X: box.Right, Y: box.Top + 1.5}, scene.Point{X: box.Right, Y: box.Bottom - 1.5}, scene.Point{X: box.Left, Y: box.Bottom}), Stroke: thick}}
	}
	return s.endSign(c, n, box)
}

// teeSign is a box with a stub for every leg that goes off to a side.
func (s *sheet) teeSign(c cell, n planner.Node, box scene.Box) []scene.Mark {
	marks := []scene.Mark{scene.Path{Outline: scene.Rectangle(box), Stroke: scene.Pen(scene.Thick)}}
	back := 0.0 // bearing against the run
	for i, leg := range n.Legs {
		if leg == s.plan.Legs[c.leg].Name && i < len(n.Headings) {
			back = n.Headings[i]
			if s.plan.Legs[c.leg].From == n.ID {
				back += 180
			}
		}
	}
	for i, leg := range n.Legs {
		if i >= len(n.Headings) {
			break
		}
		side := sideOf(n.Headings[i] - back - 180)
		if side == 0 {
			continue
		}
		x := box.Centre().X
		y, away := box.Top, -1.0
		if side > 0 {
			y, away = box.Bottom, 1
		}
		marks = append(marks,
			scene.Path{Outline: scene.Polyline(scene.Point{X: x - 2, Y: y - float64(away*0.1)}, scene.Point{X: x - 2, Y: y + float64(away*2.6)}), Stroke: scene.Pen(scene.Thick)},
			scene.Path{Outline: scene.Polyline(scene.Point{X: x + 2, Y: y - float64(away*0.1)}, scene.Point{X: x + 2, Y: y + float64(away*2.6)}), Stroke: scene.Pen(scene.Thick)},
			scene.Text{At: scene.Point{X: x, Y: box.Centre().Y + float64(away*2.2)}, String: leg, Size: s.size, Weight: scene.Bold, Align: scene.Centre, VAlign: scene.Middle})
	}
	return marks
}

// sideOf is the side to which a turn of some degrees leads: −1 left, 1 right, 0 straight on or back.
func sideOf(degrees float64) int {
	d := math.Mod(math.Mod(degrees, 360)+360, 360)
	switch {
	case d > 5 && d < 175:
		return 1
	case d > 185 && d < 355:
		return -1
	}
	return 0
}

// endSign is how a leg ends: a heavy bar for a plate, a hatched wall, a dashed bar for a temporary end.
func (s *sheet) endSign(c cell, n planner.Node, box scene.Box) []scene.Mark {
	across, near := endBox(c, s.plan.Legs[c.leg].From == c.node)
	box = scene.Box{Left: across.Left, Right: across.Right, Top: box.Top - 1, Bottom: box.Bottom + 1}
	bar := scene.Line(scene.Point{X: near, Y: box.Top}, scene.Point{X: near, Y: box.Bottom}, scene.Pen(1.1))
	switch n.Made {
	case "end plate":
		return []scene.Mark{bar}
	case "building":
		return []scene.Mark{scene.Hatch{Area: scene.Rectangle(box), Pattern: scene.Backward, Spacing: 1}, scene.Path{Outline: scene.Rectangle(box), Stroke: scene.Pen(scene.Medium)}}
	case "temporary":
		bar.Stroke = scene.Pen(scene.Broad).Dashed(1.4, 1)
		return []scene.Mark{bar}
	case "existing":
		return []scene.Mark{scene.Path{Outline: scene.Rectangle(box.Inset(0.3)), Stroke: scene.Pen(scene.Medium).Dashed(1.2, 0.8)}}
	}
	return nil
}

// endBox is the width of the sign of an end, and where its bar stands if it is one: beside the unit that the cell follows,
// or comes before.
func endBox(c cell, before bool) (box scene.Box, bar float64) {
	const wide, off = 3.6, 0.3
	box.Left = c.x + off
	if before {
		box.Left = c.x + c.width - wide - off
	}
	box.Right = box.Left + wide
	if before {
		return box, box.Right - 0.7
	}
	return box, box.Left + 0.7
}

// emptyLeg is a leg that nothing could be laid on.
func (s *sheet) emptyLeg(c cell, top float64) []scene.Mark {
	box := scene.BoxAt(scene.Point{X: c.x, Y: top}, c.width, s.style.strip().unit)
	return []scene.Mark{scene.Path{Outline: scene.Rectangle(box), Stroke: scene.Pen(scene.Medium).Dashed(2, 1.2)}}
}

// jointLane is the lane under the units: a pad or a tick where a joint stands, a hatch where none may.
func (s *sheet) jointLane(r row, top float64) []scene.Mark {
	h := s.style.strip()
	y := top + h.unit + h.laneDrop
	var marks []scene.Mark
	for _, z := range s.plan.Zones {
		leg := s.legs[z.Leg]
		for _, c := range r.cells {
			if c.leg != leg || c.node != "" || c.to <= c.from {
				continue
			}
			from, to := math.Max(mm(z.From), c.from), math.Min(mm(z.To), c.to)
			if from >= to {
				continue
			}
			per := c.width / (c.to - c.from)
			box := scene.BoxAt(scene.Point{X: c.x + float64((from-c.from)*per), Y: y}, float64((to-from)*per), h.lane)
			marks = append(marks, scene.Hatch{Area: scene.Rectangle(box), Pattern: scene.Backward, Spacing: 0.9, Stroke: scene.Pen(scene.Thin)})
		}
	}
	for i, c := range r.cells {
		if c.unit < 0 {
			continue
		}
		u := s.plan.Units[c.unit]
		if i == 0 || !s.mitredNode(r.cells[i-1].node) {
			marks = append(marks, s.bearing(u, c.x, y))
		}
		if i+1 == len(r.cells) || r.cells[i+1].unit < 0 && !s.mitredNode(r.cells[i+1].node) {
			marks = append(marks, s.bearing(u, c.x+c.width, y))
		}
	}
	return marks
}

func (s *sheet) mitredNode(id string) bool { return id != "" && s.node(id).Made == "mitred" }

// bearing is what carries the joint at x: a pad, or a tick where units lie on the bed.
func (s *sheet) bearing(u planner.Unit, x, y float64) scene.Mark {
	h := s.style.strip().lane
	if s.made[u.Supply].pads {
		return padSign(x, y, h)
	}
	return scene.Line(scene.Point{X: x, Y: y}, scene.Point{X: x, Y: y + h}, scene.Pen(scene.Medium))
}

func padSign(x, y, wide float64) scene.Mark {
	return scene.Path{Outline: scene.Rectangle(scene.BoxAt(scene.Point{X: x - float64(wide/2), Y: y + 0.3}, wide, 1.3)), Fill: scene.Black}
}

// crossLine is a line through the strip: the edge of what crosses the run, or the middle of a service.
type crossLine struct {
	x   float64
	pen scene.Stroke
}

// The pens of what crosses the run, on every sheet.
func crossingPen() scene.Stroke { return scene.Pen(scene.Medium).Dashed(2.4, 1) }
func servicePen() scene.Stroke  { return scene.Pen(scene.Medium).Dashed(3, 0.8, 0.5, 0.8) }

// crossLines are the lines through a row.
func (s *sheet) crossLines(r row) []crossLine {
	var out []crossLine
	add := func(leg int, at float64, pen scene.Stroke) {
		if x, ok := r.at(leg, at); ok {
			out = append(out, crossLine{x, pen})
		}
	}
	for _, t := range s.things {
		switch t.kind {
		case "crossing":
			half := t.wide / 2 / math.Max(0.2, math.Sin(t.skew*math.Pi/180))
			add(t.leg, t.at-half, crossingPen())
			add(t.leg, t.at+half, crossingPen())
		case "service":
			add(t.leg, t.at, servicePen())
		}
	}
	return out
}

// entrySigns are rings where a conduit comes in: on the upper or lower edge, or in the middle for the floor.
func (s *sheet) entrySigns(r row, top float64) []scene.Mark {
	var marks []scene.Mark
	for _, t := range s.things {
		x, ok := r.at(t.leg, t.at)
		if t.kind != "entry" || !ok {
			continue
		}
		y := top + s.style.strip().unit + s.entryBelow(t)
		marks = append(marks, scene.Path{Outline: scene.Circle(scene.Point{X: x, Y: y}, ringRadius), Fill: scene.White, Stroke: scene.Pen(scene.Thick)})
	}
	return marks
}

// chainageRule is the line of chainage under each leg of a row, with ticks and figures that keep off the poles.
func (s *sheet) chainageRule(r row, y, scale float64) []scene.Mark {
	unit := 1000.0
	if s.style.Format.System == measure.Imperial {
		unit = 304.8
	}
	major := niceStep(18 * scale / unit)
	if major*unit/scale < 18 {
		major = nextNice(major)
	}
	minor := major / 5
	var marks []scene.Mark
	for i := 0; i < len(r.cells); {
		if r.cells[i].node != "" {
			i++
			continue
		}
		n := i
		for n+1 < len(r.cells) && r.cells[n+1].leg == r.cells[i].leg && r.cells[n+1].node == "" {
			n++
		}
		marks = append(marks, s.legRule(r, r.cells[i], r.cells[n], y, unit, major, minor)...)
		i = n + 1
	}
	return marks
}

func (s *sheet) legRule(r row, first, last cell, y, unit, major, minor float64) []scene.Mark {
	l := s.plan.Legs[first.leg]
	marks := []scene.Mark{scene.Line(scene.Point{X: first.x, Y: y}, scene.Point{X: last.x + last.width, Y: y}, scene.Pen(scene.Thin))}
	from, to := chainageAt(l, first.from)/unit, chainageAt(l, last.to)/unit
	named := " m" // the first figure says what all are in
	if unit != 1000 {
		named = " ft"
	}
	for k := math.Ceil(from/minor - 1e-9); k*minor <= to+1e-9; k++ {
		x, ok := r.at(first.leg, stationAt(l, k*minor*unit))
		if !ok {
			continue
		}
		high := 0.9
		if math.Mod(k, math.Round(major/minor)) == 0 {
			high = 1.8
			text := scene.Text{At: scene.Point{X: x, Y: y + s.style.strip().figures - s.style.strip().rule}, String: plainNumber(k*minor) + named, Size: s.size, Align: scene.Centre}
			if r.offPoles(text, first.x, last.x+last.width) {
				marks, named = append(marks, text), ""
			}
		}
		marks = append(marks, scene.Line(scene.Point{X: x, Y: y}, scene.Point{X: x, Y: y + high}, scene.Pen(scene.Thin)))
	}
	return marks
}

// offPoles reports whether no pole below the strip runs through a figure, and whether the figure stays over its leg.
func (r *row) offPoles(t scene.Text, left, right float64) bool {
	half := float64(scene.TextWidth(t.String, t.Size, t.Weight)/2) + 0.5
	for _, f := range r.down {
		if f.foot > 0 && math.Abs(f.x-t.At.X) < half {
			return false
		}
	}
	return t.At.X-half > left-2 && t.At.X+half < right+2
}

// nextNice is the next of 1, 2, 5, 10, … above one of them.
func nextNice(step float64) float64 {
	for _, k := range []float64{2, 2.5} {
		if n := niceStep(step * k * 1.0001); n > step {
			return n
		}
	}
	return step * 10
}
