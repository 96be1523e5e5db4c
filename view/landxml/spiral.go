package landxml

import (
	"fmt"
	"math"

	"trenchwright/base/measure"
	"trenchwright/place/route"
)

// clothoid is a spiral whose curvature goes evenly with its length.
type clothoid struct {
	from   route.Point
	along  route.Vector // direction at from
	k0, k1 float64      // curvature at its ends, 1/m, right positive
	length float64
	bend   route.Vector // by which its far end was off, shared out along it
}

// mostPieces bounds the work for one spiral: at 4096 pieces a clothoid of 1 km is cut every 0.24 m.
const mostPieces = 4096

// spiral makes the arcs that stand for a spiral: pairs of arcs that share their tangent (biarcs) through points of the
// clothoid and along its directions there, twice as many until none leaves it by more than was allowed. off is the
// furthest that they do.
func (r *reader) spiral(p part, from, pi, to route.Point) (arcs []route.Element, off float64, why string) {
	if r.opts.Spiral <= 0 {
		return nil, 0, "a spiral cannot be laid out as it is; state how far arcs may leave it, for example 1 mm"
	}
	c, why := r.clothoid(p, from, pi, to)
	if why != "" {
		return nil, 0, why
	}
	allowed := r.opts.Spiral.Metres()
	for pieces := 1; pieces <= mostPieces; pieces *= 2 {
		if arcs, off = c.arcs(pieces); off <= allowed {
			arcs[len(arcs)-1].To = to
			return arcs, off, ""
		}
	}
	return nil, 0, fmt.Sprintf("%d pieces still leave it by %.6f mm, %.6f mm are allowed", mostPieces, off*1e3, allowed*1e3)
}

// clothoid reads a spiral and sees whether it ends where the file says.
func (r *reader) clothoid(p part, from, pi, to route.Point) (clothoid, string) {
	c := clothoid{from: from, along: pi.Minus(from).Unit()}
	if p.spiral != "clothoid" {
		return c, fmt.Sprintf("a spiral of type %q is not read, only a clothoid", clipped(p.spiral))
	}
	hand := 1.0
	switch p.rot {
	case "cw":
	case "ccw":
		hand = -1
	default:
		return c, fmt.Sprintf("it does not say which way it turns: rot is %q, cw or ccw was expected", clipped(p.rot))
	}
	l, ok := length(p.length, r.file.Unit)
	if c.length = l.Metres(); !ok || c.length < route.Least || c.length > route.Reach {
		return c, fmt.Sprintf("%q is not its length", clipped(p.length))
	}
	var why string
	if c.k0, why = r.curvature(p.radiusStart); why == "" {
		c.k1, why = r.curvature(p.radiusEnd)
	}
	if why != "" {
		return c, why
	}
	c.k0, c.k1 = float64(hand*c.k0), float64(hand*c.k1)
	if turn := c.turn(c.length); math.Abs(turn) > 2*math.Pi {
		return c, fmt.Sprintf("it turns %.0f°, more than once round", math.Abs(turn)*180/math.Pi)
	}
	if pi.Distance(from) < route.Least || pi.Distance(to) < route.Least {
		return c, "its intersection point is one of its ends"
	}
	miss := to.Minus(c.points(1)[1].At)
	if miss.Length() > r.opts.Gap.Metres() {
		return c, fmt.Sprintf("a clothoid of its length and radii ends %.3f m from its end; %.1f mm are allowed", miss.Length(), r.opts.Gap.Millimetres())
	}
	c.bend = miss
	return c, ""
}

// curvature is 1/radius; an infinite radius is written INF.
func (r *reader) curvature(radius string) (float64, string) {
	if radius == "INF" || radius == "-INF" {
		return 0, ""
	}
	l, ok := length(radius, r.file.Unit)
	m := math.Abs(l.Metres())
	if !ok || m < measure.Millimetre.Metres() {
		return 0, fmt.Sprintf("%q is not a radius; INF is an infinite one", clipped(radius))
	}
	return 1 / m, ""
}

// turn is the turn from the start to s, radians, right positive: the integral of the curvature.
func (c clothoid) turn(s float64) float64 {
	return float64(c.k0*s) + float64((c.k1-c.k0)*s*s)/(2*c.length)
}

