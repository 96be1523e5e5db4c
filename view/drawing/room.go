package drawing

import (
	"math"

	"trenchwright/view/scene"
)

// room is what is taken on a page. A label asks for a place among candidates and takes the first that is free: the order
// of asking is the order of importance, so the same page always comes out the same.
type room struct {
	within scene.Box // lettering stays inside; the zero box: anywhere
	words  []shape   // lettering: nothing may lie on it, no line may run through it
	things []shape   // units and fittings: no lettering on them, lines where it cannot be helped
	lines  []shape   // strokes: lettering keeps off them where it can
}

// candidate is one way to set a label: its marks, and the lines that come with it.
type candidate struct {
	marks []scene.Mark
	lines []shape
	heads []shape // what a leader points with: never on lettering
	far   bool    // to be tried when nothing nearer will do
}

// shape is a convex outline with its box.
type shape struct {
	points []scene.Point
	box    scene.Box
}

func convex(points ...scene.Point) shape {
	b := scene.Box{Left: math.Inf(1), Top: math.Inf(1), Right: math.Inf(-1), Bottom: math.Inf(-1)}
	for _, p := range points {
		b.Left, b.Top = math.Min(b.Left, p.X), math.Min(b.Top, p.Y)
		b.Right, b.Bottom = math.Max(b.Right, p.X), math.Max(b.Bottom, p.Y)
	}
	return shape{points, b}
}

func boxShape(b scene.Box) shape {
	return convex(b.Corner(), scene.Point{X: b.Right, Y: b.Top}, scene.Point{X: b.Right, Y: b.Bottom}, scene.Point{X: b.Left, Y: b.Bottom})
}

// meets reports whether two convex shapes reach into each other, by separating axes.
func (s shape) meets(t shape) bool {
	if s.box.Right < t.box.Left || t.box.Right < s.box.Left || s.box.Bottom < t.box.Top || t.box.Bottom < s.box.Top {
		return false
	}
	return !s.parted(t) && !t.parted(s)
}

// parted reports whether one of s's edges parts the two.
func (s shape) parted(t shape) bool {
	for i, p := range s.points {
		normal := s.points[(i+1)%len(s.points)].Sub(p).Left()
		if normal == (scene.Point{}) {
			continue
		}
		low, high := spread(s.points, normal)
		l, h := spread(t.points, normal)
		if h <= low+1e-9 || l >= high-1e-9 {
			return true
		}
	}
	return false
}

func spread(points []scene.Point, normal scene.Point) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range points {
		x := float64(p.X*normal.X) + float64(p.Y*normal.Y)
		low, high = math.Min(low, x), math.Max(high, x)
	}
	return low, high
}

func (s shape) meetsAny(all []shape) bool {
	for _, t := range all {
		if s.meets(t) {
			return true
		}
	}
	return false
}

func (s shape) inside(b scene.Box) bool {
	return b == (scene.Box{}) || s.box.Left >= b.Left && s.box.Right <= b.Right && s.box.Top >= b.Top && s.box.Bottom <= b.Bottom
}

// lettered is the lettering of marks as the page will set it, each line grown by a margin.
func lettered(margin float64, marks ...scene.Mark) []shape {
	return noted(margin, marks...).lines
}

// notes is a canvas that looks at lettering and at strokes.
type notes struct {
	margin  float64
	lines   []shape // of lettering
	strokes []shape
}

// Shape notes the straight pieces of what is stroked.
func (n *notes) Shape(o scene.Outline, _ scene.Colour, pen scene.Stroke) {
	if pen.Width == 0 {
		return
	}
	for _, c := range o.Flat(0.1) {
		for i := 1; i < len(c.Points); i++ {
			n.strokes = append(n.strokes, convex(c.Points[i-1], c.Points[i]))
		}
	}
}

// Letter notes a line of lettering.
func (n *notes) Letter(l scene.Lettering) {
	q := l.Quad(n.margin)
	n.lines = append(n.lines, convex(q[:]...))
}

// Begin, End and Link have nothing to look at.
func (n *notes) Begin(scene.Scope)      {}
func (n *notes) End()                   {}
func (n *notes) Link(scene.Box, string) {}

// measured is a dimension as a candidate, with its lines.
func measured(from, to scene.Point, offset float64, text string, size float64, weight scene.Weight) candidate {
	return dimension(scene.Dimension{From: from, To: to, Offset: offset, Text: text, Size: size, Weight: weight})
}

// beyond is measured with its figure past the end of the line.
func beyond(from, to scene.Point, offset float64, text string, size float64) candidate {
	return dimension(scene.Dimension{From: from, To: to, Offset: offset, Text: text, Size: size, Outside: true})
}

func dimension(m scene.Dimension) candidate {
	return candidate{marks: []scene.Mark{m}, lines: noted(0, m).strokes}
}

