package server

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"slices"
	"sync"
	"testing"
	"testing/fstest"
	"time"

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

// BenchmarkRecordsFromSite brings ten thousand records over real connections, two hundred at a time, and lets two hundred devices
// bring five each at once, again and again.
func BenchmarkRecordsFromSite(b *testing.B) {
	chance := rand.New(rand.NewPCG(1, 1))
	lines := func(device string, from, n int) []byte {
		var all bytes.Buffer
		for i := range n {
			one, err := json.Marshal(made(chance, device, from+i+1, 2026))
			if err != nil {
				b.Fatal(err)
			}
			all.Write(append(one, '\n'))
		}
		return all.Bytes()
	}
	bring := func(b *testing.B, w *world, c *http.Client, text []byte) {
		a, err := c.Post(w.URL+"/api/jobs/yard/records", ndjson, bytes.NewReader(text))
		if err != nil || a.StatusCode != http.StatusOK {
			b.Error(a, err)
			return
		}
		io.Copy(io.Discard, a.Body)
		a.Body.Close()
	}
	b.Run("10,000", func(b *testing.B) {
		for b.Loop() {
			b.StopTimer()
			w := newWorld(b)
			var parts [][]byte
			for n := range 50 {
				parts = append(parts, lines("one", n*200, 200))
			}
			b.StartTimer()
			for _, p := range parts {
				bring(b, w, w.Client(), p)
			}
		}
	})
	b.Run("200 devices", func(b *testing.B) {
		w := newWorld(b)
		c := &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: 200}}
		var times []time.Duration
		for b.Loop() {
			var lock sync.Mutex
			var wait sync.WaitGroup
			for d := range 200 {
				text := lines(fmt.Sprintf("d%d", d), len(times), 5)
				wait.Go(func() {
					began := time.Now()
					bring(b, w, c, text)
					lock.Lock()
					defer lock.Unlock()
					times = append(times, time.Since(began))
				})
			}
			wait.Wait()
		}
		slices.Sort(times)
		b.ReportMetric(float64(times[len(times)*99/100].Milliseconds()), "p99-ms")
	})
}
