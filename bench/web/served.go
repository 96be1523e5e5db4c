package main

import (
	"bufio"
	"io"
	"net/http"
	"os"
	"os/exec"
	"strings"
	"syscall"
	"time"
)

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
