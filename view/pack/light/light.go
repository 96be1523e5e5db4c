// Package light makes the files of a pack by writers that are small enough for a browser: sheets and cards as PDF and SVG,
// CSV, LandXML, GeoJSON, the plan and the job as data and text, the findings as text. Workbook and pictures are made by writers that it
// is given; package pack gives them, a browser has none.
//
//	light.go     the files of one plan's pack, and one of them by itself
//	pages.go     the pages of a document each by itself, for a screen to show and to print
//	exchange.go  those for other people's programs
//	papers.go    the papers of the site under their stages
package light

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"
	"sync"
	"time"

	"trenchwright/base/finding"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/job/stamp"
	"trenchwright/place/ground"
	"trenchwright/view/drawing"
	"trenchwright/view/jobtext"
	"trenchwright/view/papers"
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
func Data(p planner.Plan, j job.Job, of stamp.Stamp) []File {
	return []File{
		{"plan.json", "the plan as data; its schema is in docs/plan.schema.json", func() ([]byte, error) { return planJSON(p) }},
		{"job.json", "the job in its canonical form", func() ([]byte, error) { return job.CanonicalJSON(j), nil }},
		{"findings.txt", "what the program has to say", func() ([]byte, error) { return []byte(findings(p, of)), nil }},
	}
}

// Pack is a plan's pack on its ground, always the same for the same plan. A plan that was read from its own JSON gives the same
// files as the one it was written from. Sheets and cards are drawn when the first file that shows them is asked for.
type Pack struct {
	of     papers.Input
	groups []group
	pages  map[string]func() []scene.Page // of each document
	ahead  func()                         // draws what takes longest
}

// group are files that are drawn together; may tells without drawing whether one could be among them.
type group struct {
	may   func(path string) bool
	files func() []File
}

// Of is the pack of a plan, of a state of its job.
func Of(p planner.Plan, j job.Job, of stamp.Stamp, by Writers, surfaces ...*ground.Surface) *Pack {
	style := func(size drawing.Size) drawing.Style {
		s := drawing.StyleFor(j, size)
		s.Stamp = of
		return s
	}
	head, documents := drawing.Head(p, of), binder{p, of}
	sheets := func(size drawing.Size) []scene.Page { return drawing.Bind(drawing.Sheets(p, j, style(size)), head) }
	a3 := sync.OnceValue(func() []scene.Page { return sheets(drawing.A3) })
	a1 := sync.OnceValue(func() []scene.Page { return sheets(drawing.A1) })
	tables := sync.OnceValue(func() []table.Table { return stamped(schedule.Of(p, j).All(), lineOf(p, of)) })
	cards := sync.OnceValue(func() []scene.Page { return drawing.Bind(drawing.CutCards(p, j, style(drawing.A4)), head) })
	levels := sync.OnceValue(func() []scene.Page { return drawing.Bind(drawing.LevelCards(p, j, style(drawing.A4)), head) })
	checks := sync.OnceValue(func() []scene.Page { return drawing.CheckPages(p, j, style(drawing.A4)) })
	programme := sync.OnceValue(func() []scene.Page { return drawing.Bind(drawing.ProgrammeSheets(p, j, style(drawing.A3)), head) })
	pages := map[string]func() []scene.Page{"programme-A3.pdf": programme, "sheets-A3.pdf": a3, "sheets-A1.pdf": a1, "checking-pages-A4.pdf": checks,
		"cut-cards-A4.pdf":     func() []scene.Page { return drawing.Impose(cards()) },
		"set-out-cards-A4.pdf": func() []scene.Page { return drawing.Impose(levels()) }}
	given := papers.Input{Job: j, Plan: p, Stamp: of}
	forms := map[string]func() []papers.Paper{}
	for _, b := range papers.BoundOf(j) {
		forms[b.File] = sync.OnceValue(func() []papers.Paper { return papers.Of(given, b.Kind) })
		pages[b.File] = func() []scene.Page { return papers.Pages(forms[b.File]()) }
	}
	return &Pack{of: given, ahead: func() { a3() }, pages: pages, groups: []group{
		{only("plan.json", "job.json", "findings.txt"), func() []File { return Data(p, j, of) }},
		{only("job.yaml"), func() []File {
			return []File{{"job.yaml", "the job as text, to read and to edit by hand", func() ([]byte, error) {
				return written(func(w io.Writer) error { return jobtext.WriteYAML(w, j) })
			}}}
		}},
		{only("sheets-A3.pdf", "sheets-A1.pdf"), func() []File {
			return []File{
				{"sheets-A3.pdf", "all sheets on A3", func() ([]byte, error) { return documents.write("sheets on A3", a3()) }},
				{"sheets-A1.pdf", "the same on A1", func() ([]byte, error) { return documents.write("sheets on A1", a1()) }},
			}
		}},
		{only("tables.xlsx"), func() []File { return []File{{"tables.xlsx", "all tables as a workbook", makeBy(by.Workbook, tables)}} }},
		{only("cut-cards-A4.pdf"), func() []File {
			return documents.cards("cut-cards-A4.pdf", "cut cards", "a card for each piece that is cut, four on a page, to be cut apart", cards())
		}},
		{only("set-out-cards-A4.pdf"), func() []File {
			return documents.cards("set-out-cards-A4.pdf", "set-out cards", "the levels of every joint, six joints of one grade on a card, four on a page, to be cut apart", levels())
		}},
		{papersPath(j), func() []File { return documents.handed(j, forms) }},
		{under("interchange/"), func() []File { return exchanged(p, j, of, surfaces) }},
		{only("programme-A3.pdf", "csv/programme.csv", "csv/ahead.csv"), func() []File { return timed(p, j, documents, programme, of) }},
		{checkingPath, func() []File { return documents.checking(checks()) }},
		{under("csv/"), func() []File { return asCSV(tables()) }},
		{drawn, func() []File { return pictured(a3(), by) }},
		{drawn, func() []File { return pictured(cards(), by) }},
		{drawn, func() []File { return pictured(levels(), by) }},
	}}
}

