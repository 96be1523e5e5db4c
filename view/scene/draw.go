package scene

import (
	"fmt"
	"math"
	"strings"
)

// A Canvas is what a writer is made of. Everything it is told is resolved: in
// mm of paper from the page's corner, with every curve, head, hatch and figure
// already turned into outlines and lines of lettering, later ones on top.
type Canvas interface {
	// Shape fills an outline by the non-zero rule where fill says a colour,
	// then strokes it where the pen has a width.
	Shape(o Outline, fill Colour, pen Stroke)
	// Letter sets one line.
	Letter(l Lettering)
	// Begin opens a scope and End closes the last one opened.
	Begin(s Scope)
	End()
	// Link makes an area lead to an address, or with "#name" to a page.
	Link(area Box, to string)
}

// PhotoCanvas is a canvas that shows photos.
type PhotoCanvas interface {
	Photo(area Box, jpeg []byte)
}

// Lettering is one line ready to set.
type Lettering struct {
	String string  // printable: what the face has
	Start  Point   // left end of the baseline
	Angle  float64 // degrees, counter-clockwise
	Size   float64 // height of the capitals in mm; Em(Size) is the size of the face
	Width  float64 // of the line in mm
	Weight Weight
	Colour Colour
}

// A Scope is a Group on the page.
type Scope struct {
	Name    string
	Clip    Outline // nothing outside it is drawn; none: nothing is cut
	Frame   Outline // where lettering must stay; none: anywhere
	Stacked bool
}

// The limits of a drawing.
const (
	maxPage       = 20000.0 // mm: beyond it nobody has a printer
	maxCoordinate = 1e6     // mm: beyond it a scale went wrong
	maxDepth      = 64      // groups within groups
)

// Draw walks the marks of a page and tells a canvas what to paint. An error
// names the mark, counted from 1, and what is wrong with it.
func Draw(p Page, c Canvas) error {
	if !(p.Width > 0 && p.Height > 0 && p.Width <= maxPage && p.Height <= maxPage) {
		return fmt.Errorf("page %q: a page of %v × %v mm cannot be drawn; both sides must be above 0 and at most %v mm",
			p.Title, p.Width, p.Height, maxPage)
	}
	w := walk{canvas: c, page: BoxAt(Point{}, p.Width, p.Height)}
	if err := w.marks(p.Marks, Transform{}, 0); err != nil {
		return fmt.Errorf("page %q: %w", p.Title, err)
	}
	return nil
}

type walk struct {
	canvas Canvas
	page   Box
}

func (w *walk) marks(marks []Mark, t Transform, depth int) error {
	if depth > maxDepth {
		return fmt.Errorf("groups lie more than %d deep in each other", maxDepth)
	}
	for i, m := range marks {
		if err := w.mark(m, t, depth); err != nil {
			return fmt.Errorf("mark %d: %w", i+1, err)
		}
	}
	return nil
}

func (w *walk) mark(m Mark, t Transform, depth int) error {
	switch m := m.(type) {
	case Path:
		return w.path(m, t)
	case Text:
		return w.text(m, t)
	case Hatch:
		return w.hatch(m, t)
	case Group:
		return w.group(m, t, depth)
	case Link:
		return w.link(m, t)
	case Photo:
		return w.photo(m, t)
	case Dimension:
		return w.marks(m.parts(t), Transform{}, depth+1)
	case Chain:
		return w.marks(m.parts(t), Transform{}, depth+1)
	case Leader:
		return w.marks(m.parts(t), Transform{}, depth+1)
	case nil:
		return nil
	}
	panic(fmt.Sprintf("scene: %T is not one of the marks", m))
}

func (w *walk) group(g Group, t Transform, depth int) error {
	t = g.Transform.Then(t)
	s := Scope{Name: g.Name, Clip: g.Clip.Under(t), Stacked: g.Stacked}
	if g.Frame != (Box{}) {
		s.Frame = Rectangle(g.Frame).Under(t)
	}
	if err := sound(s.Clip); err != nil {
		return fmt.Errorf("clip: %w", err)
	}
	w.canvas.Begin(s)
	err := w.marks(g.Marks, t, depth+1)
	w.canvas.End()
	if err != nil && g.Name != "" {
		return fmt.Errorf("group %q: %w", g.Name, err)
	}
	return err
}

// link passes on links to pages and to the plain kinds of address; others
// could run something where the sheet is opened.
func (w *walk) link(m Link, t Transform) error {
	area := Rectangle(m.Area).Under(t)
	if err := sound(area); err != nil {
		return err
	}
	for _, start := range []string{"#", "https://", "http://", "mailto:"} {
		if strings.HasPrefix(m.To, start) {
			w.canvas.Link(area.bounds(), m.To)
			return nil
		}
	}
	return fmt.Errorf("a link to %q is not written; links start with #, https://, http:// or mailto:", m.To)
}

func (w *walk) photo(m Photo, t Transform) error {
	area := Rectangle(m.Area).Under(t)
	if err := sound(area); err != nil {
		return err
	}
	if c, ok := w.canvas.(PhotoCanvas); ok {
		c.Photo(area.bounds(), m.JPEG)
	}
	return nil
}

