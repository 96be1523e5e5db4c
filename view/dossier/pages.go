package dossier

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/view/scene"
	"trenchwright/view/table"
)

// The pages: A4, lying, in mm.
const (
	pageWidth, pageHeight = 297.0, 210.0
	margin                = 12.0
	headHigh              = 13.0 // from the margin to where a page begins
	footHigh              = 6.0
	letters               = 1.8 // height of the capitals of tables
)

func frame() scene.Box {
	return scene.Box{Left: margin, Top: margin + headHigh, Right: pageWidth - margin, Bottom: pageHeight - margin - footHigh}
}

// Document is the dossier as pages with bookmarks: the strip first, as its index.
func (d *Dossier) Document() scene.Document {
	drawn := d.drawings()
	pages := d.stripPages(drawn)
	for i, s := range d.sections() {
		pages = append(pages, d.sectionPages(s)...)
		if i == 0 { // behind the gaps in the evidence, which are first
			for _, p := range drawn {
				pages = append(pages, p...)
			}
		}
	}
	for i := range pages {
		pages[i].Marks = append(pages[i].Marks, d.head(pages[i].Title), d.foot(i+1, len(pages)))
	}
	out := scene.Document{Title: d.Plan.Job.Name + ", " + strings.TrimSpace("dossier "+d.Part.said()), Subject: "what was built, by its records", Author: d.Plan.Job.By, Language: "en-GB", Pages: pages}
	if d.Plan.Job.Words == string(job.US) {
		out.Language = "en-US"
	}
	out.Date = d.lastDay()
	return out
}

// drawings are the drawings as built, kind by kind; none of a kind is left out.
func (d *Dossier) drawings() [][]scene.Page {
	var out [][]scene.Page
	for _, pages := range [][]scene.Page{d.planPages(), d.sectionDrawings(), d.crossPages(), d.coverPages()} {
		if len(pages) > 0 {
			out = append(out, pages)
		}
	}
	return out
}

// lastDay is when the last record was made, by its device; the day of the job where there is none.
func (d *Dossier) lastDay() time.Time {
	if d.last.IsZero() {
		if day, err := time.Parse("2006-01-02", d.Plan.Job.On); err == nil {
			return day
		}
	}
	return d.last
}

// lastMade is when the last of some records was made, by its device; the zero time where none says so.
func lastMade(records []field.Record) (last time.Time) {
	for i := range records {
		if t, err := time.Parse(time.RFC3339, records[i].Made); err == nil && t.After(last) {
			last = t.UTC()
		}
	}
	return last
}

// head is the job and what the page holds; foot the state of things and the number.
func (d *Dossier) head(title string) scene.Mark {
	at := scene.Point{X: margin, Y: margin}
	name, size, _ := scene.Fit(d.Plan.Job.Name, 3.2, 2, scene.Bold, 150)
	return scene.Group{Marks: []scene.Mark{
		scene.Text{At: at, String: name, Size: size, Weight: scene.Bold, VAlign: scene.Top},
		scene.Text{At: scene.Point{X: margin, Y: margin + 5.4}, String: title, Size: 2.5, Weight: scene.Bold, VAlign: scene.Top},
		scene.Text{At: scene.Point{X: pageWidth - margin, Y: margin}, String: "index", Size: 2, Align: scene.Right, VAlign: scene.Top},
		scene.Link{Area: scene.Box{Left: pageWidth - margin - 12, Top: margin - 1, Right: pageWidth - margin, Bottom: margin + 3.4}, To: "#index-1"},
		scene.Line(scene.Point{X: margin, Y: margin + headHigh - 2.6}, scene.Point{X: pageWidth - margin, Y: margin + headHigh - 2.6}, scene.Pen(scene.Medium)),
	}}
}

func (d *Dossier) foot(n, of int) scene.Mark {
	y := pageHeight - margin
	number := fmt.Sprintf("page %d of %d", n, of)
	recorded := "1 record"
	if len(d.all) != 1 {
		recorded = fmt.Sprintf("%d records", len(d.all))
	}
	if !d.last.IsZero() {
		recorded += d.last.Format(", the last of 2006-01-02")
	}
	job := "job " + short(d.Plan.Job.Hash) + prefixed(", revision ", d.Plan.Job.Revision) + prefixed(" of ", d.Plan.Job.On)
	state := strings.Join(nonempty(strings.TrimSpace("dossier "+d.Part.said()), recorded, job, "core "+d.Plan.Core), " · ")
	return scene.Group{Marks: []scene.Mark{
		scene.Line(scene.Point{X: margin, Y: y - footHigh + 1.8}, scene.Point{X: pageWidth - margin, Y: y - footHigh + 1.8}, scene.Pen(scene.Thin)),
		scene.Text{At: scene.Point{X: margin, Y: y}, String: state, Size: 1.8},
		scene.Text{At: scene.Point{X: pageWidth - margin, Y: y}, String: number, Size: 1.8, Align: scene.Right},
	}}
}

func prefixed(prefix, s string) string {
	if s == "" {
		return ""
	}
	return prefix + s
}

func nonempty(all ...string) []string {
	var out []string
	for _, s := range all {
		if s != "" {
			out = append(out, s)
		}
	}
	return out
}

