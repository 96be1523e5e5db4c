package earthwork

import (
	"math"
	"slices"

	"trenchwright/base/measure"
)

// knot is a corner of a line in a section: offset (right positive) and level.
type knot struct {
	y, z float64
	gap  bool // nothing lies between it and the knot before
}

// template is one span in metres, ready to be drawn at any chainage. ends: the span touches a free end of the leg, and
// beyond it the dig is closed.
type template struct {
	from, to         float64
	start, end       [4]float64 // top, underside, formation, underside of the drain's bedding
	drain            bool
	cross            float64 // fall to the right, m/m
	unit, half       float64 // half the unit, half the bottom of the dig
	sides            Sides
	notch            [2]float64 // of the drain's trench: from offset to offset
	pipe             float64    // m², of the pipe's section
	openFrom, openTo *closing
}

// closing is how a free end of the leg is closed: from chainage at on, the floor rises.
type closing struct {
	at     float64
	sloped bool
}

const (
	lTop = iota
	lUnderside
	lFormation
	lDrain
)

func newTemplate(s *Span) *template {
	t := &template{from: s.From.Metres(), to: s.To.Metres(), cross: ratio(s.Cross), unit: s.Section.Unit.Metres() / 2, sides: s.Section.Sides}
	t.half = t.unit + s.Section.OverDig.Metres()
	if r := s.Section.Room; r != nil {
		t.half += r.Metres()
	}
	p := s.Section.Pipe
	t.drain = p != nil && s.Start.Drain != nil && s.End.Drain != nil
	levels := func(l Levels) [4]float64 {
		out := [4]float64{l.Top.Metres(), l.Underside.Metres(), l.Formation.Metres(), 0}
		if t.drain {
			out[lDrain] = (*l.Drain - p.Bedding).Metres()
		}
		return out
	}
	t.start, t.end = levels(s.Start), levels(s.End)
	if t.drain {
		wide := p.Diameter
		if p.Trench != nil {
			wide = *p.Trench
		}
		t.notch = [2]float64{max((p.Offset - wide/2).Metres(), -t.half), min((p.Offset + wide/2).Metres(), t.half)}
		d := p.Diameter.Metres()
		t.pipe = float64(math.Pi/4*d) * d
	}
	return t
}

func ratio(g measure.Grade) float64 {
	if g.Run == 0 {
		return 0
	}
	return float64(g.Rise) / float64(g.Run)
}

// level is one of the levels on the centreline at chainage x; beyond the span it goes on straight.
func (t *template) level(which int, x float64) float64 {
	a, b := t.start[which], t.end[which]
	return a + float64((b-a)*((x-t.from)/(t.to-t.from)))
}

// side is the side of the dig from the corner of the bottom: offsets outward and heights, until it is out so far.
func (t *template) side(out float64) []knot {
	s := t.sides
	k := []knot{{}}
	h := s.Plumb.Metres()
	if h > 0 {
		k = append(k, knot{z: h})
	}
	switch {
	case s.Form == Sloped && s.Slope != nil:
		k = append(k, knot{y: out, z: h + float64(out*ratio(*s.Slope))})
	case s.Form == Benched && s.Bench != nil:
		up, wide, y := s.Bench.Height.Metres(), s.Bench.Width.Metres(), 0.0
		for y < out {
			k = append(k, knot{y: y, z: h + up}, knot{y: min(y+wide, out), z: h + up})
			h, y = h+up, y+wide
		}
	default:
		return k[:1]
	}
	return k
}

// floor is how high the closed end has risen above the formation at chainage x.
func (t *template) floor(x float64) float64 {
	d := 0.0
	if c := t.openFrom; c != nil && c.sloped {
		d = max(d, c.at-x)
	}
	if c := t.openTo; c != nil && c.sloped {
		d = max(d, x-c.at)
	}
	if d <= 0 {
		return 0
	}
	side := t.side(d + 1)
	h := 0.0
	for i := 1; i < len(side); i++ {
		a, b := side[i-1], side[i]
		switch {
		case b.y <= d:
			h = b.z
		case a.y < d:
			h = a.z + float64((b.z-a.z)*((d-a.y)/(b.y-a.y)))
		}
	}
	return h
}

// lines is the dig at chainage x, from left to right, and the corners of its bottom.
func (t *template) lines(x, reach float64) (dig []knot, left, right float64) {
	zf := t.level(lFormation, x)
	zl, zr := zf+float64(t.cross*t.half), zf-float64(t.cross*t.half)
	side, q := t.side(reach-t.half), t.floor(x)
	wide := 0.0 // how far out the side is where the floor meets it
	cut := side
	if q > 0 {
		wide, cut = above(side, q)
	}
	left, right = -t.half-wide, t.half+wide
	for _, k := range slices.Backward(cut) {
		dig = append(dig, knot{y: -t.half - k.y, z: zl + k.z})
	}
	switch {
	case q > 0:
		dig = append(dig, knot{y: -t.half, z: zl + q}, knot{y: t.half, z: zr + q})
	case t.drain:
		dig = append(dig, t.sunk(x, zf)...)
	}
	for _, k := range cut {
		dig = append(dig, knot{y: t.half + k.y, z: zr + k.z})
	}
	return dig, left, right
}

// above is the part of a side above height q, and how far out it begins.
func above(side []knot, q float64) (out float64, rest []knot) {
	for i := 1; i < len(side); i++ {
		a, b := side[i-1], side[i]
		if b.z < q || b.z == q && b.z == a.z {
			continue
		}
		if a.z <= q && b.z > a.z {
			y := a.y + float64((b.y-a.y)*((q-a.z)/(b.z-a.z)))
			return y, append([]knot{{y: y, z: q}}, side[i:]...)
		}
	}
	last := side[len(side)-1]
	return last.y, []knot{{y: last.y, z: q}}
}

// sunk are the corners of the drain's trench where it lies below the formation.
func (t *template) sunk(x, zf float64) []knot {
	zd, a, b := t.level(lDrain, x), t.notch[0], t.notch[1]
	za, zb := zf-float64(t.cross*a), zf-float64(t.cross*b)
	if b <= a || zd >= za && zd >= zb {
		return nil
	}
	k := []knot{{y: a, z: za}, {y: a, z: min(za, zd)}}
	if (zd < za) != (zd < zb) {
		k = append(k, knot{y: a + float64((b-a)*((za-zd)/(za-zb))), z: zd})
	}
	return append(k, knot{y: b, z: min(zb, zd)}, knot{y: b, z: zb})
}

// events are chainages where the dig itself changes its kind: where the drain meets the formation, and the steps of closed
// ends.
func (t *template) events(reach float64) []float64 {
	var out []float64
	if t.drain {
		for _, y := range t.notch {
			down := func(x float64) float64 { return t.level(lDrain, x) - t.level(lFormation, x) + float64(t.cross*y) }
			if a, b := down(t.from), down(t.to); (a < 0) != (b < 0) {
				out = append(out, t.from+float64((t.to-t.from)*(a/(a-b))))
			}
		}
	}
	for _, c := range []*closing{t.openFrom, t.openTo} {
		if c == nil {
			continue
		}
		way := 1.0
		if c == t.openFrom {
			way = -1
		}
		for _, k := range t.side(reach) {
			out = append(out, c.at+float64(way*k.y))
		}
	}
	return out
}
