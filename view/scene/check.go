package scene

import (
	"fmt"
	"math"
	"sort"
)

// clearance is how deep two boxes may reach into each other, in mm, before it
// counts: less than a printer can show.
const clearance = 0.02

// An Overlap is two lines of lettering that lie on each other.
type Overlap struct {
	A, B  string // in the order of painting
	At    Point  // the middle between their middles
	Depth float64
}

func (o Overlap) String() string {
	return fmt.Sprintf("%q and %q lie %.2f mm into each other near (%.1f, %.1f)", o.A, o.B, o.Depth, o.At.X, o.At.Y)
}

// A Stray is a line of lettering that reaches past what should hold it.
type Stray struct {
	Text string
	Past string // "the page", "its frame" or "its clip", with the group's name
	At   Point
	By   float64 // mm
}

func (s Stray) String() string {
	return fmt.Sprintf("%q near (%.1f, %.1f) reaches %.2f mm past %s", s.Text, s.At.X, s.At.Y, s.By, s.Past)
}

// A Crossing is a line of lettering with a stroke through it, or under a fill
// that was painted later.
type Crossing struct {
	Text string
	By   string // "a stroke" or "a fill"
	At   Point
}

func (c Crossing) String() string {
	return fmt.Sprintf("%q near (%.1f, %.1f) has %s across it", c.Text, c.At.X, c.At.Y, c.By)
}

// Overlaps finds lettering that lies on other lettering. Boxes are the line's
// advance wide and its ink high, turned with it, and compared by separating
// axes. Lines of one Stacked group may lie on each other.
func Overlaps(p Page) ([]Overlap, error) {
	f, err := read(p)
	if err != nil {
		return nil, err
	}
	order := make([]int, len(f.texts))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(i, j int) bool { return f.texts[order[i]].box.Left < f.texts[order[j]].box.Left })
	var found []Overlap
	var open []int
	for _, i := range order {
		t := f.texts[i]
		kept := open[:0]
		for _, j := range open {
			u := f.texts[j]
			if u.box.Right <= t.box.Left {
				continue
			}
			kept = append(kept, j)
			if t.stack != 0 && t.stack == u.stack || u.box.Bottom <= t.box.Top || t.box.Bottom <= u.box.Top {
				continue
			}
			if depth := overlapDepth(t.quad, u.quad); depth > clearance {
				a, b := f.texts[min(i, j)], f.texts[max(i, j)]
				found = append(found, Overlap{a.String, b.String, between(a.middle(), b.middle(), 0.5), depth})
			}
		}
		open = append(kept, i)
	}
	sort.SliceStable(found, func(i, j int) bool {
		a, b := found[i], found[j]
		return a.At.Y < b.At.Y || a.At.Y == b.At.Y && a.At.X < b.At.X
	})
	return found, nil
}

// Outside finds lettering that reaches past the page or its Frame, past the
// Frame of a group around it, or past a clip that would cut it.
func Outside(p Page) ([]Stray, error) {
	f, err := read(p)
	if err != nil {
		return nil, err
	}
	var found []Stray
	for _, t := range f.texts {
		for _, h := range t.holders {
			if by := h.past(t.quad); by > clearance {
				found = append(found, Stray{t.String, h.name, t.middle(), by})
				break
			}
		}
	}
	return found, nil
}

// Crossed finds lettering with strokes through it. A stroke painted earlier
// does not count where a fill between the two, such as a halo, hides it under
// the whole line; a fill painted later that touches the line does count.
func Crossed(p Page) ([]Crossing, error) {
	f, err := read(p)
	if err != nil {
		return nil, err
	}
	var found []Crossing
	for _, t := range f.texts {
		if by := f.across(t); by != "" {
			found = append(found, Crossing{t.String, by, t.middle()})
		}
	}
	return found, nil
}

// seen is a page as the checks look at it: a Canvas that takes notes.
type seen struct {
	texts  []seenText
	shapes []seenShape
	stack  []int    // numbers of the stacked groups around, 0 for others
	hold   []holder // what lettering must stay in
	clips  [][]Contour
	depth  []int // how many holders each open scope added
	groups int
}

type seenText struct {
	Lettering
	quad    [4]Point
	box     Box
	order   int // in painting
	stack   int
	holders []holder
}

