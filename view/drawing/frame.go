package drawing

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/view/scene"
)

// A sheet is a page in the making. Its frame is a head without a box, a foot of facts under a line that stands for the
// whole run, and a band of what is not checked; what is left between them is Free.
type sheet struct {
	*draft
	kind     string    // strip, plan, …: begins the page's name
	title    string    // after the job's name, and in the bookmark
	note     string    // one line under the title
	shown    []shown   // which part of the run this sheet shows; none: all of it
	concerns []concern // what the band says
	general  []concern // what holds for the whole job: named in the band, told elsewhere
	level    int       // of the bookmark
	page     scene.Page
	free     scene.Box // where the drawing goes
	size     float64   // height of the smallest capitals
	start    []string  // lines under the head: what the run is set out from; none: they stand elsewhere
}

// shown is a part of a leg on its laying axis, in mm.
type shown struct {
	leg      int
	from, to float64
}

// The frame, in mm of paper.
const (
	edge    = 10.0 // round the page
	factGap = 4.0
)

// headSizes are the heights of the head for lettering of a size: the baselines of its three lines from the edge, and the
// rule under them.
type headSizes struct{ name, title, note, rule float64 }

func headFor(size float64) headSizes {
	k := size / 1.8
	return headSizes{float64(4 * k), float64(9.6 * k), float64(13.6 * k), float64(15.5 * k)}
}

// frame lays out the empty sheet, the nth of its kind, and says where the drawing goes.
func (s *sheet) frame(n int) {
	width, height := s.style.Size.paper()
	s.size = s.style.Size.small()
	s.page = scene.Page{Width: width, Height: height, Title: s.title, Name: fmt.Sprintf("%s-%d", s.kind, n), Level: s.level,
		Frame: scene.BoxAt(scene.Point{}, width, height).Inset(edge - 4)}
	inner := scene.BoxAt(scene.Point{}, width, height).Inset(edge)
	s.head(inner)
	bottom := s.foot(inner)
	bottom = s.runLine(scene.Box{Left: inner.Left, Right: inner.Right, Bottom: bottom - 2})
	bottom = s.band(inner, bottom-1.5)
	s.free = scene.Box{Left: inner.Left, Right: inner.Right, Top: s.startsAt(inner) + 2, Bottom: bottom - 2}
}

// startsAt sets the lines of what the run is set out from under the rule of the head; what is not on file stands bold. It
// returns where they end.
func (s *sheet) startsAt(inner scene.Box) float64 {
	y := inner.Top + headFor(s.size).rule
	for _, text := range s.start {
		weight := scene.Regular
		if strings.HasPrefix(text, notChecked) {
			weight = scene.Bold
		}
		for _, line := range wrappedIn(text, s.size, weight, inner.Width()) {
			y += scene.LineStep(s.size)
			s.add(scene.Text{At: scene.Point{X: inner.Left, Y: y}, String: line, Size: s.size, Weight: weight})
		}
	}
	return y
}

func (s *sheet) add(marks ...scene.Mark) { s.page.Marks = append(s.page.Marks, marks...) }

// head is the job's name and the sheet's, over a heavy rule as long as the sheet's name. Bind adds the rest.
func (s *sheet) head(inner scene.Box) {
	half := inner.Width() * 0.45
	h := headFor(s.size)
	line := func(y, size, least, width float64, w scene.Weight, text string) float64 {
		text, size, _ = scene.Fit(text, size, least, w, width)
		s.add(scene.Text{At: scene.Point{X: inner.Left, Y: y}, String: text, Size: size, Weight: w})
		return scene.TextWidth(text, size, w)
	}
	line(inner.Top+h.name, h.name, 2.5, half, scene.Bold, s.plan.Job.Name)
	long := line(inner.Top+h.title, 0.7*h.name, 2, half, scene.Bold, s.title)
	rule := inner.Top + h.rule
	if s.note != "" {
		line(inner.Top+h.note, s.size, 1.8, inner.Width()*0.7, scene.Regular, s.note)
	}
	s.add(scene.Line(scene.Point{X: inner.Left, Y: rule}, scene.Point{X: inner.Right, Y: rule}, scene.Pen(scene.Fine)))
	s.add(scene.Line(scene.Point{X: inner.Left, Y: rule}, scene.Point{X: inner.Left + long, Y: rule}, scene.Pen(scene.Broad)))
}

