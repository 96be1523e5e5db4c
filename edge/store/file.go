package store

import (
	"context"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path"
	"path/filepath"
	"runtime"
	"sort"
	"strings"

	_ "modernc.org/sqlite" // the driver
)

//go:embed migrations/*.sql kept/*.sql
var forms embed.FS

// file is one database file of this program: who wrote it, and what brings it from each form to the next.
type file struct {
	path  string
	owner int32    // application_id: which program's file, and which of its files
	steps []string // SQL; after the first n of them the file has form n (user_version)
	sync  string   // how sure what is written has to be
}

// The marks of this program's files, "Twjo" and "Twke".
const (
	jobsOwner = 0x54776a6f
	keptOwner = 0x54776b65
)

func jobsFile(path string) file { return file{path, jobsOwner, steps("migrations"), "FULL"} }

// keptFile may lose its last writings when the power fails: they are made again.
func keptFile(path string) file { return file{path, keptOwner, steps("kept"), "NORMAL"} }

// steps are the embedded SQL files of dir in the order of their numbers.
func steps(dir string) []string {
	entries, err := forms.ReadDir(dir)
	if err != nil {
		panic("store: no forms embedded: " + err.Error())
	}
	names := make([]string, len(entries))
	for i, e := range entries {
		names[i] = e.Name()
	}
	sort.Strings(names)
	list := make([]string, len(names))
	for i, name := range names {
		if !strings.HasPrefix(name, fmt.Sprintf("%04d_", i+1)) {
			panic("store: the forms in " + dir + " are not numbered one by one: " + name)
		}
		b, err := forms.ReadFile(path.Join(dir, name))
		if err != nil {
			panic("store: " + err.Error())
		}
		list[i] = string(b)
	}
	return list
}

// busyMilliseconds is how long a writer waits for another process.
const busyMilliseconds = 10_000

// source is how the driver is told to open f.
func (f file) source(options ...string) string {
	at := url.URL{Scheme: "file", Opaque: (&url.URL{Path: filepath.ToSlash(f.path)}).EscapedPath()}
	return at.String() + "?" + strings.Join(append(options,
		"_pragma=foreign_keys(1)", fmt.Sprintf("_pragma=busy_timeout(%d)", busyMilliseconds)), "&")
}

// journal is the way of keeping half-done work apart. WAL is not proved on Windows.
func journal() string {
	if runtime.GOOS == "windows" {
		return "_pragma=journal_mode(DELETE)"
	}
	return "_pragma=journal_mode(WAL)"
}

// open opens f for one writer at a time, after a look at what it is; a missing file is made.
func (f file) open() (*sql.DB, error) {
	if err := f.look(); err != nil {
		return nil, err
	}
	db, err := sql.Open("sqlite", f.source(journal(), "_pragma=synchronous("+f.sync+")", "_txlock=immediate"))
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(1)
	if err := f.forward(db); err != nil {
		return nil, errors.Join(said(err), db.Close())
	}
	return db, nil
}

// reader opens f for many readers beside the writer.
func (f file) reader() (*sql.DB, error) {
	db, err := sql.Open("sqlite", f.source("_pragma=query_only(1)"))
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(max(4, runtime.GOMAXPROCS(0)))
	db.SetMaxIdleConns(max(4, runtime.GOMAXPROCS(0)))
	return db, nil
}

// look refuses a file that f must not write into, without writing into it.
func (f file) look() error {
	info, err := os.Stat(f.path)
	switch {
	case missing(err):
		return nil
	case err != nil:
		return err
	case !info.Mode().IsRegular():
		return refuse(Unusable, "Give another folder", "%s is no file", f.path)
	case info.Size() == 0:
		return nil
	}
	db, err := sql.Open("sqlite", f.source("mode=ro"))
	if err != nil {
		return err
	}
	defer db.Close()
	owner, form, err := ownerAndForm(db)
	if err != nil {
		return f.unreadable(err)
	}
	if owner == 0 && form == 0 {
		var things int
		if err := db.QueryRow("SELECT count(*) FROM sqlite_schema").Scan(&things); err != nil {
			return f.unreadable(err)
		}
		if things == 0 { // made a moment ago by a process that ended
			return nil
		}
	}
	if owner != f.owner {
		return refuse(Unusable, "Move it away, or give another folder for the data", "%s is a database of another program", f.path)
	}
	if form > len(f.steps) {
		return refuse(Unusable, "Use that newer program, or go back to a backup made before it was used",
			"%s has form %d and was written by a newer version of this program, which reads up to form %d", f.path, form, len(f.steps))
	}
	return f.whole(db)
}

// quickLookBytes is up to which size every page of a file is looked at when it is opened: some tenths of a second.
const quickLookBytes = 16 << 20

// whole refuses a file with damaged pages, as far as a start may wait for that.
func (f file) whole(db *sql.DB) error {
	var pages, pageSize int64
	if err := errors.Join(db.QueryRow("PRAGMA page_count").Scan(&pages), db.QueryRow("PRAGMA page_size").Scan(&pageSize)); err != nil {
		return f.unreadable(err)
	}
	if pages*pageSize > quickLookBytes {
		return nil
	}
	return f.damage(db, "PRAGMA quick_check(1)")
}

// damage asks the database itself whether it is whole.
func (f file) damage(db *sql.DB, question string) error {
	var answer string
	if err := db.QueryRow(question).Scan(&answer); err != nil {
		return f.unreadable(err)
	}
	if answer != "ok" {
		return f.unreadable(errors.New(answer))
	}
	return nil
}

func (f file) unreadable(err error) error {
	return refuse(Unusable, "Move it away and put the last backup in its place; keep the damaged file",
		"%s is no database, or a damaged one: %s", f.path, strings.ReplaceAll(err.Error(), "\n", " "))
}

// asker is a database or a transaction.
type asker interface {
	QueryRow(query string, args ...any) *sql.Row
}

func ownerAndForm(db asker) (owner int32, form int, err error) {
	err = errors.Join(db.QueryRow("PRAGMA application_id").Scan(&owner), db.QueryRow("PRAGMA user_version").Scan(&form))
	return owner, form, err
}

// forward brings the file to the newest form, in one piece. Before a file that holds something is changed, a copy of it is
// put beside it.
func (f file) forward(db *sql.DB) error {
	_, form, err := ownerAndForm(db)
	if err != nil || form == len(f.steps) {
		return err
	}
	if before := fmt.Sprintf("%s.form-%d", f.path, form); form > 0 {
		if _, err := os.Stat(before); missing(err) { // else an attempt that did not come to its end made it
			if err := copyTo(context.Background(), db, before); err != nil {
				return err
			}
		}
	}
	tx, err := db.Begin()
	if err != nil {
		return err
	}
	defer tx.Rollback()
	if _, form, err = ownerAndForm(tx); err != nil || form >= len(f.steps) { // another process may have been faster
		return err
	}
	for n := form; n < len(f.steps); n++ {
		if _, err := tx.Exec(f.steps[n]); err != nil {
			return fmt.Errorf("%s to form %d: %w", f.path, n+1, err)
		}
	}
	if _, err := tx.Exec(fmt.Sprintf("PRAGMA application_id = %d; PRAGMA user_version = %d", f.owner, len(f.steps))); err != nil {
		return err
	}
	return tx.Commit()
}
