package store

import (
	"bytes"
	"context"
	"database/sql"
	"os"
	"path/filepath"
	"testing"
)

// run makes or changes a database with SQL of its own.
func run(t *testing.T, path string, queries ...string) {
	t.Helper()
	db, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	for _, q := range queries {
		if _, err := db.Exec(q); err != nil {
			t.Fatal(err)
		}
	}
}

// refusesAndLeaves looks that a folder is refused with words and that its file is left byte by byte as it is.
func refusesAndLeaves(t *testing.T, dir, name string, words ...string) {
	t.Helper()
	path := filepath.Join(dir, name)
	before, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	s, err := Open(dir, Options{})
	if err == nil {
		s.Close()
		t.Fatal("it was opened")
	}
	refusedFor(t, err, Unusable, append(words, path)...)
	after, err := os.ReadFile(path)
	if err != nil || !bytes.Equal(before, after) {
		t.Errorf("the file is another than before: %v", err)
	}
}

func TestForeignFilesAreRefused(t *testing.T) {
	for _, name := range []string{fileName, keptName} {
		for what, make := range map[string]func(path string){
			"another program's":  func(p string) { run(t, p, "CREATE TABLE t (x)") },
			"marked as another":  func(p string) { run(t, p, "PRAGMA application_id = 7", "CREATE TABLE t (x)") },
			"marked, but empty":  func(p string) { run(t, p, "PRAGMA application_id = 7") },
			"numbered, unmarked": func(p string) { run(t, p, "PRAGMA user_version = 1") },
		} {
			t.Run(name+" "+what, func(t *testing.T) {
				dir := t.TempDir()
				make(filepath.Join(dir, name))
				refusesAndLeaves(t, dir, name, "another program")
			})
		}
	}
}

func TestNewerFilesAreRefused(t *testing.T) {
	dir := t.TempDir()
	s := opened(t, dir)
	save1(t, s, Draft{ID: "r1", Content: rough("one", "n")})
	s.Close()
	run(t, filepath.Join(dir, fileName), "PRAGMA user_version = 99")
	refusesAndLeaves(t, dir, fileName, "form 99", "newer version of this program", "up to form 2")
}

// Each of these is damaged in another way, and none is written to.
func TestDamagedFilesAreRefused(t *testing.T) {
	for name, spoil := range map[string]func(b []byte) []byte{
		"text":         func([]byte) []byte { return []byte("Dear reader, this is a letter and no database at all.") },
		"cut short":    func(b []byte) []byte { return b[:len(b)/2] },
		"a page wiped": func(b []byte) []byte { copy(b[len(b)-4096:], bytes.Repeat([]byte{0xa5}, 4096)); return b },
		"head wiped":   func(b []byte) []byte { copy(b, make([]byte, 100)); return b },
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			s := opened(t, dir)
			save1(t, s, Draft{ID: "r1", Content: rough("one", "n")})
			s.Close()
			path := filepath.Join(dir, fileName)
			b, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(path, spoil(b), 0o600); err != nil {
				t.Fatal(err)
			}
			refusesAndLeaves(t, dir, fileName, "damaged")
		})
	}
}

// An empty file is what a process leaves that ended in its first moment.
func TestEmptyFilesBecomeStores(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, fileName), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	save1(t, opened(t, dir), Draft{ID: "r1", Content: rough("one", "n")})
}

func TestFoldersInTheWay(t *testing.T) {
	dir := t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, fileName), 0o700); err != nil {
		t.Fatal(err)
	}
	_, err := Open(dir, Options{})
	refusedFor(t, err, Unusable, "is no file")
}

// Odd names of folders are names, not options of the driver.
func TestFoldersWithOddNames(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "a b?mode=ro#c%41")
	save1(t, opened(t, dir), Draft{ID: "r1", Content: rough("one", "n")})
	if _, err := os.Stat(filepath.Join(dir, fileName)); err != nil {
		t.Error(err)
	}
}

// A file goes from form to form with what is in it, and a copy of how it was stays beside it. A step that fails leaves it as
// it was.
func TestFormsGoForward(t *testing.T) {
	f := file{path: filepath.Join(t.TempDir(), "x.db"), owner: jobsOwner, sync: "FULL", steps: []string{"CREATE TABLE a (x); INSERT INTO a VALUES (1)"}}
	reopen := func() (*sql.DB, error) { return f.open() }
	db, err := reopen()
	if err != nil {
		t.Fatal(err)
	}
	db.Close()
	f.steps = append(f.steps, "CREATE TABLE b (y); INSERT INTO b SELECT x FROM a; no SQL at all")
	if _, err = reopen(); err == nil {
		t.Fatal("a broken step went through")
	}
	f.steps = append(f.steps[:1], "CREATE TABLE b (y); INSERT INTO b SELECT x FROM a", "INSERT INTO b VALUES (3)")
	if db, err = reopen(); err != nil {
		t.Fatal(err)
	}
	var sum, form int
	if err := db.QueryRow("SELECT sum(y) FROM b").Scan(&sum); err != nil || sum != 4 {
		t.Error(sum, err)
	}
	db.QueryRow("PRAGMA user_version").Scan(&form)
	db.Close()
	old := file{path: f.path + ".form-1", owner: jobsOwner, steps: f.steps[:1]}
	if form != 3 || old.look() != nil {
		t.Errorf("form %d; the copy: %v", form, old.look())
	}
}

// The promise of a store that saves is kept by these settings; a driver that ignored one would break it unseen.
func TestSettings(t *testing.T) {
	s := opened(t, t.TempDir())
	for setting, want := range map[string]string{"journal_mode": "wal", "synchronous": "2", "foreign_keys": "1", "busy_timeout": "10000", "application_id": "1417112175", "user_version": "2"} {
		var got string
		if err := s.write.QueryRowContext(context.Background(), "PRAGMA "+setting).Scan(&got); err != nil || got != want {
			t.Errorf("%s is %s, not %s: %v", setting, got, want, err)
		}
	}
	if _, err := s.read.Exec("DELETE FROM changes"); err == nil {
		t.Error("a reader can write")
	}
}

// A store of before there were records goes on with all that was in it.
func TestStoresOfBeforeGoOn(t *testing.T) {
	dir := t.TempDir()
	f := jobsFile(filepath.Join(dir, fileName))
	f.steps = f.steps[:1]
	db, err := f.open()
	if err != nil {
		t.Fatal(err)
	}
	db.Close()
	run(t, f.path, `INSERT INTO jobs VALUES ('one', 'n', 'works', '', '', 'a', 1)`, `INSERT INTO changes VALUES (1, 'one')`, `INSERT INTO changes VALUES (2, 'one')`)
	s := opened(t, dir)
	if c, err := s.Changes(t.Context(), 1); err != nil || c.Last != 2 || len(c.Jobs) != 1 || c.Records != nil {
		t.Errorf("%+v %v", c, err)
	}
	if a, err := s.PutRecords(t.Context(), "two", "", []byte(recordText(1, "two", "d", ""))); err != nil || a.Last != 1 {
		t.Errorf("%+v %v", a, err)
	}
	if c, err := s.Changes(t.Context(), 2); err != nil || c.Last != 3 || len(c.Jobs) != 0 || len(c.Records) != 1 || c.Records[0] != "two" {
		t.Errorf("%+v %v", c, err)
	}
}
