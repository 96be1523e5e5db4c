package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"trenchwright/edge/server"
	"trenchwright/web"
)

var update = flag.Bool("update", false, "write into the scripts what the commands print, where a script compares it whole")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"trenchwright": main})
}

// run runs one command line.
func run(args ...string) (code int, out, complaint string) {
	var o, e bytes.Buffer
	code = program{out: &o, err: &e}.run(args)
	return code, o.String(), e.String()
}

// tool tells whether a program that only tests need is there. Without it the test says so; in CI it fails.
func tool(t testing.TB, name string) bool {
	t.Helper()
	if _, err := exec.LookPath(name); err == nil {
		return true
	}
	if os.Getenv("CI") != "" {
		t.Errorf("%s is not on this machine, and here nothing is skipped", name)
	}
	t.Logf("SKIPPED, NOT CHECKED: %s is not on this machine", name)
	return false
}

// TestScripts runs the scripts in testdata/script: each reads like a page of a manual.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:           "testdata/script",
		UpdateScripts: *update,
		Setup: func(env *testscript.Env) error { // $DEMOS is the folder of the demo jobs
			demos, err := filepath.Abs("../../demo")
			env.Setenv("DEMOS", demos)
			return err
		},
		Condition: func(c string) (bool, error) {
			if name, ok := strings.CutPrefix(c, "has:"); ok {
				return tool(t, name), nil
			}
			if c == "root" {
				return os.Geteuid() == 0, nil
			}
			if c == "built" {
				return built(t), nil
			}
			return false, fmt.Errorf("no condition %q", c)
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"exits": exitsWith, "big": big, "holds": holds, "address": address, "get": get, "letin": letsIn},
	})
}

// built tells whether the workspace is in the program. Without it the test says so; in CI it fails.
func built(t testing.TB) bool {
	err := server.Built(web.Files())
	if err != nil && os.Getenv("CI") != "" {
		t.Error(err)
	}
	return err == nil
}

// address puts an address that nobody listens at into $ADDRESS.
func address(ts *testscript.TestScript, neg bool, args []string) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	ts.Check(err)
	ts.Setenv("ADDRESS", l.Addr().String())
	ts.Check(l.Close())
}

// get asks a server, waiting until it listens, and puts what it answers into a file: get 200 http://… answer.json
func get(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: get STATUS ADDRESS FILE")
	}
	a, err := http.Get(args[1])
	for began := time.Now(); err != nil && time.Since(began) < 20*time.Second; a, err = http.Get(args[1]) {
		time.Sleep(20 * time.Millisecond)
	}
	ts.Check(err)
	defer a.Body.Close()
	b, err := io.ReadAll(a.Body)
	ts.Check(err)
	if strconv.Itoa(a.StatusCode) != args[0] {
		ts.Fatalf("%s was answered, %s was expected: %s", a.Status, args[0], b)
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[2]), b, 0o644))
}

// letsIn has a code made beside a server and a device let in by it; a second device is not: letin FOLDER ADDRESS DEVICE
func letsIn(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: letin FOLDER ADDRESS DEVICE")
	}
	ts.Check(ts.Exec("trenchwright", "let-in", "--json", "--data", args[0]))
	var made struct{ Code string }
	ts.Check(json.Unmarshal([]byte(ts.ReadFile("stdout")), &made))
	for i, who := range []string{args[2], "somebody-else"} {
		body := strings.NewReader(fmt.Sprintf(`{"code":%q,"name":%q,"device":%q}`, made.Code, who, who))
		a, err := http.Post(args[1]+"/api/devices", "application/json", body)
		ts.Check(err)
		ts.Check(a.Body.Close())
		if want := []int{http.StatusCreated, http.StatusUnprocessableEntity}[i]; a.StatusCode != want {
			ts.Fatalf("%s comes with the code: %s, %d was expected", who, a.Status, want)
		}
	}
}

// exitsWith runs a command and compares its exit code: exits 3 trenchwright check job.yaml
func exitsWith(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE COMMAND…")
	}
	err := ts.Exec(args[1], args[2:]...)
	code := 0
	if e, ok := err.(*exec.ExitError); ok {
		code = e.ExitCode()
	} else if err != nil {
		ts.Fatalf("%v", err)
	}
	if want := args[0]; want != strconv.Itoa(code) {
		ts.Fatalf("it ended with %d, %s was expected", code, want)
	}
}

// big makes a file so many megabytes long behind what it holds, without writing them: big 200 job.yaml
func big(ts *testscript.TestScript, neg bool, args []string) {
	size, err := strconv.ParseInt(args[0], 10, 64)
	ts.Check(err)
	if neg || len(args) != 2 {
		ts.Fatalf("usage: big MEGABYTES FILE")
	}
	ts.Check(os.Truncate(ts.MkAbs(args[1]), size<<20))
}

// holds compares what a folder holds, hidden files too: holds out plan.json job.json
func holds(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 1 {
		ts.Fatalf("usage: holds DIR NAME…")
	}
	list, err := os.ReadDir(ts.MkAbs(args[0]))
	ts.Check(err)
	var got []string
	for _, e := range list {
		got = append(got, e.Name())
	}
	if want := slices.Sorted(slices.Values(args[1:])); !slices.Equal(got, want) {
		ts.Fatalf("%s holds %q, %q was expected", args[0], got, want)
	}
}