func (w *walk) path(m Path, t Transform) error {
	o := m.Outline.Under(t)
	if err := sound(o); err != nil {
		return err
	}
	if err := soundPen(m.Stroke); err != nil {
		return err
	}
	if len(o) == 0 || !m.Fill.Said() && m.Stroke.Width == 0 {
		return nil
	}
	line, heads := withHeads(o, m)
	w.canvas.Shape(line, m.Fill, m.Stroke)
	for _, h := range heads {
		w.canvas.Shape(h.Outline, h.Fill, h.Stroke)
	}
	return nil
}

func (w *walk) hatch(m Hatch, t Transform) error {
	area := m.Area.Under(t)
	if err := sound(area); err != nil {
		return err
	}
	if err := soundPen(m.Stroke); err != nil {
		return err
	}
	o, pen, err := hatched(area, m, w.page)
	if err == nil && len(o) > 0 {
		w.canvas.Shape(o, 0, pen)
	}
	return err
}

func (w *walk) text(m Text, t Transform) error {
	if !(m.Size > 0 && m.Size < maxCoordinate) || math.IsNaN(m.Angle-m.Angle) || !(m.Halo >= 0 && m.Halo < maxCoordinate) {
		return fmt.Errorf("lettering %q with capitals of %v mm, angle %v°, halo %v mm cannot be set", m.String, m.Size, m.Angle, m.Halo)
	}
	angle, align := w.turned(m, t)
	at := t.Apply(m.At)
	if err := soundPoint(at); err != nil {
		return fmt.Errorf("lettering %q: %w", m.String, err)
	}
	lines := strings.Split(m.String, "\n")
	along, up := Direction(angle), Direction(angle).Left()
	step := LineStep(m.Size)
	at = at.Add(up.Times(firstBaseline(m.VAlign, m.Size, len(lines))))
	var all []Lettering
	for i, line := range lines {
		line = Printable(line)
		l := Lettering{String: line, Angle: angle, Size: m.Size, Width: TextWidth(line, m.Size, m.Weight), Weight: m.Weight, Colour: m.Colour}
		back := l.Width * float64(align) / 2
		l.Start = at.Sub(up.Times(step * float64(i))).Sub(along.Times(back))
		if strings.TrimSpace(line) != "" {
			all = append(all, l)
		}
	}
	if m.Halo > 0 {
		for _, l := range all {
			c := l.Quad(m.Halo)
			w.canvas.Shape(Polygon(c[:]...), White, Stroke{})
		}
	}
	for _, l := range all {
		w.canvas.Letter(l)
	}
	return nil
}

// firstBaseline is how far above its point a block has its first baseline.
func firstBaseline(v VAlign, size float64, lines int) float64 {
	block := LineStep(size) * float64(lines-1)
	switch v {
	case Top:
		return -size
	case Middle:
		return float64(block/2) - float64(size/2)
	case Bottom:
		return block
	}
	return 0
}

// turned is the angle and the alignment of lettering on the page. A transform
// that mirrors never mirrors lettering nor stands it on its head: where the
// line would run backwards it is set from the other end.
func (w *walk) turned(m Text, t Transform) (float64, Align) {
	angle := t.turned(m.Angle)
	if float64(t.A*t.D)-float64(t.B*t.C) < 0 && Upright(angle) != angle {
		return Upright(angle), Right - m.Align
	}
	return angle, m.Align
}

// Quad is the outline of a line's box, grown by a margin: its advance along
// the baseline, its ink above and below it.
func (l Lettering) Quad(margin float64) [4]Point {
	along := Direction(l.Angle)
	up := along.Left()
	above, below := Reach(l.String, l.Size)
	corner := func(x, y float64) Point { return l.Start.Add(along.Times(x)).Add(up.Times(y)) }
	return [4]Point{
		corner(-margin, above+margin), corner(l.Width+margin, above+margin),
		corner(l.Width+margin, -below-margin), corner(-margin, -below-margin),
	}
}

func sound(o Outline) error {
	for i, s := range o {
		if i == 0 && s.Verb != MoveTo {
			return fmt.Errorf("an outline must start with a move")
		}
		for _, p := range [3]Point{s.First, s.Second, s.To} {
			if err := soundPoint(p); err != nil {
				return err
			}
		}
	}
	return nil
}

func soundPoint(p Point) error {
	if !p.finite() || math.Abs(p.X) > maxCoordinate || math.Abs(p.Y) > maxCoordinate {
		return fmt.Errorf("point (%v, %v) cannot be drawn; the limit is %v mm of paper, so look at the scale", p.X, p.Y, maxCoordinate)
	}
	return nil
}

func soundPen(s Stroke) error {
	ok := s.Width >= 0 && s.Width <= maxPage
	sum := 0.0
	for _, d := range s.Dash {
		ok = ok && d >= 0 && d <= maxPage
		sum += d
	}
	if !ok || len(s.Dash) > 0 && sum < 0.05 {
		return fmt.Errorf("a pen of %v mm with dashes %v cannot be drawn; widths and dashes are at least 0, a dash with its gap at least 0.05 mm", s.Width, s.Dash)
	}
	return nil
}
