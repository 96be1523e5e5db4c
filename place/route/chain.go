package route

import (
	"math"

	"trenchwright/base/wording"
)

// widest is the greatest turn of one arc: beyond it the two ends lie so near each other that they no longer say where
// the centre is.
const widest = 350 * math.Pi / 180

// Chain joins straights and arcs that somebody else made into a line, as an alignment file holds them. An element may
// begin up to gap grid metres from where the one before ended, and an arc's end may miss its radius by as much: both
// are then closed by moving the start of the later element, and the arc keeps its ends. More is refused.
func Chain(elements []Element, gap float64) (Line, error) {
	var faults Refusals
	if len(elements) == 0 {
		return Line{}, Refusals{refuse("too-few-points", -1, "a line needs at least one straight or arc, none given")}
	}
	if !(gap >= 0 && gap <= Reach) {
		return Line{}, Refusals{refuse("bad-gap", -1, "elements may not be %v m apart", gap)}
	}
	joined := make([]Element, 0, len(elements))
	total := 0.0
	for i, e := range elements {
		if r, ok := checkElement(e, i, gap); !ok {
			faults = append(faults, r)
			continue
		}
		if i > 0 && elements[i-1].To.Usable() {
			apart := e.From.Distance(elements[i-1].To)
			if apart > gap {
				r := refuse("gap-in-line", i, "element %d begins %s from the end of element %d", i+1, far(apart), i)
				faults = append(faults, r.against(far(gap), far(apart)))
				continue
			}
			e.From = elements[i-1].To
		}
		if e, ok := settled(e); ok {
			total += e.gridLength()
			joined = append(joined, e)
		}
	}
	switch {
	case len(faults) > 0:
		return Line{}, faults
	case len(joined) == 0:
		return Line{}, Refusals{refuse("no-length", -1, "the line has no length")}
	case total > Longest:
		return Line{}, Refusals{tooLong(total)}
	}
	return newLine(joined, 0), nil
}

func checkElement(e Element, i int, gap float64) (Refusal, bool) {
	if !e.From.Usable() || !e.To.Usable() {
		return refuse("bad-point", i, "element %d from (%v, %v) to (%v, %v) is not within %.0f km of the origin",
			i+1, e.From.E, e.From.N, e.To.E, e.To.N, Reach/1000), false
	}
	if e.Radius == 0 {
		if e.From.Distance(e.To) < Least {
			return refuse("same-point", i, "element %d is a straight without length", i+1), false
		}
		return Refusal{}, true
	}
	r := math.Abs(e.Radius)
	if !(r >= Least && r <= Reach) || !e.Centre.Usable() || !(e.Sweep > 0 && e.Sweep <= widest) {
		f := refuse("bad-arc", i, "element %d is no arc that can be drawn: radius %v m, turn %s", i+1, e.Radius, degrees(e.Sweep))
		return f.against(degrees(widest), degrees(e.Sweep)).trying("two arcs for a full circle"), false
	}
	if e.gridLength() < Least {
		return refuse("same-point", i, "element %d is an arc without length", i+1), false
	}
	miss := math.Max(math.Abs(e.From.Distance(e.Centre)-r), math.Abs(e.To.Distance(e.Centre)-r))
	if miss > gap {
		f := refuse("arc-misses", i, "element %d: the ends of the arc lie %s off its radius of %s", i+1, far(miss), far(r))
		return f.against(far(gap), far(miss)), false
	}
	return Refusal{}, true
}

// settled makes an arc pass exactly through its two ends: the turn stays, radius and centre follow from the chord, so
// that rounded coordinates leave no step in the line. ok is false when nothing is left of the element.
func settled(e Element) (Element, bool) {
	chord := e.To.Minus(e.From)
	length := chord.Length()
	if length < Least && (e.Radius == 0 || e.Sweep < math.Pi) {
		return e, false
	}
	if e.Radius == 0 {
		return e, true
	}
	half := e.Sweep / 2
	r := length / (2 * math.Sin(half))
	if !(r <= Reach) {
		return Straight(e.From, e.To), length >= Least
	}
	// The centre lies on the chord's bisector, r·cos(half) to the turning side (beyond the chord past half a circle).
	side := math.Copysign(1, e.Radius)
	middle := e.From.Plus(chord.Times(0.5))
	e.Centre = middle.Plus(chord.Unit().Right().Times(side * float64(r*math.Cos(half))))
	e.Radius = side * r
	return e, true
}

// String tells an element in a sentence.
func (e Element) String() string { return e.in(wording.Speech{}) }

func (e Element) in(s wording.Speech) string {
	if e.Radius == 0 {
		return s.Say("straight of %s", far(e.gridLength()))
	}
	hand := "left"
	if e.Radius > 0 {
		hand = "right"
	}
	return s.Say("arc of %s to the %s, radius %s", far(e.gridLength()), hand, far(math.Abs(e.Radius)))
}
