package dossier

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// sectionBand is one stretch from its side: the levels as planned with what was measured on them, and below that a lane for each
// thing that was levelled, with its differences drawn large and its figures.
type sectionBand struct {
	d            *Dossier
	s            stretchOf
	denominator  float64
	low, high    float64 // levels that are drawn, m
	upright      float64 // scale of heights
	lanes        []string
	from         float64 // chainage at the left edge, mm
	drawn, total float64 // heights in mm of paper
}

const (
	sectionLeft  = 22.0 // for what is written beside the lanes
	sectionHigh  = 40.0
	lanePlot     = 10.0 // of a lane for the differences
	laneFigures  = 12.5 // and below them for the figures
	sectionRight = 16.0
)

// levelLine is one of the planned lines of a section.
type levelLine struct {
	name string
	pen  scene.Stroke
	of   func(*planner.Levels) *float64
}

func (d *Dossier) levelLines() []levelLine {
	return []levelLine{
		{"finished", scene.Pen(scene.Fine), func(l *planner.Levels) *float64 { return l.Finished }},
		{"cover", scene.Pen(scene.Thin).Dashed(3, 0.8), func(l *planner.Levels) *float64 { return l.Cover }},
		{"wall top", plannedPen(), func(l *planner.Levels) *float64 { return l.Wall }},
		{"invert", scene.Pen(scene.Fine).Dashed(0.8, 0.8), func(l *planner.Levels) *float64 { return l.Invert }},
		{"underside", plannedPen(), func(l *planner.Levels) *float64 { return l.Underside }},
		{d.nameOf("formation"), scene.Pen(scene.Thin).Dashed(3, 0.8, 0.6, 0.8), func(l *planner.Levels) *float64 { return l.Formation }},
	}
}

func (d *Dossier) sectionBand(s stretchOf, denominator float64) *sectionBand {
	b := &sectionBand{d: d, s: s, denominator: denominator, low: math.Inf(1), high: math.Inf(-1), from: math.Inf(1)}
	take := func(z float64) { b.low, b.high = math.Min(b.low, z), math.Max(b.high, z) }
	for i := s.first; i <= s.last; i++ {
		u := s.leg.Units[i]
		b.from = math.Min(b.from, measure.Length(d.units[u.Place].Chainage).Millimetres())
		for _, r := range b.rows(i) {
			if r.Levels == nil {
				continue
			}
			for _, l := range d.levelLines() {
				if z := l.of(r.Levels); z != nil {
					take(*z)
				}
			}
		}
		for _, v := range u.Levels {
			for _, m := range v.Four {
				if known(m) {
					take(m.Value.Metres())
				}
			}
		}
	}
	for _, of := range levelled() {
		if slices.ContainsFunc(s.leg.Units, func(u *field.UnitState) bool {
			return slices.ContainsFunc(u.Levels, func(v field.LevelState) bool { return v.Of == of })
		}) {
			b.lanes = append(b.lanes, of)
		}
	}
	b.total = bandTitle + 6
	for _, of := range b.lanes {
		b.total += b.laneHigh(of)
	}
	if b.high > b.low {
		b.upright = d.denominator((b.high-b.low)*1000, sectionHigh)
		b.drawn = (b.high - b.low) * 1000 / b.upright
		b.total += b.drawn + 8
	}
	return b
}

// rows are the places of the set-out where a unit begins and ends.
func (b *sectionBand) rows(i int) []planner.SetOut {
	var out []planner.SetOut
	if r, ok := b.d.beginning(b.s.leg.Units, i); ok {
		out = append(out, r)
	}
	if r, ok := b.d.ending(b.s.leg.Units, i); ok {
		out = append(out, r)
	}
	return out
}

// x is where a chainage stands.
func (b *sectionBand) x(chainage measure.Length) float64 {
	return sectionLeft + (chainage.Millimetres()-b.from)/b.denominator
}

