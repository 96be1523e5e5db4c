package field

import (
	"bufio"
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"

	"trenchwright/base/finding"
)

// longestLine of a file of records: a record is text, and its photos are not in it.
const longestLine = 1 << 20

// Read reads records, one JSON object a line, with their numbers at the server where the lines carry them. Lines that are no record are findings with their line; everything else is read. What
// is odd about a record is said by the state that it comes to, not here: it is a fact all the same.
func Read(r io.Reader) ([]Record, finding.List) {
	var list []Record
	var faults finding.List
	known := names{}
	lines := bufio.NewScanner(r)
	lines.Buffer(make([]byte, 0, 64<<10), longestLine+len(Numbered(math.MaxInt64, nil)))
	for n := 1; lines.Scan(); n++ {
		text := bytes.TrimSpace(lines.Bytes())
		if len(text) == 0 {
			continue
		}
		seq, text := Unnumbered(text)
		if len(text) > longestLine {
			faults = append(faults, unread(n, fmt.Sprintf("line %d has more than %d bytes, which no record has", n, longestLine)))
			continue
		}
		rec, ok := scanned(text, known)
		if !ok {
			var err error
			if rec, err = plainly(text); err != nil {
				faults = append(faults, unread(n, fmt.Sprintf("line %d is no record: %v", n, err)))
				continue
			}
		}
		if why := rec.missing(); why != "" {
			faults = append(faults, unread(n, fmt.Sprintf("line %d is no record: %s", n, why)))
			continue
		}
		rec.Seq = seq
		list = append(list, rec)
	}
	if err := lines.Err(); errors.Is(err, bufio.ErrTooLong) {
		faults = append(faults, unread(0, fmt.Sprintf("a line has more than %d bytes, which no record has; what stands before it was read", longestLine)))
	} else if err != nil {
		faults = append(faults, unread(0, "the records were not read to their end: "+err.Error()))
	}
	return list, faults
}

// plainly reads a line with all that JSON may be. A line with members that this version does not know is kept as it came.
func plainly(line []byte) (Record, error) {
	var rec Record
	if err := json.Unmarshal(line, &rec); err != nil {
		return rec, err
	}
	strict := json.NewDecoder(bytes.NewReader(line))
	strict.DisallowUnknownFields()
	if strict.Decode(new(Record)) != nil {
		rec.line = string(line)
	}
	return rec, nil
}

func unread(line int, text string) finding.Finding {
	return finding.Finding{
		ID: "field.no-record", Kind: finding.Fault, Text: text, Where: finding.Where{Line: line},
		Try: "Send the records from the device again; it keeps them.",
	}
}

// missing says what a line lacks to be a record at all: an id, whose it is, and its kind.
func (r Record) missing() string {
	switch {
	case !isULID(r.ID):
		return fmt.Sprintf("id %q is no ULID", r.ID)
	case r.Device == "" || r.Number < 1:
		return "it does not say which record of which device it is"
	case r.Kind == "":
		return "it does not say its kind"
	}
	return ""
}

// Write writes records as Read reads them, in the order of devices and their numbers; one that was read with members that this
// version does not know is written as it came. Those whose number at the server is known carry it.
func Write(w io.Writer, records []Record) error {
	sorted := make([]*Record, len(records))
	for i := range records {
		sorted[i] = &records[i]
	}
	slices.SortFunc(sorted, byNumber)
	for _, r := range sorted {
		b := []byte(r.line)
		if r.line == "" {
			var err error
			if b, err = json.Marshal(r); err != nil {
				return err
			}
		}
		if _, err := w.Write(append(Numbered(r.Seq, b), '\n')); err != nil {
			return err
		}
	}
	return nil
}

// byNumber is the order that every device has records in: by device and number, which nobody's clock changes.
func byNumber(a, b *Record) int {
	return cmp.Or(cmp.Compare(a.Device, b.Device), cmp.Compare(a.Number, b.Number), cmp.Compare(a.ID, b.ID))
}