func only(paths ...string) func(string) bool {
	return func(path string) bool { return slices.Contains(paths, path) }
}

func under(folder string) func(string) bool {
	return func(path string) bool { return strings.HasPrefix(path, folder) }
}

func drawn(path string) bool {
	return strings.HasPrefix(path, "svg/") || strings.HasPrefix(path, "png/")
}

// Files are all of them. Sheets are drawn beside the rest: they only read the plan.
func (k *Pack) Files() []File {
	go k.ahead()
	var out []File
	for _, g := range k.groups {
		out = append(out, g.files()...)
	}
	return out
}

// Find gives one of them by its path, and draws no more than it has to. Behind the path of a document stand its pages, which no
// list names: see pageOf.
func (k *Pack) Find(path string) (File, bool) {
	if document, rest, ok := strings.Cut(path, "/"); ok && k.pages[document] != nil {
		return pageOf(k.pages[document](), path, rest)
	}
	for _, g := range k.groups {
		if !g.may(path) {
			continue
		}
		for _, f := range g.files() {
			if f.Name == path {
				return f, true
			}
		}
	}
	return File{}, false
}

// cards are cards four to a page, where there are any.
func (b binder) cards(name, subject, about string, cards []scene.Page) []File {
	if len(cards) == 0 {
		return nil
	}
	return []File{{name, about, func() ([]byte, error) { return b.write(subject, drawing.Impose(cards)) }}}
}

func checkingPath(path string) bool {
	return path == "checking-pages-A4.pdf" || strings.HasPrefix(path, "svg/check")
}

// checking are the pages to be filled in, as a document and each as SVG: on paper they are to be written on.
func (b binder) checking(pages []scene.Page) []File {
	if len(pages) == 0 {
		return nil
	}
	files := []File{{"checking-pages-A4.pdf", "pages to be filled in on site: the levels wanted at every joint beside empty columns, before the bed, before the setting, after the covers", func() ([]byte, error) {
		return b.write("checking pages", pages)
	}}}
	for _, page := range pages {
		files = append(files, inLines(page))
	}
	return files
}

func asCSV(tables []table.Table) (files []File) {
	for _, t := range tables {
		files = append(files, File{"csv/" + t.Name + ".csv", t.Title, func() ([]byte, error) {
			return written(func(w io.Writer) error { return table.WriteCSV(w, t) })
		}})
	}
	return files
}

