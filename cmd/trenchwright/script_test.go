package main

import (
	"os"
	"os/exec"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"trenchwright": main})
}

// TestScripts runs the scripts in testdata/script: each reads like a page of a manual.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Condition: func(c string) (bool, error) {
			name, ok := strings.CutPrefix(c, "has:")
			if !ok {
				return false, nil
			}
			if _, err := exec.LookPath(name); err != nil {
				if os.Getenv("CI") != "" {
					t.Errorf("%s is not on this machine", name)
				}
				return false, nil
			}
			return true, nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"exits": exitsWith, "big": big},
	})
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
	if want := args[0]; want != itoa(code) {
		ts.Fatalf("it ended with %d, %s was expected", code, want)
	}
}

func itoa(n int) string { return string(rune('0' + n)) }

// big writes a file of so many megabytes without holding it: big 200 job.yaml
func big(ts *testscript.TestScript, _ bool, args []string) {
	f, err := os.Create(ts.MkAbs(args[1]))
	ts.Check(err)
	defer f.Close()
	line := []byte("name: " + strings.Repeat("a", 1<<20-7) + "\n")
	for range 200 {
		_, err := f.Write(line)
		ts.Check(err)
	}
}
