package dossier

import (
	"fmt"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/field"
	"trenchwright/view/scene"
)

// The rows of the strip, in mm.
const (
	laneHigh  = 3.2
	laneLabel = 24.0
	rowHigh   = 29.1
)

// stripPages are the run on its strip, a row for each leg: what is set, filled, covered and proven by its records, and where the
// evidence has gaps; above them stands what else the document holds. Each row leads to the tables of its leg.
func (d *Dossier) stripPages(drawn [][]scene.Page) []scene.Page {
	box := frame()
	var pages []scene.Page
	var now []scene.Mark
	y := box.Top
	turn := func() {
		pages = append(pages, scene.Page{Width: pageWidth, Height: pageHeight, Title: "Index", Name: fmt.Sprintf("index-%d", len(pages)+1), Level: -1, Marks: now})
		now, y = nil, box.Top
	}
	summary, used, _ := scene.Paragraph{String: d.summary(), Size: 2.2, Space: 3}.Take(box.Width(), box.Height(), true)
	now = append(now, scene.Group{Transform: scene.Shift(box.Left, y), Marks: summary})
	y += used
	rest := d.indexLines(drawn)
	const line = 4.6
	half := (len(rest) + 1) / 2
	for i, s := range rest {
		at := scene.Point{X: box.Left + float64(i/half)*box.Width()/2, Y: y + float64(line*float64(i%half))}
		now = append(now, scene.Text{At: at, String: s.title, Size: 2.2, VAlign: scene.Top},
			scene.Text{At: at.Add(scene.Point{X: 90}), String: s.holds, Size: 2.2, VAlign: scene.Top})
		if s.page != "" {
			now = append(now, scene.Link{Area: scene.BoxAt(at.Add(scene.Point{Y: -0.6}), 130, 3.6), To: "#" + s.page})
		}
	}
	y += float64(line*float64(half)) + 3
	now = append(now, d.stripKey(scene.Point{X: box.Left, Y: y}))
	y += 7
	longest := measure.Length(1)
	for _, l := range d.run().Legs {
		if n := len(l.Units); n > 0 {
			longest = max(longest, l.Units[n-1].End)
		}
	}
	for i, l := range d.state.Legs {
		if len(l.Units) == 0 {
			continue
		}
		if y+rowHigh > box.Bottom {
			turn()
		}
		now = append(now, d.stripRow(i, l, longest, scene.Point{X: box.Left, Y: y})...)
		y += rowHigh
	}
	turn()
	pages[0].Level = 0
	return pages
}

// indexLine is one line of the index: a part of the document that is no leg's table.
type indexLine struct{ title, holds, page string } // page: nothing where nothing was recorded

func (d *Dossier) indexLines(drawn [][]scene.Page) []indexLine {
	var out []indexLine
	for i, s := range d.sections() {
		if strings.HasPrefix(s.name, "built-") {
			continue
		}
		n := 0
		for _, t := range s.tables {
			n += len(t.Rows)
		}
		line := indexLine{title: s.title, holds: rowsWord(n)}
		if len(d.blocksOf(s)) > 0 {
			line.page = s.name + "-1"
		}
		out = append(out, line)
		if i > 0 {
			continue
		}
		for _, pages := range drawn {
			holds := "1 page"
			if n := len(pages); n > 1 {
				holds = fmt.Sprintf("%d pages", n)
			}
			out = append(out, indexLine{pages[0].Title, holds, pages[0].Name})
		}
	}
	return out
}

func rowsWord(n int) string {
	switch n {
	case 0:
		return "nothing recorded here"
	case 1:
		return "1 row"
	}
	return fmt.Sprintf("%d rows", n)
}

func (d *Dossier) run() *field.Run { return d.places }

// summary says what the dossier is of.
func (d *Dossier) summary() string {
	units, set, lids, laid, proven := 0, 0, 0, 0, 0
	for _, l := range d.state.Legs {
		units, set, lids, laid = units+len(l.Units), set+l.Set, lids+l.Lids, laid+l.Laid
		for i := range l.Units {
			if d.proven(l.Units[i].Place) {
				proven++
			}
		}
	}
	text := fmt.Sprintf("By %d records: %d of %d %s set, %d of %d %s laid, %d %s proven: covered, with everything that is asked of them on record and within its figure. Gaps and open matters: %d lines, on the pages that come first.",
		len(d.all), set, units, d.word(wording.Units), laid, lids, "covers", proven, d.word(wording.Units), d.Gaps())
	if part := d.partSaid(); part != "" {
		text = part + " " + text
	}
	if d.Until != "" {
		text += " As it stood until " + d.Until + "."
	}
	if d.Now == "" {
		text += " Releases that end at a time count as they were given: no moment was stated."
	} else {
		text += " As of " + d.Now + "."
	}
	return text
}

// lane is one line of a row of the strip.
type lane struct {
	name string
	of   func(i int) field.Answer
	gap  bool // yes is a gap in the evidence
}

