package main

import (
	"bytes"
	"fmt"
	"strconv"
	"time"

	"trenchwright/job/field"
)

// moment is a moment of a job's records: when the server had so many of them, which no late record moves, or a day by the clocks of
// those who made them.
type moment struct {
	seq  int64  // 0: it is a day
	day  string // 2026-11-30, or the beginning of a time
	said string
}

// momentOf reads a moment of some records.
func momentOf(command, text string, records []field.Record) (moment, error) {
	usage := func(form string, args ...any) error {
		return outcome{exitUsage, "trenchwright " + command + ": " + fmt.Sprintf(form, args...)}
	}
	n, err := strconv.ParseInt(text, 10, 64)
	if err != nil {
		if _, err := time.Parse(time.DateOnly, text[:min(len(text), len(time.DateOnly))]); err != nil {
			return moment{}, usage("%q is neither a date nor the number of a record at the server; write for example 2026-11-30", text)
		}
		return moment{day: text, said: text + ", by the clocks of whoever recorded it"}, nil
	}
	if n < 1 {
		return moment{}, usage("%d is no number of a record at the server: the first one has the number 1", n)
	}
	lacking, last := field.Lacking(records, n)
	if last == 0 {
		return moment{}, usage("no record of this file says in which order the server took it in; ask the server for numbered records, or give a date, such as 2026-11-30")
	}
	m := moment{seq: n, said: fmt.Sprintf("record %d in the server's order", n)}
	if lacking > 0 {
		m.said += fmt.Sprintf(" (%d of the first %d are not in this file, whose last is %d)", lacking, n, last)
	}
	return m, nil
}

// has tells whether a record was there.
func (m moment) has(r *field.Record) bool {
	if m.seq > 0 {
		return field.Until(m.seq)(r)
	}
	return r.Made[:min(len(m.day), len(r.Made))] <= m.day
}

// of are those of some records that were there.
func (m moment) of(records []field.Record) []field.Record {
	var some []field.Record
	for i := range records {
		if m.has(&records[i]) {
			some = append(some, records[i])
		}
	}
	return some
}

// lines are those of a file of records whose record was there, as they are; a line that is no record stays.
func (m moment) lines(file []byte) []byte {
	var out []byte
	for line := range bytes.Lines(file) {
		records, _ := field.Read(bytes.NewReader(line))
		if len(m.of(records)) == len(records) {
			out = append(out, line...)
		}
	}
	return out
}

// after tells whether a moment comes later than another one, where that can be said.
func (m moment) after(of moment) bool {
	return m.seq > 0 && of.seq > 0 && m.seq > of.seq || m.seq == 0 && of.seq == 0 && m.day > of.day
}
