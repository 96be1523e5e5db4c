package landxml

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// charset turns the encodings that such files come in to UTF-8.
func charset(label string, in io.Reader) (io.Reader, error) {
	switch strings.ToLower(strings.TrimSpace(label)) {
	case "utf-8", "utf8", "us-ascii", "ascii", "":
		return in, nil
	case "iso-8859-1", "latin1", "latin-1", "iso_8859-1", "windows-1252", "cp1252":
		return &western{in: in}, nil
	}
	return nil, unknownLetters(label)
}

// unknownLetters is the name of an encoding that is not read.
type unknownLetters string

func (u unknownLetters) Error() string {
	return fmt.Sprintf("the file is written in %q; UTF-8, ISO-8859-1 and Windows-1252 are read", string(u))
}

// western reads one byte as one letter of Windows-1252, which holds ISO-8859-1.
type western struct {
	in   io.Reader
	out  []byte
	room [512]byte
	err  error
}

// The 32 letters of Windows-1252 from 0x80 on that differ from ISO-8859-1; where it has none the control sign stays.
const fromEighty = "€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ"

func (w *western) Read(p []byte) (int, error) {
	for len(w.out) == 0 {
		if w.err != nil {
			return 0, w.err
		}
		n, err := w.in.Read(w.room[:])
		w.err = err
		for _, b := range w.room[:n] {
			w.out = utf8.AppendRune(w.out, letter(b))
		}
	}
	n := copy(p, w.out)
	w.out = w.out[n:]
	return n, nil
}

func letter(b byte) rune {
	if b < 0x80 || b >= 0xa0 {
		return rune(b)
	}
	i := 0
	for _, r := range fromEighty {
		if i == int(b-0x80) {
			return r
		}
		i++
	}
	return rune(b)
}