func pictured(pages []scene.Page, by Writers) (files []File) {
	for _, page := range pages {
		files = append(files, Pictures(page, by)...)
	}
	return files
}

// timed are the papers of a job's programme, which is looked for when the first of them is asked for; none where it has none.
func timed(p planner.Plan, j job.Job, documents binder, pages func() []scene.Page, of stamp.Stamp) []File {
	if j.Programme == nil {
		return nil
	}
	dates := sync.OnceValue(func() []table.Table { return stamped(schedule.Of(p, j).Programme(), lineOf(p, of)) })
	files := []File{{"programme-A3.pdf", "the programme, time against chainage, and the days ahead", func() ([]byte, error) { return documents.write("programme on A3", pages()) }}}
	for i, name := range []string{"programme", "ahead"} {
		files = append(files, File{"csv/" + name + ".csv", schedule.ProgrammeTitles[i], func() ([]byte, error) {
			return written(func(w io.Writer) error { return table.WriteCSV(w, dates()[i]) })
		}})
	}
	return files
}

// stamped are tables that say first which state of the job they are of.
func stamped(tables []table.Table, line string) []table.Table {
	for i := range tables {
		tables[i].Notes = append([]string{line}, tables[i].Notes...)
	}
	return tables
}

// binder makes documents of pages, of one plan and one state of its job.
type binder struct {
	plan planner.Plan
	of   stamp.Stamp
}

func (b binder) write(subject string, pages []scene.Page) ([]byte, error) {
	p := b.plan
	d := scene.Document{Title: p.Job.Name, Subject: subject + ", " + b.of.Brief(p.Job.Hash), Author: p.Job.By, Language: "en-GB", Pages: pages}
	if p.Job.Words == string(job.US) {
		d.Language = "en-US"
	}
	if day, err := time.Parse("2006-01-02", p.Job.On); err == nil {
		d.Date = day
	}
	if at := b.of.When(); !at.IsZero() {
		d.Date = at
	}
	return written(func(w io.Writer) error { return pdf.Write(w, d) })
}

func planJSON(p planner.Plan) ([]byte, error) {
	var b bytes.Buffer
	b.Grow(1<<16 + 1100*len(p.Units)) // about what a unit with its joint, covers and set-out takes
	err := p.WriteJSON(&b)
	return b.Bytes(), err
}

// lineOf is which state of the job a table is of; of one that was issued, with what stood open.
func lineOf(p planner.Plan, of stamp.Stamp) string {
	line := of.Line(p.Job.Hash, p.Core)
	if of.Issued != nil {
		line += ". Open when issued: " + open(p)
	}
	return line
}

// open is how much stands open, as whoever issued it was told.
func open(p planner.Plan) string { return strings.Join(p.Open().Said(), ", ") }

func findings(p planner.Plan, of stamp.Stamp) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n%s\nOpen: %s\n%d findings, numbered as on the sheets\n\n", p.Job.Name, of.Line(p.Job.Hash, p.Core), open(p), len(p.Findings))
	for i, f := range p.Findings {
		fmt.Fprintf(&b, "%s  %s\n\n", finding.Number(i), f.Say(p.Job.Speech()))
	}
	return b.String()
}

// Pictures are one page as SVG and PNG.
func Pictures(page scene.Page, by Writers) []File {
	return []File{inLines(page), {"png/" + page.Name + ".png", page.Title, makeBy(by.Picture, func() scene.Page { return page })}}
}

func inLines(page scene.Page) File {
	return File{"svg/" + page.Name + ".svg", page.Title, func() ([]byte, error) {
		return written(func(w io.Writer) error { return scene.WriteSVG(w, page) })
	}}
}

// makeBy is nil where there is no writer.
func makeBy[T any](write func(io.Writer, T) error, of func() T) func() ([]byte, error) {
	if write == nil {
		return nil
	}
	return func() ([]byte, error) { return written(func(w io.Writer) error { return write(w, of()) }) }
}

func written(write func(io.Writer) error) ([]byte, error) {
	var b bytes.Buffer
	err := write(&b)
	return b.Bytes(), err
}
