package server

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"net"
	"net/http"
	"os"
	"os/exec"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"
	"testing/fstest"
	"time"

	"trenchwright/edge/store"
)

// serveIn tells a copy of this test program to serve a folder at the address that it says on its output, until it is killed.
const serveIn = "TRENCHWRIGHT_TEST_SERVER"

func TestMain(m *testing.M) {
	if dir := os.Getenv(serveIn); dir != "" {
		serveUntilKilled(dir)
	}
	os.Exit(m.Run())
}

func serveUntilKilled(dir string) {
	fail := func(err error) {
		if err != nil {
			fmt.Println("error", err)
			os.Exit(1)
		}
	}
	s, err := store.Open(dir, store.Options{})
	fail(err)
	h, err := New(Options{Assets: fstest.MapFS{"index.html.gz": {Data: store.Packed([]byte("x"))}}, Store: s})
	fail(err)
	l, err := net.Listen("tcp", "127.0.0.1:0")
	fail(err)
	fmt.Println(l.Addr())
	fail(http.Serve(l, h))
}

// served is a server as a process of its own.
type served struct {
	*exec.Cmd
	at string
}

func serveDir(t *testing.T, dir string) served {
	t.Helper()
	c := exec.Command(os.Args[0])
	c.Env = append(os.Environ(), serveIn+"="+dir)
	out, err := c.StdoutPipe()
	if err == nil {
		err = c.Start()
	}
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = c.Process.Kill() })
	var at string
	if _, err := fmt.Fscanln(out, &at); err != nil || at == "error" {
		t.Fatalf("the server does not begin: %q %v", at, err)
	}
	return served{c, "http://" + at}
}

// A server is killed in the middle of requests, again and again: devices keep what was not acknowledged and send it once more; what was
// acknowledged is there, every record once, numbered without a gap, and a number that was told is that record's for good.
func TestServerIsKilledInTheMiddleOfRequests(t *testing.T) {
	chance := siteChance(t)
	dir := t.TempDir()
	const phones, each = 4, 60
	unsent := make([][]string, phones)
	var all []string
	for d := range phones {
		for n := range each {
			line, err := json.Marshal(made(chance, fmt.Sprintf("d%d", d), n+1, 1990+20*d))
			if err != nil {
				t.Fatal(err)
			}
			unsent[d], all = append(unsent[d], string(line)), append(all, string(line))
		}
	}
	seeds := []uint64{chance.Uint64(), chance.Uint64(), chance.Uint64(), chance.Uint64()}
	var told []string // what a device was told by a server that was killed since
	broken, left := 0, phones*each
	for round := 0; left > 0; round++ {
		if round > 60 {
			t.Fatalf("%d records never got up", left)
		}
		s := serveDir(t, dir)
		var wait sync.WaitGroup
		var lock sync.Mutex
		for d := range phones {
			r := rand.New(rand.NewPCG(seeds[d], uint64(round)))
			wait.Go(func() {
				for len(unsent[d]) > 0 {
					part := unsent[d][:min(len(unsent[d]), 1+r.IntN(3))]
					a, err := http.Post(s.at+"/api/jobs/yard/records", ndjson, strings.NewReader(strings.Join(part, "\n")))
					var got store.Acknowledged
					if err == nil {
						err = json.NewDecoder(a.Body).Decode(&got)
						a.Body.Close()
					}
					if err != nil {
						lock.Lock()
						broken++
						lock.Unlock()
						return
					}
					unsent[d] = slices.DeleteFunc(unsent[d], func(line string) bool {
						return slices.ContainsFunc(got.IDs, func(id string) bool { return strings.Contains(line, `"id":"`+id+`"`) })
					})
				}
			})
		}
		time.AfterFunc(time.Duration(5+chance.IntN(40))*time.Millisecond, func() { _ = s.Process.Signal(syscall.SIGKILL) })
		wait.Wait()
		_ = s.Wait()
		left = 0
		for d := range phones {
			left += len(unsent[d])
		}
		again := serveDir(t, dir)
		now := numberedAt(t, again.at)
		if len(now) < len(told) || !slices.Equal(now[:len(told)], told) {
			t.Fatalf("round %d: %d records were told with their numbers, and %d are there now, or others", round, len(told), len(now))
		}
		told = now
		for d := range phones {
			for _, line := range all[d*each : (d+1)*each] {
				if !slices.Contains(unsent[d], line) && !slices.ContainsFunc(now, func(n string) bool { return strings.Contains(n, line) }) {
					t.Fatalf("round %d: what was acknowledged is gone: %s", round, line)
				}
			}
		}
		_ = again.Process.Kill()
		_ = again.Wait()
	}
	if len(told) != len(all) {
		t.Errorf("%d records, and %d were made", len(told), len(all))
	}
	t.Logf("%d records, %d requests broken off", len(told), broken)
}

// numberedAt are all records of the yard with their numbers, which have no gap.
func numberedAt(t *testing.T, at string) []string {
	t.Helper()
	a, err := http.Get(at + "/api/jobs/yard/records?numbered=true&limit=10000")
	if err != nil {
		t.Fatal(err)
	}
	defer a.Body.Close()
	var b bytes.Buffer
	if _, err := b.ReadFrom(a.Body); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSuffix(b.String(), "\n"), "\n")
	if b.Len() == 0 {
		lines = nil
	}
	for i, line := range lines {
		if !strings.HasPrefix(line, fmt.Sprintf(`{"seq":%d,`, i+1)) {
			t.Fatalf("line %d is %s", i+1, line)
		}
	}
	return lines
}

// A server whose disk is full says so in a sentence, acknowledges nothing that it does not keep, and goes on when there is room.
func TestFullDiskIsSaid(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=4m"); err != nil {
		t.Skipf("NOT CHECKED: a disk of this test's own cannot be mounted here: %v. The store's own test stands for it", err)
	}
	t.Cleanup(func() { _ = syscall.Unmount(dir, syscall.MNT_DETACH) })
	s := serveDir(t, dir)
	chance := siteChance(t)
	post := func(n int) (int, []byte) {
		t.Helper()
		r := made(chance, "d", n, 2026)
		r.Text = strings.Repeat("x", 90_000)
		line, err := json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		a, err := http.Post(s.at+"/api/jobs/yard/records", ndjson, bytes.NewReader(line))
		if err != nil {
			t.Fatal(err)
		}
		defer a.Body.Close()
		var b bytes.Buffer
		_, _ = b.ReadFrom(a.Body)
		return a.StatusCode, b.Bytes()
	}
	kept := 0
	for n := 1; ; n++ {
		status, b := post(n)
		if status == http.StatusOK {
			if kept++; n > 200 {
				t.Fatal("it never was full")
			}
			continue
		}
		if r := answer[Refusal](t, b); status != http.StatusInternalServerError || !strings.Contains(r.Detail, "is full") || strings.Contains(string(b), "acknowledged") {
			t.Fatalf("%d %s", status, b)
		}
		break
	}
	if got := numberedAt(t, s.at); len(got) != kept || kept == 0 {
		t.Errorf("%d records of %d that were acknowledged", len(got), kept)
	}
	if err := syscall.Mount("tmpfs", dir, "tmpfs", syscall.MS_REMOUNT, "size=100m"); err != nil {
		t.Fatal(err)
	}
	if status, b := post(999); status != http.StatusOK {
		t.Errorf("with room again: %d %s", status, b)
	}
}
