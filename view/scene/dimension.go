package scene

import "slices"

// The usual proportions of dimensions and notes, in mm.
const (
	noteSize     = 2.5 // capitals of figures and notes
	figureGap    = 0.8 // from a line to the figure beside it
	extensionGap = 1.0 // from the point measured to its extension line
	overshoot    = 1.0 // of an extension line past the dimension line
	tail         = 2.0 // of a line that runs on outside its arrow
	shoulder     = 2.0 // level end of a leader
)

// A Dimension is a measured distance: two extension lines, a line with arrows
// and its figure beside the line, never on it. Where the figure does not fit
// between the arrows it stands outside, beyond To; where the arrows do not fit
// they point inwards from outside.
type Dimension struct {
	From, To Point
	Offset   float64 // mm of paper from the points to the line, positive to the left of From→To
	Text     string
	Size     float64 // height of the capitals; 0: 2.5 mm
	Weight   Weight
	Outside  bool // put the figure outside even where it would fit
}

// A Chain is a row of dimensions on one straight line. Figures that do not fit
// their stretch go to free rows on the side away from the points, each with a
// thin line from its stretch.
type Chain struct {
	Points []Point  // two or more; what counts is their place along the line from the first to the last
	Texts  []string // one for each stretch
	Offset float64  // as in Dimension, seen from the first point to the last
	Size   float64  // 0: 2.5 mm
	Weight Weight
}

// A Leader is a note beside the drawing with a line that points at a thing.
type Leader struct {
	To     Point  // what is pointed at
	Knee   Point  // where the line turns level; the note stands beside it, away from To
	Text   string // lines parted by "\n"
	Size   float64
	Weight Weight
	Head   Head    // NoHead: an arrow
	Halo   float64 // as in Text
}

func (Dimension) mark() {}
func (Chain) mark()     {}
func (Leader) mark()    {}

func sizeOr(size float64) float64 {
	if size == 0 {
		return noteSize
	}
	return size
}

// parts are the marks of a dimension in coordinates of the page.
func (m Dimension) parts(t Transform) []Mark {
	from, to, size := t.Apply(m.From), t.Apply(m.To), sizeOr(m.Size)
	along := to.Sub(from).Unit()
	left := along.Left()
	a, b := from.Add(left.Times(m.Offset)), to.Add(left.Times(m.Offset))
	marks := append(extension(from, a), extension(to, b)...)

	length := to.Sub(from).Length()
	pen := Pen(Thin)
	arrowsInside := length >= 2*headLength+1.5
	if arrowsInside {
		marks = append(marks, Path{Outline: Polyline(a, b), Stroke: pen, Start: Arrow, End: Arrow})
	} else {
		out := along.Times(headLength + tail)
		marks = append(marks,
			Line(a, b, pen),
			Path{Outline: Polyline(a.Sub(out), a), Stroke: pen, End: Arrow},
			Path{Outline: Polyline(b.Add(out), b), Stroke: pen, End: Arrow})
	}
	angle := Upright(along.Angle())
	figure := Text{String: m.Text, Size: size, Weight: m.Weight, Angle: angle}
	if !m.Outside && TextWidth(m.Text, size, m.Weight)+2*figureGap <= length {
		figure.Align = Centre
		figure.At = between(a, b, 0.5).Add(Direction(angle).Left().Times(clearOf(m.Text, size)))
		return append(marks, figure)
	}
	figure.VAlign = Middle
	beyond := overshoot + figureGap
	if !arrowsInside {
		beyond = headLength + tail + figureGap
	}
	figure.At = b.Add(along.Times(beyond))
	if dot(Direction(angle), along) < 0 {
		figure.Align = Right
	}
	return append(marks, figure)
}

// clearOf is how far above a line the baseline of a figure stands.
func clearOf(s string, size float64) float64 {
	_, below := Reach(s, size)
	return figureGap + below
}

// extension is the line from a measured point out to its dimension line.
func extension(point, end Point) []Mark {
	way := end.Sub(point)
	if way.Length() <= extensionGap {
		return []Mark{Line(end.Sub(way.Unit().Times(overshoot)), end.Add(way.Unit().Times(overshoot)), Pen(Fine))}
	}
	u := way.Unit()
	return []Mark{Line(point.Add(u.Times(extensionGap)), end.Add(u.Times(overshoot)), Pen(Fine))}
}

