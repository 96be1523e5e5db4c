package main

import (
	"context"
	"fmt"
	"io"
	"io/fs"
	"net/http"
	"path"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"trenchwright/edge/store"
	"trenchwright/job"
	"trenchwright/web"
)

// assets is what a browser fetches and keeps of the workspace.
func (b *bench) assets() error {
	var all int64
	var parts []string
	err := fs.WalkDir(web.Files(), ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(p, ".gz") {
			return err
		}
		i, err := d.Info()
		if err != nil {
			return err
		}
		all += i.Size()
		if i.Size() > 100_000 {
			name, _, _ := strings.Cut(path.Base(p), "-")
			parts = append(parts, fmt.Sprintf("%s %.2f", name, float64(i.Size())/1e6))
		}
		return nil
	})
	b.report.row(row{what: "all assets, gzip", size: strings.Join(parts, ", "), middle: fmt.Sprintf("%.2f MB", float64(all)/1e6), target: "5 MB", verdict: held(all <= 5_000_000)})
	return err
}

const manyJobs = 200

// server times lists, the demo plan from memory, and the start.
func (b *bench) server() error {
	dir := b.TempDir()
	if err := fill(dir); err != nil {
		return err
	}
	s := b.serve(dir, "--demo")
	c := &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: 64}}
	times := 200
	if b.quick {
		times = 20
	}
	var list []float64
	for range times {
		ms, _ := b.get(c, s.address+"/api/jobs")
		list = append(list, ms)
	}
	b.report.timed("list of jobs", fmt.Sprintf("%d jobs", manyJobs+3), list, 50, 50)
	plan := s.address + "/api/revisions/DEMO-tram-depot/plan"
	b.get(c, plan)
	rate, size := b.rate(c, plan)
	b.report.row(row{what: "demo plan asked for, 16 connections", size: fmt.Sprintf("%d KB packed", size/1000), middle: fmt.Sprintf("%.0f a second", rate), target: "2,000 a second", verdict: held(rate >= 2000)})
	s.stop()
	var starts []float64
	for range max(5, times/10) {
		began := time.Now()
		s := b.serve(dir)
		b.get(http.DefaultClient, s.address+"/api/jobs")
		starts = append(starts, since(began))
		s.stop()
		http.DefaultClient.CloseIdleConnections()
	}
	b.report.timed("start, to the first list", fmt.Sprintf("%d jobs", manyJobs+3), starts, 300, 50)
	return nil
}

// fill puts many jobs into a folder of data.
func fill(dir string) error {
	s, err := store.Open(dir, store.Options{})
	if err != nil {
		return err
	}
	defer s.Close()
	for n := range manyJobs {
		j := made(fmt.Sprintf("job-%d", n), 0.5)
		if _, err := s.Save(context.Background(), store.Draft{ID: fmt.Sprintf("R%d", n), Author: "bench", Content: job.CanonicalJSON(j)}); err != nil {
			return err
		}
	}
	return nil
}

// rate is how often an address is answered in a second, asked over 16 connections at once, and how long an answer is.
func (b *bench) rate(c *http.Client, address string) (float64, int64) {
	lasts := 5 * time.Second
	if b.quick {
		lasts = time.Second
	}
	var answered, size atomic.Int64
	var all sync.WaitGroup
	end := time.Now().Add(lasts)
	for range 8 * runtime.NumCPU() {
		all.Go(func() {
			for time.Now().Before(end) {
				q, _ := http.NewRequest("GET", address, nil)
				q.Header.Set("Accept-Encoding", "gzip")
				r, err := c.Do(q)
				if err != nil || r.StatusCode != http.StatusOK {
					return
				}
				n, _ := io.Copy(io.Discard, r.Body)
				r.Body.Close()
				size.Store(n)
				answered.Add(1)
			}
		})
	}
	all.Wait()
	return float64(answered.Load()) / lasts.Seconds(), size.Load()
}
