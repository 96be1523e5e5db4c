package job

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"trenchwright/base/finding"
)

// What a written job may be at most. A route of a thousand kilometres with four thousand crossings takes some 2 MiB.
const (
	MaxBytes = 8 << 20
	MaxDepth = 32 // groups and lists inside one another; a job needs nine
)

// FromJSON reads a job from JSON, canonical or not, as strictly as FromTree.
func FromJSON(data []byte) (Job, finding.List) {
	tree, fault := TreeFromJSON(data)
	if fault != nil {
		return Job{}, finding.List{*fault}
	}
	return FromTree(tree)
}

// TreeFromJSON reads JSON into a tree with lines and columns. What is no JSON, too large or nested too deep is one fault.
func TreeFromJSON(data []byte) (Value, *finding.Finding) {
	r := jsonReader{data: data, line: 1, column: 1}
	if len(data) > MaxBytes {
		return Value{}, r.fault("size", "this is larger than 8 MiB, which no job is.", "Give the job file itself; surveys and pictures are attachments.")
	}
	if !utf8.Valid(data) {
		r.move(invalidAt(data))
		return Value{}, r.fault("encoding", "the text is no UTF-8 from here on.", "Save the file as UTF-8.")
	}
	r.tokens = json.NewDecoder(bytes.NewReader(data))
	r.tokens.UseNumber()
	v, err := r.value(0)
	if err == nil {
		_, err = r.next()
		if err == nil {
			return Value{}, r.fault("json", "the job is finished before this.", "One file holds one job.")
		}
	}
	if err == io.EOF && v.Kind != KindEmpty {
		return v, nil
	}
	return Value{}, r.broken(err)
}

// invalidAt is the offset of the first byte of data that is no UTF-8.
func invalidAt(data []byte) int {
	at := 0
	for at < len(data) {
		r, n := utf8.DecodeRune(data[at:])
		if r == utf8.RuneError && n == 1 {
			break
		}
		at += n
	}
	return at
}

// jsonReader turns tokens into values; line and column are those of the token that comes next.
type jsonReader struct {
	data         []byte
	tokens       *json.Decoder
	offset       int
	line, column int
}

var errTooDeep = errors.New("nested too deep")

// next steps over what parts two tokens and reads one.
func (r *jsonReader) next() (json.Token, error) {
	at := int(r.tokens.InputOffset())
	for at < len(r.data) && strings.IndexByte(" \t\r\n,:", r.data[at]) >= 0 {
		at++
	}
	r.move(at)
	return r.tokens.Token()
}

// move steps forward to an offset, counting lines and characters.
func (r *jsonReader) move(to int) {
	for r.offset < min(to, len(r.data)) {
		c, n := utf8.DecodeRune(r.data[r.offset:])
		r.offset += n
		r.column++
		if c == '\n' {
			r.line, r.column = r.line+1, 1
		}
	}
}

// value reads one value.
func (r *jsonReader) value(depth int) (Value, error) {
	token, err := r.next()
	if err == io.EOF && depth > 0 {
		err = io.ErrUnexpectedEOF
	}
	if err != nil {
		return Value{}, err
	}
	v := Value{Line: r.line, Column: r.column}
	switch t := token.(type) {
	case json.Delim:
		if depth == MaxDepth {
			return v, errTooDeep
		}
		if t == '[' {
			return r.list(v, depth+1)
		}
		return r.group(v, depth+1)
	case string:
		v.Kind, v.Text = KindText, t
	case json.Number:
		v.Kind, v.Text = KindNumber, t.String()
	case bool:
		v.Kind, v.Text = KindBool, fmt.Sprint(t)
	}
	return v, nil
}

func (r *jsonReader) list(v Value, depth int) (Value, error) {
	v.Kind = KindList
	for r.tokens.More() {
		item, err := r.value(depth)
		if err != nil {
			return v, err
		}
		v.Items = append(v.Items, item)
	}
	return v, r.close()
}

// close steps over the ] or } that ends a list or group.
func (r *jsonReader) close() error {
	_, err := r.next()
	if err == io.EOF {
		return io.ErrUnexpectedEOF
	}
	return err
}

func (r *jsonReader) group(v Value, depth int) (Value, error) {
	v.Kind = KindMap
	for r.tokens.More() {
		name, err := r.next()
		if err != nil {
			return v, err
		}
		f := Field{Name: name.(string), Line: r.line, Column: r.column}
		if f.Value, err = r.value(depth); err != nil {
			return v, err
		}
		v.Fields = append(v.Fields, f)
	}
	return v, r.close()
}

// broken is the fault for JSON that cannot be read on.
func (r *jsonReader) broken(err error) *finding.Finding {
	var syntax *json.SyntaxError
	switch {
	case errors.Is(err, errTooDeep):
		return r.fault("depth", fmt.Sprintf("groups and lists are nested more than %d deep here.", MaxDepth), "A job needs nine.")
	case errors.As(err, &syntax):
		if int(syntax.Offset) > 0 {
			r.move(int(syntax.Offset) - 1)
		}
		text, try := syntaxInWords(syntax.Error())
		return r.fault("json", text, try)
	case len(bytes.TrimSpace(r.data)) == 0:
		r.line, r.column = 1, 1
		return r.fault("empty", "the job is empty.", "Write at least format, name, supplies and route.")
	case err == nil || err == io.EOF || errors.Is(err, io.ErrUnexpectedEOF):
		r.move(len(r.data))
		return r.fault("json", "the JSON ends before the job does.", "Look for a } or ] that is missing.")
	}
	return r.fault("json", "the JSON cannot be read on from here: "+err.Error()+".", "")
}

// syntaxInWords is what the JSON library says, in our own words, as far as they are known.
func syntaxInWords(message string) (text, try string) {
	for _, known := range [...][3]string{
		{"beginning of object key", "a name in double quotes was expected here.", "Look for a comma too many before it."},
		{"beginning of value", "a value was expected here.", "Look for a comma too many, or for text without its double quotes."},
		{"after object key:value", "a comma or } was expected here.", "Look for a comma that is missing before it."},
		{"after array element", "a comma or ] was expected here.", "Look for a comma that is missing before it."},
		{"after object key", "a colon was expected here.", "Write \"name\": value."},
		{"in string", "this cannot stand in a text.", "Line breaks are written \\n, backslashes \\\\."},
	} {
		if strings.Contains(message, known[0]) {
			return known[1], known[2]
		}
	}
	return "the JSON cannot be read on from here: " + message + ".", ""
}

func (r *jsonReader) fault(id, text, try string) *finding.Finding {
	return &finding.Finding{
		ID: "job." + id, Kind: finding.Fault, Text: sentence(text), Try: try,
		Where: finding.Where{Line: r.line, Column: r.column},
	}
}

// sentence is text with a capital.
func sentence(text string) string {
	if text == "" {
		return text
	}
	return strings.ToUpper(text[:1]) + text[1:]
}
