package papers

import (
	"fmt"
	"strings"
	"time"

	"trenchwright/job"
	"trenchwright/view/scene"
)

// The measures of a page in mm: A4, or Letter in the United States; lying where a table has many columns.
const (
	a4Long, a4Short         = 297.0, 210.0
	letterLong, letterShort = 279.4, 215.9
	edge                    = 12.0
	headHigh                = 15.0
	footHigh                = 6.0
	letters                 = 1.9 // height of capitals
	small                   = 1.6
)

// lying tells whether the pages of a paper lie on their long side.
func (p Paper) lying() bool { return p.Kind == Inspection || p.Kind == Delivery && !p.Held }

func (p Paper) size() (width, height float64) {
	width, height = a4Short, a4Long
	if p.us {
		width, height = letterShort, letterLong
	}
	if p.lying() {
		return height, width
	}
	return width, height
}

// Pages are a paper as pages.
func (p Paper) Pages() []scene.Page {
	width, height := p.size()
	room := scene.Box{Left: edge, Top: edge + headHigh, Right: width - edge, Bottom: height - edge - footHigh}
	blocks := p.overridden(room.Width())
	if p.Held {
		blocks = p.heldBack(room.Width())
	}
	form := ""
	for _, part := range p.Parts {
		told := part.Form == form || strings.HasPrefix(part.Form, fromJob)
		blocks, form = append(blocks, part.blocks(room.Width(), told)...), part.Form
	}
	laid := scene.Flow(func(int) scene.Box { return room }, blocks...)
	var pages []scene.Page
	for i, marks := range laid {
		page := scene.Page{Width: width, Height: height, Title: p.Title + ", " + p.Of, Name: fmt.Sprintf("%s-%d", p.Name, i+1), Level: -1, Frame: scene.BoxAt(scene.Point{}, width, height).Inset(edge - 6), Marks: marks}
		if i == 0 {
			page.Level = 0
		}
		page.Marks = append(page.Marks, p.head(width), p.foot(width, height, i+1, len(laid)))
		pages = append(pages, page)
	}
	return pages
}

// Given are papers that were made as data elsewhere, of a job and a state of it.
func Given(in Input, list []Paper) []Paper {
	for i := range list {
		list[i].State, list[i].us, list[i].lang = in.Stamp.Brief(in.Plan.Job.Hash), in.Job.Words == job.US, language(in.Job)
	}
	return list
}

// Document is several papers bound.
func Document(in Input, subject string, list []Paper) scene.Document {
	d := scene.Document{Title: in.Plan.Job.Name + ", " + subject, Subject: subject, Author: in.Plan.Job.By, Language: language(in.Job)}
	if day, err := time.Parse("2006-01-02", in.Plan.Job.On); err == nil {
		d.Date = day
	}
	d.Pages = Pages(list)
	return d
}

// Pages are several papers, one behind the other.
func Pages(list []Paper) []scene.Page {
	out := []scene.Page{}
	for _, p := range list {
		out = append(out, p.Pages()...)
	}
	return out
}

func (p Paper) head(width float64) scene.Mark {
	wide := width - 2*edge
	title, size, _ := scene.Fit(p.Title, 4, 2.5, scene.Bold, wide-46)
	of, small1, _ := scene.Fit(p.Of, 2.4, 1.6, scene.Bold, wide)
	name, small2, _ := scene.Fit(p.Job, 2, 1.6, scene.Regular, 44)
	y := float64(edge + headHigh - 2.4)
	return scene.Group{Marks: []scene.Mark{
		scene.Text{At: scene.Point{X: edge, Y: edge}, String: title, Size: size, Weight: scene.Bold, VAlign: scene.Top},
		scene.Text{At: scene.Point{X: width - edge, Y: edge}, String: name, Size: small2, Align: scene.Right, VAlign: scene.Top},
		scene.Text{At: scene.Point{X: width - edge, Y: edge + 3.4}, String: "stage: " + p.Stage, Size: small, Align: scene.Right, VAlign: scene.Top},
		scene.Text{At: scene.Point{X: edge, Y: edge + 7.6}, String: of, Size: small1, Weight: scene.Bold, VAlign: scene.Top},
		scene.Line(scene.Point{X: edge, Y: y}, scene.Point{X: width - edge, Y: y}, scene.Pen(scene.Broad)),
	}}
}

func (p Paper) foot(width, height float64, n, of int) scene.Mark {
	y := height - edge
	number := fmt.Sprintf("page %d of %d", n, of)
	state, size, _ := scene.Fit(p.State+" · a record of what was entered; it releases nothing", small, 1.2, scene.Regular, width-2*edge-24)
	return scene.Group{Marks: []scene.Mark{
		scene.Line(scene.Point{X: edge, Y: y - footHigh + 2}, scene.Point{X: width - edge, Y: y - footHigh + 2}, scene.Pen(scene.Thin)),
		scene.Text{At: scene.Point{X: edge, Y: y}, String: state, Size: size},
		scene.Text{At: scene.Point{X: width - edge, Y: y}, String: number, Size: small, Align: scene.Right},
	}}
}

