// Package pdf writes a scene.Document as PDF: text that can be searched and
// copied, the face's subset inside, bookmarks, links and what the document
// says about itself. The same document always gives the same bytes; dates are
// those declared, never the clock's.
//
// Map of the package: pdf.go writes documents, canvas.go paints one page.
package pdf

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"time"
	"unicode/utf8"

	"codeberg.org/go-pdf/fpdf"

	"trenchwright/view/scene"
	"trenchwright/view/scene/face"
)

// pointsPerMM is the PDF's own unit in ours.
const pointsPerMM = 72 / 25.4

const faceName = "scene" // the name that fpdf knows the face by

// maxSide is the longest side that PDF allows a page, 14 400 points.
const maxSide = 14400 / pointsPerMM

// Write writes the document. When a page cannot be drawn nothing is written.
func Write(to io.Writer, d scene.Document) error {
	if err := check(d); err != nil {
		return err
	}
	f := fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt", Size: size(d.Pages[0])})
	describe(f, d)
	// fpdf may write into the bytes that it is given.
	f.AddUTF8FontFromBytes(faceName, "", bytes.Clone(face.Regular))
	f.AddUTF8FontFromBytes(faceName, "B", bytes.Clone(face.Bold))

	w := writer{pdf: f, last: d.Pages[len(d.Pages)-1], links: map[string]int{}}
	for i, p := range d.Pages {
		if p.Name != "" {
			id := f.AddLink()
			f.SetLink(id, 0, i+1)
			w.links["#"+p.Name] = id
		}
	}
	for _, p := range d.Pages {
		if err := w.page(p); err != nil {
			return err
		}
	}
	var out bytes.Buffer
	if err := f.Output(&out); err != nil {
		return fmt.Errorf("PDF: %w", err)
	}
	_, err := to.Write(out.Bytes())
	return err
}

func size(p scene.Page) fpdf.SizeType {
	return fpdf.SizeType{Wd: p.Width * pointsPerMM, Ht: p.Height * pointsPerMM}
}

func check(d scene.Document) error {
	if len(d.Pages) == 0 {
		return fmt.Errorf("PDF %q: a document without a page cannot be written", d.Title)
	}
	names := map[string]bool{}
	for _, p := range d.Pages {
		if p.Width > maxSide || p.Height > maxSide {
			return fmt.Errorf("page %q: %v × %v mm; a PDF's page has sides of at most %.0f mm, so part the sheet", p.Title, p.Width, p.Height, maxSide)
		}
		if p.Name != "" && names[p.Name] {
			return fmt.Errorf("PDF %q: two pages have the name %q, so links to it would be unsure", d.Title, p.Name)
		}
		names[p.Name] = true
	}
	for _, r := range d.Language {
		if !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-') {
			return fmt.Errorf("PDF %q: language %q is not a tag such as en-GB", d.Title, d.Language)
		}
	}
	return nil
}

func describe(f *fpdf.Fpdf, d scene.Document) {
	f.SetCatalogSort(true)
	date := d.Date
	if date.IsZero() {
		date = time.Unix(0, 0)
	}
	f.SetCreationDate(date.UTC())
	f.SetModificationDate(date.UTC())
	f.SetProducer("Trenchwright", true)
	f.SetCreator("Trenchwright", true)
	f.SetTitle(basic(d.Title), true)
	f.SetSubject(basic(d.Subject), true)
	f.SetAuthor(basic(d.Author), true)
	f.SetKeywords(basic(d.Keywords), true)
	f.SetLang(d.Language)
	f.SetDisplayMode("fullpage", "SinglePage")
	f.SetMargins(0, 0, 0)
	f.SetAutoPageBreak(false, 0)
	f.SetCompression(true)
}

// basic is s as fpdf can write it outside of the pages: UTF-8 of the basic
// plane, without control characters.
func basic(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r < 0x20 || r == 0x7f:
			return ' '
		case r > 0xffff:
			return utf8.RuneError
		}
		return r
	}, s)
}

// writer carries what pages share.
type writer struct {
	pdf   *fpdf.Fpdf
	last  scene.Page
	links map[string]int // "#name" to fpdf's number
	level int            // deepest level that the next bookmark may have
}

func (w *writer) page(p scene.Page) error {
	w.pdf.SetFont(faceName, "", fontSize)
	w.pdf.AddPageFormat("P", size(p))
	if p.Level >= 0 && strings.TrimSpace(p.Title) != "" {
		// A level may be one deeper than the last at most. fpdf counts y from
		// the top of the document's last page, whatever page it is on.
		level := min(p.Level, w.level)
		w.level = level + 1
		w.pdf.Bookmark(basic(p.Title), level, (w.last.Height-p.Height)*pointsPerMM)
	}
	c := &canvas{writer: w, height: p.Height, now: state{font: scene.Regular}}
	c.put("4 M\n")
	if err := scene.Draw(p, c); err != nil {
		return err
	}
	if c.err != nil {
		return fmt.Errorf("page %q: %w", p.Title, c.err)
	}
	c.flush()
	return nil
}