func (b *sectionBand) y(z float64) float64 { return bandTitle + 2 + (b.high-z)*1000/b.upright }

func (b *sectionBand) ends(u *field.UnitState) (from, to measure.Length) {
	p := b.d.units[u.Place]
	return measure.Length(p.Chainage), measure.Length(p.Chainage + p.Length)
}

func (b *sectionBand) marks() []scene.Mark {
	title := b.s.title()
	if b.upright > 0 {
		title += ": heights " + b.d.scaleSaid(b.upright)
	}
	marks := []scene.Mark{scene.Text{String: title, Size: 2.2, Weight: scene.Bold, VAlign: scene.Top}}
	y := bandTitle
	if b.drawn > 0 {
		marks = append(marks, b.heights()...)
		marks = append(marks, b.names()...)
		marks = append(marks, b.measuredMarks()...)
		marks = append(marks, b.services()...)
		y += b.drawn + 8
	} else {
		marks = append(marks, scene.Text{At: scene.Point{X: scene.TextWidth(title, 2.2, scene.Bold) + 4}, String: "no levels were planned here", Size: small, VAlign: scene.Top})
	}
	for _, of := range b.lanes {
		marks = append(marks, scene.Group{Name: "lane " + of, Transform: scene.Shift(0, y), Marks: b.lane(of)})
		y += b.laneHigh(of)
	}
	if len(b.lanes) == 0 {
		marks = append(marks, scene.Text{At: scene.Point{X: sectionLeft, Y: y}, String: "no level of it was recorded", Size: small, VAlign: scene.Top})
	}
	return marks
}

// heights are the planned lines and a scale of levels beside them.
func (b *sectionBand) heights() []scene.Mark {
	var marks []scene.Mark
	type label struct {
		name string
		y    float64
	}
	var labels []label
	right := 0.0
	for _, l := range b.d.levelLines() {
		var points []scene.Point
		for i := b.s.first; i <= b.s.last; i++ {
			rows := b.rows(i)
			if b.d.back[b.s.leg.ID] {
				slices.Reverse(rows)
			}
			for _, r := range rows {
				if r.Levels != nil && l.of(r.Levels) != nil {
					points = append(points, scene.Point{X: b.x(measure.Length(r.Chainage)), Y: b.y(*l.of(r.Levels))})
				}
			}
		}
		if len(points) < 2 {
			continue
		}
		slices.SortStableFunc(points, func(p, q scene.Point) int {
			switch {
			case p.X < q.X:
				return -1
			case p.X > q.X:
				return 1
			}
			return 0
		})
		marks = append(marks, scene.Path{Outline: scene.Polyline(points...), Stroke: l.pen})
		end := points[len(points)-1]
		labels, right = append(labels, label{l.name, end.Y}), math.Max(right, end.X)
	}
	slices.SortStableFunc(labels, func(p, q label) int { return int(math.Round(100 * (p.y - q.y))) })
	last := math.Inf(-1)
	for _, l := range labels {
		y := math.Max(l.y, last+2.6)
		last = y
		marks = append(marks, scene.Text{At: scene.Point{X: right + 1, Y: y}, String: l.name, Size: small, VAlign: scene.Middle})
	}
	step := measure.Metre.Metres() / 10
	if b.d.speech.Imperial {
		step = 0.3048 / 2
	}
	for step*1000/b.upright < 5 {
		step *= 2
	}
	for z := math.Ceil(b.low/step) * step; z <= b.high; z += step {
		y := b.y(z)
		marks = append(marks, scene.Line(scene.Point{X: sectionLeft - 2, Y: y}, scene.Point{X: sectionLeft - 0.8, Y: y}, scene.Pen(scene.Thin)),
			scene.Text{At: scene.Point{X: sectionLeft - 2.6, Y: y}, String: b.d.levelFigure(measure.FromMetres(z)), Size: small, Align: scene.Right, VAlign: scene.Middle})
	}
	return marks
}

