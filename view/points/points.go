// Package points reads lists of points as people export them: one point a line, in columns, with this or that separator,
// decimal sign, heading and order. Nothing is guessed in silence: what was understood is stated in one sentence, and where
// a file can be read in two ways it is not read before somebody has said which.
//
// Map of the package:
//
//	points.go   what is asked and what is answered
//	read.go     Read: from a stream to points, all faults at once
//	lines.go    lines of a stream, within limits
//	split.go    fields of a line, and which separator parts them
//	decimal.go  numbers, and which sign is the decimal one
//	columns.go  the words of orders and headings
//	strings.go  the lines that points are on, by name or by code
//	understand.go  separator, decimal sign, order and unit: as asked, or as the file says
package points

import (
	"trenchwright/base/measure"
	"trenchwright/place/route"
)

// Column is what a column holds.
type Column byte

// The columns, by the letters that name an order: PENZD.
const (
	Name     Column = 'P'
	Easting  Column = 'E'
	Northing Column = 'N'
	Level    Column = 'Z'
	Remark   Column = 'D' // description; as the last column it takes the rest of the line
	Code     Column = 'C' // what the point is of: kerb, top of bank
	OfLine   Column = 'L' // the name of the line that the point is on: points of one name are one line, in their order
	PassOver Column = '-'
)

// Options say how to read. The zero value finds everything in the file and refuses what the file does not say.
type Options struct {
	Columns   string       // an order such as PENZD, PNEZD or ENZ; empty: from the heading
	Unit      measure.Unit // of all three coordinates; measure.NoUnit: from the heading
	Separator rune         // ',', ';', '\t' or ' '; 0: the one that fits
	Decimal   rune         // '.' or ','; 0: the one that fits
	Levels    bool         // every point must have a level, as those of a survey for ground
	File      string       // its name, for findings
	Limits    Limits       // 0 in a field: the default
}

// Limits hold a hostile or broken file off.
type Limits struct {
	Bytes  int64 // of the whole file
	Line   int   // bytes of one line
	Points int
}

var defaults = Limits{Bytes: 256 << 20, Line: 64 << 10, Points: 1_000_000}

// Table is what was read.
type Table struct {
	Points     []Point
	Understood string // how the file was read, in one sentence
	Columns    string // the order it was read in
	Separator  rune
	Decimal    rune
	Heading    bool
	Unit       measure.Unit
	// Proposals are orders that would fit, where the file does not say which one it is in; the findings show what each of
	// them would make of the first line.
	Proposals []string
}

// Point is one point.
type Point struct {
	Name, Remark string
	Code         string
	OfLine       string // the name of the line that it is on; "" is none
	At           route.Coordinates
	Level        measure.Length
	HasLevel     bool
	Line         int // of the file
}
