package points

import (
	"bufio"
	"errors"
	"io"
	"strings"
	"unicode/utf8"
)

var (
	errTooLong  = errors.New("file too long")
	errLongLine = errors.New("line too long")
	errBinary   = errors.New("not text")
)

// lines are the lines of a stream: LF, CRLF or CR ends one; a byte-order mark is dropped.
type lines struct {
	in     *bufio.Reader
	limits Limits
	read   int64
	number int
	buf    []byte
	coarse bool // a byte was no UTF-8
	ended  bool
}

// next is the next line without its end; ok is false at the end of the stream.
func (l *lines) next() (text string, ok bool, err error) {
	l.buf = l.buf[:0]
	for {
		b, err := l.in.ReadByte()
		if err == io.EOF {
			if l.ended || len(l.buf) == 0 {
				return "", false, nil
			}
			l.ended = true
			return l.line(), true, nil
		}
		if err != nil {
			return "", false, err
		}
		if l.read++; l.read > l.limits.Bytes {
			return "", false, errTooLong
		}
		switch b {
		case 0:
			return "", false, errBinary
		case '\r':
			if after, err := l.in.Peek(1); err == nil && after[0] == '\n' {
				continue // the line feed ends the line
			}
			return l.line(), true, nil
		case '\n':
			return l.line(), true, nil
		}
		if l.buf = append(l.buf, b); len(l.buf) > l.limits.Line {
			l.number++
			return "", false, errLongLine
		}
	}
}

func (l *lines) line() string {
	l.number++
	text := string(l.buf)
	if l.number == 1 {
		text = strings.TrimPrefix(text, "\ufeff")
	}
	if !utf8.ValidString(text) {
		l.coarse = true
		text = strings.ToValidUTF8(text, "\ufffd")
	}
	return text
}
