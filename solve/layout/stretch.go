package layout

import "math"

// geometry says how far a length reaches along the axis of a stretch, and back. On a slope a unit covers its length times
// the cosine of the chainage; on an arc of radius R the chord d covers 2R·asin(d/2R) (layout.md §2). Each direction rounds
// once, here and nowhere else, to the nearest nanometre: after that an advance is a translation.
type geometry struct {
	radius nm      // 0: straight
	cosine float64 // 1: level
}

func (s Stretch) geometry() geometry {
	g := geometry{radius: s.Radius, cosine: 1}
	if s.Run != 0 && s.Rise != 0 {
		rise, run := s.Rise.Metres(), s.Run.Metres()
		g.cosine = math.Abs(run) / math.Sqrt(float64(rise*rise)+float64(run*run))
	}
	return g
}

func (g geometry) plain() bool { return g.radius == 0 && g.cosine == 1 }

// advance is the chainage that a length l covers.
func (g geometry) advance(l nm) nm {
	if g.plain() {
		return l
	}
	d := float64(l) * g.cosine
	if g.radius != 0 {
		d = 2 * float64(g.radius) * math.Asin(d/(2*float64(g.radius)))
	}
	return nm(math.Round(d))
}

// length is the length that covers the chainage a.
func (g geometry) length(a nm) nm {
	if g.plain() {
		return a
	}
	d := float64(a)
	if g.radius != 0 {
		d = 2 * float64(g.radius) * math.Sin(d/(2*float64(g.radius)))
	}
	return nm(math.Round(d / g.cosine))
}

// opening is the chainage that a joint of clear width w covers, and width is its inverse. A joint is so short that arc and
// chord do not differ by a nanometre (10 mm on R 10 m: 0.4 nm); only the slope counts.
func (g geometry) opening(w nm) nm { return geometry{cosine: g.cosine}.advance(w) }

func (g geometry) width(opening nm) nm { return geometry{cosine: g.cosine}.length(opening) }

// rounded is the advance in v nearest to d whose length is a whole number of steps; d itself where there is none, or no step.
// Lengths that no advance gives back to the nanometre are passed over: a step is aimed at to be read off a rule.
func (g geometry) rounded(d nm, v interval, step nm) nm {
	if step <= 0 {
		return d
	}
	l := (g.length(d) + step/2) / step * step
	best, least := d, forever
	for _, l := range []nm{l, l - step, l + step} {
		a := g.advance(l)
		if off := (a - d).Abs(); l > 0 && v.holds(a) && g.length(a) == l && off < least {
			best, least = a, off
		}
	}
	return best
}

// half is (w/2)·|tan|, what a mitre takes on the axis from the middle of a width w to its wall, to the nearest nanometre.
func half(w nm, tan float64) nm { return nm(math.Round(float64(w) / 2 * math.Abs(tan))) }

// secant is w/cos α for tan = tan α: a width measured square to a mitre, seen along the axis; to the nearest nanometre.
func secant(w nm, tan float64) nm { return nm(math.Round(float64(w) * math.Sqrt(1+float64(tan*tan)))) }
