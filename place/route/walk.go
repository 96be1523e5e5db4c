package route

import (
	"fmt"
	"math"
	"strings"
	"unicode/utf8"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// WalkStart is where a walk begins. The zero value: at the origin, facing grid north.
type WalkStart struct {
	At      Point
	Bearing measure.Angle // clockwise from grid north
	Unit    measure.Unit  // of distances that state none; the zero value: each must state its own
	Scale   Scale         // distances are walked on the ground, points are grid
}

// Walked is a walk as it was understood.
type Walked struct {
	Vertices []Vertex // for Polyline, or for a leg: the first is its start and the last its end
	End      Pose
	Heard    []string // each step in words, with the line it stood on
}

// Limits of a walk: nobody writes more by hand.
const (
	mostSteps  = 10_000
	mostFaults = 50
)

// Walk reads a run told as a walk, one step a line or parted by semicolons; what follows # is a remark:
//
//	24.3 m                         straight on
//	right 90°                      a turn on the spot
//	left 45                        degrees where nothing else is said
//	arc right 30 m radius 45°      a curve: hand, radius, turn
//	bearing S68-05-35W             face that way
//
// All steps that cannot be read are found at once, up to 50.
func Walk(text string, start WalkStart) (Walked, finding.List) {
	w := &walker{start: start, at: start.At, facing: Towards(start.Bearing % (360 * measure.Degree))}
	if !start.At.Usable() {
		w.fault(step{line: 1, column: 1}, "the walk begins at (%v, %v), which is not a place within %.0f km of the origin", start.At.E, start.At.N, Reach/1000)
	}
	if start.Scale.Stated && checkFactor(start.Scale.Factor) != nil {
		w.fault(step{line: 1, column: 1}, "%s", checkFactor(start.Scale.Factor).Error())
	}
	w.vertices = []Vertex{{At: w.at}}
	w.corner = true
	for i, s := range steps(text) {
		if i == mostSteps {
			w.fault(s, "a walk has at most %d steps", mostSteps)
			break
		}
		w.take(s)
		if len(w.faults) == mostFaults {
			break
		}
	}
	if len(w.faults) == 0 {
		w.mark()
		if len(w.vertices) < 2 {
			w.fault(step{line: 1, column: 1}, "the walk goes nowhere")
		}
	}
	if len(w.faults) > 0 {
		return Walked{}, w.faults
	}
	return Walked{w.vertices, Pose{w.at, w.facing}, w.heard}, nil
}

// step is one step as it was written, and where.
type step struct {
	text         string
	line, column int // from 1, in characters
}

// steps parts a text at line ends and semicolons, drops remarks and blanks.
func steps(text string) []step {
	var out []step
	line := 0
	for written := range strings.Lines(text) {
		line++
		written, _, _ = strings.Cut(written, "#")
		column := 1
		for part := range strings.SplitSeq(written, ";") {
			lead := len(part) - len(strings.TrimLeft(part, " \t\r\n\ufeff"))
			if s := strings.TrimSpace(part[lead:]); s != "" {
				out = append(out, step{s, line, column + utf8.RuneCountInString(part[:lead])})
			}
			column += utf8.RuneCountInString(part) + 1
		}
	}
	return out
}

// walker is somebody on the way.
type walker struct {
	start    WalkStart
	at       Point
	facing   Vector
	corner   bool // a vertex without radius stands at at
	vertices []Vertex
	heard    []string
	faults   finding.List
}

func (w *walker) fault(s step, text string, args ...any) {
	w.faults = append(w.faults, finding.Finding{
		ID: "route.walk", Kind: finding.Fault, Text: fmt.Sprintf(text, args...),
		Where: finding.Where{Line: s.line, Column: s.column, Excerpt: s.text + "\n^"},
		Try:   "one step a line: 24.3 m, right 90°, arc right 30 m radius 45°, bearing N30E",
	})
}

func (w *walker) hear(s step, text string, args ...any) {
	w.heard = append(w.heard, fmt.Sprintf("line %d: ", s.line)+fmt.Sprintf(text, args...))
}

func (w *walker) take(s step) {
	first, rest, _ := strings.Cut(strings.ToLower(s.text), " ")
	switch first {
	case "right", "left":
		w.turn(s)
	case "arc":
		w.arc(s, rest)
	case "bearing":
		w.face(s, strings.TrimSpace(s.text[len(first):]))
	default:
		w.straight(s)
	}
}

// length reads a length that goes somewhere, as grid metres.
func (w *walker) length(s step, text string) (float64, measure.Reading, bool) {
	r, err := measure.ParseIn(text, w.start.Unit)
	if err != nil {
		w.fault(s, "%s", err.Error())
		return 0, r, false
	}
	if m := r.Length.Metres(); m < Least || m > Reach {
		w.fault(s, "%s is not a length to walk; from %.0f µm to %.0f km", r.As, Least*1e6, Reach/1000)
		return 0, r, false
	}
	return float64(r.Length.Metres() * w.start.Scale.factor()), r, true
}

func (w *walker) straight(s step) {
	d, r, ok := w.length(s, s.text)
	if !ok {
		return
	}
	w.onward(s, d)
	w.hear(s, "straight on %s", r.As)
}

// onward moves on by d grid metres.
func (w *walker) onward(s step, d float64) {
	w.at, w.corner = w.at.Plus(w.facing.Times(d)), false
	if !w.at.Usable() {
		w.fault(s, "the walk leaves the %.0f km around the origin", Reach/1000)
		w.at = w.start.At
	}
}

// mark sets a vertex where the walker stands, unless one stands there.
func (w *walker) mark() {
	if !w.corner {
		w.vertices = append(w.vertices, Vertex{At: w.at})
		w.corner = true
	}
}

func (w *walker) turn(s step) {
	a, err := measure.ParseDegrees(s.text)
	if err != nil {
		w.fault(s, "%s", err.Error())
		return
	}
	if absolute(a.Value) > 180*measure.Degree {
		w.fault(s, "%s is more than half round", a.As)
		return
	}
	w.mark()
	w.facing = w.facing.Turned(a.Value.Radians())
	w.hear(s, "turn %s", a.As)
}

func (w *walker) face(s step, text string) {
	b, err := measure.ParseBearing(text)
	if err != nil {
		w.fault(s, "%s", err.Error())
		return
	}
	w.mark()
	w.facing = Towards(b.Value)
	w.hear(s, "face %s", b.As)
}

// arc reads "right 30 m radius 45°" and walks it as vertices of at most 90° each.
func (w *walker) arc(s step, text string) {
	way, rest, _ := strings.Cut(strings.TrimSpace(text), " ")
	radius, angle, stated := strings.Cut(rest, "radius")
	if way != "right" && way != "left" || !stated {
		w.fault(s, "cannot read %q as an arc: left or right, a radius and a turn were expected", s.text)
		return
	}
	r, said, ok := w.length(s, radius)
	if !ok {
		return
	}
	a, err := measure.ParseDegrees(strings.TrimSpace(angle))
	if err != nil {
		w.fault(s, "%s", err.Error())
		return
	}
	if a.Value <= 0 || a.Value > 360*measure.Degree {
		w.fault(s, "an arc turns by more than 0° and at most 360°, not by %s; left or right is said before the radius", a.As)
		return
	}
	turn := a.Value.Radians()
	if float64(r*turn) < Least {
		w.fault(s, "the arc is shorter than %.0f µm", Least*1e6)
		return
	}
	if way == "left" {
		turn = -turn
	}
	w.bend(s, r, turn)
	w.hear(s, "arc to the %s, radius %s, turn %s", way, said.As, a.As)
}

func (w *walker) bend(s step, radius, turn float64) {
	pieces := math.Ceil(math.Abs(turn) / (math.Pi / 2) * (1 - 1e-12))
	each := turn / pieces
	tangent := float64(radius * math.Tan(math.Abs(each)/2))
	for range int(pieces) {
		w.onward(s, tangent)
		w.vertices = append(w.vertices, Vertex{w.at, radius})
		w.facing = w.facing.Turned(each)
		w.onward(s, tangent)
	}
}
