package landxml

import (
	"bufio"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/intake"
	"trenchwright/base/measure"
)

// reader carries one Read: the stream within its limits, and what came out of it so far.
type reader struct {
	dec    *xml.Decoder
	input  *intake.Stream
	opts   Options
	limits Limits
	file   *File

	depth, elements, kept int
	ground                int             // points and faces of surfaces
	groundUnits           [2]measure.Unit // of coordinates and levels that surfaces were read in
	space                 string          // the namespace of the root
	imperial              bool
	angular, elevation    string
	diameter              string // unit of the sizes of pipes
	pipes                 []rawPipe
	alignments, features  []drawn
	points                []rawPoint
	passed                []passed
}

func newReader(in io.Reader, opts Options) *reader {
	l := opts.Limits
	l.Bytes, l.Token = intake.Limit(l.Bytes, defaults.Bytes), intake.Limit(l.Token, defaults.Token)
	l.Ground = intake.Limit(l.Ground, defaults.Ground)
	l.Elements, l.Depth, l.Kept = intake.Limit(l.Elements, defaults.Elements), intake.Limit(l.Depth, defaults.Depth), intake.Limit(l.Kept, defaults.Kept)
	if opts.Gap <= 0 {
		opts.Gap = DefaultGap
	}
	r := &reader{opts: opts, limits: l, file: &File{}, input: intake.Within(in, l.Bytes, l.Token)}
	// The decoder reads byte by byte from what is already a ByteReader: little is read ahead of a token.
	r.dec = xml.NewDecoder(bufio.NewReaderSize(r.input, 4096))
	r.dec.CharsetReader = charset
	return r
}

// next is the next token that matters: a start, an end or text.
func (r *reader) next() (xml.Token, error) {
	for {
		r.input.Token()
		t, err := r.dec.Token()
		if err != nil {
			return nil, r.broken(err)
		}
		switch t.(type) {
		case xml.StartElement:
			r.depth++
			r.elements++
			if r.depth > r.limits.Depth {
				return nil, r.refuse("too-deep", "elements lie more than %d deep in each other", r.limits.Depth)
			}
			if r.elements > r.limits.Elements {
				return nil, r.refuse("too-many", "the file has more than %d elements", r.limits.Elements)
			}
		case xml.EndElement:
			r.depth--
		case xml.Directive:
			return nil, r.refuse("doctype", "the file declares a document type; entities that it might define are not read").try("the same file without <!DOCTYPE …>")
		case xml.Comment, xml.ProcInst:
			continue
		}
		return t, nil
	}
}

// broken is what the decoder could not read, as a sentence.
func (r *reader) broken(err error) error {
	var syntax *xml.SyntaxError
	var letters unknownLetters
	switch {
	case errors.Is(err, intake.ErrTooLong):
		return r.refuse("too-long", "the file is longer than %d MB", r.limits.Bytes>>20).try("only the part with the alignment, or its points")
	case errors.Is(err, intake.ErrTokenBig):
		return r.refuse("too-long", "one element or text is longer than %d MB", r.limits.Token>>20)
	case errors.Is(err, io.EOF):
		return r.refuse("cut-short", "the file ends before its last element is closed")
	case errors.As(err, &letters):
		return r.refuse("letters", "%s", letters.Error())
	case errors.As(err, &syntax):
		f := r.refuse("not-xml", "this is not XML: %s", strings.TrimSuffix(syntax.Msg, " (no semicolon)"))
		f.Where.Line = syntax.Line
		return f
	}
	return r.refuse("unreadable", "%s", strings.TrimPrefix(err.Error(), "xml: "))
}

// children calls each for every child of the element that was just begun, and takes its end. each takes its child whole.
func (r *reader) children(each func(xml.StartElement) error) error {
	for {
		t, err := r.next()
		if err != nil {
			return err
		}
		switch t := t.(type) {
		case xml.StartElement:
			if t.Name.Space != r.space && t.Name.Space != "" {
				err = r.skip()
			} else {
				err = each(t)
			}
			if err != nil {
				return err
			}
		case xml.EndElement:
			return nil
		}
	}
}

// skip takes the rest of the element that was just begun.
func (r *reader) skip() error {
	for open := 1; open > 0; {
		t, err := r.next()
		if err != nil {
			return err
		}
		switch t.(type) {
		case xml.StartElement:
			open++
		case xml.EndElement:
			open--
		}
	}
	return nil
}

// text takes the rest of the element that was just begun and returns the text that lies directly in it.
func (r *reader) text() (string, error) {
	var b strings.Builder
	for {
		t, err := r.next()
		if err != nil {
			return "", err
		}
		switch t := t.(type) {
		case xml.CharData:
			b.Write(t)
			if int64(b.Len()) > r.limits.Token {
				return "", r.refuse("too-long", "one text is longer than %d MB", r.limits.Token>>20)
			}
		case xml.StartElement:
			if err := r.skip(); err != nil {
				return "", err
			}
		case xml.EndElement:
			return strings.TrimSpace(b.String()), nil
		}
	}
}

// keep counts what stays in memory.
func (r *reader) keep(n int) error {
	if r.kept += n; r.kept > r.limits.Kept {
		return r.refuse("too-many", "the file has more than %d points and parts of lines", r.limits.Kept)
	}
	return nil
}

func (r *reader) at() int {
	line, _ := r.dec.InputPos()
	return line
}

func (r *reader) refuse(id, text string, args ...any) *Refusal {
	return r.refuseAt(r.at(), id, text, args...)
}

func (r *reader) refuseAt(line int, id, text string, args ...any) *Refusal {
	return &Refusal{r.finding(finding.Fault, line, id, text, args...)}
}

// try adds what to try.
func (r *Refusal) try(what string) *Refusal {
	r.Try = what
	return r
}

func (r *reader) finding(kind finding.Kind, line int, id, text string, args ...any) finding.Finding {
	return finding.Finding{
		ID: "landxml." + id, Kind: kind, Text: fmt.Sprintf(text, args...),
		Where: finding.Where{File: r.opts.File, Line: line},
	}
}

func (r *reader) say(f finding.Finding) { r.file.Notes = append(r.file.Notes, f) }

func (r *reader) note(id, text string, args ...any) {
	r.say(r.finding(finding.Note, 0, id, text, args...))
}
func (r *reader) assume(id, text string, args ...any) {
	r.say(r.finding(finding.Assumed, 0, id, text, args...))
}

func attr(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name && a.Name.Space == "" {
			return strings.TrimSpace(a.Value)
		}
	}
	return ""
}
