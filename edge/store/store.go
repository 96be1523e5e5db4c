// Package store keeps jobs on disk: every revision that was saved, the files that they name, the plans that were issued, and what
// was recorded on site.
// What it has acknowledged is on the disk. It is one SQLite database in a folder, and a second one beside it with what can be
// made again.
//
//	store.go    Open and Close; refused.go: what is not done, in words
//	file.go     one database file: opened, looked at, brought to the newest form; migrations/, kept/: its forms
//	save.go     Save, Restore: revisions; content.go: their texts
//	read.go     Jobs, Job, Revision, Content
//	merge.go    Merge: two heads over the revision that both come from
//	packing.go  gzip, for the store and for whoever sends what it keeps
//	attach.go   attachments by their SHA-256
//	issue.go    plans that were issued
//	records.go  records from site, as they came; gather.go: many who bring some at once
//	photos.go   photos in pieces, until they are whole
//	devices.go  who may bring them: let in by a code, shut out again
//	kept.go     what can be made again, as much of it as there is room for
//	change.go   what is new since when, and who is waiting for it
//	export.go   one job as one file; manifest.go: what is in it; import.go, unpack.go: that file read with suspicion
//	backup.go   a copy of everything while the work goes on
package store

import (
	"context"
	"database/sql"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// Names of the files in a store's folder.
const (
	fileName = "trenchwright.db"
	keptName = "made-again.db"
)

// Options are what a store is opened with. The zero value is the clock of the machine and the usual room.
type Options struct {
	Now       func() time.Time // when something is saved
	KeptBytes int64            // room for what can be made again; 512 MiB where it is 0
}

const usualKeptBytes = 512 << 20

// Store is an open store. It may be used by many at once, and by several processes.
type Store struct {
	dir   string
	now   func() time.Time
	limit limits

	write    *sql.DB // one connection: whoever writes waits for the one before
	read     *sql.DB
	kept     *sql.DB // in the same way
	keptRead *sql.DB
	room     int64 // bytes in kept

	news    news
	puts    puts // of records
	stop    context.CancelFunc
	stopped chan struct{}
}

// Open opens the store in dir, which is made if it is missing. A file there that is not this program's, or that a newer
// program wrote, is Refused and left as it is.
func Open(dir string, o Options) (*Store, error) {
	if o.Now == nil {
		o.Now = time.Now
	}
	if o.KeptBytes <= 0 {
		o.KeptBytes = usualKeptBytes
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, err
	}
	s := &Store{dir: dir, now: o.Now, room: o.KeptBytes, limit: usualLimits}
	if err := s.open(); err != nil {
		return nil, errors.Join(err, s.closeFiles())
	}
	last, err := s.Last(context.Background())
	if err != nil {
		return nil, errors.Join(err, s.closeFiles())
	}
	s.sweep()
	s.news.start(last)
	ctx, stop := context.WithCancel(context.Background())
	s.stop, s.stopped = stop, make(chan struct{})
	go s.watch(ctx)
	return s, nil
}

// Holds tells whether there is a store in dir.
func Holds(dir string) bool {
	_, err := os.Stat(filepath.Join(dir, fileName))
	return err == nil
}

func (s *Store) open() (err error) {
	if s.write, err = s.jobs().open(); err != nil {
		return err
	}
	if s.read, err = s.jobs().reader(); err != nil {
		return err
	}
	kept := keptFile(filepath.Join(s.dir, keptName))
	if s.kept, err = kept.open(); err != nil {
		return err
	}
	s.keptRead, err = kept.reader()
	return err
}

func (s *Store) jobs() file { return jobsFile(filepath.Join(s.dir, fileName)) }

// spool is a file for what is on its way in or out. It is gone when it is closed, or a day after a process that did not
// come to that.
func (s *Store) spool() (*spool, error) {
	f, err := os.CreateTemp(s.dir, spoolPrefix+"*")
	return &spool{f}, err
}

const (
	spoolPrefix = ".on-its-way-"
	spoolStays  = 24 * time.Hour
)

type spool struct{ *os.File }

func (s *spool) Close() error { return errors.Join(s.File.Close(), os.Remove(s.Name())) }

// sweep removes what processes that were killed left behind.
func (s *Store) sweep() {
	entries, _ := os.ReadDir(s.dir) // what stays takes room and does no other harm
	for _, e := range entries {
		info, err := e.Info()
		if err == nil && strings.HasPrefix(e.Name(), spoolPrefix) && s.now().Sub(info.ModTime()) > spoolStays {
			os.Remove(filepath.Join(s.dir, e.Name()))
		}
	}
}

// Close ends all work and waits for it.
func (s *Store) Close() error {
	s.stop()
	<-s.stopped
	s.puts.work.Wait()
	return s.closeFiles()
}

func (s *Store) closeFiles() error {
	var errs []error
	for _, db := range []*sql.DB{s.read, s.write, s.keptRead, s.kept} {
		if db != nil {
			errs = append(errs, db.Close())
		}
	}
	return errors.Join(errs...)
}

// change does something to the database as a whole or not at all, and wakes who waits when it brought news.
func (s *Store) change(ctx context.Context, do func(tx *sql.Tx) error) error {
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return said(err)
	}
	defer tx.Rollback()
	if err := do(tx); err != nil {
		return said(err)
	}
	if err := tx.Commit(); err != nil {
		return said(err)
	}
	s.wake(ctx)
	return nil
}

// milliseconds is how a time is written in the database.
func milliseconds(t time.Time) int64 { return t.UnixMilli() }

func fromMilliseconds(ms int64) time.Time { return time.UnixMilli(ms).UTC() }
