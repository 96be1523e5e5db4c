package screen

import (
	"math"
	"strconv"

	"trenchwright/place/ground"
)

// mostContours is how many levels are shown at most: more are a grey field.
const mostContours = 16

// contours cuts the ground as it is at even levels.
func (d *draft) contours(out *Plan) {
	g := d.ground.Of(ground.Existing)
	if g == nil || g.FaceCount() == 0 {
		return
	}
	low, high := math.Inf(1), math.Inf(-1)
	for f := range g.FaceCount() {
		for _, c := range g.Corners(f) {
			low, high = math.Min(low, c.Z), math.Max(high, c.Z)
		}
	}
	step, places := interval((high - low) / d.metres)
	unit := d.unit
	out.Interval = "contours every " + strconv.FormatFloat(step, 'f', -1, 64) + " " + unit
	first, last := int(math.Ceil(low/d.metres/step)), int(math.Floor(high/d.metres/step))
	for k := first; k <= last; k++ {
		level := float64(k) * step
		if lines := cut(g, level*d.metres); len(lines) > 0 {
			out.Contours = append(out.Contours, Contour{Level: level * d.metres, Label: strconv.FormatFloat(level, 'f', places, 64), Major: k%5 == 0, Lines: lines})
		}
	}
}

// interval is the least even step that shows no more levels than are wanted, and its decimals.
func interval(span float64) (step float64, places int) {
	for _, s := range []struct {
		step   float64
		places int
	}{{0.05, 2}, {0.1, 1}, {0.2, 1}, {0.5, 1}, {1, 0}, {2, 0}, {5, 0}, {10, 0}, {20, 0}, {50, 0}} {
		if span/s.step <= mostContours {
			return s.step, s.places
		}
	}
	return 100, 0
}

// spot is a point of a contour, to the millimetre: ends of two faces that share an edge are the same spot.
type spot struct{ e, n int64 }

func spotAt(e, n float64) spot { return spot{int64(math.Round(e * 1000)), int64(math.Round(n * 1000))} }

// cut is where a surface has a level: lines as long as they go on from face to face. A corner that lies on the level counts
// as above it, so that no line is found twice.
func cut(g *ground.Surface, level float64) []Numbers {
	var ends [][2]spot
	for f := range g.FaceCount() {
		c := g.Corners(f)
		var hits []spot
		for k := range c {
			a, b := c[k], c[(k+1)%3]
			if (a.Z >= level) == (b.Z >= level) {
				continue
			}
			if b.E < a.E || b.E == a.E && b.N < a.N { // both faces of an edge reckon alike
				a, b = b, a
			}
			t := (level - a.Z) / (b.Z - a.Z)
			hits = append(hits, spotAt(a.E+float64((b.E-a.E)*t), a.N+float64((b.N-a.N)*t)))
		}
		if len(hits) == 2 && hits[0] != hits[1] {
			ends = append(ends, [2]spot{hits[0], hits[1]})
		}
	}
	return chained(ends)
}

// chained strings pieces together where they meet, in the order in which they were found.
func chained(pieces [][2]spot) []Numbers {
	at := map[spot][]int{}
	for i, p := range pieces {
		at[p[0]], at[p[1]] = append(at[p[0]], i), append(at[p[1]], i)
	}
	used := make([]bool, len(pieces))
	follow := func(from spot) []spot {
		var out []spot
		for {
			next := -1
			for _, i := range at[from] {
				if !used[i] {
					next = i
					break
				}
			}
			if next < 0 {
				return out
			}
			used[next] = true
			if p := pieces[next]; p[0] == from {
				from = p[1]
			} else {
				from = p[0]
			}
			out = append(out, from)
		}
	}
	var all []Numbers
	for i, p := range pieces {
		if used[i] {
			continue
		}
		used[i] = true
		back, on := follow(p[0]), follow(p[1])
		var line Numbers
		for k := len(back) - 1; k >= 0; k-- {
			line = append(line, float64(back[k].e)/1000, float64(back[k].n)/1000)
		}
		for _, s := range append([]spot{p[0], p[1]}, on...) {
			line = append(line, float64(s.e)/1000, float64(s.n)/1000)
		}
		all = append(all, line)
	}
	return all
}
