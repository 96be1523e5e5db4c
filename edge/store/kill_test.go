package store

import (
	"bufio"
	"context"
	"database/sql"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"trenchwright/tools/seed"
)

var kills = flag.Int("kills", 20, "how often a process that saves is killed")

// writerIn tells a copy of this test program to save into a folder until it is killed.
const writerIn = "TRENCHWRIGHT_TEST_WRITER"

func TestMain(m *testing.M) {
	if dir := os.Getenv(writerIn); dir != "" {
		saveUntilKilled(dir)
	}
	os.Exit(m.Run())
}

// saveUntilKilled saves, attaches, issues and records, and says of each thing that it was acknowledged, after it was.
func saveUntilKilled(dir string) {
	s, err := Open(dir, Options{})
	if err != nil {
		fmt.Println("error", err)
		os.Exit(1)
	}
	ctx := context.Background()
	name := fmt.Sprintf("p%dx%d", os.Getpid(), time.Now().UnixNano())
	var parents []string
	for i := 0; ; i++ {
		id := fmt.Sprintf("%s-%d", name, i)
		if _, err = s.Save(ctx, Draft{ID: id, Parents: parents, Content: rough(name, id)}); err == nil {
			fmt.Println("revision", id)
			parents = []string{id}
			err = s.PutAttachment(ctx, hashOf([]byte(id)), strings.NewReader(id))
		}
		if err == nil {
			fmt.Println("attachment", id)
			_, err = s.Issue(ctx, Issuing{ID: "i-" + id, Revision: id, Name: id, Author: "nobody", Core: "1", Plan: []byte(id)})
		}
		if err == nil {
			fmt.Println("issued", id)
			err = s.Keep(ctx, id, "1", "plan", []byte(id))
		}
		if err == nil {
			_, err = s.PutRecords(ctx, name, "", []byte(recordOf(name, id)+recordText(i, name, "again-and-again", "")))
		}
		if err == nil {
			fmt.Println("record", id)
			var here PhotoHere
			if here, err = s.PutPiece(ctx, Piece{SHA256: hashOf([]byte("photo " + id)), Total: int64(len("photo " + id)), Bytes: []byte("photo ")}); err == nil {
				_, err = s.PutPiece(ctx, Piece{SHA256: hashOf([]byte("photo " + id)), Start: here.Bytes, Total: int64(len("photo " + id)), Bytes: []byte(id)})
			}
		}
		if err == nil {
			fmt.Println("photo", id)
		}
		if err != nil {
			fmt.Println("error", err)
			os.Exit(1)
		}
	}
}

// recordOf is a record that says which one it is.
func recordOf(job, which string) string { return recordText(0, job, which, "") }

// A process that saves is killed at any moment, again and again in one folder: what it had acknowledged is there, and the
// database is whole. One in three times two processes save at once.
func TestNothingAcknowledgedIsLost(t *testing.T) {
	chance := rand.New(rand.NewPCG(seed.Of(t), 1))
	dir := t.TempDir()
	acknowledged := map[string]string{} // what and id, and what that is
	for round := range *kills {
		type writer struct {
			*exec.Cmd
			lines *bufio.Scanner
		}
		var writers []writer
		for range 1 + round%3/2 {
			c := exec.Command(os.Args[0])
			c.Env = append(os.Environ(), writerIn+"="+dir)
			out, err := c.StdoutPipe()
			if err == nil {
				err = c.Start()
			}
			if err != nil {
				t.Fatal(err)
			}
			writers = append(writers, writer{c, bufio.NewScanner(out)})
		}
		time.AfterFunc(time.Duration(30+chance.IntN(250))*time.Millisecond, func() {
			for _, w := range writers {
				w.Process.Kill()
			}
		})
		for _, w := range writers {
			for w.lines.Scan() {
				what, id, _ := strings.Cut(w.lines.Text(), " ")
				if what == "error" {
					t.Fatal(id)
				}
				acknowledged[what+" "+id] = id
			}
			w.Wait() // it says "killed"
		}
		checkAcknowledged(t, dir, acknowledged)
	}
	if len(acknowledged) < *kills {
		t.Errorf("only %d things were acknowledged in %d rounds", len(acknowledged), *kills)
	}
	t.Logf("%d things acknowledged, %d kills", len(acknowledged), *kills)
}

func checkAcknowledged(t *testing.T, dir string, acknowledged map[string]string) {
	t.Helper()
	ctx := t.Context()
	s, err := Open(dir, Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	for key, id := range acknowledged {
		var got, want []byte
		want = []byte(id)
		switch what, _, _ := strings.Cut(key, " "); what {
		case "revision":
			name, _, _ := strings.Cut(id, "-")
			want = rough(name, id)
			got, err = s.Content(ctx, id)
		case "attachment":
			got, err = s.Attachment(ctx, hashOf([]byte(id)))
		case "record":
			want = []byte("kept")
			name, _, _ := strings.Cut(id, "-")
			var r Records
			for len(got) == 0 && err == nil {
				if r, err = s.Records(ctx, name, r.Last, MostRecords); len(r.Lines) == 0 {
					break
				}
				for _, text := range r.Lines {
					if string(text)+"\n" == recordOf(name, id) {
						got = want
					}
				}
			}
		case "photo":
			want = []byte("photo " + id)
			got, err = s.Attachment(ctx, hashOf(want))
		case "issued":
			got, err = s.IssuedPlan(ctx, "i-"+id)
		}
		if err != nil || string(got) != string(want) {
			t.Fatalf("%s was acknowledged and is %q: %v", key, got, err)
		}
	}
	for name, db := range map[string]*sql.DB{fileName: s.write, keptName: s.kept} {
		if err := (file{path: filepath.Join(dir, name)}).damage(db, "PRAGMA integrity_check"); err != nil {
			t.Fatal(err)
		}
	}
	var gaps int
	err = s.read.QueryRow(`SELECT (SELECT max(seq) - count(*) FROM revisions) + (SELECT max(seq) - count(*) FROM changes) +
		(SELECT coalesce(sum(gap), 0) FROM (SELECT max(seq) - count(*) AS gap FROM records GROUP BY job))`).Scan(&gaps)
	if err != nil && len(acknowledged) > 0 || gaps != 0 {
		t.Fatalf("%d numbers are missing: %v", gaps, err)
	}
	var strays int
	if err := s.read.QueryRow("SELECT count(*) FROM pragma_foreign_key_check").Scan(&strays); err != nil || strays > 0 {
		t.Fatal(strays, err)
	}
}
