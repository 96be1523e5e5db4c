package raster

import (
	"math"

	"trenchwright/view/scene"
)

// miterLimit is that of SVG and of our PDF: sharper corners are cut off.
const miterLimit = 4.0

// pen fills the strokes of contours: a quadrilateral for every straight piece
// and a wedge or a disc for every corner, all running the same way round, so
// that what lies twice is filled once.
type pen struct {
	into  *coverage
	half  float64 // of the width, in pixels
	round bool
}

// stroke draws contours given in pixels, with dashes in pixels.
func (p pen) stroke(contours []scene.Contour, dash []float64) {
	for _, c := range contours {
		points := make([]point, len(c.Points), len(c.Points)+1)
		for i, q := range c.Points {
			points[i] = point{q.X, q.Y}
		}
		points = distinct(points, c.Closed)
		if len(dash) == 0 {
			p.line(points, c.Closed)
			continue
		}
		if c.Closed {
			points = append(points, points[0])
		}
		for _, piece := range dashed(points, dash) {
			p.line(distinct(piece, false), false)
		}
	}
}

// distinct drops points that lie on the one before, in place: a piece between
// them has no direction.
func distinct(points []point, closed bool) []point {
	same := func(a, b point) bool { return math.Abs(a.x-b.x)+math.Abs(a.y-b.y) < 1e-6 }
	kept := points[:0]
	for _, q := range points {
		if len(kept) == 0 || !same(q, kept[len(kept)-1]) {
			kept = append(kept, q)
		}
	}
	if closed && len(kept) > 1 && same(kept[0], kept[len(kept)-1]) {
		kept = kept[:len(kept)-1]
	}
	return kept
}

// line draws one unbroken line.
func (p pen) line(points []point, closed bool) {
	n := len(points)
	if n < 2 {
		if n == 1 && p.round {
			p.disc(points[0])
		}
		return
	}
	for i := range n - 1 {
		p.piece(points[i], points[i+1])
	}
	if closed && n > 2 {
		p.piece(points[n-1], points[0])
		for i, q := range points {
			p.corner(points[(i+n-1)%n], q, points[(i+1)%n])
		}
		return
	}
	for i := 1; i < n-1; i++ {
		p.corner(points[i-1], points[i], points[i+1])
	}
	if p.round {
		p.disc(points[0])
		p.disc(points[n-1])
	}
}

// across is half the pen's width to the right of a way from a to b, y down.
func (p pen) across(a, b point) point {
	dx, dy := b.x-a.x, b.y-a.y
	k := p.half / math.Sqrt(float64(dx*dx)+float64(dy*dy))
	return point{float64(-dy * k), float64(dx * k)}
}

func (p pen) piece(a, b point) {
	n := p.across(a, b)
	p.into.polygon(point{a.x - n.x, a.y - n.y}, point{b.x - n.x, b.y - n.y},
		point{b.x + n.x, b.y + n.y}, point{a.x + n.x, a.y + n.y})
}

// corner fills the outer side of a corner at b.
func (p pen) corner(a, b, c point) {
	n, m := p.across(a, b), p.across(b, c)
	turn := float64(n.x*m.y) - float64(n.y*m.x)
	along := float64(n.x*m.x) + float64(n.y*m.y)
	h2 := float64(p.half * p.half)
	if turn == 0 && along > 0 {
		return
	}
	if p.round {
		p.disc(b)
		return
	}
	// The outer side is left of the way where it turns right, y down.
	outer := 1.0
	if turn > 0 {
		outer = -1
	}
	from, to := point{b.x + float64(outer*n.x), b.y + float64(outer*n.y)}, point{b.x + float64(outer*m.x), b.y + float64(outer*m.y)}
	points := []point{b, from, to}
	// 1/sin(half the angle) ≤ limit ⇔ 2·h² ≤ limit²·(h² + n·m).
	if lean := h2 + along; lean > 0 && 2*h2 <= float64(miterLimit*miterLimit*lean) {
		k := outer * h2 / lean
		tip := point{b.x + float64(k*(n.x+m.x)), b.y + float64(k*(n.y+m.y))}
		points = []point{b, from, tip, to}
	}
	if outer > 0 {
		for i, j := 0, len(points)-1; i < j; i, j = i+1, j-1 {
			points[i], points[j] = points[j], points[i]
		}
	}
	p.into.polygon(points...)
}

// disc fills a round end or corner; 0.05 pixels from the circle at most.
func (p pen) disc(at point) {
	n := max(8, int(math.Ceil(math.Pi/math.Acos(1-math.Min(0.5, 0.05/p.half)))))
	points := make([]point, n)
	for i := range points {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		points[i] = point{at.x + float64(p.half*c), at.y + float64(p.half*s)}
	}
	p.into.polygon(points...)
}

// dashed parts a line into what a pattern draws. The pattern starts with the
// line; an odd one is gone through twice, as SVG and PDF do.
func dashed(points []point, dash []float64) [][]point {
	var pieces [][]point
	i, left, drawing := 0, dash[0], true
	now := []point{points[0]}
	for k := 1; k < len(points); k++ {
		a, b := points[k-1], points[k]
		dx, dy := b.x-a.x, b.y-a.y
		length := math.Sqrt(float64(dx*dx) + float64(dy*dy))
		done := 0.0
		for length-done > left {
			done += left
			p := point{a.x + float64(dx*(done/length)), a.y + float64(dy*(done/length))}
			if drawing {
				pieces = append(pieces, append(now, p))
			}
			i, drawing = (i+1)%len(dash), !drawing
			left, now = dash[i], []point{p}
		}
		left -= length - done
		if drawing {
			now = append(now, b)
		}
	}
	if drawing && len(now) > 1 {
		pieces = append(pieces, now)
	}
	return pieces
}
