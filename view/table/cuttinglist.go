package table

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// Hand is which side of a mitred piece is the long one, face up and looking towards its mitred end. The zero value is a
// square cut.
type Hand string

// The hands of a cut.
const (
	Square Hand = ""
	Left   Hand = "left"
	Right  Hand = "right"
)

// Piece is one row of a cutting list: Count pieces of Length on the axis.
type Piece struct {
	ID     string
	Length measure.Length
	Count  int
	Hand   Hand
	Angle  measure.Angle // between the cut and a square one, over 0 and under 90°; 0 with a square cut
	Line   int           // in the text, from 1
}

// Skew is the angle of the cut at the piece's end, with the sign that solve/cutstock gives it: its line is
// x = length + tan(skew)·y with y to the left, so the left side long is positive.
func (p Piece) Skew() measure.Angle {
	if p.Hand == Right {
		return -p.Angle
	}
	return p.Angle
}

// What a cutting list may hold; more is a slip, or not a cutting list.
const (
	mostBytes  = 16 << 20
	mostLine   = 4096 // bytes
	mostCount  = 1_000_000
	mostFaults = 50
)

// ReadCutting reads a cutting list: a line of heads, then a line for each kind of piece. Columns are found by their
// heads, in any order: length and count, and if wanted hand, angle and id. Lengths are written as people write them; a
// bare number takes the unit of the head (length [mm]), or else unit. Fields are parted by commas, semicolons or tabs.
// file is the name that findings give the text.
//
// Every fault is found at once, up to 50, with its line and column; with any of them there are no pieces.
func ReadCutting(file string, r io.Reader, unit measure.Unit) ([]Piece, finding.List) {
	in := &listReader{listKind: cuttingList, file: file, unit: unit, seen: map[string]int{}}
	in.all(r)
	if len(in.faults) > 0 {
		return nil, in.list()
	}
	return in.pieces, nil
}

// listKind is what a list is of: its columns, and what becomes of a line.
type listKind struct {
	name, things string // cutting list, pieces
	heads        string // an example of its first line
	line         string // an example of any other
	known        []string
	needed       []string
	row          func(in *listReader, parts []field)
}

var cuttingList = listKind{
	name: "cutting list", things: "pieces", heads: "length,count or length,count,hand,angle,id", line: "1400 mm,2",
	known: []string{"length", "count", "hand", "angle", "id"}, needed: []string{"length", "count"}, row: (*listReader).piece,
}

// all reads a whole list.
func (in *listReader) all(r io.Reader) {
	data, err := io.ReadAll(io.LimitReader(r, mostBytes+1))
	switch {
	case err != nil:
		in.fault("list.unreadable", problem{text: "the list cannot be read: " + err.Error(), try: "read it again"})
	case len(data) > mostBytes:
		in.fault("list.too-large", problem{text: fmt.Sprintf("more than %d MiB are no %s", mostBytes>>20, in.name), try: "a list of the " + in.things + " alone"})
	case strings.HasPrefix(string(data), "\xff\xfe"), strings.HasPrefix(string(data), "\xfe\xff"):
		in.fault("list.encoding", problem{text: "the text is in UTF-16", try: "save it as CSV in UTF-8"})
	default:
		in.read(strings.TrimPrefix(string(data), "\ufeff"))
	}
}

// listReader goes through a list line by line.
type listReader struct {
	listKind
	file   string
	unit   measure.Unit
	line   int
	text   string // of the line
	at     heads
	pieces []Piece
	stocks []Stock
	yard   []InYard
	seen   map[string]int // id to the line that it stands in
	faults finding.List
	more   int // faults beyond the ones that are listed
}

func (in *listReader) read(text string) {
	headed, sep := false, ','
	for i, line := range textLines(text) {
		in.line, in.text = i+1, line
		if strings.TrimSpace(line) == "" || !in.legible() {
			continue
		}
		if !headed {
			sep, headed = separator(line), true
			if parts, bad := fields(line, sep); bad != nil {
				in.fault("list.quote", *bad)
				return
			} else if in.heads(parts); len(in.faults) > 0 {
				return
			}
			continue
		}
		if parts, bad := fields(line, sep); bad != nil {
			in.fault("list.quote", *bad)
		} else {
			in.row(in, parts)
		}
	}
	in.line, in.text = max(in.line, 1), ""
	switch {
	case len(in.faults) > 0:
	case !headed:
		in.line = 1
		in.fault("list.empty", problem{column: 1, text: "the list is empty", try: in.headsExample()})
	case len(in.pieces)+len(in.stocks)+len(in.yard) == 0:
		in.fault("list.empty", problem{column: 1, text: "the list has heads and no " + in.things, try: "a line for each kind, for example " + in.listKind.line})
	}
}

// legible tells whether the line can be read at all.
func (in *listReader) legible() bool {
	if len(in.text) > mostLine {
		in.fault("list.long-line", problem{column: 1, text: fmt.Sprintf("a line of more than %d bytes", mostLine), try: "one line for each kind"})
		return false
	}
	if !utf8.ValidString(in.text) {
		in.fault("list.encoding", problem{column: firstBad(in.text), text: "from here on there are bytes that are not UTF-8", try: "save the list as CSV in UTF-8"})
		return false
	}
	for i, r := range []rune(in.text) {
		if r < ' ' && r != '\t' || r == 0x7f {
			in.fault("list.character", problem{column: i + 1, text: fmt.Sprintf("the character %U cannot be part of a list", r), try: "take it out"})
			return false
		}
	}
	return true
}

// firstBad is the column of the first byte that is not UTF-8.
func firstBad(s string) int {
	column := 1
	for i, r := range s {
		if _, n := utf8.DecodeRuneInString(s[i:]); r == utf8.RuneError && n == 1 {
			return column
		}
		column++
	}
	return column
}

// fault keeps what is wrong in the line at hand.
func (in *listReader) fault(id string, p problem) {
	f := finding.Finding{ID: id, Kind: finding.Fault, Text: p.text, Try: p.try, Where: finding.Where{File: in.file, Line: in.line, Column: p.column}}
	if in.line > 0 && utf8.ValidString(in.text) && len(in.text) <= mostLine && in.text != "" {
		f.Where.Excerpt = finding.Caret(in.text, p.column)
	}
	in.keep(f)
}

// misread keeps that a written quantity in field f was not understood.
func (in *listReader) misread(id string, err error, f field) {
	out := finding.Misread(id, err, finding.Where{File: in.file, Line: in.line, Column: 1})
	out.Where.Column = f.columnOf(out.Where.Column - 1)
	out.Where.Excerpt = finding.Caret(in.text, out.Where.Column)
	in.keep(out)
}

func (in *listReader) keep(f finding.Finding) {
	if len(in.faults) == mostFaults {
		in.more++
		return
	}
	in.faults = append(in.faults, f)
}

// list is every fault that is listed, and how many are not.
func (in *listReader) list() finding.List {
	if in.more == 0 {
		return in.faults
	}
	return append(in.faults, finding.Finding{ID: "list.more-faults", Kind: finding.Note,
		Text: fmt.Sprintf("the first %d faults are listed; %d more are not", mostFaults, in.more), Where: finding.Where{File: in.file}})
}
