package points

import (
	"strings"
	"unicode/utf8"
)

// field is one field of a line and where it begins, in characters from 1.
type field struct {
	text   string
	column int
}

// separators that are tried, in words.
var separators = []struct {
	sign rune
	word string
}{{'\t', "tab"}, {';', "semicolon"}, {',', "comma"}, {' ', "blank"}}

func wordOf(sign rune) string {
	for _, s := range separators {
		if s.sign == sign {
			return s.word
		}
	}
	return string(sign)
}

// split parts a line. Blanks around a field are dropped, a field in double quotes may hold the separator; where blanks
// part the fields, any number of them does. Empty fields at the end of the line, left by trailing separators, are dropped.
func split(line string, sign rune) []field {
	var out []field
	column := 1
	for rest := line; ; {
		lead := len(rest) - len(strings.TrimLeft(rest, blanks(sign)))
		column += utf8.RuneCountInString(rest[:lead])
		rest = rest[lead:]
		if rest == "" && (sign == ' ' || len(out) == 0) {
			break
		}
		text, size := one(rest, sign)
		out = append(out, field{text, column})
		if size == len(rest) {
			break
		}
		column += utf8.RuneCountInString(rest[:size]) + 1
		rest = rest[size+1:] // every separator is one byte
	}
	for len(out) > 0 && out[len(out)-1].text == "" {
		out = out[:len(out)-1]
	}
	return out
}

// blanks are what is dropped around a field.
func blanks(sign rune) string {
	if sign == '\t' {
		return " \u00a0"
	}
	return " \t\u00a0"
}

// one is the first field of rest and how many bytes it takes before its separator.
func one(rest string, sign rune) (text string, size int) {
	if rest != "" && rest[0] == '"' {
		if text, size, ok := quoted(rest, sign); ok {
			return text, size
		}
	}
	size = strings.IndexRune(rest, sign)
	if sign == ' ' {
		size = strings.IndexAny(rest, " \t")
	}
	if size < 0 {
		size = len(rest)
	}
	return strings.TrimRight(rest[:size], " \t\u00a0"), size
}

// quoted is a field in double quotes, in which two of them are one; ok is false where the quotes are none of a field: a
// mark of inches, say.
func quoted(rest string, sign rune) (text string, size int, ok bool) {
	var b strings.Builder
	for i := 1; i < len(rest); i++ {
		if rest[i] != '"' {
			b.WriteByte(rest[i])
			continue
		}
		if i+1 < len(rest) && rest[i+1] == '"' {
			b.WriteByte('"')
			i++
			continue
		}
		after := strings.TrimLeft(rest[i+1:], blanks(sign))
		if sign == ' ' {
			after = rest[i+1:]
		}
		if after == "" || strings.HasPrefix(after, string(sign)) || sign == ' ' && after[0] == '\t' {
			return b.String(), len(rest) - len(after), true
		}
		return "", 0, false
	}
	return "", 0, false
}
