package edit

import "math"

// Snapping is what a dragged point may be drawn to, all in metres relative to one origin.
type Snapping struct {
	Within float64      `json:"within_m"` // how near a point has to be; 0: nothing draws it
	Grid   float64      `json:"grid_m"`   // 0: no grid
	From   [2]float64   `json:"from_m"`   // a place of the grid
	Points [][2]float64 `json:"points_m"` // that exist
	Lines  [][2]float64 `json:"lines_m"`  // two points each: legs that end at a neighbour, whose straight continuation and right angle draw
}

// Snapped is where a point comes to lie.
type Snapped struct {
	Place [2]float64 `json:"place_m"`
	To    string     `json:"to"` // point, straight, right angle, grid; empty: it lies where it was dragged
	Of    int        `json:"of"` // of a point: its number; of straight and right angle: that of the line
}

// Snap draws a point to what is near it: first to a point that exists, then to the
// straight continuation of a leg or a right angle at its end, at last to the grid.
func Snap(p [2]float64, s Snapping) Snapped {
	best := Snapped{Place: p}
	near := s.Within
	for k, q := range s.Points {
		if d := apart(p, q); d <= near && s.Within > 0 {
			best, near = Snapped{q, "point", k}, d
		}
	}
	if best.To != "" {
		return best
	}
	for k := 0; k+1 < len(s.Lines); k += 2 {
		a, end := s.Lines[k], s.Lines[k+1]
		dx, dy := end[0]-a[0], end[1]-a[1]
		l := math.Sqrt(float64(dx*dx) + float64(dy*dy))
		if l == 0 {
			continue
		}
		dx, dy = dx/l, dy/l
		for _, way := range []struct {
			x, y float64
			to   string
		}{{dx, dy, "straight"}, {-dy, dx, "right angle"}} {
			along := float64((p[0]-end[0])*way.x) + float64((p[1]-end[1])*way.y)
			q := [2]float64{end[0] + float64(way.x*along), end[1] + float64(way.y*along)}
			if d := apart(p, q); d <= near && s.Within > 0 && (way.to == "right angle" || along > 0) {
				best, near = Snapped{q, way.to, k / 2}, d
			}
		}
	}
	if best.To == "" && s.Grid > 0 {
		var q [2]float64
		for i := range q {
			q[i] = float64(math.Round((p[i]-s.From[i])/s.Grid)*s.Grid) + s.From[i]
		}
		if d := apart(p, q); d <= near && s.Within > 0 {
			best = Snapped{q, "grid", 0}
		}
	}
	return best
}

func apart(p, q [2]float64) float64 {
	return math.Sqrt(float64((p[0]-q[0])*(p[0]-q[0])) + float64((p[1]-q[1])*(p[1]-q[1])))
}
