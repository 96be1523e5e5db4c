// Package table holds tables of exact values and writes them on streams; it also reads the cutting list and
// the list of stock that people write themselves.
//
// The map of the package:
//
//	table.go         what a table is: Table, Column, Kind          cell.go  what stands in it: exact values, text, nothing
//	grid.go          every column with its exact figures           csv.go   as CSV (RFC 4180, UTF-8)
//	plain.go         as aligned text for a terminal                shown.go as text in cells, for paper
//	guard.go         text that spreadsheets must not run
//	cuttinglist.go   the cutting list, read with all its faults    lines.go how its lines and fields are parted
//	stocklist.go     the list of stock, read likewise
//	workbook/        as a workbook (ISO/IEC 29500), apart because its library is large
//
// Whatever is shown rounded to a customary unit (feet and inches, pounds) is followed by its exact value in CSV and
// in workbooks: no length is lost on the way out.
package table

import (
	"fmt"

	"trenchwright/base/measure"
)

// Kind is what a column holds. The zero value is text.
type Kind uint8

// The kinds of columns, and the units that each knows; the first one is taken where a column names none.
const (
	KindText       Kind = iota
	KindLength          // mm, m, ft-in, ft
	KindMass            // kg, lb
	KindLinearMass      // kg/m, lb/ft
	KindCount           // any word, or none
	KindAngle           // deg
	KindGrade           // %
	KindMoney           // a currency, in hundredths of it
	KindDecimal         // any unit
)

// Table is one table. The zero value is an empty one without columns, which no writer takes.
type Table struct {
	Name    string   // short: of the file or the sheet
	Title   string   // one line above it
	Notes   []string // what holds for all of it; what was not checked goes here, and into every output
	Columns []Column
	Rows    [][]Cell // one cell for each column
}

// Column is one column. The zero value is text without a head.
type Column struct {
	Key      string // stable name; stands in for a missing head
	Head     string
	Unit     string
	Kind     Kind
	Places   int // decimals that people are shown; exact values keep all of theirs
	Fraction int // of an inch that people are shown, with unit ft-in; 0 is 16
	Width    int // in characters; 0 fits what is in it
}

// units is what each kind can be shown in; nil: anything.
var units = [...][]string{
	KindText: {""}, KindLength: {"mm", "m", "ft-in", "ft"}, KindMass: {"kg", "lb"}, KindLinearMass: {"kg/m", "lb/ft"},
	KindCount: nil, KindAngle: {"deg"}, KindGrade: {"%"}, KindMoney: nil, KindDecimal: nil,
}

// unit is the unit that c is shown in.
func (c Column) unit() string {
	if c.Unit == "" && int(c.Kind) < len(units) && len(units[c.Kind]) > 0 {
		return units[c.Kind][0]
	}
	return c.Unit
}

// name is the head of c without its unit.
func (c Column) name() string {
	if c.Head == "" {
		return c.Key
	}
	return c.Head
}

// format is how c's lengths are shown.
func (c Column) format() measure.Format {
	f := measure.Format{Places: c.Places, Fraction: c.Fraction, Plain: true}
	switch c.unit() {
	case "m":
		f.Survey = true
	case "ft":
		f.System, f.Survey = measure.Imperial, true
	case "ft-in", "lb", "lb/ft":
		f.System = measure.Imperial
	}
	return f
}

// headed is name [unit].
func headed(name, unit string) string {
	if unit == "" {
		return name
	}
	return name + " [" + unit + "]"
}

// Check is the first thing that is wrong with how t is built; every writer asks it first.
func (t Table) Check() error {
	if len(t.Columns) == 0 {
		return fmt.Errorf("table %q has no columns", t.Name)
	}
	for i, c := range t.Columns {
		if err := c.check(); err != nil {
			return fmt.Errorf("table %q, column %d: %w", t.Name, i+1, err)
		}
	}
	for r, row := range t.Rows {
		if len(row) != len(t.Columns) {
			return fmt.Errorf("table %q, row %d: %d cells for %d columns", t.Name, r+1, len(row), len(t.Columns))
		}
		for i, cell := range row {
			if !cell.fits(t.Columns[i].Kind) {
				return fmt.Errorf("table %q, row %d, column %q: a cell of another kind", t.Name, r+1, t.Columns[i].name())
			}
		}
	}
	return nil
}

func (c Column) check() error {
	if int(c.Kind) >= len(units) {
		return fmt.Errorf("%d is no kind of column", c.Kind)
	}
	if c.name() == "" {
		return fmt.Errorf("neither head nor key")
	}
	if c.Places < 0 || c.Places > 9 || c.Width < 0 {
		return fmt.Errorf("%q: 0 to 9 places and no negative width were expected", c.name())
	}
	known := units[c.Kind]
	for _, u := range known {
		if c.unit() == u {
			return nil
		}
	}
	if known != nil {
		return fmt.Errorf("%q: unit %q; one of %q was expected", c.name(), c.Unit, known)
	}
	return nil
}