// fact is one thing that every sheet states.
type fact struct{ name, text string }

// facts are what a reader has to know before measuring anything on the sheet.
func (s *sheet) facts() []fact {
	j := s.plan.Job
	head := func(text, missing string) string {
		if text == "" {
			return notChecked + ": " + missing
		}
		return text
	}
	open := ""
	if s.style.Stamp.Issued != nil {
		open = "open when issued: " + strings.Join(s.plan.Open().Said(), ", ")
	}
	declared := joined(" · ", j.ID, prefixed("declared revision ", j.Revision), j.On, prefixed("by ", j.By), prefixed("for ", j.Owner))
	ofState := "state of the job"
	if s.style.Stamp.Known() {
		ofState += "; of two papers the higher state is the later"
	}
	return []fact{
		{"line that was drawn", head(j.DrawnLine, "nobody said which line was drawn. Ask: who drew the route")},
		{"coordinates", head(j.Grid, "no coordinate system on file. Ask: the surveyor")},
		{"heights", head(j.HeightDatum, "no height datum on file. Ask: the surveyor")},
		{"scale factor", head(j.ScaleFactor+s.scaleRule(), "no combined scale factor on file. Ask: the surveyor")},
		{"figures", s.rounding()},
		{ofState, joined("\n", s.style.Stamp.Line(j.Hash, s.plan.Core)+" · core "+s.plan.Core, open, declared)},
	}
}

// rounding says what the figures are in, what they are rounded to, and where the exact ones stand.
func (s *sheet) rounding() string {
	unit := s.words.millimetres
	switch s.style.Format.Unit() {
	case "ft-in":
		unit = "feet and inches"
	case "mm":
	default:
		unit = s.style.Format.Unit()
	}
	_, survey, _ := s.coordinateUnit()
	along := ""
	if s.style.Format.System != measure.Imperial {
		along = " and figures headed [m]"
	}
	return fmt.Sprintf("lengths in %s, shown %s; levels%s in %s; exact in plan.json. %s along each leg from its first node",
		unit, s.style.Format.Rounding(), along, survey, capital(s.words.chainage))
}

// scaleRule says which figures the combined scale factor has gone into, where there is one.
func (s *sheet) scaleRule() string {
	if f := s.plan.Job.ScaleFactor; f == "" || f[0] < '0' || f[0] > '9' {
		return ""
	}
	return ": in eastings and northings alone (grid). Lengths and " + s.words.chainage + " are ground, as a tape measures"
}

func prefixed(prefix, text string) string {
	if text == "" {
		return ""
	}
	return prefix + text
}

// stated is which state of the job a page is of, for its foot.
func (d *draft) stated() string { return Head(d.plan, d.style.Stamp) }

// factPart is the part of the width that a column of facts has. Where all six stand side by side, the last one, which state of
// the job it is, has more to say than the first three.
func factPart(i, columns int) float64 {
	if columns != 6 {
		return 1 / float64(columns)
	}
	return [...]float64{0.12, 0.14, 0.14, 0.16, 0.18, 0.26}[i]
}

// foot sets the facts in columns and returns where they begin.
func (s *sheet) foot(inner scene.Box) float64 {
	facts := s.facts()
	columns := len(facts)
	if inner.Width() < 330 {
		columns = 3
	}
	width := func(i int) float64 {
		return float64((inner.Width() - float64(factGap*float64(columns-1))) * factPart(i, columns))
	}
	step := scene.LineStep(s.size)
	bottom := inner.Bottom
	for row := (len(facts) - 1) / columns; row >= 0; row-- {
		part := facts[row*columns : min(len(facts), (row+1)*columns)]
		lines := 0
		for i, f := range part {
			lines = max(lines, len(wrapped(f.text, s.size, width(i))))
		}
		top := bottom - float64(step*float64(lines+1)) + (step - s.size)
		x := inner.Left
		for i, f := range part {
			at := scene.Point{X: x, Y: top}
			x += width(i) + factGap
			s.add(
				scene.Text{At: at, String: f.name, Size: s.size, Weight: scene.Bold, VAlign: scene.Top},
				scene.Text{At: at.Add(scene.Point{Y: step}), String: wrap(f.text, s.size, width(i)), Size: s.size, VAlign: scene.Top})
		}
		bottom = top - 2
	}
	s.add(scene.Line(scene.Point{X: inner.Left, Y: bottom}, scene.Point{X: inner.Right, Y: bottom}, scene.Pen(scene.Fine)))
	return bottom
}

