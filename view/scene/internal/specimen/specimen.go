// Package specimen has the one page that all writers of a scene are tested
// with: every kind of mark, each pattern, head, dash, weight and alignment.
package specimen

import (
	"fmt"

	"trenchwright/view/scene"
)

// Signs is lettering that every writer must set, and a reader get back.
const Signs = "3 ½″ 12′ ¼ in ⅛ in 45.5° ⌀200 −5 ±3 ≤12 ≥7 Δh αβ m² A·B 1–2 on… 2×3 Øl Än ß é Жд kΩ → ✓"

// Page is the specimen, on A4 upright.
func Page() scene.Page {
	return scene.Page{
		Width: 210, Height: 297, Title: "Specimen", Name: "specimen",
		Frame: scene.Box{Left: 8, Top: 8, Right: 202, Bottom: 289},
		Marks: []scene.Mark{
			scene.Path{Outline: scene.Rectangle(scene.Box{Left: 8, Top: 8, Right: 202, Bottom: 289}), Stroke: scene.Pen(scene.Thick)},
			lettering(), pens(), hatches(), heads(), rotated(), clipped(), dimensions(), table(), models(), pairs(),
		},
	}
}

func at(x, y float64) scene.Transform { return scene.Shift(x, y) }

func lettering() scene.Mark {
	return scene.Group{Name: "lettering", Transform: at(12, 12), Marks: []scene.Mark{
		scene.Text{At: scene.Point{X: 0, Y: 5}, String: "Specimen of marks", Size: 5, Weight: scene.Bold},
		scene.Text{At: scene.Point{X: 0, Y: 12}, String: Signs, Size: 2.5},
		scene.Text{At: scene.Point{X: 0, Y: 17}, String: Signs, Size: 2.5, Weight: scene.Bold},
		scene.Text{At: scene.Point{X: 186, Y: 0}, String: "set from\nthe right\n12′-3 ½″", Size: 3.5, Align: scene.Right, VAlign: scene.Top},
	}}
}

// pairs is a line that many programs kern and join of their own accord. It is
// the last mark of Page, so that a test may leave it out.
func pairs() scene.Mark {
	return scene.Text{At: scene.Point{X: 12, Y: 34}, String: "AV To fi ff ffi: no kerning, no ligatures; 1.8 mm", Size: 1.8}
}

func pens() scene.Mark {
	g := scene.Group{Name: "pens", Transform: at(12, 40)}
	for i, w := range []float64{scene.Fine, scene.Thin, scene.Medium, scene.Thick, scene.Broad} {
		y := float64(i) * 4
		g.Marks = append(g.Marks,
			scene.Line(scene.Point{X: 0, Y: y}, scene.Point{X: 40, Y: y}, scene.Pen(w)),
			scene.Text{At: scene.Point{X: 42, Y: y}, String: fmt.Sprintf("%.2f", w), Size: 2, VAlign: scene.Middle})
	}
	for i, dash := range [][]float64{{3, 1}, {1, 1}, {6, 1, 1, 1}, {4}} {
		y := float64(i) * 4
		g.Marks = append(g.Marks, scene.Line(scene.Point{X: 60, Y: y}, scene.Point{X: 100, Y: y}, scene.Pen(scene.Medium).Dashed(dash...)))
	}
	dots := scene.Pen(scene.Thick).Dashed(0, 1.5)
	dots.Round = true
	zig := scene.Polyline(scene.Point{X: 110, Y: 12}, scene.Point{X: 118, Y: 0}, scene.Point{X: 122, Y: 12}, scene.Point{X: 124, Y: 0}, scene.Point{X: 140, Y: 12})
	round := scene.Pen(1.5)
	round.Round = true
	g.Marks = append(g.Marks,
		scene.Line(scene.Point{X: 60, Y: 16}, scene.Point{X: 100, Y: 16}, dots),
		scene.Path{Outline: zig, Stroke: scene.Pen(1.5)},
		scene.Path{Outline: zig.Under(at(38, 0)), Stroke: round},
	)
	return g
}

func hatches() scene.Mark {
	g := scene.Group{Name: "hatches", Transform: at(12, 66)}
	for i, p := range []scene.Pattern{scene.Diagonal, scene.Backward, scene.CrossHatch, scene.Uprights, scene.Levels, scene.Stone, scene.Soil} {
		x := float64(i) * 27
		o := scene.Rectangle(scene.Box{Left: x, Right: x + 23, Bottom: 18})
		switch i {
		case 0:
			o = o.Without(scene.Circle(scene.Point{X: x + 11, Y: 9}, 5))
		case 1:
			o = scene.Circle(scene.Point{X: x + 11, Y: 9}, 9)
		}
		g.Marks = append(g.Marks,
			scene.Hatch{Area: o, Pattern: p},
			scene.Path{Outline: o, Stroke: scene.Pen(scene.Medium)},
			scene.Text{At: scene.Point{X: x + 11.5, Y: 22}, String: string(p), Size: 2, Align: scene.Centre})
	}
	return g
}

