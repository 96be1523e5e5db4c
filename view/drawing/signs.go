package drawing

import (
	"fmt"
	"math"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/view/scene"
)

// northArrow stands at a point with north in a direction in degrees, counter-clockwise from the right of the page.
func northArrow(foot scene.Point, direction, size float64) []scene.Mark {
	up := scene.Direction(direction)
	tip := foot.Add(up.Times(11))
	letter := foot.Add(up.Times(11.3 + float64(size*1.1)))
	return []scene.Mark{
		scene.Path{Outline: scene.Circle(foot, 1.1), Stroke: scene.Pen(scene.Thin)},
		scene.Path{Outline: scene.Polyline(foot.Add(up.Times(1.1)), tip), Stroke: scene.Pen(scene.Medium), End: scene.OpenArrow},
		scene.Text{At: letter, String: "N", Size: size * 1.25, Weight: scene.Bold, Align: scene.Centre, VAlign: scene.Middle},
	}
}

// scaleBar is a bar of four whole steps from a point to the right, not longer than room mm, for paper that is denominator
// times smaller than the ground. A short step is in millimetres, or in feet with quarters: three inches.
func (d *draft) scaleBar(at scene.Point, denominator, room, size float64) []scene.Mark {
	unit, name := 1000.0, "m"
	switch {
	case d.style.Format.System == measure.Imperial:
		unit, name = 304.8, "ft"
	case room/5*denominator < 100:
		unit, name = 1, "mm"
	}
	step := niceStep(room / 5 * denominator / unit)
	if d.style.Format.System == measure.Imperial && step < 0.5 {
		step = 0.25
	}
	if 4*step*unit/denominator > room {
		step /= 2
	}
	piece := step * unit / denominator
	var marks []scene.Mark
	const high = 1.3
	for i := range 4 {
		x := at.X + float64(piece*float64(i))
		box := scene.BoxAt(scene.Point{X: x, Y: at.Y}, piece, high)
		fill := scene.White
		if i%2 == 0 {
			fill = scene.Black
		}
		marks = append(marks, scene.Path{Outline: scene.Rectangle(box), Fill: fill, Stroke: scene.Pen(scene.Thin)})
	}
	texts := make([]string, 5)
	widest := 0.0
	for i := range texts {
		texts[i] = plainNumber(step * float64(i))
		if i == 4 {
			texts[i] += " " + name
		}
		widest = math.Max(widest, scene.TextWidth(texts[i], size, scene.Regular)+1)
	}
	every := 4 // only the ends
	for _, k := range []int{2, 1} {
		if float64(piece*float64(k)) >= widest {
			every = k
		}
	}
	for i := 0; i < 5; i += every {
		marks = append(marks, scene.Text{At: scene.Point{X: at.X + float64(piece*float64(i)), Y: at.Y - 1}, String: texts[i], Size: size, Align: scene.Centre})
	}
	return marks
}

// niceStep is the largest of 1, 2, 5, 10, … that is not above x.
func niceStep(x float64) float64 {
	step := 1.0
	for ; step > x; step /= 10 {
	}
	for ; step*10 <= x; step *= 10 {
	}
	switch {
	case step*5 <= x:
		return step * 5
	case step*2 <= x:
		return step * 2
	}
	return step
}

// plainNumber is a number without trailing noughts.
func plainNumber(x float64) string {
	text := fmt.Sprintf("%.4g", x)
	if x == math.Trunc(x) {
		text = fmt.Sprintf("%.0f", x+0) // −0 + 0 is 0
	}
	return strings.Replace(text, "-", "−", 1)
}

// scaleWords says a scale: 1:200, or 1 in = 20 ft.
func (d *draft) scaleWords(denominator float64) string {
	if d.style.Format.System == measure.Imperial {
		if feet := denominator / 12; feet >= 5 && feet == math.Trunc(feet) {
			return fmt.Sprintf("1 in = %s ft", plainNumber(feet))
		}
		inches := measure.Format{System: measure.Imperial, Fraction: 64}.Figure(measure.Length(math.Round(12 / denominator * float64(measure.Inch))))
		return strings.TrimSuffix(inches, `"`) + " in = 1 ft"
	}
	return "1:" + plainNumber(denominator)
}

// scales are the denominators that a sheet may be drawn at, larger drawings first.
func (d *draft) scales() []float64 {
	if d.style.Format.System == measure.Imperial {
		return []float64{8, 12, 16, 24, 48, 60, 120, 240, 360, 480, 600, 1200, 2400, 6000, 12000, 60000}
	}
	return []float64{5, 10, 20, 25, 50, 100, 200, 250, 500, 1000, 1250, 2000, 2500, 5000, 10000, 50000}
}

// scaleFor is the largest scale at which a length in mm takes no more than room mm of paper.
func (d *draft) scaleFor(length, room float64) float64 {
	all := d.scales()
	for _, s := range all {
		if length/s <= room {
			return s
		}
	}
	return all[len(all)-1]
}