func wrap(text string, size, width float64) string {
	return strings.Join(wrapped(text, size, width), "\n")
}

// wrapped parts text into lines and keeps a figure and its unit together.
func wrapped(text string, size, width float64) []string {
	return wrappedIn(text, size, scene.Regular, width)
}

func wrappedIn(text string, size float64, weight scene.Weight, width float64) []string {
	const kept = "\u00a0"
	for _, unit := range []string{"mm", "m", "kg", "lb", "ft"} {
		for _, after := range []string{" ", ",", ";", "."} {
			text = strings.ReplaceAll(text, " "+unit+after, kept+unit+after)
		}
		if rest, ok := strings.CutSuffix(text, " "+unit); ok {
			text = rest + kept + unit
		}
	}
	text = signsKept(fractionsKept(text, kept), kept)
	lines := scene.Wrap(text, size, weight, width)
	for i := range lines {
		lines[i] = strings.ReplaceAll(lines[i], kept, " ")
	}
	return lines
}

// signsKept keeps a sign on the line of the figure behind it: − 35.276, ↓ 0.812.
func signsKept(text, kept string) string {
	for _, sign := range []string{"−", "+", "↓", "↑"} {
		parts := strings.Split(text, sign+" ")
		for i := 1; i < len(parts); i++ {
			if parts[i] != "" && parts[i][0] >= '0' && parts[i][0] <= '9' {
				parts[i] = kept + parts[i]
			} else {
				parts[i] = " " + parts[i]
			}
		}
		text = strings.Join(parts, sign)
	}
	return text
}

// fractionsKept keeps 8 1/16" on one line.
func fractionsKept(text, kept string) string {
	digit := func(i int) bool { return i >= 0 && i < len(text) && text[i] >= '0' && text[i] <= '9' }
	for i := 1; i < len(text); i++ {
		if text[i] != ' ' || !digit(i-1) || !digit(i+1) {
			continue
		}
		end := i + 1
		for digit(end) {
			end++
		}
		if end < len(text) && text[end] == '/' {
			text = text[:i] + kept + text[i+1:]
		}
	}
	return text
}

// kindWords is what the band calls each kind of finding.
var kindWords = [...]struct {
	kind finding.Kind
	word string
}{
	{finding.Fault, "FAULT"}, {finding.Impossible, "IMPOSSIBLE"}, {finding.NotChecked, notChecked},
	{finding.Attention, "LOOK AT"}, {finding.Assumed, "ASSUMED"}, {finding.Note, "NOTE"},
}

func kindWord(k finding.Kind) string {
	for _, w := range kindWords {
		if w.kind == k {
			return w.word
		}
	}
	return strings.ToUpper(string(k))
}

// sentence is a finding on a sheet: its number, where, what, whom to ask.
func (c concern) sentence() string {
	where := c.Where.Place
	if where == "" && c.Where.Leg != "" {
		where = "leg " + c.Where.Leg
	}
	if where != "" && strings.HasPrefix(c.Text, where) {
		where = ""
	}
	text := strings.TrimPrefix(c.Text, notChecked+": ")
	return joined(" ", c.name, suffixed(where, ":"), suffixed(text, "."), prefixed("Ask: ", suffixed(c.asked(), ".")))
}

// asked is whom to ask, where the text does not say so already.
func (c concern) asked() string {
	if strings.Contains(c.Text, "Ask: ") {
		return ""
	}
	return c.Ask
}

func suffixed(text, end string) string {
	if text == "" || strings.HasSuffix(text, end) {
		return text
	}
	return text + end
}

// bandRow is one finding of the band, wrapped.
type bandRow struct {
	word  string
	lines []string
}