// names are the places below the heights, with their joints.
func (b *sectionBand) names() []scene.Mark {
	var marks []scene.Mark
	base := bandTitle + 2 + b.drawn + 3.4
	for i := b.s.first; i <= b.s.last; i++ {
		u := b.s.leg.Units[i]
		from, to := b.ends(u)
		marks = append(marks, scene.Text{At: scene.Point{X: (b.x(from) + b.x(to)) / 2, Y: base}, String: placeIn(u.Place, b.x(to)-b.x(from)-0.4), Size: small, Align: scene.Centre, VAlign: scene.Middle})
	}
	return marks
}

// measuredMarks are the levels that were measured, at their own height: full rings left, open ones right.
func (b *sectionBand) measuredMarks() []scene.Mark {
	var marks []scene.Mark
	for i := b.s.first; i <= b.s.last; i++ {
		u := b.s.leg.Units[i]
		for _, v := range u.Levels {
			for k, m := range v.Four {
				if known(m) {
					marks = append(marks, reading(scene.Point{X: b.x(b.corner(u, k)), Y: b.y(m.Value.Metres())}, k))
				}
			}
		}
	}
	return marks
}

// corner is the chainage of one of the four corners of a unit, a little inside it.
func (b *sectionBand) corner(u *field.UnitState, k int) measure.Length {
	from, to := b.ends(u)
	in := min((to-from)/5, measure.Length(math.Round(1.1*b.denominator))*measure.Millimetre)
	if k < 2 {
		return from + in
	}
	return to - in
}

func reading(at scene.Point, corner int) scene.Mark {
	m := scene.Path{Outline: scene.Circle(at, 0.5), Fill: scene.Black}
	if corner%2 == 1 {
		m.Fill, m.Stroke = scene.White, scene.Pen(scene.Thin)
	}
	return m
}

// services are those that cross the stretch and have a level: a box as high as it is wide.
func (b *sectionBand) services() []scene.Mark {
	var marks []scene.Mark
	first, _ := b.ends(b.s.leg.Units[b.s.first])
	_, last := b.ends(b.s.leg.Units[b.s.last])
	for _, c := range b.d.crossings(b.s.leg.ID) {
		if c.top == nil || c.at < min(first, last) || c.at > max(first, last) || c.top.Metres() > b.high || c.top.Metres() < b.low {
			continue
		}
		half := math.Max(0.8, c.width.Millimetres()/b.denominator/2)
		deep := math.Max(1.2, c.width.Millimetres()/b.upright)
		box := scene.BoxAt(scene.Point{X: b.x(c.at) - half, Y: b.y(c.top.Metres())}, 2*half, math.Min(deep, bandTitle+2+b.drawn-b.y(c.top.Metres())+0.1))
		pen := plannedPen()
		if c.found {
			pen = measuredPen()
		}
		marks = append(marks, scene.Path{Outline: scene.Rectangle(box), Stroke: pen})
	}
	return marks
}

