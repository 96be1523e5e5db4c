package table

import (
	"bufio"
	"fmt"
	"io"
	"strings"
	"unicode"
)

// column is one column of a plain table on its way to a terminal.
type column struct {
	head    string
	right   bool // figures end in one line
	width   int
	rounded bool
}

// WritePlain writes t as aligned text for a terminal: title, heads with units, a rule, the rows with figures rounded to
// what their columns show, the notes, and last what was rounded and to what. Text takes one line however long it is.
func WritePlain(w io.Writer, t Table) error {
	if err := t.Check(); err != nil {
		return err
	}
	cols, rows := t.layOut()
	b := bufio.NewWriter(w)
	if t.Title != "" {
		b.WriteString(oneLine(t.Title) + "\n\n")
	}
	heads, rule := make([]string, len(cols)), make([]string, len(cols))
	for i, c := range cols {
		heads[i], rule[i] = c.head, strings.Repeat("-", c.width)
	}
	for _, row := range append([][]string{heads, rule}, rows...) {
		b.WriteString(aligned(cols, row) + "\n")
	}
	if tail := t.tail(cols); len(tail) > 0 {
		b.WriteString("\n" + strings.Join(tail, "\n") + "\n")
	}
	return b.Flush()
}

// layOut is every cell as it is shown, and how wide each column gets.
func (t Table) layOut() ([]column, [][]string) {
	cols := make([]column, len(t.Columns))
	for i, c := range t.Columns {
		head := oneLine(headed(c.name(), c.unit()))
		cols[i] = column{head: head, right: c.Kind != KindText, width: max(c.Width, width(head))}
	}
	rows := make([][]string, len(t.Rows))
	for r, row := range t.Rows {
		rows[r] = make([]string, len(row))
		for i, cell := range row {
			if !cell.filled {
				continue
			}
			text, rounded := cell.shown(t.Columns[i])
			text = oneLine(text)
			rows[r][i] = text
			cols[i].width = max(cols[i].width, width(text))
			cols[i].rounded = cols[i].rounded || rounded
		}
	}
	return cols, rows
}

// aligned is one line, without spaces at its end.
func aligned(cols []column, row []string) string {
	var line strings.Builder
	for i, c := range cols {
		if i > 0 {
			line.WriteString("  ")
		}
		gap := strings.Repeat(" ", c.width-width(row[i]))
		if c.right {
			line.WriteString(gap + row[i])
		} else {
			line.WriteString(row[i] + gap)
		}
	}
	return strings.TrimRight(line.String(), " ")
}

// tail is the notes, and what was rounded.
func (t Table) tail(cols []column) []string {
	var out []string
	for _, n := range t.Notes {
		out = append(out, oneLine(n))
	}
	for i, c := range cols {
		if c.rounded {
			out = append(out, oneLine(t.Columns[i].name())+" "+t.Columns[i].rounding())
		}
	}
	return out
}

// rounding names what people are shown of c.
func (c Column) rounding() string {
	switch {
	case c.Kind == KindLength:
		return c.format().Rounding()
	case c.unit() == "lb" || c.unit() == "lb/ft":
		return fmt.Sprintf("to the nearest 1 %s, 0.1 below 10", c.unit())
	}
	step := "1"
	if c.Places > 0 {
		step = "0." + strings.Repeat("0", c.Places-1) + "1"
	}
	return strings.TrimRight("to the nearest "+step+" "+c.unit(), " ")
}

// oneLine is text that neither leaves its line, nor moves a terminal's cursor, nor turns the direction of writing.
func oneLine(s string) string {
	visible := strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Cf, r) {
			return -1
		}
		return r
	}, Printable(s))
	return strings.Join(strings.Fields(visible), " ")
}

// width is how many places s takes in a terminal: its characters but for marks that stand on others.
func width(s string) int {
	n := 0
	for _, r := range s {
		if !unicode.Is(unicode.Mn, r) {
			n++
		}
	}
	return n
}
