package field

import (
	"bytes"
	"encoding/json"
	"slices"
	"strconv"
)

// A line that a server gave out may carry the number that the record has there, round the record as it came:
//
//	{"seq":17,"record":{"id":"01K…",…}}
//
// What proves a record are the bytes of the inner object, and they stay what its device wrote.
const (
	beforeSeq = `{"seq":`
	afterSeq  = `,"record":`
)

// Numbered is a record's line with its number at the server round it; 0: it has none, and the line stays as it is.
func Numbered(seq int64, line []byte) []byte {
	if seq == 0 {
		return line
	}
	return slices.Concat([]byte(beforeSeq), strconv.AppendInt(nil, seq, 10), []byte(afterSeq), line, []byte("}"))
}

// Unnumbered takes a line apart again: its record as it came, and its number; 0: the line is a record, or nothing, by itself.
func Unnumbered(line []byte) (seq int64, record []byte) {
	if rest, ok := bytes.CutPrefix(line, []byte(beforeSeq)); ok { // as a server writes it
		n, inner, ok := bytes.Cut(rest, []byte(afterSeq))
		seq, err := strconv.ParseInt(string(n), 10, 64)
		if inner, ends := bytes.CutSuffix(inner, []byte("}")); ok && ends && err == nil && seq > 0 {
			return seq, bytes.TrimSpace(inner)
		}
	}
	if !bytes.Contains(line, []byte(`"record"`)) {
		return 0, line
	}
	var as struct {
		Seq    int64           `json:"seq"`
		Record json.RawMessage `json:"record"`
	}
	d := json.NewDecoder(bytes.NewReader(line))
	d.DisallowUnknownFields()
	if d.Decode(&as) != nil || d.More() || as.Seq < 1 || len(as.Record) == 0 {
		return 0, line
	}
	return as.Seq, as.Record
}