// parts are the marks of a chain in coordinates of the page.
func (m Chain) parts(t Transform) []Mark {
	n := min(len(m.Points), len(m.Texts)+1)
	if n < 2 {
		return nil
	}
	points, texts, offset := make([]Point, n), m.Texts[:n-1], m.Offset
	for i := range points {
		points[i] = t.Apply(m.Points[i])
	}
	along := points[n-1].Sub(points[0]).Unit()
	if Upright(along.Angle()) != along.Angle() { // read it from the other end
		texts = append([]string{}, texts...)
		slices.Reverse(points)
		slices.Reverse(texts)
		along, offset = along.Times(-1), -offset
	}
	start := points[0].Add(along.Left().Times(offset))
	at := make([]float64, n)
	var marks []Mark
	for i, p := range points {
		at[i] = dot(p.Sub(points[0]), along)
		marks = append(marks, extension(p, start.Add(along.Times(at[i])))...)
	}
	c := chainLine{start: start, along: along, size: sizeOr(m.Size), weight: m.Weight, below: offset < 0}
	marks = append(marks, c.line(at)...)
	return append(marks, c.figures(at, texts)...)
}

type chainLine struct {
	start, along Point
	size         float64
	weight       Weight
	below        bool // the points lie above the line, so what does not fit goes below it
}

func (c chainLine) point(along, up float64) Point {
	return c.start.Add(c.along.Times(along)).Add(c.along.Left().Times(up))
}

// line is the dimension line with slashes at its points: arrows would meet in
// short stretches.
func (c chainLine) line(at []float64) []Mark {
	pen := Pen(Thin)
	marks := []Mark{Line(c.point(at[0]-overshoot, 0), c.point(at[len(at)-1]+overshoot, 0), pen)}
	for _, x := range at {
		p := c.point(x, 0)
		slash := c.along.Add(c.along.Left()).Times(0.7)
		marks = append(marks, Line(p.Sub(slash), p.Add(slash), Pen(Medium)))
	}
	return marks
}

// figures stand over their stretches. Those too wide are taken from the last
// to the first and each goes to the lowest row that is free to its right; the
// rows then come nearer from left to right and no line to a stretch crosses a
// figure.
func (c chainLine) figures(at []float64, texts []string) []Mark {
	const beside = 0.6 // from the line to a stretch to the figure
	var marks []Mark
	angle := Upright(c.along.Angle())
	base := 0.0 // one height for all, so that they read as one line
	for _, s := range texts {
		base = max(base, clearOf(s, c.size))
	}
	var rows chainRows
	for i := len(texts) - 1; i >= 0; i-- {
		width := TextWidth(texts[i], c.size, c.weight)
		middle := float64((at[i] + at[i+1]) / 2)
		figure := Text{String: texts[i], Size: c.size, Weight: c.weight, Angle: angle}
		if width == 0 {
			continue
		}
		if width+2*figureGap <= at[i+1]-at[i] {
			figure.At, figure.Align = c.point(middle, base), Centre
			marks = append(marks, figure)
			continue
		}
		row := rows.add(middle, beside, width+figureGap)
		up := base + float64(LineStep(c.size)*float64(row+1))
		end := up + c.size
		if c.below {
			up = -overshoot - figureGap/2 - c.size - float64(LineStep(c.size)*float64(row))
			end = up
		}
		figure.At = c.point(middle+beside, up)
		marks = append(marks, figure, Line(c.point(middle, 0), c.point(middle, end), Pen(Fine)))
	}
	return marks
}

// chainRows are the stretches taken in each row of figures.
type chainRows [][]span

// add finds the lowest row with room for a figure right of a line at middle,
// and keeps the lower rows free where that line runs.
func (rows *chainRows) add(middle, beside, width float64) int {
	mine := span{middle, middle + beside + width}
	row := 0
	for row < len(*rows) && slices.ContainsFunc((*rows)[row], func(other span) bool {
		return mine.to > other.from && other.to > mine.from
	}) {
		row++
	}
	if row == len(*rows) {
		*rows = append(*rows, nil)
	}
	(*rows)[row] = append((*rows)[row], mine)
	for i := range (*rows)[:row] {
		(*rows)[i] = append((*rows)[i], span{middle - float64(beside/2), middle + float64(beside/2)})
	}
	return row
}

// parts are the marks of a leader in coordinates of the page.
func (m Leader) parts(t Transform) []Mark {
	to, knee, head := t.Apply(m.To), t.Apply(m.Knee), m.Head
	if head == NoHead {
		head = Arrow
	}
	side, align := 1.0, Left
	if knee.X < to.X {
		side, align = -1, Right
	}
	end := knee.Add(Point{float64(side * shoulder), 0})
	return []Mark{
		Path{Outline: Polyline(to, knee, end), Stroke: Pen(Thin), Start: head},
		Text{At: end.Add(Point{float64(side * figureGap), 0}), String: m.Text, Size: sizeOr(m.Size), Weight: m.Weight,
			Align: align, VAlign: Middle, Halo: m.Halo},
	}
}
