package store

import (
	"bytes"
	"fmt"
	"testing"

	"trenchwright/job"
)

// crowded is a folder with 200 jobs of 20 revisions each, the demo's, and an issue of each.
func crowded(b *testing.B) string {
	b.Helper()
	dir := b.TempDir()
	s := opened(b, dir)
	if _, err := s.write.Exec("PRAGMA synchronous = OFF"); err != nil {
		b.Fatal(err)
	}
	j := demoJob(b, "tram-depot")
	for n := range 200 {
		j.ID = fmt.Sprintf("job-%d", n)
		var parents []string
		for r := range 20 {
			j.Name = fmt.Sprintf("Job %d as of %d", n, r)
			id := fmt.Sprintf("r-%d-%d", n, r)
			save1(b, s, Draft{ID: id, Parents: parents, Author: "engineer", Content: job.CanonicalJSON(j)})
			parents = []string{id}
		}
		if _, err := s.Issue(b.Context(), Issuing{Revision: parents[0], Name: "A", Author: "chief", Core: "1", Plan: bytes.Repeat([]byte("plan "), 20_000)}); err != nil {
			b.Fatal(err)
		}
	}
	if err := s.Close(); err != nil {
		b.Fatal(err)
	}
	return dir
}

func BenchmarkStore(b *testing.B) {
	dir := crowded(b)
	b.Run("open", func(b *testing.B) {
		for b.Loop() {
			s, err := Open(dir, Options{})
			if err != nil {
				b.Fatal(err)
			}
			s.Close()
		}
	})
	s := opened(b, dir)
	b.Run("list 200 jobs", func(b *testing.B) {
		for b.Loop() {
			if list, err := s.Jobs(b.Context()); err != nil || len(list) != 200 {
				b.Fatal(len(list), err)
			}
		}
	})
	b.Run("one job", func(b *testing.B) {
		for b.Loop() {
			if _, err := s.Job(b.Context(), "job-100"); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("content", func(b *testing.B) {
		for b.Loop() {
			if _, err := s.Content(b.Context(), "r-100-10"); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("kept plan of 100 kB", func(b *testing.B) {
		if err := s.Keep(b.Context(), "h", "1", "plan", make([]byte, 100_000)); err != nil {
			b.Fatal(err)
		}
		for b.Loop() {
			if _, ok, err := s.Kept(b.Context(), "h", "1", "plan"); !ok || err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("save", func(b *testing.B) {
		j := demoJob(b, "tram-depot")
		j.ID = "saved-often"
		var parents []string
		for n := 0; b.Loop(); n++ {
			j.Name = fmt.Sprint("another ", n)
			id := fmt.Sprint("s-", n)
			save1(b, s, Draft{ID: id, Parents: parents, Content: job.CanonicalJSON(j)})
			parents = []string{id}
		}
	})
}
