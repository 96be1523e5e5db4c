// Command tools builds the workspace for browsers into ../dist: types checked, scripts bundled, the planning core compiled,
// everything named by its content and packed by gzip, and the list of it all put into the service worker. Run by
// `go generate ./web`; it needs node for the packages and the type check.
package main

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"time"
)

func main() {
	if err := build(".."); err != nil {
		fmt.Fprintln(os.Stderr, "building the workspace:", err)
		os.Exit(1)
	}
}

// build makes web/dist from what lies in the folder web.
func build(web string) error {
	began := time.Now()
	if err := packages(web); err != nil {
		return err
	}
	if err := run(web, nil, "node", "node_modules/typescript/bin/tsc", "--noEmit", "-p", "."); err != nil {
		return fmt.Errorf("the type check: %w", err)
	}
	work, err := os.MkdirTemp("", "workspace")
	if err != nil {
		return err
	}
	defer os.RemoveAll(work)
	d := &dist{web: web, named: map[string]string{}}
	for _, module := range []string{"core", "pack"} {
		if err := d.module(web, work, module); err != nil {
			return err
		}
	}
	if err := d.scripts(web, work); err != nil {
		return err
	}
	if err := d.pages(web); err != nil {
		return err
	}
	if err := d.write(filepath.Join(web, "dist")); err != nil {
		return err
	}
	fmt.Printf("workspace: %d files, %.2f MB packed, %s\n", len(d.files), float64(d.packed())/1e6, time.Since(began).Round(100*time.Millisecond))
	return nil
}

// packages installs what package-lock.json names, where it changed since the last time. Scripts of packages never run.
func packages(web string) error {
	lock, err := os.ReadFile(filepath.Join(web, "package-lock.json"))
	if err != nil {
		return err
	}
	sum := sha256.Sum256(lock)
	want := hex.EncodeToString(sum[:])
	stamp := filepath.Join(web, "node_modules", ".lock")
	if have, err := os.ReadFile(stamp); err == nil && string(have) == want {
		return nil
	}
	if err := run(web, nil, "npm", "ci", "--ignore-scripts", "--no-audit", "--no-fund", "--silent"); err != nil {
		return fmt.Errorf("npm ci: %w", err)
	}
	return os.WriteFile(stamp, []byte(want), 0o644)
}

// lean are the packages that are compiled without inlining: it makes them smaller on the wire, and less has to be compiled in the
// browser, too. What a drag runs through in the core is not among them (jobs, the planner, what lies below them, and fmt): a
// sketch of 600 units took 22 ms of processor time with them inlined and 30 without, for 0.19 MB. The writer of papers plans
// nothing: all of ours is lean there.
var lean = map[string][]string{
	"core": append(slices.Clone(everywhere), "bytes", "io", "bufio", "math/big", "trenchwright/base/finding", "trenchwright/base/wording",
		"trenchwright/solve/check/...", "trenchwright/solve/levelling", "trenchwright/job/edit", "trenchwright/job/stamp",
		"trenchwright/view/...", "trenchwright/cmd/..."),
	"pack": append(slices.Clone(everywhere), "fmt", "reflect", "internal/...", "strings", "strconv", "bytes", "slices", "sort", "sync",
		"io", "bufio", "math/big", "trenchwright/..."),
}

var everywhere = []string{
	"encoding/...", "time", "os", "syscall", "crypto/...", "regexp/...", "unicode/...", "image/...", "codeberg.org/...", "github.com/...",
}

// module compiles one command to WebAssembly.
func (d *dist) module(web, work, name string) error {
	out := filepath.Join(work, name+".wasm")
	env := []string{"GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0", "GOFLAGS=-trimpath"}
	args := []string{"build", "-ldflags=-s -w", "-o", out}
	for _, p := range lean[name] {
		args = append(args, "-gcflags="+p+"=-l")
	}
	if err := run(filepath.Join(web, ".."), env, "go", append(args, "./cmd/"+name+"wasm")...); err != nil {
		return fmt.Errorf("%s for browsers: %w", name, err)
	}
	b, err := os.ReadFile(out)
	if err != nil {
		return err
	}
	if b, err = joined(b); err != nil {
		return err
	}
	return d.add(name, ".wasm", b)
}

// glue is where the compiler keeps the script that starts its programs in browsers.
func glue() (string, error) {
	out, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return "", err
	}
	root := string(out[:len(out)-1])
	if runtime.GOOS == "windows" && root[len(root)-1] == '\r' {
		root = root[:len(root)-1]
	}
	return filepath.Join(root, "lib", "wasm", "wasm_exec.js"), nil
}

func run(dir string, env []string, name string, args ...string) error {
	c := exec.Command(name, args...)
	c.Dir, c.Stdout, c.Stderr = dir, os.Stdout, os.Stderr
	c.Env = append(os.Environ(), env...)
	return c.Run()
}