func short(hash string) string { return hash[:min(len(hash), 12)] }

// blocksOf is what one part has to print; nothing: nothing was recorded, which the index says.
func (d *Dossier) blocksOf(s section) []scene.Block {
	blocks := slices.Clone(s.above)
	for _, t := range s.tables {
		blocks = append(blocks, d.blocks(t)...)
	}
	return blocks
}

// sectionPages are the pages of one part, the first of them the target of its bookmark; none where nothing was recorded.
func (d *Dossier) sectionPages(s section) []scene.Page {
	blocks := d.blocksOf(s)
	if len(blocks) == 0 {
		return nil
	}
	var pages []scene.Page
	for i, marks := range scene.Flow(func(int) scene.Box { return frame() }, blocks...) {
		p := scene.Page{Width: pageWidth, Height: pageHeight, Title: s.title, Name: fmt.Sprintf("%s-%d", s.name, i+1), Level: -1, Marks: marks}
		if i == 0 {
			p.Level = 0
		} else {
			p.Title += ", goes on"
		}
		pages = append(pages, p)
	}
	return pages
}

// narrow is the width of a column whose cells all find room on one line of few words; 0 where the rest shares what is left.
func narrow(head string, rows [][]string, i int) float64 {
	const most = 34.0
	wide := 0.0
	for _, w := range strings.Fields(head) {
		wide = max(wide, scene.TextWidth(w, letters, scene.Bold))
	}
	for _, row := range rows {
		wide = max(wide, scene.TextWidth(row[i], letters, scene.Regular))
	}
	if wide > most {
		return 0
	}
	return wide + 2.2
}

// signed is a figure with a minus sign that can be seen; a difference has its plus too.
func signed(cell string, c table.Column) string {
	if c.Kind == table.KindText || cell == "" || cell[0] < '+' || cell[0] > '9' {
		return cell
	}
	if rest, ok := strings.CutPrefix(cell, "-"); ok {
		return "−" + rest
	}
	if strings.HasSuffix(c.Key, "_off") && strings.ContainsAny(cell, "123456789") {
		return "+" + cell
	}
	return cell
}

// blocks are a table as it is printed: its title, its notes, its rows. Columns that are empty all down are left out.
func (d *Dossier) blocks(t table.Table) []scene.Block {
	heads, rows := t.Shown()
	for _, row := range rows {
		for i := range row {
			row[i] = signed(row[i], t.Columns[i])
		}
	}
	used := make([]bool, len(heads))
	for _, row := range rows {
		for i, cell := range row {
			used[i] = used[i] || cell != ""
		}
	}
	out := scene.Table{Size: letters}
	for i, h := range heads {
		if !used[i] {
			continue
		}
		c := scene.Column{Head: h, Width: narrow(h, rows, i)}
		if t.Columns[i].Kind != table.KindText {
			c.Align = scene.Right
		}
		out.Columns = append(out.Columns, c)
	}
	for _, row := range rows {
		r := scene.Row{}
		for i, cell := range row {
			if used[i] {
				r.Cells = append(r.Cells, cell)
			}
		}
		out.Rows = append(out.Rows, r)
	}
	above := []scene.Block{scene.Paragraph{String: t.Title, Size: 2.5, Weight: scene.Bold, Space: 1.2}}
	for i, n := range t.Notes {
		p := scene.Paragraph{String: n, Size: letters, Space: 0.6}
		if i == len(t.Notes)-1 {
			p.Space = 1.4
		}
		above = append(above, p)
	}
	return []scene.Block{headed{above, out}, scene.Space(6)}
}

// headed is a table below its title and its notes: they stand on one page with the first of its rows.
type headed struct {
	above []scene.Block
	table scene.Table
}

// Take lays title, notes and what fits of the table; nothing, where there is no room for a row below them.
func (h headed) Take(width, height float64, fresh bool) ([]scene.Mark, float64, scene.Block) {
	var marks []scene.Mark
	y := 0.0
	for _, b := range h.above {
		part, used, rest := b.Take(width, height-y, true)
		if !fresh && (rest != nil || y+used > height) {
			return nil, 0, h
		}
		marks, y = append(marks, scene.Group{Transform: scene.Shift(0, y), Marks: part}), y+used
	}
	if len(h.table.Rows) == 0 {
		return marks, y, nil
	}
	h.table.Columns = fitted(h.table.Columns, width)
	part, used, rest := h.table.Take(width, height-y, false)
	if used == 0 && rest != nil && !fresh {
		return nil, 0, h
	}
	return append(marks, scene.Group{Transform: scene.Shift(0, y), Marks: part}), y + used, rest
}

// fitted are columns of which the widest texts share what is left where all side by side were wider than the page: they take two lines.
func fitted(columns []scene.Column, width float64) []scene.Column {
	const least = 16.0 // of a column that shares what is left
	out := slices.Clone(columns)
	for {
		sum, widest := 0.0, -1
		for i, c := range out {
			if c.Width == 0 {
				sum += least
				continue
			}
			sum += c.Width
			if c.Align != scene.Right && c.Width > least && (widest < 0 || c.Width > out[widest].Width) {
				widest = i
			}
		}
		if sum <= width || widest < 0 {
			return out
		}
		out[widest].Width = 0
	}
}