// Gauss-Legendre on [-1, 1] with five points: exact to the ninth power (Abramowitz & Stegun 25.4.29, table 25.4; from
// memory, held by a test that integrates powers).
var (
	gaussAt     = [5]float64{-0.906179845938664, -0.5384693101056831, 0, 0.5384693101056831, 0.906179845938664}
	gaussWeight = [5]float64{0.23692688505618908, 0.47862867049936647, 0.5688888888888889, 0.47862867049936647, 0.23692688505618908}
)

// points are the poses at the ends of equal pieces.
func (c clothoid) points(pieces int) []route.Pose {
	// A step turns by at most 0.1: the tenth derivative of sine and cosine then leaves less than 1e-16 of its length.
	most := math.Max(math.Abs(c.k0), math.Abs(c.k1))
	steps := int(math.Ceil(float64(most*c.length)/0.1/float64(pieces))) + 1
	h := c.length / float64(pieces*steps)
	out := []route.Pose{{At: c.from, Along: c.along}}
	at := c.from
	for i := range pieces {
		for k := range steps {
			mid := float64((float64(i*steps+k) + 0.5) * h)
			for g := range gaussAt {
				dir := c.along.Turned(c.turn(mid + float64(gaussAt[g]*h/2)))
				at = at.Plus(dir.Times(gaussWeight[g] * h / 2))
			}
		}
		share := float64(i+1) / float64(pieces)
		out = append(out, route.Pose{At: at.Plus(c.bend.Times(share)), Along: c.along.Turned(c.turn(c.length * share))})
	}
	return out
}

// arcs are two arcs a piece, and the furthest that any leaves the clothoid, seen at eight places of each.
func (c clothoid) arcs(pieces int) ([]route.Element, float64) {
	const looks = 16
	fine := c.points(pieces * looks)
	var out []route.Element
	off := 0.0
	for i := range pieces {
		a, b := fine[i*looks], fine[(i+1)*looks]
		middle := biarc(a, b)
		first := route.ArcFrom(a.At, a.Along, middle)
		second := route.ArcFrom(b.At, b.Along.Back(), middle)
		second = turnedRound(second)
		for _, p := range fine[i*looks+1 : (i+1)*looks] {
			near := second
			if p.At.Minus(middle).Dot(b.At.Minus(a.At)) < 0 {
				near = first
			}
			off = math.Max(off, leaves(near, p.At))
		}
		for _, e := range []route.Element{first, second} {
			if gridLength(e) >= route.Least {
				out = append(out, e)
			}
		}
	}
	if len(out) == 0 {
		return []route.Element{route.Straight(fine[0].At, fine[len(fine)-1].At)}, 0
	}
	return out, off
}

// turnedRound is an arc that was made from its far end, run the right way.
func turnedRound(e route.Element) route.Element {
	e.From, e.To, e.Radius = e.To, e.From, -e.Radius
	return e
}

// biarc is where the two arcs from a to b that share a tangent meet, with equal tangent lengths d at both ends: from
// |b - a - d(ta + tb)| = 2d follows 2(1 - ta·tb)d² + 2d(v·t) - v·v = 0 with v = b - a, t = ta + tb.
func biarc(a, b route.Pose) route.Point {
	v := b.At.Minus(a.At)
	vt := v.Dot(a.Along) + v.Dot(b.Along)
	q := 2 * (1 - a.Along.Dot(b.Along))
	// The root written so that it holds for q = 0 as well.
	d := v.Dot(v) / (vt + math.Sqrt(math.Max(float64(vt*vt)+float64(q*v.Dot(v)), 0)))
	p, r := a.At.Plus(a.Along.Times(d)), b.At.Plus(b.Along.Times(-d))
	return p.Plus(r.Minus(p).Times(0.5))
}

// leaves is how far p lies from the circle or line that carries e.
func leaves(e route.Element, p route.Point) float64 {
	if e.Radius == 0 {
		u := e.To.Minus(e.From).Unit()
		return math.Abs(u.Right().Dot(p.Minus(e.From)))
	}
	return math.Abs(p.Distance(e.Centre) - math.Abs(e.Radius))
}
