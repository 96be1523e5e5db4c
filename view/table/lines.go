package table

import (
	"strings"
	"unicode/utf8"
)

// field is one field of one line: its text, and how it stood there.
type field struct {
	text   string
	column int  // of its first character, from 1; inside the quotes where there are any
	quoted bool // with every quote inside doubled
}

// columnOf is the column in the line of the i-th character of the field's text, counted from 0.
func (f field) columnOf(i int) int {
	if !f.quoted {
		return f.column + i
	}
	n := 0
	for _, r := range f.text {
		if n == i {
			break
		}
		if r == '"' {
			f.column++ // it stood there twice
		}
		n++
	}
	return f.column + i
}

// problem is what keeps a line from being parted into fields.
type problem struct {
	column int
	text   string
	try    string
}

// fields parts a line at sep. A field that begins with a quote ends with one, and quotes inside it are doubled; quotes
// elsewhere are inch marks and stand for themselves. Fields do not go over line ends: a fault stays in its line.
func fields(line string, sep rune) ([]field, *problem) {
	var out []field
	rest, column := line, 1
	for {
		f, n, bad := oneField(rest, sep, column)
		if bad != nil {
			return out, bad
		}
		out = append(out, f)
		column += utf8.RuneCountInString(rest[:n])
		rest = rest[n:]
		if rest == "" {
			return out, nil
		}
		rest = rest[utf8.RuneLen(sep):]
		column++
	}
}

// oneField reads one field from the start of rest, and tells how many bytes of it that took; a separator, or nothing,
// comes after those.
func oneField(rest string, sep rune, column int) (field, int, *problem) {
	inner, ok := strings.CutPrefix(strings.TrimLeft(rest, " "), `"`)
	if !ok {
		n := strings.IndexRune(rest, sep)
		if n < 0 {
			n = len(rest)
		}
		return field{text: rest[:n], column: column}, n, nil
	}
	before := len(rest) - len(inner)
	f := field{column: column + before, quoted: true} // only spaces and the quote lie before: bytes are characters
	var text strings.Builder
	for i := 0; ; {
		n := strings.IndexByte(inner[i:], '"')
		if n < 0 {
			return f, 0, &problem{column: f.column - 1, text: "the quote that opens this field is never closed",
				try: `double every inch mark in a field with quotes around it, as in "67 3/8""", or leave the outer quotes away`}
		}
		text.WriteString(inner[i : i+n])
		i += n + 1
		if strings.HasPrefix(inner[i:], `"`) {
			text.WriteByte('"')
			i++
			continue
		}
		f.text = text.String()
		after := strings.TrimLeft(inner[i:], " ")
		if after != "" && !strings.HasPrefix(after, string(sep)) {
			at := f.column + utf8.RuneCountInString(inner[:len(inner)-len(after)])
			return f, 0, &problem{column: at, text: "nothing was expected between the quote that closes this field and the next one",
				try: "double every quote inside the field"}
		}
		return f, before + len(inner) - len(after), nil
	}
}

// separator is what parts the fields of a line of heads: the one of comma, semicolon and tab that it has most of.
func separator(heads string) rune {
	sep, most := ',', strings.Count(heads, ",")
	for _, r := range ";\t" {
		if n := strings.Count(heads, string(r)); n > most {
			sep, most = r, n
		}
	}
	return sep
}

// textLines parts a text at LF, CRLF or CR.
func textLines(text string) []string {
	text = strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n")
	return strings.Split(text, "\n")
}
