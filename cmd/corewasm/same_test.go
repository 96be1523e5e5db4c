//go:build !js

package main

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/groundin"
	"trenchwright/view/jobtext"
)

// wantedGzip is the size that the core is meant to have on the wire. It is measured here and reported by make bench; this
// test is about bytes being the same.
const wantedGzip = 1_500_000

// TestBrowserAndNativeGiveTheSameBytes plans the demo jobs in WebAssembly (node) and here, and compares every byte.
func TestBrowserAndNativeGiveTheSameBytes(t *testing.T) {
	node, err := exec.LookPath("node")
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("no node on this machine")
		}
		t.Skip("SKIPPED: no node on this machine: that browser and native plans have the same bytes was not tested")
	}
	core := filepath.Join(t.TempDir(), "core.wasm")
	build := exec.Command("go", "build", "-trimpath", "-ldflags=-s -w", "-o", core, ".")
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0")
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	saySize(t, core)
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		t.Fatal(err)
	}
	glue := filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "wasm_exec.js")
	run, _ := filepath.Abs("testdata/run.cjs")
	ask := func(method string, text []byte, clips []groundin.Clip) []byte {
		args := []string{run, glue, core, method}
		for i, clip := range clips {
			at := filepath.Join(t.TempDir(), fmt.Sprint(i))
			if err := os.WriteFile(at, clip.Bytes, 0o644); err != nil {
				t.Fatal(err)
			}
			args = append(args, clip.Name+"="+at)
		}
		c := exec.Command(node, args...)
		c.Stdin = bytes.NewReader(text)
		var complaint bytes.Buffer
		c.Stderr = &complaint
		out, err := c.Output()
		if err != nil {
			t.Fatalf("%s: %v\n%s", method, err, complaint.Bytes())
		}
		return out
	}
	for _, name := range demo.Names() {
		b, err := demo.File(name)
		if err != nil {
			t.Fatal(err)
		}
		j, faults := jobtext.Read(name+".yaml", bytes.NewReader(b))
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		on, faults := groundin.Survey(j, demo.Open)
		if faults.Any(finding.Fault) {
			t.Fatal(faults)
		}
		plan, _ := json.Marshal(planner.Make(on.Job, on.Surfaces...))
		if got := ask("plan", job.CanonicalJSON(on.Job), on.Clips); !bytes.Equal(got, plan) {
			t.Errorf("%s: %d bytes from the browser build, %d here, and they differ", name, len(got), len(plan))
		}
	}
}

func saySize(t *testing.T, core string) {
	b, err := os.ReadFile(core)
	if err != nil {
		t.Fatal(err)
	}
	var z bytes.Buffer
	w, _ := gzip.NewWriterLevel(&z, gzip.BestCompression)
	w.Write(b)
	w.Close()
	t.Logf("core.wasm %d bytes, gzip %d bytes, wanted %d", len(b), z.Len(), wantedGzip)
}