func heads() scene.Mark {
	g := scene.Group{Name: "heads", Transform: at(12, 98)}
	for i, h := range []scene.Head{scene.Arrow, scene.OpenArrow, scene.Dot, scene.Slash} {
		y := float64(i) * 5
		g.Marks = append(g.Marks, scene.Path{Outline: scene.Polyline(scene.Point{X: 0, Y: y}, scene.Point{X: 30, Y: y}),
			Stroke: scene.Pen(scene.Thin), Start: h, End: h})
	}
	var bow scene.Outline
	bow.Arc(scene.Point{X: 50, Y: 10}, 10, 160, -220)
	var sector scene.Outline
	sector.Move(scene.Point{X: 75, Y: 10})
	sector.Arc(scene.Point{X: 75, Y: 10}, 9, 30, 120)
	sector.Close()
	g.Marks = append(g.Marks,
		scene.Path{Outline: bow, Stroke: scene.Pen(scene.Medium), End: scene.Arrow, Start: scene.Dot},
		scene.Path{Outline: sector, Fill: scene.Grey(0xcc), Stroke: scene.Pen(scene.Medium)},
		scene.Path{Outline: scene.Circle(scene.Point{X: 75, Y: 14}, 3), Fill: scene.RGB(0x80, 0x30, 0x50)},
		scene.Path{Outline: scene.Rectangle(scene.Box{Left: 90, Top: 2, Right: 108, Bottom: 16}).Without(scene.Rectangle(scene.Box{Left: 94, Top: 6, Right: 104, Bottom: 12})),
			Fill: scene.Black},
	)
	return g
}

func rotated() scene.Mark {
	g := scene.Group{Name: "rotated", Transform: at(160, 108)}
	for a := 0.0; a < 360; a += 45 {
		g.Marks = append(g.Marks, scene.Text{At: scene.Direction(a).Times(5), String: fmt.Sprintf("%v° turned", a), Size: 2, Angle: a, VAlign: scene.Middle})
	}
	return g
}

func clipped() scene.Mark {
	inner := scene.Group{Clip: scene.Rectangle(scene.Box{Left: 3, Top: 3, Right: 40, Bottom: 15}), Marks: []scene.Mark{
		scene.Path{Outline: scene.Circle(scene.Point{X: 22, Y: 9}, 9), Fill: scene.Grey(0xdd), Stroke: scene.Pen(scene.Thick)},
		scene.Hatch{Area: scene.Rectangle(scene.Box{Left: -20, Top: -20, Right: 60, Bottom: 60}), Pattern: scene.Diagonal, Spacing: 2.5},
	}}
	return scene.Group{Name: "clipped", Transform: at(12, 124), Clip: scene.Circle(scene.Point{X: 22, Y: 9}, 13), Marks: []scene.Mark{
		scene.Path{Outline: scene.Rectangle(scene.Box{Left: 0, Top: 0, Right: 44, Bottom: 18}), Stroke: scene.Pen(scene.Medium)}, inner,
	}}
}

func dimensions() scene.Mark {
	p := func(x, y float64) scene.Point { return scene.Point{X: x, Y: y} }
	return scene.Group{Name: "dimensions", Transform: at(22, 176), Marks: []scene.Mark{
		scene.Path{Outline: scene.Rectangle(scene.Box{Left: 0, Top: 0, Right: 60, Bottom: 14}), Stroke: scene.Pen(scene.Medium)},
		scene.Dimension{From: p(0, 0), To: p(60, 0), Offset: 8, Text: "2 412 mm"},
		scene.Dimension{From: p(60, 0), To: p(60, 14), Offset: 25, Text: "7′-10 15/16″"},
		scene.Dimension{From: p(0, 0), To: p(0, 14), Offset: -6, Text: "750"},
		scene.Dimension{From: p(60, 14), To: p(64, 14), Offset: -6, Text: "outside"},
		scene.Dimension{From: p(10, 30), To: p(40, 20), Offset: 0, Text: "slanting"},
		scene.Chain{Points: []scene.Point{p(90, 20), p(110, 20), p(112, 20), p(130, 20), p(131, 20), p(133, 20), p(168, 20)},
			Texts: []string{"2 000", "gap 10", "1 804", "8", "closer 212", "3 000"}, Offset: 10},
		scene.Leader{To: p(120, -10), Knee: p(135, -24), Text: "a note of\ntwo lines"},
		scene.Leader{To: p(120, -10), Knee: p(105, -20), Text: "pad", Head: scene.Dot},
		scene.Text{At: p(95, 28), String: "halo", Size: 3, Halo: 1, Weight: scene.Bold},
		scene.Link{Area: scene.Box{Left: 92, Top: 24, Right: 110, Bottom: 32}, To: "#specimen"},
	}}
}

