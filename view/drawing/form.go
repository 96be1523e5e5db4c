package drawing

import (
	"math"
	"strings"

	"trenchwright/view/scene"
)

// A form is a page in the making that people read figures from and write others on, by hand, outside: a grid of rows that a
// gloved hand finds, with columns of print beside columns of nothing.
type form struct {
	page  scene.Page
	size  float64 // of the capitals of its words
	left  float64
	right float64
	y     float64 // how far down it is filled
}

// formEdge is round a form, in mm: room for a clip on the left, for a thumb elsewhere.
const formEdge = 12.0

// newForm is an empty page with its title, what it is of, and its number.
func newForm(width, height float64, name, title, of, number string) *form {
	f := &form{size: 2, left: formEdge, right: width - formEdge, y: formEdge,
		page: scene.Page{Width: width, Height: height, Name: name, Title: title, Level: 1, Frame: scene.BoxAt(scene.Point{}, width, height).Inset(formEdge - 6)}}
	wide := f.right - f.left - 45
	line, size, _ := scene.Fit(title, 5, 2.5, scene.Bold, wide)
	f.text(f.left, f.y+5, size, scene.Bold, line)
	f.add(scene.Text{At: scene.Point{X: f.right, Y: f.y + 5}, String: number, Size: 2.6, Align: scene.Right})
	line, size, _ = scene.Fit(of, 2.2, 1.6, scene.Regular, f.right-f.left)
	f.text(f.left, f.y+9.6, size, scene.Regular, line)
	f.y += 11.6
	f.rule(f.left, f.right, f.y, scene.Broad)
	return f
}

func (f *form) add(marks ...scene.Mark) { f.page.Marks = append(f.page.Marks, marks...) }

func (f *form) text(x, y, size float64, w scene.Weight, text string) {
	f.add(scene.Text{At: scene.Point{X: x, Y: y}, String: text, Size: size, Weight: w})
}

func (f *form) rule(from, to, y, pen float64) {
	f.add(scene.Line(scene.Point{X: from, Y: y}, scene.Point{X: to, Y: y}, scene.Pen(pen)))
}

// words sets lines of text over the width.
func (f *form) words(w scene.Weight, size float64, texts ...string) {
	for _, t := range texts {
		for _, line := range wrappedIn(t, size, w, f.right-f.left) {
			f.y += scene.LineStep(size)
			f.text(f.left, f.y, size, w, line)
		}
	}
}

// blank is something to be filled in by hand: its name, and a line to write on.
type blank struct {
	name  string
	share float64 // of the width
}

// blanks sets a row of lines to write on, each behind its name.
func (f *form) blanks(all ...blank) {
	const gap = 4.0
	f.y += checkBlank
	sum := 0.0
	for _, b := range all {
		sum += b.share
	}
	x := f.left
	for _, b := range all {
		wide := float64((f.right - f.left) * b.share / sum)
		name, size, _ := scene.Fit(b.name, 2.2, 1.5, scene.Regular, wide*0.75)
		f.text(x, f.y-0.8, size, scene.Regular, name)
		f.rule(x+scene.TextWidth(name, size, scene.Regular)+1.5, x+wide-gap, f.y, scene.Thin)
		x += wide
	}
}

// formColumn is a column of a grid.
type formColumn struct {
	head  string
	width float64 // mm; 0: what is left over
	bold  bool
	words bool // set from the left; figures end in one line
	fill  bool // to be written in: it keeps a strong rule on its left
}

// grid rules a head and rows of one height and returns where each column begins. Cells that are too long are set smaller.
func (f *form) grid(columns []formColumn, rows [][]string, high, size float64) []float64 {
	rest, open := f.right-f.left, 0
	for _, c := range columns {
		rest -= c.width
		if c.width == 0 {
			open++
		}
	}
	edges := []float64{f.left}
	for i := range columns {
		if columns[i].width == 0 {
			columns[i].width = rest / float64(open)
		}
		edges = append(edges, edges[i]+columns[i].width)
	}
	top := f.y
	f.heads(columns, edges)
	for _, row := range rows {
		for i, text := range row {
			f.cell(columns[i], edges[i], high, size, text)
		}
		f.y += high
		f.rule(f.left, edges[len(columns)], f.y, scene.Thin)
	}
	for i, x := range edges {
		pen := scene.Fine
		if i == 0 || i == len(columns) || i < len(columns) && columns[i].fill {
			pen = scene.Thin
		}
		f.add(scene.Line(scene.Point{X: x, Y: top}, scene.Point{X: x, Y: f.y}, scene.Pen(pen)))
	}
	return edges
}

func (f *form) heads(columns []formColumn, edges []float64) {
	const size = 1.9
	lines, sizes := make([][]string, len(columns)), make([]float64, len(columns))
	most := 1
	for i, c := range columns {
		room := c.width - 1.6
		sizes[i] = size
		for _, word := range strings.Fields(c.head) { // no word is parted: it is set smaller
			sizes[i] = math.Min(sizes[i], float64(size*room/math.Max(room, scene.TextWidth(word, size, scene.Bold)))-0.01)
		}
		lines[i] = scene.Wrap(c.head, sizes[i], scene.Bold, room)
		most = max(most, len(lines[i]))
	}
	for i, c := range columns {
		at := scene.Point{X: edges[i] + 0.9, Y: f.y + 1.2}
		align := scene.Left
		if !c.words {
			at.X, align = edges[i+1]-0.9, scene.Right
		}
		f.add(scene.Text{At: at, String: strings.Join(lines[i], "\n"), Size: sizes[i], Weight: scene.Bold, Align: align, VAlign: scene.Top})
	}
	f.y += float64(scene.LineStep(size)*float64(most)) + 1.6
	f.rule(edges[0], edges[len(columns)], f.y, scene.Medium)
}

func (f *form) cell(c formColumn, x, high, size float64, text string) {
	if text == "" {
		return
	}
	weight := scene.Regular
	if c.bold {
		weight = scene.Bold
	}
	line, fitted, whole := scene.Fit(text, size, 1.6, weight, c.width-1.8)
	at := scene.Point{X: x + 0.9, Y: f.y + high/2}
	align := scene.Left
	if !c.words {
		at.X, align = x+c.width-0.9, scene.Right
	}
	if !whole { // in as many lines as it takes
		fitted = 1.6
		line = strings.Join(wrappedIn(text, fitted, weight, c.width-1.8), "\n")
	}
	f.add(scene.Text{At: at, String: line, Size: fitted, Weight: weight, Align: align, VAlign: scene.Middle})
}
