package earthwork

import "math"

// The lines of a section that come as knots.
const (
	fDig = iota
	fGround
	fFinished
	fRock
	nKnotted
	// and those that are straight across
	fUnder = iota - 1
	fTop
	nLines
)

// shape is the section at one chainage: every line in it as knots from left to right. Between two events each knot moves
// on a straight line along the run, so that two shapes give all those between them.
type shape struct {
	curve   float64 // 1/m, right positive
	lines   [nKnotted][]knot
	bottom  [2]float64 // offsets of the corners of the dig's bottom
	limits  [4]float64 // of what belongs to this leg: left from, to, right from, to
	unit    float64    // half the unit; below 0: none here
	under   float64    // level of the underside of the unit on the centreline
	top     float64    // and of the cover
	cross   float64    // fall of both to the right
	without [2]bool    // finished, rock: no such surface here
	knots   []knot     // where lines are made
}

func mix(a, b, w float64) float64 { return a + float64((b-a)*w) }

// alike tells whether a and b have the same kind of knots, so that they can be mixed.
func alike(a, b *shape) bool {
	for i := range a.lines {
		p, q := a.lines[i], b.lines[i]
		if len(p) != len(q) {
			return false
		}
		for k := range p {
			if p[k].gap != q[k].gap {
				return false
			}
		}
	}
	return a.without == b.without
}

// mixed is the shape w of the way from a to b, a at 0 and b at 1; w may lie outside. It is made in out, and lives until out
// is used again.
func mixed(a, b *shape, w float64, out *shape) *shape {
	all := out.knots[:0]
	for i := range a.lines {
		for k, p := range a.lines[i] {
			q := b.lines[i][k]
			all = append(all, knot{mix(p.y, q.y, w), mix(p.z, q.z, w), p.gap})
		}
	}
	*out = a.bounds(b, w)
	out.knots = all
	from := 0
	for i := range a.lines {
		to := from + len(a.lines[i])
		out.lines[i] = all[from:to:to]
		from = to
	}
	return out
}

// bounds is the shape w of the way from a to b without its lines.
func (a *shape) bounds(b *shape, w float64) shape {
	out := shape{curve: a.curve, cross: a.cross, unit: a.unit, without: a.without,
		under: mix(a.under, b.under, w), top: mix(a.top, b.top, w)}
	for i := range a.bottom {
		out.bottom[i] = mix(a.bottom[i], b.bottom[i], w)
	}
	for i := range a.limits {
		if a.limits[i] == b.limits[i] {
			out.limits[i] = a.limits[i]
		} else {
			out.limits[i] = mix(a.limits[i], b.limits[i], w)
		}
	}
	return out
}

// marks puts all offsets at which a line has a corner or something begins or ends behind others.
func (s *shape) marks(out []float64) []float64 {
	for i := range s.lines {
		for _, k := range s.lines[i] {
			out = append(out, k.y)
		}
	}
	for _, y := range s.limits {
		if !math.IsInf(y, 0) {
			out = append(out, y)
		}
	}
	if s.unit > 0 {
		out = append(out, -s.unit, s.unit)
	}
	return append(out, s.bottom[0], s.bottom[1], 0)
}

// mine tells whether the offset y belongs to this leg.
func (s *shape) mine(y float64) bool {
	if y < 0 {
		return y >= s.limits[0] && y <= s.limits[1]
	}
	return y >= s.limits[2] && y <= s.limits[3]
}
