package intake

import (
	"errors"
	"io"
	"strings"
	"testing"
)

// read takes a stream in pieces and says how much came before it ended, and how.
func read(s *Stream, piece int, tokens bool) (int, error) {
	n := 0
	for p := make([]byte, piece); ; {
		if tokens {
			s.Token()
		}
		k, err := s.Read(p)
		if n += k; err != nil {
			return n, err
		}
	}
}

func TestLimits(t *testing.T) {
	for _, c := range []struct {
		bytes, token int64
		tokens       bool
		want         error
		most         int
	}{
		{100, 100, false, io.EOF, 100}, {99, 100, false, ErrTooLong, 110}, {1000, 50, true, io.EOF, 100}, {1000, 50, false, ErrTokenBig, 61},
	} {
		s := Within(strings.NewReader(strings.Repeat("x", 100)), c.bytes, c.token)
		if n, err := read(s, 10, c.tokens); !errors.Is(err, c.want) || n > c.most || s.All() != int64(n) {
			t.Errorf("%+v: %d bytes, %v", c, n, err)
		}
	}
	// An endless stream ends at its limit, give or take what is read at once.
	if n, err := read(Within(endless{}, 1<<20, 1<<30), 4096, true); !errors.Is(err, ErrTooLong) || n > 1<<20+4096 {
		t.Errorf("%d bytes, %v", n, err)
	}
}

type endless struct{}

func (endless) Read(p []byte) (int, error) { return len(p), nil }

func TestLimit(t *testing.T) {
	if Limit(0, 7) != 7 || Limit(-1, 7) != 7 || Limit(3, 7) != 3 {
		t.Error("a limit that nobody stated is the usual one")
	}
}
