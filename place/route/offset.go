package route

import (
	"math"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// Offset is the parallel line at an offset on the ground, right positive. Straights move, arcs change their radius, and
// at a kink both sides are trimmed or lengthened to where they meet: by offset·tan(θ/2) between straights. What is left
// of no element is refused: an arc whose radius the offset eats up, a side shorter than its corners take.
func (l Line) Offset(offset measure.Length) (Line, error) {
	off := l.grid(offset)
	if math.Abs(off) > Reach {
		return Line{}, Refusals{refuse("offset", -1, "an offset of %s is more than %s", far(off), far(Reach))}
	}
	var faults Refusals
	moved := make([]Element, len(l.elements))
	for i, e := range l.elements {
		m, ok := e.beside(off)
		if !ok {
			r := refuse("offset-eats-arc", i, "a line %s to the %s of it cannot follow the %s at %s %s",
				far(math.Abs(off)), hand(off), e, wording.Chainage, wording.Far(e.Start))
			faults = append(faults, r.against(far(math.Abs(e.Radius)), far(math.Abs(off))))
		}
		moved[i] = m
	}
	if len(faults) > 0 {
		return Line{}, faults
	}
	for i := 1; i < len(moved); i++ {
		if r, ok := join(&moved[i-1], &moved[i], l.elements[i-1], l.elements[i], off); !ok {
			r.Vertex = i
			faults = append(faults, r)
		}
	}
	for i := range moved {
		if faults == nil && !moved[i].follows(l.elements[i]) {
			r := refuse("offset-eats-side", i, "a line %s to the %s leaves nothing of the %s at %s %s",
				far(math.Abs(off)), hand(off), l.elements[i], wording.Chainage, wording.Far(l.elements[i].Start))
			faults = append(faults, r)
		}
	}
	if len(faults) > 0 {
		return Line{}, faults
	}
	return newLine(moved, l.scale), nil
}

func hand(off float64) string {
	if off < 0 {
		return "left"
	}
	return "right"
}

// beside is e moved off grid metres to the right; ok is false where no arc is left.
func (e Element) beside(off float64) (Element, bool) {
	first, last := e.first(), e.last()
	m := Element{From: first.Beside(off), To: last.Beside(off), Centre: e.Centre, Sweep: e.Sweep}
	if e.Radius == 0 {
		return m, true
	}
	m.Radius = e.Radius - off
	ok := math.Signbit(m.Radius) == math.Signbit(e.Radius) && math.Abs(m.Radius) >= Least && math.Abs(m.Radius) <= Reach
	return m, ok
}

// join lets two moved neighbours end where they meet; a and b are what they were before.
func join(in, out *Element, a, b Element, off float64) (Refusal, bool) {
	turn := a.last().Along.turn(b.first().Along)
	switch {
	case in.To.Distance(out.From) <= nearEnough:
		out.From = in.To
		return Refusal{}, true
	case math.Pi-math.Abs(turn) < Smooth.Radians():
		return refuse("turns-back", 0, "the line turns back on itself at %s %s", wording.Chainage, wording.Far(b.Start)), false
	}
	at, ok := corner(*in, *out, turn, off)
	if !ok {
		r := refuse("offset-corner", 0, "%s to the %s, the %s and the %s beside the kink at %s %s do not meet",
			far(math.Abs(off)), hand(off), a, b, wording.Chainage, wording.Far(b.Start))
		return r.trying("draw the %s there", wording.Centreline), false
	}
	in.ends(at)
	out.starts(at)
	return Refusal{}, true
}

// corner is where two moved neighbours meet: between straights off·tan(turn/2) from their ends, else where their
// carriers meet nearest to those ends. Two that only just turn share the point half way.
func corner(in, out Element, turn, off float64) (Point, bool) {
	middle := in.To.Plus(out.From.Minus(in.To).Times(0.5))
	if in.Radius == 0 && out.Radius == 0 {
		return in.To.Plus(in.last().Along.Times(-float64(off * math.Tan(turn/2)))), true
	}
	if math.Abs(turn) <= Smooth.Radians() {
		return middle, true
	}
	points, _ := carriersMeet(in, out)
	best, found := Point{}, false
	for _, p := range points {
		if !found || p.Distance(middle) < best.Distance(middle) {
			best, found = p, true
		}
	}
	return best, found
}

// ends and starts let e end or start at p; an arc keeps its centre where p lies on it, and its turn otherwise.
func (e *Element) ends(p Point)   { *e = e.between(e.From, p) }
func (e *Element) starts(p Point) { *e = e.between(p, e.To) }

func (e Element) between(from, to Point) Element {
	if e.Radius == 0 {
		return Straight(from, to)
	}
	cut := Arc(from, to, e.Centre, e.Radius > 0)
	cut.Radius = e.Radius
	if miss := math.Abs(to.Distance(e.Centre) - from.Distance(e.Centre)); miss > nearEnough {
		cut, _ = settled(cut)
	}
	return cut
}

// follows tells whether e still runs the way of the element it was made of, and is one.
func (e Element) follows(was Element) bool {
	if e.gridLength() < Least {
		return false
	}
	if e.Radius == 0 {
		return e.To.Minus(e.From).Dot(was.last().Along) > 0
	}
	return was.Radius != 0 && math.Abs(e.Sweep-was.Sweep) < math.Pi
}
