package geojson

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"trenchwright/base/finding"
	"trenchwright/base/intake"
)

// reader carries one Read: the stream within its limits, and what came out of it so far.
type reader struct {
	dec    *json.Decoder
	input  *meter
	opts   Options
	limits Limits
	file   *File

	depth, positions        int
	foreign                 []string // members that RFC 7946 does not define, by name, once each
	heights, longer, turned int      // positions with a height, with more; rings that turn the other way
	empty                   int      // geometries without a position
	faults                  int
}

// meter is the stream within its limits, with where its lines end.
type meter struct {
	*intake.Stream
	ends   []int64 // offsets of line feeds
	passed int     // how many of them lineAt has passed
	line   int     // lines that it has passed
}

func (m *meter) Read(p []byte) (int, error) {
	at := m.All()
	n, err := m.Stream.Read(p)
	if n > 0 {
		m.ends = m.ends[:copy(m.ends, m.ends[m.passed:])]
		m.passed = 0
	}
	for i, b := range p[:n] {
		if b == '\n' {
			m.ends = append(m.ends, at+int64(i))
		}
	}
	return n, err
}

// lineAt is the line of an offset; offsets only grow.
func (m *meter) lineAt(offset int64) int {
	for m.passed < len(m.ends) && m.ends[m.passed] < offset {
		m.passed++
		m.line++
	}
	return m.line + 1
}

func newReader(in io.Reader, opts Options) *reader {
	l := opts.Limits
	l.Bytes, l.Token = intake.Limit(l.Bytes, defaults.Bytes), intake.Limit(l.Token, defaults.Token)
	l.Depth, l.Features, l.Positions = intake.Limit(l.Depth, defaults.Depth), intake.Limit(l.Features, defaults.Features), intake.Limit(l.Positions, defaults.Positions)
	r := &reader{opts: opts, limits: l, file: &File{}}
	buffered := bufio.NewReader(in)
	if mark, err := buffered.Peek(3); err == nil && string(mark) == "\ufeff" {
		_, _ = buffered.Discard(3) // what was peeked can be discarded
	}
	r.input = &meter{Stream: intake.Within(buffered, l.Bytes, l.Token)}
	r.dec = json.NewDecoder(r.input)
	r.dec.UseNumber()
	return r
}

// next is the next token; lists and objects are held within the depth that is allowed.
func (r *reader) next() (json.Token, error) {
	r.input.Token()
	t, err := r.dec.Token()
	if err != nil {
		return nil, r.broken(err)
	}
	switch t {
	case json.Delim('{'), json.Delim('['):
		if r.depth++; r.depth > r.limits.Depth {
			return nil, r.refuse("too-deep", "objects and lists lie more than %d deep in each other", r.limits.Depth)
		}
	case json.Delim('}'), json.Delim(']'):
		r.depth--
	}
	return t, nil
}

// value takes the next value whole, as compact text.
func (r *reader) value() (json.RawMessage, error) {
	r.input.Token()
	var raw json.RawMessage
	if err := r.dec.Decode(&raw); err != nil {
		return nil, r.broken(err)
	}
	if r.depth+depthOf(raw) > r.limits.Depth {
		return nil, r.refuse("too-deep", "objects and lists lie more than %d deep in each other", r.limits.Depth)
	}
	if !utf8.Valid(raw) {
		raw = bytes.ToValidUTF8(raw, []byte("\ufffd"))
	}
	var out bytes.Buffer
	if err := json.Compact(&out, raw); err != nil {
		return nil, r.broken(err)
	}
	return out.Bytes(), nil
}

// depthOf is how deep lists and objects lie in each other in a text that is JSON.
func depthOf(raw []byte) int {
	depth, most, inText := 0, 0, false
	for i := 0; i < len(raw); i++ {
		switch c := raw[i]; {
		case inText && c == '\\':
			i++
		case c == '"':
			inText = !inText
		case inText:
		case c == '{' || c == '[':
			depth++
			most = max(most, depth)
		case c == '}' || c == ']':
			depth--
		}
	}
	return most
}

// broken is what the decoder could not read, as a sentence.
func (r *reader) broken(err error) error {
	var syntax *json.SyntaxError
	switch {
	case errors.Is(err, intake.ErrTooLong):
		return r.refuse("too-long", "the file is longer than %d MB", r.limits.Bytes>>20).try("only the part along the route")
	case errors.Is(err, intake.ErrTokenBig):
		return r.refuse("too-long", "one text or value is longer than %d MB", r.limits.Token>>20)
	case errors.Is(err, io.ErrUnexpectedEOF), errors.Is(err, io.EOF):
		if r.input.All() == 0 {
			return r.refuse("empty", "the file holds nothing")
		}
		return r.refuse("cut-short", "the file ends before its last bracket is closed")
	case errors.As(err, &syntax):
		f := r.refuse("not-json", "this is not JSON: %s", clipped(syntax.Error(), 100))
		for _, word := range []string{"'N'", "'I'", "'n' looking for beg"} {
			if strings.Contains(f.Text, word) {
				return f.try("numbers; JSON has no NaN and no Infinity")
			}
		}
		return f
	}
	return r.refuse("unreadable", "reading broke off: %s", clipped(strings.TrimPrefix(err.Error(), "json: "), 100))
}

// members calls each for every member of the object that was just begun, with its name; each takes the value whole.
func (r *reader) members(each func(name string) error) error {
	seen := map[string]bool{}
	for {
		t, err := r.next()
		if err != nil {
			return err
		}
		name, ok := t.(string)
		if !ok {
			return nil // the end of the object
		}
		if seen[name] {
			return r.refuse("twice", "the member %q stands twice in one object", clipped(name, 24))
		}
		seen[name] = true
		if err := each(name); err != nil {
			return err
		}
	}
}

// rest takes the rest of the object or list that was just begun.
func (r *reader) rest() error {
	for open := r.depth; r.depth >= open; {
		if _, err := r.next(); err != nil {
			return err
		}
	}
	return nil
}

// at is the line that was read last.
func (r *reader) at() int { return r.input.lineAt(r.dec.InputOffset()) }

func (r *reader) refuse(id, text string, args ...any) *Refusal {
	return &Refusal{r.finding(finding.Fault, r.at(), id, text, args...)}
}

// try adds what to try.
func (r *Refusal) try(what string) *Refusal {
	r.Try = what
	return r
}

func (r *reader) finding(kind finding.Kind, line int, id, text string, args ...any) finding.Finding {
	return finding.Finding{
		ID: "geojson." + id, Kind: kind, Text: fmt.Sprintf(text, args...),
		Where: finding.Where{File: r.opts.File, Line: line},
	}
}

func (r *reader) note(id, text string, args ...any) {
	r.file.Notes = append(r.file.Notes, r.finding(finding.Note, 0, id, text, args...))
}

func clipped(text string, few int) string {
	text = strings.ToValidUTF8(text, "?")
	if r := []rune(text); len(r) > few {
		return string(r[:few]) + "…"
	}
	return text
}
