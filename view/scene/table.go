package scene

import (
	"math"
	"strings"
)

// A Column is one column of a Table.
type Column struct {
	Head   string
	Width  float64 // mm; 0: as wide as its widest cell if there is room; negative: that share of what is left
	Align  Align
	Weight Weight // of its cells
}

// A Row is one row of a Table. Missing cells are empty.
type Row struct {
	Cells []string
	Bold  bool // a total, or a heading within the table
	Rule  bool // a stronger rule above it
}

// A Table is rows under a head that is repeated on every page. Cells are
// wrapped to their column and never cut; rows are parted by thin rules. A
// Table is a Block of a Flow.
type Table struct {
	Columns []Column
	Rows    []Row
	Size    float64 // height of the capitals; 0: 2.5 mm
}

// The proportions of a table: in mm, and in heights of its capitals.
const (
	cellMargin = 1.0 // left and right of a cell
	rowMargin  = 0.5 // above and below the lines of a row together, in capitals
)

// Marks is the whole table in a width, with its upper left corner at a point,
// and its height.
func (t Table) Marks(at Point, width float64) ([]Mark, float64) {
	marks, height, _ := t.Take(width, math.Inf(1), true)
	return []Mark{Group{Transform: Shift(at.X, at.Y), Marks: marks}}, height
}

// Take lays down the head and the rows that fit (see Block).
func (t Table) Take(width, height float64, fresh bool) (marks []Mark, used float64, rest Block) {
	s := tableSetting{size: sizeOr(t.Size), columns: t.resolved(width)}
	s.rule(0, Thin)
	if head, any := t.head(); any {
		s.row(head, Bold)
		s.rule(s.y, Medium)
	}
	bare := s.y
	for i, row := range t.Rows {
		cells := s.wrapped(row)
		if lines := s.fitting(height - s.y); lines < cells.lines() {
			if fresh && s.y == bare { // a row higher than a page is parted between its lines
				before, after := cells.parted(max(lines, 1), row)
				s.row(before, row.weight())
				s.rule(s.y, Fine)
				if cells.lines() > max(lines, 1) {
					return s.marks, s.y, t.from(i+1, s.columns, after)
				}
				return s.marks, s.y, t.from(i+1, s.columns)
			}
			if s.y == bare {
				return nil, 0, t
			}
			return s.marks, s.y, t.from(i, s.columns)
		}
		if row.Rule {
			s.rule(s.y, Medium)
		}
		s.row(row, row.weight())
		s.rule(s.y, Fine)
	}
	if !fresh && s.y > height {
		return nil, 0, t
	}
	return s.marks, s.y, nil
}

// from is the table that goes on at row i, after rows already begun.
func (t Table) from(i int, columns []Column, begun ...Row) Block {
	rows := append(append([]Row{}, begun...), t.Rows[i:]...)
	if len(rows) == 0 {
		return nil
	}
	return Table{Columns: columns, Rows: rows, Size: t.Size}
}

func (t Table) head() (Row, bool) {
	var head Row
	any := false
	for _, c := range t.Columns {
		head.Cells = append(head.Cells, c.Head)
		any = any || c.Head != ""
	}
	return head, any
}

func (r Row) weight() Weight {
	if r.Bold {
		return Bold
	}
	return Regular
}

func (r Row) cell(i int) string {
	if i < len(r.Cells) {
		return r.Cells[i]
	}
	return ""
}

