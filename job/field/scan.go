package field

import (
	"encoding/json"
	"strconv"
	"strings"
	"unicode/utf8"

	"trenchwright/base/measure"
)

// scan reads JSON as devices write it, quickly. What is written in any other way (an escape, null, a member twice, a name that is
// not known here) it gives up at, and encoding/json reads it instead: what scan reads, encoding/json reads to the same.
type scan struct {
	text []byte
	at   int
	odd  bool // it gave up

	place   string              // of the record, whose name comes again in what it says
	many    int                 // so many lengths are made at a time; 0: one by one
	lengths row[measure.Length] // made, and not kept yet
}

func (s *scan) space() {
	for s.at < len(s.text) && (s.text[s.at] == ' ' || s.text[s.at] == '\t' || s.text[s.at] == '\n' || s.text[s.at] == '\r') {
		s.at++
	}
}

// eat skips space, and c where it comes next.
func (s *scan) eat(c byte) bool {
	if s.at < len(s.text) && s.text[s.at] <= ' ' {
		s.space()
	}
	if s.at < len(s.text) && s.text[s.at] == c {
		s.at++
		return true
	}
	return false
}

func (s *scan) must(c byte) {
	if !s.eat(c) {
		s.odd = true
	}
}

// end is the end of the text.
func (s *scan) end() bool {
	s.space()
	return !s.odd && s.at == len(s.text)
}

// members goes through an object: member reads the value of one. Names are numbered by the caller; one that comes twice is odd.
func (s *scan) members(member func(name []byte) (number int)) {
	var known uint64
	s.must('{')
	if s.odd || s.eat('}') {
		return
	}
	for !s.odd {
		name := s.word()
		s.must(':')
		if s.odd {
			return
		}
		n := member(name)
		if n < 0 || known&(1<<n) != 0 {
			s.odd = true
			return
		}
		known |= 1 << n
		if s.eat('}') {
			return
		}
		s.must(',')
	}
}

// elements goes through a list.
func (s *scan) elements(element func()) {
	s.must('[')
	if s.odd || s.eat(']') {
		return
	}
	for !s.odd {
		element()
		if s.eat(']') {
			return
		}
		s.must(',')
	}
}

// word is a string without escapes.
func (s *scan) word() []byte {
	s.must('"')
	from, plain := s.at, true
	for ; !s.odd && s.at < len(s.text); s.at++ {
		switch c := s.text[s.at]; {
		case c == '"':
			word := s.text[from:s.at]
			s.at++
			if !plain && !utf8.Valid(word) {
				s.odd = true
			}
			return word
		case c == '\\' || c < ' ':
			s.odd = true
		case c >= utf8.RuneSelf:
			plain = false
		}
	}
	s.odd = true
	return nil
}

// whole is a whole number.
func (s *scan) whole() int {
	s.space()
	below := s.eat('-')
	n, from := 0, s.at
	for ; s.at < len(s.text) && s.text[s.at] >= '0' && s.text[s.at] <= '9'; s.at++ {
		n = 10*n + int(s.text[s.at]-'0')
	}
	digits := s.at - from
	if digits == 0 || digits > 9 || digits > 1 && s.text[from] == '0' || s.at < len(s.text) && (s.text[s.at] == '.' || s.text[s.at] == 'e' || s.text[s.at] == 'E') {
		s.odd = true
	}
	if below {
		return -n
	}
	return n
}

func (s *scan) truth() bool {
	s.space()
	rest := s.text[s.at:]
	switch {
	case len(rest) >= 4 && string(rest[:4]) == "true":
		s.at += 4
		return true
	case len(rest) >= 5 && string(rest[:5]) == "false":
		s.at += 5
		return false
	}
	s.odd = true
	return false
}

func (s *scan) number() float64 {
	s.space()
	from := s.at
	for s.at < len(s.text) && strings.IndexByte("+-.0123456789eE", s.text[s.at]) >= 0 {
		s.at++
	}
	n, err := strconv.ParseFloat(string(s.text[from:s.at]), 64)
	if err != nil || !json.Valid(s.text[from:s.at]) {
		s.odd = true
	}
	return n
}

func (s *scan) length() measure.Length {
	var l measure.Length
	if l.UnmarshalText(s.word()) != nil {
		s.odd = true
	}
	return l
}

// value skips an object or a list whole and hands it out as it stands; whether it is JSON is for its reader to say.
func (s *scan) value() []byte {
	s.space()
	from, depth := s.at, 0
	for !s.odd && s.at < len(s.text) {
		switch s.text[s.at] {
		case '{', '[':
			depth++
		case '}', ']':
			if depth--; depth == 0 {
				s.at++
				return s.text[from:s.at]
			}
		case '"':
			for s.at++; s.at < len(s.text) && s.text[s.at] != '"'; s.at++ {
				if s.text[s.at] == '\\' {
					s.at++
				}
			}
		}
		if depth == 0 {
			break
		}
		s.at++
	}
	s.odd = true
	return nil
}