// toWrite is a cell with room for a hand in a glove.
const toWrite = "\n\n"

// fewLines stand on one page with the names that are signed below them.
const fewLines = 4

// blocks are a part as it is printed; told: where its labels come from was said just before, or goes without saying.
func (part Part) blocks(width float64, told bool) []scene.Block {
	above := []scene.Block{scene.Paragraph{String: part.Title, Size: 2.5, Weight: scene.Bold, Space: 0.6}}
	if !told {
		above = append(above, scene.Paragraph{String: "labels: " + part.Form, Size: small, Space: 0.6})
	}
	var out, said []scene.Block // said: the words above a table, the last of which stand on one page with it
	for _, n := range part.Notes {
		said = append(said, scene.Paragraph{String: "– " + n, Size: letters, Space: 0.5})
	}
	put := func(b scene.Block) {
		if n := len(said); n > 0 {
			last := max(0, n-4)
			out, b = append(out, said[:last]...), headed{said[last:], b}
		}
		out, said = append(out, b), nil
	}
	switch n := len(part.Lines); {
	case n > 0 && n <= fewLines && len(part.Rows) == 0 && len(part.Sign) > 0: // whoever signs sees what
		said = append(said, part.lines(width), scene.Space(1.2))
	case n > 0:
		put(part.lines(width))
		out = append(out, scene.Space(1.2))
	}
	if len(part.Heads) > 0 && len(part.Rows) > 0 {
		if part.From != "" {
			said = append(said, scene.Paragraph{String: "from: " + part.From, Size: small, Space: 0.6})
		}
		put(part.grid(width))
	}
	if len(part.Sign) > 0 {
		sign := Part{Heads: []Head{{Name: "", Wide: 3}, {Name: "name, firm", Wide: 4, Fill: true}, {Name: "signature", Wide: 3, Fill: true}, {Name: "day, hour", Wide: 2, Fill: true}}}
		for _, s := range part.Sign {
			sign.Rows = append(sign.Rows, []string{s, "", "", ""})
		}
		put(sign.grid(width))
	}
	if out = append(out, said...); len(out) == 0 {
		return above
	}
	out[0] = headed{above, out[0]}
	return append([]scene.Block{scene.Space(3)}, out...)
}

// headed is a block below its title: the title stands on one page with what begins it.
type headed struct {
	above []scene.Block
	first scene.Block
}

// Take lays the title and what fits of the block; nothing, where there is no room for both (see scene.Block).
func (h headed) Take(width, height float64, fresh bool) ([]scene.Mark, float64, scene.Block) {
	var marks []scene.Mark
	y := 0.0
	put := func(part []scene.Mark, used float64) {
		marks, y = append(marks, scene.Group{Transform: scene.Shift(0, y), Marks: part}), y+used
	}
	for _, b := range h.above {
		part, used, _ := b.Take(width, height, true)
		put(part, used)
	}
	part, used, rest := h.first.Take(width, height-y, fresh)
	if !fresh && (used == 0 || y+used > height) {
		return nil, 0, h
	}
	put(part, used)
	return marks, y, rest
}

// lines are lines: name, what is on file, where it comes from.
func (part Part) lines(width float64) scene.Block {
	g := Part{Heads: []Head{{Wide: 3}, {Wide: 5, Fill: true}, {Wide: 3}}}
	any := false
	for _, l := range part.Lines {
		any = any || l.From != ""
		g.Rows = append(g.Rows, []string{l.Name, l.Is, l.From})
	}
	if !any {
		g.Heads = g.Heads[:2]
		g.Heads[1].Wide = 8
	}
	return g.grid(width)
}

// grid is a table with rules between its columns, and room in the cells to be written in.
func (part Part) grid(width float64) scene.Block {
	sum := 0.0
	for _, h := range part.Heads {
		sum += h.Wide
	}
	t := scene.Table{Size: letters}
	for _, h := range part.Heads {
		t.Columns = append(t.Columns, scene.Column{Head: h.Name, Width: float64(width * h.Wide / sum)})
	}
	for _, row := range part.Rows {
		cells := make([]string, len(part.Heads))
		for i := range cells {
			cells[i] = row[i]
			if part.Heads[i].Fill && row[i] == "" {
				cells[i] = toWrite
			}
		}
		t.Rows = append(t.Rows, scene.Row{Cells: cells})
	}
	return ruled{t}
}

// ruled is a table whose columns are parted by rules.
type ruled struct{ scene.Table }

// Take lays what fits (see scene.Block).
func (r ruled) Take(width, height float64, fresh bool) ([]scene.Mark, float64, scene.Block) {
	marks, used, rest := r.Table.Take(width, height, fresh)
	if used > 0 && len(marks) > 0 {
		x := 0.0
		line := func() {
			marks = append(marks, scene.Line(scene.Point{X: x}, scene.Point{X: x, Y: used}, scene.Pen(scene.Fine)))
		}
		line()
		for _, c := range r.Columns {
			x += c.Width
			line()
		}
	}
	if t, ok := rest.(scene.Table); ok {
		rest = ruled{t}
	}
	return marks, used, rest
}
