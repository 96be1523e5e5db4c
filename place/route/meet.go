package route

import (
	"cmp"
	"math"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
)

// Meeting is a place where another line crosses or touches a line.
type Meeting struct {
	Chainage measure.Length // on this line
	Other    measure.Length // on the other line
	At       Point
	Turn     measure.Angle // from this line's direction to the other's, right positive, in (-180°, 180°]
	Skew     measure.Angle // between the two axes, 0° to 90°; 0° where they run along each other
}

// touching is how near two elements must come to meet, in metres.
const touching = 1e-6

// Meet finds every place where two lines cross or touch, by chainage. Where they run along each other the ends of the
// common part are given, with a skew of nought.
func (l Line) Meet(other Line) []Meeting {
	var out []Meeting
	for _, a := range l.elements {
		boxA := a.box()
		for _, b := range other.elements {
			if !boxA.overlaps(b.box()) {
				continue
			}
			for _, p := range common(a, b) {
				sa, _, _, onA := a.nearest(p)
				sb, _, _, onB := b.nearest(p)
				if onA && onB {
					out = append(out, l.meeting(a, sa, other, b, sb))
				}
			}
		}
	}
	sorting.By(out, func(a, b Meeting) int {
		return cmp.Or(cmp.Compare(a.Chainage, b.Chainage), cmp.Compare(a.Other, b.Other), cmp.Compare(b.Skew, a.Skew))
	})
	return slices.CompactFunc(out, func(a, b Meeting) bool {
		near := measure.FromMetres(4 * touching)
		return (a.Chainage-b.Chainage).Abs() <= near && (a.Other-b.Other).Abs() <= near
	})
}

func (l Line) meeting(a Element, sa float64, other Line, b Element, sb float64) Meeting {
	pa, pb := a.at(sa), b.at(sb)
	turn := pa.Along.turn(pb.Along)
	skew := math.Abs(turn)
	return Meeting{
		Chainage: l.along(a, sa), Other: other.along(b, sb), At: pa.At,
		Turn: measure.FromRadians(turn), Skew: measure.FromRadians(math.Min(skew, math.Pi-skew)),
	}
}

// nearest is the foot of p on e, ends included; ok tells whether p lies on e within touching.
func (e Element) nearest(p Point) (s, offset float64, kind FootKind, ok bool) {
	length := e.gridLength()
	s, offset, kind, ok = e.foot(p)
	switch {
	case ok:
		return s, offset, kind, math.Abs(offset) <= touching
	case p.Distance(e.From) <= touching:
		return 0, 0, OnLine, true
	case p.Distance(e.To) <= touching:
		return length, 0, OnLine, true
	}
	return s, offset, kind, false
}

// common are the candidate points where the carriers of two elements meet; the ends of both where the carriers are one.
func common(a, b Element) []Point {
	points, same := carriersMeet(a, b)
	if same {
		return []Point{a.From, a.To, b.From, b.To}
	}
	return points
}

// carriersMeet is where the endless lines and circles that carry two elements meet. same: they are one carrier.
func carriersMeet(a, b Element) (points []Point, same bool) {
	switch {
	case a.Radius == 0 && b.Radius == 0:
		return straightsMeet(a, b)
	case a.Radius == 0:
		return straightMeetsCircle(a, b), false
	case b.Radius == 0:
		return straightMeetsCircle(b, a), false
	default:
		return circlesMeet(a, b)
	}
}

func straightsMeet(a, b Element) ([]Point, bool) {
	u, v, way := a.To.Minus(a.From).Unit(), b.To.Minus(b.From).Unit(), b.From.Minus(a.From)
	sin := u.cross(v)
	// Over the longer of the two a smaller sine than this is a distance below touching.
	if reach := way.Length() + a.gridLength() + b.gridLength(); math.Abs(float64(sin*reach)) <= touching {
		return nil, math.Abs(u.cross(way)) <= touching
	}
	return []Point{a.From.Plus(u.Times(way.cross(v) / sin))}, false
}

// straightMeetsCircle: the foot of the centre on the straight, and half the chord to either side.
func straightMeetsCircle(line, arc Element) []Point {
	u, way := line.To.Minus(line.From).Unit(), arc.Centre.Minus(line.From)
	foot := line.From.Plus(u.Times(way.Dot(u)))
	return eitherSide(foot, u, arc.Radius, u.cross(way))
}

// circlesMeet: the common chord stands square on the line of centres.
func circlesMeet(a, b Element) ([]Point, bool) {
	between := b.Centre.Minus(a.Centre)
	d, ra, rb := between.Length(), math.Abs(a.Radius), math.Abs(b.Radius)
	if d <= touching {
		return nil, math.Abs(ra-rb) <= touching
	}
	u := between.Unit()
	// Distance of the chord from the first centre: (d² + ra² - rb²)/2d, written so that near radii keep their digits.
	along := (d + float64((ra-rb)/d*(ra+rb))) / 2
	return eitherSide(a.Centre.Plus(u.Times(along)), u.Right(), ra, along), false
}

// eitherSide are the two points of a circle of radius r whose chord runs along u through foot, off away from the centre;
// one where the chord only just touches; none where it misses by more than touching.
func eitherSide(foot Point, u Vector, r, off float64) []Point {
	r, off = math.Abs(r), math.Abs(off)
	if off > r+touching {
		return nil
	}
	half := math.Sqrt(math.Max(float64((r-off)*(r+off)), 0))
	if half == 0 {
		return []Point{foot}
	}
	return []Point{foot.Plus(u.Times(-half)), foot.Plus(u.Times(half))}
}

// box is a rectangle in plan that holds an element.
type box struct{ west, south, east, north float64 }

func (e Element) box() box {
	b := box{min(e.From.E, e.To.E), min(e.From.N, e.To.N), max(e.From.E, e.To.E), max(e.From.N, e.To.N)}
	if e.Radius == 0 {
		return b.grown(touching)
	}
	r := math.Abs(e.Radius)
	if e.Sweep >= math.Pi {
		return box{e.Centre.E - r, e.Centre.N - r, e.Centre.E + r, e.Centre.N + r}.grown(touching)
	}
	return b.grown(touching + float64(r*(1-math.Cos(e.Sweep/2))))
}

func (b box) grown(by float64) box {
	return box{b.west - by, b.south - by, b.east + by, b.north + by}
}

func (b box) overlaps(c box) bool {
	return b.west <= c.east && c.west <= b.east && b.south <= c.north && c.south <= b.north
}
