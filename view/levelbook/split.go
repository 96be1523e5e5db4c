package levelbook

import (
	"strings"
	"unicode/utf8"
)

// cell is one field of one line.
type cell struct {
	text   string
	column int // of its first character, from 1
	quotes int // that stood before it
}

// split parts a line at sep. A field in quotes ends at its closing quote, and a quote inside it is doubled; quotes elsewhere are
// inch marks. open is the column of a quote that is never closed, or that more stands behind; 0 where there is none.
func split(line string, sep rune) (cells []cell, open int) {
	column := 1
	for {
		lead := len(line) - len(strings.TrimLeft(line, " "))
		c := cell{column: column + lead}
		n := strings.IndexRune(line, sep)
		if n < 0 {
			n = len(line)
		}
		if strings.HasPrefix(line[lead:], `"`) {
			text, taken, ok := unquote(line[lead:])
			rest := line[lead+taken:]
			behind := strings.TrimLeft(rest, " ")
			if !ok || behind != "" && !strings.HasPrefix(behind, string(sep)) {
				return cells, column + lead
			}
			c.text, c.quotes, n = text, 1, len(line)-len(behind)
		} else {
			c.text = line[min(lead, n):n]
		}
		cells = append(cells, c)
		if n == len(line) {
			return cells, 0
		}
		column += utf8.RuneCountInString(line[:n]) + 1
		line = line[n+utf8.RuneLen(sep):]
	}
}

// unquote reads a field in quotes from the start of text, and tells how many bytes of it that took.
func unquote(text string) (inner string, taken int, ok bool) {
	var b strings.Builder
	for i := 1; i < len(text); i++ {
		if text[i] != '"' {
			b.WriteByte(text[i])
			continue
		}
		if i+1 < len(text) && text[i+1] == '"' {
			b.WriteByte('"')
			i++
			continue
		}
		return b.String(), i + 1, true
	}
	return "", 0, false
}

// separator is what a line of heads has most of.
func separator(heads string) rune {
	sep, most := ',', strings.Count(heads, ",")
	for _, r := range ";\t" {
		if n := strings.Count(heads, string(r)); n > most {
			sep, most = r, n
		}
	}
	return sep
}
