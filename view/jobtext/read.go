// Package jobtext is a job as text: read from YAML or JSON with every fault at once, each with its place and the line it
// stands in; written as YAML that reads back as the same job; described by a JSON Schema made from the types.
//
//	read.go    one job from a stream, and the list of everything that is wrong with it
//	yaml.go    YAML into the tree that package job decodes
//	guard.go   what of YAML is not read, found before anything is built from it
//	syntax.go  what is wrong with broken YAML, in our own words
//	show.go    the line with a caret under the place that is meant
//	supply.go  one supply alone; locate.go: where in the text a fault of the geometry is
//	write.go   a job as YAML
//	schema.go  the JSON Schema, which nobody asks of a browser: what makes it would weigh there
package jobtext

import (
	"bytes"
	"fmt"
	"io"
	"path"
	"strings"
	"unicode/utf8"

	"trenchwright/base/finding"
	"trenchwright/job"
)

// mostFaults is how many faults are listed; the rest is counted.
const mostFaults = 100

// Read reads one job. The name decides between YAML (.yaml, .yml) and JSON (.json); without one of these, a text that
// begins with { is JSON. The faults are sorted by place; with any of them the job is what could be read, no more.
func Read(name string, r io.Reader) (job.Job, finding.List) {
	data, err := io.ReadAll(io.LimitReader(r, job.MaxBytes+1))
	if err != nil {
		return job.Job{}, finding.List{{
			ID: "job.unreadable", Kind: finding.Fault, Where: finding.Where{File: name},
			Text: fmt.Sprintf("It cannot be read: %v.", err),
		}}
	}
	text := newText(data)
	j, faults := read(name, text)
	return j, finish(name, text, faults)
}

// read is Read without files and excerpts.
func read(name string, text text) (job.Job, finding.List) {
	if fault := text.unusable(); fault != nil {
		return job.Job{}, finding.List{*fault}
	}
	if isJSON(name, text.string) {
		return job.FromJSON([]byte(text.string))
	}
	tree, usable, faults := treeFromYAML(text.string)
	if !usable {
		return job.Job{}, faults
	}
	j, more := job.FromTree(tree)
	return j, append(faults, more...)
}

func isJSON(name, text string) bool {
	switch strings.ToLower(path.Ext(name)) {
	case ".json":
		return true
	case ".yaml", ".yml":
		return false
	}
	return strings.HasPrefix(strings.TrimLeft(text, " \t\n"), "{")
}

// finish sorts faults, keeps the first hundred, and gives each its file and its line of text.
func finish(name string, text text, faults finding.List) finding.List {
	for i := range faults {
		faults[i].Where.File = name
	}
	faults.Sort()
	more := len(faults) - mostFaults
	if more > 0 {
		faults = faults[:mostFaults]
	}
	for i := range faults {
		w := &faults[i].Where
		w.Excerpt = text.excerpt(w.Line, w.Column)
	}
	if more > 0 {
		faults = append(faults, finding.Finding{
			ID: "job.more", Kind: finding.Fault, Where: finding.Where{File: name},
			Text: fmt.Sprintf("%d more faults are not listed here.", more), Try: "Mend these first, and read the job again.",
		})
	}
	return faults
}

// text is a job's text with plain line ends and without a byte order mark.
type text struct {
	string
	large  bool
	starts []int // where lines begin, in bytes; made when the first is shown
}

func newText(data []byte) text {
	if len(data) > job.MaxBytes {
		return text{large: true}
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if bytes.IndexByte(data, '\r') >= 0 {
		data = bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n"))
		data = bytes.ReplaceAll(data, []byte("\r"), []byte("\n"))
	}
	return text{string: string(data)}
}

// unusable is the fault of what is no text at all.
func (t text) unusable() *finding.Finding {
	fault := func(id, say, try string) *finding.Finding {
		return &finding.Finding{ID: "job." + id, Kind: finding.Fault, Text: say, Try: try}
	}
	switch {
	case t.large:
		return fault("size", "This is larger than 8 MiB, which no job is.", "Give the job file itself; surveys and pictures are attachments.")
	case strings.TrimSpace(t.string) == "":
		return fault("empty", "The job is empty.", "Write at least format, name, supplies and route.")
	case strings.HasPrefix(t.string, "\xff\xfe"), strings.HasPrefix(t.string, "\xfe\xff"):
		return fault("encoding", "This is UTF-16; a job is UTF-8.", "Save the file as UTF-8.")
	}
	line, column := 1, 1
	for i, r := range t.string {
		bad := r < ' ' && r != '\n' && r != '\t' || r == 0x7f
		if _, n := utf8.DecodeRuneInString(t.string[i:]); r == utf8.RuneError && n == 1 {
			bad = true
		}
		if bad {
			f := fault("encoding", "This is no plain text from here on.", "Save the file as UTF-8 text; a document of a word processor is not read.")
			f.Where = finding.Where{Line: line, Column: column}
			return f
		}
		column++
		if r == '\n' {
			line, column = line+1, 1
		}
	}
	return nil
}
