// Package levelbook reads level books, networks of levels and what belongs to them from tables that people keep, on streams.
//
// Fields are parted by commas, semicolons or tabs, whichever the line of heads has most of; columns are found by their
// heads, in any order. Numbers take a decimal point or a decimal comma, one of them throughout. A bare number takes the unit of
// its head (bs [ft]), or the one that is asked for, or none: then the figures are kept as they are written, in no unit. A
// cell may carry its unit, as base/measure reads it. Every fault is said with its line and column, up to 50.
//
// Map of the package:
//
//	levelbook.go  ReadBook, ReadNetwork   sheet.go  a stream as heads and cells   split.go  a line as fields
//	cells.go      lengths and counts in cells, and the one unit of a table
//	book.go       cells as a level book   network.go  cells as a network
package levelbook

import (
	"io"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/solve/levelling"
)

// Options say how to read. The zero value takes what the file says.
type Options struct {
	File string       // its name, for findings
	Unit measure.Unit // of bare numbers; measure.NoUnit: as the heads say, or none
}

// What a table may hold; more is a slip, or no level book.
const (
	mostBytes  = 16 << 20
	mostLine   = 4096 // bytes
	mostFaults = 50
)

// ReadBook reads a level book. Columns: point, bs, fs; and where the book has them is, known, distance, what is booked already
// (rise, fall, level, hi), and what is wanted (design, tolerance). A last line whose point is sum or total holds the sums as booked.
// With a fault there is no book; notes come beside one.
func ReadBook(r io.Reader, o Options) (levelling.Book, finding.List) {
	s := read(r, o, bookColumns)
	b := s.book()
	if s.faults.Any(finding.Fault) {
		return levelling.Book{}, s.said()
	}
	return b, s.said()
}

// ReadNetwork reads the lines of a network of levels. Columns: from, to, rise; and length (or distance), setups, sd. A line with
// from and known, and nothing else, is a benchmark that is held. Lines are weighted by sd where every line has one, else by
// length, else by set-ups; whoever wants it otherwise says so.
func ReadNetwork(r io.Reader, o Options) (levelling.Network, finding.List) {
	s := read(r, o, networkColumns)
	n := s.network()
	if s.faults.Any(finding.Fault) {
		return levelling.Network{}, s.said()
	}
	return n, s.said()
}
