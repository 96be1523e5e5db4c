package route

import (
	"fmt"
	"math"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// fits is how far two tangents may overlap and still meet, in metres: what float64 leaves of tangents that were made to
// meet exactly. The line is then off by no more.
const fits = 1e-6

// corner is what a vertex with a radius becomes.
type rounding struct {
	tangent float64 // from the vertex to each end of the arc
	turn    float64 // radians, right positive
}

// Polyline is the line through vertices, in order. A vertex with a radius becomes an arc that touches both neighbours;
// one without stays a kink. What cannot be is refused with a sentence for each vertex, all at once.
func Polyline(vertices []Vertex) (Line, error) {
	if faults := checkVertices(vertices); len(faults) > 0 {
		return Line{}, faults
	}
	sides := make([]Vector, len(vertices)-1)
	for i := range sides {
		sides[i] = vertices[i+1].At.Minus(vertices[i].At)
	}
	round, faults := roundings(vertices, sides)
	if len(faults) > 0 {
		return Line{}, faults
	}
	return newLine(elementsOf(vertices, sides, round), 0), nil
}

func checkVertices(vertices []Vertex) Refusals {
	var out Refusals
	if len(vertices) < 2 {
		return append(out, refuse("too-few-points", -1, "a line needs two points, %d given", len(vertices)))
	}
	total := 0.0
	for i, v := range vertices {
		if !v.At.Usable() {
			out = append(out, refuse("bad-point", i, "point %d (%v, %v) is not a place within %.0f km of the origin", i+1, v.At.E, v.At.N, Reach/1000))
			continue
		}
		if !(v.Radius >= 0 && v.Radius <= Reach) {
			out = append(out, refuse("bad-radius", i, "point %d has a radius of %v m; a radius is a number from 0 to %.0f m", i+1, v.Radius, Reach))
		} else if v.Radius > 0 && (i == 0 || i == len(vertices)-1) {
			out = append(out, refuse("radius-at-end", i, "point %d is an end of the line and has a radius of %s; nothing turns there", i+1, far(v.Radius)))
		}
		if i == 0 || !vertices[i-1].At.Usable() {
			continue
		}
		side := v.At.Distance(vertices[i-1].At)
		total += side
		if side < Least {
			r := refuse("same-point", i, "points %d and %d are the same place", i, i+1)
			out = append(out, r.trying("leave one of them out"))
		}
	}
	if total > Longest {
		out = append(out, tooLong(total))
	}
	return out
}

func tooLong(total float64) Refusal {
	r := refuse("too-long", -1, "a line of %.0f km is longer than %.0f km", total/1000, Longest/1000)
	return r.against(fmt.Sprintf("%.0f km", Longest/1000), fmt.Sprintf("%.0f km", total/1000))
}

// roundings are the arcs at the inner vertices, and what does not fit.
func roundings(vertices []Vertex, sides []Vector) ([]rounding, Refusals) {
	var faults Refusals
	round := make([]rounding, len(vertices))
	for i := 1; i < len(vertices)-1; i++ {
		in, out := sides[i-1].Unit(), sides[i].Unit()
		turn := in.turn(out)
		if math.Pi-math.Abs(turn) < Smooth.Radians() {
			r := refuse("turns-back", i, "the line turns back on itself at point %d", i+1)
			faults = append(faults, r.against(nil, degrees(turn)))
			continue
		}
		if float64(vertices[i].Radius*math.Abs(turn)) < 10*Least {
			continue // as good as straight on: an arc would hardly have a length
		}
		half := math.Abs(turn) / 2
		round[i] = rounding{float64(vertices[i].Radius * math.Tan(half)), turn}
	}
	for i, side := range sides {
		room, need := side.Length(), round[i].tangent+round[i+1].tangent
		if need <= room+fits {
			continue
		}
		r := refuse("arc-does-not-fit", i, "between points %d and %d the arcs need %s + %s of straight to touch, and there are %s",
			i+1, i+2, far(round[i].tangent), far(round[i+1].tangent), far(room)).against(far(room), far(need))
		r.try = fitting(vertices, i, room/need)
		faults = append(faults, r.In(wording.Speech{}))
	}
	return round, faults
}

// fitting names the radii that would just fit on side i, both shrunk alike.
func fitting(vertices []Vertex, i int, share float64) phrase {
	p := phrase{form: "a radius of at most"}
	sep := " "
	for k := i; k <= i+1; k++ {
		if r := vertices[k].Radius; r > 0 && k > 0 && k < len(vertices)-1 {
			p.form += sep + "%s at point %d"
			p.args = append(p.args, atMost(r*share), k+1)
			sep = " and "
		}
	}
	return p
}

// atMost is m metres for a sentence, rounded down: what is said still fits.
type atMost float64

func (m atMost) in(s wording.Speech) string {
	step := measure.Millimetre
	if s.Imperial {
		step = measure.Foot / 100
	}
	return s.Far(wording.Far(toLength(float64(m)) / step * step))
}

// elementsOf are the arcs at the vertices and the straights between them. Where next to nothing is left between an arc and
// its neighbour, the arc takes it: a straight of a few micrometres would have no direction to speak of.
func elementsOf(vertices []Vertex, sides []Vector, round []rounding) []Element {
	arcs := make([]Element, len(vertices)) // without radius where the vertex is none: both ends are the vertex
	for i, v := range vertices {
		arcs[i] = Straight(v.At, v.At)
		if t := round[i].tangent; t > 0 {
			along := sides[i-1].Unit()
			arcs[i] = tangentArc(v.At.Plus(along.Times(-t)), along, v.Radius, round[i].turn)
		}
	}
	elements := make([]Element, 0, 2*len(vertices))
	for i, side := range sides {
		left, right := &arcs[i], &arcs[i+1]
		gap := right.From.Minus(left.To).Dot(side.Unit())
		switch {
		case right.takes(gap):
			right.starts(left.To)
		case left.takes(gap):
			left.ends(right.From)
			elements[len(elements)-1] = *left
		default:
			elements = append(elements, Straight(left.To, right.From))
		}
		if right.Radius != 0 {
			elements = append(elements, *right)
		}
	}
	return elements
}

// takes tells whether an arc may take what is left before or behind it: it then turns by a hundred-thousandth more.
func (e Element) takes(gap float64) bool {
	const most = 1e-5 // metres, and radians
	return e.Radius != 0 && gap <= math.Max(float64(most*math.Min(1, math.Abs(e.Radius))), fits)
}

// tangentArc is the arc that leaves from in the direction along and turns by turn radians.
func tangentArc(from Point, along Vector, radius, turn float64) Element {
	if turn < 0 {
		radius = -radius
	}
	centre := from.Plus(along.Right().Times(radius))
	to := centre.Plus(from.Minus(centre).Turned(turn))
	return Element{From: from, To: to, Centre: centre, Radius: radius, Sweep: math.Abs(turn)}
}
