package dossier

import (
	"fmt"
	"math"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/view/scene"
)

// crossAt is a place that the dossier cuts across: a unit, and why it was chosen.
type crossAt struct {
	leg field.LegState
	i   int
	why string
}

// crossPlaces are the units over which a section is drawn: on each leg where what was levelled is off most, and over every service that was found.
func (d *Dossier) crossPlaces() []crossAt {
	var out []crossAt
	for _, l := range d.state.Legs {
		why := map[int]string{}
		worst, which := measure.Length(-1), -1
		for i, u := range l.Units {
			for _, v := range u.Levels {
				for k, m := range v.Four {
					if want := d.wanted(l.Units, i, v.Of)[k]; known(m) && want != nil && (m.Value-*want).Abs() > worst {
						worst, which = (m.Value - *want).Abs(), i
					}
				}
			}
			p := d.units[u.Place]
			for _, c := range d.crossings(l.ID) {
				if c.found && measure.Length(p.Chainage) <= c.at && c.at <= measure.Length(p.Chainage+p.Length)+10*measure.Millimetre {
					why[i] = "a service was found here"
				}
			}
		}
		if which >= 0 && why[which] == "" {
			why[which] = "off most on leg " + l.ID
		}
		for i := range l.Units {
			if why[i] != "" {
				out = append(out, crossAt{l, i, why[i]})
			}
		}
	}
	return out
}

// The cells that cross sections stand in, three beside each other.
const (
	crossWide = 90.0
	crossHigh = 77.0
	crossPlot = 44.0 // of it for the drawing
	crossRoom = 3.0  // that differences may take
)

// crossLevel is one thing across the run: planned and measured, left and right; nil: not known.
type crossLevel struct {
	of      string
	planned [2]*measure.Length
	is      [2]*field.Measured
	end     string
}

// crossLevels are what was levelled at a unit, at that end of it where more was.
func (d *Dossier) crossLevels(c crossAt) []crossLevel {
	var out []crossLevel
	u := c.leg.Units[c.i]
	for _, of := range levelled() {
		want := d.wanted(c.leg.Units, c.i, of)
		l := crossLevel{of: of, planned: [2]*measure.Length{want[2], want[3]}, end: "end"}
		for _, v := range u.Levels {
			if v.Of != of {
				continue
			}
			l.is = [2]*field.Measured{v.Four[2], v.Four[3]}
			if offMost(v.Four, want, 0) > offMost(v.Four, want, 2) {
				l = crossLevel{of, [2]*measure.Length{want[0], want[1]}, [2]*field.Measured{v.Four[0], v.Four[1]}, "start"}
			}
		}
		if l.planned[0] != nil || known(l.is[0]) || known(l.is[1]) {
			out = append(out, l)
		}
	}
	return out
}

// offMost is the most that corner k or the one after it is off.
func offMost(four [4]*field.Measured, want [4]*measure.Length, k int) measure.Length {
	most := measure.Length(-1)
	for i := k; i < k+2; i++ {
		if known(four[i]) && want[i] != nil {
			most = max(most, (four[i].Value - *want[i]).Abs())
		}
	}
	return most
}

