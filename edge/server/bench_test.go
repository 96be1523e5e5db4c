package server

import (
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"testing"
	"testing/fstest"

	"trenchwright/edge/store"
	"trenchwright/job"
)

// BenchmarkServer asks a server with 200 jobs, and the demo plan from the cache, over real connections.
func BenchmarkServer(b *testing.B) {
	w := newWorld(b)
	j := w.put(b, "tram-depot")
	for n := range 199 {
		j.ID, j.Name = fmt.Sprintf("job-%d", n), fmt.Sprintf("Job %d", n)
		if _, err := w.store.Save(b.Context(), store.Draft{ID: fmt.Sprintf("R%d", n), Author: "a", Content: job.CanonicalJSON(j)}); err != nil {
			b.Fatal(err)
		}
	}
	w.ask(b, "GET", "/api/revisions/R-tram-depot/plan", "", nil)
	for name, at := range map[string]string{"list 200 jobs": "/api/jobs", "demo plan": "/api/revisions/R-tram-depot/plan"} {
		b.Run(name, func(b *testing.B) {
			b.RunParallel(func(each *testing.PB) {
				for each.Next() {
					r, _ := http.NewRequest("GET", w.URL+at, nil)
					r.Header.Set("Accept-Encoding", "gzip")
					a, err := w.Client().Do(r)
					if err != nil || a.StatusCode != http.StatusOK {
						b.Error(err)
						return
					}
					io.Copy(io.Discard, a.Body)
					a.Body.Close()
				}
			})
			b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "requests/s")
		})
	}
}

// BenchmarkStart opens a store with 200 jobs and makes the server, up to its first answer.
func BenchmarkStart(b *testing.B) {
	dir := b.TempDir()
	s, err := store.Open(dir, store.Options{})
	if err != nil {
		b.Fatal(err)
	}
	w := newWorld(b)
	j := w.put(b, "tram-depot")
	for n := range 200 {
		j.ID = fmt.Sprintf("job-%d", n)
		if _, err := s.Save(b.Context(), store.Draft{ID: fmt.Sprintf("R%d", n), Author: "a", Content: job.CanonicalJSON(j)}); err != nil {
			b.Fatal(err)
		}
	}
	s.Close()
	for b.Loop() {
		s, err := store.Open(dir, store.Options{})
		if err != nil {
			b.Fatal(err)
		}
		h, err := New(Options{Assets: fstest.MapFS{"index.html.gz": gz("<p>page")}, Store: s})
		if err != nil {
			b.Fatal(err)
		}
		a := httptest.NewRecorder()
		h.ServeHTTP(a, httptest.NewRequest("GET", "/api/jobs", nil))
		if a.Code != http.StatusOK {
			b.Fatal(a.Code)
		}
		s.Close()
	}
}
