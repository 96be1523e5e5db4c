// Package light makes the files of a pack by writers that are small enough for a browser: sheets and cards as PDF and SVG,
// CSV, LandXML, GeoJSON, the plan and the job as data, the findings as text. Workbook and pictures are made by writers that it
// is given; package pack gives them, a browser has none.
//
//	light.go     the files of one plan's pack
//	exchange.go  those for other people's programs
package light

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"
	"sync"
	"time"

	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/place/ground"
	"trenchwright/view/drawing"
	"trenchwright/view/scene"
	"trenchwright/view/scene/pdf"
	"trenchwright/view/schedule"
	"trenchwright/view/table"
)

// File is one file of a pack, made when it is asked for. Files are independent: they may be made side by side.
type File struct {
	Name  string // with forward slashes
	About string // what it is, in a few words
	Make  func() ([]byte, error)
}

// Writers are those that a browser does without. Where one is nil, the Make of its files is nil too.
type Writers struct {
	Workbook func(io.Writer, []table.Table) error
	Picture  func(io.Writer, scene.Page) error
}

// Data are the plan as data alone: no sheets, no tables.
func Data(p planner.Plan, j job.Job) []File {
	return []File{
		{"plan.json", "the plan as data; its schema is in docs/plan.schema.json", func() ([]byte, error) { return planJSON(p) }},
		{"job.json", "the job in its canonical form", func() ([]byte, error) { return job.CanonicalJSON(j), nil }},
		{"findings.txt", "what the program has to say", func() ([]byte, error) { return []byte(findings(p)), nil }},
	}
}

// drawn is what more than one file of a pack is made of.
type drawn struct {
	tables            []table.Table
	a3, cards, levels []scene.Page
	checks            []scene.Page
	a1                func() []scene.Page // drawn by the time it is asked for, or soon
}

// drawAll draws sheets and makes tables, two of them at a time. They only read the plan.
func drawAll(p planner.Plan, j job.Job) drawn {
	d := drawn{a1: sync.OnceValue(func() []scene.Page { return bound(p, j, drawing.A1) })}
	beside := make(chan struct{})
	go func() {
		d.tables = schedule.Of(p, j).All()
		d.cards = drawing.Bind(drawing.CutCards(p, j, drawing.StyleFor(j, drawing.A4)), revision(p))
		d.levels = drawing.Bind(drawing.LevelCards(p, j, drawing.StyleFor(j, drawing.A4)), revision(p))
		d.checks = drawing.CheckPages(p, j, drawing.StyleFor(j, drawing.A4))
		close(beside)
		d.a1()
	}()
	a3 := bound(p, j, drawing.A3)
	<-beside
	d.a3 = a3
	return d
}

// Files are the files of a plan's pack on its ground, always the same for the same plan. A plan that was read from its own
// JSON gives the same files as the one it was written from.
func Files(p planner.Plan, j job.Job, by Writers, surfaces ...*ground.Surface) []File {
	d := drawAll(p, j)
	tables, a3, cards, levels := d.tables, d.a3, d.cards, d.levels
	files := append(Data(p, j), []File{
		{"sheets-A3.pdf", "all sheets on A3", func() ([]byte, error) { return document(p, "sheets on A3", a3) }},
		{"sheets-A1.pdf", "the same on A1", func() ([]byte, error) { return document(p, "sheets on A1", d.a1()) }},
		{"tables.xlsx", "all tables as a workbook", makeBy(by.Workbook, tables)},
	}...)
	if len(cards) > 0 {
		files = append(files, File{"cut-cards-A4.pdf", "a card for each piece that is cut, four on a page, to be cut apart", func() ([]byte, error) {
			return document(p, "cut cards", drawing.Impose(cards))
		}})
	}
	if len(levels) > 0 {
		files = append(files, File{"set-out-cards-A4.pdf", "the levels of every joint, six joints of one grade on a card, four on a page, to be cut apart", func() ([]byte, error) {
			return document(p, "set-out cards", drawing.Impose(levels))
		}})
	}
	files = append(files, exchanged(p, j, surfaces)...)
	if checks := d.checks; len(checks) > 0 {
		files = append(files, File{"checking-pages-A4.pdf", "pages to be filled in on site: the levels wanted at every joint beside empty columns, before the bed, before the setting, after the covers", func() ([]byte, error) {
			return document(p, "checking pages", checks)
		}})
		for _, page := range checks {
			files = append(files, inLines(page)) // as SVG; on paper they are to be written on
		}
	}
	for _, t := range tables {
		files = append(files, File{"csv/" + t.Name + ".csv", t.Title, func() ([]byte, error) {
			return written(func(w io.Writer) error { return table.WriteCSV(w, t) })
		}})
	}
	for _, page := range slices.Concat(a3, cards, levels) {
		files = append(files, Pictures(page, by)...)
	}
	return files
}

func bound(p planner.Plan, j job.Job, size drawing.Size) []scene.Page {
	return drawing.Bind(drawing.Sheets(p, j, drawing.StyleFor(j, size)), revision(p))
}

// revision is what stands beside the number of every page.
func revision(p planner.Plan) string {
	var said []string
	if p.Job.Revision != "" {
		said = append(said, "revision "+p.Job.Revision)
	}
	if p.Job.On != "" {
		said = append(said, p.Job.On)
	}
	return strings.Join(said, " · ")
}

func document(p planner.Plan, subject string, pages []scene.Page) ([]byte, error) {
	d := scene.Document{Title: p.Job.Name, Subject: subject, Author: p.Job.By, Language: "en-GB", Pages: pages}
	if p.Job.Words == string(job.US) {
		d.Language = "en-US"
	}
	if day, err := time.Parse("2006-01-02", p.Job.On); err == nil {
		d.Date = day
	}
	return written(func(w io.Writer) error { return pdf.Write(w, d) })
}

func planJSON(p planner.Plan) ([]byte, error) {
	var b bytes.Buffer
	b.Grow(1<<16 + 1100*len(p.Units)) // about what a unit with its joint, covers and set-out takes
	err := p.WriteJSON(&b)
	return b.Bytes(), err
}

func findings(p planner.Plan) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n%d findings, numbered as on the sheets\n\n", p.Job.Name, len(p.Findings))
	for i, f := range p.Findings {
		fmt.Fprintf(&b, "F%d  %s\n\n", i+1, f.Say(p.Job.Speech()))
	}
	return b.String()
}

// Pictures are one page as SVG and PNG.
func Pictures(page scene.Page, by Writers) []File {
	return []File{inLines(page), {"png/" + page.Name + ".png", page.Title, makeBy(by.Picture, page)}}
}

func inLines(page scene.Page) File {
	return File{"svg/" + page.Name + ".svg", page.Title, func() ([]byte, error) {
		return written(func(w io.Writer) error { return scene.WriteSVG(w, page) })
	}}
}

// makeBy is nil where there is no writer.
func makeBy[T any](write func(io.Writer, T) error, of T) func() ([]byte, error) {
	if write == nil {
		return nil
	}
	return func() ([]byte, error) { return written(func(w io.Writer) error { return write(w, of) }) }
}

func written(write func(io.Writer) error) ([]byte, error) {
	var b bytes.Buffer
	err := write(&b)
	return b.Bytes(), err
}