// cross draws one section in its cell.
func (d *Dossier) cross(c crossAt) []scene.Mark {
	u := c.leg.Units[c.i]
	marks := []scene.Mark{scene.Text{String: u.Place + ": " + c.why, Size: 2.2, Weight: scene.Bold, VAlign: scene.Top}}
	all := d.crossLevels(c)
	outer, inner, ok := d.sectionOf(d.units[u.Place].Supply)
	if !ok {
		return append(marks, scene.Text{At: scene.Point{Y: 5}, String: "NOT CHECKED: no outer and inner section on file. Ask: the supplier", Size: small, VAlign: scene.Top})
	}
	low, high := math.Inf(1), math.Inf(-1)
	most := measure.Length(0)
	bottom := math.NaN()
	for _, l := range all {
		for k := range 2 {
			if l.planned[k] != nil {
				z := l.planned[k].Metres()
				low, high = math.Min(low, z), math.Max(high, z)
				if (l.of == "pad" || l.of == "bed" && math.IsNaN(bottom)) && k == 0 {
					bottom = z
				}
				if known(l.is[k]) {
					most = max(most, (l.is[k].Value - *l.planned[k]).Abs())
				}
			}
		}
	}
	_, _, line, _ := d.movedBy(c.leg, u)
	most = max(most, line.Abs())
	if math.IsNaN(bottom) {
		return append(marks, scene.Text{At: scene.Point{Y: 5}, String: "no level was planned here", Size: small, VAlign: scene.Top})
	}
	low, high = math.Min(low, bottom), math.Max(high, bottom+outer.Height.Metres())
	denominator := math.Max(d.denominator((high-low)*1000, crossPlot-2*crossRoom), d.denominator(outer.Width.Millimetres()*1.3, crossWide-36))
	times := exaggerated(most, denominator, crossRoom)
	b := crossDrawing{d: d, middle: 30, top: 6 + crossRoom, high: high, denominator: denominator, times: times, half: outer.Width.Millimetres() / 2}
	marks = append(marks, scene.Text{At: scene.Point{Y: 3.4}, String: d.scaleSaid(denominator) + map[bool]string{false: fmt.Sprintf("; differences %v times too large", times)}[times == 1], Size: small, VAlign: scene.Top})
	marks = append(marks, b.unit(outer, inner, bottom, scene.Point{}, plannedPen()))
	if by, pen, ok := b.moved(all, line); ok {
		marks = append(marks, b.unit(outer, inner, bottom, by, pen))
	}
	for _, l := range all {
		marks = append(marks, b.level(l)...)
	}
	p := d.units[u.Place]
	for _, s := range d.crossings(c.leg.ID) {
		if s.top == nil || s.at < measure.Length(p.Chainage) || s.at > measure.Length(p.Chainage+p.Length)+10*measure.Millimetre {
			continue
		}
		marks = append(marks, b.service(s, low)...)
	}
	return append(marks, d.crossFigures(all, line, known(u.Line))...)
}

// sectionOf is the outer and the inner section of a supply's units, where both are on file.
func (d *Dossier) sectionOf(supply string) (outer, inner job.Section, ok bool) {
	for _, s := range d.Job.Supplies {
		if s.ID == supply {
			return s.Unit.Outer.Value, s.Unit.Inner.Value, s.Unit.Outer.Known && s.Unit.Inner.Known
		}
	}
	return outer, inner, false
}

// crossDrawing carries heights and widths onto the paper of a cell.
type crossDrawing struct {
	d                        *Dossier
	middle, top              float64 // of the cell, mm
	high                     float64 // level at the top, m
	denominator, times, half float64 // half: of the unit's width, mm
}

func (b crossDrawing) x(mm float64) float64 { return b.middle + mm/b.denominator }
func (b crossDrawing) y(z float64) float64  { return b.top + (b.high-z)*1000/b.denominator }

// unit is the outline of a unit that stands on a level, moved by so many mm of paper.
func (b crossDrawing) unit(outer, inner job.Section, bottom float64, by scene.Point, pen scene.Stroke) scene.Mark {
	w, h := b.half, outer.Height.Metres()
	in, floor := inner.Width.Millimetres()/2, outer.Height.Metres()-inner.Height.Metres()
	at := func(x, z float64) scene.Point { return scene.Point{X: b.x(x), Y: b.y(bottom + z)}.Add(by) }
	return scene.Path{Outline: scene.Polygon(at(-w, 0), at(-w, h), at(-in, h), at(-in, floor), at(in, floor), at(in, h), at(w, h), at(w, 0)), Stroke: pen}
}

// moved is by how much a unit is drawn off its planned place, where its wall tops or its line were measured.
func (b crossDrawing) moved(all []crossLevel, line measure.Length) (by scene.Point, pen scene.Stroke, ok bool) {
	pen = measuredPen()
	by.X, ok = float64(b.times*line.Millimetres())/b.denominator, line != 0
	for _, l := range all {
		if l.of != "wall" {
			continue
		}
		for k := range 2 {
			if known(l.is[k]) && l.planned[k] != nil {
				by.Y, ok = -float64(b.times*(l.is[k].Value-*l.planned[k]).Millimetres())/b.denominator, true
				break
			}
		}
	}
	return by, pen, ok
}

