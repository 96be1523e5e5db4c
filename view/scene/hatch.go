package scene

import (
	"fmt"
	"math"
	"slices"
)

// hatchSpacing is the usual distance between lines, and the least that a
// printer keeps apart, in mm.
const (
	hatchSpacing    = 1.5
	minHatchSpacing = 0.2
	hatchTolerance  = 0.02
)

// hatched is a pattern cut to an area, as one outline of open strokes, with the
// pen to draw it. What lies off the page is left out.
func hatched(area Outline, m Hatch, page Box) (Outline, Stroke, error) {
	pen, step := m.Stroke, m.Spacing
	if step == 0 {
		step = hatchSpacing
	}
	if !(step >= minHatchSpacing && step <= maxPage) {
		return nil, pen, fmt.Errorf("a hatch with lines %v mm apart would print as a blot; the least is %v mm", step, minHatchSpacing)
	}
	if pen.Width == 0 {
		pen.Width = Fine
		if m.Pattern == Stone {
			pen.Width = 3 * Fine
		}
	}
	a := newHatchArea(area, page)
	switch m.Pattern {
	case NoHatch:
		return nil, pen, nil
	case Diagonal:
		return a.lines(45, step), pen, nil
	case Backward:
		return a.lines(-45, step), pen, nil
	case CrossHatch:
		return append(a.lines(45, step), a.lines(-45, step)...), pen, nil
	case Uprights:
		return a.lines(90, step), pen, nil
	case Levels:
		return a.lines(0, step), pen, nil
	case Stone:
		pen.Round, pen.Dash = true, nil
		return a.dots(step, float64(pen.Width/2)), pen, nil
	case Soil:
		return a.threes(step), pen, nil
	}
	return nil, pen, fmt.Errorf("no hatch is called %q; there are %q, %q, %q, %q, %q, %q and %q",
		m.Pattern, Diagonal, Backward, CrossHatch, Uprights, Levels, Stone, Soil)
}

// hatchArea is the edges of an area and of the page round it.
type hatchArea struct {
	edges [][2]Point
	page  Box
}

func newHatchArea(area Outline, page Box) hatchArea {
	a := hatchArea{page: page}
	for _, c := range area.Flat(hatchTolerance) {
		for i, p := range c.Points {
			a.edges = append(a.edges, [2]Point{p, c.Points[(i+1)%len(c.Points)]})
		}
	}
	return a
}

// span is a stretch along a hatch line.
type span struct{ from, to float64 }

// rays are the parallel lines in a direction, counted by their distance from
// the page's corner. Each knows the stretches of it that lie in the area.
type rays struct {
	along, across Point
	step          float64
	first         int
	spans         [][]span // by line, from first
}

// cut lays lines in a direction and pairs up their crossings with the edges
// (even-odd). An edge owns its lower end only, so that a line through a corner
// is counted once. shift moves every line across.
func (a hatchArea) cut(degrees, step, shift float64) rays {
	along := Direction(degrees)
	r := rays{along: along, across: along.Left().Times(-1), step: step}
	low, high := math.Inf(1), math.Inf(-1)
	for _, e := range a.edges {
		d := dot(e[0], r.across)
		low, high = math.Min(low, d), math.Max(high, d)
	}
	pageLow, pageHigh := math.Inf(1), math.Inf(-1)
	for _, c := range a.page.corners() {
		d := dot(c, r.across)
		pageLow, pageHigh = math.Min(pageLow, d), math.Max(pageHigh, d)
	}
	low, high = math.Max(low, pageLow), math.Min(high, pageHigh)
	if !(high > low) {
		return r
	}
	r.first = int(math.Ceil((low - shift) / step))
	last := int(math.Floor((high - shift) / step))
	crossings := make([][]float64, max(0, last-r.first+1))
	for _, e := range a.edges {
		d0, d1 := dot(e[0], r.across), dot(e[1], r.across)
		if d0 > d1 {
			e[0], e[1], d0, d1 = e[1], e[0], d1, d0
		}
		from := max(math.Ceil((d0-shift)/step), float64(r.first))
		to := min(math.Floor((d1-shift)/step), float64(last))
		for k := from; k <= to; k++ {
			d := float64(k*step) + shift
			if d >= d0 && d < d1 {
				p := between(e[0], e[1], (d-d0)/(d1-d0))
				crossings[int(k)-r.first] = append(crossings[int(k)-r.first], dot(p, along))
			}
		}
	}
	r.spans = make([][]span, len(crossings))
	for i, xs := range crossings {
		slices.Sort(xs)
		for j := 0; j+1 < len(xs); j += 2 {
			r.spans[i] = append(r.spans[i], span{xs[j], xs[j+1]})
		}
	}
	return r
}

func (r rays) at(k int, shift, along float64) Point {
	return r.across.Times(float64(float64(k)*r.step) + shift).Add(r.along.Times(along))
}

func (a hatchArea) lines(degrees, step float64) Outline {
	var o Outline
	r := a.cut(degrees, step, 0)
	for i, spans := range r.spans {
		for _, s := range spans {
			o.Move(r.at(r.first+i, 0, s.from))
			o.Line(r.at(r.first+i, 0, s.to))
		}
	}
	return o
}

// dots are strokes of no length, to be drawn with a round pen: staggered rows,
// each dot whole inside the area.
func (a hatchArea) dots(step, radius float64) Outline {
	const dotLength = 0.002 // not 0: some readers of SVG and PDF drop an empty stroke
	var o Outline
	row := step * 0.866
	middle := a.cut(0, row, 0)
	upper, lower := a.cut(0, row, -radius), a.cut(0, row, radius)
	for i, spans := range middle.spans {
		k := middle.first + i
		stagger := float64(float64(k&1) * step / 2)
		for _, s := range common(common(spans, upper.line(k)), lower.line(k)) {
			for n := math.Ceil((s.from + radius - stagger) / step); ; n++ {
				x := float64(n*step) + stagger
				if x > s.to-radius {
					break
				}
				o.Move(middle.at(k, 0, x-dotLength/2))
				o.Line(middle.at(k, 0, x+dotLength/2))
			}
		}
	}
	return o
}

func (r rays) line(k int) []span {
	if k < r.first || k >= r.first+len(r.spans) {
		return nil
	}
	return r.spans[k-r.first]
}

// threes are short rising strokes by threes, every other group set off.
func (a hatchArea) threes(step float64) Outline {
	const group, drawn = 6, 3
	var o Outline
	r := a.cut(45, step/2, 0)
	period, length := float64(4*step), float64(1.6*step)
	for i, spans := range r.spans {
		k := r.first + i
		in := ((k % group) + group) % group
		if in >= drawn {
			continue
		}
		shift := float64(float64(((k-in)/group)&1) * period / 2)
		for _, s := range spans {
			for n := math.Floor((s.from - shift) / period); ; n++ {
				from := float64(n*period) + shift
				if from > s.to {
					break
				}
				from, to := math.Max(from, s.from), math.Min(from+length, s.to)
				if from < to {
					o.Move(r.at(k, 0, from))
					o.Line(r.at(k, 0, to))
				}
			}
		}
	}
	return o
}

// common is what two rows of stretches share.
func common(a, b []span) []span {
	var c []span
	for i, j := 0, 0; i < len(a) && j < len(b); {
		s := span{math.Max(a[i].from, b[j].from), math.Min(a[i].to, b[j].to)}
		if s.from < s.to {
			c = append(c, s)
		}
		if a[i].to < b[j].to {
			i++
		} else {
			j++
		}
	}
	return c
}