type seenShape struct {
	contours []Contour
	box      Box
	reach    float64 // half the pen, 0 for a fill
	fill     bool
	clips    [][]Contour // nothing outside any of them is painted
}

type holder struct {
	name     string
	contours []Contour
	clips    bool
}

func read(p Page) (*seen, error) {
	f := &seen{stack: []int{0}}
	f.hold = append(f.hold, holder{name: "the page", contours: Rectangle(BoxAt(Point{}, p.Width, p.Height)).Flat(hatchTolerance)})
	if p.Frame != (Box{}) {
		f.hold = append(f.hold, holder{name: "its frame", contours: Rectangle(p.Frame).Flat(hatchTolerance)})
	}
	return f, Draw(p, f)
}

func (f *seen) Begin(s Scope) {
	f.groups++
	stack := f.stack[len(f.stack)-1]
	if s.Stacked && stack == 0 {
		stack = f.groups
	}
	f.stack = append(f.stack, stack)
	added := 0
	name := ""
	if s.Name != "" {
		name = fmt.Sprintf(" of %q", s.Name)
	}
	hold := func(kind string, o Outline, clips bool) {
		if len(o) > 0 {
			f.hold = append(f.hold[:len(f.hold):len(f.hold)], holder{kind + name, o.Flat(hatchTolerance), clips})
			added++
		}
	}
	hold("its frame", s.Frame, false)
	hold("its clip", s.Clip, true)
	f.depth = append(f.depth, added)
	f.setClips()
}

// setClips notes the clips that hold for what is painted next.
func (f *seen) setClips() {
	f.clips = nil
	for _, h := range f.hold {
		if h.clips {
			f.clips = append(f.clips, h.contours)
		}
	}
}

func (f *seen) End() {
	f.stack = f.stack[:len(f.stack)-1]
	f.hold = f.hold[:len(f.hold)-f.depth[len(f.depth)-1]]
	f.depth = f.depth[:len(f.depth)-1]
	f.setClips()
}

func (f *seen) Link(Box, string) {}

// Photo hides what is under it as a filled shape does.
func (f *seen) Photo(area Box, _ []byte) { f.Shape(Rectangle(area), White, Stroke{}) }

func (f *seen) Letter(l Lettering) {
	quad := l.Quad(0)
	f.texts = append(f.texts, seenText{Lettering: l, quad: quad, box: boxRound(quad[:]), order: len(f.shapes),
		stack: f.stack[len(f.stack)-1], holders: f.hold})
}

func (f *seen) Shape(o Outline, fill Colour, pen Stroke) {
	contours := o.Flat(hatchTolerance)
	var all []Point
	for _, c := range contours {
		all = append(all, c.Points...)
	}
	s := seenShape{contours: contours, box: boxRound(all), clips: f.clips}
	if fill.Said() {
		s.fill = true
		f.shapes = append(f.shapes, s)
	}
	if pen.Width > 0 {
		s.fill, s.reach = false, float64(pen.Width/2)
		s.box = s.box.Inset(-s.reach)
		f.shapes = append(f.shapes, s)
	}
}

func (t seenText) middle() Point { return t.box.Centre() }

func boxRound(points []Point) Box {
	b := Box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, p := range points {
		b = Box{math.Min(b.Left, p.X), math.Min(b.Top, p.Y), math.Max(b.Right, p.X), math.Max(b.Bottom, p.Y)}
	}
	return b
}

// across says what crosses a line of lettering, later paint first.
func (f *seen) across(t seenText) string {
	touches := func(s seenShape) bool {
		return !(s.box.Right <= t.box.Left || t.box.Right <= s.box.Left || s.box.Bottom <= t.box.Top || t.box.Bottom <= s.box.Top)
	}
	for _, s := range f.shapes[t.order:] {
		if touches(s) && s.crosses(t.quad) {
			if s.fill {
				return "a fill"
			}
			return "a stroke"
		}
	}
	for i := t.order - 1; i >= 0; i-- {
		s := f.shapes[i]
		if !touches(s) {
			continue
		}
		if s.fill {
			if s.hides(t.quad) {
				return ""
			}
			continue
		}
		if s.crosses(t.quad) {
			return "a stroke"
		}
	}
	return ""
}