// level is a line across: broken as planned, full as measured, its difference drawn too large.
func (b crossDrawing) level(l crossLevel) []scene.Mark {
	if l.of == "wall" || l.of == "invert" { // they are the unit's own edges
		return nil
	}
	reach := b.half * 1.15
	var marks []scene.Mark
	var is []scene.Point
	for k, x := range []float64{-reach, reach} {
		if l.planned[k] == nil {
			return nil
		}
		if known(l.is[k]) {
			is = append(is, scene.Point{X: b.x(x), Y: b.y(l.planned[k].Metres()) - float64(b.times*(l.is[k].Value-*l.planned[k]).Millimetres())/b.denominator})
		}
	}
	marks = append(marks, scene.Line(scene.Point{X: b.x(-reach), Y: b.y(l.planned[0].Metres())}, scene.Point{X: b.x(reach), Y: b.y(l.planned[1].Metres())}, plannedPen()))
	if len(is) == 2 {
		marks = append(marks, scene.Line(is[0], is[1], measuredPen()))
	}
	for k, p := range is {
		marks = append(marks, reading(p, k))
	}
	return marks
}

// service is a service as it crosses: its top, and its underside where its width is known.
func (b crossDrawing) service(s crossing, low float64) []scene.Mark {
	pen := plannedPen()
	if s.found {
		pen = measuredPen()
	}
	var marks []scene.Mark
	for _, z := range []float64{s.top.Metres(), s.top.Metres() - s.width.Metres()} {
		if z <= b.high && z >= low-0.3 && (z == s.top.Metres() || s.width > 0) {
			marks = append(marks, scene.Line(scene.Point{X: b.x(-b.half * 1.4), Y: b.y(z)}, scene.Point{X: b.x(b.half * 1.4), Y: b.y(z)}, pen))
		}
	}
	return marks
}

// crossFigures are the levels of a section in figures, below each other.
func (d *Dossier) crossFigures(all []crossLevel, line measure.Length, lined bool) []scene.Mark {
	at := []float64{0, 30, 43, 53, 66, 79, 89}
	y := crossPlot + 7.0
	var marks []scene.Mark
	row := func(cells []string, weight scene.Weight) {
		for i, c := range cells {
			t := scene.Text{At: scene.Point{X: at[i], Y: y}, String: c, Size: 1.6, Weight: weight, VAlign: scene.Top}
			if i > 0 {
				t.Align = scene.Right
			}
			marks = append(marks, t)
		}
		y += 2.6
	}
	row([]string{"", "left", "", "", "right", "", ""}, scene.Bold)
	row([]string{"", "planned", "measured", "differs", "planned", "measured", "differs"}, scene.Bold)
	for _, l := range all {
		cells := []string{d.nameOf(l.of)}
		if known(l.is[0]) || known(l.is[1]) {
			cells[0] += ", " + l.end
		}
		for k := range 2 {
			planned, measured, off := "–", "–", ""
			if l.planned[k] != nil {
				planned = d.levelFigure(*l.planned[k])
			}
			if known(l.is[k]) {
				measured = d.levelFigure(l.is[k].Value)
				if l.planned[k] != nil {
					off = d.off(l.is[k].Value - *l.planned[k])
				}
			}
			cells = append(cells, planned, measured, off)
		}
		row(cells, scene.Regular)
	}
	if lined {
		row([]string{"off the line", "", "", d.off(line)}, scene.Regular)
	}
	return marks
}

// crossPages are the cross sections as built.
func (d *Dossier) crossPages() []scene.Page {
	places := d.crossPlaces()
	if len(places) == 0 {
		return nil
	}
	notes := fmt.Sprintf("Across the run, looking %s: on each leg where something levelled is off most, and where a service was found. Broken: as planned. Full: as measured. A %s is drawn full only where its wall tops or its line were measured. Levels in %s, differences in %s; –: nothing on file, or nothing measured.", d.word(wording.UpChainage), d.word(wording.Unit), d.levelUnit(), d.offUnit())
	head, high, _ := scene.Paragraph{String: notes, Size: small, Space: 3}.Take(frame().Width(), 40, true)
	var blocks []scene.Block
	for row := range slices.Chunk(places, 3) {
		var marks []scene.Mark
		for k, c := range row {
			marks = append(marks, scene.Group{Name: c.leg.Units[c.i].Place, Transform: scene.Shift(float64(float64(k)*(crossWide+1.5)), 0), Marks: d.cross(c)})
		}
		blocks = append(blocks, scene.Picture{Height: crossHigh, Marks: marks})
	}
	return d.drawnPages("across", "As built, across", head, high, blocks)
}
