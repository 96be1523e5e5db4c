// Command bench times the program beside its peers, and prints and keeps the table of what was reached.
//
//	main.go      what is timed, in what order, and where the report goes
//	report.go    the report as Markdown: its table, its notes, the block in the README
//	machine/     what it was timed on
//	worker.go    what runs in a process of its own, so that its processor time and memory are its own
//	legs.go      the leg programme on one leg of 1,000 km
//	jobs.go      cutting lists of made-up jobs, and cbc on the same choice
//	sets.go      published cutting sets, and cbc and HiGHS on their flow along the stock
//	ground.go    made-up ground: triangulation beside qdelaunay, sections, volumes
//	dig.go       volumes of a dig along made-up ground, and plain sections added up
//	profile.go   levels of long legs, and clp and HiGHS on the same text
//	plans.go     jobs from file to plan, and the size of the browser's core
//	site.go      records from site to a server, from one device and from many at once
//	records.go   a million records of a site: read, folded, and one more
//	replan.go    what is left of a run, planned again after one record
//	delivery.go  what is ordered, on vehicles in laying order
//	programme.go gangs dated along a run, and the best order looked for
//	checks.go    what a run is held against
//	sited/       the records that are made up for that
//	web/         the same for the workspace: make bench-web
//	peer/        outside solvers asked the same question
//	process/     what a process costs
package main

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"trenchwright/bench/kept"
	"trenchwright/bench/machine"
	"trenchwright/bench/peer"
)

// bench is one run of the benchmarks.
type bench struct {
	quick   bool
	dir     string        // for files of this run
	limit   time.Duration // that a peer gets for one question
	peers   []peer.Solver // that are there: cbc first
	report  report
	program string // ./trenchwright, built
}

var parts = []struct {
	name string
	run  func(*bench) error
}{
	{"legs", (*bench).legs},
	{"jobs", (*bench).jobs},
	{"sets", (*bench).sets},
	{"ground", (*bench).ground},
	{"dig", (*bench).dig},
	{"levels", (*bench).levels},
	{"profile", (*bench).profile},
	{"demo", (*bench).demo},
	{"long", (*bench).long},
	{"wasm", (*bench).wasm},
	{"site", (*bench).site},
	{"records", (*bench).records},
	{"replan", (*bench).replan},
	{"delivery", (*bench).delivery},
	{"programme", (*bench).programme},
	{"checks", (*bench).checks},
}

const results = "bench/results.md"

func main() {
	if len(os.Args) > 1 && os.Args[1] == workerWord {
		end(work(os.Args[2:]))
		return
	}
	quick := flag.Bool("quick", false, "a short run, to see that everything works; it is printed and not kept")
	only := flag.String("only", "", "only these parts, divided by commas: "+strings.Join(names(), ", ")+"; printed and not kept")
	readme := flag.Bool("readme", false, "time nothing: put the table of "+results+" into README.md")
	flag.Parse()
	if _, err := os.Stat("go.mod"); err != nil {
		end(errors.New("run it from the project's root: go run ./bench"))
	}
	if *readme {
		end(kept.IntoReadme("README.md", results, "bench"))
		return
	}
	end(run(*quick, *only))
}

func end(err error) {
	if err != nil {
		fmt.Fprintln(os.Stderr, "bench:", err)
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

func run(quick bool, only string) error {
	wanted := names()
	if only != "" {
		wanted = strings.Split(only, ",")
		for _, w := range wanted {
			if !slices.Contains(names(), w) {
				return fmt.Errorf("no part is called %q; there are %s", w, strings.Join(names(), ", "))
			}
		}
	}
	dir, err := os.MkdirTemp("", "bench")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	b := &bench{quick: quick, dir: dir, limit: time.Minute}
	if quick {
		b.limit = 5 * time.Second
	}
	if b.program, err = filepath.Abs("trenchwright"); err != nil {
		return err
	}
	b.findPeers()
	began := time.Now()
	for _, p := range parts {
		if !slices.Contains(wanted, p.name) {
			continue
		}
		fmt.Fprintf(os.Stderr, "%s …\n", p.name)
		if err := p.run(b); err != nil {
			return fmt.Errorf("%s: %w", p.name, err)
		}
	}
	b.report.took = time.Since(began)
	text := b.report.markdown()
	fmt.Print(text)
	if !quick && only == "" {
		if err := os.WriteFile(results, []byte(text), 0o644); err != nil {
			return err
		}
	}
	if len(b.report.wrong) > 0 {
		return errors.New("answers that cannot both be right:\n" + strings.Join(b.report.wrong, "\n"))
	}
	return nil
}

func (b *bench) findPeers() {
	b.report.machine = machine.Said()
	for _, find := range []func() (peer.Solver, error){peer.CBC, func() (peer.Solver, error) { return peer.HiGHS("bench") }} {
		s, err := find()
		if err != nil {
			b.report.note("A peer is missing: %v.", err)
			continue
		}
		b.peers = append(b.peers, s)
		b.report.versions = append(b.report.versions, s.Name+" "+s.Version)
	}
}

// file writes a value as JSON for a worker and gives the file's name.
func (b *bench) file(name string, v any) (string, error) {
	text, err := json.Marshal(v)
	if err != nil {
		return "", err
	}
	at := filepath.Join(b.dir, name)
	return at, os.WriteFile(at, text, 0o644)
}
