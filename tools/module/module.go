// Package module builds a command for browsers and runs it in node, for tests that compare what browsers answer with what the
// program does.
package module

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// Module is a command that was built for browsers.
type Module struct{ node, glue, file string }

// Build builds the command of the folder that the test runs in, plainly: web/tools leaves more out and packs it, and says how
// large that is. Without node the test is skipped, and fails where CI is set.
func Build(t *testing.T) Module {
	node, err := exec.LookPath("node")
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("no node on this machine")
		}
		t.Skip("SKIPPED: no node on this machine: that browsers and the program have the same bytes was not tested")
	}
	m := Module{node: node, file: filepath.Join(t.TempDir(), "module.wasm")}
	build := exec.Command("go", "build", "-trimpath", "-ldflags=-s -w", "-o", m.file, ".")
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0")
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		t.Fatal(err)
	}
	m.glue = filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "wasm_exec.js")
	return m
}

// Run runs a script of testdata with the module: its arguments are the glue, the module, then args. What it writes is the
// answer, what it complains of goes to the log.
func (m Module) Run(t *testing.T, script string, in []byte, args ...string) []byte {
	c := exec.Command(m.node, append([]string{filepath.Join("testdata", script), m.glue, m.file}, args...)...)
	c.Stdin = bytes.NewReader(in)
	var said bytes.Buffer
	c.Stderr = &said
	out, err := c.Output()
	if err != nil {
		t.Fatalf("%s: %v\n%s", script, err, said.Bytes())
	}
	if said.Len() > 0 {
		t.Logf("%s", said.Bytes())
	}
	return out
}
