package drawing

import (
	"math"

	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// runLine draws the whole run as one thin line over the bottom of a box, leg after leg with a notch for every bend, and
// makes what this sheet shows heavy. It returns where it begins.
func (s *sheet) runLine(box scene.Box) float64 {
	const high, between = 6.0, 5.0 // of the line with its names; between chains
	total := 0.0
	for _, l := range s.plan.Legs {
		total += mm(l.NodeLength)
	}
	if total <= 0 {
		return box.Bottom
	}
	y := box.Bottom - 1.2
	left := s.runKey(box.Left, y) + 4
	scale := (box.Right - left - 2 - float64(between*float64(len(s.chains)-1))) / total
	x := left
	for _, chain := range s.chains {
		for i, leg := range chain {
			l := s.plan.Legs[leg]
			to := x + float64(mm(l.NodeLength)*scale)
			s.runLeg(leg, x, to, y)
			if i+1 < len(chain) {
				s.add(notch(to, y, s.node(l.To).Deflection))
			}
			x = to
		}
		s.add(scene.Line(scene.Point{X: x, Y: y - 1}, scene.Point{X: x, Y: y + 1}, scene.Pen(scene.Thin)))
		x += between
	}
	return box.Bottom - high
}

// runKey says what the line is and explains the signs on it that this run has. It returns where the words end.
func (s *sheet) runKey(x, y float64) float64 {
	word := func(text string) {
		s.add(scene.Text{At: scene.Point{X: x, Y: y}, String: text, Size: s.size, VAlign: scene.Middle})
		x += scene.TextWidth(text, s.size, scene.Regular)
	}
	word("the run")
	if len(s.shown) > 0 {
		word(", thick where this sheet shows it")
	}
	signs := map[string]float64{} // an example of each
	for _, chain := range s.chains {
		for _, leg := range chain[:len(chain)-1] {
			n := s.node(s.plan.Legs[leg].To)
			switch {
			case n.Deflection > 0:
				signs["right"] = 1
			case n.Deflection < 0:
				signs["left"] = -1
			default:
				signs[s.signWord(n)] = 0
			}
		}
	}
	for _, name := range []string{"right", "left", "tee", "cross", s.words.transition, "joint"} {
		if turn, ok := signs[name]; ok {
			s.add(notch(x+3, y, turn))
			x += 4.6
			word(name)
		}
	}
	return x
}

// signWord is what a ring on the line stands for.
func (s *sheet) signWord(n planner.Node) string {
	switch n.Kind {
	case "tee", "cross":
		return n.Kind
	case "transition":
		return s.words.transition
	}
	return "joint"
}

func (s *sheet) runLeg(leg int, from, to, y float64) {
	l := s.plan.Legs[leg]
	s.add(scene.Line(scene.Point{X: from, Y: y}, scene.Point{X: to, Y: y}, scene.Pen(scene.Thin)))
	for _, part := range s.shown {
		if part.leg != leg {
			continue
		}
		clear := math.Max(mm(l.ClearLength), 1)
		a := from + (to-from)*math.Max(0, part.from)/clear
		b := from + (to-from)*math.Min(clear, part.to)/clear
		s.add(scene.Line(scene.Point{X: a, Y: y}, scene.Point{X: b, Y: y}, scene.Pen(1.1)))
	}
	if scene.TextWidth(l.Name, s.size, scene.Bold)+1 < to-from {
		s.add(scene.Text{At: scene.Point{X: (from + to) / 2, Y: y - 1.9}, String: l.Name, Size: s.size, Weight: scene.Bold, Align: scene.Centre})
	}
}

// notch is the small V that a bend cuts into the line, from the inside of the bend: a right bend from below.
func notch(x, y, deflection float64) scene.Mark {
	switch {
	case deflection > 0:
		return scene.Path{Outline: scene.Polygon(scene.Point{X: x - 0.9, Y: y + 1.5}, scene.Point{X: x, Y: y - 0.6}, scene.Point{X: x + 0.9, Y: y + 1.5}),
			Fill: scene.White, Stroke: scene.Pen(scene.Thin)}
	case deflection < 0:
		return scene.Path{Outline: scene.Polygon(scene.Point{X: x - 0.9, Y: y - 1.5}, scene.Point{X: x, Y: y + 0.6}, scene.Point{X: x + 0.9, Y: y - 1.5}),
			Fill: scene.White, Stroke: scene.Pen(scene.Thin)}
	}
	return scene.Path{Outline: scene.Circle(scene.Point{X: x, Y: y}, 0.7), Fill: scene.White, Stroke: scene.Pen(scene.Thin)}
}
