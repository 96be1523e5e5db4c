package drawing

import (
	"math"

	"trenchwright/base/measure"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// legPart is the part of a leg that a row shows, on the row's axis.
type legPart struct {
	leg    int
	places []sectionPlace
}

// parts are the legs of a row from left to right.
func (r *sectionRow) parts() []legPart {
	var out []legPart
	for _, p := range r.places {
		if n := len(out) - 1; n < 0 || out[n].leg != p.leg {
			out = append(out, legPart{leg: p.leg})
		}
		s := &out[len(out)-1]
		s.places = append(s.places, p)
	}
	return out
}

// x is where a chainage stands; beyond the outermost places, on them.
func (s legPart) x(at measure.MM) float64 {
	for i := 1; i < len(s.places); i++ {
		a, b := s.places[i-1], s.places[i]
		if at <= b.Chainage && b.Chainage > a.Chainage {
			return a.x + float64((b.x-a.x)*math.Max(0, float64(at-a.Chainage)/float64(b.Chainage-a.Chainage)))
		}
	}
	return s.places[len(s.places)-1].x
}

// shows reports whether any of a leg from one chainage to another is on the row.
func (s legPart) shows(from, to measure.MM) bool {
	return from < s.places[len(s.places)-1].Chainage && to > s.places[0].Chainage
}

// drainBand are the grades of the drain in boxes, as those of the units above them.
func (v *section) drainBand(s *sheet, r sectionRow, y float64) []scene.Mark {
	high := float64(v.k()*gradeHigh) - 0.6
	marks := []scene.Mark{scene.Text{At: scene.Point{X: -v.label, Y: y + high/2}, String: drainHead, Size: s.size, VAlign: scene.Middle}}
	for _, one := range r.parts() {
		for _, g := range v.plan.Drain.Grades {
			if g.Leg != v.plan.Legs[one.leg].Name || !one.shows(g.FromMM, g.ToMM) {
				continue
			}
			from := one.x(g.FromMM)
			box := scene.BoxAt(scene.Point{X: from, Y: y}, one.x(g.ToMM)-from, high)
			bar := gradeBar{GradeRun: planner.GradeRun{From: g.From, To: g.To, FromMM: g.FromMM, ToMM: g.ToMM, Grade: g.Grade}, drain: true}
			bar.long = v.placeToPlace(one.leg, bar.GradeRun)
			marks = append(marks, v.gradeBox(s, bar, box)...)
		}
	}
	return marks
}

const drainHead = "grade of the drain, likewise"

// volumeHighs are the heights that the running volumes may have below a row, mm for lettering of 1.8 mm.
var volumeHighs = [...]float64{36, 30, 24, 20}

// runningOn are the curves of the legs of a row; none where no dig was computed.
func (v *section) runningOn(r *sectionRow) (legs []planner.LegDig, on []legPart) {
	if v.plan.Dig == nil {
		return nil, nil
	}
	for _, one := range r.parts() {
		for _, l := range v.plan.Dig.Legs {
			if l.Leg == v.plan.Legs[one.leg].Name && len(l.Running) > 1 && len(one.places) > 1 {
				legs, on = append(legs, l), append(on, one)
			}
		}
	}
	return legs, on
}

// volumeBand draws the running volumes of a row on its axis of chainage, each leg from nought.
func (v *section) volumeBand(s *sheet, r *sectionRow, top float64) []scene.Mark {
	legs, on := v.runningOn(r)
	if len(legs) == 0 {
		return nil
	}
	step := v.lineHigh()
	f := scene.Box{Left: 0, Top: top + step, Right: r.width, Bottom: top + v.volume - float64(2*v.k())}
	low, high := 0.0, 0.0
	curves := make([][]runningCurve, len(legs))
	for i, l := range legs {
		curves[i] = v.runningCurves(l)
		for _, c := range curves[i] {
			for n, value := range c.values {
				if on[i].shows(l.Running[max(0, n-1)].At, l.Running[min(n+1, len(l.Running)-1)].At) {
					low, high = math.Min(low, value), math.Max(high, value)
				}
			}
		}
	}
	if high <= low {
		high = low + 1
	}
	y := func(value float64) float64 { return f.Bottom - float64(f.Height()*((value-low)/(high-low))) }
	marks := v.volumeAxis(s, f, low, high, y)
	marks = append(marks, v.volumeKey(s, curves[0], top)...)
	for i, l := range legs {
		first, last := on[i].places[0], on[i].places[len(on[i].places)-1]
		clip := scene.Group{Clip: scene.Rectangle(scene.Box{Left: first.x, Top: f.Top - 1, Right: last.x, Bottom: f.Bottom + 1})}
		for _, c := range curves[i] {
			if c.values != nil {
				clip.Marks = append(clip.Marks, scene.Path{Outline: scene.Polyline(runningLine(l, c, on[i], y)...), Stroke: c.pen})
			}
		}
		marks = append(marks, clip)
	}
	return marks
}

// runningLine is a curve on a row. Beyond the row's places it goes on unseen, so that it does not end in a step.
func runningLine(l planner.LegDig, c runningCurve, on legPart, y func(float64) float64) []scene.Point {
	first, last := on.places[0].Chainage, on.places[len(on.places)-1].Chainage
	var points []scene.Point
	for n, value := range c.values {
		at := l.Running[n].At
		if at < first || at > last {
			edge := min(max(at, first), last)
			value = between(l, c, edge)
			at = edge
		}
		points = append(points, scene.Point{X: on.x(at), Y: y(value)})
	}
	return points
}

// between is the value of a curve at a chainage, on the straight line.
func between(l planner.LegDig, c runningCurve, at measure.MM) float64 {
	for n := 1; n < len(c.values); n++ {
		a, b := l.Running[n-1].At, l.Running[n].At
		if at <= b && b > a {
			return c.values[n-1] + float64((c.values[n]-c.values[n-1])*math.Max(0, float64(at-a)/float64(b-a)))
		}
	}
	return c.values[len(c.values)-1]
}

// volumeAxis are the axis of volumes on the left and nought as a line.
func (v *section) volumeAxis(s *sheet, f scene.Box, low, high float64, y func(float64) float64) []scene.Mark {
	thin := scene.Pen(scene.Thin)
	marks := []scene.Mark{scene.Line(scene.Point{X: f.Left, Y: f.Top}, scene.Point{X: f.Left, Y: f.Bottom}, thin), scene.Line(scene.Point{X: f.Left, Y: y(0)}, scene.Point{X: f.Right, Y: y(0)}, thin)}
	step := wholeStep((high - low) / f.Height() * float64(5*v.k()))
	for n := math.Ceil(low / step); float64(n*step) <= high; n++ {
		at := y(float64(n * step))
		marks = append(marks, scene.Text{At: scene.Point{X: f.Left - 2, Y: at}, String: axisFigure(float64(n*step), step), Size: s.size, Align: scene.Right, VAlign: scene.Middle},
			scene.Line(scene.Point{X: f.Left - 1.2, Y: at}, scene.Point{X: f.Left, Y: at}, thin))
		if n != 0 {
			marks = append(marks, scene.Line(scene.Point{X: f.Left, Y: at}, scene.Point{X: f.Right, Y: at}, scene.Pen(scene.Fine).Dashed(0.4, 1.6)))
		}
	}
	return marks
}

// volumeKey says left of the axis what its curves are.
func (v *section) volumeKey(s *sheet, curves []runningCurve, top float64) []scene.Mark {
	_, unit := v.style.Format.Volume(1)
	step := v.lineHigh()
	marks := []scene.Mark{scene.Text{At: scene.Point{X: -v.label, Y: top + step/2}, String: "volumes from start [" + unit + "]", Size: s.size, VAlign: scene.Middle}}
	for i, c := range curves {
		at, text := scene.Point{X: -v.label, Y: top + float64(step*(float64(i)+1.5))}, c.name
		if c.values == nil {
			text += ": " + notChecked
		} else {
			marks = append(marks, scene.Line(at, at.Add(scene.Point{X: float64(5.5 * v.k())}), c.pen))
		}
		marks = append(marks, scene.Text{At: at.Add(scene.Point{X: float64(6.2 * v.k())}), String: text, Size: s.size, VAlign: scene.Middle})
	}
	return marks
}
