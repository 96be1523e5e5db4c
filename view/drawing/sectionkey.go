package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// axisFigure is a level on the axis, with as many digits as its step has.
func axisFigure(x, step float64) string {
	places := 0
	for s := step; s < 0.9999 && places < 4; s *= 10 {
		places++
	}
	if step == 2.5 || step == 0.25 {
		places++
	}
	text := fmt.Sprintf("%.*f", places, x)
	if strings.Trim(text, "-0.") == "" { // a nought that rounding left a sign on
		text = strings.TrimPrefix(text, "-")
	}
	return strings.Replace(text, "-", "−", 1)
}

// keyItems are the lines and signs of some rows, each with its word; of all rows of the run where none are given.
func (v *section) keyItems(rows []sectionRow) []keyItem {
	has := func(of func(*planner.Levels) *float64) bool {
		there := func(r planner.SetOut) bool { return r.Levels != nil && of(r.Levels) != nil }
		if rows == nil {
			return slices.ContainsFunc(v.plan.SetOut, there)
		}
		return slices.ContainsFunc(rows, func(r sectionRow) bool {
			return slices.ContainsFunc(r.places, func(p sectionPlace) bool { return there(p.SetOut) })
		})
	}
	on := func(leg string, at measure.Length) bool { // whether a chainage is shown
		return rows == nil || slices.ContainsFunc(rows, func(r sectionRow) bool { _, ok := v.xOf(&r, leg, at); return ok })
	}
	services := slices.ContainsFunc(v.plan.Legs, func(l planner.Leg) bool {
		return slices.ContainsFunc(v.asked[l.Name].Services, func(s job.Service) bool { return on(l.Name, s.At) })
	})
	outlets := slices.ContainsFunc(v.job.Levels.Outlets, func(o job.Outlet) bool { return on(o.Leg, o.At) })
	pins := slices.ContainsFunc(v.job.Levels.Pins, func(p job.Pin) bool { return on(p.Leg, p.At) })
	anywhere := func(is func(p sectionPlace) bool) bool {
		if rows != nil {
			return slices.ContainsFunc(rows, func(r sectionRow) bool { return slices.ContainsFunc(r.places, is) })
		}
		for leg, all := range v.rowsOf {
			for k, r := range all {
				if is(sectionPlace{SetOut: r, leg: leg, k: k}) {
					return true
				}
			}
		}
		return false
	}
	deep := func(name string) string {
		return name + ", down to " + v.deepWords() + " below " + v.words.formation
	}
	return []keyItem{
		{"finished ground", has(func(l *planner.Levels) *float64 { return l.Finished }), level(finishedPen())},
		{"ground as it is", has(func(l *planner.Levels) *float64 { return l.Existing }), level(existingPen())},
		{v.words.cover + ", down to the wall top", has(func(l *planner.Levels) *float64 { return l.Cover }), swatch(scene.Diagonal, scene.Medium)},
		{v.words.unit + ", wall top down to what it stands on, broken line: invert", true, func(b scene.Box) []scene.Mark {
			y := b.Bottom - 0.9
			return []scene.Mark{scene.Path{Outline: scene.Rectangle(b), Stroke: scene.Pen(scene.Medium)}, scene.Line(scene.Point{X: b.Left, Y: y}, scene.Point{X: b.Right, Y: y}, invertPen())}
		}},
		{v.words.pad + " at a joint", has(padTopOf), func(b scene.Box) []scene.Mark {
			return []scene.Mark{padSign(b.Centre().X, b.Centre().Y-1, 2.4)}
		}},
		{v.words.bed + " down to " + v.words.formation, has(formationOf), func(b scene.Box) []scene.Mark {
			return []scene.Mark{scene.Hatch{Area: scene.Rectangle(b), Pattern: scene.Stone, Spacing: 1.3}, scene.Line(scene.Point{X: b.Left, Y: b.Bottom}, scene.Point{X: b.Right, Y: b.Bottom}, formationPen())}
		}},
		{"drain", has(func(l *planner.Levels) *float64 { return l.Drain }), level(drainPen())},
		{deep("rock"), has(func(l *planner.Levels) *float64 { return l.Rock }), level(rockPen())},
		{deep("water"), has(func(l *planner.Levels) *float64 { return l.Water }), level(waterPen())},
		{"change of grade", anywhere(v.gradeBegins), func(b scene.Box) []scene.Mark { return changeSign(b.Centre()) }},
		{"low point", anywhere(v.lowAt), func(b scene.Box) []scene.Mark { return lowSign(b.Centre().Add(scene.Point{Y: 1})) }},
		{"outlet", outlets, func(b scene.Box) []scene.Mark {
			return outletSign(scene.Point{X: b.Centre().X - 1.6, Y: b.Top + 0.4})
		}},
		{"pin", pins, func(b scene.Box) []scene.Mark { return pinSign(b.Centre().Add(scene.Point{Y: 1})) }},
		{"top of a " + v.words.service + "; through all: depth unknown", services, func(b scene.Box) []scene.Mark {
			return []scene.Mark{scene.Path{Outline: scene.Polyline(scene.Point{X: b.Left + 2.2, Y: b.Bottom}, scene.Point{X: b.Left + 2.2, Y: b.Top + 1}, scene.Point{X: b.Right - 2.2, Y: b.Top + 1}, scene.Point{X: b.Right - 2.2, Y: b.Bottom}), Stroke: scene.Pen(scene.Broad)}}
		}},
	}
}

// deepWords is the depth down to which rock, water and services are drawn.
func (v *section) deepWords() string { return v.along(length(v.deepest() * 1000)) }

// keyHigh is the height of the key.
func (v *section) keyHigh() float64 {
	paper, _ := v.style.Size.paper()
	lines := keyLines(v.keyItems(nil), v.style.Size.small(), paper-2*edge)
	return float64((keyHigh+1.5)*float64(lines)) + float64(v.lineHigh()*cautionLines) + math.Max(1, v.k())
}

// cautionLines are kept free over the key for what a reader has to know, and for grades that their boxes are too short for.
const cautionLines = 3

// key is the caution and the key of what is on the sheet along the lower edge.
func (v *section) key(s *sheet, rows []sectionRow, caution string) {
	y := s.free.Bottom - v.keyHigh() + 1
	lines := wrapped(caution, s.size, s.free.Width())
	for n := len(v.shortGrades); n > 0 && len(lines) < cautionLines; n-- {
		text := "Grades: " + strings.Join(v.shortGrades[:n], "; ")
		if n < len(v.shortGrades) {
			text += "; the others under " + capital(v.words.setOut)
		}
		if more := wrapped(text, s.size, s.free.Width()); len(lines)+len(more) <= cautionLines {
			lines = append(lines, more...)
			break
		}
	}
	s.add(scene.Text{At: scene.Point{X: s.free.Left, Y: y}, String: strings.Join(lines, "\n"), Size: s.size, VAlign: scene.Top})
	s.keyRows(scene.Point{X: s.free.Left, Y: y + float64(v.lineHigh()*cautionLines)}, s.free.Right, keyHigh+1.5, v.keyItems(rows))
}