// lane is one thing that was levelled: how far it is off its planned level, drawn large, and the figures of the corner that is
// off most: planned, measured, differs.
func (b *sectionBand) lane(of string) []scene.Mark {
	d := b.d
	most := measure.Millimetre
	limit := d.limitFor(of)
	if limit.Known {
		most = max(most, limit.Most)
	}
	for i := b.s.first; i <= b.s.last; i++ {
		for k := range 4 {
			if _, _, off, ok := b.read(i, of, k); ok {
				most = max(most, off.Abs())
			}
		}
	}
	const half = lanePlot/2 - 0.8
	zero := lanePlot / 2
	y := func(off measure.Length) float64 { return zero - float64(half*off.Millimetres())/most.Millimetres() }
	first, _ := b.ends(b.s.leg.Units[b.s.first])
	_, last := b.ends(b.s.leg.Units[b.s.last])
	left, right := b.x(min(first, last)), b.x(max(first, last))
	if a, z := b.ends(b.s.leg.Units[b.s.last]); b.x(a) < left || b.x(z) > right {
		left, right = math.Min(left, b.x(a)), math.Max(right, b.x(z))
	}
	if a, z := b.ends(b.s.leg.Units[b.s.first]); b.x(a) < left || b.x(z) > right {
		left, right = math.Min(left, b.x(a)), math.Max(right, b.x(z))
	}
	across := func(at float64, pen scene.Stroke) scene.Mark {
		return scene.Line(scene.Point{X: left, Y: at}, scene.Point{X: right, Y: at}, pen)
	}
	marks := []scene.Mark{across(zero, plannedPen()), scene.Text{At: scene.Point{Y: 0.6}, String: d.nameOf(of), Size: small, Weight: scene.Bold, VAlign: scene.Top}}
	if limit.Known {
		marks = append(marks, across(y(limit.Most), scene.Pen(scene.Fine)), across(y(limit.Least), scene.Pen(scene.Fine)),
			scene.Text{At: scene.Point{Y: 3.6}, String: "lines: ± " + strings.TrimPrefix(d.off(limit.Most), "+"), Size: small, VAlign: scene.Top})
	} else {
		marks = append(marks, scene.Text{At: scene.Point{Y: 3.6}, String: "NOT CHECKED", Size: small, Weight: scene.Bold, VAlign: scene.Top}, scene.Text{At: scene.Point{Y: 6.4}, String: "no limit on file", Size: small, VAlign: scene.Top})
	}
	if b.figured(of) {
		marks = append(marks, scene.Text{At: scene.Point{Y: lanePlot + 3}, String: "planned\nmeasured\ndiffers", Size: small, VAlign: scene.Top})
	}
	for i := b.s.first; i <= b.s.last; i++ {
		marks = append(marks, scene.Group{Name: b.s.leg.Units[i].Place, Marks: b.readings(i, of, y)})
	}
	return marks
}

// figured reports whether anything of a lane was measured in figures on this stretch.
func (b *sectionBand) figured(of string) bool {
	for i := b.s.first; i <= b.s.last; i++ {
		for k := range 4 {
			if _, _, _, ok := b.read(i, of, k); ok {
				return true
			}
		}
	}
	return false
}

func (b *sectionBand) laneHigh(of string) float64 {
	if b.figured(of) {
		return lanePlot + laneFigures
	}
	return lanePlot + 2.5
}

// limitFor is what the contract allows for a level.
func (d *Dossier) limitFor(of string) field.Limit { return d.asks.Level(of) }

// read is what was planned and measured at a corner of a unit.
func (b *sectionBand) read(i int, of string, k int) (planned, measured, off measure.Length, ok bool) {
	u := b.s.leg.Units[i]
	want := b.d.wanted(b.s.leg.Units, i, of)[k]
	for _, v := range u.Levels {
		if v.Of == of && known(v.Four[k]) && want != nil {
			return *want, v.Four[k].Value, v.Four[k].Value - *want, true
		}
	}
	return 0, 0, 0, false
}

