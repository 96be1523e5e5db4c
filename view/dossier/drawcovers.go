package dossier

import (
	"fmt"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/field"
	"trenchwright/view/scene"
)

const (
	coverHigh = 5.0
	coverBand = bandTitle + nameRoom + coverHigh + 8.5
)

// coverPages are the map of covers: each cover where it lies on its unit, with its number, and what is recorded of it.
func (d *Dossier) coverPages() []scene.Page {
	if len(d.Plan.Covers) == 0 {
		return nil
	}
	denominator := d.alongScale()
	notes := fmt.Sprintf("Scale %s along the run. Each box is a cover on its %s; its number is the last part of its place: the 2 of A-003 is A-003.2. c: a cover that is cut. Below each %s: the tests of its covers.",
		d.scaleSaid(denominator), d.word(wording.Unit), d.word(wording.Unit))
	head, high, _ := scene.Paragraph{String: notes, Size: small, Space: 2}.Take(frame().Width(), 40, true)
	box := func(pattern scene.Pattern, pen scene.Stroke) func(scene.Box) []scene.Mark {
		return func(b scene.Box) []scene.Mark { return coverBox(b, pattern, pen) }
	}
	key, keyHigh := keyRow(scene.Point{Y: high}, frame().Width(), []keyEntry{
		{"laid, by the records", box(scene.NoHatch, scene.Pen(scene.Medium))}, {"not laid, by the records", box(scene.Stone, plannedPen())},
		{"cannot say: records differ", box(scene.CrossHatch, plannedPen())},
		{"tested, and met its limit", func(b scene.Box) []scene.Mark {
			return []scene.Mark{scene.Path{Outline: scene.Circle(b.Centre(), 0.8), Fill: scene.Black}}
		}},
		{"tested: did not meet it, cannot say, or not told", func(b scene.Box) []scene.Mark { return []scene.Mark{missSign(b.Centre())} }},
	})
	var blocks []scene.Block
	for _, s := range d.stretches(denominator, frame().Width()-2) {
		blocks = append(blocks, scene.Picture{Height: coverBand, Marks: d.coverMarks(s, denominator)})
	}
	return d.drawnPages("covermap", "Covers as they lie", append(head, key...), high+keyHigh+2, blocks)
}

func coverBox(b scene.Box, pattern scene.Pattern, pen scene.Stroke) []scene.Mark {
	o := scene.Rectangle(b)
	var marks []scene.Mark
	if pattern != scene.NoHatch {
		marks = append(marks, scene.Hatch{Area: o, Pattern: pattern, Spacing: 1.3})
	}
	return append(marks, scene.Path{Outline: o, Stroke: pen})
}

// coverMarks are the covers of one stretch.
func (d *Dossier) coverMarks(s stretchOf, denominator float64) []scene.Mark {
	title := s.title()
	laid, all := 0, 0
	from := d.units[s.leg.Units[s.first].Place].Chainage
	for _, u := range s.leg.Units[s.first : s.last+1] {
		from = min(from, d.units[u.Place].Chainage)
		all += len(u.Covers)
		for _, c := range u.Covers {
			if c.Laid.Is == field.Yes {
				laid++
			}
		}
	}
	marks := []scene.Mark{scene.Text{String: fmt.Sprintf("%s: %d of %d covers laid", title, laid, all), Size: 2.2, Weight: scene.Bold, VAlign: scene.Top},
		scene.Link{Area: scene.BoxAt(scene.Point{Y: -0.5}, scene.TextWidth(title, 2.2, scene.Bold), 3.6), To: "#covers-1"}}
	for _, u := range s.leg.Units[s.first : s.last+1] {
		left := measure.Length(d.units[u.Place].Chainage-from).Millimetres() / denominator
		marks = append(marks, scene.Group{Name: u.Place, Transform: scene.Shift(left, bandTitle), Marks: d.unitCovers(u, denominator)})
	}
	return marks
}

// unitCovers are the covers of one unit from its start.
func (d *Dossier) unitCovers(u *field.UnitState, denominator float64) []scene.Mark {
	long := measure.Length(d.units[u.Place].Length).Millimetres() / denominator
	marks := []scene.Mark{scene.Text{At: scene.Point{X: long / 2, Y: nameRoom - 1}, String: placeIn(u.Place, long-0.4), Size: small, Align: scene.Centre},
		scene.Line(scene.Point{Y: nameRoom - 0.3}, scene.Point{Y: nameRoom + coverHigh + 1.2}, scene.Pen(scene.Fine))}
	for _, c := range u.Covers {
		p := d.covers[c.Place]
		box := scene.BoxAt(scene.Point{X: measure.Length(p.Start).Millimetres() / denominator, Y: nameRoom}, max(0.4, measure.Length(p.Length).Millimetres()/denominator-0.15), coverHigh)
		pattern, pen := scene.Stone, plannedPen()
		switch c.Laid.Is {
		case field.Yes:
			pattern, pen = scene.NoHatch, scene.Pen(scene.Medium)
		case field.CantSay:
			pattern = scene.CrossHatch
		}
		marks = append(marks, coverBox(box, pattern, pen)...)
		_, number, _ := strings.Cut(c.Place, ".")
		if p.Cut {
			number += "c"
		}
		if scene.TextWidth(number, small, scene.Regular) < box.Width()-0.3 {
			marks = append(marks, scene.Text{At: box.Centre(), String: number, Size: small, Align: scene.Centre, VAlign: scene.Middle, Halo: 0.2})
		}
	}
	middle := scene.Point{X: long / 2, Y: nameRoom + coverHigh + 2.6}
	for _, t := range u.Tests {
		if t.Met.Is == field.Yes {
			marks = append(marks, scene.Path{Outline: scene.Circle(middle, 0.8), Fill: scene.Black})
		} else {
			marks = append(marks, missSign(middle))
		}
		middle.X += 2
	}
	return marks
}