// resolved are the columns with their widths in mm. Columns with a width keep
// it. Columns as wide as their cells give way, down to their widest word, when
// there is no room; columns with a share part what is left.
func (t Table) resolved(width float64) []Column {
	columns := append([]Column{}, t.Columns...)
	wide, word := make([]float64, len(columns)), make([]float64, len(columns))
	room, shares, wants, needs := width, 0.0, 0.0, 0.0
	for i, c := range columns {
		wide[i], word[i] = t.wants(i)
		switch {
		case c.Width > 0:
			room -= c.Width
		case c.Width < 0:
			shares -= c.Width
			room -= word[i]
		default:
			wants, needs = wants+wide[i], needs+word[i]
		}
	}
	give := 1.0 // the part of what they would like beyond their words
	if wants > room && wants > needs {
		give = math.Max(0, (room-needs)/(wants-needs))
	}
	for i, c := range columns {
		if c.Width == 0 {
			columns[i].Width = word[i] + float64((wide[i]-word[i])*give)
			room -= columns[i].Width
		}
	}
	fixed, loose := 0.0, 0.0
	for i, c := range t.Columns {
		if c.Width < 0 {
			columns[i].Width = word[i] + float64(math.Max(0, room)*(-c.Width)/shares)
		}
		if c.Width > 0 {
			fixed += c.Width
		} else {
			loose += columns[i].Width
		}
	}
	if fixed+loose > width && loose > 0 { // not even the words fit: all give way alike and words are parted
		squeeze := math.Max(0.1, (width-fixed)/loose)
		for i, c := range t.Columns {
			if c.Width <= 0 {
				columns[i].Width = float64(columns[i].Width * squeeze)
			}
		}
	}
	return columns
}

// wants is the width of a column's widest line and of its widest word.
func (t Table) wants(i int) (line, word float64) {
	size := sizeOr(t.Size)
	see := func(s string, w Weight) {
		for _, l := range strings.Split(s, "\n") {
			line = math.Max(line, TextWidth(l, size, w))
			for _, f := range strings.Split(l, " ") {
				word = math.Max(word, TextWidth(f, size, w))
			}
		}
	}
	see(t.Columns[i].Head, Bold)
	for _, r := range t.Rows {
		see(r.cell(i), max(r.weight(), t.Columns[i].Weight))
	}
	const margin = 2*cellMargin + 0.01 // a hair more, so that rounding never wraps
	return line + margin, word + margin
}

// tableSetting is a table being set: what was drawn and how far down it goes.
type tableSetting struct {
	size    float64
	columns []Column
	marks   []Mark
	y       float64
}

// wrappedRow is the lines of each cell.
type wrappedRow [][]string

func (s *tableSetting) wrapped(r Row) wrappedRow {
	cells := make(wrappedRow, len(s.columns))
	for i, c := range s.columns {
		cells[i] = Wrap(r.cell(i), s.size, max(r.weight(), c.Weight), c.Width-2*cellMargin)
	}
	return cells
}

func (w wrappedRow) lines() int {
	n := 1
	for _, cell := range w {
		n = max(n, len(cell))
	}
	return n
}

// parted is the row's first lines, and the row of the lines after them.
func (w wrappedRow) parted(lines int, row Row) (before, after Row) {
	before, after = row, row
	before.Cells, after.Cells, after.Rule = nil, nil, false
	for _, cell := range w {
		n := min(lines, len(cell))
		before.Cells = append(before.Cells, strings.Join(cell[:n], "\n"))
		after.Cells = append(after.Cells, strings.Join(cell[n:], "\n"))
	}
	return before, after
}

// fitting is how many lines a row may have in a height.
func (s *tableSetting) fitting(height float64) int {
	n := math.Floor((height - float64(s.size*rowMargin) + 1e-6) / LineStep(s.size))
	return int(math.Max(0, math.Min(n, 1e6)))
}

func (s *tableSetting) row(r Row, w Weight) {
	cells := s.wrapped(Row{Cells: r.Cells, Bold: w == Bold})
	top := s.y + float64((float64(s.size*rowMargin)+float64((lineStep-1)*s.size))/2)
	x := 0.0
	for i, c := range s.columns {
		at := x + cellMargin
		switch c.Align {
		case Centre:
			at = x + float64(c.Width/2)
		case Right:
			at = x + c.Width - cellMargin
		}
		if text := strings.Join(cells[i], "\n"); strings.TrimSpace(text) != "" {
			s.marks = append(s.marks, Text{At: Point{at, top}, String: text, Size: s.size,
				Weight: max(w, c.Weight), Align: c.Align, VAlign: Top})
		}
		x += c.Width
	}
	s.y += float64(s.size*rowMargin) + float64(LineStep(s.size)*float64(cells.lines()))
}

func (s *tableSetting) rule(y, width float64) {
	x := 0.0
	for _, c := range s.columns {
		x += c.Width
	}
	s.marks = append(s.marks, Line(Point{0, y}, Point{x, y}, Pen(width)))
}
