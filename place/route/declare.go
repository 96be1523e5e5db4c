package route

import (
	"fmt"
	"math"

	"trenchwright/base/measure"
)

// Vertices are corners and radii that draw the line again through Polyline: every arc becomes a vertex where its tangents
// meet (an arc of more than 90° several), every joint at which straights turn a vertex without a radius. Joints at which
// an arc turns by no more than Smooth are made tangent; off is how far the line drawn from the vertices then leaves this
// one.
func (l Line) Vertices() (vertices []Vertex, off measure.Length, err error) {
	if len(l.elements) == 0 {
		return nil, 0, Refusals{refuse("too-few-points", -1, "the line has no elements")}
	}
	vertices = []Vertex{{At: l.elements[0].From}}
	for i, e := range l.elements {
		if e.Radius != 0 {
			vertices = append(vertices, tangentPoints(e)...)
		}
		if i == len(l.elements)-1 || l.cornerAfter(i) {
			vertices = append(vertices, Vertex{At: e.To})
		}
	}
	shrinkToFit(vertices)
	drawn, err := Polyline(vertices)
	if err != nil {
		return nil, 0, err
	}
	worst := 0.0
	for _, e := range l.elements {
		length := e.gridLength()
		for _, p := range []Point{e.From, e.at(length / 4).At, e.at(length / 2).At, e.at(length * 3 / 4).At, e.To} {
			if feet := drawn.Nearest(p, 0); len(feet) > 0 {
				worst = math.Max(worst, feet[0].Distance.Metres())
			}
		}
	}
	return vertices, toLength(worst), nil
}

// cornerAfter tells whether a vertex stands at the end of element i: where two straights meet, or where the line turns.
func (l Line) cornerAfter(i int) bool {
	a, b := l.elements[i], l.elements[i+1]
	if a.Radius == 0 && b.Radius == 0 {
		return true
	}
	return math.Abs(a.last().Along.turn(b.first().Along)) > Smooth.Radians()
}

// tangentPoints are the vertices of an arc, each for 90° at most.
func tangentPoints(e Element) []Vertex {
	pieces := int(math.Ceil(e.Sweep / (math.Pi / 2) * (1 - 1e-12)))
	r := math.Abs(e.Radius)
	piece := e.gridLength() / float64(pieces)
	tangent := float64(r * math.Tan(e.Sweep/float64(pieces)/2))
	out := make([]Vertex, pieces)
	for k := range out {
		start := e.at(float64(piece * float64(k)))
		out[k] = Vertex{start.At.Plus(start.Along.Times(tangent)), r}
	}
	return out
}

// shrinkToFit takes from radii what rounding left too much for arcs that touch.
func shrinkToFit(vertices []Vertex) {
	tangent := func(i int) float64 {
		if i == 0 || i == len(vertices)-1 || vertices[i].Radius == 0 {
			return 0
		}
		in, out := vertices[i].At.Minus(vertices[i-1].At), vertices[i+1].At.Minus(vertices[i].At)
		return float64(vertices[i].Radius * math.Tan(math.Abs(in.turn(out))/2))
	}
	for i := 1; i < len(vertices); i++ {
		room, need := vertices[i].At.Distance(vertices[i-1].At), tangent(i-1)+tangent(i)
		if need > room {
			vertices[i-1].Radius *= room / need
			vertices[i].Radius *= room / need
		}
	}
}

// Declare makes the input of a run from one line: a node at each end and at each kink of more than within, a leg between
// two of them. Nodes are called prefix1, prefix2 …, legs A, B … Z, AA …; a line that ends where it began ends at its first
// node. off is what Vertices says, the greatest of all legs.
func Declare(l Line, prefix string, within measure.Angle) (in Input, off measure.Length, err error) {
	parts := l.Split(within)
	if len(parts) == 0 {
		return Input{}, 0, Refusals{refuse("too-few-points", -1, "the line has no elements")}
	}
	node := func(i int) string { return fmt.Sprintf("%s%d", prefix, i+1) }
	last := node(len(parts))
	closed := len(parts) > 1 && l.End().At.Distance(l.Start().At) <= measure.Millimetre.Metres()
	if closed {
		last = node(0)
	}
	for i, part := range parts {
		vertices, o, err := part.Vertices()
		if err != nil {
			return Input{}, 0, err
		}
		off = max(off, o)
		in.Nodes = append(in.Nodes, NodeInput{ID: node(i), At: vertices[0].At})
		to := node(i + 1)
		if i == len(parts)-1 {
			to = last
		}
		in.Legs = append(in.Legs, LegInput{ID: LegName(i), From: node(i), To: to, Via: vertices[1 : len(vertices)-1]})
	}
	if !closed {
		in.Nodes = append(in.Nodes, NodeInput{ID: last, At: l.End().At})
	}
	return in, off, nil
}

// LegName is the name of a leg by its number from 0, where nobody gave one: A … Z, AA, AB …
func LegName(i int) string {
	text := ""
	for i++; i > 0; i = (i - 1) / 26 {
		text = string(rune('A'+(i-1)%26)) + text
	}
	return text
}

// LegMeeting is a place where a line crosses or touches a leg.
type LegMeeting struct {
	Leg int // index of Network.Legs
	Meeting
}

// Meet finds every place where a line crosses or touches a leg: a road's axis, a service. By leg, then by chainage.
func (n Network) Meet(line Line) []LegMeeting {
	var out []LegMeeting
	for i, leg := range n.Legs {
		for _, m := range leg.Line.Meet(line) {
			out = append(out, LegMeeting{i, m})
		}
	}
	return out
}
