package levelbook

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// columns is what a table may have in its line of heads.
type columns struct {
	name    string // of the table, in words
	needed  []string
	known   []string
	also    map[string]string // other words for a column
	example string
}

// sheet is a table as cells, and what is wrong with it.
type sheet struct {
	columns
	file   string
	asked  measure.Unit
	unit   measure.Unit // of bare numbers, once the heads are read
	place  map[string]int
	width  int
	rows   []row
	faults finding.List
	more   int // faults beyond those that are listed
	style  style
	carry  carried
}

type row struct {
	line  int
	text  string
	cells []cell
}

func read(r io.Reader, o Options, c columns) *sheet {
	s := &sheet{columns: c, file: o.File, asked: o.Unit, unit: o.Unit}
	data, err := io.ReadAll(io.LimitReader(r, mostBytes+1))
	switch {
	case err != nil:
		s.fault(row{}, 0, "unreadable", "the table cannot be read: "+err.Error(), "read it again")
	case len(data) > mostBytes:
		s.fault(row{}, 0, "too-large", fmt.Sprintf("more than %d MiB are no %s", mostBytes>>20, c.name), "a table for each book")
	case strings.HasPrefix(string(data), "\xff\xfe"), strings.HasPrefix(string(data), "\xfe\xff"):
		s.fault(row{}, 0, "encoding", "the text is in UTF-16", "save it as CSV in UTF-8")
	default:
		s.lines(strings.TrimPrefix(string(data), "\ufeff"))
	}
	return s
}

func (s *sheet) lines(text string) {
	text = strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n")
	sep, headed := ',', false
	for i, line := range strings.Split(text, "\n") {
		r := row{line: i + 1, text: line}
		if strings.Trim(line, " \t,;") == "" || !s.legible(r) {
			continue
		}
		if !headed {
			sep = separator(line)
		}
		var open int
		if r.cells, open = split(line, sep); open > 0 {
			s.fault(r, open, "quote", "the quote that opens this field is not closed, or more stands behind it", `double every inch mark in a field with quotes around it, or leave the outer quotes away`)
			if !headed {
				return
			}
			continue
		}
		if !headed {
			if headed = true; !s.heads(r) {
				return
			}
			continue
		}
		if n := lastFilled(r.cells); n > s.width {
			try := "a field for each head"
			if sep == ',' {
				try += "; where numbers have decimal commas, part the fields by semicolons"
			}
			s.fault(r, r.cells[n-1].column, "too-many-fields", fmt.Sprintf("%d fields stand under %d heads", n, s.width), try)
			continue
		}
		s.rows = append(s.rows, r)
	}
	if len(s.rows) == 0 && len(s.faults) == 0 {
		s.fault(row{line: 1}, 1, "empty", "there is nothing in the "+s.name, s.example)
	}
}

// lastFilled is the count of cells up to the last one that holds something.
func lastFilled(cells []cell) int {
	n := len(cells)
	for n > 0 && strings.TrimSpace(cells[n-1].text) == "" {
		n--
	}
	return n
}

// legible tells whether a line can be read at all.
func (s *sheet) legible(r row) bool {
	if len(r.text) > mostLine {
		r.text = ""
		s.fault(r, 1, "long-line", fmt.Sprintf("a line of more than %d bytes", mostLine), "one line for each row")
		return false
	}
	column := 1
	for i, c := range r.text {
		if _, n := utf8.DecodeRuneInString(r.text[i:]); c == utf8.RuneError && n == 1 {
			r.text = ""
			s.fault(r, column, "encoding", "from here on there are bytes that are not UTF-8", "save it as CSV in UTF-8")
			return false
		}
		if c < ' ' && c != '\t' || c == 0x7f {
			s.fault(r, column, "character", fmt.Sprintf("the character %U cannot be part of a table", c), "take it out")
			return false
		}
		column++
	}
	return true
}

// heads finds the columns, and tells whether rows can be read under them.
func (s *sheet) heads(r row) bool {
	s.place, s.width = map[string]int{}, len(r.cells)
	before := len(s.faults)
	for i, c := range r.cells {
		name, unit := headName(c.text)
		if other, ok := s.also[name]; ok {
			name = other
		}
		if name == "" {
			continue
		}
		if !slices.Contains(s.known, name) {
			s.note(r, c.column, "unread-column", fmt.Sprintf("the column %q is not read", strings.TrimSpace(c.text)))
			continue
		}
		if _, twice := s.place[name]; twice {
			s.fault(r, c.column, "column-twice", fmt.Sprintf("the column %s stands here a second time", name), "one of them")
			continue
		}
		s.place[name] = i
		s.headUnit(r, c, unit)
	}
	for _, need := range s.needed {
		if _, ok := s.place[need]; !ok {
			s.fault(r, 1, "missing-column", "there is no column "+need, "a first line such as "+s.example)
		}
	}
	return !s.faults[before:].Any(finding.Fault)
}

// headName parts bs [ft] or bs (ft) into the word and the unit.
func headName(text string) (name, unit string) {
	text = strings.ToLower(strings.Trim(text, " \t#"))
	for _, pair := range []string{"[]", "()"} {
		if head, rest, ok := strings.Cut(text, pair[:1]); ok && strings.HasSuffix(rest, pair[1:]) {
			text, unit = head, strings.TrimSpace(strings.TrimSuffix(rest, pair[1:]))
			break
		}
	}
	return strings.Join(strings.Fields(strings.NewReplacer("_", " ", "-", " ", ".", "").Replace(text)), " "), unit
}

func (s *sheet) headUnit(r row, c cell, unit string) {
	if unit == "" {
		return
	}
	u, err := measure.ParseUnit(unit)
	switch {
	case err != nil:
		s.fault(r, c.column, "unit", fmt.Sprintf("%q is no unit of length", unit), "m, mm, ft or in")
	case s.unit != measure.NoUnit && s.unit != u:
		s.fault(r, c.column, "two-units", fmt.Sprintf("this head says %s, and %s holds already", u, s.unit), "one unit for all bare numbers; another one in the cells themselves")
	default:
		s.unit = u
	}
}

func (s *sheet) where(r row, column int) finding.Where {
	w := finding.Where{File: s.file, Line: r.line, Column: column}
	if r.text != "" && column > 0 {
		w.Excerpt = finding.Caret(r.text, column)
	}
	return w
}

func (s *sheet) fault(r row, column int, id, text, try string) {
	s.keep(finding.Finding{ID: "levelbook." + id, Kind: finding.Fault, Text: text, Where: s.where(r, column), Try: try})
}

func (s *sheet) note(r row, column int, id, text string) {
	s.keep(finding.Finding{ID: "levelbook." + id, Kind: finding.Note, Text: text, Where: s.where(r, column)})
}

func (s *sheet) keep(f finding.Finding) {
	if len(s.faults) == mostFaults {
		s.more++
		return
	}
	s.faults = append(s.faults, f)
}

// said is everything that there is to say.
func (s *sheet) said() finding.List {
	if s.more > 0 {
		s.faults = append(s.faults, finding.Finding{ID: "levelbook.more", Kind: finding.Fault, Text: fmt.Sprintf("%d more of these are not listed", s.more),
			Where: finding.Where{File: s.file}, Try: "mend the ones above first"})
		s.more = 0
	}
	return s.faults
}
