package drawing

import "trenchwright/view/scene"

// curveHead is written before the band of curves.
const curveHead = "curve in plan, R on the ground"

// curved reports whether any leg of the run is curved.
func (v *section) curved() bool {
	for _, l := range v.plan.Legs {
		if len(v.curvesOf(l)) > 0 {
			return true
		}
	}
	return false
}

// curveHigh is the height of the band of curves; none where no leg has one.
func (v *section) curveHigh() float64 {
	if !v.curved() {
		return 0
	}
	return float64(v.k() * gradeHigh)
}

// curveBand are the curves of a row in boxes on the axis of chainage: which way each turns, how sharply, and where it begins
// and ends. A row that holds a part of one says all of it as well.
func (v *section) curveBand(s *sheet, r sectionRow, y float64) []scene.Mark {
	high := float64(v.k()*gradeHigh) - 0.6
	var marks []scene.Mark
	for _, one := range r.parts() {
		for _, c := range v.curvesOf(v.plan.Legs[one.leg]) {
			if !one.shows(c.from, c.to) {
				continue
			}
			if marks == nil { // a row without one has no name for it either
				marks = append(marks, scene.Text{At: scene.Point{X: -v.label, Y: y + high/2}, String: curveHead, Size: s.size, VAlign: scene.Middle})
			}
			from := one.x(c.from)
			box := scene.BoxAt(scene.Point{X: from, Y: y}, one.x(c.to)-from, high)
			marks = append(marks, scene.Path{Outline: scene.Rectangle(box), Stroke: scene.Pen(scene.Medium)})
			for _, text := range []string{v.curveSaid(c), c.hand + ", R " + v.along(c.radius), "R " + v.along(c.radius), c.hand} {
				if scene.TextWidth(text, s.size, scene.Bold)+0.6 <= box.Width() {
					marks = append(marks, scene.Text{At: box.Centre(), String: text, Size: s.size, Weight: scene.Bold, Align: scene.Centre, VAlign: scene.Middle})
					break
				}
			}
		}
	}
	return marks
}
