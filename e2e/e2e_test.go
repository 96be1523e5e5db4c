package e2e

import (
	"bufio"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"trenchwright/tools/browser"
)

var program string

func TestMain(m *testing.M) {
	dir, err := os.MkdirTemp("", "e2e")
	if err != nil {
		panic(err)
	}
	program = filepath.Join(dir, "trenchwright")
	build := exec.Command("go", "build", "-trimpath", "-ldflags=-s -w", "-o", program, "../cmd/trenchwright")
	build.Env = append(os.Environ(), "CGO_ENABLED=0")
	build.Stderr = os.Stderr
	code := 1
	if err := build.Run(); err == nil {
		code = m.Run()
	}
	os.RemoveAll(dir)
	os.Exit(code)
}

// away is when a test had stopped its server.
type away struct{ from, to []time.Time }

// late is by how much a browser's log may be late, with several of them on a slow machine.
const late = 20 * time.Second

// at tells whether nobody was there at a moment, as far as a browser that is late with its log can tell.
func (a *away) at(when time.Time) bool {
	if a == nil {
		return false
	}
	for i, from := range a.from {
		if when.After(from.Add(-time.Second)) && (i == len(a.to) || when.Before(a.to[i].Add(late))) {
			return true
		}
	}
	return false
}

// served is a running `trenchwright serve`.
type served struct {
	address string
	away    away
	process *exec.Cmd
}

// serve starts the program on an address, or a free one, and ends it with the test.
func serve(t *testing.T, args ...string) *served {
	t.Helper()
	c := exec.Command(program, append([]string{"serve", "--demo"}, args...)...)
	c.Stderr = os.Stderr
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	s := &served{process: c}
	t.Cleanup(s.stop)
	lines := bufio.NewScanner(out)
	for lines.Scan() {
		if _, at, ok := strings.Cut(lines.Text(), "http://"); ok {
			s.address = "http://" + at
			go func() {
				for lines.Scan() {
				}
			}()
			return s
		}
	}
	t.Fatal("the program did not say where it listens")
	return nil
}

// again starts the program that was stopped at the same address, with what it kept.
func (s *served) again(t *testing.T, data string) {
	t.Helper()
	s.process = serve(t, "--data", data, "--addr", strings.TrimPrefix(s.address, "http://")).process
	s.away.to = append(s.away.to, time.Now())
}

// stop ends the program as Ctrl-C does.
func (s *served) stop() {
	if s.process.ProcessState == nil {
		s.away.from = append(s.away.from, time.Now())
		_ = s.process.Process.Signal(syscall.SIGINT)
		_ = s.process.Wait()
	}
}

// inBoth tries the same in both engines at once, beside other tests: a browser keeps one core busy, not two.
func inBoth(t *testing.T, f func(t *testing.T, engine string)) {
	t.Parallel()
	for _, e := range browser.Engines {
		t.Run(e, func(t *testing.T) {
			t.Parallel()
			f(t, e)
		})
	}
}

func TestPageOpensWithoutTheServer(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		p, s := begun(t, engine, "/")
		p.Says("Tram depot")
		p.Says("ready for no signal")
		s.stop()
		p.to("/jobs/tram-depot/route")
		p.Says("no server")
		p.Says("148 units")
		p.Go(s.address + "/jobs/nowhere-at-all/route")
		p.Says("There is no job nowhere-at-all here, and no server answers.")
		p.faultless()
	})
}
