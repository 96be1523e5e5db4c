package drawing

import (
	"slices"

	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// The sign of an item in a key, in mm of paper.
const keyWide, keyHigh = 7.0, 4.0

// keyItem is a sign with its word. The sign is drawn in a box of keyWide by keyHigh.
type keyItem struct {
	word string
	used bool // on this run
	sign func(box scene.Box) []scene.Mark
}

// keyRows sets those items that are used side by side from a point on, in as many rows as they need to stay left of right.
func (s *sheet) keyRows(at scene.Point, right, step float64, items []keyItem) {
	x, y := at.X, at.Y
	for _, k := range items {
		if !k.used {
			continue
		}
		width := keyWide + 1.2 + scene.TextWidth(k.word, s.size, scene.Regular)
		if x+width > right && x > at.X {
			x, y = at.X, y+step
		}
		s.add(k.sign(scene.BoxAt(scene.Point{X: x, Y: y}, keyWide, keyHigh))...)
		s.add(scene.Text{At: scene.Point{X: x + keyWide + 1.2, Y: y + keyHigh/2}, String: k.word, Size: s.size, VAlign: scene.Middle})
		x += width + 4
	}
}

// keyLines is how many rows a key takes that is so wide.
func keyLines(items []keyItem, size, width float64) int {
	x, lines := 0.0, 1
	for _, k := range items {
		if !k.used {
			continue
		}
		w := keyWide + 1.2 + scene.TextWidth(k.word, size, scene.Regular)
		if x+w > width && x > 0 {
			x, lines = 0, lines+1
		}
		x += w + 4
	}
	return lines
}

// swatch is a box with a pattern.
func swatch(p scene.Pattern, pen float64) func(scene.Box) []scene.Mark {
	return func(b scene.Box) []scene.Mark {
		o := scene.Rectangle(b)
		return []scene.Mark{scene.Hatch{Area: o, Pattern: p, Spacing: 1.3}, scene.Path{Outline: o, Stroke: scene.Pen(pen)}}
	}
}

// upright is a line from the top of the box to its bottom.
func upright(pen scene.Stroke) func(scene.Box) []scene.Mark {
	return func(b scene.Box) []scene.Mark {
		x := b.Centre().X
		return []scene.Mark{scene.Line(scene.Point{X: x, Y: b.Top - 0.4}, scene.Point{X: x, Y: b.Bottom + 0.4}, pen)}
	}
}

// level is a line from the left of the box to its right.
func level(pen scene.Stroke) func(scene.Box) []scene.Mark {
	return func(b scene.Box) []scene.Mark {
		y := b.Centre().Y
		return []scene.Mark{scene.Line(scene.Point{X: b.Left, Y: y}, scene.Point{X: b.Right, Y: y}, pen)}
	}
}

// shows reports whether a sheet shows any of a stretch of a leg.
func (s *sheet) shows(leg int, from, to float64) bool {
	return len(s.shown) == 0 || slices.ContainsFunc(s.shown, func(part shown) bool { return part.leg == leg && from <= part.to && to >= part.from })
}

// stripKey is the key along the lower edge: each sign on the sheet once, with its word.
func (s *sheet) stripKey(rows []row) {
	kinds := map[string]bool{}
	for _, t := range s.things {
		kinds[t.kind] = kinds[t.kind] || s.shows(t.leg, t.at, t.at)
	}
	here := func(kind func(planner.Unit) bool) bool {
		return s.any(func(u planner.Unit) bool {
			return kind(u) && s.shows(s.legs[u.Leg], mm(u.Start)+1, mm(u.Start)+mm(u.Length)-1)
		})
	}
	mitred := slices.ContainsFunc(s.plan.Nodes, func(n planner.Node) bool { return n.Made == "mitred" })
	step := keyHigh + 1.5
	top := s.free.Bottom - s.style.strip().key + 1.5
	s.keyRows(scene.Point{X: s.free.Left, Y: top}, s.free.Right, step, []keyItem{
		{"plain", true, swatch(scene.NoHatch, scene.Medium)},
		{"cut", here(func(u planner.Unit) bool { return u.Cut }), swatch(scene.Diagonal, scene.Medium)},
		{s.words.closer + " on hold", here(func(u planner.Unit) bool { return u.Hold }), swatch(scene.Stone, scene.Medium)},
		{"another supply", here(func(u planner.Unit) bool { return u.Supply != s.legSupply(u.Leg) }), swatch(scene.NoHatch, scene.Broad)},
		{s.words.covers + " above, cut ones hatched", true, coverSign},
		{"joint on its " + s.words.pad, s.onPads(), func(b scene.Box) []scene.Mark {
			return []scene.Mark{padSign(b.Centre().X, b.Centre().Y-1, 2.4)}
		}},
		{"joint", !s.onPads(), upright(scene.Pen(scene.Medium))},
		{"no joint here", len(s.plan.Zones) > 0, func(b scene.Box) []scene.Mark {
			return []scene.Mark{scene.Hatch{Area: scene.Rectangle(b.Inset(0.7)), Pattern: scene.Backward, Spacing: 0.9, Stroke: scene.Pen(scene.Thin)}}
		}},
		{"bend to the right", mitred, bendSign},
		{"edge of a crossing", kinds["crossing"], level(crossingPen())},
		{s.words.service, kinds["service"], level(servicePen())},
		{"conduit", kinds["entry"], conduitSign},
		{"goes on in the next row", slices.ContainsFunc(rows, func(r row) bool { return r.goesOn }), func(b scene.Box) []scene.Mark {
			return []scene.Mark{goesOnSign(scene.Point{X: b.Left + 1.5, Y: b.Centre().Y})}
		}},
	})
}

// conduitSign is the ring where a conduit enters.
func conduitSign(b scene.Box) []scene.Mark {
	return []scene.Mark{scene.Path{Outline: scene.Circle(b.Centre(), ringRadius), Fill: scene.White, Stroke: scene.Pen(scene.Thick)}}
}

// coverSign is a whole cover and a cut one.
func coverSign(b scene.Box) []scene.Mark {
	whole := scene.Rectangle(scene.Box{Left: b.Left, Top: b.Top + 0.7, Right: b.Right - 3, Bottom: b.Bottom - 0.7})
	cut := scene.Rectangle(scene.Box{Left: b.Right - 3, Top: b.Top + 0.7, Right: b.Right, Bottom: b.Bottom - 0.7})
	return []scene.Mark{scene.Path{Outline: whole, Stroke: scene.Pen(scene.Thin)},
		scene.Hatch{Area: cut, Pattern: scene.Diagonal, Spacing: 0.8}, scene.Path{Outline: cut, Stroke: scene.Pen(scene.Thin)}}
}

// bendSign is a mitre to the right: the notch opens on the inside of the bend.
func bendSign(b scene.Box) []scene.Mark {
	return []scene.Mark{scene.Path{Outline: slanted(b.Left, b.Top, 3, keyHigh, 0, 0.4), Stroke: scene.Pen(scene.Medium)},
		scene.Path{Outline: slanted(b.Left+4.8, b.Top, 2.2, keyHigh, -0.4, 0), Stroke: scene.Pen(scene.Medium)}}
}

// goesOnSign is the arrow where a leg goes on in the next row.
func goesOnSign(from scene.Point) scene.Mark {
	return scene.Path{Outline: scene.Polyline(from, from.Add(scene.Point{X: 3.6})), Stroke: scene.Pen(scene.Medium), End: scene.OpenArrow}
}