// band prints what concerns the sheet between two rules with a hatched tab, and returns where it begins. What finds no
// room is counted and left to the list of findings.
func (s *sheet) band(inner scene.Box, bottom float64) float64 {
	if len(s.concerns)+len(s.general) == 0 {
		return bottom
	}
	const tab, most = 4.0, 0.16 // width of the hatched tab; part of the page that the band may take
	columns := max(1, int((inner.Width()-tab)/115))
	gap := 5.0
	width := (inner.Width() - tab - 2 - float64(gap*float64(columns-1))) / float64(columns)
	word := scene.TextWidth("NOT CHECKED  ", s.size, scene.Bold)
	step := scene.LineStep(s.size)
	var rows []bandRow
	for _, c := range s.concerns {
		rows = append(rows, bandRow{kindWord(c.Kind), wrapped(c.sentence(), s.size, width-word)})
	}
	if len(s.general) > 0 {
		for _, k := range kindWords {
			of := slices.DeleteFunc(slices.Clone(s.general), func(c concern) bool { return c.Kind != k.kind })
			if len(of) > 0 {
				text := fmt.Sprintf("%s: %s for the whole job; told in the list of findings.", count(len(of), "finding", "findings"), namesOf(of))
				rows = append(rows, bandRow{k.word, wrapped(text, s.size, width-word)})
			}
		}
	}
	high := max(3, int(s.page.Height*most/step))
	cells, depth := flow(rows, columns, high)
	top := bottom - float64(step*float64(depth)) - 2
	for _, c := range cells {
		at := scene.Point{X: inner.Left + tab + 2 + float64((width+gap)*float64(c.column)), Y: top + 1.4 + float64(step*float64(c.line))}
		s.add(scene.Text{At: at, String: c.word, Size: s.size, Weight: scene.Bold, VAlign: scene.Top},
			scene.Text{At: at.Add(scene.Point{X: word}), String: strings.Join(c.lines, "\n"), Size: s.size, VAlign: scene.Top})
	}
	box := scene.Box{Left: inner.Left, Top: top, Right: inner.Left + tab, Bottom: bottom}
	s.add(scene.Hatch{Area: scene.Rectangle(box), Pattern: scene.CrossHatch, Spacing: 1.2, Stroke: scene.Pen(scene.Thin)},
		scene.Path{Outline: scene.Rectangle(box), Stroke: scene.Pen(scene.Thin)},
		scene.Line(box.Corner(), scene.Point{X: inner.Right, Y: top}, scene.Pen(scene.Thin)),
		scene.Line(scene.Point{X: inner.Left, Y: bottom}, scene.Point{X: inner.Right, Y: bottom}, scene.Pen(scene.Thin)))
	return top
}

// namesOf lists findings by name, runs of them by their first and last: F1 to F4, F9.
func namesOf(all []concern) string {
	var numbers []int
	for _, c := range all {
		numbers = append(numbers, c.index)
	}
	slices.Sort(numbers)
	var parts []string
	for i := 0; i < len(numbers); {
		n := i
		for n+1 < len(numbers) && numbers[n+1] == numbers[n]+1 {
			n++
		}
		switch n - i {
		case 0:
			parts = append(parts, findingName(numbers[i]))
		case 1:
			parts = append(parts, findingName(numbers[i]), findingName(numbers[n]))
		default:
			parts = append(parts, findingName(numbers[i])+" to "+findingName(numbers[n]))
		}
		i = n + 1
	}
	return strings.Join(parts, ", ")
}

// bandCell is a row with its place in the columns of the band.
type bandCell struct {
	bandRow
	column, line int
}

// flow fills columns of equal height, as low as they can be and no higher than high lines; the last row then says how
// many are left out.
func flow(rows []bandRow, columns, high int) (cells []bandCell, depth int) {
	total := 0
	for _, r := range rows {
		total += len(r.lines)
	}
	for depth = (total + columns - 1) / columns; depth < high; depth++ {
		if cells, all := pour(rows, columns, depth); all {
			return cells, depth
		}
	}
	cells, all := pour(rows, columns, high)
	for kept := len(cells); !all && kept >= 0; kept-- {
		left := bandRow{"", []string{fmt.Sprintf("and %d more in the list of findings", len(rows)-kept)}}
		cells, all = pour(append(append([]bandRow{}, rows[:kept]...), left), columns, high)
	}
	return cells, high
}

// pour sets rows down columns of a height and tells whether all found room.
func pour(rows []bandRow, columns, high int) (cells []bandCell, all bool) {
	column, line := 0, 0
	for _, r := range rows {
		if line > 0 && line+len(r.lines) > high {
			column, line = column+1, 0
		}
		if column >= columns || line+len(r.lines) > high {
			return cells, false
		}
		cells = append(cells, bandCell{r, column, line})
		line += len(r.lines)
	}
	return cells, true
}
