// Package browser drives real browsers for tests through W3C WebDriver (https://www.w3.org/TR/webdriver2/): Chromium and
// WebKitGTK. It starts their drivers and ends them.
//
//	browser.go  a browser: start, end, windows     page.go  what a test does on a page; wheel.go: wheels, drags in time, paper
//	print.go    a page on paper in WebKitGTK, whose driver cannot print
//	hold.go     a hand that holds on while the page is looked at
//	engines.go  where Debian keeps the two engines, and how they are started
package browser

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"strings"
	"syscall"
	"time"
)

// Test is what a browser needs of whoever drives it: a *testing.T and a *testing.B have it all.
type Test interface {
	Helper()
	Cleanup(func())
	TempDir() string
	Fatal(...any)
	Fatalf(string, ...any)
	Skip(...any)
}

// Browser is one running browser with one window.
type Browser struct {
	Engine  string
	t       Test
	driver  *exec.Cmd
	base    string // of the session
	told    *bytes.Buffer
	profile string
}

// Start starts a browser of an engine, "chromium" or "webkit", and ends it with the test. Where the engine is not installed
// the test is skipped loudly, or fails where CI is set. Profile is a folder that outlives the browser; empty: one of its own.
func Start(t Test, engine, profile string) *Browser {
	t.Helper()
	e := engineOf(t, engine)
	if profile == "" {
		profile = t.TempDir()
	}
	b := &Browser{Engine: engine, t: t, told: &bytes.Buffer{}, profile: profile}
	port := freePort(t)
	b.driver = e.command(port, profile)
	b.driver.Stdout, b.driver.Stderr = b.told, b.told
	b.driver.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	if err := b.driver.Start(); err != nil {
		t.Fatalf("%s: %v", engine, err)
	}
	t.Cleanup(b.Kill)
	root := fmt.Sprintf("http://127.0.0.1:%d", port)
	b.await(root + "/status")
	var made struct {
		SessionID string `json:"sessionId"`
	}
	b.base = root
	b.call("POST", "/session", map[string]any{"capabilities": map[string]any{"alwaysMatch": e.capabilities(profile)}}, &made)
	b.base = root + "/session/" + made.SessionID
	b.call("POST", "/timeouts", map[string]any{"script": patience.Milliseconds()}, nil)
	return b
}

// Kill ends the browser at once, as a pulled plug would.
func (b *Browser) Kill() {
	if b.driver == nil || b.driver.Process == nil {
		return
	}
	_ = syscall.Kill(-b.driver.Process.Pid, syscall.SIGKILL)
	_ = b.driver.Wait()
	b.driver = nil
	endOf(b.profile)
}

// Close ends the browser in order, so that it may write what it keeps.
func (b *Browser) Close() {
	if b.driver == nil {
		return
	}
	b.call("DELETE", "", nil, nil)
	b.Kill()
}

// endOf kills what a driver started in process groups of its own: whatever has the profile on its command line.
func endOf(profile string) {
	entries, _ := os.ReadDir("/proc")
	for _, e := range entries {
		line, err := os.ReadFile("/proc/" + e.Name() + "/cmdline")
		if err != nil || !bytes.Contains(line, []byte(profile)) {
			continue
		}
		var pid int
		if _, err := fmt.Sscan(e.Name(), &pid); err == nil && pid != os.Getpid() {
			_ = syscall.Kill(pid, syscall.SIGKILL)
		}
	}
}

func freePort(t Test) int {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	return l.Addr().(*net.TCPAddr).Port
}

// patience is how long a driver may take to start, and a script to answer, on a machine that has other work.
const patience = 2 * time.Minute

func (b *Browser) await(address string) {
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		if r, err := http.Get(address); err == nil {
			r.Body.Close()
			return
		}
	}
	b.t.Fatalf("the driver of %s did not start:\n%s", b.Engine, b.told)
}

// call asks the driver; what it answers goes to out.
func (b *Browser) call(method, path string, body, out any) {
	b.t.Helper()
	if err := b.try(method, path, body, out); err != nil {
		b.t.Fatalf("%s: %s %s: %v", b.Engine, method, path, err)
	}
}

func (b *Browser) try(method, path string, body, out any) error {
	var send io.Reader
	if body != nil {
		text, err := json.Marshal(body)
		if err != nil {
			return err
		}
		send = bytes.NewReader(text)
	} else if method == "POST" {
		send = strings.NewReader("{}")
	}
	q, err := http.NewRequest(method, b.base+path, send)
	if err != nil {
		return err
	}
	q.Header.Set("Content-Type", "application/json; charset=utf-8")
	r, err := http.DefaultClient.Do(q)
	if err != nil {
		return err
	}
	defer r.Body.Close()
	answer, err := io.ReadAll(r.Body)
	if err != nil {
		return err
	}
	var wrapped struct{ Value json.RawMessage }
	if err := json.Unmarshal(answer, &wrapped); err != nil {
		return fmt.Errorf("%s: %s", r.Status, answer)
	}
	if r.StatusCode != http.StatusOK {
		var fault struct{ Error, Message string }
		_ = json.Unmarshal(wrapped.Value, &fault)
		return fmt.Errorf("%s: %s", fault.Error, fault.Message)
	}
	if out == nil {
		return nil
	}
	return json.Unmarshal(wrapped.Value, out)
}
