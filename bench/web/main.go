// Command web times the workspace: the built program serves made-up jobs of 5,000 and 50,000 units, and a headless Chromium
// opens them, drags, pans, zooms and scrolls as a hand does.
//
//	main.go    what is timed, in what order, and where the report goes
//	report.go  the report as Markdown, and its block in the README
//	served.go  the program with made-up jobs in it
//	server.go  lists and plans asked of the server, and its start
//	open.go    from an address to a drawn plan      hand.go  dragging, panning, zooming, scrolling
//	replan.go  what is left of a run, planned again after one record
//	watch.js   what is watched in the page while that happens; the page itself has no hook
package main

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"trenchwright/bench/kept"
	"trenchwright/bench/machine"
)

// bench is one run.
type bench struct {
	quick   bool
	program string // ./trenchwright, built
	dir     string // for files of this run
	report  report
	ends    []func()
}

var parts = []struct {
	name string
	run  func(*bench) error
}{
	{"assets", (*bench).assets},
	{"server", (*bench).server},
	{"open", (*bench).open},
	{"hand", (*bench).hand},
	{"tables", (*bench).tables},
	{"replan", (*bench).replan},
}

const results = "bench/web/results.md"

func main() {
	quick := flag.Bool("quick", false, "a short run, to see that everything works; it is printed and not kept")
	only := flag.String("only", "", "only these parts, divided by commas: "+strings.Join(names(), ", ")+"; printed and not kept")
	readme := flag.Bool("readme", false, "time nothing: put the table of "+results+" into README.md")
	flag.Parse()
	err := errors.New("run it from the project's root: go run ./bench/web")
	if _, missing := os.Stat("go.mod"); missing == nil {
		if *readme {
			err = kept.IntoReadme("README.md", results, "bench-web")
		} else {
			err = run(*quick, *only)
		}
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "bench/web:", err)
		os.Exit(1)
	}
}

func names() []string {
	var out []string
	for _, p := range parts {
		out = append(out, p.name)
	}
	return out
}

func run(quick bool, only string) (err error) {
	wanted := names()
	if only != "" {
		wanted = strings.Split(only, ",")
		for _, w := range wanted {
			if !slices.Contains(names(), w) {
				return fmt.Errorf("no part is called %q; there are %s", w, strings.Join(names(), ", "))
			}
		}
	}
	b := &bench{quick: quick, report: report{machine: machine.Said()}}
	if b.program, err = filepath.Abs("trenchwright"); err != nil {
		return err
	}
	if _, err := os.Stat(b.program); err != nil {
		return fmt.Errorf("%w: make build first", err)
	}
	if b.dir, err = os.MkdirTemp("", "benchweb"); err != nil {
		return err
	}
	b.ends = append(b.ends, func() { os.RemoveAll(b.dir) })
	defer b.end()
	for _, p := range parts {
		if !slices.Contains(wanted, p.name) {
			continue
		}
		fmt.Fprintf(os.Stderr, "%s …\n", p.name)
		if err := guarded(func() error { return p.run(b) }); err != nil {
			fmt.Print(b.report.markdown())
			return fmt.Errorf("%s: %w", p.name, err)
		}
	}
	text := b.report.markdown()
	fmt.Print(text)
	if quick || only != "" {
		return nil
	}
	return os.WriteFile(results, []byte(text), 0o644)
}

// end ends whatever was started, the last first.
func (b *bench) end() {
	for _, f := range slices.Backward(b.ends) {
		f()
	}
	b.ends = nil
}

// fault is what a browser that cannot go on says; guarded makes an error of it.
type fault struct{ error }

func guarded(f func() error) (err error) {
	defer func() {
		if v := recover(); v != nil {
			told, ok := v.(fault)
			if !ok {
				panic(v)
			}
			err = told.error
		}
	}()
	return f()
}

// The bench drives browsers as a test does: browser.Test.

func (b *bench) Helper()          {}
func (b *bench) Cleanup(f func()) { b.ends = append(b.ends, f) }
func (b *bench) Fatal(v ...any) {
	panic(fault{errors.New(strings.TrimSuffix(fmt.Sprintln(v...), "\n"))})
}
func (b *bench) Skip(v ...any) { b.Fatal(v...) }

func (b *bench) Fatalf(format string, v ...any) { panic(fault{fmt.Errorf(format, v...)}) }

// TempDir is a new folder that goes with the run.
func (b *bench) TempDir() string {
	d, err := os.MkdirTemp(b.dir, "")
	if err != nil {
		b.Fatal(err)
	}
	return d
}
