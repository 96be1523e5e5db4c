package field

import (
	"bytes"
	"fmt"
	"strconv"
	"time"
)

// Moment is a moment of a job's records: when the server had so many of them, which no late record moves, or a day by the clocks of
// those who made them.
type Moment struct {
	seq  int64  // 0: it is a day
	day  string // 2026-11-30, or the beginning of a time
	said string
}

// MomentOf reads a moment of some records: a date, or the number of a record at the server.
func MomentOf(text string, records []Record) (Moment, error) {
	n, err := strconv.ParseInt(text, 10, 64)
	if err != nil {
		if _, err := time.Parse(time.DateOnly, text[:min(len(text), len(time.DateOnly))]); err != nil {
			return Moment{}, fmt.Errorf("%q is neither a date nor the number of a record at the server; write for example 2026-11-30", text)
		}
		return Moment{day: text, said: text + ", by the clocks of whoever recorded it"}, nil
	}
	if n < 1 {
		return Moment{}, fmt.Errorf("%d is no number of a record at the server: the first one has the number 1", n)
	}
	lacking, last := Lacking(records, n)
	if last == 0 {
		return Moment{}, fmt.Errorf("no record of this file says in which order the server took it in; ask the server for numbered records, or give a date, such as 2026-11-30")
	}
	m := Moment{seq: n, said: fmt.Sprintf("record %d in the server's order", n)}
	if lacking > 0 {
		m.said += fmt.Sprintf(" (%d of the first %d are not in this file, whose last is %d)", lacking, n, last)
	}
	return m, nil
}

// String is a moment in words: until which one.
func (m Moment) String() string { return m.said }

// Has tells whether a record was there.
func (m Moment) Has(r *Record) bool {
	if m.seq > 0 {
		return Until(m.seq)(r)
	}
	return r.Made[:min(len(m.day), len(r.Made))] <= m.day
}

// Of are those of some records that were there.
func (m Moment) Of(records []Record) []Record {
	var some []Record
	for i := range records {
		if m.Has(&records[i]) {
			some = append(some, records[i])
		}
	}
	return some
}

// Lines are those of a file of records whose record was there, as they are; a line that is no record stays.
func (m Moment) Lines(file []byte) []byte {
	var out []byte
	for line := range bytes.Lines(file) {
		records, _ := Read(bytes.NewReader(line))
		if len(m.Of(records)) == len(records) {
			out = append(out, line...)
		}
	}
	return out
}

// After tells whether a moment comes later than another one, where that can be said.
func (m Moment) After(of Moment) bool {
	return m.seq > 0 && of.seq > 0 && m.seq > of.seq || m.seq == 0 && of.seq == 0 && m.day > of.day
}
