package drawing

import (
	"slices"

	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// stripKey is the key along the lower edge: each sign once, with its word.
func (s *sheet) stripKey() {
	y := s.free.Bottom - 3
	x := s.free.Left
	const w, h = 7.0, 4.0
	box := func() scene.Box { return scene.BoxAt(scene.Point{X: x, Y: y - h + 0.8}, w, h) }
	item := func(word string, marks ...scene.Mark) {
		s.add(marks...)
		s.add(scene.Text{At: scene.Point{X: x + w + 1.2, Y: y - h/2 + 0.8}, String: word, Size: s.size, VAlign: scene.Middle})
		x += w + 1.2 + scene.TextWidth(word, s.size, scene.Regular) + 4
	}
	cell := func(p scene.Pattern, pen float64) []scene.Mark {
		o := scene.Rectangle(box())
		return []scene.Mark{scene.Hatch{Area: o, Pattern: p, Spacing: 1.3}, scene.Path{Outline: o, Stroke: scene.Pen(pen)}}
	}
	item("plain", cell(scene.NoHatch, scene.Medium)...)
	if s.any(func(u planner.Unit) bool { return u.Cut }) {
		item("cut", cell(scene.Diagonal, scene.Medium)...)
	}
	if s.any(func(u planner.Unit) bool { return u.Hold }) {
		item(s.words.closer+" on hold", cell(scene.Stone, scene.Medium)...)
	}
	if s.any(func(u planner.Unit) bool { return u.Supply != s.legSupply(u.Leg) }) {
		item("another supply", cell(scene.NoHatch, scene.Broad)...)
	}
	b := box()
	item(s.words.covers+" above, cut ones hatched", scene.Path{Outline: scene.Rectangle(scene.Box{Left: b.Left, Top: b.Top + 0.7, Right: b.Right - 3, Bottom: b.Bottom - 0.7}), Stroke: scene.Pen(scene.Thin)},
		scene.Hatch{Area: scene.Rectangle(scene.Box{Left: b.Right - 3, Top: b.Top + 0.7, Right: b.Right, Bottom: b.Bottom - 0.7}), Pattern: scene.Diagonal, Spacing: 0.8},
		scene.Path{Outline: scene.Rectangle(scene.Box{Left: b.Right - 3, Top: b.Top + 0.7, Right: b.Right, Bottom: b.Bottom - 0.7}), Stroke: scene.Pen(scene.Thin)})
	b = box()
	if s.onPads() {
		item(s.words.pad, scene.Path{Outline: scene.Rectangle(scene.BoxAt(scene.Point{X: b.Centre().X - 1.1, Y: b.Centre().Y - 0.65}, 2.2, 1.3)), Fill: scene.Black})
	} else {
		item("joint", scene.Line(scene.Point{X: b.Centre().X, Y: b.Top + 0.7}, scene.Point{X: b.Centre().X, Y: b.Bottom - 0.7}, scene.Pen(scene.Medium)))
	}
	b = box()
	if len(s.plan.Zones) > 0 {
		item("no joint here", scene.Hatch{Area: scene.Rectangle(b.Inset(0.7)), Pattern: scene.Backward, Spacing: 0.9, Stroke: scene.Pen(scene.Thin)})
	}
	b = box()
	if slices.ContainsFunc(s.plan.Nodes, func(n planner.Node) bool { return n.Made == "mitred" }) {
		item("bend to the right", scene.Path{Outline: slanted(b.Left, b.Top, 3, h, 0, 0.4), Stroke: scene.Pen(scene.Medium)},
			scene.Path{Outline: slanted(b.Left+4.8, b.Top, 2.2, h, -0.4, 0), Stroke: scene.Pen(scene.Medium)})
	}
	b = box()
	if slices.ContainsFunc(s.things, func(t thing) bool { return t.kind == "entry" }) {
		item("conduit", scene.Path{Outline: scene.Circle(b.Centre(), 0.9), Fill: scene.White, Stroke: scene.Pen(scene.Thick)})
	}
}
