package route

import (
	"math"
	"slices"
	"sort"

	"trenchwright/base/measure"
)

// Line is an alignment: a chain of straights and arcs that nothing changes any more. Its Points are grid, its chainages
// run on the ground from 0 to Length. The zero value is a line without elements and without length.
type Line struct {
	elements []Element
	scale    float64 // combined scale factor, grid / ground; 0 stands for 1
}

// Stretch is a part of a line with one curvature.
type Stretch struct {
	From, To measure.Length // chainages
	Radius   measure.Length // on the ground, right turn positive; 0: straight
}

// Kink is a joint of two elements at which the line turns.
type Kink struct {
	Chainage   measure.Length
	At         Point
	Deflection measure.Angle // right positive
}

// newLine gives the elements their chainages.
func newLine(elements []Element, scale float64) Line {
	l := Line{slices.Clone(elements), scale}
	l.chainages()
	return l
}

// chainages rounds the chainage of every joint once, from a compensated sum of grid lengths (Neumaier 1974), so that
// an element's error never reaches its neighbour and starts and lengths add up to the nanometre.
func (l *Line) chainages() {
	var sum, lost float64
	start := measure.Length(0)
	for i := range l.elements {
		add := l.elements[i].gridLength()
		t := sum + add
		if sum >= add {
			lost += (sum - t) + add
		} else {
			lost += (add - t) + sum
		}
		sum = t
		end := toLength((sum + lost) / l.Scale())
		l.elements[i].Start, l.elements[i].Length = start, end-start
		start = end
	}
}

// Scale is the combined scale factor that the chainages were made with: ground = grid / Scale.
func (l Line) Scale() float64 {
	if l.scale == 0 {
		return 1
	}
	return l.scale
}

// Scaled is the same line with ground lengths by the combined scale factor given; the Points stay.
func (l Line) Scaled(factor float64) (Line, error) {
	if err := checkFactor(factor); err != nil {
		return Line{}, err
	}
	return newLine(l.elements, factor), nil
}

// Length is the length on the ground.
func (l Line) Length() measure.Length {
	if len(l.elements) == 0 {
		return 0
	}
	return l.elements[len(l.elements)-1].End()
}

// Elements are the elements in order, with their chainages.
func (l Line) Elements() []Element { return slices.Clone(l.elements) }

// Start is the pose at chainage 0.
func (l Line) Start() Pose { return l.At(0) }

// End is the pose at Length.
func (l Line) End() Pose { return l.At(l.Length()) }

// furthest keeps the differences of chainages within measure.Length.
const furthest = measure.Length(4e18)

// At is the pose at a chainage. Before the start and past the end the line goes straight on.
func (l Line) At(ch measure.Length) Pose {
	if len(l.elements) == 0 {
		return Pose{}
	}
	ch = min(max(ch, -furthest), furthest)
	e := l.elements[l.find(ch)]
	switch s := l.grid(ch - e.Start); {
	case ch < e.Start:
		p := e.first()
		return Pose{p.At.Plus(p.Along.Times(s)), p.Along}
	case ch >= e.End():
		p := e.last()
		return Pose{p.At.Plus(p.Along.Times(l.grid(ch - e.End()))), p.Along}
	default:
		return e.at(s)
	}
}

// find is the index of the element that holds ch; at a joint the later one.
func (l Line) find(ch measure.Length) int {
	i := sort.Search(len(l.elements), func(i int) bool { return l.elements[i].Start > ch })
	return max(i-1, 0)
}

// Beside is the point at a chainage and an offset, both on the ground, right positive.
func (l Line) Beside(ch, offset measure.Length) Point { return l.At(ch).Beside(l.grid(offset)) }

// grid is a ground length in grid metres.
func (l Line) grid(d measure.Length) float64 { return float64(d.Metres() * l.Scale()) }

// ground is grid metres as a ground length, rounded to the nanometre.
func (l Line) ground(m float64) measure.Length { return toLength(m / l.Scale()) }

// Stretches are the parts of one curvature; neighbours of equal radius are one stretch.
func (l Line) Stretches() []Stretch {
	var out []Stretch
	for _, e := range l.elements {
		r := l.ground(e.Radius)
		if n := len(out); n > 0 && out[n-1].Radius == r {
			out[n-1].To = e.End()
			continue
		}
		out = append(out, Stretch{e.Start, e.End(), r})
	}
	return out
}

// Kinks are the joints at which the line turns by more than within.
func (l Line) Kinks(within measure.Angle) []Kink {
	var out []Kink
	for i := 1; i < len(l.elements); i++ {
		turn := l.elements[i-1].last().Along.turn(l.elements[i].first().Along)
		if math.Abs(turn) > within.Radians() {
			out = append(out, Kink{l.elements[i].Start, l.elements[i].From, measure.FromRadians(turn)})
		}
	}
	return out
}

// Split cuts the line at every kink of more than within.
func (l Line) Split(within measure.Angle) []Line {
	var out []Line
	from := 0
	for i := 1; i <= len(l.elements); i++ {
		if i < len(l.elements) {
			turn := l.elements[i-1].last().Along.turn(l.elements[i].first().Along)
			if math.Abs(turn) <= within.Radians() {
				continue
			}
		}
		out = append(out, newLine(l.elements[from:i], l.scale))
		from = i
	}
	return out
}

// Reversed is the line run the other way.
func (l Line) Reversed() Line {
	back := make([]Element, 0, len(l.elements))
	for _, e := range slices.Backward(l.elements) {
		back = append(back, e.reversed())
	}
	return newLine(back, l.scale)
}

// Points are points along the line between two chainages, for drawing: both ends, every joint, and on arcs so many that
// a chord leaves its arc by no more than sagitta grid metres.
func (l Line) Points(from, to measure.Length, sagitta float64) []Point {
	from, to = max(from, 0), min(to, l.Length())
	if len(l.elements) == 0 || from > to {
		return nil
	}
	out := []Point{l.At(from).At}
	for i := l.find(from); i < len(l.elements) && l.elements[i].Start < to; i++ {
		e := l.elements[i]
		s0 := l.grid(max(from-e.Start, 0))
		s1 := l.grid(min(to, e.End()) - e.Start)
		n := chords(e.Radius, s1-s0, sagitta)
		for k := 1; k < n; k++ {
			out = append(out, e.at(s0+float64((s1-s0)*float64(k))/float64(n)).At)
		}
		if to >= e.End() {
			out = append(out, e.To)
		} else {
			out = append(out, e.at(s1).At)
		}
	}
	return out
}

// chords is the least number of chords, at most 10 000, that stay within sagitta of an arc: s = R(1 - cos(half angle)).
func chords(radius, length, sagitta float64) int {
	const most = 10_000
	r := math.Abs(radius)
	if r == 0 || length <= 0 {
		return 1
	}
	if !(sagitta > 0) {
		return most
	}
	half := math.Acos(max(1-sagitta/r, -1))
	return int(min(max(math.Ceil(length/r/(2*half)), 1), most))
}
