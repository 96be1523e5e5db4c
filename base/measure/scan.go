package measure

import (
	"fmt"
	"strings"
	"unicode"
)

// longestText is how many characters one written quantity may have; nobody writes half as many.
const longestText = 80

// ParseError says why a written quantity was not understood: where, what was expected, and how to write it.
type ParseError struct {
	Text    string // what was read
	What    string // what it should have been: "a length"
	Column  int    // from 1, in characters; where reading stopped
	Problem string // what is the case, and what was expected there
	Example string // how to write it
}

// Error is the whole sentence.
func (e *ParseError) Error() string {
	return fmt.Sprintf("cannot read %q as %s: column %d: %s; write for example %s", e.Text, e.What, e.Column, e.Problem, e.Example)
}

// moved is err as it reads when the text it speaks of is the part of whole that begins after offset characters.
func moved(err error, whole, what, example string, offset int) error {
	e, ok := err.(*ParseError)
	if !ok {
		return err
	}
	return &ParseError{Text: whole, What: what, Column: e.Column + offset, Problem: e.Problem, Example: example}
}

// scanner walks over a written quantity, one character at a time, so that columns are the reader's own.
type scanner struct {
	text    string
	what    string
	example string
	runes   []rune
	pos     int
}

// scan starts reading text, once it is known to be short enough.
func scan(text, what, example string) (*scanner, error) {
	s := &scanner{text: text, what: what, example: example}
	for _, r := range text {
		if len(s.runes) == longestText {
			s.text = string(s.runes[:20]) + "…"
			return nil, s.fault(longestText+1, fmt.Sprintf("longer than %d characters", longestText))
		}
		s.runes = append(s.runes, plain(r))
	}
	s.spaces()
	if s.end() {
		return nil, s.fault(1, "nothing is written here")
	}
	return s, nil
}

// plain turns the many shapes of one sign into the plain one, character by character: curly quotes and primes, dashes,
// the signs for minus and fraction, spaces; letters become small.
func plain(r rune) rune {
	switch r {
	case '’', '‘', '′', '´', '`', 'ʹ', '＇':
		return '\''
	case '”', '“', '″', '„', 'ʺ', '＂':
		return '"'
	case '−', '–', '‐', '‑', '‒', '－':
		return '-'
	case '⁄', '∕':
		return '/'
	case '\u2009', '\u202f', '\u2007', '\u2008':
		return '\u2009'
	case '\t', '\u00a0':
		return ' '
	case 'º', '˚':
		return '°'
	}
	return unicode.ToLower(r)
}

func (s *scanner) fault(column int, problem string) *ParseError {
	return &ParseError{Text: s.text, What: s.what, Column: column, Problem: problem, Example: s.example}
}

// here is a fault at the place that reading has reached.
func (s *scanner) here(problem string) *ParseError { return s.fault(s.pos+1, problem) }

func (s *scanner) end() bool { return s.pos >= len(s.runes) }

// at is the character n places on, 0 past the end.
func (s *scanner) at(n int) rune {
	if s.pos+n < len(s.runes) {
		return s.runes[s.pos+n]
	}
	return 0
}

// take steps over r if it comes next.
func (s *scanner) take(r rune) bool {
	if s.end() || s.at(0) != r {
		return false
	}
	s.pos++
	return true
}

func (s *scanner) spaces() {
	for s.at(0) == ' ' || s.at(0) == '\u2009' {
		s.pos++
	}
}

// sign reads a leading plus or minus, and the spaces behind it.
func (s *scanner) sign() (negative bool) {
	if s.take('-') {
		negative = true
	} else {
		s.take('+')
	}
	s.spaces()
	return negative
}

// finish is a fault unless nothing but spaces is left.
func (s *scanner) finish(after string) error {
	s.spaces()
	if s.end() {
		return nil
	}
	return s.here(fmt.Sprintf("nothing more was expected after %s", after))
}

// oneOf steps over the first of words that comes next and does not run on into further letters.
func oneOf[T any](s *scanner, words []word[T]) (T, bool) {
	rest := s.runes[min(s.pos, len(s.runes)):]
	for _, w := range words {
		n := len([]rune(w.text))
		if n > len(rest) || string(rest[:n]) != w.text {
			continue
		}
		last := rest[n-1]
		if n < len(rest) && unicode.IsLetter(last) && unicode.IsLetter(rest[n]) {
			continue
		}
		s.pos += n
		return w.is, true
	}
	var none T
	return none, false
}

// following is the rest of the word that comes next, for a fault that names it.
func (s *scanner) following() string {
	rest := string(s.runes[min(s.pos, len(s.runes)):])
	if i := strings.IndexAny(rest, " \u2009"); i > 0 {
		rest = rest[:i]
	}
	return rest
}
