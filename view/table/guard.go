package table

import (
	"strings"
	"unicode"
)

// risky are the characters at which spreadsheets begin to calculate instead of to show.
const risky = "=+-@\t\r\n＝＋－＠"

// guarded is text that stays text when a spreadsheet opens it: an apostrophe goes before what would be taken for a
// formula, and before an apostrophe, so that Unguarded always has the text back.
func guarded(s string) string {
	if s != "" && (s[0] == '\'' || strings.ContainsRune(risky, []rune(s)[0])) {
		return "'" + s
	}
	return s
}

// unguarded takes the apostrophe off again that guarded set.
func unguarded(s string) string {
	if rest, ok := strings.CutPrefix(s, "'"); ok && guarded(rest) != rest {
		return rest
	}
	return s
}

// Printable is text without the characters that no output may carry: line ends become one kind, other control
// characters and broken UTF-8 become the sign for a character that cannot be shown.
func Printable(s string) string {
	s = strings.ReplaceAll(strings.ReplaceAll(s, "\r\n", "\n"), "\r", "\n")
	return strings.Map(func(r rune) rune {
		if r != '\n' && r != '\t' && (unicode.IsControl(r) || r == 0xFFFE || r == 0xFFFF) {
			return unicode.ReplacementChar
		}
		return r
	}, strings.ToValidUTF8(s, string(unicode.ReplacementChar)))
}
