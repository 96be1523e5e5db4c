package jobtext

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// widest is how much of a line is shown, in characters.
const widest = 100

// excerpt is a line of t with a line below it whose caret stands under column, both counted from 1. Of a long line the
// part around the column is shown. Nothing for a line that does not exist.
func (t *text) excerpt(line, column int) string {
	if t.starts == nil {
		t.starts = lineStarts(t.string)
	}
	if line < 1 || line > len(t.starts) {
		return ""
	}
	shown, _, _ := strings.Cut(t.string[t.starts[line-1]:], "\n")
	shown = strings.TrimRight(shown, " \t")
	// Only what can be shown is turned into characters: a line may be the whole file.
	before, after := shown, ""
	at := 0
	for n := 1; n < column && at < len(shown); n++ {
		_, size := utf8.DecodeRuneInString(shown[at:])
		at += size
	}
	before, after = shown[:at], shown[at:]
	head, tail := []rune(lastBytes(before, 4*widest)), []rune(firstBytes(after, 4*widest))
	cut := len(head) < utf8.RuneCountInString(before)
	if keep := widest * 6 / 10; len(head) > keep && len(head)+len(tail) > widest || cut {
		head, cut = head[max(0, len(head)-keep):], true
	}
	if rest := widest - len(head); len(tail) > rest {
		tail = append(tail[:rest:rest], '…')
	}
	if cut {
		head = append([]rune("…"), head...)
	}
	return strings.Map(visible, string(head)+string(tail)) + "\n" + strings.Repeat(" ", len(head)) + "^"
}

// visible puts something that is one column wide in place of what would move the caret.
func visible(r rune) rune {
	switch {
	case r == '\t':
		return ' '
	case !unicode.IsPrint(r):
		return '?'
	}
	return r
}

// lastBytes and firstBytes keep about n bytes of s, whole characters only.
func lastBytes(s string, n int) string {
	if len(s) <= n {
		return s
	}
	s = s[len(s)-n:]
	for len(s) > 0 && !utf8.RuneStart(s[0]) {
		s = s[1:]
	}
	return s
}

func firstBytes(s string, n int) string {
	if len(s) <= n {
		return s
	}
	for n > 0 && !utf8.RuneStart(s[n]) {
		n--
	}
	return s[:n]
}

func lineStarts(s string) []int {
	starts := []int{0}
	for i := range len(s) {
		if s[i] == '\n' {
			starts = append(starts, i+1)
		}
	}
	return starts
}
