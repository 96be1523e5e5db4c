package table

import (
	"bufio"
	"io"
	"strings"
)

// notesHead is the head of the last column of a CSV file, in which the notes stand that hold for all of the table.
const notesHead = "Notes on the whole table"

// WriteCSV writes t as RFC 4180 has it: UTF-8, commas, CRLF, quotes where they are needed, one line of heads with units,
// as many fields on every line, and all numbers exact with a decimal point. Text that a spreadsheet would calculate
// gets an apostrophe before it. The table's notes stand one below the other in a last column of their own.
func WriteCSV(w io.Writer, t Table) error {
	g, err := t.Grid()
	if err != nil {
		return err
	}
	b := bufio.NewWriter(w)
	line := make([]string, 0, len(g.Heads)+1)
	for _, h := range g.Heads {
		line = append(line, guarded(Printable(h.Text)))
	}
	if len(t.Notes) > 0 {
		line = append(line, notesHead)
	}
	writeLine(b, line)
	for i := range max(len(g.Rows), len(t.Notes)) {
		line = line[:0]
		for c := range g.Heads {
			var v Value
			if i < len(g.Rows) {
				v = g.Rows[i][c]
			}
			if !v.Numeric {
				v.Text = guarded(v.Text)
			}
			line = append(line, v.Text)
		}
		if len(t.Notes) > 0 {
			note := ""
			if i < len(t.Notes) {
				note = guarded(Printable(t.Notes[i]))
			}
			line = append(line, note)
		}
		writeLine(b, line)
	}
	return b.Flush()
}

// writeLine writes one record; b keeps its first error until it is flushed.
func writeLine(b *bufio.Writer, fields []string) {
	for i, f := range fields {
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteString(quoted(f, len(fields) == 1))
	}
	b.WriteString("\r\n")
}

// quoted is a field with quotes around it where it needs them; a lone empty field does, to be no empty line.
func quoted(f string, lone bool) string {
	if strings.ContainsAny(f, ",;\"\n") || f == "" && lone || strings.TrimSpace(f) != f {
		return `"` + strings.ReplaceAll(strings.ReplaceAll(f, `"`, `""`), "\n", "\r\n") + `"`
	}
	return f
}