// readings are one unit of a lane.
func (b *sectionBand) readings(i int, of string, y func(measure.Length) float64) []scene.Mark {
	d, u := b.d, b.s.leg.Units[i]
	from, to := b.ends(u)
	left, right := b.x(from), b.x(to)
	var marks []scene.Mark
	worst, which, n := measure.Length(-1), 0, 0
	for k := range 4 {
		if _, _, off, ok := b.read(i, of, k); ok {
			n++
			marks = append(marks, reading(scene.Point{X: b.x(b.corner(u, k)), Y: y(off)}, k))
			if off.Abs() > worst {
				worst, which = off.Abs(), k
			}
		}
	}
	middle := (left + right) / 2
	if n > 0 {
		planned, measured, off, _ := b.read(i, of, which)
		weight := scene.Regular
		if d.missedBy()[u.Place][of] {
			weight = scene.Bold
			marks = append(marks, missSign(scene.Point{X: middle, Y: y(off)}))
		}
		text := d.levelFigure(planned) + "\n" + d.levelFigure(measured) + "\n" + d.off(off) + " " + []string{"sl", "sr", "el", "er"}[which]
		size := small
		for size > 1.2 && widest(text, size, weight) > right-left-0.6 {
			size -= 0.05
		}
		return append(marks, scene.Text{At: scene.Point{X: middle, Y: lanePlot + 3}, String: text, Size: size, Weight: weight, Align: scene.Centre, VAlign: scene.Top})
	}
	for _, v := range u.Levels {
		if v.Of == of && v.Said.Is == field.Yes {
			return append(marks, scene.Line(scene.Point{X: left + 0.6, Y: y(0)}, scene.Point{X: right - 0.6, Y: y(0)}, scene.Pen(scene.Broad)))
		}
	}
	box := scene.Rectangle(scene.Box{Left: left + 0.4, Top: y(0) - 1, Right: right - 0.4, Bottom: y(0) + 1})
	return append(marks, scene.Hatch{Area: box, Pattern: scene.Stone, Spacing: 1.2})
}

func widest(text string, size float64, weight scene.Weight) float64 {
	wide := 0.0
	for line := range strings.SplitSeq(text, "\n") {
		wide = math.Max(wide, scene.TextWidth(line, size, weight))
	}
	return wide
}

// sectionDrawings are the run as built from its side, stretch by stretch.
func (d *Dossier) sectionDrawings() []scene.Page {
	denominator := d.alongScale()
	for _, s := range d.denominators() { // figures of levels need more room than those of the plan
		if s < denominator && s >= denominator/2 {
			denominator = s
			break
		}
	}
	notes := fmt.Sprintf("Along the run %s. Lines: as planned. Rings: as measured, at their height above, and below in a lane for each thing that was levelled, off its planned level (the broken line), drawn large. Figures: the corner of each that is off most, s start and e end up-chainage, l left and r right; levels in %s, differences in %s. All corners stand on the level sheets.",
		d.scaleSaid(denominator), d.levelUnit(), d.offUnit())
	head, high, _ := scene.Paragraph{String: notes, Size: small, Space: 2}.Take(frame().Width(), 40, true)
	key, keyHigh := keyRow(scene.Point{Y: high}, frame().Width(), []keyEntry{
		{"measured, left", func(b scene.Box) []scene.Mark { return []scene.Mark{reading(b.Centre(), 0)} }},
		{"measured, right", func(b scene.Box) []scene.Mark { return []scene.Mark{reading(b.Centre(), 1)} }},
		{"said to be within, without a figure", lineSign(scene.Pen(scene.Broad))},
		{"nothing recorded", func(b scene.Box) []scene.Mark {
			return []scene.Mark{scene.Hatch{Area: scene.Rectangle(b), Pattern: scene.Stone, Spacing: 1.2}}
		}},
		{"does not meet its figure, or cannot say", missKey},
		{"service as planned", func(b scene.Box) []scene.Mark {
			return []scene.Mark{scene.Path{Outline: scene.Rectangle(b), Stroke: plannedPen()}}
		}},
		{"as found", func(b scene.Box) []scene.Mark {
			return []scene.Mark{scene.Path{Outline: scene.Rectangle(b), Stroke: measuredPen()}}
		}},
	})
	var blocks []scene.Block
	for _, s := range d.stretches(denominator, frame().Width()-sectionLeft-sectionRight) {
		b := d.sectionBand(s, denominator)
		if b.drawn == 0 && len(b.lanes) == 0 {
			continue
		}
		blocks = append(blocks, scene.Picture{Height: b.total, Marks: b.marks()})
	}
	if len(blocks) == 0 {
		return nil
	}
	return d.drawnPages("section", "As built, from the side", append(head, key...), high+keyHigh+2, blocks)
}
