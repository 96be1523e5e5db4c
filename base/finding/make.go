package finding

import (
	"errors"
	"fmt"
	"strings"
	"unicode"

	"trenchwright/base/measure"
)

// NoneOnFile says that a check was not made because nobody entered what it needs. what fills "no … on file", ask names
// who can answer; the sentence is exactly "NOT CHECKED: no what on file. Ask: ask". Its id is made of what.
func NoneOnFile(what, ask string, where Where) Finding {
	return Finding{
		ID:    "none-on-file." + slug(what),
		Kind:  NotChecked,
		Text:  "NOT CHECKED: no " + what + " on file. Ask: " + ask,
		Where: where,
		Ask:   ask,
	}
}

// slug is text as the last part of an id: small letters and digits, with dashes between.
func slug(text string) string {
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9')
	})
	if len(words) == 0 {
		return "figure"
	}
	return strings.Join(words, "-")
}

// Misread is the fault that a written quantity was not understood. where is the place where its text begins; the fault
// points at the character that err speaks of.
func Misread(id string, err error, where Where) Finding {
	f := Finding{ID: id, Kind: Fault, Text: err.Error(), Where: where}
	var p *measure.ParseError
	if !errors.As(err, &p) {
		return f
	}
	f.Text = fmt.Sprintf("%q cannot be read as %s: %s", p.Text, p.What, p.Problem)
	f.Try = "write for example " + p.Example
	if where.Column > 0 {
		f.Where.Column += p.Column - 1
	}
	if where.Excerpt == "" {
		f.Where.Excerpt = Caret(p.Text, p.Column)
	}
	return f
}

// excerptWidth is how many characters of a line an excerpt shows at most.
const excerptWidth = 100

// Caret is an excerpt: the line of text with a caret below the character at column, counted from 1. Long lines are cut
// around the caret, and characters that would move the caret or the terminal's cursor become spaces.
func Caret(line string, column int) string {
	runes := []rune(strings.TrimRight(line, "\r\n"))
	for i, r := range runes {
		if !unicode.IsPrint(r) {
			runes[i] = ' '
		}
	}
	at := max(0, min(column-1, len(runes)))
	if len(runes) > excerptWidth {
		from := max(0, min(at-excerptWidth/2, len(runes)-excerptWidth))
		to := from + excerptWidth
		cut := append([]rune(nil), runes[from:to]...)
		if from > 0 {
			cut[0] = '…'
		}
		if to < len(runes) {
			cut[len(cut)-1] = '…'
		}
		runes, at = cut, at-from
	}
	return string(runes) + "\n" + strings.Repeat(" ", at) + "^"
}
