package store

import (
	"bytes"
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/json"
	"fmt"
	"regexp"

	"trenchwright/job/field"
)

// The most that records may be: one, those that come at once, those that are given at once.
const (
	mostRecord  = 1 << 20 // bytes, as job/field reads a line
	MostRecords = 2000
	mostGiven   = 8 << 20 // bytes
)

// Acknowledged is what the store has on its disk of the records that came.
type Acknowledged struct {
	IDs    []string   `json:"acknowledged"`     // whether they were here before or not
	Last   int64      `json:"last"`             // the sequence number of the job's last record
	Unread []NoRecord `json:"unread,omitempty"` // what was no record, and is not kept here
}

// NoRecord is a line that came among records and is none.
type NoRecord struct {
	Line int    `json:"line"` // from 1
	Why  string `json:"why"`
}

// line is one record as it is kept: whatever it says beyond this is kept with it, understood or not.
type line struct {
	id     string
	hash   [sha256.Size]byte
	text   []byte
	photos []string
}

var ulidForm = regexp.MustCompile(`^[0-7][0-9A-HJKMNP-TV-Z]{25}$`)

// lineOf looks whether a text is a record at all: an id, whose it is, and its kind.
func lineOf(text []byte) (line, string) {
	if len(text) > mostRecord {
		return line{}, fmt.Sprintf("it is longer than %s", size(mostRecord))
	}
	var r struct {
		ID     string          `json:"id"`
		Device string          `json:"device"`
		Kind   string          `json:"kind"`
		Photos json.RawMessage `json:"photos"`
	}
	switch err := json.Unmarshal(text, &r); {
	case err != nil:
		return line{}, err.Error()
	case !ulidForm.MatchString(r.ID):
		return line{}, fmt.Sprintf("its id %s is no ULID", shortened(r.ID))
	case r.Device == "" || r.Kind == "":
		return line{}, "it does not say its device and its kind"
	}
	l := line{id: r.ID, hash: sha256.Sum256(text), text: text}
	var photos []string
	if json.Unmarshal(r.Photos, &photos) == nil { // otherwise it says something else of them, and that is kept
		for _, sum := range photos {
			if isSHA256(sum) {
				l.photos = append(l.photos, sum)
			}
		}
	}
	return l, ""
}

// linesOf are the records in a text, one a line, without numbers that they were given out with, and the lines that are none.
func linesOf(text []byte) (lines []line, unread []NoRecord) {
	n := 0
	for raw := range bytes.Lines(text) {
		n++
		if raw = bytes.TrimSpace(raw); len(raw) == 0 {
			continue
		}
		_, record := field.Unnumbered(raw) // by this server or another one: this one numbers by itself
		if l, why := lineOf(record); why == "" {
			lines = append(lines, l)
		} else {
			unread = append(unread, NoRecord{n, why})
		}
	}
	return lines, unread
}

// PutRecords keeps records of a job, one a line, unless they are here: a record is its text under its id. What is acknowledged
// is on the disk. Nothing is refused for what it says, and the job itself may come later. by is the device that brings them.
func (s *Store) PutRecords(ctx context.Context, job, by string, text []byte) (Acknowledged, error) {
	if !isName(job) {
		return Acknowledged{}, refuse(Unfit, "Letters, digits and dashes, at most 40", "%s cannot be the id of a job", shortened(job))
	}
	p := &putting{job: job, by: by, done: make(chan error, 1)}
	p.lines, p.got.Unread = linesOf(text)
	p.got.IDs = make([]string, len(p.lines))
	for i, l := range p.lines {
		p.got.IDs[i] = l.id
	}
	if len(p.lines) > MostRecords {
		return Acknowledged{}, refuse(TooLarge, "Send them in parts", "%d records came at once; the most is %d", len(p.lines), MostRecords)
	}
	s.puts.add(p, s.putAll)
	select {
	case err := <-p.done:
		if err != nil {
			return Acknowledged{}, err
		}
		return p.got, nil
	case <-ctx.Done():
		return Acknowledged{}, ctx.Err() // it may be kept all the same; whoever sends it again gets the same answer
	}
}

// Records are records as they came.
type Records struct {
	Lines [][]byte
	Last  int64 // the sequence number of the last of them, or, where there are none, that which was asked from
}

// Text is the records one a line; numbered: each with its sequence number round it. The numbers of a job have no gap.
func (r Records) Text(numbered bool) []byte {
	var b bytes.Buffer
	for i, line := range r.Lines {
		if numbered {
			line = field.Numbered(r.Last-int64(len(r.Lines)-1-i), line)
		}
		b.Write(line)
		b.WriteByte('\n')
	}
	return b.Bytes()
}

// Records are records of a job in the order in which this store took them, from behind a sequence number; at most most, and no more
// than go into some megabytes.
func (s *Store) Records(ctx context.Context, job string, after int64, most int) (Records, error) {
	return look(ctx, s, func(tx *sql.Tx) (Records, error) { return records(ctx, tx, job, after, most) })
}

func records(ctx context.Context, tx reader, job string, after int64, most int) (Records, error) {
	r := Records{Last: after}
	found, err := tx.QueryContext(ctx, "SELECT seq, text FROM records WHERE job = ? AND seq > ? ORDER BY seq LIMIT ?", job, after, most)
	if err != nil {
		return r, err
	}
	defer found.Close()
	for bytes := 0; bytes < mostGiven && found.Next(); {
		var text []byte
		if err := found.Scan(&r.Last, &text); err != nil {
			return r, err
		}
		bytes += len(text) + 1
		r.Lines = append(r.Lines, text)
	}
	return r, found.Err()
}

// AllRecords are all records of a job, a line each, in the order in which this store took them and with their numbers here.
func (s *Store) AllRecords(ctx context.Context, job string) ([]byte, error) {
	var all bytes.Buffer
	for after := int64(0); ; {
		some, err := s.Records(ctx, job, after, 10_000)
		if err != nil || len(some.Lines) == 0 {
			return all.Bytes(), err
		}
		all.Write(some.Text(true))
		after = some.Last
	}
}

// LastRecord is the sequence number of a job's last record; 0: there is none.
func (s *Store) LastRecord(ctx context.Context, job string) (int64, error) {
	var n int64
	err := s.read.QueryRowContext(ctx, "SELECT coalesce(max(seq), 0) FROM records WHERE job = ?", job).Scan(&n)
	return n, said(err)
}
