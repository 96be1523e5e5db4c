// Package intake holds streams of others within limits: how long a stream may be in all, and how much may be read for one
// token of it. A hostile or broken file then costs no more than was allowed, whatever reads it.
package intake

import (
	"errors"
	"io"
)

// What a stream passed its limits by.
var (
	ErrTooLong  = errors.New("the stream is longer than allowed")
	ErrTokenBig = errors.New("a token is longer than allowed")
)

// Stream is a reader within limits. Only Within makes one.
type Stream struct {
	in                    io.Reader
	all, token            int64
	mostInAll, mostAToken int64
}

// Within is a stream of so many bytes in all, and so many since the last token. A decoder reads ahead: a token may end up to
// one of its buffers earlier than the stream knows.
func Within(in io.Reader, bytes, token int64) *Stream {
	return &Stream{in: in, mostInAll: bytes, mostAToken: token}
}

// Token says that a token begins.
func (s *Stream) Token() { s.token = 0 }

// All is how many bytes were read.
func (s *Stream) All() int64 { return s.all }

// Read reads on, unless a limit is passed by what was read before.
func (s *Stream) Read(p []byte) (int, error) {
	switch {
	case s.all > s.mostInAll:
		return 0, ErrTooLong
	case s.token > s.mostAToken:
		return 0, ErrTokenBig
	}
	n, err := s.in.Read(p)
	s.all += int64(n)
	s.token += int64(n)
	return n, err
}

// Limit is a limit that was stated, else what is usual.
func Limit[T int | int64](stated, usual T) T {
	if stated <= 0 {
		return usual
	}
	return stated
}
