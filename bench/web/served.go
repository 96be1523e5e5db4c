package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"strings"
	"syscall"
	"time"

	"trenchwright/demo/longrun"
	"trenchwright/edge/store"
	"trenchwright/job"
)

// A made-up run has 333 units a kilometre or so.
const (
	short = "long-run-5" // some 5,000 units
	long  = "long-run-50"
)

// made is a made-up run under an id.
func made(id string, kilometres float64) job.Job {
	j := longrun.Job(kilometres, 1)
	j.ID, j.Name = id, fmt.Sprintf("Made-up run of %g km", kilometres)
	return j
}

// filled is a folder of data with the made-up runs in it.
func (b *bench) filled() string {
	dir := b.TempDir()
	s, err := store.Open(dir, store.Options{})
	if err != nil {
		b.Fatal(err)
	}
	defer s.Close()
	for id, km := range map[string]float64{short: 15.1, long: 151} {
		if _, err := s.Save(context.Background(), store.Draft{ID: "R-" + id, Author: "bench", Content: job.CanonicalJSON(made(id, km))}); err != nil {
			b.Fatal(err)
		}
	}
	return dir
}

// served is the program while it serves.
type served struct {
	address string
	process *exec.Cmd
}

// serve starts the program on a folder of data; it is ended with the run, or by stop.
func (b *bench) serve(dir string, args ...string) *served {
	s := &served{process: exec.Command(b.program, append([]string{"serve", "--data", dir, "--addr", "127.0.0.1:0"}, args...)...)}
	s.process.Stderr = os.Stderr
	out, err := s.process.StdoutPipe()
	if err == nil {
		err = s.process.Start()
	}
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(s.stop)
	lines := bufio.NewScanner(out)
	for lines.Scan() {
		if _, at, ok := strings.Cut(lines.Text(), "http://"); ok {
			s.address = "http://" + at
			go io.Copy(io.Discard, out)
			return s
		}
	}
	b.Fatal("the program did not say where it listens")
	return nil
}

func (s *served) stop() {
	if s.process.ProcessState == nil {
		_ = s.process.Process.Signal(syscall.SIGINT)
		_ = s.process.Wait()
	}
}

// get asks for an address as browsers do, packed, and gives how long that took, in milliseconds, and how much came.
func (b *bench) get(c *http.Client, address string) (float64, int64) {
	began := time.Now()
	q, err := http.NewRequest("GET", address, nil)
	if err != nil {
		b.Fatal(err)
	}
	q.Header.Set("Accept-Encoding", "gzip")
	r, err := c.Do(q)
	if err != nil {
		b.Fatal(err)
	}
	n, _ := io.Copy(io.Discard, r.Body)
	r.Body.Close()
	if r.StatusCode != http.StatusOK {
		b.Fatalf("%s: %s", address, r.Status)
	}
	return since(began), n
}
