package drawing

import (
	"math"

	"trenchwright/view/scene"
)

// Names on a time chart. A line that reaches the end of its leg is named there, beside the frame; of the others each has its work written
// on it, where a place is free: above it or below it, from its start to its end. Where all is crowded the line goes without, and the
// lines around it, which always follow each other as the works do, tell what it is.

// front is one line of a chart.
type front struct {
	work   string
	points []scene.Point
	named  bool // beside the frame
}

// namedWithin writes the works on lines that nothing names beside the frame.
func (c *timeChart) namedWithin(f scene.Box, fronts []front) []scene.Mark {
	var marks []scene.Mark
	var taken []scene.Box
	high := float64(1.4 * c.size) // capitals and what hangs below the line
	for i := range c.days {       // and the lines of the days
		y := f.Top + float64(f.Height()*float64(i)/float64(len(c.days)))
		fronts = append(fronts, front{points: []scene.Point{{X: f.Left, Y: y}, {X: f.Right, Y: y}}, named: true})
	}
	for _, line := range fronts {
		if line.named || len(line.points) < 2 {
			continue
		}
		wide := scene.TextWidth(line.work, c.size, scene.Regular)
		spots := func(yield func(scene.Box) bool) {
			for _, off := range [2]float64{-float64(1.3 * high), float64(0.3 * high)} { // above, below
				for k := 1; k < len(line.points); k++ {
					a, b := line.points[k-1], line.points[k]
					if math.Abs(b.X-a.X) < 1 {
						continue
					}
					for _, part := range [3]float64{0, 0.5, 1} {
						x := math.Min(a.X, b.X) + 0.6 + float64(part*math.Max(math.Abs(b.X-a.X)-wide-1.2, 0))
						one := scene.BoxAt(scene.Point{X: x}, wide, high)
						y := c.beside(line, one, off < 0)
						one.Top, one.Bottom = y+off, y+off+high
						if !yield(one) {
							return
						}
					}
				}
			}
		}
		for spot := range spots {
			if spot.Left < f.Left+0.4 || spot.Right > f.Right-0.4 || spot.Top < f.Top+0.4 || spot.Bottom > f.Bottom-0.4 || crossed(spot, fronts, taken) {
				continue
			}
			taken = append(taken, spot)
			marks = append(marks, scene.Text{At: scene.Point{X: spot.Left, Y: (spot.Top + spot.Bottom) / 2}, String: line.work, Size: c.size, VAlign: scene.Middle})
			break
		}
	}
	return marks
}

// beside is the highest (above) or lowest place of a line over the width of a box.
func (c *timeChart) beside(line front, over scene.Box, above bool) float64 {
	out := math.Inf(-1)
	if above {
		out = math.Inf(1)
	}
	for k := 1; k < len(line.points); k++ {
		a, b := line.points[k-1], line.points[k]
		from, to := math.Max(math.Min(a.X, b.X), over.Left), math.Min(math.Max(a.X, b.X), over.Right)
		if from > to {
			continue
		}
		for _, x := range [2]float64{from, to} {
			y := a.Y
			if a.X != b.X {
				y = a.Y + float64((b.Y-a.Y)*(x-a.X)/(b.X-a.X))
			}
			if above {
				out = math.Min(out, y)
			} else {
				out = math.Max(out, y)
			}
		}
	}
	return out
}

// crossed tells whether a box is taken, or a line goes through it.
func crossed(box scene.Box, fronts []front, taken []scene.Box) bool {
	for _, t := range taken {
		if t.Left < box.Right && box.Left < t.Right && t.Top < box.Bottom && box.Top < t.Bottom {
			return true
		}
	}
	for _, f := range fronts {
		for k := 1; k < len(f.points); k++ {
			if through(box, f.points[k-1], f.points[k]) {
				return true
			}
		}
	}
	return false
}

// through tells whether a straight line goes through a box with some room around it.
func through(box scene.Box, a, b scene.Point) bool {
	room := float64(0.2 * box.Height())
	from, to := 0.0, 1.0
	for _, side := range [2][4]float64{{a.X, b.X, box.Left - room, box.Right + room}, {a.Y, b.Y, box.Top - room, box.Bottom + room}} {
		start, along, low, high := side[0], side[1]-side[0], side[2], side[3]
		if along == 0 {
			if start < low || start > high {
				return false
			}
			continue
		}
		enter, leave := (low-start)/along, (high-start)/along
		from, to = math.Max(from, math.Min(enter, leave)), math.Min(to, math.Max(enter, leave))
	}
	return from < to
}
