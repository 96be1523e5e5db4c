// Package workbook writes tables as one workbook, ISO/IEC 29500, a sheet for each: figures as numbers with the exact
// value behind what is shown, text as text that never becomes a formula, frozen heads, and a set-up that prints. The
// same tables give the same bytes.
//
// It stands apart from view/table because its library is as large as the rest of the product's writers together.
package workbook

import (
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf16"

	"github.com/xuri/excelize/v2"

	"trenchwright/view/table"
)

// Paper is what the sheets are set up to be printed on, in landscape. The zero value is A4.
type Paper uint8

// The sizes of paper that are carried on site.
const (
	A4 Paper = iota
	A3
)

// What ISO/IEC 29500 applications hold.
const (
	mostRows    = 1_048_576
	mostColumns = 16_384
	mostText    = 32_767 // UTF-16 units in a cell
	mostDigits  = 15     // of a number; every decimal of 15 digits survives a float64
)

// fixedDate stands where a workbook names when it was made: the same tables give the same bytes.
const fixedDate = "2000-01-01T00:00:00Z"

// Write writes one workbook with a sheet for each table, in their order.
func Write(w io.Writer, paper Paper, tables ...table.Table) error {
	if len(tables) == 0 {
		return fmt.Errorf("a workbook needs at least one table")
	}
	f := excelize.NewFile()
	defer f.Close()
	names := sheetNames(tables)
	styles := styles{file: f, made: map[styleOf]int{}}
	for i, t := range tables {
		if err := addSheet(f, names[i], i == 0); err != nil {
			return fmt.Errorf("sheet %q: %w", names[i], err)
		}
		s := sheet{file: f, name: names[i], table: t, paper: paper, styles: &styles}
		if err := s.write(); err != nil {
			return fmt.Errorf("sheet %q: %w", names[i], err)
		}
	}
	if err := describe(f, tables[0]); err != nil {
		return err
	}
	return f.Write(w)
}

// addSheet makes the sheet; a new workbook already has one, which becomes the first.
func addSheet(f *excelize.File, name string, first bool) error {
	if first {
		return f.SetSheetName(f.GetSheetName(0), name)
	}
	_, err := f.NewSheet(name)
	return err
}

// describe says what the workbook is and who made it; the library's own words for that go.
func describe(f *excelize.File, first table.Table) error {
	title := first.Title
	if title == "" {
		title = first.Name
	}
	err := f.SetDocProps(&excelize.DocProperties{Creator: "Trenchwright", LastModifiedBy: "Trenchwright",
		Created: fixedDate, Modified: fixedDate, Title: table.Printable(title)})
	if err != nil {
		return err
	}
	return f.SetAppProps(&excelize.AppProperties{Application: "Trenchwright"})
}

// sheet is one table on its way into the workbook.
type sheet struct {
	file   *excelize.File
	name   string
	table  table.Table
	paper  Paper
	styles *styles
}

// write fills the sheet: title, notes, an empty row where there is either, the heads, the rows.
func (s sheet) write() error {
	g, err := s.table.Grid()
	if err != nil {
		return err
	}
	if len(g.Heads) > mostColumns {
		return fmt.Errorf("%d columns; a sheet holds %d", len(g.Heads), mostColumns)
	}
	row, err := s.preamble()
	if err != nil {
		return err
	}
	if row+len(g.Rows) > mostRows {
		return fmt.Errorf("%d rows; a sheet holds %d", row+len(g.Rows), mostRows)
	}
	if err := s.heads(g, row); err != nil {
		return err
	}
	if err := s.rows(g, row); err != nil {
		return err
	}
	return s.setUp(g, row)
}

// preamble writes the title and the notes and returns the row, from 1, that the heads go in.
func (s sheet) preamble() (int, error) {
	row := 1
	put := func(text string, style styleOf) error {
		err := s.text(1, row, text, style)
		row++
		return err
	}
	if s.table.Title != "" {
		if err := put(s.table.Title, styleOf{kind: title}); err != nil {
			return 0, err
		}
	}
	for _, n := range s.table.Notes {
		if err := put(n, styleOf{kind: note}); err != nil {
			return 0, err
		}
	}
	if row > 1 {
		row++
	}
	return row, nil
}

func (s sheet) heads(g table.Grid, row int) error {
	for i, h := range g.Heads {
		style := styleOf{kind: headText}
		if h.Numeric {
			style.kind = headNumber
		}
		if err := s.text(i+1, row, h.Text, style); err != nil {
			return err
		}
	}
	return nil
}

func (s sheet) rows(g table.Grid, head int) error {
	for r, values := range g.Rows {
		for i, v := range values {
			if v.Text == "" {
				continue
			}
			if err := s.value(i+1, head+1+r, v, g.Heads[i]); err != nil {
				return err
			}
		}
	}
	return nil
}

// value writes a number as a number if the workbook holds every digit of it, and as text if it does not.
func (s sheet) value(column, row int, v table.Value, h table.Head) error {
	number, err := strconv.ParseFloat(v.Text, 64)
	if !v.Numeric || err != nil || digits(v.Text) > mostDigits {
		return s.text(column, row, v.Text, styleOf{kind: words})
	}
	cell, err := excelize.CoordinatesToCellName(column, row)
	if err != nil {
		return err
	}
	if err := s.file.SetCellValue(s.name, cell, number); err != nil {
		return err
	}
	return s.style(cell, styleOf{kind: figure, places: h.Places})
}

// text writes text that stays text, whatever it begins with.
func (s sheet) text(column, row int, text string, style styleOf) error {
	cell, err := excelize.CoordinatesToCellName(column, row)
	if err != nil {
		return err
	}
	text = escaped(table.Printable(text))
	if n := len(utf16.Encode([]rune(text))); n > mostText {
		return fmt.Errorf("cell %s: %d characters; a cell holds %d", cell, n, mostText)
	}
	if err := s.file.SetCellStr(s.name, cell, text); err != nil {
		return err
	}
	return s.style(cell, style)
}

// escape is what a workbook's text reads as the sign of that number (ISO/IEC 29500-1, 22.9.2.19, from memory).
var escape = regexp.MustCompile(`^_x[0-9A-Fa-f]{4}_`)

// escaped is text in which nothing is taken for such a sign: _x0041_ stays what it is.
func escaped(text string) string {
	if !strings.Contains(text, "_x") {
		return text
	}
	var b strings.Builder
	for i := range len(text) {
		if text[i] == '_' && escape.MatchString(text[i:]) {
			b.WriteString("_x005F")
		}
		b.WriteByte(text[i])
	}
	return b.String()
}

func (s sheet) style(cell string, style styleOf) error {
	id, err := s.styles.id(style)
	if err != nil {
		return err
	}
	return s.file.SetCellStyle(s.name, cell, cell, id)
}
