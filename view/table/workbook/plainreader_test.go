package workbook

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"
)

// The small reader below knows ISO/IEC 29500-1 only as far as the tests ask, and nothing of the library that writes.

type cell struct{ kind, text string }

type pane struct {
	YSplit  string `xml:"ySplit,attr"`
	TopLeft string `xml:"topLeftCell,attr"`
	State   string `xml:"state,attr"`
}

type page struct {
	Paper       string `xml:"paperSize,attr"`
	Orientation string `xml:"orientation,attr"`
	Wide        string `xml:"fitToWidth,attr"`
	Long        string `xml:"fitToHeight,attr"`
}

type plainSheet struct {
	cells    map[string]cell
	style    map[string]int
	formulas int
	pane     pane
	page     page
	fit      bool
	footer   string
	widths   []string
}

type plainBook struct {
	names       []string
	sheets      []plainSheet
	printTitles map[string]string // by the number of the sheet
	formats     []string          // number format of each cell style
}

func openPlain(t *testing.T, data []byte) plainBook {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{}
	for _, f := range z.File {
		if !f.Modified.IsZero() && f.Modified.After(time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)) {
			t.Errorf("%s carries the time %v", f.Name, f.Modified)
		}
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		if files[f.Name], err = io.ReadAll(r); err != nil {
			t.Fatal(err)
		}
	}
	return readBook(t, files)
}

func readXML(t *testing.T, files map[string][]byte, name string, into any) {
	t.Helper()
	data, ok := files[name]
	if !ok {
		t.Fatalf("no %s in the workbook", name)
	}
	if err := xml.Unmarshal(data, into); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
}

func readBook(t *testing.T, files map[string][]byte) plainBook {
	t.Helper()
	var top struct {
		Sheets []struct {
			Name string `xml:"name,attr"`
			Rel  string `xml:"http://schemas.openxmlformats.org/officeDocument/2006/relationships id,attr"`
		} `xml:"sheets>sheet"`
		Names []struct {
			Name  string `xml:"name,attr"`
			Sheet string `xml:"localSheetId,attr"`
			Text  string `xml:",chardata"`
		} `xml:"definedNames>definedName"`
	}
	var rels struct {
		Rel []struct {
			ID     string `xml:"Id,attr"`
			Target string `xml:"Target,attr"`
		} `xml:"Relationship"`
	}
	var shared struct {
		Items []struct {
			Text string   `xml:"t"`
			Runs []string `xml:"r>t"`
		} `xml:"si"`
	}
	readXML(t, files, "xl/workbook.xml", &top)
	readXML(t, files, "xl/_rels/workbook.xml.rels", &rels)
	readXML(t, files, "xl/sharedStrings.xml", &shared)
	var texts []string
	for _, s := range shared.Items {
		texts = append(texts, unescaped(s.Text+strings.Join(s.Runs, "")))
	}
	book := plainBook{printTitles: map[string]string{}, formats: readFormats(t, files)}
	for _, n := range top.Names {
		if n.Name == "_xlnm.Print_Titles" {
			book.printTitles[n.Sheet] = n.Text
		}
	}
	for _, s := range top.Sheets {
		book.names = append(book.names, s.Name)
		for _, r := range rels.Rel {
			if r.ID == s.Rel {
				book.sheets = append(book.sheets, readSheet(t, files, "xl/"+strings.TrimPrefix(r.Target, "/xl/"), texts))
			}
		}
	}
	return book
}

func readSheet(t *testing.T, files map[string][]byte, name string, texts []string) plainSheet {
	t.Helper()
	var x struct {
		Fit struct {
			On string `xml:"fitToPage,attr"`
		} `xml:"sheetPr>pageSetUpPr"`
		Pane pane `xml:"sheetViews>sheetView>pane"`
		Cols []struct {
			Width string `xml:"width,attr"`
		} `xml:"cols>col"`
		Cells []struct {
			Ref     string    `xml:"r,attr"`
			Kind    string    `xml:"t,attr"`
			Style   int       `xml:"s,attr"`
			Value   string    `xml:"v"`
			Formula *struct{} `xml:"f"`
		} `xml:"sheetData>row>c"`
		Page   page   `xml:"pageSetup"`
		Footer string `xml:"headerFooter>oddFooter"`
	}
	readXML(t, files, name, &x)
	s := plainSheet{cells: map[string]cell{}, style: map[string]int{}, pane: x.Pane, page: x.Page, footer: x.Footer, fit: x.Fit.On == "1" || x.Fit.On == "true"}
	for _, c := range x.Cols {
		s.widths = append(s.widths, c.Width)
	}
	for _, c := range x.Cells {
		if c.Formula != nil {
			s.formulas++
		}
		text := c.Value
		if c.Kind == "s" {
			i, err := strconv.Atoi(c.Value)
			if err != nil || i >= len(texts) {
				t.Fatalf("%s: shared text %q of %d", c.Ref, c.Value, len(texts))
			}
			text = texts[i]
		}
		s.cells[c.Ref], s.style[c.Ref] = cell{c.Kind, text}, c.Style
	}
	return s
}

// readFormats is the number format of every cell style, in words.
func readFormats(t *testing.T, files map[string][]byte) []string {
	t.Helper()
	var x struct {
		Own []struct {
			ID   string `xml:"numFmtId,attr"`
			Code string `xml:"formatCode,attr"`
		} `xml:"numFmts>numFmt"`
		Styles []struct {
			Format string `xml:"numFmtId,attr"`
		} `xml:"cellXfs>xf"`
	}
	readXML(t, files, "xl/styles.xml", &x)
	codes := map[string]string{"": "General", "0": "General", "1": "0", "2": "0.00", "49": "@"} // built in: 18.8.30
	for _, n := range x.Own {
		codes[n.ID] = n.Code
	}
	var out []string
	for _, s := range x.Styles {
		out = append(out, codes[s.Format])
	}
	return out
}

func (s plainSheet) format(b plainBook, ref string) string {
	if i := s.style[ref]; i < len(b.formats) {
		return b.formats[i]
	}
	return fmt.Sprintf("no style %d", s.style[ref])
}

var signs = regexp.MustCompile(`_x([0-9A-Fa-f]{4})_`)

// unescaped reads _x0041_ as ST_Xstring of ISO/IEC 29500-1, 22.9.2.19 has it (from memory).
func unescaped(s string) string {
	return signs.ReplaceAllStringFunc(s, func(m string) string {
		n, _ := strconv.ParseUint(m[2:6], 16, 32)
		return string(rune(n))
	})
}