// Schedule is a table with every kind of column.
func Schedule(rows int) scene.Table {
	t := scene.Table{Columns: []scene.Column{
		{Head: "place", Weight: scene.Bold}, {Head: "kind"}, {Head: "length mm", Width: 22, Align: scene.Right}, {Head: "what to know", Width: -1},
	}}
	for i := range rows {
		note := "as laid"
		if i%4 == 2 {
			note = "cut from measurement: order a full unit, keep the factory end up-chainage and look at the seam"
		}
		t.Rows = append(t.Rows, scene.Row{Cells: []string{fmt.Sprintf("A-%03d", i+1), "plain 3000", fmt.Sprintf("%d", 3000-i), note}})
	}
	t.Rows = append(t.Rows, scene.Row{Cells: []string{"all", "", "14 994", "sum"}, Bold: true, Rule: true})
	return t
}

func table() scene.Mark {
	marks, _ := Schedule(5).Marks(scene.Point{X: 12, Y: 220}, 100)
	return scene.Group{Name: "table", Marks: marks}
}

// models is a drawing in metres with y up, at 1:200 and stretched twice upwards.
func models() scene.Mark {
	toPaper := scene.Stretch(5, -10).Then(at(125, 270))
	line := scene.Polyline(scene.Point{X: 0, Y: 0}, scene.Point{X: 6, Y: 0.5}, scene.Point{X: 12, Y: 3})
	return scene.Group{Name: "model", Transform: toPaper, Marks: []scene.Mark{
		scene.Path{Outline: line, Stroke: scene.Pen(scene.Thick)},
		scene.Path{Outline: scene.Circle(scene.Point{X: 3, Y: 2}, 1), Stroke: scene.Pen(scene.Thin).Dashed(2, 1)},
		scene.Hatch{Area: scene.Polygon(scene.Point{X: 0, Y: -1}, scene.Point{X: 0, Y: 0}, scene.Point{X: 6, Y: 0.5}, scene.Point{X: 12, Y: 3}, scene.Point{X: 12, Y: -1}), Pattern: scene.Stone},
		scene.Text{At: scene.Point{X: 8, Y: 1.6}, String: "+4.17 %", Size: 2.5, Angle: scene.Point{X: 6, Y: 2.5}.Angle(), Align: scene.Centre},
		scene.Dimension{From: scene.Point{X: 0, Y: 0}, To: scene.Point{X: 6, Y: 0}, Offset: -16, Text: "6.000 m"},
	}}
}

// Sheet is a full A1 sheet for benchmarks: 480 units with hatches, covers,
// dimensions and a schedule, as a busy sheet of a long run has them.
func Sheet(number int) scene.Page {
	p := scene.Page{Width: 841, Height: 594, Title: fmt.Sprintf("Sheet %d", number), Name: fmt.Sprintf("sheet-%d", number)}
	p.Marks = append(p.Marks, scene.Path{Outline: scene.Rectangle(scene.BoxAt(scene.Point{}, p.Width, p.Height).Inset(10)), Stroke: scene.Pen(scene.Broad)})
	patterns := []scene.Pattern{scene.Diagonal, scene.NoHatch, scene.CrossHatch, scene.NoHatch, scene.Stone, scene.NoHatch}
	for row := range 12 {
		for i := range 40 {
			box := scene.BoxAt(scene.Point{X: 20 + float64(i)*15, Y: 30 + float64(row)*45}, 14.8, 8)
			name := fmt.Sprintf("%c-%03d", 'A'+row, i+1+40*number)
			p.Marks = append(p.Marks, scene.Group{Name: name, Marks: []scene.Mark{
				scene.Hatch{Area: scene.Rectangle(box), Pattern: patterns[(i+row)%len(patterns)]},
				scene.Path{Outline: scene.Rectangle(box), Stroke: scene.Pen(scene.Medium)},
				scene.Text{At: box.Centre(), String: name, Size: 2, Align: scene.Centre, VAlign: scene.Middle, Halo: 0.4},
				scene.Dimension{From: scene.Point{X: box.Left, Y: box.Top}, To: scene.Point{X: box.Right, Y: box.Top}, Offset: 7, Text: "3 000", Size: 1.8},
			}})
		}
	}
	marks, _ := Schedule(70).Marks(scene.Point{X: 640, Y: 20}, 180)
	p.Marks = append(p.Marks, scene.Group{Name: "schedule", Marks: marks})
	return p
}
