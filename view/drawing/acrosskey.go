package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// keyHigh is the height of the key with a caution over it, if one page had all that any has.
func (v *across) keyHigh() float64 {
	var all []cut
	for _, s := range v.plan.Dig.Sections {
		all = append(all, cut{DigSection: s, low: math.Inf(-1), left: math.Inf(-1), right: math.Inf(1)})
	}
	return v.keyHighOf(all)
}

func (v *across) keyHighOf(cuts []cut) float64 {
	lines := keyLines(v.keyItems(cuts), v.style.Size.small(), v.free.Width())
	return float64(v.step()*float64(len(v.caution()))) + float64(v.k()*2) + float64((keyHigh+1.5)*float64(lines))
}

// key says what the lines and hatches of a page's sections mean.
func (v *across) key(s *sheet, cuts []cut) {
	y, said := s.free.Bottom-v.keyHighOf(cuts)+2, v.caution()
	s.add(scene.Text{At: scene.Point{X: s.free.Left, Y: y}, String: strings.Join(said, "\n"), Size: s.size, VAlign: scene.Top})
	s.keyRows(scene.Point{X: s.free.Left, Y: y + float64(v.step()*float64(len(said)))}, s.free.Right, keyHigh+1.5, v.keyItems(cuts))
}

// caution says in lines what has to be known before any section is believed.
func (v *across) caution() []string {
	text := "Levels of " + v.words.bed + ", " + v.words.formation + " and what is set are those on the " + v.words.centreline + ". Sides are drawn as they were entered, their slope as up to out (1:1.5 is 1 up and 1.5 out): the class of the soil and the slope are the competent person's. Nothing is said of water or a " + v.words.service + " that nobody recorded."
	if left := v.plan.Dig.LeftOut; left > 0 {
		text += fmt.Sprintf(" %s of the section not drawn.", count(left, "change", "changes"))
	}
	return wrapped(text, v.style.Size.small(), v.free.Width())
}

// keyItems are the lines and hatches of some sections, each with its word.
func (v *across) keyItems(cuts []cut) []keyItem {
	has := func(of string) bool {
		return slices.ContainsFunc(cuts, func(c cut) bool {
			return slices.ContainsFunc(c.Areas, func(a planner.SectionArea) bool { return a.Of == of })
		})
	}
	line := func(of string) bool { return slices.ContainsFunc(cuts, func(c cut) bool { return c.shows(of) }) }
	services := slices.ContainsFunc(cuts, func(c cut) bool {
		return slices.ContainsFunc(c.Services, func(s planner.SectionService) bool { return s.Top != nil && zoneTop(s) >= c.low })
	})
	beside := func(is func(planner.StripNeed) bool) bool {
		return slices.ContainsFunc(cuts, func(c cut) bool { return slices.ContainsFunc(c.Beside, is) })
	}
	return []keyItem{
		{"ground as it is", line("existing"), level(existingPen())},
		{"finished ground", line("finished"), level(finishedPen())},
		{"outline of the dig", has("dig"), level(scene.Pen(scene.Thick))},
		{v.words.unit, has("unit"), swatch(scene.Diagonal, scene.Medium)},
		{v.words.cover, has("cover"), swatch(scene.Backward, scene.Medium)},
		{v.words.pad, has("pad"), func(b scene.Box) []scene.Mark {
			return []scene.Mark{scene.Path{Outline: scene.Rectangle(b.Inset(0.7)), Fill: scene.Black}}
		}},
		{v.words.bed, has("bed"), swatch(scene.Stone, scene.Fine)},
		{"fill, broken lines: tops of its " + v.words.layers, has("fill"), swatch(scene.Soil, scene.Fine)},
		{"topsoil put back", has("topsoil back"), swatch(scene.Levels, scene.Fine)},
		{"rock", line("rock"), level(rockPen())},
		{"water", line("water"), level(waterPen())},
		{v.words.service + " with its zone", services, func(b scene.Box) []scene.Mark {
			return []scene.Mark{scene.Path{Outline: scene.Rectangle(b.Inset(0.8)), Stroke: scene.Pen(scene.Medium)}, scene.Path{Outline: scene.Rectangle(b), Stroke: zonePen()}}
		}},
		{"heap of spoil", has("heap"), func(b scene.Box) []scene.Mark {
			o := scene.Polygon(scene.Point{X: b.Left, Y: b.Bottom}, scene.Point{X: b.Right, Y: b.Bottom}, scene.Point{X: b.Centre().X, Y: b.Top + 0.8})
			return []scene.Mark{scene.Hatch{Area: o, Pattern: scene.Soil, Spacing: 2}, scene.Path{Outline: o, Stroke: scene.Pen(scene.Medium)}}
		}},
		{"stands there, height not on file", beside(func(n planner.StripNeed) bool { return len(n.Uses) > 0 }), func(b scene.Box) []scene.Mark {
			y := b.Centre().Y + 1
			return []scene.Mark{scene.Path{Outline: scene.Polyline(scene.Point{X: b.Left + 0.5, Y: y - 1.4}, scene.Point{X: b.Left + 0.5, Y: y}, scene.Point{X: b.Right - 0.5, Y: y}, scene.Point{X: b.Right - 0.5, Y: y - 1.4}), Stroke: scene.Pen(scene.Thick)}}
		}},
		{"edge of the land", beside(func(n planner.StripNeed) bool { return n.Land != nil }), func(b scene.Box) []scene.Mark {
			x := b.Right - 1
			return []scene.Mark{scene.Line(scene.Point{X: x, Y: b.Top}, scene.Point{X: x, Y: b.Bottom}, landPen())}
		}},
	}
}

// shows reports whether any of a line lies within what is drawn.
func (c *cut) shows(of string) bool {
	return slices.ContainsFunc(c.Lines, func(l planner.SectionLine) bool {
		return l.Of == of && slices.ContainsFunc(l.Parts, func(part [][2]measure.MM) bool {
			return slices.ContainsFunc(clipped(part, c.left, c.right), func(k [2]measure.MM) bool { return mm(k[1]) >= c.low })
		})
	})
}

// zoneTop is the level in mm of the top of a service's zone; of the service where none is on file.
func zoneTop(s planner.SectionService) float64 {
	if s.Zone == nil {
		return mm(*s.Top)
	}
	return mm(*s.Top + *s.Zone)
}

func zonePen() scene.Stroke { return scene.Pen(scene.Thin).Dashed(1, 0.8) }