// noted is what a canvas sees of marks.
func noted(margin float64, marks ...scene.Mark) notes {
	n := notes{margin: margin}
	if err := scene.Draw(scene.Page{Width: 1000, Height: 1000, Marks: marks}, &n); err != nil {
		panic("drawing: " + err.Error()) // a mark that cannot be drawn is a fault of ours
	}
	return n
}

// How much a label may put up with, strictest first.
const (
	crossesNothing    = iota // its lines cross no other line either
	touchesNothing           // neither lettering nor lines meet lettering or units
	leadsOverThings          // its lines may cross units
	liesOverLines            // its lettering, which has a halo, may lie on strokes
	liesOverThings           // and on units, rather than be lost
	numberOfTolerance = liesOverThings + 1
)

// put takes the first candidate that is free: near ones before far ones, among these the strictest tolerance first, and
// over units only when nothing else is left.
// None free: false, and nothing is taken.
func (r *room) put(candidates ...candidate) ([]scene.Mark, bool) {
	return r.putWithin(numberOfTolerance, candidates...)
}

// putWithin is put with fewer tolerances, those stricter than the one given.
func (r *room) putWithin(tolerances int, candidates ...candidate) ([]scene.Mark, bool) {
	texts := make([][]shape, len(candidates)) // made when they are asked for: mostly one of the first will do
	for _, step := range [...]struct {
		tolerance int
		far       bool
	}{
		{crossesNothing, false}, {touchesNothing, false}, {leadsOverThings, false}, {liesOverLines, false},
		{crossesNothing, true}, {touchesNothing, true}, {leadsOverThings, true}, {liesOverLines, true},
		{liesOverThings, false}, {liesOverThings, true},
	} {
		for i, c := range candidates {
			if step.tolerance >= tolerances || c.far != step.far {
				continue
			}
			if texts[i] == nil {
				texts[i] = lettered(0.5, c.marks...)
			}
			if !r.free(texts[i], c, step.tolerance) {
				continue
			}
			r.words = append(r.words, texts[i]...)
			r.lines = append(append(r.lines, c.lines...), c.heads...)
			return c.marks, true
		}
	}
	return nil, false
}

func (r *room) free(texts []shape, c candidate, tolerance int) bool {
	for _, s := range texts {
		if !s.inside(r.within) || s.meetsAny(r.words) || tolerance < liesOverThings && s.meetsAny(r.things) ||
			tolerance < liesOverLines && s.meetsAny(r.lines) {
			return false
		}
	}
	for _, s := range c.heads {
		if s.meetsAny(r.words) {
			return false
		}
	}
	for _, s := range c.lines {
		if s.meetsAny(r.words) || tolerance < leadsOverThings && s.meetsAny(r.things) || tolerance < touchesNothing && s.meetsAny(r.lines) {
			return false
		}
	}
	return true
}

// onThings takes the first candidate whose lettering keeps off lettering and strokes; it may lie on units.
func (r *room) onThings(candidates ...candidate) ([]scene.Mark, bool) {
	over := room{within: r.within, words: r.words, lines: r.lines}
	marks, ok := over.putWithin(touchesNothing+1, candidates...)
	r.words, r.lines = over.words, over.lines
	return marks, ok
}

// line notes a stroke that lettering keeps off.
func (r *room) line(from, to scene.Point) { r.lines = append(r.lines, convex(from, to)) }

// note are the candidates for a word with a leader to a point: nearest first, and of one distance the direction that is
// asked for first, then turning away from it to both sides.
func note(to scene.Point, text string, size float64, weight scene.Weight, towards float64, head scene.Head) []candidate {
	var out []candidate
	for _, reach := range []float64{5, 8, 12, 17, 23, 30, 40, 52} { // mm of paper
		for _, turn := range []float64{0, 25, -25, 50, -50, 80, -80, 115, -115, 150, -150, 180} {
			knee := to.Add(scene.Direction(towards + turn).Times(reach))
			c := leaderTo(to, knee, text, size, weight, head)
			c.far = reach > 20
			out = append(out, c)
		}
	}
	return out
}

func leaderTo(to, knee scene.Point, text string, size float64, weight scene.Weight, head scene.Head) candidate {
	side := 2.0
	if knee.X < to.X {
		side = -2
	}
	start := to.Add(knee.Sub(to).Unit().Times(1.6)) // so far off that the line pointed at does not count
	beside := knee.Sub(to).Unit().Left().Times(0.5) // so wide that a line beside which it would run counts
	return candidate{
		marks: []scene.Mark{scene.Leader{To: to, Knee: knee, Text: text, Size: size, Weight: weight, Head: head, Halo: 0.4}},
		lines: []shape{convex(start.Add(beside), knee.Add(beside), knee.Sub(beside), start.Sub(beside)), convex(knee, knee.Add(scene.Point{X: side}))},
		heads: []shape{boxShape(scene.BoxAt(to.Sub(scene.Point{X: 0.5, Y: 0.5}), 1, 1))},
	}
}