func (d *Dossier) lanes(l field.LegState) []lane {
	all := func(yes, cannot bool) field.Answer {
		switch {
		case yes:
			return field.Yes
		case cannot:
			return field.CantSay
		}
		return field.No
	}
	return []lane{
		{"set", func(i int) field.Answer { return l.Units[i].Set.Is }, false},
		{"filled", func(i int) field.Answer {
			placed, cannot := 0, false
			for _, y := range l.Units[i].Layers {
				if y.Placed.Is == field.Yes {
					placed++
				}
				cannot = cannot || y.Placed.Is == field.CantSay
			}
			return all(placed > 0 && placed == len(l.Units[i].Layers), cannot)
		}, false},
		{"covered", func(i int) field.Answer {
			laid, cannot := 0, false
			for _, c := range l.Units[i].Covers {
				if c.Laid.Is == field.Yes {
					laid++
				}
				cannot = cannot || c.Laid.Is == field.CantSay
			}
			return all(laid > 0 && laid == len(l.Units[i].Covers), cannot)
		}, false},
		{"proven", func(i int) field.Answer { return all(d.proven(l.Units[i].Place), false) }, false},
		{"lacks a record", func(i int) field.Answer { return all(d.lacks(l, i), false) }, true},
		{"figure open", func(i int) field.Answer { return all(len(d.missedBy()[l.Units[i].Place]) > 0, false) }, true},
	}
}

// stripRow is one leg. Neighbours in one state are one box.
func (d *Dossier) stripRow(leg int, l field.LegState, longest measure.Length, at scene.Point) []scene.Mark {
	units := d.run().Legs[leg].Units
	width := frame().Width() - laneLabel
	x := func(c measure.Length) float64 {
		return at.X + laneLabel + float64(width*c.Millimetres()/longest.Millimetres())
	}
	last := units[len(units)-1]
	title := fmt.Sprintf("Leg %s, %s to %s: %d of %d set, %d of %d %s laid", l.ID, l.Units[0].Place, l.Units[len(l.Units)-1].Place, l.Set, len(l.Units), l.Laid, l.Lids, "covers")
	marks := []scene.Mark{scene.Text{At: at, String: title, Size: 2.2, Weight: scene.Bold, VAlign: scene.Top},
		scene.Link{Area: scene.Box{Left: at.X, Top: at.Y - 0.5, Right: x(last.End), Bottom: at.Y + rowHigh - 3}, To: "#built-" + l.ID + "-1"}}
	y := at.Y + 4
	for _, n := range d.lanes(l) {
		marks = append(marks, scene.Text{At: scene.Point{X: at.X, Y: y + laneHigh/2}, String: n.name, Size: 1.8, VAlign: scene.Middle})
		for i := 0; i < len(units); {
			k, is := i, n.of(i)
			for k+1 < len(units) && n.of(k+1) == is {
				k++
			}
			box := scene.Rectangle(scene.Box{Left: x(units[i].Start), Top: y, Right: x(units[k].End), Bottom: y + laneHigh})
			switch {
			case is == field.Yes && n.gap:
				marks = append(marks, scene.Path{Outline: box, Fill: scene.Black})
			case is == field.Yes:
				marks = append(marks, scene.Hatch{Area: box, Pattern: scene.Diagonal, Spacing: 0.9})
			case is == field.CantSay:
				marks = append(marks, scene.Hatch{Area: box, Pattern: scene.Stone, Spacing: 1.2})
			}
			marks = append(marks, scene.Path{Outline: box, Stroke: scene.Pen(scene.Thin)})
			i = k + 1
		}
		y += laneHigh + 0.6
	}
	return marks
}

func (d *Dossier) stripKey(at scene.Point) scene.Mark {
	var marks []scene.Mark
	x := 0.0
	for _, k := range []struct {
		pattern scene.Pattern
		fill    scene.Colour
		words   string
	}{{scene.Diagonal, 0, "by the records"}, {scene.Stone, 0, "cannot say: records differ"}, {scene.NoHatch, 0, "nothing recorded, or not so"},
		{scene.NoHatch, scene.Black, "a gap: a record is lacking, or a figure is not met or cannot be said"}} {
		box := scene.Rectangle(scene.BoxAt(scene.Point{X: x}, 8, laneHigh))
		if k.fill.Said() {
			marks = append(marks, scene.Path{Outline: box, Fill: k.fill})
		}
		if k.pattern != scene.NoHatch {
			marks = append(marks, scene.Hatch{Area: box, Pattern: k.pattern, Spacing: 0.9})
		}
		marks = append(marks, scene.Path{Outline: box, Stroke: scene.Pen(scene.Thin)},
			scene.Text{At: scene.Point{X: x + 9.5, Y: laneHigh / 2}, String: k.words, Size: 1.8, VAlign: scene.Middle})
		x += 14 + scene.TextWidth(k.words, 1.8, scene.Regular)
	}
	marks = append(marks, scene.Text{At: scene.Point{X: x + 2, Y: laneHigh / 2}, String: "each row leads to the tables of its leg", Size: 1.8, VAlign: scene.Middle})
	return scene.Group{Transform: scene.Shift(at.X, at.Y), Marks: marks}
}
