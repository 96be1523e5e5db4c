package ground

import "math"

// xy is a place in float64 metres relative to a corner nearby.
type xy struct{ x, y float64 }

// polygon is a convex polygon, counterclockwise. Cutting one by a half plane adds at most one corner; three triangles in
// common have no more than nine.
type polygon struct {
	at [16]xy
	n  int
}

// plane is a level over the plan: at the place 0, 0, and what it rises for each metre east and north.
type plane struct{ z, east, north float64 }

func (p plane) over(q xy) float64 { return p.z + float64(p.east*q.x) + float64(p.north*q.y) }

// half cuts away what lies right of the straight from a to b.
func (p *polygon) half(a, b xy) {
	dx, dy := b.x-a.x, b.y-a.y
	var off [16]float64
	outside := 0
	for i := range p.n {
		off[i] = float64(dx*(p.at[i].y-a.y)) - float64(dy*(p.at[i].x-a.x))
		if off[i] < 0 {
			outside++
		}
	}
	switch outside {
	case 0:
		return
	case p.n:
		p.n = 0
		return
	}
	p.split(&off)
}

// split keeps the part where off is not negative.
func (p *polygon) split(off *[16]float64) {
	var out polygon
	for i := range p.n {
		j := i + 1
		if j == p.n {
			j = 0
		}
		u, w := off[i], off[j]
		if u >= 0 {
			out.at[out.n] = p.at[i]
			out.n++
		}
		if (u > 0 && w < 0) || (u < 0 && w > 0) {
			k := u / (u - w)
			out.at[out.n] = xy{p.at[i].x + float64((p.at[j].x-p.at[i].x)*k), p.at[i].y + float64((p.at[j].y-p.at[i].y)*k)}
			out.n++
		}
	}
	*p = out
}

// clip keeps what lies in a counterclockwise triangle. One that is so thin that float64 does not see which way round it
// runs encloses nothing.
func (p *polygon) clip(t *[3]xy) {
	if cross2(t[0], t[1], t[2]) <= 0 {
		p.n = 0
	}
	for k := range 3 {
		if p.n > 2 {
			p.half(t[k], t[after[k]])
		}
	}
}

// cross2 is twice the area of the triangle a, b, c, positive counterclockwise.
func cross2(a, b, c xy) float64 {
	return float64((b.x-a.x)*(c.y-a.y)) - float64((b.y-a.y)*(c.x-a.x))
}

// box is what p lies in.
func (p *polygon) box() (low, high xy) {
	low, high = p.at[0], p.at[0]
	for _, q := range p.at[1:p.n] {
		low.x, low.y = math.Min(low.x, q.x), math.Min(low.y, q.y)
		high.x, high.y = math.Max(high.x, q.x), math.Max(high.y, q.y)
	}
	return low, high
}

// integrate is p's area, and the integral of d over it, exactly but for float64: a fan of triangles, each with the mean of
// its corners.
func (p *polygon) integrate(d plane) (area, volume float64) {
	if p.n < 3 {
		return 0, 0
	}
	o := p.at[0]
	do := d.over(o)
	for i := 2; i < p.n; i++ {
		a, b := p.at[i-1], p.at[i]
		twice := cross2(o, a, b)
		area += float64(twice / 2)
		volume += float64(twice * (do + d.over(a) + d.over(b)) / 6)
	}
	return area, volume
}

// above is the part of p where d is not negative.
func (p *polygon) above(d plane) polygon {
	var off [16]float64
	for i := range p.n {
		off[i] = d.over(p.at[i])
	}
	part := *p
	part.split(&off)
	return part
}
